//! What can come up in a run, harmless things included, and when it does.
//!
//! The kinds stand in `data/trouble.toml`: by which signs each is noticed, what a good conductor does, and which rules poor
//! answers break. Every rule has its source, its basis and the way it pushes.

use crate::{act::Exercise, coded::coded, rulebook::RuleId, units::Ms};

coded! {
    /// What trouble is about.
    Group {
        /// Who is tested, in what, for which use.
        Who = "who",
        /// Nebulizers, bottles, hood, facepieces.
        Equipment = "equipment",
        /// How a facepiece is put on and kept.
        Fitting = "fitting",
        /// What the wearer does.
        Wearer = "wearer",
        /// An emergency, trouble breathing, or a wish to stop: three different things.
        Distress = "distress",
        /// What others want.
        Pressure = "pressure",
        /// What does not matter to the test.
        Harmless = "harmless",
    }
}

coded! {
    /// When a kind may arise.
    Moment {
        /// It is so when the run begins.
        Found = "found",
        /// A habit of the wearer.
        Throughout = "throughout",
        /// The conductor's own doing makes it.
        Doing = "doing",
        /// Before the first screening.
        Start = "start",
        /// With the hood on for screening.
        Screening = "screening",
        /// At the initial squeezes of a test.
        Initial = "initial",
        /// In an exercise.
        Exercise = "exercise",
        /// After a result.
        Result = "result",
    }
}

/// What is known of a kind.
#[derive(Clone, Copy, Debug)]
pub struct Entry {
    /// The kind.
    pub kind: Kind,
    /// What it is about.
    pub group: Group,
    /// When it may arise.
    pub arises: &'static [Moment],
    /// Codes of the signs by which it can be noticed.
    pub shows: &'static [&'static str],
    /// Codes of the acts with which a good conductor answers; none where the answer is to go on.
    pub good: &'static [&'static str],
    /// The rules that poor answers break.
    pub breaks: &'static [RuleId],
}

include!(concat!(env!("OUT_DIR"), "/trouble.rs"));

impl Kind {
    /// What is known of it.
    #[must_use]
    pub fn entry(self) -> &'static Entry {
        // The catalogue stands in the order of the kinds; the first stands in where that should ever fail.
        const FIRST: &Entry = CATALOGUE.first().expect("the catalogue is not empty");
        CATALOGUE.get(self as usize).unwrap_or(FIRST)
    }

    /// Whether it may come up then.
    #[must_use]
    pub fn may_arise(self, when: When) -> bool {
        self.entry().arises.contains(&when.moment())
    }
}

/// When trouble comes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// All the time: a habit.
    Throughout,
    /// So long after the run began, as long as no hood is on.
    Start(Ms),
    /// With the hood on for screening, after so many squeezes (0: before the first).
    Screening(u8),
    /// With the hood on for the test, at the initial squeezes, after so many of them.
    Initial(u8),
    /// So long into an exercise.
    During(Exercise, Ms),
    /// Once a result was given on an attempt.
    Result,
}

impl When {
    /// Which of the moments of [`Entry::arises`] it is.
    #[must_use]
    pub const fn moment(self) -> Moment {
        match self {
            Self::Throughout => Moment::Throughout,
            Self::Start(_) => Moment::Start,
            Self::Screening(_) => Moment::Screening,
            Self::Initial(_) => Moment::Initial,
            Self::During(..) => Moment::Exercise,
            Self::Result => Moment::Result,
        }
    }
}

/// One piece of trouble.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trouble {
    /// What.
    pub kind: Kind,
    /// When.
    pub when: When,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{act::Act, sign::Seen};

    #[test]
    fn the_catalogue_stands_in_the_order_of_the_kinds() {
        for kind in Kind::ALL.iter().copied() {
            assert_eq!(kind.entry().kind, kind);
        }
    }

    #[test]
    fn there_are_forty_kinds_and_more() {
        let of = |group: Group| CATALOGUE.iter().filter(|entry| entry.group == group).count();
        assert!(CATALOGUE.len() - of(Group::Harmless) >= 40);
        assert!(Group::ALL.iter().all(|group| of(*group) >= 4), "each group has several kinds");
    }

    #[test]
    fn signs_and_acts_of_the_catalogue_have_such_codes() {
        let with_figure = ["by-mouth", "wears-at-work", "facepiece-at-work", "exposure-times", "filled-ago"];
        for entry in CATALOGUE {
            for sign in entry.shows {
                assert!(Seen::from_code(sign).is_some() || with_figure.contains(sign), "{:?}: {sign}", entry.kind);
            }
            for good in entry.good {
                let known = Act::all()
                    .into_iter()
                    .map(Act::code)
                    .any(|(act, with)| *good == act || with.is_some_and(|with| *good == format!("{act}:{with}")));
                assert!(known, "{:?}: {good}", entry.kind);
            }
        }
    }
}
