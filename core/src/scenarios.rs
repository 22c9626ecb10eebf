//! The scenarios that come with the product, as files. All wearers are invented.

include!(concat!(env!("OUT_DIR"), "/scenarios.rs"));
