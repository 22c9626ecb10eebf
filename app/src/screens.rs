//! Screens: each reads what it needs from the shell and passes it to parts.

pub(crate) mod about;
pub(crate) mod assess;
pub(crate) mod compare;
pub(crate) mod desk;
pub(crate) mod drills;
pub(crate) mod home;
pub(crate) mod learners;
pub(crate) mod lookout;
pub(crate) mod nowhere;
pub(crate) mod observe;
pub(crate) mod open;
pub(crate) mod progress;
pub(crate) mod questions;
pub(crate) mod record;
pub(crate) mod refresh;
pub(crate) mod rehearse;
pub(crate) mod review;
pub(crate) mod sealed;
pub(crate) mod sitting;
pub(crate) mod teach;
pub(crate) mod wearer;
