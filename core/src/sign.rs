//! Everything the conductor is shown: answers, sights, and what the wearer does unasked.
//!
//! A sign never says what to make of it. Labels such as "invalid" are the trainee's to find.

use crate::{
    act::{Observation, Slot},
    coded::coded,
};

coded! {
    /// What somebody had by mouth.
    Mouthful {
        /// Nothing.
        Nothing = "nothing",
        /// Water.
        Water = "water",
        /// Coffee or another drink.
        Coffee = "coffee",
        /// Something sweet.
        Sweets = "sweets",
        /// Gum or mint.
        Gum = "gum",
        /// Tobacco.
        Tobacco = "tobacco",
        /// A meal.
        Meal = "meal",
        /// An injection at the dentist's: the mouth is numb.
        Numb = "numb",
    }
}

coded! {
    /// What is worn at work beside the facepiece and could disturb the fit.
    Gear {
        /// Safety glasses.
        Glasses = "glasses",
        /// A helmet.
        Helmet = "helmet",
        /// Hearing protection.
        EarMuffs = "ear-muffs",
    }
}

coded! {
    /// A sign without a figure in it.
    Seen {
        /// Cleared for any respirator.
        SaysCleared = "says-cleared",
        /// Cleared, two years ago.
        SaysClearedLongAgo = "says-cleared-long-ago",
        /// Not cleared.
        SaysNotCleared = "says-not-cleared",
        /// Cleared for powered units only.
        SaysPoweredOnly = "says-powered-only",
        /// Holds out the medical questionnaire.
        OffersQuestionnaire = "offers-questionnaire",
        /// The questionnaire's answers.
        ReadsHealth = "reads-health",
        /// Feels fit for it.
        SaysWell = "says-well",
        /// Would rather not today.
        SaysRatherNot = "says-rather-not",
        /// Looks round at the queue before answering.
        LooksRound = "looks-round",
        /// Clean-shaven, nothing in the way.
        FaceClear = "face-clear",
        /// A moustache clear of the seal.
        FaceMoustache = "face-moustache",
        /// Stubble where the seal will lie.
        FaceStubble = "face-stubble",
        /// A beard.
        FaceBeard = "face-beard",
        /// A temple bar where the seal will lie.
        FaceTempleBar = "face-temple-bar",
        /// Hair or a head covering where the seal will lie.
        FaceCovering = "face-covering",
        /// Moves what lay under the seal.
        SealCleared = "seal-cleared",
        /// Nothing to move, or it cannot be moved.
        SealStays = "seal-stays",
        /// Nothing else is worn at work.
        SaysNoGear = "says-no-gear",
        /// Has no facepiece of their own yet.
        SaysNoFacepiece = "says-no-facepiece",
        /// The nebulizer is clearly marked.
        NebulizerMarked = "nebulizer-marked",
        /// It bears no mark.
        NebulizerUnmarked = "nebulizer-unmarked",
        /// Its tag names the other solution.
        NebulizerSwapped = "nebulizer-swapped",
        /// Its tag names the other agent.
        NebulizerOtherAgent = "nebulizer-other-agent",
        /// Liquid at the mark.
        NebulizerLevelRight = "nebulizer-level-right",
        /// Nearly dry.
        NebulizerLow = "nebulizer-low",
        /// The tip is free.
        NebulizerTipFree = "nebulizer-tip-free",
        /// A crust on the tip.
        NebulizerTipCrusted = "nebulizer-tip-crusted",
        /// The bottle bears a label and a date.
        BottleDated = "bottle-dated",
        /// The bottle bears no date.
        BottleUndated = "bottle-undated",
        /// A fine cloud.
        SpraysFine = "sprays-fine",
        /// A drip or nothing.
        SpraysNothing = "sprays-nothing",
        /// A short puff: the bulb had not filled again.
        SpraysShort = "sprays-short",
        /// The hood is clean and dry.
        HoodClean = "hood-clean",
        /// Damp spots on the inside of the hood.
        HoodDamp = "hood-damp",
        /// Says the three duties in their own words.
        SaysDuties = "says-duties",
        /// Leaves out one of them.
        SaysDutiesInPart = "says-duties-in-part",
        /// Does not know what to say.
        SaysDutiesUnknown = "says-duties-unknown",
        /// The window nearly touches the nose.
        HoodNear = "hood-near",
        /// The window stands a hand's breadth and a half off.
        HoodRight = "hood-right",
        /// Tastes nothing.
        SaysNothing = "says-nothing",
        /// Tastes the agent.
        SaysTaste = "says-taste",
        /// Tastes a trace of it.
        SaysTrace = "says-trace",
        /// Tastes salt.
        SaysSalty = "says-salty",
        /// The saltiness is gone.
        SaysSaltGone = "says-salt-gone",
        /// Plastic, or "funny".
        SaysPlastic = "says-plastic",
        /// Tastes it before anything was sprayed.
        SaysTasteBefore = "says-taste-before",
        /// Nods to whatever is suggested.
        SaysYesToPlease = "says-yes-to-please",
        /// After the hood is off: it was there when I bent over.
        SaysTasteLate = "says-taste-late",
        /// The agreed sign for taste, or a word through the hood.
        SignalsTaste = "signals-taste",
        /// A hand goes up, halfway.
        RaisesHand = "raises-hand",
        /// Wants to stop.
        SaysStop = "says-stop",
        /// Breathes hard and fast, leans on the table.
        Breathless = "breathless",
        /// A hand to the chest, grey in the face.
        ChestPain = "chest-pain",
        /// Wheezes, lips swelling.
        Wheezes = "wheezes",
        /// Mouth shut, breathing by the nose.
        MouthShuts = "mouth-shuts",
        /// Mouth open and tongue out again.
        MouthOpens = "mouth-opens",
        /// A finger goes to the facepiece.
        TouchesMask = "touches-mask",
        /// Pulls a strap tighter.
        AdjustsMask = "adjusts-mask",
        /// The facepiece slides a little by itself.
        MaskSlips = "mask-slips",
        /// Lifts the hood and looks out.
        LiftsHood = "lifts-hood",
        /// Takes the hood off.
        TakesHoodOff = "takes-hood-off",
        /// The window has slid nearer.
        HoodSlidesNear = "hood-slides-near",
        /// Sits down.
        SitsDown = "sits-down",
        /// Stands up again.
        StandsUp = "stands-up",
        /// Turns the head fast, without a breath at the ends.
        RushesMoves = "rushes-moves",
        /// Moves slowly, a breath at each end.
        SlowsMoves = "slows-moves",
        /// Whispers.
        Whispers = "whispers",
        /// Speaks up.
        SpeaksUp = "speaks-up",
        /// The spray turns to drips.
        SprayFails = "spray-fails",
        /// A drop of solution on the chin.
        DropOnFace = "drop-on-face",
        /// Scratches the forehead.
        ScratchesForehead = "scratches-forehead",
        /// Coughs once.
        Coughs = "coughs",
        /// Asks how long it will take.
        AsksQuestion = "asks-question",
        /// The hood brushes a shoulder.
        HoodBrushes = "hood-brushes",
        /// The window fogs a little.
        WindowFogs = "window-fogs",
        /// Takes a sip of water.
        SipsWater = "sips-water",
        /// None of these suits.
        ChoosesNone = "chooses-none",
        /// Whole, clean, everything in place.
        FacepieceSound = "facepiece-sound",
        /// No valve disc behind the cover.
        ValveMissing = "valve-missing",
        /// A filter sits askew.
        FilterAskew = "filter-askew",
        /// A strap is cracked through.
        StrapCracked = "strap-cracked",
        /// Lipstick and moisture inside: somebody wore it.
        FacepieceUsed = "facepiece-used",
        /// Particulate filters fitted.
        FiltersParticulate = "filters-particulate",
        /// Gas cartridges only.
        FiltersGasOnly = "filters-gas-only",
        /// A blower or an air line is connected.
        AirSupplied = "air-supplied",
        /// Straps lie flat and even.
        StrapsEven = "straps-even",
        /// A strap is twisted.
        StrapTwisted = "strap-twisted",
        /// The straps cut in.
        StrapsTight = "straps-tight",
        /// The nosepiece stands off.
        NosepieceFlat = "nosepiece-flat",
        /// Holds: no leak felt.
        SealHolds = "seal-holds",
        /// Air runs out at an edge.
        SealLeaks = "seal-leaks",
        /// Comfortable.
        SaysComfortable = "says-comfortable",
        /// Not acceptable.
        SaysUncomfortable = "says-uncomfortable",
        /// What was waited for is past.
        TasteGone = "taste-gone",
        /// Help is on the way.
        HelpComes = "help-comes",
        /// Walks off to fetch the glasses.
        GearFetched = "gear-fetched",
        /// "Just pass him, the truck leaves at two."
        PressedForPass = "pressed-for-pass",
        /// A colleague reaches in and pulls a strap tighter.
        HelperAtStraps = "helper-at-straps",
        /// A grimace, gone at once; no sign.
        PullsFace = "pulls-face",
        /// Nods and says "sure"; no duty is named.
        NodsOnly = "nods-only",
        /// Will not breathe this agent.
        RefusesAgent = "refuses-agent",
        /// "Put ten, same as last year."
        AsksForTen = "asks-for-ten",
        /// A pile of records to be signed for people who were here yesterday.
        AsksForSignature = "asks-for-signature",
        /// "Try the other one then."
        AsksForOtherAgent = "asks-for-other-agent",
        /// The queue grows and looks at the clock.
        QueueGrows = "queue-grows",
        /// A second worker takes the spare hood: "both at once".
        SecondWearer = "second-wearer",
        /// The conductor's phone rings.
        PhoneRings = "phone-rings",
        /// The fire alarm sounds.
        FireAlarm = "fire-alarm",
    }
}

