//! The arithmetic behind the questions that ask for a number.
//!
//! Every number of a rule comes from the rulebook. A formula says which figures it needs by name, and has no answer for
//! figures that make no sense.

use super::unit::Unit;
use crate::{
    act::Threshold,
    coded::coded,
    course::EXERCISES,
    rulebook::{Agent, Rulebook, Solution, Solvent},
    units::{FitFactor, Ms},
};

coded! {
    /// What is to be reckoned.
    Formula {
        /// Squeezes of the initial set.
        InitialSqueezes = "initial-squeezes",
        /// Squeezes of each replenishment.
        ReplenishSqueezes = "replenish-squeezes",
        /// Squeezes of a whole test.
        WholeTestSqueezes = "whole-test-squeezes",
        /// Squeezes that are due by a moment of the test.
        SqueezesBy = "squeezes-by",
        /// What is left in the hood, in squeezes, just before the next replenishment after some were missed. The book's own
        /// measure: what is replenished makes up for what was lost.
        LevelAfterMissed = "level-after-missed",
        /// Squeezes that missed replenishments would have brought.
        SqueezesMissing = "squeezes-missing",
        /// Replenishments in a whole test.
        Replenishments = "replenishments",
        /// Squeezes that may still be tried in a screening.
        ScreeningSqueezesLeft = "screening-squeezes-left",
        /// Squeezes of whole tests for so many people of the first and of the second class.
        GroupSqueezes = "group-squeezes",
        /// The threshold to be recorded.
        RecordedThreshold = "recorded-threshold",
        /// Saccharin for the sweet fit test solution.
        SaccharinGrams = "saccharin-grams",
        /// Saccharin for the sweet check solution.
        SaccharinCheckGrams = "saccharin-check-grams",
        /// Denatonium benzoate for the bitter fit test solution.
        DenatoniumMg = "denatonium-mg",
        /// Denatonium benzoate for the bitter check solution.
        DenatoniumCheckMg = "denatonium-check-mg",
        /// Salt for either bitter solution.
        SaltGrams = "salt-grams",
        /// Sweet fit test solution to be thinned to check solution.
        CheckFromTestMl = "check-from-test-ml",
        /// Water for so much saccharin, fit test solution.
        WaterForBatchMl = "water-for-batch-ml",
        /// The highest concentration for a half mask.
        LimitHalfMask = "limit-half-mask",
        /// The highest for a full facepiece that was tested by taste.
        LimitFullByTaste = "limit-full-by-taste",
        /// The highest for a full facepiece that passed a quantitative test.
        LimitFullQuantitative = "limit-full-quantitative",
        /// How many times the limit a full facepiece tested by taste may be used at.
        FullFacepieceTimes = "full-facepiece-times",
        /// The overall fit factor with six exercises at 1000 and one bad one.
        OverallFitFactor = "overall-fit-factor",
        /// Minutes to wait after something by mouth.
        UntilMayStart = "until-may-start",
        /// Minutes a facepiece must still be worn before the test.
        UntilWornLongEnough = "until-worn-long-enough",
        /// Minutes until a nebulizer must be rinsed and refilled.
        UntilRefill = "until-refill",
        /// Seconds of testing left.
        TestLengthS = "test-length-s",
        /// Minutes for a group, one after the other.
        DayPlanMinutes = "day-plan-minutes",
        /// Months until the next test.
        RecheckDueMonths = "recheck-due-months",
    }
}

/// The good exercises of [`Formula::OverallFitFactor`], as the text says.
const GOOD_FIT: u32 = 1_000;

