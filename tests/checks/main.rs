//! Checks of the main job. One test binary, so that it links once.

mod by_the_book;
mod driver;
mod golden;
mod laws;
mod random;
