//! What went wrong, as somebody who watches would say it: rules that look alike from outside, under one short name.

use crate::{coded::coded, rulebook::RuleId, source::Skill};

coded! {
    /// A slip. Each belongs to one skill, and each rule to one slip.
    Slip {
        /// Clearance, or today's health, not asked after, or not kept to.
        Clearance = "clearance",
        /// Health asked about aloud, or read.
        Privacy = "privacy",
        /// Something by mouth, or not asked about.
        Mouth = "mouth",
        /// Something where the seal will lie, or not looked at.
        SealPlace = "seal-place",
        /// Not the test, the facepiece or the filter for this use.
        Use = "use",
        /// A nebulizer or its solution.
        Nebulizers = "nebulizers",
        /// A nebulizer that does not spray as it should, or was not tried.
        Clog = "clog",
        /// Hood, hands or bench not clean.
        Clean = "clean",
        /// Something not explained.
        Explaining = "explaining",
        /// Nobody made sure that it was understood.
        Understood = "understood",
        /// Mouth and tongue not seen to before spraying.
        Tongue = "tongue",
        /// A leading question.
        Leading = "leading",
        /// How the facepiece was chosen.
        Choice = "choice",
        /// The facepiece itself: faulty, used, or not inspected.
        Condition = "condition",
        /// How it sits: straps, nosepiece, fit not gone through.
        Sitting = "sitting",
        /// Less than five minutes.
        FiveMinutes = "five-minutes",
        /// Comfort not gone through.
        Comfort = "comfort",
        /// The user seal check.
        SealCheck = "seal-check",
        /// The gear of work.
        Gear = "gear",
        /// A test with no screening to go by.
        NoScreening = "no-screening",
        /// How it was sprayed in screening.
        ScreeningSpray = "screening-spray",
        /// The threshold noted.
        Threshold = "threshold",
        /// Too soon after the taste.
        Clearing = "clearing",
        /// No hood, or the wrong nebulizer, in the test.
        HoodOrSolution = "hood-or-solution",
        /// The first squeezes of the test.
        InitialSqueezes = "initial-squeezes",
        /// Squeezes that were not full.
        ShortSqueezes = "short-squeezes",
        /// A replenishment.
        Replenishing = "replenishing",
        /// An exercise left out, out of order, or not one of the seven.
        Exercises = "exercises",
        /// An exercise too short or too long.
        Minute = "minute",
        /// How an exercise was done.
        Movement = "movement",
        /// Comfort not asked about after the exercises.
        ComfortAfter = "comfort-after",
        /// The facepiece was moved, and the test went on.
        MaskMoved = "mask-moved",
        /// The hood came off, and the test went on.
        HoodOff = "hood-off",
        /// A taste passed over, or made too much of.
        Taste = "taste",
        /// The mouth shut.
        MouthShut = "mouth-shut",
        /// Something seen and not noted.
        NotNoted = "not-noted",
        /// Too much made of something harmless.
        OverCalled = "over-called",
        /// A second wearer under another hood.
        SecondWearer = "second-wearer",
        /// Distress, an alarm, or a wish to stop.
        Distress = "distress",
        /// The result.
        Result = "result",
        /// What comes next.
        NextStep = "next-step",
        /// Signed or cleared without a test.
        Untested = "untested",
        /// How the result was told.
        Telling = "telling",
        /// The record.
        Record = "record",
        /// How things were left.
        LeftBehind = "left-behind",
    }
}

