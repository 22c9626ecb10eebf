//! Hooks of our own.

mod answers;
pub(crate) mod bank;
mod digits;
mod fade;
mod keep;
mod keep_marks;
mod lease;
mod outcomes;
mod shortcut;
mod sittings;
mod ticker;
mod voice;

pub(crate) use answers::use_answers;
pub(crate) use digits::use_digits;
pub(crate) use fade::{Fade, use_fade};
pub(crate) use keep::{append, use_keep};
pub(crate) use keep_marks::use_keep_marks;
pub(crate) use lease::{acquire, use_lease};
pub(crate) use outcomes::use_outcomes;
pub(crate) use shortcut::use_shortcut;
pub(crate) use sittings::use_sittings;
pub(crate) use ticker::use_ticker;
pub(crate) use voice::use_voice;
