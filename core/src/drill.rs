//! Short drills, made without end: read a screening or a test, name the threshold or the result, and say what comes next.
//!
//! A story is drawn and run by a conductor who makes its mistake; what is right is then found by the judge in the log that
//! came of it, and written nowhere. What is shown is a few lines of that log: everything that decides, and of the rest as
//! much as says that it was by the book.

mod conductor;
mod lines;
mod story;

pub use lines::{Line, Shown};

use crate::{
    act::{Act, NextStep, Threshold, Verdict},
    coded::coded,
    draw::{self, Purpose},
    guide,
    judge::Mark,
    ordered,
    question::mark::Credit,
    review::{self, Review},
    rulebook::{Agent, RuleId},
    run::Run,
    sign::Seen,
    source::{Gravity, Push, Skill},
    state::{About, State},
    units::Ms,
};
use std::rc::Rc;

coded! {
    /// How subtle the decisive moment is.
    Level {
        /// For all to see.
        One = "1",
        /// To be seen by whoever looks.
        Two = "2",
        /// Easily passed over.
        Three = "3",
        /// Hidden among what looks right.
        Four = "4",
    }
}

coded! {
    /// What is to be named.
    Asks {
        /// The threshold that a screening gave, or that it has to be done again.
        Threshold = "threshold",
        /// The result of a test.
        Result = "result",
    }
}

coded! {
    /// What can be named.
    Named {
        /// Tasted within the first ten squeezes.
        Ten = "10",
        /// Within twenty.
        Twenty = "20",
        /// Within thirty.
        Thirty = "30",
        /// Pass.
        Pass = "pass",
        /// Fail: tasted.
        Fail = "fail",
        /// Invalid: start over.
        Invalid = "invalid",
        /// Cannot taste this agent.
        CannotTaste = "cannot-taste",
        /// Not tested today.
        NotTested = "not-tested",
        /// Stopped, for the wearer's safety or wish.
        Stopped = "stopped",
    }
}

impl Named {
    /// What can be named in a drill that asks for this.
    #[must_use]
    pub const fn of(asks: Asks) -> &'static [Self] {
        match asks {
            Asks::Threshold => &[Self::Ten, Self::Twenty, Self::Thirty, Self::CannotTaste, Self::Invalid],
            Asks::Result => &[Self::Pass, Self::Fail, Self::Invalid, Self::CannotTaste, Self::NotTested, Self::Stopped],
        }
    }

    /// The rule by which what was seen comes to this, where there is one for all that could be seen.
    #[must_use]
    pub const fn rule(self) -> Option<RuleId> {
        match self {
            Self::Ten | Self::Twenty | Self::Thirty => Some(RuleId::ScreenClass),
            Self::CannotTaste => Some(RuleId::ScreenNone),
            Self::Fail => Some(RuleId::WatchTaste),
            Self::Pass | Self::Invalid | Self::NotTested | Self::Stopped => None,
        }
    }
}

impl From<Verdict> for Named {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Pass,
            Verdict::Fail => Self::Fail,
            Verdict::Invalid => Self::Invalid,
            Verdict::CannotTaste => Self::CannotTaste,
            Verdict::NotTested(_) => Self::NotTested,
            Verdict::Stopped(_) => Self::Stopped,
        }
    }
}

impl From<Threshold> for Named {
    fn from(threshold: Threshold) -> Self {
        match threshold {
            Threshold::Ten => Self::Ten,
            Threshold::Twenty => Self::Twenty,
            Threshold::Thirty => Self::Thirty,
            Threshold::NotTasted => Self::CannotTaste,
        }
    }
}

/// What a line weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// In it, or by then, this rule was broken.
    Broke(RuleId),
    /// It decides without one.
    Decides,
    /// It looks odd, and changes nothing.
    Harmless,
}

/// A drill.
#[derive(Clone, Debug)]
pub struct Drill {
    /// From which it can be made again.
    pub seed: u64,
    /// How subtle it is.
    pub level: Level,
    /// What is to be named.
    pub asks: Asks,
    /// What is shown, in order.
    pub lines: Vec<Line>,
    /// What is right; more than one where both readings can be argued.
    pub accepted: Vec<Named>,
    /// Next steps to choose from; none where nothing follows that could be chosen.
    pub offered: Vec<NextStep>,
    /// The one of them that is right.
    pub next: Option<NextStep>,
    /// The lines that weigh something, by their place.
    pub decides: Vec<(usize, Weight)>,
    /// The run, up to where something is to be named.
    pub run: Run,
}

/// How far apart two acts are.
const BEAT: Ms = Ms(1_200);

/// How soon after the last line something is named: before the wearer can do anything that no line shows.
const AT_ONCE: Ms = Ms(1);

/// So many stories are tried: some come to nothing, as where the wearer tastes it before.
const MOST_TURNS: u32 = 40;

/// Steps to choose from.
const OFFERED: usize = 4;

/// Wrong ones among them, at least.
const FEWEST_WRONG: usize = 2;

/// More acts than come between a result and what follows it.
const MOST_STEPS_TO_NEXT: u32 = 20;

