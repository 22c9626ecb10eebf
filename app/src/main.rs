//! Mounts the page and does nothing else.

fn main() {
    bittersweet_app::mount();
}
