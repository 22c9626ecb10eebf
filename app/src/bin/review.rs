//! The module of runs looked back on, or looked at.

fn main() {
    bittersweet_app::review();
}