/// Makes a drill. `None` only where no story of forty could be told, which no seed has shown.
#[must_use]
pub fn drill(seed: u64, agent: Agent, level: Level) -> Option<Drill> {
    (0..MOST_TURNS).find_map(|turn| {
        let told = story::Told::draw(seed, level, turn);
        let scenario = Rc::new(told.scenario(agent));
        let run = conductor::run(&scenario, &told)?;
        let truth = Truth::of(&run, told.asks)?;
        let lines = lines::of(&run, &truth, &told, seed)?;
        let decides = lines::decides(&lines, &truth, &run, &told);
        let offered = truth.next.map(|right| offered(seed, right, &truth.wrong)).unwrap_or_default();
        Some(Drill {
            seed,
            level,
            asks: told.asks,
            lines,
            accepted: truth.accepted,
            next: truth.next.filter(|_| !offered.is_empty()),
            offered,
            decides,
            run,
        })
    })
}

/// What the judge makes of a run that nobody has named yet.
struct Truth {
    /// About what.
    about: About,
    /// What would be right.
    accepted: Vec<Named>,
    /// The step that follows it by the book; `None` where none does.
    next: Option<NextStep>,
    /// Steps that would be wrong then.
    wrong: Vec<NextStep>,
    /// Every rule that was broken before anything was named.
    broken: Vec<Mark>,
}

impl Truth {
    /// `None` where there is nothing to name.
    fn of(run: &Run, asks: Asks) -> Option<Self> {
        match asks {
            Asks::Threshold => Self::of_a_screening(run),
            Asks::Result => Self::of_a_test(run),
        }
    }

    fn of_a_test(run: &Run) -> Option<Self> {
        // Whatever is given, the judge says what would have been right.
        let given = given(run, Verdict::Pass)?;
        let reviewed = review::of_run(&given);
        let call = reviewed.calls.last()?;
        let (about, verdicts) = (call.about, call.accepted.clone());
        let mut accepted: Vec<Named> = Vec::new();
        for named in verdicts.iter().copied().map(Named::from) {
            if !accepted.contains(&named) {
                accepted.push(named);
            }
        }
        let broken = broken(run, &reviewed);
        if matches!(about, About::Screening(_)) && !is_doubtful(run, &broken, about) {
            // Screening once more than the text asks is never marked down, but nothing in this one calls for it.
            accepted.retain(|named| *named != Named::Invalid);
        }
        let right = verdicts.into_iter().find(|verdict| accepted.first() == Some(&Named::from(*verdict)))?;
        let given = self::given(run, right)?;
        // After an invalid test the guide begins anew without a word; the step that says so is the test again.
        let next = next_step(&given).or_else(|| (right == Verdict::Invalid).then_some(NextStep::TestAgain));
        let wrong = next.map(|right| wrong_steps(&given, right)).unwrap_or_default();
        Some(Self { about, accepted, next, wrong, broken })
    }

    /// Each threshold is noted: it is right where the judge finds nothing broken by that.
    fn of_a_screening(run: &Run) -> Option<Self> {
        let number = run.state().screenings.len().checked_sub(1)?;
        let about = About::Screening(number);
        let given = given(run, Verdict::Invalid)?;
        let broken = broken(run, &review::of_run(&given));
        let before = review::of_run(run).marks;
        let mut accepted = Vec::new();
        let mut too_many = false;
        for threshold in Threshold::ALL.iter().copied().filter(|_| !is_spoilt(run, &broken, about)) {
            let mut noted = run.clone();
            noted.apply(Act::NoteThreshold(threshold), run.now().plus(AT_ONCE)).ok()?;
            let marks = review::of_run(&noted).marks;
            let mut breaks = marks.iter().filter(|mark| !mark.kept && !before.contains(mark)).peekable();
            if breaks.peek().is_none() {
                accepted.push(Named::from(threshold));
            }
            // A set that had too many: the class before it can neither be noted nor quite ruled out.
            too_many |= threshold != Threshold::NotTasted && breaks.any(|mark| mark.rule == RuleId::ScreenCount);
        }
        if accepted.is_empty() || too_many || is_doubtful(run, &broken, about) {
            accepted.push(Named::Invalid);
        }
        Some(Self { about, accepted, next: None, wrong: Vec::new(), broken })
    }
}

/// Whether what was broken spoils an attempt, or it was tasted before anything was sprayed.
fn is_spoilt(run: &Run, broken: &[Mark], about: About) -> bool {
    let book = run.scenario().rulebook();
    let spoils = |mark: &Mark| {
        mark.about == about
            && book.rule(mark.rule).is_some_and(|rule| rule.gravity.is_top() && rule.skill != Skill::Result)
    };
    let before = run.state().screening().and_then(|screening| screening.common.shown(Seen::SaysTasteBefore));
    broken.iter().any(spoils) || (matches!(about, About::Screening(_)) && before.is_some())
}