impl Seen {
    /// What a careful conductor would note on seeing it; `None` for plain answers and for what is looked up on purpose.
    #[must_use]
    #[expect(clippy::wildcard_enum_match_arm, reason = "most of a hundred signs are plain answers")]
    pub const fn observation(self) -> Option<Observation> {
        match self {
            Self::MouthShuts => Some(Observation::MouthClosed),
            Self::TouchesMask => Some(Observation::MaskTouched),
            Self::AdjustsMask | Self::HelperAtStraps => Some(Observation::MaskAdjusted),
            Self::MaskSlips => Some(Observation::MaskSlipped),
            Self::LiftsHood | Self::TakesHoodOff => Some(Observation::HoodOff),
            Self::HoodSlidesNear | Self::HoodNear => Some(Observation::HoodNear),
            Self::SitsDown => Some(Observation::Seated),
            Self::RushesMoves => Some(Observation::Rushed),
            Self::Whispers => Some(Observation::Whispering),
            Self::SprayFails | Self::SpraysNothing => Some(Observation::Clogged),
            Self::SignalsTaste
            | Self::SaysTaste
            | Self::SaysTrace
            | Self::SaysTasteLate
            | Self::RaisesHand
            | Self::PullsFace => Some(Observation::Taste),
            Self::SaysSalty | Self::SaysPlastic => Some(Observation::OddTaste),
            Self::DropOnFace | Self::SaysTasteBefore => Some(Observation::Residue),
            Self::SaysStop | Self::Breathless | Self::ChestPain | Self::Wheezes | Self::FireAlarm => {
                Some(Observation::Distress)
            }
            Self::ScratchesForehead
            | Self::Coughs
            | Self::AsksQuestion
            | Self::HoodBrushes
            | Self::WindowFogs
            | Self::SipsWater => Some(Observation::Harmless),
            _ => None,
        }
    }

