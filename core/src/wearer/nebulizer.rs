//! A nebulizer as it is by now: what it holds, how full it is, whether it sprays.

use crate::{
    act::Role,
    scenario::{self, Contents, Level},
    sign::{Seen, Sign},
    units::Ms,
};

/// When it was filled last.
#[derive(Clone, Copy, Debug)]
enum Filled {
    HoursAgo(u8),
    At(Ms),
}

/// A clogged tip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Clog {
    /// It shows in the spray.
    Seen,
    /// Only a look at the tip shows it.
    Unseen,
}

/// A nebulizer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Nebulizer {
    own: Contents,
    pub(super) marked: bool,
    pub(super) holds: Contents,
    level: Level,
    filled: Filled,
    pub(super) clogged: Option<Clog>,
    pub(super) bottle_dated: bool,
}

impl Nebulizer {
    /// As the conductor finds it.
    pub(super) const fn found(role: Role, found: &scenario::Nebulizer) -> Self {
        Self {
            own: match role {
                Role::Check => Contents::Check,
                Role::Fit => Contents::Fit,
            },
            marked: found.marked,
            holds: found.holds,
            level: found.level,
            filled: Filled::HoursAgo(found.filled_h_ago),
            clogged: if found.clogged { Some(Clog::Seen) } else { None },
            bottle_dated: found.bottle_dated,
        }
    }

    /// What a look at it shows.
    pub(super) fn look(&self, at: Ms) -> [Sign; 4] {
        let mark = match self.holds {
            Contents::OtherAgent => Seen::NebulizerOtherAgent,
            holds if holds != self.own => Seen::NebulizerSwapped,
            Contents::Check | Contents::Fit if self.marked => Seen::NebulizerMarked,
            Contents::Check | Contents::Fit => Seen::NebulizerUnmarked,
        };
        let hours = match self.filled {
            Filled::HoursAgo(hours) => hours,
            Filled::At(filled) => u8::try_from(at.since(filled).0 / Ms::mins(60).0).unwrap_or(u8::MAX),
        };
        let level = match self.level {
            Level::Right => Seen::NebulizerLevelRight,
            Level::Low => Seen::NebulizerLow,
        };
        let tip = if self.clogged.is_some() { Seen::NebulizerTipCrusted } else { Seen::NebulizerTipFree };
        [Sign::Seen(mark), Sign::FilledAgo(hours), Sign::Seen(level), Sign::Seen(tip)]
    }

    /// What a test spray shows.
    pub(super) fn test_spray(&self) -> Seen {
        if self.clogged.is_some() || self.level == Level::Low { Seen::SpraysNothing } else { Seen::SpraysFine }
    }

    /// Whether a squeeze brings nothing, and is seen to.
    pub(super) fn is_seen_to_fail(&self) -> bool {
        self.level == Level::Low || self.clogged == Some(Clog::Seen)
    }

    /// Rinsed, and empty but for a rest.
    pub(super) const fn rinse(&mut self) {
        self.clogged = None;
        self.level = Level::Low;
    }

    /// Filled with what it is for.
    pub(super) const fn fill(&mut self, at: Ms) {
        self.level = Level::Right;
        self.filled = Filled::At(at);
        self.holds = self.own;
    }
}
