//! The questions that come with the product, as files. All people in them are invented.

include!(concat!(env!("OUT_DIR"), "/questions.rs"));