    /// Whether it is one of the things that do not matter to the test.
    #[must_use]
    pub const fn is_harmless(self) -> bool {
        matches!(self.observation(), Some(Observation::Harmless | Observation::MaskSlipped))
    }
}

/// What the conductor was shown at a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sign {
    /// One without a figure.
    Seen(Seen),
    /// What went into the mouth, and how many minutes ago.
    ByMouth(Mouthful, u8),
    /// Wears this at work.
    WearsAtWork(Gear),
    /// Will wear this facepiece at work.
    FacepieceAtWork(Slot),
    /// Finds this one the most acceptable.
    Chooses(Slot),
    /// The exposure is this many times the limit.
    ExposureTimes(u16),
    /// The nebulizer was rinsed and filled this many hours ago.
    FilledAgo(u8),
}

impl Sign {
    /// The code that stands for it in files, and its figure.
    #[must_use]
    pub fn code(self) -> (&'static str, Option<String>) {
        match self {
            Self::Seen(seen) => (seen.code(), None),
            Self::ByMouth(what, minutes) => ("by-mouth", Some(format!("{}:{minutes}", what.code()))),
            Self::WearsAtWork(gear) => ("wears-at-work", Some(gear.code().to_owned())),
            Self::FacepieceAtWork(slot) => ("facepiece-at-work", Some(slot.number().to_string())),
            Self::Chooses(slot) => ("chooses", Some(slot.number().to_string())),
            Self::ExposureTimes(times) => ("exposure-times", Some(times.to_string())),
            Self::FilledAgo(hours) => ("filled-ago", Some(hours.to_string())),
        }
    }

    /// The sign with this code; `None` where there is none, or `with` is not one of its own.
    #[must_use]
    pub fn from_code(code: &str, with: Option<&str>) -> Option<Self> {
        let Some(with) = with else { return Seen::from_code(code).map(Self::Seen) };
        match code {
            "by-mouth" => {
                let (what, minutes) = with.split_once(':')?;
                Some(Self::ByMouth(Mouthful::from_code(what)?, minutes.parse().ok()?))
            }
            "wears-at-work" => Gear::from_code(with).map(Self::WearsAtWork),
            "facepiece-at-work" => with.parse().ok().and_then(Slot::new).map(Self::FacepieceAtWork),
            "chooses" => with.parse().ok().and_then(Slot::new).map(Self::Chooses),
            "exposure-times" => with.parse().ok().map(Self::ExposureTimes),
            "filled-ago" => with.parse().ok().map(Self::FilledAgo),
            _ => None,
        }
    }

    /// Whether this is the plain sign `seen`.
    #[must_use]
    pub fn is(self, seen: Seen) -> bool {
        self == Self::Seen(seen)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_is_read_back_from_its_code() {
        let slot = Slot::new(3).expect("three is a place");
        let figures = [
            Sign::ByMouth(Mouthful::Coffee, 5),
            Sign::WearsAtWork(Gear::Glasses),
            Sign::FacepieceAtWork(slot),
            Sign::Chooses(slot),
            Sign::ExposureTimes(12),
            Sign::FilledAgo(6),
        ];
        for sign in Seen::ALL.iter().copied().map(Sign::Seen).chain(figures) {
            let (code, with) = sign.code();
            assert_eq!(Sign::from_code(code, with.as_deref()), Some(sign));
        }
    }
}
