//! The review of a run: what was found, what was given beside what would have been right, and how each skill stood.

use crate::{
    act::Verdict,
    attempt::FitTest,
    judge::{self, Case, Docket, Mark},
    log::Entry,
    ordered,
    rulebook::{Rule, RuleId, Rulebook},
    ruling::{self, Ruling},
    run::Run,
    scenario::Scenario,
    source::{Gravity, Skill},
    state::{About, State},
    units::Ms,
};
use std::collections::BTreeMap;

/// A rule broken, as often as it was in one attempt.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// Which rule.
    pub rule: RuleId,
    /// In which attempt.
    pub about: About,
    /// Each time, earliest first.
    pub times: Vec<Ms>,
    /// What it did here. A breach that spoils is only a departure where the taste that was reported makes the fail stand.
    pub gravity: Gravity,
}

/// A result given, beside what would have been right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Called {
    /// On which attempt.
    pub about: About,
    /// When it was given.
    pub at: Ms,
    /// What was given; `Invalid` where the conductor went straight to a new start.
    pub given: Verdict,
    /// What would have been right: several where both readings can be argued, none where no result would have been.
    pub accepted: Vec<Verdict>,
    /// It was a test that had not come to a result: going on was right as well.
    pub unfinished: bool,
}

impl Called {
    /// Whether the result given was right.
    #[must_use]
    pub fn is_right(&self) -> bool {
        self.accepted.contains(&self.given)
    }
}

/// How often a skill's rules came up, and were kept.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Kept.
    pub kept: u32,
    /// Kept or broken.
    pub came_up: u32,
}

/// What was noticed and what was made too much of: four counts, never one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Watch {
    /// Things that mattered and were acted on or noted.
    pub caught: u32,
    /// Things that mattered and were not.
    pub missed: u32,
    /// Harmless things let pass.
    pub let_pass: u32,
    /// Tests stopped or called for no reason, and fails given without a taste.
    pub over_called: u32,
}

/// The review.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Review {
    /// Rules broken, gravest first, then earliest.
    pub findings: Vec<Finding>,
    /// Breaches in attempts that the conductor threw away before giving a result on them: caught and put right.
    pub put_right: Vec<Finding>,
    /// Results beside what would have been right, in order.
    pub calls: Vec<Called>,
    /// The eight skills.
    pub skills: BTreeMap<Skill, Tally>,
    /// Noticing.
    pub watch: Watch,
    /// Every rule that came up.
    pub marks: Vec<Mark>,
    /// Whether the run was ended by the conductor.
    pub finished: bool,
}

impl Review {
    /// Whether something spoilt a result that was issued, or put somebody at risk.
    #[must_use]
    pub fn has_top_finding(&self) -> bool {
        self.findings.iter().any(|finding| finding.gravity.is_top())
    }
}

/// Reviews a run by today's rules.
///
/// ```
/// use bittersweet_core::{act::Act, log::Entry, review, rulebook::RuleId, scenarios, units::Ms, wire::scenario_v1};
///
/// let (_, text) = scenarios::BUILT_IN[0];
/// let scenario = scenario_v1::parse(text)?;
/// let log = [Entry::act(Ms::secs(1), Act::SignUntested), Entry::act(Ms::secs(2), Act::Finish)];
/// let review = review::review(&scenario, &log);
/// assert!(review.has_top_finding());
/// assert_eq!(review.findings[0].rule, RuleId::UseEvery);
/// # Ok::<(), bittersweet_core::wire::Faults>(())
/// ```
#[must_use]
pub fn review(scenario: &Scenario, log: &[Entry]) -> Review {
    of(scenario, log, &State::of(scenario.agent, log))
}

/// The same of a run at hand, whose state need not be made from its log again.
#[must_use]
pub fn of_run(run: &Run) -> Review {
    of(run.scenario(), run.log(), run.state())
}

fn of(scenario: &Scenario, log: &[Entry], state: &State) -> Review {
    let book = scenario.rulebook();
    let case = Case { scenario, book: &book, log, state };
    let marks = judge::marks(&case);
    let calls = called(&case, &marks);
    let (findings, put_right) = findings(&case, &marks, &calls);
    let watch = watch(&marks);
    Review {
        findings,
        put_right,
        calls,
        skills: skills(&book, &marks),
        watch,
        finished: state.finished.is_some(),
        marks,
    }
}

fn called(case: &Case<'_>, marks: &[Mark]) -> Vec<Called> {
    let docket = Docket::of(marks);
    let mut calls: Vec<Called> = judge::calls(case)
        .into_iter()
        .map(|(at, given, about)| {
            let Ruling { accepted, unfinished, .. } = ruling::of(case, &docket, about, at);
            Called { about, at, given, accepted, unfinished }
        })
        .collect();
    ordered::order(&mut calls, |call| call.at.0.into());
    calls
}

/// Whether a result was issued that rests on this attempt; what belongs to the day always counts.
fn is_issued(state: &State, calls: &[Called], about: About) -> bool {
    let issued = |about: About| {
        let given = calls.iter().find(|call| call.about == about).map(|call| call.given);
        matches!(given, Some(Verdict::Pass | Verdict::Fail | Verdict::CannotTaste))
    };
    match about {
        About::Day => true,
        About::Test(_) => issued(about),
        About::Screening(number) => {
            let rests_on_it = |(_, test): &(usize, &FitTest)| test.screening == Some(number);
            issued(about)
                || state.tests.iter().enumerate().filter(rests_on_it).any(|(number, _)| issued(About::Test(number)))
        }
    }
}

