//! The one developer tool.
fn main() {}
