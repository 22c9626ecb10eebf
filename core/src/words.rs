//! Keys of the words for people, and all languages' words as the page fetches them.
//!
//! `core` words nothing itself: it returns codes, and the page finds the text under the code.

include!(concat!(env!("OUT_DIR"), "/words.rs"));
