//! The run as a list: what was done, what was shown, and when.

use crate::{act::Act, sign::Sign, units::Ms};

/// One line of the logbook.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Entry {
    /// When, since the run began.
    pub at: Ms,
    /// What.
    pub what: What,
}

/// An act of the conductor, or a sign shown to them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// The conductor did this.
    Act(Act),
    /// The conductor was shown this.
    Sign(Sign),
}

impl Entry {
    /// An act at a time.
    #[must_use]
    pub const fn act(at: Ms, act: Act) -> Self {
        Self { at, what: What::Act(act) }
    }

    /// A sign at a time.
    #[must_use]
    pub const fn sign(at: Ms, sign: Sign) -> Self {
        Self { at, what: What::Sign(sign) }
    }
}
