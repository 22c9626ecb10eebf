//! Short drills without end: a few lines of a screening or a test, and the result to be named.
//!
//! The engine makes a whole run by the book with one thing in it that comes up or goes wrong, or only looks odd, and cuts
//! it where something is to be named. What is right is asked of the judge, the ruling and the guide; no answer is written
//! down here or in the stories. Words and pictures are the page's.

mod conductor;
mod line;
mod practice;
mod story;
mod truth;

pub use line::{Line, Set, Shown};
pub use practice::{DOWN_AFTER, Grade, Practice, UP_AFTER};
pub use story::ID;

use crate::{
    act::{Act, Role, Threshold, Verdict},
    coded::coded,
    draw::{self, Purpose},
    facepiece::Class,
    log::What,
    observe::Colleague,
    rulebook::{Agent, RuleId, Rulebook},
    run::Run,
    scenario::Scenario,
    state::About,
    units::Ms,
};
use std::rc::Rc;
use story::Told;
use truth::{Cut, Truth};

coded! {
    /// How subtle the decisive moment is.
    Level {
        /// For all to see.
        One = "1",
        /// Not the last thing that happens.
        Two = "2",
        /// Said by half, or wrong by a count.
        Three = "3",
        /// Small, late, or to be argued.
        Four = "4",
    }
}

impl Level {
    /// The next, if there is one; else this.
    #[must_use]
    pub const fn up(self) -> Self {
        match self {
            Self::One => Self::Two,
            Self::Two => Self::Three,
            Self::Three | Self::Four => Self::Four,
        }
    }

    /// The one before, if there is one; else this.
    #[must_use]
    pub const fn down(self) -> Self {
        match self {
            Self::One | Self::Two => Self::One,
            Self::Three => Self::Two,
            Self::Four => Self::Three,
        }
    }
}

coded! {
    /// What is to be named.
    Asks {
        /// The threshold.
        Threshold = "threshold",
        /// One of the six results.
        Result = "result",
    }
}

coded! {
    /// What can be named: thresholds, and results without their reasons.
    Answer {
        /// Threshold 10.
        Ten = "10",
        /// Threshold 20.
        Twenty = "20",
        /// Threshold 30.
        Thirty = "30",
        /// Pass.
        Pass = "pass",
        /// Fail.
        Fail = "fail",
        /// Cannot taste this agent.
        CannotTaste = "cannot-taste",
        /// Invalid: start over.
        Invalid = "invalid",
        /// Not tested today.
        NotTested = "not-tested",
        /// Stopped for the wearer's safety or wish.
        Stopped = "stopped",
    }
}

impl Answer {
    /// The result, without its reason.
    #[must_use]
    pub const fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Pass => Self::Pass,
            Verdict::Fail => Self::Fail,
            Verdict::Invalid => Self::Invalid,
            Verdict::CannotTaste => Self::CannotTaste,
            Verdict::NotTested(_) => Self::NotTested,
            Verdict::Stopped(_) => Self::Stopped,
        }
    }

    /// The threshold.
    #[must_use]
    pub const fn of_threshold(threshold: Threshold) -> Self {
        match threshold {
            Threshold::Ten => Self::Ten,
            Threshold::Twenty => Self::Twenty,
            Threshold::Thirty => Self::Thirty,
            Threshold::NotTasted => Self::CannotTaste,
        }
    }
}

impl Asks {
    /// What is offered.
    #[must_use]
    pub const fn offers(self) -> &'static [Answer] {
        match self {
            Self::Threshold => &[Answer::Ten, Answer::Twenty, Answer::Thirty, Answer::CannotTaste, Answer::Invalid],
            Self::Result => {
                &[Answer::Pass, Answer::Fail, Answer::Invalid, Answer::CannotTaste, Answer::NotTested, Answer::Stopped]
            }
        }
    }
}

/// What went before the first line, by the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The agent.
    pub agent: Agent,
    /// What every facepiece on the rack is; each is a negative-pressure one.
    pub class: Class,
    /// The threshold noted, where a test rests on it and the lines do not tell.
    pub threshold: Option<Threshold>,
    /// How many squeezes the test then begins with, and how many each half minute brings.
    pub squeezes: Option<(u32, u32)>,
}

/// A right answer and what it rests on. Where there are two, both can be argued.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// The answer.
    pub answer: Answer,
    /// The rule.
    pub rule: RuleId,
}

/// A line that decides, and the rule that it brings up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Decisive {
    /// Its place among the lines.
    pub line: usize,
    /// The rule.
    pub rule: RuleId,
}

