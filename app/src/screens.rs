//! Screens: each reads what it needs from the shell and passes it to parts.

pub(crate) mod about;
pub(crate) mod desk;
pub(crate) mod home;
pub(crate) mod nowhere;
pub(crate) mod rehearse;
pub(crate) mod review;
