//! What an answer is worth, and which parts of it were right.
//!
//! Credit is given in parts where part of an answer shows part of the skill, and [`How`] says by which reckoning:
//! guessing everything, or nothing, is worth nothing.

use super::{Number, Options, Question, Task, ask::Asked, unit::Unit};
use crate::coded::coded;

coded! {
    /// How credit is reckoned.
    How {
        /// All or nothing.
        Whole = "whole",
        /// Right marks minus wrong marks, of the right ones; not below nought.
        Marks = "marks",
        /// Of all pairs, those in the right order minus those in the wrong order; not below nought (Kendall's tau).
        Pairs = "pairs",
        /// Within the tolerance all; half where only the unit or the point slipped.
        Number = "number",
    }
}

coded! {
    /// A slip by which a right reckoning came to a wrong number.
    Slip {
        /// The figure is right in another unit.
        Unit = "unit",
        /// It is ten times too much or too little.
        Ten = "ten",
    }
}

coded! {
    /// What became of an option.
    Fate {
        /// Right, and marked.
        Hit = "hit",
        /// Right, and not marked.
        Missed = "missed",
        /// Wrong, and marked.
        Wrong = "wrong",
        /// Wrong, and not marked.
        Left = "left",
    }
}

/// An answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// The letters that were marked; for an order all of them, from the first to the last.
    Letters(Vec<char>),
    /// A number with its unit.
    Number(f64, Unit),
}

/// So many parts of so many.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Credit {
    /// Parts got.
    pub got: u8,
    /// Parts there were; at least one.
    pub of: u8,
}

impl Credit {
    /// Nothing.
    pub const NONE: Self = Self { got: 0, of: 1 };

    /// All.
    pub const ALL: Self = Self { got: 1, of: 1 };

    /// Whether nothing is missing.
    #[must_use]
    pub const fn is_whole(self) -> bool {
        self.got >= self.of
    }

    /// As a share from 0 to 1.
    #[must_use]
    pub fn share(self) -> f64 {
        f64::from(self.got.min(self.of)) / f64::from(self.of.max(1))
    }

    /// `gained` minus `lost`, of `of`.
    fn net(gained: usize, lost: usize, of: usize) -> Self {
        let part = |count: usize| u8::try_from(count).unwrap_or(u8::MAX);
        Self { got: part(gained.saturating_sub(lost).min(of)), of: part(of.max(1)) }
    }
}

/// An answer that was marked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// What it is worth.
    pub credit: Credit,
    /// How that was reckoned.
    pub how: How,
    /// What became of each option, in the order in which they were shown. In an order, what stands in its right place is a
    /// hit and the rest is wrong.
    pub options: Vec<(char, Fate)>,
    /// What made a number wrong, where that can be told.
    pub slip: Option<Slip>,
}

/// Marks an answer to a question as it was put. An answer of the wrong kind is worth nothing.
#[must_use]
pub fn mark(question: &Question, asked: &Asked, answer: &Answer) -> Marked {
    let letters: &[char] = match answer {
        Answer::Letters(letters) => letters,
        Answer::Number(..) => &[],
    };
    match &question.task {
        Task::One(options) => marks(options, asked, letters, How::Whole),
        Task::Many(options) | Task::Log(options) | Task::Picture(options, _) => {
            marks(options, asked, letters, How::Marks)
        }
        Task::Order(options) => order(options, asked, letters),
        Task::Number(number) => self::number(number, asked, answer),
    }
}

fn marks(options: &Options, asked: &Asked, marked: &[char], how: How) -> Marked {
    let fate = |letter: &char| match (options.right.contains(letter), marked.contains(letter)) {
        (true, true) => Fate::Hit,
        (true, false) => Fate::Missed,
        (false, true) => Fate::Wrong,
        (false, false) => Fate::Left,
    };
    let fates: Vec<(char, Fate)> = asked.shown.iter().map(|letter| (*letter, fate(letter))).collect();
    let count = |wanted: Fate| fates.iter().filter(|(_, fate)| *fate == wanted).count();
    let credit = Credit::net(count(Fate::Hit), count(Fate::Wrong), options.right.len());
    Marked { credit, how, options: fates, slip: None }
}

fn order(options: &Options, asked: &Asked, given: &[char]) -> Marked {
    let place = |letter: &char| given.iter().position(|other| other == letter);
    let (mut inside, mut outside, mut pairs) = (0, 0, 0);
    for (number, first) in options.right.iter().enumerate() {
        for second in options.right.iter().skip(number + 1) {
            pairs += 1;
            match (place(first), place(second)) {
                (Some(first), Some(second)) if first < second => inside += 1,
                _ => outside += 1,
            }
        }
    }
    let fate = |letter: &char| {
        let right = options.right.iter().position(|other| other == letter);
        (*letter, if place(letter) == right { Fate::Hit } else { Fate::Wrong })
    };
    let fates = asked.shown.iter().map(fate).collect();
    Marked { credit: Credit::net(inside, outside, pairs), how: How::Pairs, options: fates, slip: None }
}

fn number(number: &Number, asked: &Asked, answer: &Answer) -> Marked {
    let slip = match (answer, asked.number) {
        (Answer::Number(value, unit), Some(right)) => off(number, asked, *value, *unit, right),
        _ => Some(None),
    };
    let credit = match slip {
        None => Credit::ALL,
        Some(Some(_)) => Credit { got: 1, of: 2 },
        Some(None) => Credit::NONE,
    };
    Marked { credit, how: How::Number, options: Vec::new(), slip: slip.flatten() }
}

/// `None` where the answer is right; otherwise what slipped, where that can be told.
fn off(number: &Number, asked: &Asked, value: f64, unit: Unit, right: f64) -> Option<Option<Slip>> {
    let near = |value: f64| libm::fabs(value - right) <= right * (f64::from(number.tolerance) / 100.0 + 1e-9);
    let as_if_in = |unit: Unit| unit.in_units_of(value, number.unit);
    if as_if_in(unit).is_some_and(near) {
        return None;
    }
    // Somebody who writes down a figure of the question, or the like, has not reckoned.
    if asked.figures.iter().any(|(_, figure)| libm::fabs(figure - value) < 1e-9) {
        return Some(None);
    }
    if near(value) || number.unit.alike().filter_map(as_if_in).any(near) {
        return Some(Some(Slip::Unit));
    }
    let ten =
        number.unit.is_measured_out() && as_if_in(unit).is_some_and(|value| near(value * 10.0) || near(value / 10.0));
    Some(ten.then_some(Slip::Ten))
}