impl Slip {
    /// What breaking this rule looks like.
    #[must_use]
    pub const fn of(rule: RuleId) -> Self {
        match rule {
            RuleId::ClearBefore | RuleId::ClearLimits | RuleId::ClearToday => Self::Clearance,
            RuleId::ClearQuestionnaire | RuleId::ClearPrivate => Self::Privacy,
            RuleId::MouthAsk
            | RuleId::MouthFifteen
            | RuleId::MouthScreening
            | RuleId::MouthSweet
            | RuleId::MouthNumb => Self::Mouth,
            RuleId::SealLook | RuleId::SealHair | RuleId::SealUnder => Self::SealPlace,
            RuleId::UseCheck
            | RuleId::UseLimit
            | RuleId::UseApf
            | RuleId::UseFilter
            | RuleId::UseNegative
            | RuleId::UseSame => Self::Use,
            RuleId::NebCheck
            | RuleId::NebMarked
            | RuleId::NebContents
            | RuleId::NebRinse
            | RuleId::NebFill
            | RuleId::NebBottle => Self::Nebulizers,
            RuleId::NebSpray | RuleId::NebClogEnd | RuleId::NebClogLook => Self::Clog,
            RuleId::HoodClean | RuleId::HoodCheck | RuleId::HandsGloves | RuleId::AfterBench => Self::Clean,
            RuleId::TrainingApart
            | RuleId::BriefProcedure
            | RuleId::BriefDuties
            | RuleId::BriefExercises
            | RuleId::BriefAim
            | RuleId::BriefDonning
            | RuleId::BriefMirror
            | RuleId::BriefMaskFails
            | RuleId::BriefRemember => Self::Explaining,
            RuleId::BriefBack | RuleId::BriefSignals => Self::Understood,
            RuleId::BriefTongue => Self::Tongue,
            RuleId::AskLeading | RuleId::AskLeadingPass => Self::Leading,
            RuleId::ChooseWearer | RuleId::ChooseHold | RuleId::ChooseRunnerUp | RuleId::ComfortOther => Self::Choice,
            RuleId::FacepieceInspect
            | RuleId::FacepieceDefect
            | RuleId::FacepieceShared
            | RuleId::FacepiecePassedOn => Self::Condition,
            RuleId::ComfortAdequacy | RuleId::StrapsFault | RuleId::DonUnaided => Self::Sitting,
            RuleId::ComfortFive | RuleId::WearFive => Self::FiveMinutes,
            RuleId::ComfortReview => Self::Comfort,
            RuleId::SealCheckEach | RuleId::SealCheckSeated | RuleId::SealCheckMethod | RuleId::SealCheckFailed => {
                Self::SealCheck
            }
            RuleId::GearAsk | RuleId::GearOn => Self::Gear,
            RuleId::ScreenDone | RuleId::ScreenNone => Self::NoScreening,
            RuleId::NebScreen
            | RuleId::ScreenBare
            | RuleId::ScreenHood
            | RuleId::ScreenGap
            | RuleId::ScreenNozzle
            | RuleId::ScreenSqueeze
            | RuleId::ScreenRapid => Self::ScreeningSpray,
            RuleId::ScreenCount
            | RuleId::ScreenEarly
            | RuleId::ScreenClass
            | RuleId::ScreenClassHigh
            | RuleId::ScreenNote
            | RuleId::ScreenUntrue
            | RuleId::ScreenSalty => Self::Threshold,
            RuleId::ScreenClear => Self::Clearing,
            RuleId::NebTest | RuleId::FitHood => Self::HoodOrSolution,
            RuleId::FitInitial | RuleId::FitMinimum | RuleId::FitInitialOver => Self::InitialSqueezes,
            RuleId::FitSqueeze => Self::ShortSqueezes,
            RuleId::FitStart
            | RuleId::FitStartPrompt
            | RuleId::FitTopUp
            | RuleId::FitTopUpPrompt
            | RuleId::FitHalf
            | RuleId::FitHalfOver => Self::Replenishing,
            RuleId::FitAll | RuleId::FitOrder | RuleId::FitGrimace | RuleId::FitJog => Self::Exercises,
            RuleId::FitMinute | RuleId::FitMinuteNear | RuleId::FitLong => Self::Minute,
            RuleId::FitStanding | RuleId::FitEnds | RuleId::FitAloud => Self::Movement,
            RuleId::FitComfort => Self::ComfortAfter,
            RuleId::FitAdjusted | RuleId::FitTouched => Self::MaskMoved,
            RuleId::FitResumed => Self::HoodOff,
            RuleId::WatchTaste | RuleId::WatchSuspect | RuleId::WatchSalty => Self::Taste,
            RuleId::WatchMouth => Self::MouthShut,
            RuleId::WatchNote => Self::NotNoted,
            RuleId::WatchOvercall => Self::OverCalled,
            RuleId::WatchOne => Self::SecondWearer,
            RuleId::DistressEmergency | RuleId::DistressBreathing | RuleId::DistressWish | RuleId::DistressAlarm => {
                Self::Distress
            }
            RuleId::ResultGiven | RuleId::ResultComplete | RuleId::ResultUntasted | RuleId::ResultInvalid => {
                Self::Result
            }
            RuleId::NextDifferent
            | RuleId::NextWhole
            | RuleId::NextAgent
            | RuleId::NextCannot
            | RuleId::NextScreen
            | RuleId::NextRefer
            | RuleId::NextStep => Self::NextStep,
            RuleId::UseEvery => Self::Untested,
            RuleId::ResultTell | RuleId::ResultScope => Self::Telling,
            RuleId::RecordFields | RuleId::RecordHealth => Self::Record,
            RuleId::UseRestore | RuleId::FacepieceAfter | RuleId::RecordAside => Self::LeftBehind,
        }
    }

    /// The skill that it speaks of.
    #[must_use]
    pub const fn skill(self) -> Skill {
        match self {
            Self::Clearance | Self::Privacy | Self::Mouth | Self::SealPlace | Self::Use => Skill::Eligibility,
            Self::Nebulizers | Self::Clog | Self::Clean => Skill::Solutions,
            Self::Explaining | Self::Understood | Self::Tongue | Self::Leading => Skill::Briefing,
            Self::Choice
            | Self::Condition
            | Self::Sitting
            | Self::FiveMinutes
            | Self::Comfort
            | Self::SealCheck
            | Self::Gear => Skill::Facepiece,
            Self::NoScreening | Self::ScreeningSpray | Self::Threshold | Self::Clearing => Skill::Screening,
            Self::HoodOrSolution
            | Self::InitialSqueezes
            | Self::ShortSqueezes
            | Self::Replenishing
            | Self::Exercises
            | Self::Minute
            | Self::Movement
            | Self::ComfortAfter => Skill::Running,
            Self::MaskMoved
            | Self::HoodOff
            | Self::Taste
            | Self::MouthShut
            | Self::NotNoted
            | Self::OverCalled
            | Self::SecondWearer
            | Self::Distress => Skill::Watching,
            Self::Result | Self::NextStep | Self::Untested | Self::Telling | Self::Record | Self::LeftBehind => {
                Skill::Result
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rulebook::{Agent, Rulebook};

    #[test]
    fn a_slip_speaks_of_the_skill_of_its_rules() {
        for agent in Agent::ALL.iter().copied() {
            for rule in Rulebook::us(agent).rules {
                assert_eq!(Slip::of(rule.id).skill(), rule.skill, "{}", rule.id.code());
            }
        }
    }

    #[test]
    fn no_slip_stands_for_nothing() {
        for slip in Slip::ALL {
            assert!(RuleId::ALL.iter().any(|rule| Slip::of(*rule) == *slip), "{}", slip.code());
        }
    }
}
