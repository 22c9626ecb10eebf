//! What is measured: a whole rehearsal, simulated and judged, and beside it the bare model as one plain loop.
//!
//! It reads no clock and prints nothing: whoever calls it does the timing, natively or in WebAssembly.

mod costly;
mod model;
mod rehearsal;

pub use crate::{
    model::{Impression, Model},
    rehearsal::{Counts, Rehearsal},
};
use bittersweet_core::cost::{Cost, Figures};
use wasm_bindgen::prelude::wasm_bindgen;

/// Everything that is timed, made ready.
#[wasm_bindgen]
#[derive(Debug)]
pub struct Bench {
    rehearsal: Rehearsal,
    model: Model,
    cost: Cost,
}

/// Something of every figure, so that none can be left out.
fn digest(figures: Figures) -> f64 {
    figures.poor_missed.ran.high + figures.poor_missed.book.high + figures.good_failed.ran.high
}

#[wasm_bindgen]
impl Bench {
    /// The kept run, and the model of it.
    #[expect(clippy::new_without_default, reason = "a script can call a constructor, and no default")]
    #[wasm_bindgen(constructor)]
    pub fn new() -> Self {
        let rehearsal = Rehearsal::kept();
        let model = Model::of(&rehearsal);
        let cost = costly::costly(&rehearsal);
        Self { rehearsal, model, cost }
    }

    /// Simulates and judges the rehearsal so many times, and counts everything that came of it.
    pub fn rehearse(&self, times: u32) -> u32 {
        (0..times).map(|_| self.rehearsal.counts().total()).sum()
    }

    /// Goes through the plain loop so many times, and counts everything in it.
    pub fn plain(&self, times: u32) -> u32 {
        (0..times).map(|_| self.model.run().total()).sum()
    }

    /// Works out the pair of figures of a test in which much was off.
    pub fn pair(&self) -> f64 {
        digest(self.cost.figures())
    }

    /// Works out the share of each of its departures.
    pub fn shares(&self) -> f64 {
        (0..self.departures()).filter_map(|place| self.cost.if_put_right(place)).map(digest).sum()
    }

    /// How many departures it has.
    pub fn departures(&self) -> usize {
        self.cost.departures.len()
    }

    /// The model as JSON, for whoever computes it by other means.
    pub fn model(&self) -> String {
        serde_json::to_string(&self.model).expect("numbers and names only")
    }

    /// What comes of the plain loop, as JSON.
    pub fn impression(&self) -> String {
        serde_json::to_string(&self.model.run()).expect("numbers only")
    }

    /// What comes of the rehearsal, as JSON.
    pub fn counts(&self) -> String {
        serde_json::to_string(&self.rehearsal.counts()).expect("numbers only")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_plain_loop_is_the_model_of_the_same_rehearsal() {
        let bench = Bench::new();
        let (counts, impression) = (bench.rehearsal.counts(), bench.model.run());
        assert_eq!(impression.squeezes, counts.squeezes);
        assert_eq!(impression.signals, counts.signals);
        assert!(impression.breaths > 140, "a test of seven minutes has a breath every three seconds");
        assert!(impression.strongest > 0.0);
    }

    #[test]
    fn the_costly_test_has_many_departures() {
        let bench = Bench::new();
        assert!(bench.departures() >= 7, "{:?}", bench.cost.departures);
        assert!(bench.pair() > 0.0 && bench.shares() > bench.pair());
    }

    #[test]
    fn the_rehearsal_is_a_whole_one() {
        let counts = Rehearsal::kept().counts();
        assert!(counts.squeezes > 75, "a screening and a test of the least threshold");
        assert!(counts.marks > 60);
    }
}
