//! Run files, version 1: what a page saves and what `cargo xtask replay` reads.
//!
//! The acts are the run. The events are what was shown when it was made: where today's engine shows the same, the run is
//! replayed; where it does not, the recorded log stands, is judged by today's rules, and the page says so.

use super::{Code, Faults, MOST_RUN_BYTES, check_kind, read, review_v1::ReviewV1, scenario_v1};
use crate::{
    act::Act,
    coded::coded,
    hint::{Depth, Hint},
    log::{Entry, What},
    review,
    rulebook::{RuleId, Rulebook},
    run::{MOST_ENTRIES, Run},
    scenario::Scenario,
    sign::Sign,
    units::Ms,
};
use serde::{Deserialize, Deserializer, Serialize, de::IgnoredAny};
use std::rc::Rc;

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-run";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// Counts up only when a golden run changes.
pub const ENGINE: u32 = 2;

coded! {
    /// How much help there is.
    Help {
        /// The next act is shown, with why.
        Guided = "guided",
        /// On request: first what to think about, then the act.
        OnRequest = "on-request",
        /// None.
        Unaided = "unaided",
    }
}

coded! {
    /// How time passes.
    Pace {
        /// As it does.
        Real = "real",
        /// Twice as fast.
        Double = "double",
        /// Four times as fast.
        Fourfold = "fourfold",
        /// It stands still, and each act takes its nominal time.
        Stepped = "stepped",
    }
}

impl Pace {
    /// Simulated milliseconds to a real one; none where time stands still.
    #[must_use]
    pub const fn factor(self) -> u32 {
        match self {
            Self::Real => 1,
            Self::Double => 2,
            Self::Fourfold => 4,
            Self::Stepped => 0,
        }
    }
}

/// Under which conditions a run was made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Conditions {
    /// Help.
    pub help: Help,
    /// The pace from each moment on.
    pub paces: Vec<(Ms, Pace)>,
    /// The hints that were asked for, in order.
    pub hints: Vec<Hint>,
    /// The moment of an earlier run from which this one was gone on with; `None` where it was begun anew.
    pub again_from: Option<Ms>,
}

impl Conditions {
    /// Those of a run that begins.
    #[must_use]
    pub fn new(help: Help, pace: Pace) -> Self {
        Self { help, paces: vec![(Ms::ZERO, pace)], hints: Vec::new(), again_from: None }
    }

    /// Those of a run that goes on from an earlier moment of one under these.
    #[must_use]
    pub fn until(&self, moment: Ms) -> Self {
        Self {
            help: self.help,
            paces: self.paces.iter().copied().filter(|(at, _)| *at <= moment).collect(),
            hints: self.hints.iter().copied().filter(|hint| hint.at <= moment).collect(),
            again_from: Some(moment),
        }
    }
}

/// A run file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RunV1 {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// The engine that made it.
    pub engine: u32,
    /// The rulebook it was reviewed by.
    pub rulebook: RulebookV1,
    /// The whole scenario.
    pub scenario: scenario_v1::ScenarioV1,
    /// A code of [`Help`].
    pub help: String,
    /// The pace from each moment on.
    pub paces: Vec<PaceV1>,
    /// The moment of an earlier run from which this one was gone on with, in milliseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again_from: Option<u32>,
    /// The hints that were asked for, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hints: Vec<HintV1>,
    /// What was done, in order.
    pub acts: Vec<ActV1>,
    /// What was shown, in order.
    pub events: Vec<EventV1>,
    /// The review at the time it was saved; for people and other programs to read, never read back.
    #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "pass_over")]
    pub review: Option<ReviewV1>,
}

/// Reads past whatever stands there.
fn pass_over<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Option<ReviewV1>, D::Error> {
    IgnoredAny::deserialize(deserializer).map(|_| None)
}

/// Which rules.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RulebookV1 {
    /// Whose.
    pub id: String,
    /// Which version.
    pub version: u32,
    /// Of the data it was made from.
    pub hash: String,
}

/// A change of pace.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PaceV1 {
    /// From when, in milliseconds since the run began.
    pub at: u32,
    /// A code of [`Pace`].
    pub pace: String,
}

