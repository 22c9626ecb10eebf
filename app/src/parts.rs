//! Parts of screens: each is drawn from its properties alone.

pub(crate) mod assessed;
pub(crate) mod bench;
pub(crate) mod cautions;
pub(crate) mod clocks;
pub(crate) mod course;
pub(crate) mod drill;
pub(crate) mod elsewhere;
pub(crate) mod footer;
pub(crate) mod guide;
pub(crate) mod languages;
pub(crate) mod live;
pub(crate) mod logbook;
pub(crate) mod newer;
pub(crate) mod one_drill;
pub(crate) mod one_question;
pub(crate) mod open_file;
pub(crate) mod passage;
pub(crate) mod picture;
pub(crate) mod question;
pub(crate) mod ready;
pub(crate) mod refused;
pub(crate) mod runs;
pub(crate) mod sample;
pub(crate) mod scene;
pub(crate) mod sheet;
pub(crate) mod timeline;
