//! Checks of the main job. One test binary, so that it links once.

mod by_the_book;
mod calibration;
mod cases;
mod damage;
mod drill;
mod driver;
mod golden;
mod laws;
mod mutations;
mod observe;
mod published;
mod random;
mod reference;
mod risk;
mod rulings;
mod schema;
mod traceability;
mod trouble;
