//! What a finding is made of, where a line of the logbook does not show it: which nebulizer, how long, how many.
//!
//! Nothing is judged here: the judge found it, and this looks up the figures at the moment it names.

use crate::{
    act::{Exercise, Observation, Role, Threshold},
    attempt::{FitTest, Screening, Squeeze},
    review::{self, Finding},
    rounds::{self, Round},
    rulebook::{RuleId, Rulebook},
    ruling,
    scenario::Scenario,
    sign::{Mouthful, Seen},
    state::{About, State},
    units::Ms,
};

/// What happened at one moment of a finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Happened {
    /// Sprayed from this nebulizer.
    Sprayed(Role),
    /// An exercise lasted so long.
    Lasted(Exercise, Ms),
    /// These exercises were left out.
    LeftOut(Vec<Exercise>),
    /// The facepiece had been on for so long.
    Worn(Ms),
    /// So many whole squeezes were given, beside what was asked.
    Squeezed(u32, u32),
    /// A replenishment was due at this moment, and none was given.
    Missed(Ms),
    /// A replenishment was due at the first of these and begun at the second.
    Begun(Ms, Ms),
    /// So long passed between the initial squeezes and the first exercise.
    Waited(Ms),
    /// The taste was reported after so many whole squeezes, if at all, and this threshold was noted.
    Tasted(Option<u32>, Threshold),
    /// This was shown, and nothing answered it in time.
    Unanswered(Seen),
    /// The wearer reported this at this moment.
    Reported(Ms, Seen),
    /// What the wearer had had by mouth, and how long ago by then.
    ByMouth(Mouthful, Ms),
    /// Nothing was sprayed to find the threshold from which this test was counted.
    OnlyNoted(Threshold),
    /// Nothing was sprayed, and nothing noted, to count this test from.
    NotScreened,
}

/// What happened at one of the moments of a finding, where the logbook does not show it by itself.
#[must_use]
pub fn happened(scenario: &Scenario, state: &State, finding: &Finding, at: Ms) -> Option<Happened> {
    let of_it = match finding.about {
        About::Day => None,
        About::Screening(number) => {
            state.screenings.get(number).and_then(|screening| in_screening(screening, finding.rule, at))
        }
        About::Test(number) => {
            let test = state.tests.get(number);
            test.and_then(|test| in_test(&scenario.rulebook(), state, test, finding.rule, at))
        }
    };
    of_it.or_else(|| at_any_time(scenario, state, finding, at))
}

/// Since when that was under way which a finding is about. Most rules are broken in a moment; but a set of squeezes is found too
/// short after the last of them, and whoever would do it right has to begin before the first.
#[must_use]
pub fn since(scenario: &Scenario, state: &State, finding: &Finding) -> Ms {
    let at = finding.times.first().copied().unwrap_or(Ms::ZERO);
    let since = match finding.about {
        About::Day => None,
        About::Screening(number) => {
            state.screenings.get(number).and_then(|screening| screened_since(screening, finding.rule))
        }
        About::Test(number) => {
            let test = state.tests.get(number);
            test.and_then(|test| tested_since(&scenario.rulebook(), state, test, finding.rule, at))
        }
    };
    since.unwrap_or(at)
}

