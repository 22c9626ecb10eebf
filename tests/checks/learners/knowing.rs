//! Learners who answer questions until every skill counts as known, in three orders.

use super::{Chance, median};
use bittersweet_core::{
    knowledge::{Estimate, Guess},
    next::weakest_known,
    question::{
        Question, Task,
        choose::{self, Past},
        mark::Credit,
        read,
    },
    questions::TRUTH,
    rulebook::Agent,
    source::Skill,
};
use std::fmt::Write as _;

const LEARNERS: u64 = 100;

const MOST_QUESTIONS: u32 = 3_000;

const SKILLS: usize = Skill::ALL.len();

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Sort {
    AsReckoned,
    Forgetting,
    Uneven,
    Linked,
    Gradual,
}

const SORTS: [(Sort, &str); 5] = [
    (Sort::AsReckoned, "as reckoned"),
    (Sort::Forgetting, "forgetting"),
    (Sort::Uneven, "uneven"),
    (Sort::Linked, "linked"),
    (Sort::Gradual, "gradual"),
];

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Random,
    Chosen,
    WeakestFirst,
}

/// The questions of the bank that speak of an agent's test, by skill.
fn bank() -> Vec<Vec<Question>> {
    let of_skill = |skill: &Skill| {
        let (_, truth) = TRUTH.iter().find(|(name, _)| *name == skill.code()).expect("a file for each skill");
        let mut questions = read::questions(Some(*skill), truth).whole;
        questions.retain(|question| question.agents.has(Agent::Sweet));
        questions
    };
    Skill::ALL.iter().map(of_skill).collect()
}

/// Somebody. How much of each skill they know: nought or one, in between where it is gradual.
struct Learner {
    sort: Sort,
    knows: [f64; SKILLS],
    learns: [f64; SKILLS],
    slips: f64,
    /// How many times as good as by chance they guess.
    guesses: f64,
    forgets: f64,
}

impl Learner {
    fn drawn(sort: Sort, chance: &mut Chance) -> Self {
        let uneven = sort == Sort::Uneven;
        let mut knows = [0.0; SKILLS];
        for known in &mut knows {
            let part = chance.between(0.0, 0.6);
            *known = if sort == Sort::Gradual { part } else { f64::from(u8::from(chance.happens(part))) };
        }
        let mut learns = [0.0; SKILLS];
        learns.iter_mut().for_each(|learns| *learns = chance.between(0.05, 0.35));
        Self {
            sort,
            knows,
            learns,
            slips: if uneven { chance.between(0.02, 0.25) } else { chance.between(0.03, 0.12) },
            guesses: if uneven { chance.between(1.0, 2.0) } else { 1.0 },
            forgets: if sort == Sort::Forgetting { chance.between(0.0, 0.01) } else { 0.0 },
        }
    }

    /// Answers, and learns from what is said after it.
    fn answers(&mut self, question: &Question, chance: &mut Chance) -> bool {
        let place = question.skill as usize;
        let guess = (by_chance(&question.task) * self.guesses).min(0.9);
        let right = chance.happens(self.knows[place] * (1.0 - self.slips) + (1.0 - self.knows[place]) * guess);
        if self.sort == Sort::Gradual {
            self.knows[place] += (1.0 - self.knows[place]) * self.learns[place];
        } else if chance.happens(self.learns[place]) {
            self.knows[place] = 1.0;
            if self.sort == Sort::Linked && chance.happens(0.4) {
                self.knows[(place + 1) % SKILLS] = 1.0;
            }
        }
        for (other, known) in self.knows.iter_mut().enumerate() {
            if other != place && chance.happens(self.forgets) {
                *known = 0.0;
            }
        }
        right
    }
}

/// The chance to be right without knowing, worked out here once more.
fn by_chance(task: &Task) -> f64 {
    let letters = task.options().map_or(0, |options| options.letters.len());
    match task {
        Task::One(_) | Task::Log(_) | Task::Picture(..) => 1.0 / letters as f64,
        Task::Many(_) => 1.0 / ((1_u32 << letters) - 1) as f64,
        Task::Order(_) => 1.0 / (1..=letters).product::<usize>() as f64,
        Task::Number(_) => 0.01,
    }
}

/// How many questions somebody is asked until every skill counts as known, and how much of them they truly know then.
fn questions_needed(sort: Sort, number: u64, order: Order, bank: &[Vec<Question>]) -> (u32, f64) {
    // The same person, whatever the order; what happens to them is their own each time.
    let mut learner = Learner::drawn(sort, &mut Chance::of(number, 100 + sort as u64));
    let mut chance = Chance::of(number, 200 + sort as u64);
    let all: Vec<Question> = bank.iter().flatten().cloned().collect();
    let mut estimates = [Estimate::FIRST; SKILLS];
    let mut history: Vec<Past> = Vec::new();
    let mut asked = 0;
    while let Some(weakest) = weakest_known(Skill::ALL.iter().copied().zip(estimates)) {
        if asked == MOST_QUESTIONS {
            break;
        }
        let question = match order {
            Order::Random => &all[chance.below(all.len())],
            Order::Chosen => choose::next(number, &all, &history, 0).expect("a question").0,
            Order::WeakestFirst => choose::next(number, &bank[weakest as usize], &history, 0).expect("a question").0,
        };
        let right = learner.answers(question, &mut chance);
        let estimate = &mut estimates[question.skill as usize];
        *estimate = estimate.after(right, Guess::of(&question.task));
        let credit = if right { Credit::ALL } else { Credit::NONE };
        if order != Order::Random {
            history.push(Past { id: question.id.clone(), skill: question.skill, credit, due: None });
        }
        asked += 1;
    }
    (asked, learner.knows.iter().sum::<f64>() / SKILLS as f64)
}

/// The median number of questions in one order, and how much is truly known then.
fn needed(sort: Sort, order: Order, bank: &[Vec<Question>]) -> (u32, f64) {
    let each: Vec<(u32, f64)> = (0..LEARNERS).map(|number| questions_needed(sort, number, order, bank)).collect();
    let known = each.iter().map(|(_, known)| known).sum::<f64>() / each.len() as f64;
    (median(each.iter().map(|(asked, _)| *asked).collect()), known)
}

/// What each sort of learner needs.
pub(super) struct Needs {
    name: &'static str,
    random: u32,
    chosen: u32,
    weakest_first: u32,
    known: f64,
}

impl Needs {
    pub(super) fn all() -> Vec<Self> {
        let bank = bank();
        let of = |(sort, name)| {
            let [(random, _), (chosen, _), (weakest_first, known)] =
                [Order::Random, Order::Chosen, Order::WeakestFirst].map(|order| needed(sort, order, &bank));
            Self { name, random, chosen, weakest_first, known }
        };
        SORTS.into_iter().map(of).collect()
    }

    /// Of 100 questions in random order, so many are needed with the weakest skill first.
    pub(super) fn part(&self) -> f64 {
        100.0 * f64::from(self.weakest_first) / f64::from(self.random)
    }
}

pub(super) fn table(needs: &[Needs]) -> String {
    let mut table =
        "| learners | random order | as questions alone are chosen | weakest skill first | of 100 in random order | \
         truly known then |\n|---|---|---|---|---|---|\n"
            .to_owned();
    for need in needs {
        let Needs { name, random, chosen, weakest_first, known } = need;
        let _ =
            writeln!(table, "| {name} | {random} | {chosen} | {weakest_first} | **{:.0}** | {known:.2} |", need.part());
    }
    table
}
