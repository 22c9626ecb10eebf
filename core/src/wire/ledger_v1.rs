//! The ledger, version 1: how a run is kept on the device while it goes on.
//!
//! A header once, then one line for each act or change of pace, appended as it happens. Opening it is replaying it.

use super::{Code, Faults, MOST_RUN_BYTES, check_kind, read, run_v1, scenario_v1};
use crate::{
    act::Act,
    hint::Hint,
    run::{MOST_ENTRIES, Run},
    scenario::Scenario,
    units::Ms,
};
use run_v1::{ActV1, Conditions, Help, HintV1, Pace, PaceV1};
use serde::{Deserialize, Serialize};
use std::rc::Rc;

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-ledger";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// What is written when a run begins.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeaderV1 {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// The engine it runs on.
    pub engine: u32,
    /// When it began, by the wall clock, as ISO 8601; for people to read, never for arithmetic.
    pub started: String,
    /// A code of [`Help`].
    pub help: String,
    /// The moment of an earlier run from which this one was gone on with, in milliseconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub again_from: Option<u32>,
    /// The id of the assessment that it is a part of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set: Option<String>,
    /// The whole scenario.
    pub scenario: scenario_v1::ScenarioV1,
}

impl HeaderV1 {
    /// The header of a run of `scenario` that begins now.
    #[must_use]
    pub fn new(scenario: &Scenario, conditions: &Conditions, started: String) -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            engine: run_v1::ENGINE,
            started,
            help: conditions.help.code().to_owned(),
            again_from: conditions.again_from.map(|at| at.0),
            set: None,
            scenario: scenario_v1::loose(scenario),
        }
    }
}

/// One line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum LineV1 {
    /// Something was done.
    Act(ActV1),
    /// The pace was changed.
    Pace(PaceV1),
    /// A hint was asked for.
    Hint(HintV1),
}

impl LineV1 {
    /// The line of an act.
    #[must_use]
    pub fn act(at: Ms, act: Act) -> Self {
        Self::Act(ActV1::from((at, act)))
    }

    /// The line of a hint.
    #[must_use]
    pub fn hint(hint: Hint) -> Self {
        Self::Hint(HintV1::from(hint))
    }

    /// The line of a change of pace.
    #[must_use]
    pub fn pace(at: Ms, pace: Pace) -> Self {
        Self::Pace(PaceV1 { at: at.0, pace: pace.code().to_owned() })
    }
}

/// A ledger that was read.
#[derive(Clone, Debug)]
pub struct Restored {
    /// The run, at the moment it was left.
    pub run: Run,
    /// Its conditions.
    pub conditions: Conditions,
    /// When it began, by the wall clock.
    pub started: String,
    /// The id of the assessment that it is a part of.
    pub set: Option<String>,
}

/// Reads a ledger: its header, its lines in order, and the last moment known.
///
/// # Errors
/// All faults, with where and why; the lines' paths begin with `lines[number]`.
pub fn restore(header: &str, lines: &[String], reached: Ms) -> Result<Restored, Faults> {
    let header: HeaderV1 = read(header, MOST_RUN_BYTES)?;
    let mut faults = Faults::default();
    check_kind(&header.format, header.version, FORMAT, VERSION, &mut faults);
    let help = Help::from_code(&header.help).unwrap_or_else(|| {
        faults.push("help", Code::UnknownCode, &header.help);
        Help::Unaided
    });
    if lines.len() > MOST_ENTRIES {
        faults.push("lines", Code::TooMany, lines.len());
    }
    let scenario = scenario_v1::check(&header.scenario).map_err(|below| {
        let mut faults = Faults::default();
        faults.extend_below("scenario", &below);
        faults
    })?;
    let (mut acts, mut paces, mut hints) = (Vec::new(), Vec::new(), Vec::new());
    for (number, line) in lines.iter().take(MOST_ENTRIES).enumerate() {
        match read::<LineV1>(line, MOST_RUN_BYTES) {
            Ok(LineV1::Act(act)) => acts.push(act),
            Ok(LineV1::Pace(pace)) => match Pace::from_code(&pace.pace) {
                Some(code) => paces.push((Ms(pace.at), code)),
                None => faults.push(&format!("lines[{number}].pace"), Code::UnknownCode, &pace.pace),
            },
            Ok(LineV1::Hint(hint)) => hints.extend(run_v1::hint(&format!("lines[{number}]"), &hint, &mut faults)),
            Err(below) => faults.extend_below(&format!("lines[{number}]"), &below),
        }
    }
    let acts = run_v1::acts(&acts, &mut faults);
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut run =
        Run::replay(Rc::new(scenario), &acts).map_err(|refusal| Faults::one("lines", Code::Impossible, refusal))?;
    run.advance(reached);
    let conditions = Conditions { help, paces, hints, again_from: header.again_from.map(Ms) };
    Ok(Restored { run, conditions, started: header.started, set: header.set })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn header() -> String {
        let (_, text) = crate::scenarios::BUILT_IN.first().unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        let header =
            HeaderV1::new(&scenario, &Conditions::new(Help::Guided, Pace::Real), "2026-01-01T00:00:00Z".to_owned());
        serde_json::to_string(&header).unwrap()
    }

    #[test]
    fn what_was_appended_comes_back() {
        let lines = [LineV1::pace(Ms::ZERO, Pace::Real), LineV1::act(Ms(500), Act::AskClearance)];
        let lines: Vec<String> = lines.iter().map(|line| serde_json::to_string(line).unwrap()).collect();
        let restored = restore(&header(), &lines, Ms(9_000)).unwrap();
        assert_eq!(restored.run.acts().collect::<Vec<_>>(), [(Ms(500), Act::AskClearance)]);
        assert_eq!(restored.run.now(), Ms(9_000));
        assert_eq!(restored.conditions.paces, [(Ms::ZERO, Pace::Real)]);
    }

    #[test]
    fn a_broken_line_is_named() {
        let lines = ["{\"at\":1,\"act\":\"ask-clearance\"}".to_owned(), "{\"at\":2,\"act\"".to_owned()];
        let faults = restore(&header(), &lines, Ms::ZERO).unwrap_err();
        assert!(faults.list()[0].path.starts_with("lines[1]"), "{faults}");
    }

    /// The first version's file, kept for ever.
    #[test]
    fn the_golden_ledger_still_opens() {
        let golden = include_str!("../../golden/ledger-v1.txt");
        let mut lines = golden.lines().map(str::to_owned);
        let header = lines.next().unwrap();
        let restored = restore(&header, &lines.collect::<Vec<_>>(), Ms(20_000)).unwrap();
        assert_eq!(restored.run.acts().count(), 4);
        assert_eq!(restored.conditions.help, Help::Guided);
    }
}
