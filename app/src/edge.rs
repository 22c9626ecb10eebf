//! The browser's interfaces, each behind a few plain functions. The only place outside components that knows web-sys.

pub(crate) mod address;
pub(crate) mod clock;
pub(crate) mod file;
pub(crate) mod language;
pub(crate) mod learner;
pub(crate) mod left;
pub(crate) mod listener;
pub(crate) mod offline;
pub(crate) mod page;
pub(crate) mod room;
pub(crate) mod site;
pub(crate) mod speech;
pub(crate) mod store;
pub(crate) mod tab;
