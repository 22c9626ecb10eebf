//! The module of short exercises.

fn main() {
    bittersweet_app::practice();
}
