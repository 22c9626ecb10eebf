//! The fit-test record as it was written in a run: an exercise with the fields of 29 CFR 1910.134(m)(2)(i).
//!
//! A sample for an invented wearer, and no record of a test. Whether it holds what it should is the judge's to say.

use crate::{
    act::{Act, Fields, Slot, Threshold, Verdict},
    log::{Entry, What},
    scenario::Scenario,
    state::State,
    units::Ms,
};

/// A record as it was written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sample {
    /// When.
    pub at: Ms,
    /// What went into it.
    pub fields: Fields,
    /// The facepiece that was on, or had been on last; `None` where none ever was.
    pub facepiece: Option<Slot>,
    /// The threshold that had been noted last, where it still held.
    pub threshold: Option<Threshold>,
    /// The result that had been given last; `None` where none had.
    pub result: Option<Verdict>,
}

/// Every record that was written in a run, in order.
#[must_use]
pub fn samples(scenario: &Scenario, log: &[Entry]) -> Vec<Sample> {
    let mut state = State::new(scenario.agent);
    let mut samples = Vec::new();
    for entry in log {
        if let What::Act(Act::Record(fields)) = entry.what {
            let facepiece = state.donnings.last().map(|donning| donning.slot);
            let result = state.verdicts.last().map(|(_, verdict, _)| *verdict);
            samples.push(Sample { at: entry.at, fields, facepiece, threshold: state.threshold(), result });
        }
        state.apply(*entry);
    }
    samples
}
