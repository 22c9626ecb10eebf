//! Checks of the main job. One test binary, so that it links once.

mod by_the_book;
mod calibration;
mod cases;
mod cost;
mod damage;
mod drill;
mod driver;
mod evidence;
mod golden;
mod laws;
mod learners;
mod mutations;
mod observe;
mod pictures;
mod published;
mod questions;
mod random;
mod recomputed;
mod reference;
mod risk;
mod rulings;
mod sample;
mod schema;
mod timeline;
mod traceability;
mod trouble;
