//! Which question teaches most next.
//!
//! A pure function of what there is to ask, what was answered, and today. When an answer is to be refreshed is not reckoned
//! here: each past answer brings the day with it, or none.

use super::{Question, mark::Credit};
use crate::{
    coded::coded,
    draw::{self, Purpose},
    source::Skill,
};

/// A day, counted from any fixed one.
pub type Day = u32;

/// An answer that was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Past {
    /// To which question.
    pub id: String,
    /// Its skill then.
    pub skill: Skill,
    /// What it was worth.
    pub credit: Credit,
    /// When it is to be asked again; `None` where nobody has said.
    pub due: Option<Day>,
}

coded! {
    /// Why a question is asked now.
    Why {
        /// It is to be refreshed.
        Due = "due",
        /// It went wrong.
        Retry = "retry",
        /// It was never asked, and is of the weakest skill.
        New = "new",
        /// Nothing else is left: it was right, and is not due.
        Again = "again",
    }
}

/// So many other questions come before one is asked again, where there are as many to ask.
pub const REST: usize = 3;

/// How many of the latest answers of a skill say how strong it is.
pub const LATEST: usize = 10;

/// So many questions of one skill may come in a row, where there are others.
pub const IN_A_ROW: usize = 2;

/// How many of `bank` are due, went wrong, or were never asked: what there is to do today.
#[must_use]
pub fn open(bank: &[Question], history: &[Past], today: Day) -> usize {
    bank.iter().filter(|question| Candidate::new(question, history).why(today) != Why::Again).count()
}

/// What to ask next, of `bank`, after `history` (the latest answer last); `None` where the bank is empty. Never what was
/// asked last, unless it is all there is. While anything is [`open`], what is asked again is only there to let that rest.
#[must_use]
pub fn next<'a>(seed: u64, bank: &'a [Question], history: &[Past], today: Day) -> Option<(&'a Question, Why)> {
    let candidates: Vec<Candidate<'a>> = bank.iter().map(|question| Candidate::new(question, history)).collect();
    let rested = |rest: usize| candidates.iter().filter(move |one| one.since.is_none_or(|since| since >= rest));
    let is_open = |one: &&Candidate<'a>| one.why(today) != Why::Again;
    let mut rows: Vec<&Candidate<'a>> = rested(REST).filter(is_open).collect();
    if rows.is_empty() {
        // Rather a short rest than something that need not be asked.
        rows = rested(1).filter(is_open).collect();
    }
    for rest in [REST, 1, 0] {
        if rows.is_empty() {
            rows = rested(rest).collect();
        }
    }
    let mut why = rows.iter().map(|one| one.why(today)).min()?;
    // After a second go something new, or a few hard ones would come round for ever.
    if why == Why::Retry && was_second_go(history) && rows.iter().any(|one| one.why(today) == Why::New) {
        why = Why::New;
    }
    rows.retain(|one| one.why(today) == why);
    if let Some(tired) = tired(history)
        && rows.iter().any(|one| one.question.skill != tired)
    {
        rows.retain(|one| one.question.skill != tired);
    }
    let salt = u32::try_from(history.len()).unwrap_or(u32::MAX);
    let first = rows.into_iter().enumerate().min_by_key(|(place, one)| {
        let index = salt.wrapping_mul(1_024).wrapping_add(u32::try_from(*place).unwrap_or_default());
        (one.rank(why, history), draw::number(seed, Purpose::QuestionChoice, index, u32::MAX))
    });
    first.map(|(_, one)| (one.question, why))
}

/// Whether what was asked last had been asked before.
#[must_use]
pub fn was_second_go(history: &[Past]) -> bool {
    history.split_last().is_some_and(|(last, before)| before.iter().any(|past| past.id == last.id))
}

/// How well a skill goes, in thousandths: the credit of its latest answers, with one right and one wrong answer supposed before
/// them, so that a skill never asked about stands in the middle.
#[must_use]
pub fn strength(skill: Skill, history: &[Past]) -> u32 {
    let latest = history.iter().rev().filter(|past| past.skill == skill).take(LATEST);
    let (sum, count) = latest.fold((1_000, 2), |(sum, count), past| (sum + thousandths(past.credit), count + 1));
    sum / count
}

fn thousandths(credit: Credit) -> u32 {
    u32::from(credit.got.min(credit.of)) * 1_000 / u32::from(credit.of.max(1))
}

/// The skill of the latest answers, where they were all of one.
fn tired(history: &[Past]) -> Option<Skill> {
    let mut latest = history.iter().rev().take(IN_A_ROW).map(|past| past.skill);
    let skill = latest.next()?;
    (history.len() >= IN_A_ROW && latest.all(|other| other == skill)).then_some(skill)
}

/// A question with what is known of it.
struct Candidate<'a> {
    question: &'a Question,
    /// The latest answer to it.
    last: Option<Past>,
    /// How many answers to others were given since.
    since: Option<usize>,
}

impl<'a> Candidate<'a> {
    fn new(question: &'a Question, history: &[Past]) -> Self {
        let since = history.iter().rev().position(|past| past.id == question.id);
        let last = since.and_then(|since| history.iter().rev().nth(since)).cloned();
        Self { question, last, since }
    }

    fn why(&self, today: Day) -> Why {
        match &self.last {
            None => Why::New,
            Some(past) if past.due.is_some_and(|due| due <= today) => Why::Due,
            Some(past) if !past.credit.is_whole() => Why::Retry,
            Some(_) => Why::Again,
        }
    }

    /// The smaller, the sooner.
    fn rank(&self, why: Why, history: &[Past]) -> (u32, u32) {
        let strength = strength(self.question.skill, history);
        match why {
            Why::Due => (self.last.as_ref().and_then(|past| past.due).unwrap_or_default(), strength),
            Why::Retry | Why::Again => {
                let since = self.since.and_then(|since| u32::try_from(since).ok()).unwrap_or(u32::MAX);
                (u32::MAX - since, strength)
            }
            // Plain ones first where a skill is weak, hard ones where it is strong.
            Why::New => (strength, (u32::from(self.question.difficulty) * 10).abs_diff(strength)),
        }
    }
}
