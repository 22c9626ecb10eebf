//! An assessment: what it asks, on terms that are set beforehand, and where a sitting of it stands.
//!
//! Everything asked follows from its number, so the same number asks the same of everybody. Nobody helps, no clock can be
//! stopped, and what it came to is in [`result`].

pub mod result;

use crate::{
    coded::coded,
    draw::{self, Purpose},
    drill::Level,
    ordered,
    question::{Question, ask},
    rulebook::Agent,
    scenario::Scenario,
    source::Skill,
    unannounced,
    units::Ms,
    wire::{answer_v1::AnswerV1, outcome_v1::OutcomeV1, run_v1::Pace},
};

coded! {
    /// How much is asked.
    Length {
        /// Three runs, six drills, twelve questions.
        Short = "short",
        /// Six runs, twelve drills, twenty-four questions.
        Full = "full",
    }
}

impl Length {
    /// How many runs.
    #[must_use]
    pub const fn runs(self) -> u32 {
        match self {
            Self::Short => 3,
            Self::Full => 6,
        }
    }

    /// In how many of them nothing real comes up, at least: a third.
    const fn quiet(self) -> u32 {
        self.runs().div_ceil(3)
    }

    /// How many drills.
    #[must_use]
    pub const fn drills(self) -> u32 {
        self.runs() * 2
    }

    /// How many questions.
    #[must_use]
    pub const fn questions(self) -> u32 {
        self.runs() * 4
    }

    /// How often at most a test may be stopped or called for no reason: once in three runs.
    #[must_use]
    pub const fn most_over_called(self) -> u32 {
        self.runs() / 3
    }
}

coded! {
    /// How long the drills and questions may take, all together.
    Limit {
        /// A minute a question, a minute and a half a drill.
        Usual = "usual",
        /// Ten times that.
        Tenfold = "tenfold",
        /// As long as it takes.
        Off = "off",
    }
}

/// The terms, which are set before it begins and do not change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Terms {
    /// The number from which all of it is drawn.
    pub number: u32,
    /// With which agent.
    pub agent: Agent,
    /// How much is asked.
    pub length: Length,
    /// At which pace the runs are made.
    pub pace: Pace,
    /// How long the rest may take.
    pub limit: Limit,
    /// How many in a hundred drills and questions have to be wholly right.
    pub bar: u8,
}

/// Numbers go up to, not including, this: six figures, to be read out.
pub const NUMBERS: u32 = 1_000_000;

/// The bars there are to choose from.
pub const BARS: [u8; 3] = [70, 80, 90];

impl Terms {
    fn seed(&self) -> u64 {
        u64::from(self.number)
    }

    /// How long the drills and questions may take; `None` where nothing is set.
    #[must_use]
    pub const fn time(&self) -> Option<Ms> {
        let usual = Ms(self.length.questions() * 60_000 + self.length.drills() * 90_000);
        match self.limit {
            Limit::Usual => Some(usual),
            Limit::Tenfold => Some(Ms(usual.0 * 10)),
            Limit::Off => None,
        }
    }

    /// How long all of it will take, by and large: a whole run is about twenty minutes.
    #[must_use]
    pub fn minutes(&self) -> u32 {
        let run = 20 / self.pace.factor().max(1);
        self.length.runs() * run + self.length.questions() / 2 + self.length.drills()
    }

    /// Whether nothing real comes up in each of the runs: in a third of them, drawn.
    fn quiet(&self) -> Vec<bool> {
        let runs = self.length.runs();
        let mut order: Vec<(u32, u32)> = (0..runs)
            .map(|place| (draw::number(self.seed(), Purpose::AssessmentQuiet, place, u32::MAX), place))
            .collect();
        ordered::order(&mut order, |(drawn, _)| (*drawn).into());
        let quiet: Vec<u32> =
            order.into_iter().take(usize::try_from(self.length.quiet()).unwrap_or(1)).map(|(_, place)| place).collect();
        (0..runs).map(|place| quiet.contains(&place)).collect()
    }

    /// The runs. What comes up in one comes up in no other.
    #[must_use]
    pub fn runs(&self) -> Vec<Scenario> {
        let (mut runs, mut known) = (Vec::new(), Vec::new());
        let mut index = 0;
        for quiet in self.quiet() {
            // Half of all seeds are quiet, and there are many kinds: a few draws do. The bound is for the types' sake.
            for _ in 0..1_000 {
                let drawn = draw::number(self.seed(), Purpose::AssessmentRun, index, u32::MAX);
                index += 1;
                let seed = (self.seed() << 32) | u64::from(drawn);
                let comes_up = unannounced::real(seed);
                if comes_up.is_empty() == quiet && !comes_up.iter().any(|kind| known.contains(kind)) {
                    runs.push(unannounced::draw_up(self.agent, seed));
                    known.extend(comes_up);
                    break;
                }
            }
        }
        runs
    }

    /// The drills, by level and seed; every level comes up.
    #[must_use]
    pub fn drills(&self) -> Vec<(Level, u64)> {
        let levels = Level::ALL.iter().copied().cycle();
        let drawn = |place| u64::from(draw::number(self.seed(), Purpose::AssessmentDrill, place, u32::MAX));
        (0..self.length.drills()).zip(levels).map(|(place, level)| (level, drawn(place))).collect()
    }

