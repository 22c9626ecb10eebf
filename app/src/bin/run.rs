//! The module of a run.

fn main() {
    bittersweet_app::run();
}
