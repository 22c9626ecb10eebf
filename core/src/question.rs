//! The question bank: what is asked, what is right, and on what that rests.
//!
//! Truth stands once, in a file a skill; texts stand a language and a skill, and are kept apart. Which question comes next
//! is [`choose`]'s, how it is put [`ask`]'s, and what an answer is worth [`mark`]'s. When something is to come back is not
//! reckoned here: a past answer brings that with it.
//!
//! ```
//! use bittersweet_core::{question::{ask, choose, mark, read}, rulebook::Agent, source::Skill};
//!
//! let truth = r#"{"question": [{"id": "late-taste", "revision": 1, "kind": "one", "agents": "both", "rule": "watch.taste",
//!     "now": true, "difficulty": 40, "options": ["a", "b", "c"], "right": ["b"]}]}"#;
//! let bank = read::questions(Some(Skill::Watching), truth).whole;
//! let (question, why) = choose::next(7, &bank, &[], 0).expect("there is one");
//! let asked = ask::ask(7, question, Agent::Sweet);
//! let marked = mark::mark(question, &asked, &mark::Answer::Letters(vec!['b']));
//! assert_eq!((why, marked.credit.is_whole()), (choose::Why::New, true));
//! ```

pub mod ask;
pub mod choose;
pub mod formula;
pub mod mark;
pub mod picture;
pub mod read;
pub mod unit;

use crate::{
    coded::coded,
    rulebook::{Agent, RuleId, Rulebook},
    source::{Basis, Reading, Skill},
};
use formula::Formula;
use picture::Picture;
use unit::Unit;

coded! {
    /// How a question is answered, as files say it.
    Kind {
        /// One of several.
        One = "one",
        /// Several of many.
        Many = "many",
        /// In the right order.
        Order = "order",
        /// With a number and a unit.
        Number = "number",
        /// By finding the fault in a log or a picture.
        Find = "find",
    }
}

coded! {
    /// Of which agent's test a question speaks.
    Agents {
        /// Of either.
        Both = "both",
        /// Of the sweet one's alone.
        Sweet = "sweet",
        /// Of the bitter one's alone.
        Bitter = "bitter",
    }
}

impl Agents {
    /// Whether `agent` is meant.
    #[must_use]
    pub fn has(self, agent: Agent) -> bool {
        self == Self::Both || self.code() == agent.code()
    }
}

/// On what the right answer rests.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Grounds {
    /// A rule of the rulebook, with its source, basis and reading.
    Rule(RuleId),
    /// Something else.
    Other {
        /// The paragraph, letter, study or practice.
        source: String,
        /// On what it rests.
        basis: Basis,
        /// How it reached us.
        reading: Reading,
    },
}

/// A source, with how much it carries.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cited<'a> {
    /// The paragraph, letter, study or practice.
    pub source: &'a str,
    /// On what it rests.
    pub basis: Basis,
    /// How it reached us.
    pub reading: Reading,
}

/// What there is to choose from: letters, 3 to 6 of them, in the order in which they were written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Options {
    /// All of them.
    pub letters: Vec<char>,
    /// The right ones; for an order all of them, from the first to the last.
    pub right: Vec<char>,
}

/// A question that is answered with a number.
#[derive(Clone, Debug, PartialEq)]
pub struct Number {
    /// What is to be reckoned.
    pub formula: Formula,
    /// The unit of the right answer.
    pub unit: Unit,
    /// How far off it may be, in per cent of the right answer.
    pub tolerance: u8,
    /// What each figure of the text may be, by its name.
    pub drawn: Vec<(String, Vec<f64>)>,
}

/// What is to be done.
#[derive(Clone, Debug, PartialEq)]
pub enum Task {
    /// Choose the one that is right.
    One(Options),
    /// Choose those that are.
    Many(Options),
    /// Put them in order.
    Order(Options),
    /// Find the line of a log where it went wrong; the options are its lines.
    Log(Options),
    /// Find what is wrong in a picture.
    Picture(Options, Picture),
    /// Reckon.
    Number(Number),
}

impl Task {
    /// What there is to choose from; `None` where a number is asked for.
    #[must_use]
    pub const fn options(&self) -> Option<&Options> {
        match self {
            Self::One(options)
            | Self::Many(options)
            | Self::Order(options)
            | Self::Log(options)
            | Self::Picture(options, _) => Some(options),
            Self::Number(_) => None,
        }
    }

    /// How it is answered.
    #[must_use]
    pub const fn kind(&self) -> Kind {
        match self {
            Self::One(_) => Kind::One,
            Self::Many(_) => Kind::Many,
            Self::Order(_) => Kind::Order,
            Self::Log(_) | Self::Picture(..) => Kind::Find,
            Self::Number(_) => Kind::Number,
        }
    }
}

/// A question without its texts. One that exists is whole: its right options are among its options, its figures have an
/// answer, its picture can be made.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Its name for ever.
    pub id: String,
    /// Counts up when what it asks changes.
    pub revision: u32,
    /// The skill it practises.
    pub skill: Skill,
    /// Of which agent's test it speaks.
    pub agents: Agents,
    /// On what the right answer rests.
    pub grounds: Grounds,
    /// Whether it asks what to do now.
    pub now: bool,
    /// How many new conductors in a hundred are expected to get it wrong.
    pub difficulty: u8,
    /// What is to be done.
    pub task: Task,
}

impl Question {
    /// Where the right answer comes from, in a test with `agent`.
    #[must_use]
    pub fn cited(&self, agent: Agent) -> Option<Cited<'_>> {
        match &self.grounds {
            Grounds::Other { source, basis, reading } => Some(Cited { source, basis: *basis, reading: *reading }),
            Grounds::Rule(id) => {
                let other = Agent::ALL.iter().copied();
                let rule = [agent].into_iter().chain(other).find_map(|agent| Rulebook::us(agent).rule(*id))?;
                Some(Cited { source: rule.source, basis: rule.basis, reading: rule.reading })
            }
        }
    }
}

/// An option in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OptionTexts {
    /// Its letter.
    pub letter: char,
    /// What it says.
    pub text: String,
    /// Why it is right, or wrong.
    pub because: String,
}

/// A question in the words of one language. Figures stand in them as `{name}`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Texts {
    /// The question's id.
    pub id: String,
    /// The situation and the question.
    pub ask: String,
    /// Why the right answer is right.
    pub because: String,
    /// The options, in the order in which they were written; none where a number is asked for.
    pub options: Vec<OptionTexts>,
}

impl Texts {
    /// The option with this letter.
    #[must_use]
    pub fn option(&self, letter: char) -> Option<&OptionTexts> {
        self.options.iter().find(|option| option.letter == letter)
    }
}