/// Whether the conductor threw an attempt away: by a result that issues nothing, or by a new start. One that was merely
/// left is neither issued nor put right: what was broken in it stands.
fn is_thrown_away(state: &State, calls: &[Called], about: About) -> bool {
    let begun_anew = match about {
        About::Day => false,
        About::Screening(number) => state.screenings.len() > number + 1,
        About::Test(number) => state.tests.len() > number + 1,
    };
    let rests = |test: &FitTest| test.screening.map(About::Screening) == Some(about);
    // What was thrown away with the test that rested on it.
    let with_its_test = state
        .tests
        .iter()
        .enumerate()
        .rfind(|(_, test)| rests(test))
        .is_some_and(|(number, _)| is_thrown_away(state, calls, About::Test(number)));
    begun_anew || with_its_test || calls.iter().any(|call| call.about == about)
}

fn findings(case: &Case<'_>, marks: &[Mark], calls: &[Called]) -> (Vec<Finding>, Vec<Finding>) {
    let mut grouped: BTreeMap<(RuleId, About), Vec<Ms>> = BTreeMap::new();
    for mark in marks.iter().filter(|mark| !mark.kept && !is_said_already(mark, marks)) {
        grouped.entry((mark.rule, mark.about)).or_default().push(mark.at);
    }
    let (mut standing, mut put_right) = (Vec::new(), Vec::new());
    for ((rule, about), times) in grouped {
        let Some(row) = case.book.rule(rule) else { continue };
        let finding = Finding { rule, about, times, gravity: gravity_here(case.state, row, about, calls) };
        let is_credit =
            !is_issued(case.state, calls, about) && is_thrown_away(case.state, calls, about) && !is_of_the_call(row);
        if is_credit { put_right.push(finding) } else { standing.push(finding) }
    }
    for list in [&mut standing, &mut put_right] {
        ordered::order(list, |finding| {
            let first = finding.times.first().map_or(0, |at| u64::from(at.0) + 1);
            ((finding.gravity as u64) << 33) | first
        });
    }
    (standing, put_right)
}

/// Rules that ask for an answer to what is shown, and are broken where it was shown.
pub(crate) const ANSWERS: [RuleId; 12] = [
    RuleId::ScreenGap,
    RuleId::WatchMouth,
    RuleId::FitStanding,
    RuleId::FitEnds,
    RuleId::FitAloud,
    RuleId::FitTouched,
    RuleId::FitAdjusted,
    RuleId::FitResumed,
    RuleId::DistressEmergency,
    RuleId::DistressBreathing,
    RuleId::DistressAlarm,
    RuleId::DistressWish,
];

/// Whether what was not noted broke a rule of its own at that moment: that one says what it led to, and one decision is one
/// finding.
fn is_said_already(mark: &Mark, marks: &[Mark]) -> bool {
    mark.rule == RuleId::WatchNote
        && !mark.kept
        && marks.iter().any(|other| {
            !other.kept && (other.at, other.about) == (mark.at, mark.about) && ANSWERS.contains(&other.rule)
        })
}

/// Whether a rule speaks of what was noticed, called and decided, or of what was done to somebody: throwing the attempt
/// away puts none of that right.
fn is_of_the_call(rule: &Rule) -> bool {
    rule.skill == Skill::Result
        || matches!(
            rule.id,
            RuleId::WatchTaste
                | RuleId::WatchOvercall
                | RuleId::WatchNote
                | RuleId::DistressEmergency
                | RuleId::DistressBreathing
                | RuleId::DistressWish
        )
}

/// A defect may void a pass; it never rescues a taste. Where a fail rightly stands, what would have spoilt a pass is a
/// departure; so it is where the run ended and no result was issued. What was decided on afterwards is no part of the test.
fn gravity_here(state: &State, rule: &Rule, about: About, calls: &[Called]) -> Gravity {
    let fail_stands = calls.iter().any(|call| call.about == about && call.given == Verdict::Fail && call.is_right());
    let spoils_nothing = fail_stands || (state.finished.is_some() && !is_issued(state, calls, about));
    if spoils_nothing && rule.gravity == Gravity::Spoils && !is_of_the_call(rule) {
        Gravity::Departure
    } else {
        rule.gravity
    }
}

fn skills(book: &Rulebook, marks: &[Mark]) -> BTreeMap<Skill, Tally> {
    let mut tallies = [Tally::default(); Skill::ALL.len()];
    for mark in marks.iter().filter(|mark| !is_said_already(mark, marks)) {
        let Some(rule) = book.rule(mark.rule) else { continue };
        if let Some(tally) = tallies.get_mut(rule.skill as usize) {
            tally.came_up += 1;
            tally.kept += u32::from(mark.kept);
        }
    }
    Skill::ALL.iter().copied().zip(tallies).collect()
}

fn watch(marks: &[Mark]) -> Watch {
    let mut watch = Watch::default();
    for mark in marks {
        match (mark.rule, mark.kept) {
            (RuleId::WatchNote, true) => watch.caught += 1,
            (RuleId::WatchNote, false) => watch.missed += 1,
            (RuleId::WatchOvercall, true) => watch.let_pass += 1,
            (RuleId::WatchOvercall | RuleId::ResultInvalid | RuleId::ResultUntasted | RuleId::WatchSuspect, false) => {
                watch.over_called += 1;
            }
            _ => {}
        }
    }
    watch
}
