//! The timeline of a run: one attempt, or all of them, beside the book; as a drawing and as a table, both from the same
//! marks.
//!
//! Places along time are shares of the whole width, so that the drawing is as wide as the screen and its letters stay
//! as large as all others.

mod lanes;
mod table;

use crate::{parts::sheet::remark, words::Words};
use bittersweet_core::{
    act::Act,
    log::{Entry, What},
    ordered::order,
    review::Review,
    run::Run,
    scenario::Scenario,
    sign::Sign,
    state::{About, State},
    timeline::{self, Level, Stretch},
    units::Ms,
};
pub(crate) use lanes::{Lanes, place};
use std::rc::Rc;
pub(crate) use table::Table;

/// How finely levels are drawn.
const EVERY: Ms = Ms::secs(2);

/// A finding at a moment: its number in the list, and what happened.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Remark {
    /// When.
    pub(crate) at: Ms,
    /// Its number in the list of findings, from 1.
    pub(crate) number: usize,
    /// What happened then.
    pub(crate) says: yew::AttrValue,
}

/// What is shown of one attempt.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Part {
    /// The attempt.
    pub(crate) stretch: Stretch,
    /// The model's levels in it; none where the run cannot be replayed.
    pub(crate) levels: Vec<Level>,
    /// The level in the hood by the book.
    pub(crate) book: Vec<(Ms, f64)>,
}

/// Everything that a timeline shows.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Timeline {
    /// When the run ended.
    pub(crate) end: Ms,
    /// Its attempts.
    pub(crate) parts: Vec<Part>,
    /// What was shown in the whole run.
    pub(crate) signs: Vec<(Ms, Sign)>,
    /// What was done in the whole run, squeezes and waits apart.
    pub(crate) acts: Vec<(Ms, Act)>,
    /// The findings.
    pub(crate) remarks: Vec<Remark>,
}

/// A window onto a timeline.
#[derive(Clone, Debug)]
pub(crate) struct Window {
    /// All of it.
    pub(crate) timeline: Rc<Timeline>,
    /// The attempt looked at; `None` for the whole run.
    pub(crate) part: Option<usize>,
}

impl Timeline {
    /// The timeline of a run: `run` is there where it can be replayed.
    pub(crate) fn of(words: &Words, scenario: &Scenario, log: &[Entry], run: Option<&Run>, review: &Review) -> Self {
        let state = State::of(scenario.agent, log);
        let parts = timeline::of(scenario, &state)
            .into_iter()
            .map(|stretch| Part {
                levels: run.map(|run| timeline::levels(run, &stretch, EVERY)).unwrap_or_default(),
                book: run.map(|_| timeline::level_by_the_book(scenario, &stretch, EVERY)).unwrap_or_default(),
                stretch,
            })
            .collect();
        let mut remarks = Vec::new();
        for (finding, number) in review.findings.iter().zip(1..) {
            let remark = |at: &Ms| Remark { at: *at, number, says: remark(words, scenario, &state, finding, *at) };
            remarks.extend(finding.times.iter().map(remark));
        }
        order(&mut remarks, |remark| remark.at.0.into());
        let (mut signs, mut acts) = (Vec::new(), Vec::new());
        for entry in log {
            match entry.what {
                What::Act(Act::Squeeze | Act::Wait(_)) => {}
                What::Act(act) => acts.push((entry.at, act)),
                What::Sign(sign) => signs.push((entry.at, sign)),
            }
        }
        Self { end: state.now, parts, signs, acts, remarks }
    }

    /// The attempt that is looked at first: the last fit test or, without one, the last screening.
    pub(crate) fn chief(&self) -> Option<usize> {
        let last =
            |is_test: bool| self.parts.iter().rposition(|part| matches!(part.stretch.about, About::Test(_)) == is_test);
        last(true).or_else(|| last(false))
    }

    /// The attempt in which a moment lies.
    pub(crate) fn part_at(&self, at: Ms) -> Option<usize> {
        self.parts.iter().position(|part| at >= part.stretch.from && at <= part.stretch.to)
    }
}

impl PartialEq for Window {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.timeline, &other.timeline) && self.part == other.part
    }
}

impl Window {
    /// The attempt looked at.
    pub(crate) fn part(&self) -> Option<&Part> {
        self.part.and_then(|part| self.timeline.parts.get(part))
    }

    /// From when to when it reaches.
    pub(crate) fn span(&self) -> (Ms, Ms) {
        self.part().map_or((Ms::ZERO, self.timeline.end), |part| (part.stretch.from, part.stretch.to))
    }

    /// What lies within it, of things with a time.
    pub(crate) fn within<'a, T: Copy>(&self, all: &'a [(Ms, T)]) -> impl Iterator<Item = (Ms, T)> + use<'a, T> {
        let (from, to) = self.span();
        all.iter().copied().filter(move |(at, _)| *at >= from && *at <= to)
    }

    /// The findings within it.
    pub(crate) fn remarks(&self) -> impl Iterator<Item = &Remark> {
        let (from, to) = self.span();
        self.timeline.remarks.iter().filter(move |remark| remark.at >= from && remark.at <= to)
    }
}