/// Whether it is spoilt, or something off the procedure made a false pass likelier.
fn is_doubtful(run: &Run, broken: &[Mark], about: About) -> bool {
    let book = run.scenario().rulebook();
    let weakens = |mark: &Mark| {
        let rule = book.rule(mark.rule).filter(|_| mark.about == about);
        rule.is_some_and(|rule| rule.gravity == Gravity::Departure && rule.push == Push::FalsePass)
    };
    is_spoilt(run, broken, about) || broken.iter().any(weakens)
}

/// The run with a result given on it.
fn given(run: &Run, verdict: Verdict) -> Option<Run> {
    let mut given = run.clone();
    given.apply(Act::Give(verdict), run.now().plus(AT_ONCE)).ok()?;
    Some(given)
}

/// What was broken when it was named, what the name itself breaks apart.
fn broken(run: &Run, reviewed: &Review) -> Vec<Mark> {
    let book = run.scenario().rulebook();
    let before = |mark: &&Mark| {
        // Whether all seven were done is asked when the test is over.
        let in_time = mark.at <= run.now() || mark.rule == RuleId::FitAll;
        !mark.kept && in_time && book.rule(mark.rule).is_some_and(|rule| rule.skill != Skill::Result)
    };
    reviewed.marks.iter().filter(before).copied().collect()
}

/// The step that comes next by the book, once the result was given.
fn next_step(given: &Run) -> Option<NextStep> {
    let mut run = given.clone();
    for _ in 0..MOST_STEPS_TO_NEXT {
        let step = guide::next(run.scenario(), run.state(), run.now())?;
        if let Act::Next(next) = step.act {
            return Some(next);
        }
        let at = run.now().plus(BEAT).max(step.not_before.unwrap_or(Ms::ZERO));
        run.apply(step.act, at).ok()?;
    }
    None
}

/// The steps that break more rules than the right one.
fn wrong_steps(given: &Run, right: NextStep) -> Vec<NextStep> {
    let breaks = |step: NextStep| {
        let mut taken = given.clone();
        taken.apply(Act::Next(step), given.now().plus(BEAT)).ok()?;
        // Some is only asked at the end.
        taken.apply(Act::Finish, given.now().plus(BEAT).plus(BEAT)).ok()?;
        Some(review::of_run(&taken).marks.iter().filter(|mark| !mark.kept).count())
    };
    let least = breaks(right);
    NextStep::ALL.iter().copied().filter(|step| breaks(*step) > least).collect()
}

/// The right step and wrong ones, drawn and mixed. Nothing where there is hardly a wrong one.
fn offered(seed: u64, right: NextStep, wrong: &[NextStep]) -> Vec<NextStep> {
    if wrong.len() < FEWEST_WRONG {
        return Vec::new();
    }
    let key = |step: &NextStep, index: u32| {
        let place = NextStep::ALL.iter().position(|other| other == step).and_then(|place| u32::try_from(place).ok());
        u64::from(draw::number(seed, Purpose::DrillOffers, place.unwrap_or_default() * 2 + index, u32::MAX))
    };
    let mut wrong = wrong.to_vec();
    ordered::order(&mut wrong, |step| key(step, 0));
    let mut offered: Vec<NextStep> = [right].into_iter().chain(wrong).take(OFFERED).collect();
    ordered::order(&mut offered, |step| key(step, 1));
    offered
}

/// An answer that was marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marked {
    /// Whether what was named is right.
    pub named: bool,
    /// Whether the next step is; `None` where none was asked for.
    pub next: Option<bool>,
}

impl Marked {
    /// What it is worth: the name, and half as much again for the step.
    #[must_use]
    pub const fn credit(self) -> Credit {
        match (self.named, self.next) {
            (named, None) => Credit { got: named as u8, of: 1 },
            (named, Some(next)) => Credit { got: named as u8 * 2 + next as u8, of: 3 },
        }
    }
}

impl Drill {
    /// Marks an answer.
    #[must_use]
    pub fn mark(&self, named: Named, next: Option<NextStep>) -> Marked {
        let step = if self.offered.is_empty() { None } else { Some(next.is_some() && next == self.next) };
        Marked { named: self.accepted.contains(&named), next: step }
    }

    /// The level of the one that follows: up after two that were wholly right, down after one whose name was wrong.
    #[must_use]
    pub fn level_after(level: Level, latest: &[Marked]) -> Level {
        let place = Level::ALL.iter().position(|other| *other == level).unwrap_or_default();
        let wrong = latest.last().is_some_and(|marked| !marked.named);
        let right = |marked: &Marked| marked.named && marked.next != Some(false);
        let twice = latest.len() >= 2 && latest.iter().rev().take(2).all(right);
        let place = if wrong { place.saturating_sub(1) } else { place + usize::from(twice) };
        Level::ALL.get(place).copied().unwrap_or(level)
    }

    /// The skill that it practises.
    #[must_use]
    pub const fn skill(&self) -> Skill {
        match self.asks {
            Asks::Threshold => Skill::Screening,
            Asks::Result => Skill::Result,
        }
    }

    /// What can be known of the run at its end.
    #[must_use]
    pub const fn state(&self) -> &State {
        self.run.state()
    }
}
