//! Putting a question: which figures it has this time, and in which order its options stand.
//!
//! A pure function of the seed and the question: asked again with the same seed, it looks the same.

use super::{Number, Options, Question, Task, unit};
use crate::{
    draw::{self, Purpose},
    rulebook::Agent,
};

/// A question as it is put.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The agent of the test that it speaks of.
    pub agent: Agent,
    /// The seed that is its own: two questions that were asked with one seed do not share their draws.
    pub seed: u64,
    /// The letters of the options in the order in which they are shown; none where a number is asked for.
    pub shown: Vec<char>,
    /// The figures of the text by name; none but where a number is asked for.
    pub figures: Vec<(String, f64)>,
    /// The right number, in the question's unit.
    pub number: Option<f64>,
}

/// Puts `question`, in a test with `agent`, or with the other one where it speaks of that alone.
#[must_use]
pub fn ask(seed: u64, question: &Question, agent: Agent) -> Asked {
    let mut agents = [agent].into_iter().chain(Agent::ALL.iter().copied());
    let agent = agents.find(|agent| question.agents.has(*agent)).unwrap_or(agent);
    let seed = seed ^ of_id(&question.id);
    let (mut shown, mut figures, mut right) = (Vec::new(), Vec::new(), None);
    match &question.task {
        // The lines of a log stay in their order.
        Task::Log(options) => shown.clone_from(&options.letters),
        Task::One(options) | Task::Many(options) | Task::Picture(options, _) => {
            shown = shuffled(seed, &options.letters);
        }
        Task::Order(options) => shown = out_of_order(seed, options),
        Task::Number(number) => {
            figures = drawn(seed, number);
            right = number.right(agent, &figures);
        }
    }
    Asked { agent, seed, shown, figures, number: right }
}

impl Asked {
    /// `text` with its figures in their places, and the answer.
    #[must_use]
    pub fn fill(&self, text: &str) -> String {
        let answer = self.number.map(|value| ("answer", value));
        let figures = self.figures.iter().map(|(name, value)| (name.as_str(), *value));
        figures
            .chain(answer)
            .fold(text.to_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), &unit::shown(value)))
    }
}

impl Number {
    /// How many sets of figures can be drawn.
    #[must_use]
    pub fn combinations(&self) -> usize {
        self.drawn.iter().map(|(_, values)| values.len()).product()
    }

    /// One of them, from 0, by name.
    #[must_use]
    pub fn figures(&self, mut which: usize) -> Vec<(String, f64)> {
        let mut figures = Vec::new();
        for (name, values) in &self.drawn {
            let count = values.len().max(1);
            figures.extend(values.get(which % count).map(|value| (name.clone(), *value)));
            which /= count;
        }
        figures
    }

    /// The right answer for these figures, in the question's unit.
    #[must_use]
    pub fn right(&self, agent: Agent, figures: &[(String, f64)]) -> Option<f64> {
        self.formula.unit().in_units_of(self.formula.value(agent, figures)?, self.unit)
    }
}

/// One of all that can be drawn together.
fn drawn(seed: u64, number: &Number) -> Vec<(String, f64)> {
    let below = u32::try_from(number.combinations()).unwrap_or(u32::MAX);
    let which = draw::number(seed, Purpose::QuestionFigure, 0, below);
    number.figures(usize::try_from(which).unwrap_or_default())
}

/// Every order as likely as every other.
fn shuffled(seed: u64, letters: &[char]) -> Vec<char> {
    let mut letters = letters.to_vec();
    for (index, last) in (0..).zip((1..letters.len()).rev()) {
        let below = u32::try_from(last + 1).unwrap_or(1);
        let other = draw::number(seed, Purpose::QuestionOrder, index, below);
        letters.swap(last, usize::try_from(other).unwrap_or(last));
    }
    letters
}

/// Never the right order itself, or there would be nothing to do.
fn out_of_order(seed: u64, options: &Options) -> Vec<char> {
    let mut letters = shuffled(seed, &options.letters);
    if letters == options.right {
        letters.reverse();
    }
    letters
}

/// FNV-1a of an id.
pub(crate) fn of_id(id: &str) -> u64 {
    id.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}