/// A line on the timeline of a drill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Span<'a> {
    /// From when, since the hood went on or the first line; `None` for what went before that.
    pub from: Option<Ms>,
    /// For how long; nothing for what is done in a moment.
    pub length: Ms,
    /// What.
    pub shown: &'a Shown,
    /// Whether it decides.
    pub decides: bool,
}

/// An answer as it is marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marked<'a> {
    /// How good it is.
    pub grade: Grade,
    /// What would have been right: both readings where it can be argued.
    pub readings: &'a [Reading],
    /// The lines that show it.
    pub decides: &'a [Decisive],
}

/// One drill.
#[derive(Clone, Debug)]
pub struct Drill {
    /// From which everything in it was drawn.
    pub seed: u64,
    /// How subtle it is.
    pub level: Level,
    /// What is to be named.
    pub asks: Asks,
    /// What went before, by the book.
    pub setting: Setting,
    /// What is shown, in order of time.
    pub lines: Vec<Line>,
    /// The right answer or, where it can be argued, answers; the guide's own first.
    pub readings: Vec<Reading>,
    /// Answers that stand although nothing calls for them.
    pub allowed: Vec<Answer>,
    /// The lines that decide; never empty.
    pub decides: Vec<Decisive>,
    /// What may come next, in a fixed order, each with how good it is after the first of the readings.
    pub next: Vec<(Act, Grade)>,
    /// Whether it is about something odd that does not count.
    pub harmless: bool,
    /// The whole run as a colleague's, for a quick play.
    pub scenario: Rc<Scenario>,
    /// When, in that run, the hood went on for what is shown, or the first line was; and when it is cut.
    pub window: (Ms, Ms),
}

impl Drill {
    /// What is offered to choose from.
    #[must_use]
    pub const fn offered(&self) -> &'static [Answer] {
        self.asks.offers()
    }

    /// Marks what was named.
    #[must_use]
    pub fn mark(&self, answer: Answer) -> Marked<'_> {
        let right = self.readings.iter().any(|reading| reading.answer == answer);
        let grade = match (right, self.allowed.contains(&answer)) {
            (true, _) => Grade::Right,
            (false, true) => Grade::Allowed,
            (false, false) => Grade::Wrong,
        };
        Marked { grade, readings: &self.readings, decides: &self.decides }
    }

    /// Marks what is to come next; what was not offered is wrong.
    #[must_use]
    pub fn mark_next(&self, act: Act) -> Grade {
        self.next.iter().find(|(offered, _)| *offered == act).map_or(Grade::Wrong, |(_, grade)| *grade)
    }

    /// The lines on a timeline.
    pub fn timeline(&self) -> impl Iterator<Item = Span<'_>> {
        let (from, _) = self.window;
        self.lines.iter().enumerate().map(move |(place, line)| Span {
            from: (line.at >= from).then(|| line.at.since(from)),
            length: line.to().since(line.at),
            shown: &line.what,
            decides: self.decides.iter().any(|decisive| decisive.line == place),
        })
    }

    /// The run at the beginning of the window, to be played on with [`Colleague::advance`] up to its end: what there is to
    /// see is [`crate::scene::Scene::of`] its run.
    #[must_use]
    pub fn play(&self) -> Option<Colleague> {
        let mut colleague = Colleague::new(Rc::clone(&self.scenario))?;
        colleague.advance(self.window.0);
        Some(colleague)
    }
}

/// How often another story is told where one cannot be; none of them needs it.
const MOST_TURNS: u32 = 8;

/// How many lines there are at most, unless more cannot go.
const MOST_LINES: u32 = 8;
const MORE_LINES: u32 = 4;

/// With fewer lines of the attempt itself, what went before it is shown too.
const FEW_LINES: usize = 6;

/// How many of the attempt itself there are at least, however many went before.
const LEAST_LINES: usize = 6;

/// How many steps are offered to come next.
const MOST_NEXT: usize = 5;

/// The drill of a seed.
///
/// ```
/// use bittersweet_core::{drill::{self, Grade, Level}, rulebook::Agent};
///
/// let drill = drill::drill(7, Agent::Sweet, Level::Two);
/// let right = drill.readings.first().expect("something is right").answer;
/// assert_eq!(drill.mark(right).grade, Grade::Right);
/// assert!(drill.lines.len() <= 14);
/// ```
#[must_use]
pub fn drill(seed: u64, agent: Agent, level: Level) -> Drill {
    let mut drill = tell(seed, agent, level, 0);
    for turn in 1..MOST_TURNS {
        if !drill.readings.is_empty() {
            break;
        }
        drill = tell(seed, agent, level, turn);
    }
    drill
}