impl Formula {
    /// The figures it needs, by name.
    #[must_use]
    pub const fn figures(self) -> &'static [&'static str] {
        match self {
            Self::InitialSqueezes | Self::ReplenishSqueezes | Self::WholeTestSqueezes => &["threshold"],
            Self::SqueezesBy => &["threshold", "seconds"],
            Self::LevelAfterMissed | Self::SqueezesMissing => &["threshold", "missed"],
            Self::Replenishments | Self::FullFacepieceTimes => &[],
            Self::ScreeningSqueezesLeft => &["given"],
            Self::GroupSqueezes => &["tens", "twenties"],
            Self::RecordedThreshold => &["squeeze"],
            Self::SaccharinGrams
            | Self::SaccharinCheckGrams
            | Self::DenatoniumMg
            | Self::DenatoniumCheckMg
            | Self::SaltGrams
            | Self::CheckFromTestMl => &["volume"],
            Self::WaterForBatchMl => &["grams"],
            Self::LimitHalfMask | Self::LimitFullByTaste | Self::LimitFullQuantitative => &["limit"],
            Self::OverallFitFactor => &["bad"],
            Self::UntilMayStart | Self::UntilWornLongEnough | Self::UntilRefill => &["minutes"],
            Self::TestLengthS => &["done"],
            Self::DayPlanMinutes => &["people", "each"],
            Self::RecheckDueMonths => &["months"],
        }
    }

    /// The unit in which [`Self::value`] answers.
    #[must_use]
    pub const fn unit(self) -> Unit {
        match self {
            Self::InitialSqueezes
            | Self::ReplenishSqueezes
            | Self::WholeTestSqueezes
            | Self::SqueezesBy
            | Self::LevelAfterMissed
            | Self::SqueezesMissing
            | Self::ScreeningSqueezesLeft
            | Self::GroupSqueezes
            | Self::RecordedThreshold => Unit::Squeezes,
            Self::Replenishments | Self::FullFacepieceTimes | Self::OverallFitFactor => Unit::Times,
            Self::SaccharinGrams | Self::SaccharinCheckGrams | Self::SaltGrams => Unit::Grams,
            Self::DenatoniumMg | Self::DenatoniumCheckMg => Unit::Milligrams,
            Self::CheckFromTestMl | Self::WaterForBatchMl => Unit::Millilitres,
            Self::LimitHalfMask | Self::LimitFullByTaste | Self::LimitFullQuantitative => Unit::MilligramsPerCubicMetre,
            Self::UntilMayStart | Self::UntilWornLongEnough | Self::UntilRefill | Self::DayPlanMinutes => Unit::Minutes,
            Self::TestLengthS => Unit::Seconds,
            Self::RecheckDueMonths => Unit::Months,
        }
    }

    /// The answer, in a test with `agent`; `None` where a figure is missing or makes no sense.
    #[must_use]
    pub fn value(self, agent: Agent, figures: &[(String, f64)]) -> Option<f64> {
        let book = Rulebook::us(agent);
        let numbers = book.numbers;
        let given = |name: &str| figures.iter().find(|(known, _)| known == name).map(|(_, value)| *value);
        let whole = |name: &str| given(name).and_then(as_whole);
        let threshold = || {
            let wanted = whole("threshold")?;
            Threshold::ALL.iter().copied().find(|threshold| book.initial(*threshold) == Some(wanted))
        };
        let initial = || book.initial(threshold()?);
        let half = || book.replenishment(threshold()?);
        let value = match self {
            Self::InitialSqueezes => f64::from(initial()?),
            Self::ReplenishSqueezes => f64::from(half()?),
            Self::WholeTestSqueezes => f64::from(whole_test(book, threshold()?)?),
            Self::SqueezesBy => {
                let second = Ms::secs(whole("seconds")?);
                let due = (second.0 / numbers.replenish_every.0).min(replenishments(book));
                (second < length(book)).then(|| Some(f64::from(initial()? + half()? * due)))??
            }
            Self::LevelAfterMissed => {
                let kept = 1.0 - 1.0 / f64::from(numbers.replenish_part);
                (0..=whole("missed")?).fold(f64::from(initial()?), |level, _| level * kept)
            }
            Self::SqueezesMissing => f64::from(half()? * whole("missed")?),
            Self::Replenishments => f64::from(replenishments(book)),
            Self::ScreeningSqueezesLeft => f64::from(numbers.set * numbers.sets) - given("given")?,
            Self::GroupSqueezes => {
                f64::from(whole_test(book, Threshold::Ten)?) * given("tens")?
                    + f64::from(whole_test(book, Threshold::Twenty)?) * given("twenties")?
            }
            Self::RecordedThreshold => f64::from(book.initial(book.class_at(whole("squeeze")?))?),
            Self::SaccharinGrams => fit_mg(Agent::Sweet) * given("volume")? / 1_000.0,
            Self::SaccharinCheckGrams => check_mg(Agent::Sweet) * given("volume")? / 1_000.0,
            Self::DenatoniumMg => fit_mg(Agent::Bitter) * given("volume")?,
            Self::DenatoniumCheckMg => check_mg(Agent::Bitter) * given("volume")?,
            Self::SaltGrams => f64::from(Solvent::SALT_PERCENT) / 100.0 * given("volume")?,
            Self::CheckFromTestMl => given("volume")? * 1_000.0 / f64::from(solution(Agent::Sweet).strength_milli),
            Self::WaterForBatchMl => given("grams")? * 1_000.0 / fit_mg(Agent::Sweet),
            Self::LimitHalfMask => given("limit")? * f64::from(numbers.apf_half),
            Self::LimitFullByTaste => given("limit")? * f64::from(numbers.limit_times),
            Self::LimitFullQuantitative => given("limit")? * f64::from(numbers.apf_full),
            Self::FullFacepieceTimes => f64::from(numbers.limit_times),
            Self::OverallFitFactor => {
                let [good, bad] = [FitFactor::new(GOOD_FIT)?, FitFactor::new(whole("bad")?)?];
                FitFactor::overall(&[good, good, good, good, good, good, bad])
            }
            Self::UntilMayStart => left(numbers.nothing_by_mouth, given("minutes")?),
            Self::UntilWornLongEnough => left(numbers.pretest_wear, given("minutes")?),
            Self::UntilRefill => left(numbers.refill_within, given("minutes")?),
            Self::TestLengthS => length(book).as_secs() - numbers.exercise.as_secs() * given("done")?,
            Self::DayPlanMinutes => given("people")? * given("each")?,
            Self::RecheckDueMonths => f64::from(numbers.retest_within_months) - given("months")?,
        };
        (value.is_finite() && value > 0.0).then_some(value)
    }
}

