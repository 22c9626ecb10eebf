//! For every rule a run that breaks it: by the book, but for one thing. One file for each of the eight skills.
//!
//! Each case is run for both agents. Its rule must be found where and as gravely as the case says, the results must be
//! called as it says, and nothing else of top gravity may be found, since a finding belongs to the first decision that went
//! wrong. The few where two things cannot be told apart say so.

mod briefing;
mod eligibility;
mod facepiece;
mod result;
mod running;
mod screening;
mod solutions;
mod watching;

use crate::driver::{self, Conductor, calls, findings, plain};
use bittersweet_core::{
    act::{Act, Exercise, Slot},
    review::Finding,
    rulebook::{Agent, RuleId, Rulebook},
    sign::Seen,
    source::Gravity,
    units::Ms,
    wire::scenario_v1::{ByMouthV1, FitV1, ScenarioV1, TroubleV1},
};

/// A run that breaks a rule.
pub(crate) struct Case {
    /// The rule.
    pub(crate) rule: RuleId,
    /// What is done, as a fact.
    pub(crate) name: &'static str,
    /// In which attempts it is found: `day`, `screening-1`, `test-2`.
    on: &'static [&'static str],
    /// The results given, with those that would have been right.
    calls: &'static [&'static str],
    /// Does it.
    run: fn(Agent) -> Conductor,
    /// Rules of top gravity that cannot but be broken with it.
    also: &'static [RuleId],
    /// How grave it is here, if not as the rule says.
    gravity: Option<Gravity>,
    /// The one agent that it is run for, if not both.
    agent: Option<Agent>,
}

/// A pass, and rightly so.
const PASS: &[&str] = &["test-1: pass"];
/// A pass of a test that was spoilt.
const VOID: &[&str] = &["test-1: pass [invalid]"];
/// A pass of a test that one might as well have started over.
const EITHER: &[&str] = &["test-1: pass [pass, invalid]"];

const fn case(
    rule: RuleId,
    name: &'static str,
    on: &'static [&'static str],
    calls: &'static [&'static str],
    run: fn(Agent) -> Conductor,
) -> Case {
    Case { rule, name, on, calls, run, also: &[], gravity: None, agent: None }
}

impl Case {
    const fn with(self, also: &'static [RuleId]) -> Self {
        Self { also, ..self }
    }

    const fn counting_as(self, gravity: Gravity) -> Self {
        Self { gravity: Some(gravity), ..self }
    }

    const fn of(self, agent: Agent) -> Self {
        Self { agent: Some(agent), ..self }
    }
}

fn conductor(agent: Agent, change: impl FnOnce(&mut ScenarioV1)) -> Conductor {
    Conductor::new(&plain(agent, change))
}

/// By the book, but never this act.
fn never(agent: Agent, act: Act) -> Conductor {
    let mut conductor = conductor(agent, |_| {});
    conductor.never(act).finish();
    conductor
}

/// By the book, but this sign goes unnoticed.
fn overlooked(agent: Agent, seen: Seen, change: impl FnOnce(&mut ScenarioV1)) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.overlook(seen).finish();
    conductor
}

/// By the book, but when `act` comes up `other` is done, and the conductor goes on from there.
fn instead(agent: Agent, change: impl FnOnce(&mut ScenarioV1), act: Act, other: Act) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.until(act).act(other).finish();
    conductor
}

/// By the book, but `done` is done in the belief of doing `meant`.
fn mistaken(agent: Agent, change: impl FnOnce(&mut ScenarioV1), meant: Act, done: Act) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.until(meant).mistake(meant, done).finish();
    conductor
}

fn during(kind: &str, exercise: &str, after_s: u16) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), during: Some(exercise.to_owned()), after_s, ..TroubleV1::default() }
}

fn in_screening(kind: &str, squeezes: u8) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), screening: Some(squeezes), ..TroubleV1::default() }
}

fn had(loose: &mut ScenarioV1, what: &str, minutes_ago: u8) {
    loose.wearer.by_mouth = Some(ByMouthV1 { what: what.to_owned(), minutes_ago });
}

fn leaks(loose: &mut ScenarioV1) {
    loose.rack[1].fit = FitV1::One(15);
}

const fn slot(number: u8) -> Slot {
    Slot::new(number).expect("a place of the rack")
}

/// The wait that the book asks for is taken for done.
fn without_waiting(agent: Agent, change: impl FnOnce(&mut ScenarioV1), masked: bool) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor
        .until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some() == masked)
        .skip()
        .finish();
    conductor
}

fn finish(mut conductor: Conductor) -> Conductor {
    conductor.finish();
    conductor
}

