//! Facepieces on the rack: what they are, what state they are in, and how they fit this wearer.

use crate::{act::Exercise, coded::coded, units::FitFactor};

coded! {
    /// What kind of facepiece.
    Class {
        /// A half mask with replaceable filters.
        Half = "half",
        /// A filtering facepiece.
        Filtering = "filtering",
        /// A full facepiece.
        Full = "full",
        /// A tight-fitting facepiece with a blower.
        Powered = "powered",
        /// A tight-fitting facepiece on an air line.
        Supplied = "supplied",
    }
}

impl Class {
    /// Whether air is pushed in, so that it has to be set to negative pressure for the test.
    #[must_use]
    pub const fn is_positive(self) -> bool {
        matches!(self, Self::Powered | Self::Supplied)
    }
}

coded! {
    /// Its size.
    Size {
        /// Small.
        Small = "s",
        /// Medium.
        Medium = "m",
        /// Large.
        Large = "l",
    }
}

coded! {
    /// Whether it is whole.
    Condition {
        /// Whole.
        Sound = "sound",
        /// A valve is missing.
        ValveMissing = "valve-missing",
        /// A filter is not seated.
        FilterAskew = "filter-askew",
        /// A strap is damaged.
        StrapCracked = "strap-cracked",
    }
}

coded! {
    /// What is screwed onto it.
    Filters {
        /// Particulate filters, alone or with others.
        Particulate = "particulate",
        /// Gas cartridges only.
        GasOnly = "gas-only",
    }
}

coded! {
    /// How the wearer puts it on if nobody helps by a word.
    Straps {
        /// Even.
        Even = "even",
        /// Twisted.
        Twisted = "twisted",
        /// Over-tight.
        Tight = "tight",
        /// Nosepiece not moulded.
        NosepieceFlat = "nosepiece-flat",
    }
}

/// One facepiece on the rack, as this wearer meets it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Facepiece {
    /// Model letter, our own.
    pub model: char,
    /// Its kind.
    pub class: Class,
    /// Its size.
    pub size: Size,
    /// Whether it is whole.
    pub condition: Condition,
    /// What is fitted.
    pub filters: Filters,
    /// Whether somebody wore it and nobody disinfected it since.
    pub used: bool,
    /// Whether the wearer finds it acceptable.
    pub comfortable: bool,
    /// How the straps lie at first.
    pub straps: Straps,
    /// Whether a user seal check holds.
    pub seal_holds: bool,
    /// Fit factor in each of the seven exercises, in order.
    pub fit: [FitFactor; 7],
}

impl Facepiece {
    /// Fit factor during `exercise`; outside the seven, that of the one most like it.
    #[must_use]
    pub fn fit_in(&self, exercise: Option<Exercise>) -> FitFactor {
        let [normal, deep, side, up_down, talking, bending, last] = self.fit;
        match exercise {
            None | Some(Exercise::NormalBreathing) => normal,
            Some(Exercise::DeepBreathing) => deep,
            Some(Exercise::HeadSide) => side,
            Some(Exercise::HeadUpDown) => up_down,
            Some(Exercise::Talking | Exercise::Grimace) => talking,
            Some(Exercise::Bending | Exercise::Jogging) => bending,
            Some(Exercise::NormalAgain) => last,
        }
    }
}
