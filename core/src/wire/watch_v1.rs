//! A watched run, version 1: how somebody's marks beside a colleague's run are kept on the device.
//!
//! A header once, then one line for each mark made or taken back, appended as it happens. The colleague's acts stand in the
//! scenario, so they are not kept again; whatever is read is watched anew up to the last moment known.

use super::{Code, Faults, MOST_RUN_BYTES, check_kind, read, run_v1, scenario_v1};
use crate::{
    observe::{Colleague, Mark, Slip},
    scenario::Scenario,
    units::Ms,
};
use serde::{Deserialize, Serialize};
use std::rc::Rc;

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-watch";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// How many lines there can be.
pub const MOST_LINES: usize = 1_000;

/// What is written when the watching begins.
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
    /// The whole scenario, with the colleague's acts.
    pub scenario: scenario_v1::ScenarioV1,
}

impl HeaderV1 {
    /// The header of a watching of `scenario` that begins now.
    #[must_use]
    pub fn new(scenario: &Scenario, started: String) -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            engine: run_v1::ENGINE,
            started,
            scenario: scenario_v1::loose(scenario),
        }
    }
}

/// One line.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum LineV1 {
    /// Something was marked.
    Mark(MarkV1),
    /// A mark was taken back.
    Back(BackV1),
}

/// A mark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MarkV1 {
    /// When, in milliseconds since the run began.
    pub at: u32,
    /// A code of [`Slip`].
    pub slip: String,
}

/// A mark taken back.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BackV1 {
    /// Its place among those that stood then, from 0.
    pub back: u32,
}

impl From<Mark> for LineV1 {
    fn from(mark: Mark) -> Self {
        Self::Mark(MarkV1 { at: mark.at.0, slip: mark.slip.code().to_owned() })
    }
}

impl LineV1 {
    /// The line of a mark taken back.
    #[must_use]
    pub fn back(place: usize) -> Self {
        Self::Back(BackV1 { back: u32::try_from(place).unwrap_or(u32::MAX) })
    }
}

/// What was read.
#[derive(Clone, Debug)]
pub struct Restored {
    /// The colleague, at the moment at which they were left.
    pub colleague: Colleague,
    /// The marks that stand.
    pub marks: Vec<Mark>,
    /// When it began, by the wall clock.
    pub started: String,
}

/// Reads a watched run: its header, its lines in order, and the last moment known.
///
/// # Errors
/// All faults, with where and why; the lines' paths begin with `lines[number]`.
pub fn restore(header: &str, lines: &[String], reached: Ms) -> Result<Restored, Faults> {
    let header: HeaderV1 = read(header, MOST_RUN_BYTES)?;
    let mut faults = Faults::default();
    check_kind(&header.format, header.version, FORMAT, VERSION, &mut faults);
    if lines.len() > MOST_LINES {
        faults.push("lines", Code::TooMany, lines.len());
    }
    let scenario = scenario_v1::check(&header.scenario).map_err(|below| {
        let mut faults = Faults::default();
        faults.extend_below("scenario", &below);
        faults
    })?;
    let marks = marks(lines, &mut faults);
    let colleague = Colleague::new(Rc::new(scenario));
    if colleague.is_none() {
        faults.push("scenario.colleague", Code::Empty, "none");
    }
    let Some(mut colleague) = colleague.filter(|_| faults.is_empty()) else { return Err(faults) };
    colleague.advance(reached);
    Ok(Restored { colleague, marks, started: header.started })
}

/// The marks that stand after these lines.
fn marks(lines: &[String], faults: &mut Faults) -> Vec<Mark> {
    let mut marks = Vec::new();
    for (number, line) in lines.iter().take(MOST_LINES).enumerate() {
        match read::<LineV1>(line, MOST_RUN_BYTES) {
            Ok(LineV1::Mark(mark)) => match Slip::from_code(&mark.slip) {
                Some(slip) => marks.push(Mark { at: Ms(mark.at), slip }),
                None => faults.push(&format!("lines[{number}].slip"), Code::UnknownCode, &mark.slip),
            },
            Ok(LineV1::Back(BackV1 { back })) => match usize::try_from(back) {
                Ok(place) if place < marks.len() => {
                    marks.remove(place);
                }
                _ => faults.push(&format!("lines[{number}].back"), Code::OutOfRange, back),
            },
            Err(below) => faults.extend_below(&format!("lines[{number}]"), &below),
        }
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenarios::BUILT_IN;

    fn header(id: &str) -> String {
        let (_, text) = BUILT_IN.iter().find(|(name, _)| *name == id).unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        serde_json::to_string(&HeaderV1::new(&scenario, "2026-01-01T00:00:00Z".to_owned())).unwrap()
    }

    fn written(lines: &[LineV1]) -> Vec<String> {
        lines.iter().map(|line| serde_json::to_string(line).unwrap()).collect()
    }

    const MOVED: Mark = Mark { at: Ms(651_000), slip: Slip::MaskMoved };
    const EARLY: Mark = Mark { at: Ms(90_000), slip: Slip::Threshold };

    #[test]
    fn what_was_appended_comes_back() {
        let lines = written(&[EARLY.into(), MOVED.into(), LineV1::back(0)]);
        let restored = restore(&header("watch-joinery"), &lines, Ms::mins(11)).unwrap();
        assert_eq!(restored.marks, [MOVED]);
        assert_eq!(restored.colleague.run().now(), Ms::mins(11));
        assert_eq!(restored.started, "2026-01-01T00:00:00Z");
    }

    #[test]
    fn what_is_wrong_is_named_with_its_place() {
        let header = header("watch-joinery");
        let rows = [
            (r#"{"at":1,"slip":"yawning"}"#, Code::UnknownCode, "lines[1].slip"),
            (r#"{"back":1}"#, Code::OutOfRange, "lines[1].back"),
            (r#"{"at":1,"slip""#, Code::NotJson, "lines[1]"),
            (r#"{"at":-1,"slip":"gear"}"#, Code::WrongShape, "lines[1]"),
        ];
        for (line, code, place) in rows {
            let lines = [written(&[EARLY.into()]), vec![line.to_owned()]].concat();
            let faults = restore(&header, &lines, Ms::ZERO).unwrap_err();
            let said = faults.list().iter().any(|fault| fault.code == code && fault.path.starts_with(place));
            assert!(said, "{line}: {faults}");
        }
        let many = written(&vec![EARLY.into(); MOST_LINES + 1]);
        assert_eq!(restore(&header, &many, Ms::ZERO).unwrap_err().list()[0].code, Code::TooMany);
    }

    #[test]
    fn a_run_that_nobody_else_makes_cannot_be_watched() {
        let faults = restore(&header("bakery"), &[], Ms::ZERO).unwrap_err();
        assert_eq!(faults.list()[0].path, "scenario.colleague");
    }

    /// The first version's file, kept for ever.
    #[test]
    fn the_golden_watch_still_opens() {
        let golden = include_str!("../../golden/watch-v1.txt");
        let mut lines = golden.lines().map(str::to_owned);
        let header = lines.next().unwrap();
        let restored = restore(&header, &lines.collect::<Vec<_>>(), Ms::mins(12)).unwrap();
        assert_eq!(restored.marks, [MOVED]);
        assert!(restored.colleague.run().acts().count() > 4);
    }
}