fn tell(seed: u64, agent: Agent, level: Level, turn: u32) -> Drill {
    let told = Told::draw(seed, level, turn);
    let scenario = Rc::new(told.scenario(agent));
    let (run, slipped) = conductor::run(&scenario, &told);
    let book = scenario.rulebook();
    let about = run.state().about();
    let odd = slipped.zip(told.tries());
    let truth = Cut { run: &run, book: &book, about, asks: told.asks, odd }.truth();
    let threshold = match about {
        About::Test(_) if !told.shows_screening() => run.state().threshold(),
        About::Test(_) | About::Day | About::Screening(_) => None,
    };
    let squeezes = threshold.and_then(|noted| Some((book.initial(noted)?, book.replenishment(noted)?)));
    let class = scenario.rack.first().map_or(Class::Half, |piece| piece.class);
    let view = View { run: &run, book: &book, told: &told, about };
    let lines = view.lines(&truth);
    Drill {
        seed,
        level,
        asks: told.asks,
        setting: Setting { agent, class, threshold, squeezes },
        decides: decisive(&lines, &truth.moments),
        lines,
        readings: truth.right.iter().map(|right| Reading { answer: right.answer, rule: right.rule }).collect(),
        allowed: truth.allowed,
        next: few(seed, truth.next),
        harmless: told.is_harmless(),
        scenario: as_a_colleagues(&run),
        window: (view.from(), run.now()),
    }
}

/// The scenario with the acts of the run in it. The last is a wait of no length, so that what came last is reached.
fn as_a_colleagues(run: &Run) -> Rc<Scenario> {
    let acts = run.acts().chain([(run.now(), Act::Wait(Ms::ZERO))]).collect();
    Rc::new(Scenario { colleague: Some(acts), ..Scenario::clone(run.scenario()) })
}

/// A run, of which some is to be shown.
struct View<'a> {
    run: &'a Run,
    book: &'a Rulebook,
    told: &'a Told,
    about: About,
}

impl View<'_> {
    /// When what is shown in full begins.
    fn from(&self) -> Ms {
        let state = self.run.state();
        let common = match self.about {
            About::Day => None,
            About::Screening(number) => state.screenings.get(number).map(|screening| &screening.common),
            About::Test(number) => state.tests.get(number).map(|test| &test.common),
        };
        common.map_or(self.run.log().first().map_or(Ms::ZERO, |entry| entry.at), |common| common.from)
    }

    fn lines(&self, truth: &Truth) -> Vec<Line> {
        let (log, now) = (self.run.log(), self.run.now());
        let gap = self.book.numbers.set_gap;
        let number = |index: u32, below: u32| draw::number(self.told.seed, Purpose::DrillShown, index, below);
        let hooded = log.iter().position(|entry| entry.what == What::Act(Act::HoodOn)).unwrap_or(log.len());
        let begun = log.partition_point(|entry| entry.at < self.from());
        let of = |from: usize, to: usize| line::lines(log.get(from..to).unwrap_or_default(), now, gap);
        let attempt = if self.about == About::Day { Vec::new() } else { of(begun, log.len()) };
        let before = of(0, hooded).into_iter().filter(|line| self.told.shows_before(line, attempt.len() < FEW_LINES));
        let counted = of(hooded, begun).into_iter().filter(|line| self.told.shows_screening() && is_of_the_count(line));
        let mut lines: Vec<Line> = before.chain(counted).collect();
        let early = lines.len();
        lines.extend(attempt);
        let tell: Vec<usize> = truth.odd.iter().filter_map(|(at, rule)| place(&lines, *at, *rule)).collect();
        let kept: Vec<Line> = tell.iter().filter_map(|place| lines.get(*place)).cloned().collect();
        let decoy = number(0, 7);
        let stays = |line: &Line| {
            let alone = matches!(line.what, Shown::Exercised(exercise, ..) if exercise as u32 == decoy);
            alone || kept.contains(line)
        };
        let role = if matches!(self.about, About::Test(_)) { Role::Fit } else { Role::Check };
        let half = self.run.state().threshold().and_then(|noted| self.book.replenishment(noted)).unwrap_or_default();
        let most = usize::try_from(MOST_LINES + number(1, MORE_LINES + 1)).unwrap_or_default();
        line::shorten(&mut lines, most.max(early + LEAST_LINES), role, half, stays);
        lines
    }
}

