//! All modules in one, for `cargo xtask serve`.

fn main() {
    bittersweet_app::all();
}