    /// The questions, of those that can be asked of this agent: the skills in turn, and none twice.
    #[must_use]
    pub fn questions<'a>(&self, bank: impl Iterator<Item = &'a Question>) -> Vec<&'a Question> {
        // Drawn by its id, so that it does not hang on the order in which the bank was fetched.
        let drawn = |question: &Question| {
            draw::number(self.seed() ^ ask::of_id(&question.id), Purpose::AssessmentQuestion, 0, u32::MAX)
        };
        let mut left: Vec<&Question> = bank.filter(|question| question.agents.has(self.agent)).collect();
        ordered::order(&mut left, |question| drawn(question).into());
        let mut chosen = Vec::new();
        let mut skills = Skill::ALL.iter().copied().cycle();
        let wanted = usize::try_from(self.length.questions()).unwrap_or_default().min(left.len());
        while chosen.len() < wanted {
            let of_turn = skills.next().and_then(|skill| left.iter().position(|question| question.skill == skill));
            chosen.extend(of_turn.map(|place| left.remove(place)));
        }
        chosen
    }

    /// What a question is put with, by its place.
    #[must_use]
    pub fn question_seed(&self, place: usize) -> u64 {
        (self.seed() << 8) | u64::try_from(place).unwrap_or_default()
    }
}

/// Milliseconds since 1 January 1970, by the wall clock.
pub type Wall = u64;

/// A sitting lasts for twelve hours at most: it is one.
pub const ONE_SITTING: Wall = 12 * 3_600_000;

/// Where a sitting stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Sitting {
    /// Its id on this device.
    pub id: String,
    /// The terms.
    pub terms: Terms,
    /// When it began.
    pub began: Wall,
    /// On which day, counted from 1 January 1970, where the page was.
    pub day: u32,
    /// Runs that were begun, by id and in order.
    pub begun: Vec<String>,
    /// What became of those that were ended.
    pub outcomes: Vec<OutcomeV1>,
    /// When the first drill was put.
    pub asked_from: Option<Wall>,
    /// Answers: first of the drills, then of the questions, in order.
    pub answers: Vec<AnswerV1>,
    /// Whether it was closed before its end.
    pub closed: bool,
}

/// What comes next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Step {
    /// A run is to be begun, by its place.
    Begin(usize),
    /// A run that was begun goes on.
    GoOn(String),
    /// A drill, by its place.
    Drill(usize),
    /// A question, by its place.
    Question(usize),
    /// Nothing: it is over.
    Over,
}

impl Sitting {
    /// One that begins.
    #[must_use]
    pub const fn begin(id: String, terms: Terms, began: Wall, day: u32) -> Self {
        Self {
            id,
            terms,
            began,
            day,
            begun: Vec::new(),
            outcomes: Vec::new(),
            asked_from: None,
            answers: Vec::new(),
            closed: false,
        }
    }

    /// What comes next, at a moment of the wall clock.
    #[must_use]
    pub fn step(&self, now: Wall) -> Step {
        if self.closed || now.saturating_sub(self.began) > ONE_SITTING {
            return Step::Over;
        }
        let is_ended = |run: &&String| self.outcomes.iter().any(|outcome| outcome.run == **run);
        if let Some(run) = self.begun.iter().find(|run| !is_ended(run)) {
            return Step::GoOn(run.clone());
        }
        let count = |number: u32| usize::try_from(number).unwrap_or(usize::MAX);
        let Terms { length, .. } = self.terms;
        if self.begun.len() < count(length.runs()) {
            return Step::Begin(self.begun.len());
        }
        if self.left(now) == Some(Ms::ZERO) {
            return Step::Over;
        }
        let (drills, answered) = (count(length.drills()), self.answers.len());
        if answered < drills {
            Step::Drill(answered)
        } else if answered < drills + count(length.questions()) {
            Step::Question(answered - drills)
        } else {
            Step::Over
        }
    }

    /// How long the drills and questions may still take; `None` where nothing is set or none was put yet. Time goes on while
    /// the page is closed, and a clock that was set back gives none.
    #[must_use]
    pub fn left(&self, now: Wall) -> Option<Ms> {
        let passed = now.saturating_sub(self.asked_from?);
        Some(self.terms.time()?.since(Ms(u32::try_from(passed).unwrap_or(u32::MAX))))
    }

