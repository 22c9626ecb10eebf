//! Reviews as they are written, version 1.

use crate::{
    review::{Finding, Review},
    scenario::Scenario,
    source::Skill,
    state::About,
};
use serde::Serialize;

/// A review.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReviewV1 {
    /// Whether the run was ended.
    pub finished: bool,
    /// Results given, in order.
    pub results: Vec<ResultV1>,
    /// Rules broken, gravest first.
    pub findings: Vec<FindingV1>,
    /// Caught and put right before a result was given.
    pub put_right: Vec<FindingV1>,
    /// The eight skills.
    pub skills: Vec<SkillV1>,
    /// Noticing.
    pub watch: WatchV1,
}

/// A result beside the right one.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ResultV1 {
    /// When, in milliseconds.
    pub at: u32,
    /// On what: `day`, `screening-1`, `test-2`.
    pub on: String,
    /// What was given.
    pub given: String,
    /// What would have been right.
    pub right: Vec<String>,
}

/// A finding.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FindingV1 {
    /// The rule's id.
    pub rule: String,
    /// On what.
    pub on: String,
    /// When, in milliseconds, each time.
    pub at: Vec<u32>,
    /// How grave it was here.
    pub gravity: String,
    /// Which way it pushes.
    pub push: String,
    /// On what the rule rests.
    pub basis: String,
    /// Where the rule comes from.
    pub source: String,
}

/// A skill.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SkillV1 {
    /// Which.
    pub skill: String,
    /// How often its rules were kept.
    pub kept: u32,
    /// How often they came up.
    pub came_up: u32,
}

/// Noticing.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[expect(missing_docs, reason = "the same four counts as `review::Watch`")]
pub struct WatchV1 {
    pub caught: u32,
    pub missed: u32,
    pub let_pass: u32,
    pub over_called: u32,
}

/// `day`, `screening-1`, `test-2`.
fn on(about: About) -> String {
    match about {
        About::Day => "day".to_owned(),
        About::Screening(number) => format!("screening-{}", number + 1),
        About::Test(number) => format!("test-{}", number + 1),
    }
}

impl ReviewV1 {
    /// The written form of a review of `scenario`.
    #[must_use]
    pub fn of(scenario: &Scenario, review: &Review) -> Self {
        let book = scenario.rulebook();
        let finding = |finding: &Finding| {
            let rule = book.rule(finding.rule);
            FindingV1 {
                rule: finding.rule.code().to_owned(),
                on: on(finding.about),
                at: finding.times.iter().map(|at| at.0).collect(),
                gravity: finding.gravity.code().to_owned(),
                push: rule.map_or("", |rule| rule.push.code()).to_owned(),
                basis: rule.map_or("", |rule| rule.basis.code()).to_owned(),
                source: rule.map_or("", |rule| rule.source).to_owned(),
            }
        };
        Self {
            finished: review.finished,
            results: review
                .calls
                .iter()
                .map(|call| ResultV1 {
                    at: call.at.0,
                    on: on(call.about),
                    given: call.given.code().to_owned(),
                    right: call.accepted.iter().map(|verdict| verdict.code().to_owned()).collect(),
                })
                .collect(),
            findings: review.findings.iter().map(finding).collect(),
            put_right: review.put_right.iter().map(finding).collect(),
            skills: Skill::ALL
                .iter()
                .map(|skill| {
                    let tally = review.skills.get(skill).copied().unwrap_or_default();
                    SkillV1 { skill: skill.code().to_owned(), kept: tally.kept, came_up: tally.came_up }
                })
                .collect(),
            watch: WatchV1 {
                caught: review.watch.caught,
                missed: review.watch.missed,
                let_pass: review.watch.let_pass,
                over_called: review.watch.over_called,
            },
        }
    }
}
