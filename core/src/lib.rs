//! The rules and the arithmetic of the hooded taste test.
//!
//! No clock, no browser, no files: time and chance come in as arguments, so the same scenario and the same acts give
//! the same run, byte for byte, on every machine.

pub mod accuracy;
pub mod act;
pub mod assessment;
pub mod attempt;
mod coded;
pub mod cost;
pub mod course;
pub mod departure;
pub mod draw;
pub mod drill;
pub mod evidence;
pub mod facepiece;
pub mod fade;
pub mod guide;
pub mod hint;
pub mod interval;
pub mod judge;
pub mod log;
pub mod met;
pub mod model;
pub mod moments;
pub mod motion;
pub mod normal;
pub mod noticing;
pub mod observe;
pub mod ordered;
pub mod population;
pub mod question;
pub mod questions;
pub mod refresh;
pub mod review;
pub mod risk;
pub mod rounds;
pub mod rulebook;
pub mod ruling;
pub mod run;
pub mod scenario;
pub mod scenarios;
pub mod scene;
pub mod sign;
pub mod source;
pub mod spacing;
pub mod state;
pub mod taste;
pub mod timeline;
pub mod trouble;
pub mod unannounced;
pub mod units;
pub mod wearer;
pub mod wire;
pub mod words;