    /// Takes the outcome of a run of this sitting, once.
    pub fn take(&mut self, outcome: OutcomeV1) {
        let is_ours = outcome.set.as_ref() == Some(&self.id) && self.begun.contains(&outcome.run);
        if is_ours && !self.outcomes.iter().any(|other| other.run == outcome.run) {
            self.outcomes.push(outcome);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{question::mark::Credit, trouble::Kind, wire::answer_v1::Asked};
    use std::collections::BTreeSet;

    fn terms(number: u32, length: Length) -> Terms {
        Terms { number, agent: Agent::Sweet, length, pace: Pace::Real, limit: Limit::Usual, bar: 80 }
    }

    fn answer() -> AnswerV1 {
        AnswerV1 {
            asked: Asked::Drill,
            id: "1-1".to_owned(),
            revision: 1,
            skill: Skill::Result,
            agent: Agent::Sweet,
            credit: Credit { got: 1, of: 1 },
            day: 20_000,
        }
    }

    #[test]
    fn the_same_number_asks_the_same() {
        let (one, other) = (terms(17, Length::Short), terms(18, Length::Short));
        assert_eq!(one.runs(), one.runs());
        assert_eq!(one.drills(), one.drills());
        assert_ne!(one.runs(), other.runs());
        assert_ne!(one.drills(), other.drills());
    }

    #[test]
    fn in_a_third_of_the_runs_nothing_real_comes_up_and_in_the_rest_something_does() {
        for number in 0..60 {
            for (length, quiet) in [(Length::Short, 1), (Length::Full, 2)] {
                let runs = terms(number, length).runs();
                assert_eq!(u32::try_from(runs.len()).unwrap(), length.runs());
                let is_quiet = |run: &&Scenario| unannounced::real(run.seed).is_empty();
                assert_eq!(runs.iter().filter(is_quiet).count(), quiet, "{number}");
                // What comes up in one comes up in no other.
                let mut all = BTreeSet::new();
                for run in &runs {
                    let kinds: BTreeSet<Kind> = unannounced::real(run.seed).into_iter().collect();
                    assert!(kinds.is_disjoint(&all), "{number}: {kinds:?}");
                    all.extend(kinds);
                }
            }
        }
    }

    #[test]
    fn quiet_runs_stand_anywhere() {
        let places: BTreeSet<Vec<bool>> = (0..60).map(|number| terms(number, Length::Short).quiet()).collect();
        assert_eq!(places.len(), 3);
    }

    #[test]
    fn every_level_is_drilled() {
        let levels: BTreeSet<&str> = terms(5, Length::Short).drills().iter().map(|(level, _)| level.code()).collect();
        assert_eq!(levels.len(), Level::ALL.len());
    }

    #[test]
    fn runs_come_first_then_drills_then_questions() {
        let mut sitting = Sitting::begin("a1".to_owned(), terms(17, Length::Short), 1_000, 20_000);
        assert_eq!(sitting.step(1_000), Step::Begin(0));
        sitting.begun.push("r1".to_owned());
        assert_eq!(sitting.step(1_000), Step::GoOn("r1".to_owned()));
        sitting.begun.clear();
        sitting.begun.extend(["r1", "r2", "r3"].map(str::to_owned));
        sitting.outcomes.extend(["r1", "r2", "r3"].map(|run| result::tests::outcome(run, &[])));
        assert_eq!(sitting.step(1_000), Step::Drill(0));
        sitting.answers.extend((0..6).map(|_| answer()));
        assert_eq!(sitting.step(1_000), Step::Question(0));
        sitting.answers.extend((0..12).map(|_| answer()));
        assert_eq!(sitting.step(1_000), Step::Over);
    }

    #[test]
    fn time_goes_on_while_nobody_is_there() {
        let mut sitting = Sitting::begin("a1".to_owned(), terms(17, Length::Short), 1_000, 20_000);
        assert_eq!(sitting.left(9_000), None, "nothing was asked yet");
        sitting.asked_from = Some(2_000);
        assert_eq!(sitting.left(62_000), Some(Ms::mins(20)));
        // A clock that was set back gives no more than there was.
        assert_eq!(sitting.left(0), Some(Ms::mins(21)));
        assert_eq!(sitting.left(2_000 + 21 * 60_000), Some(Ms::ZERO));
        assert_eq!(sitting.left(u64::MAX), Some(Ms::ZERO));
        sitting.terms.limit = Limit::Tenfold;
        assert_eq!(sitting.left(2_000), Some(Ms::mins(210)));
        sitting.terms.limit = Limit::Off;
        assert_eq!(sitting.left(62_000), None);
    }

    #[test]
    fn a_sitting_is_one() {
        let sitting = Sitting::begin("a1".to_owned(), terms(17, Length::Short), 1_000, 20_000);
        assert_eq!(sitting.step(1_000 + ONE_SITTING), Step::Begin(0));
        assert_eq!(sitting.step(1_001 + ONE_SITTING), Step::Over);
        assert_eq!(Sitting { closed: true, ..sitting }.step(1_000), Step::Over);
    }

    #[test]
    fn only_an_outcome_of_its_own_is_taken_and_once() {
        let mut sitting = Sitting::begin("a1".to_owned(), terms(17, Length::Short), 1_000, 20_000);
        sitting.begun.push("r1".to_owned());
        let outcome = result::tests::outcome("r1", &[]);
        sitting.take(OutcomeV1 { set: Some("other".to_owned()), ..outcome.clone() });
        sitting.take(OutcomeV1 { run: "r9".to_owned(), ..outcome.clone() });
        assert!(sitting.outcomes.is_empty());
        sitting.take(outcome.clone());
        sitting.take(outcome);
        assert_eq!(sitting.outcomes.len(), 1);
    }
}
