//! The module of what is kept of whoever practises.

fn main() {
    bittersweet_app::kept();
}
