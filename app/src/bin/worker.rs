//! The module of the worker's story.

fn main() {
    bittersweet_app::worker();
}
