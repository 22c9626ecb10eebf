//! The module of the ways in.

fn main() {
    bittersweet_app::start();
}
