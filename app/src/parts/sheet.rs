//! Parts of a review, each a section of its sheet.

mod came_up;
mod cost;
mod findings;
mod helped;
mod noticing;
mod player;
mod records;
mod results;
mod skills;
mod whole_log;

pub(crate) use came_up::came_up;
pub(crate) use cost::Costs;
pub(crate) use findings::{Told, Ways, before, findings, first_of, one_finding, remark};
pub(crate) use helped::helped;
pub(crate) use noticing::noticing;
pub(crate) use player::{Jump, Player};
pub(crate) use records::records;
pub(crate) use results::results;
pub(crate) use skills::skills;
pub(crate) use whole_log::whole_log;