pub(super) fn as_whole(value: f64) -> Option<u32> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast from a float saturates")]
    let whole = value as u32;
    (libm::fabs(f64::from(whole) - value) < 1e-9).then_some(whole)
}

/// The exercises one after the other.
fn length(book: &Rulebook) -> Ms {
    (0..EXERCISES).fold(Ms::ZERO, |length, _| length.plus(book.numbers.exercise))
}

/// None is due any more when the last exercise ends.
fn replenishments(book: &Rulebook) -> u32 {
    (length(book).0 / book.numbers.replenish_every.0).saturating_sub(1)
}

fn whole_test(book: &Rulebook, threshold: Threshold) -> Option<u32> {
    Some(book.initial(threshold)? + book.replenishment(threshold)? * replenishments(book))
}

fn left(of: Ms, minutes: f64) -> f64 {
    of.as_secs() / 60.0 - minutes
}

fn solution(agent: Agent) -> Solution {
    Rulebook::us(agent).solution
}

/// Milligrams of agent to a millilitre of solvent, fit test solution.
fn fit_mg(agent: Agent) -> f64 {
    let solution = solution(agent);
    solution.fit_mg / f64::from(solution.fit_ml)
}

/// The same, check solution.
fn check_mg(agent: Agent) -> f64 {
    let solution = solution(agent);
    solution.check_mg / f64::from(solution.check_ml)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(formula: Formula, figures: &[f64], expected: Option<f64>) {
        let named: Vec<(String, f64)> =
            formula.figures().iter().map(|name| (*name).to_owned()).zip(figures.iter().copied()).collect();
        for agent in Agent::ALL.iter().copied() {
            match (formula.value(agent, &named), expected) {
                (Some(found), Some(expected)) => assert!((found - expected).abs() < 1e-9, "{found}, not {expected}"),
                (found, expected) => assert_eq!(found, expected),
            }
        }
    }

    #[test]
    fn worked_examples_come_out() {
        check(Formula::WholeTestSqueezes, &[10.0], Some(75.0));
        check(Formula::WholeTestSqueezes, &[30.0], Some(225.0));
        check(Formula::SqueezesBy, &[20.0, 29.0], Some(20.0));
        check(Formula::SqueezesBy, &[20.0, 30.0], Some(30.0));
        check(Formula::SqueezesBy, &[10.0, 419.0], Some(75.0));
        check(Formula::LevelAfterMissed, &[10.0, 1.0], Some(2.5));
        check(Formula::GroupSqueezes, &[2.0, 1.0], Some(300.0));
        check(Formula::RecordedThreshold, &[11.0], Some(20.0));
        check(Formula::SaccharinGrams, &[50.0], Some(41.5));
        check(Formula::DenatoniumMg, &[100.0], Some(168.75));
        check(Formula::SaltGrams, &[200.0], Some(10.0));
        check(Formula::CheckFromTestMl, &[100.0], Some(1.0));
        check(Formula::WaterForBatchMl, &[41.5], Some(50.0));
        check(Formula::LimitHalfMask, &[0.05], Some(0.5));
        check(Formula::OverallFitFactor, &[20.0], Some(125.0));
        check(Formula::TestLengthS, &[3.0], Some(240.0));
    }

    #[test]
    fn figures_that_make_no_sense_have_no_answer() {
        check(Formula::InitialSqueezes, &[15.0], None);
        check(Formula::InitialSqueezes, &[], None);
        check(Formula::SqueezesBy, &[10.0, 420.0], None);
        check(Formula::RecordedThreshold, &[31.0], None);
        check(Formula::UntilMayStart, &[15.0], None);
        check(Formula::SaccharinGrams, &[f64::INFINITY], None);
    }
}
