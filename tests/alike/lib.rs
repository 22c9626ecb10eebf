//! What must come out the same, byte for byte, natively and in WebAssembly: kept runs replayed, written and judged again,
//! scenarios drawn from seeds, and drills.
//!
//! It compares nothing: `cargo xtask test --only golden-wasm` asks both and does, and the native checks hold the runs
//! against what is kept.

use bittersweet_core::{
    drill::{Level, drill},
    log::Entry,
    review::review,
    rulebook::Agent,
    scenario::Scenario,
    unannounced,
    wire::{
        Faults,
        review_v1::ReviewV1,
        run_v1::{self, Conditions, RulebookV1, RunV1},
        scenario_v1,
    },
};
use serde::Serialize;
use wasm_bindgen::{JsError, prelude::wasm_bindgen};

/// A run file, opened, replayed and judged.
#[derive(Debug)]
pub struct Again {
    /// The file, written again; `None` where today's engine shows something else than what is recorded.
    pub file: Option<String>,
    /// The review by today's rules, as JSON.
    pub review: String,
}

impl Again {
    /// Opens a run file and replays it.
    ///
    /// # Errors
    /// All faults, with where and why.
    pub fn of(text: &str) -> Result<Self, Faults> {
        let opened = run_v1::parse(text)?;
        let recorded: Option<RunV1> = serde_json::from_str(text).ok();
        // Which rules it was made under stays as it was recorded.
        let rulebook = recorded.map(|file| file.rulebook);
        let file = opened.run.map(|run| written(run.scenario(), run.log(), &opened.conditions, rulebook));
        let review = ReviewV1::of(&opened.scenario, &review(&opened.scenario, &opened.log));
        Ok(Self { file, review: json(&review) })
    }

    /// Everything in one text.
    #[must_use]
    pub fn joined(&self) -> String {
        format!("{}{}\n", self.file.as_deref().unwrap_or_default(), self.review)
    }
}

/// The file of a run, on one line. No review: it is today's, and a kept file is for ever.
#[must_use]
pub fn written(scenario: &Scenario, log: &[Entry], conditions: &Conditions, rulebook: Option<RulebookV1>) -> String {
    let mut file = run_v1::of_log(scenario, log, conditions);
    if let Some(rulebook) = rulebook {
        file.rulebook = rulebook;
    }
    format!("{}\n", json(&file))
}

fn json<T: Serialize>(value: &T) -> String {
    serde_json::to_string(value).expect("names, texts and numbers only")
}

/// A run file replayed, in one text.
///
/// # Errors
/// All faults, with where and why.
#[wasm_bindgen]
pub fn again(text: &str) -> Result<String, JsError> {
    Ok(Again::of(text)?.joined())
}

/// How far the seeds of neighbours lie apart.
const APART: u64 = 0x9e37_79b9_7f4a_7c15;

/// The agent and the seed of what has this number: the agents take turns.
fn agent_and_seed(number: u32) -> (Agent, u64) {
    let agent = if number.is_multiple_of(2) { Agent::Sweet } else { Agent::Bitter };
    (agent, u64::from(number).wrapping_mul(APART))
}

/// The so-manieth drawn scenario, as its file.
#[wasm_bindgen]
#[must_use]
pub fn drawn(number: u32) -> String {
    let (agent, seed) = agent_and_seed(number);
    json(&scenario_v1::loose(&unannounced::draw_up(agent, seed)))
}

/// The so-manieth drill, with everything in it; the levels take turns as well.
#[wasm_bindgen]
#[must_use]
pub fn drilled(number: u32) -> String {
    let (agent, seed) = agent_and_seed(number);
    let level = Level::ALL.iter().copied().cycle().nth(usize::try_from(number / 2 % 4).unwrap_or_default());
    format!("{:?}", drill(seed, agent, level.unwrap_or(Level::One)))
}