/// More squeezes than a set has are counted from the first of that set on, and found when the threshold is noted.
fn screened_since(screening: &Screening, rule: RuleId) -> Option<Ms> {
    screening.tasted_set().first().filter(|_| rule == RuleId::ScreenCount).map(|first| first.at)
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the other rules are broken in a moment")]
fn tested_since(book: &Rulebook, state: &State, test: &FitTest, rule: RuleId, at: Ms) -> Option<Ms> {
    match rule {
        RuleId::FitMinimum | RuleId::FitInitial | RuleId::FitInitialOver => initial_since(book, state, test),
        // Of the initial squeezes it is found after the last, of a replenishment at the first.
        RuleId::FitSqueeze if round_at(book, state, test, at).is_none() => initial_since(book, state, test),
        RuleId::FitStart | RuleId::FitStartPrompt => {
            test.common.squeezes.iter().rfind(|squeeze| squeeze.at <= at).map(|last| last.at)
        }
        RuleId::FitTopUp => Some(at.since(book.numbers.replenish_lost)),
        RuleId::FitTopUpPrompt => round_at(book, state, test, at).map(|round| round.due.min(at)),
        _ => None,
    }
}

/// When the first of the initial squeezes was given or, where none was, when they were due.
fn initial_since(book: &Rulebook, state: &State, test: &FitTest) -> Option<Ms> {
    let (initial, _) = asked(book, state, test)?;
    let round = rounds::initial(&book.numbers, test, initial)?;
    Some(round.given.first().map_or(round.due, |first| first.at))
}

/// What belongs to screenings and tests alike.
fn at_any_time(scenario: &Scenario, state: &State, finding: &Finding, at: Ms) -> Option<Happened> {
    if matches!(finding.rule, RuleId::MouthFifteen | RuleId::MouthSweet | RuleId::MouthScreening) {
        let (what, minutes) = scenario.person.by_mouth;
        return Some(Happened::ByMouth(what, at.plus(Ms::mins(u32::from(minutes)))));
    }
    // Asked before the hood was on as well as at the end.
    if finding.rule == RuleId::ComfortOther {
        return Some(Happened::Reported(at, Seen::SaysUncomfortable));
    }
    let common = state.common(finding.about)?;
    let answers = review::ANSWERS.contains(&finding.rule) || finding.rule == RuleId::WatchNote;
    let shown = |(when, seen): &&(Ms, Seen)| *when == at && seen.observation().is_some() && !seen.is_harmless();
    common.signs.iter().filter(|_| answers).find(shown).map(|(_, seen)| Happened::Unanswered(*seen))
}

#[expect(clippy::wildcard_enum_match_arm, reason = "of the other rules the logbook shows enough")]
fn in_screening(screening: &Screening, rule: RuleId, at: Ms) -> Option<Happened> {
    match rule {
        RuleId::NebScreen => sprayed(&screening.common.squeezes, at),
        RuleId::ScreenClass | RuleId::ScreenClassHigh | RuleId::ScreenEarly | RuleId::ScreenCount => {
            let (_, noted) = screening.noted.iter().find(|(when, _)| *when == at)?;
            let given = screening.tasted_after().and_then(|after| screening.common.squeezes.get(..after));
            Some(Happened::Tasted(given.map(rounds::whole), *noted))
        }
        _ => None,
    }
}

fn sprayed(squeezes: &[Squeeze], at: Ms) -> Option<Happened> {
    squeezes.iter().find(|squeeze| squeeze.at == at).map(|squeeze| Happened::Sprayed(squeeze.role))
}

#[expect(clippy::wildcard_enum_match_arm, reason = "of the other rules the logbook shows enough")]
fn in_test(book: &Rulebook, state: &State, test: &FitTest, rule: RuleId, at: Ms) -> Option<Happened> {
    let worn = |from: Ms| Some(Happened::Worn(at.since(from)));
    match rule {
        RuleId::NebTest => sprayed(&test.common.squeezes, at),
        RuleId::FitMinute | RuleId::FitMinuteNear | RuleId::FitLong => {
            let done = test.exercises.iter().find(|done| done.to == Some(at))?;
            Some(Happened::Lasted(done.exercise, done.length(at)))
        }
        RuleId::FitAll => {
            let begun =
                |one: &Exercise| test.exercises.iter().any(|done| done.exercise.as_one_of_seven() == Some(*one));
            Some(Happened::LeftOut(Exercise::SEVEN.iter().copied().filter(|one| !begun(one)).collect()))
        }
        RuleId::WearFive => worn(state.donnings.get(test.donning?)?.at),
        RuleId::ComfortFive => {
            let slot = state.donnings.get(test.donning?)?.slot;
            let donned = state.donnings.iter().rfind(|donning| donning.slot == slot && donning.at <= at)?;
            worn(donned.at)
        }
        RuleId::FitStart | RuleId::FitStartPrompt => {
            let last = test.common.squeezes.iter().rfind(|squeeze| squeeze.at <= at)?;
            Some(Happened::Waited(at.since(last.at)))
        }
        RuleId::FitMinimum | RuleId::FitInitial | RuleId::FitInitialOver => {
            let (initial, _) = asked(book, state, test)?;
            let round = rounds::initial(&book.numbers, test, initial)?;
            Some(Happened::Squeezed(rounds::whole(&round.given), initial))
        }
        RuleId::FitHalf | RuleId::FitHalfOver => {
            let (_, half) = asked(book, state, test)?;
            let round = round_at(book, state, test, at)?;
            Some(Happened::Squeezed(rounds::whole(&round.given), half))
        }
        RuleId::FitTopUpPrompt => round_at(book, state, test, at).map(|round| Happened::Begun(round.due, at)),
        RuleId::FitTopUp => Some(Happened::Missed(at.since(book.numbers.replenish_lost))),
        RuleId::WatchTaste => {
            let at = ruling::taste_in(test)?;
            let tastes = |(when, seen): &&(Ms, Seen)| {
                *when == at && matches!(seen.observation(), Some(Observation::Taste | Observation::Residue))
            };
            test.common.signs.iter().find(tastes).map(|(at, seen)| Happened::Reported(*at, *seen))
        }
        RuleId::ScreenDone => not_screened(test.screening.and_then(|number| state.screenings.get(number))),
        _ => None,
    }
}

/// Squeezes of the initial set and of each replenishment.
fn asked(book: &Rulebook, state: &State, test: &FitTest) -> Option<(u32, u32)> {
    let threshold = state.counted_from(book, test)?;
    Some((book.initial(threshold)?, book.replenishment(threshold)?))
}

/// The replenishment that was begun at this moment.
fn round_at(book: &Rulebook, state: &State, test: &FitTest, at: Ms) -> Option<Round> {
    let begun = |round: &Round| round.given.first().is_some_and(|first| first.at == at);
    rounds::later(&book.numbers, test, rounds::end(state, test)).into_iter().find(begun)
}

fn not_screened(screening: Option<&Screening>) -> Option<Happened> {
    let Some(screening) = screening else { return Some(Happened::NotScreened) };
    let sprayed = !screening.common.squeezes.is_empty();
    (!sprayed).then(|| screening.threshold().map_or(Happened::NotScreened, Happened::OnlyNoted))
}