/// A hint that was asked for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HintV1 {
    /// When, in milliseconds since the run began.
    pub at: u32,
    /// A code of [`Depth`].
    pub hint: String,
    /// The rule that the next act served.
    pub rule: String,
}

impl From<Hint> for HintV1 {
    fn from(hint: Hint) -> Self {
        Self { at: hint.at.0, hint: hint.depth.code().to_owned(), rule: hint.rule.code().to_owned() }
    }
}

/// An act.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ActV1 {
    /// When, in milliseconds since the run began.
    pub at: u32,
    /// Its code.
    pub act: String,
    /// What it was done with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
}

/// A sign.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EventV1 {
    /// When, in milliseconds since the run began.
    pub at: u32,
    /// How many acts came before it.
    pub after: u32,
    /// Its code.
    pub sign: String,
    /// Its figure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<String>,
}

impl From<(Ms, Act)> for ActV1 {
    fn from((at, act): (Ms, Act)) -> Self {
        let (code, with) = act.code();
        Self { at: at.0, act: code.to_owned(), with }
    }
}

/// A run that was read.
#[derive(Clone, Debug)]
pub struct Opened {
    /// Its scenario.
    pub scenario: Rc<Scenario>,
    /// Its conditions.
    pub conditions: Conditions,
    /// What was done and shown, as recorded.
    pub log: Vec<Entry>,
    /// The run to go on with; `None` where today's engine would have shown something else.
    pub run: Option<Run>,
}

/// The file of a run, with its review.
#[must_use]
pub fn save(run: &Run, conditions: &Conditions) -> RunV1 {
    let scenario = run.scenario();
    let mut file = of_log(scenario, run.log(), conditions);
    file.review = Some(ReviewV1::of(scenario, &review::review(scenario, run.log())));
    file
}

/// The file of a log, without a review.
#[must_use]
pub fn of_log(scenario: &Scenario, log: &[Entry], conditions: &Conditions) -> RunV1 {
    let book = Rulebook::us(scenario.agent);
    let (mut acts, mut events) = (Vec::new(), Vec::new());
    for entry in log {
        match entry.what {
            What::Act(act) => acts.push(ActV1::from((entry.at, act))),
            What::Sign(sign) => {
                let (code, with) = sign.code();
                let after = u32::try_from(acts.len()).unwrap_or(u32::MAX);
                events.push(EventV1 { at: entry.at.0, after, sign: code.to_owned(), with });
            }
        }
    }
    RunV1 {
        format: FORMAT.to_owned(),
        version: VERSION,
        engine: ENGINE,
        rulebook: RulebookV1 { id: book.id.to_owned(), version: book.version, hash: book.hash.to_owned() },
        scenario: scenario_v1::loose(scenario),
        help: conditions.help.code().to_owned(),
        paces: conditions.paces.iter().map(|(at, pace)| PaceV1 { at: at.0, pace: pace.code().to_owned() }).collect(),
        again_from: conditions.again_from.map(|at| at.0),
        hints: conditions.hints.iter().copied().map(HintV1::from).collect(),
        acts,
        events,
        review: None,
    }
}

/// Reads a run file.
///
/// # Errors
/// All faults, with where and why.
pub fn parse(text: &str) -> Result<Opened, Faults> {
    open(&read(text, MOST_RUN_BYTES)?)
}

/// The strict form of a loose run.
///
/// # Errors
/// All faults, with where and why.
pub fn open(loose: &RunV1) -> Result<Opened, Faults> {
    let mut faults = Faults::default();
    check_kind(&loose.format, loose.version, FORMAT, VERSION, &mut faults);
    if !faults.is_empty() {
        return Err(faults);
    }
    if loose.acts.len() + loose.events.len() > MOST_ENTRIES {
        return Err(Faults::one("acts", Code::TooMany, loose.acts.len() + loose.events.len()));
    }
    let scenario = match scenario_v1::check(&loose.scenario) {
        Ok(scenario) => Some(Rc::new(scenario)),
        Err(below) => {
            faults.extend_below("scenario", &below);
            None
        }
    };
    let conditions = conditions(loose, &mut faults);
    let acts = acts(&loose.acts, &mut faults);
    let log = merge(&acts, &loose.events, &mut faults);
    let Some(scenario) = scenario.filter(|_| faults.is_empty()) else { return Err(faults) };
    match Run::replay(Rc::clone(&scenario), &acts) {
        Ok(mut run) => {
            // Signs after the last act come back by letting the same time pass.
            run.advance(log.last().map_or(Ms::ZERO, |entry| entry.at));
            let run = (run.log() == log).then_some(run);
            Ok(Opened { scenario, conditions, log, run })
        }
        // Another engine may have shown other things and so allowed other acts.
        Err(_) if loose.engine != ENGINE => Ok(Opened { scenario, conditions, log, run: None }),
        Err(refusal) => Err(Faults::one("acts", Code::Impossible, refusal)),
    }
}