/// Whether a line of a screening tells what was counted in it.
const fn is_of_the_count(line: &Line) -> bool {
    matches!(line.what, Shown::Squeezed(_) | Shown::Came(_) | Shown::Did(Act::Ask(_) | Act::NoteThreshold(_), _))
}

/// The line in which a rule came up at a moment.
fn place(lines: &[Line], at: Ms, rule: RuleId) -> Option<usize> {
    // How long an exercise was shows at its end.
    let at_its_end = matches!(rule, RuleId::FitMinute | RuleId::FitMinuteNear | RuleId::FitLong);
    let exact = lines.iter().position(|line| line.at == at).filter(|_| !at_its_end);
    exact
        .or_else(|| lines.iter().position(|line| line.at < at && at <= line.to()))
        .or_else(|| lines.iter().rposition(|line| line.at <= at))
}

fn decisive(lines: &[Line], moments: &[(Ms, RuleId)]) -> Vec<Decisive> {
    let mut decides = Vec::new();
    for (at, rule) in moments {
        if let Some(line) = place(lines, *at, *rule) {
            truth::insert(&mut decides, Decisive { line, rule: *rule });
        }
    }
    decides
}

/// Few of the steps that can come next, in their order: the right one, wrong ones as they are drawn, and one that would
/// stand; more of those where there are few wrong ones.
fn few(seed: u64, all: Vec<(Act, Grade)>) -> Vec<(Act, Grade)> {
    if all.len() <= MOST_NEXT {
        return all;
    }
    let start = draw::number(seed, Purpose::DrillShown, 8, u32::try_from(all.len()).unwrap_or_default());
    let start = usize::try_from(start).unwrap_or_default();
    let of = |wanted: Grade| {
        let turned = all.iter().enumerate().cycle().skip(start).take(all.len());
        turned.filter(move |(_, (_, grade))| *grade == wanted).map(|(place, _)| place)
    };
    let mut places = Vec::new();
    let wrong = of(Grade::Wrong).take(MOST_NEXT - 2);
    for place in of(Grade::Right).chain(wrong).chain(of(Grade::Allowed)).take(MOST_NEXT) {
        truth::insert(&mut places, place);
    }
    places.into_iter().filter_map(|place| all.get(place).copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::{story::Family, *};

    /// What a story is meant to come to; that it does is the judge's to say.
    fn meant(told: &Told) -> Option<Answer> {
        Some(match (told.family(), told.asks) {
            (Family::Harmless | Family::Plain, Asks::Result) => Answer::Pass,
            (Family::Harmless | Family::Plain, Asks::Threshold) => return None,
            (Family::Taste, _) => Answer::Fail,
            (Family::Spoilt, _) => Answer::Invalid,
            (Family::CannotTaste, _) => Answer::CannotTaste,
            (Family::Barred, _) => Answer::NotTested,
            (Family::Stopped, _) => Answer::Stopped,
        })
    }

    #[test]
    fn each_story_comes_to_what_it_is_meant_to() {
        let mut wrong = Vec::new();
        for seed in 0..300 {
            for level in Level::ALL.iter().copied() {
                let told = Told::draw(seed, level, 0);
                for agent in Agent::ALL.iter().copied() {
                    let drill = drill(seed, agent, level);
                    let right: Vec<Answer> = drill.readings.iter().map(|reading| reading.answer).collect();
                    let threshold = !matches!(right[..], [] | [Answer::Invalid]);
                    if !meant(&told).map_or(threshold, |meant| right.contains(&meant)) {
                        wrong.push(format!(
                            "{seed} {agent:?} {level:?} {:?}: {right:?} {:?}",
                            told.story, drill.decides
                        ));
                    }
                }
            }
        }
        assert!(wrong.is_empty(), "{}:\n{}", wrong.len(), wrong.join("\n"));
    }

    #[test]
    fn what_is_offered_next_is_few_and_has_the_right_one() {
        let all: Vec<(Act, Grade)> = crate::act::NextStep::ALL
            .iter()
            .map(|step| (Act::Next(*step), if *step as u8 == 7 { Grade::Right } else { Grade::Wrong }))
            .collect();
        for seed in 0..50 {
            let few = few(seed, all.clone());
            assert_eq!(few.len(), MOST_NEXT - 1);
            assert_eq!(few.iter().filter(|(_, grade)| *grade == Grade::Right).count(), 1);
        }
    }
}