/// Stands before the first squeeze of the screening.
fn at_the_first_squeeze(agent: Agent, tastes_after: u8) -> Conductor {
    let mut conductor = conductor(agent, |loose| loose.wearer.tastes_after = Some(tastes_after));
    conductor.until(Act::Squeeze);
    conductor
}

/// Stands before the first squeeze of the test.
fn at_the_initial_squeezes(agent: Agent, tastes_after: u8) -> Conductor {
    let mut conductor = conductor(agent, |loose| loose.wearer.tastes_after = Some(tastes_after));
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().worn().is_some());
    conductor
}

/// Stands before the first squeeze of a replenishment.
fn at_a_replenishment(mut conductor: Conductor) -> Conductor {
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().exercise() == Some(Exercise::DeepBreathing));
    conductor
}

/// Lets time pass until the next act is due.
fn until_due(conductor: &mut Conductor) {
    let due = conductor.next().map_or(Ms::ZERO, |step| conductor.due(step));
    conductor.wait(due.since(conductor.run.now()));
}

/// Does the act that comes after deep breathing when that has gone on for so long only.
fn hurry(conductor: &mut Conductor, act: Act, after: Ms) {
    Conductor::into(conductor, Exercise::DeepBreathing, after).act(act);
}

/// Every case.
pub(crate) fn all() -> impl Iterator<Item = &'static Case> {
    [
        eligibility::CASES,
        solutions::CASES,
        briefing::CASES,
        facepiece::CASES,
        screening::CASES,
        running::CASES,
        watching::CASES,
        result::CASES,
    ]
    .into_iter()
    .flatten()
}

impl Case {
    /// Whether it is run for this agent, which has such a rule.
    pub(crate) fn concerns(&self, agent: Agent) -> bool {
        self.agent.is_none_or(|only| only == agent) && Rulebook::us(agent).rule(self.rule).is_some()
    }

    /// Its runs, one for each agent that it concerns.
    pub(crate) fn conductors(&self) -> Vec<Conductor> {
        Agent::ALL.iter().copied().filter(|agent| self.concerns(*agent)).map(self.run).collect()
    }

    /// What is wrong with the review of its run; `None` if it is as it should be.
    fn complaint(&self, agent: Agent) -> Option<String> {
        let review = (self.run)(agent).review();
        let of_the_rule = Rulebook::us(agent).rule(self.rule).map(|rule| rule.gravity);
        let gravity = self.gravity.or(of_the_rule);
        let its: Vec<&Finding> = review.findings.iter().filter(|finding| finding.rule == self.rule).collect();
        let mut on: Vec<String> = its.iter().map(|finding| driver::on(finding.about)).collect();
        on.sort();
        let others: Vec<&str> = review
            .findings
            .iter()
            .filter(|finding| {
                finding.gravity.is_top() && finding.rule != self.rule && !self.also.contains(&finding.rule)
            })
            .map(|finding| finding.rule.code())
            .collect();
        let what = if on != self.on {
            format!("found on {on:?}, not on {:?}", self.on)
        } else if its.iter().any(|finding| Some(finding.gravity) != gravity) {
            format!("its gravity is not {gravity:?}")
        } else if !others.is_empty() {
            format!("also found: {}", others.join(", "))
        } else if calls(&review) != self.calls {
            format!("the results should be {:?}", self.calls)
        } else {
            return None;
        };
        Some(format!(
            "{} ({}, {}): {what}\n      {:?}\n      {:?}",
            self.rule.code(),
            self.name,
            agent.code(),
            calls(&review),
            findings(&review)
        ))
    }
}

#[test]
fn each_case_breaks_its_rule_and_no_other_that_spoils() {
    let mut complaints = Vec::new();
    for case in all() {
        for agent in Agent::ALL.iter().copied().filter(|agent| case.concerns(*agent)) {
            match std::panic::catch_unwind(|| case.complaint(agent)) {
                Ok(complaint) => complaints.extend(complaint),
                Err(_) => complaints.push(format!("{} ({}): panicked", case.rule.code(), case.name)),
            }
        }
    }
    assert!(complaints.is_empty(), "{} of {} cases:\n{}", complaints.len(), all().count(), complaints.join("\n"));
}

#[test]
fn every_rule_of_either_agent_has_a_case_for_it() {
    let mut without = Vec::new();
    for agent in Agent::ALL.iter().copied() {
        for rule in RuleId::ALL.iter().copied().filter(|rule| Rulebook::us(agent).rule(*rule).is_some()) {
            if !all().any(|case| case.rule == rule && case.concerns(agent)) {
                without.push(format!("{} ({})", rule.code(), agent.code()));
            }
        }
    }
    assert!(without.is_empty(), "{without:?}");
}
