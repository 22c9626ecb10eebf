//! One rehearsal as the page would see it: what the conductor did and when, from the first act to the review.

use bittersweet_core::{
    act::Act,
    log::What,
    review,
    run::Run,
    scenario::Scenario,
    sign::{Seen, Sign},
    units::Ms,
    wire::run_v1,
};
use serde::Serialize;
use std::rc::Rc;

/// A whole run by the book, from clearance to record, as it is kept for ever.
const KEPT: &str = include_str!("../golden/grinding-shop.json");

/// A wearer, and what the conductor does when.
#[derive(Debug)]
pub struct Rehearsal {
    pub(crate) scenario: Rc<Scenario>,
    pub(crate) acts: Vec<(Ms, Act)>,
}

/// What came of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Counts {
    /// Presses of the bulb.
    pub squeezes: u32,
    /// Times the wearer signalled a taste unasked.
    pub signals: u32,
    /// Entries of the log.
    pub entries: u32,
    /// Rules that came up.
    pub marks: u32,
}

impl Counts {
    /// All of them together, so that nothing of the work can be left out.
    pub const fn total(self) -> u32 {
        self.squeezes + self.signals + self.entries + self.marks
    }
}

impl Rehearsal {
    /// The kept one.
    pub fn kept() -> Self {
        let opened = run_v1::parse(KEPT).expect("a kept run is whole");
        let acts = opened.log.iter().filter_map(|entry| match entry.what {
            What::Act(act) => Some((entry.at, act)),
            What::Sign(_) => None,
        });
        Self { acts: acts.collect(), scenario: opened.scenario }
    }

    /// Simulates and judges it.
    pub fn counts(&self) -> Counts {
        let run = Run::replay(Rc::clone(&self.scenario), &self.acts).expect("every act could be when it was done");
        let review = review::of_run(&run);
        let count = |what: What| number(run.log().iter().filter(|entry| entry.what == what).count());
        Counts {
            squeezes: count(What::Act(Act::Squeeze)),
            signals: count(What::Sign(Sign::Seen(Seen::SignalsTaste))),
            entries: number(run.log().len()),
            marks: number(review.marks.len()),
        }
    }
}

fn number(count: usize) -> u32 {
    u32::try_from(count).expect("a log has an end")
}