fn conditions(loose: &RunV1, faults: &mut Faults) -> Conditions {
    let help = Help::from_code(&loose.help).unwrap_or_else(|| {
        faults.push("help", Code::UnknownCode, &loose.help);
        Help::Unaided
    });
    let mut paces = Vec::new();
    for (number, one) in loose.paces.iter().take(MOST_ENTRIES).enumerate() {
        match Pace::from_code(&one.pace) {
            Some(pace) => paces.push((Ms(one.at), pace)),
            None => faults.push(&format!("paces[{number}].pace"), Code::UnknownCode, &one.pace),
        }
    }
    let mut hints = Vec::new();
    for (number, one) in loose.hints.iter().take(MOST_ENTRIES).enumerate() {
        hints.extend(hint(&format!("hints[{number}]"), one, faults));
    }
    Conditions { help, paces, hints, again_from: loose.again_from.map(Ms) }
}

/// A hint of a list, checked.
pub(crate) fn hint(path: &str, loose: &HintV1, faults: &mut Faults) -> Option<Hint> {
    let depth = Depth::from_code(&loose.hint);
    let rule = RuleId::from_code(&loose.rule);
    if depth.is_none() {
        faults.push(&format!("{path}.hint"), Code::UnknownCode, &loose.hint);
    }
    if rule.is_none() {
        faults.push(&format!("{path}.rule"), Code::UnknownCode, &loose.rule);
    }
    Some(Hint { at: Ms(loose.at), depth: depth?, rule: rule? })
}

/// The acts of a list, each checked, times in order.
pub(crate) fn acts(loose: &[ActV1], faults: &mut Faults) -> Vec<(Ms, Act)> {
    let mut acts: Vec<(Ms, Act)> = Vec::with_capacity(loose.len());
    for (number, one) in loose.iter().enumerate() {
        if acts.last().is_some_and(|(before, _)| before.0 > one.at) {
            faults.push(&format!("acts[{number}].at"), Code::TimeRunsBack, one.at);
        }
        match Act::from_code(&one.act, one.with.as_deref()) {
            Some(act) => acts.push((Ms(one.at), act)),
            None => {
                let with = one.with.as_deref().map(|with| format!(" with {with}")).unwrap_or_default();
                faults.push(&format!("acts[{number}].act"), Code::UnknownCode, format!("{}{with}", one.act));
            }
        }
    }
    acts
}

/// Acts and signs as one list, in the order in which they came.
fn merge(acts: &[(Ms, Act)], events: &[EventV1], faults: &mut Faults) -> Vec<Entry> {
    let mut log: Vec<Entry> = Vec::with_capacity(acts.len() + events.len());
    let mut left = acts.iter();
    let mut taken = 0_u32;
    for (number, event) in events.iter().enumerate() {
        while taken < event.after {
            let Some((at, act)) = left.next() else {
                faults.push(&format!("events[{number}].after"), Code::OutOfRange, event.after);
                return log;
            };
            log.push(Entry::act(*at, *act));
            taken += 1;
        }
        if log.last().is_some_and(|before| before.at.0 > event.at) {
            faults.push(&format!("events[{number}].at"), Code::TimeRunsBack, event.at);
        }
        match Sign::from_code(&event.sign, event.with.as_deref()) {
            Some(sign) => log.push(Entry::sign(Ms(event.at), sign)),
            None => faults.push(&format!("events[{number}].sign"), Code::UnknownCode, &event.sign),
        }
    }
    log.extend(left.map(|(at, act)| Entry::act(*at, *act)));
    log
}
