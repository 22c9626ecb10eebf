//! Hooks of our own.

mod fade;
mod keep;
mod shortcut;
mod ticker;

pub(crate) use fade::{Fade, use_fade};
pub(crate) use keep::{append, use_keep};
pub(crate) use shortcut::use_shortcut;
pub(crate) use ticker::use_ticker;
