//! A run laid out in time: its attempts with their exercises and squeezes, beside what the book would have had, and the
//! level in the hood.
//!
//! Nothing is judged here, and nothing drawn: both the picture and its data table are made from this.

use crate::{
    act::{Act, Exercise},
    attempt::{Common, FitTest, Screening, Squeeze},
    model::Parameters,
    motion::Air,
    ordered, rounds,
    rulebook::Rulebook,
    run::Run,
    scenario::Scenario,
    sign::Seen,
    state::{About, State},
    taste::RAPID,
    units::Ms,
};

/// An exercise from its beginning to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Which.
    pub exercise: Exercise,
    /// When it began.
    pub from: Ms,
    /// When it ended, or the attempt did.
    pub to: Ms,
}

/// A set of squeezes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Set {
    /// When it was due: an initial set, when it had to be begun so that the first exercise follows on it; in a screening, when
    /// it was given.
    pub due: Ms,
    /// When the first of them was given; `None` where none was.
    pub from: Option<Ms>,
    /// How many whole squeezes were given.
    pub given: u32,
    /// How many should have been; `None` where nothing says.
    pub asked: Option<u32>,
}

/// What the book would have had, from the same beginning.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ByTheBook {
    /// The seven exercises, one minute each.
    pub exercises: Vec<Bar>,
    /// When squeezes were due, and how many.
    pub due: Vec<(Ms, u32)>,
}

/// One screening or fit test.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Which.
    pub about: About,
    /// When it began.
    pub from: Ms,
    /// When it was closed.
    pub to: Ms,
    /// The exercises, in the order done.
    pub exercises: Vec<Bar>,
    /// The sets of squeezes.
    pub sets: Vec<Set>,
    /// What was shown.
    pub signs: Vec<(Ms, Seen)>,
    /// What was done, squeezes apart.
    pub acts: Vec<(Ms, Act)>,
    /// The same by the book; nothing of it in a screening, or where there was no threshold to count from.
    pub book: ByTheBook,
}

/// The attempts of a run, in order of time.
#[must_use]
pub fn of(scenario: &Scenario, state: &State) -> Vec<Stretch> {
    let book = &scenario.rulebook();
    let made = |(_, screening): &(usize, &Screening)| !screening.is_only_noted();
    let screenings = state.screenings.iter().enumerate().filter(made).map(|(number, screening)| {
        let sets = in_tens(book, &screening.common.squeezes);
        stretch(state, About::Screening(number), &screening.common, sets)
    });
    let tests = state.tests.iter().enumerate().map(|(number, test)| fit_test(state, book, number, test));
    let mut all: Vec<Stretch> = screenings.chain(tests).collect();
    ordered::order(&mut all, |stretch| stretch.from.0.into());
    all
}

fn stretch(state: &State, about: About, common: &Common, sets: Vec<Set>) -> Stretch {
    Stretch {
        about,
        from: common.from,
        to: common.closed.unwrap_or(state.now),
        exercises: Vec::new(),
        sets,
        signs: common.signs.clone(),
        acts: common.acts.clone(),
        book: ByTheBook::default(),
    }
}

/// A screening's squeezes, ten to a set.
fn in_tens(book: &Rulebook, squeezes: &[Squeeze]) -> Vec<Set> {
    let ten = usize::try_from(book.numbers.set).unwrap_or(1).max(1);
    let set = |set: &[Squeeze]| {
        let first = set.first()?.at;
        Some(Set { due: first, from: Some(first), given: rounds::whole(set), asked: None })
    };
    squeezes.chunks(ten).filter_map(set).collect()
}

fn fit_test(state: &State, book: &Rulebook, number: usize, test: &FitTest) -> Stretch {
    let threshold = state.counted_from(book, test);
    let asked = threshold.and_then(|threshold| Some((book.initial(threshold)?, book.replenishment(threshold)?)));
    let set = |round: rounds::Round, asked: Option<u32>| Set {
        due: round.due,
        from: round.given.first().map(|squeeze| squeeze.at),
        given: rounds::whole(&round.given),
        asked,
    };
    let initial = rounds::initial(&book.numbers, test, asked.map_or(book.numbers.set, |(initial, _)| initial));
    let end = rounds::end(state, test);
    // What was not lost before its time was up was not left out.
    let later = rounds::later(&book.numbers, test, end)
        .into_iter()
        .filter(|round| !round.given.is_empty() || round.due.plus(book.numbers.replenish_lost) <= end);
    let sets = initial
        .map(|round| {
            let due = asked.map_or(round.due, |(initial, _)| begin_of(round.due, initial));
            set(rounds::Round { due, ..round }, asked.map(|(initial, _)| initial))
        })
        .into_iter()
        .chain(later.map(|round| set(round, asked.map(|(_, half)| half))))
        .collect();
    let common = &test.common;
    let closed = common.closed.unwrap_or(state.now);
    let bar =
        |done: &crate::attempt::Done| Bar { exercise: done.exercise, from: done.from, to: done.to.unwrap_or(closed) };
    Stretch {
        exercises: test.exercises.iter().map(bar).collect(),
        book: test.begun().zip(asked).map(|(begun, asked)| by_the_book(book, begun, asked)).unwrap_or_default(),
        ..stretch(state, About::Test(number), common, sets)
    }
}

/// When so many squeezes have to be begun so that they end at a moment.
fn begin_of(end: Ms, squeezes: u32) -> Ms {
    end.since(RAPID.times(squeezes))
}

fn by_the_book(book: &Rulebook, begun: Ms, (initial, half): (u32, u32)) -> ByTheBook {
    let length = book.numbers.exercise;
    let mut from = begun;
    let exercises: Vec<Bar> = Exercise::SEVEN
        .iter()
        .map(|exercise| {
            let bar = Bar { exercise: *exercise, from, to: from.plus(length) };
            from = bar.to;
            bar
        })
        .collect();
    let mut due = vec![(begin_of(begun, initial), initial)];
    let mut next = begun.plus(book.numbers.replenish_every);
    while next < from {
        due.push((next, half));
        next = next.plus(book.numbers.replenish_every);
    }
    ByTheBook { exercises, due }
}

/// The teaching model's levels at a moment, in squeezes of the solution that the attempt uses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level {
    /// When.
    pub at: Ms,
    /// In the hood.
    pub hood: f64,
    /// Inside the facepiece.
    pub mask: f64,
}

/// How strong a squeeze of the attempt's solution is, in squeezes of check solution.
fn strength(book: &Rulebook, about: About) -> f64 {
    match about {
        About::Test(_) => f64::from(book.solution.strength_milli) / 1_000.0,
        About::Day | About::Screening(_) => 1.0,
    }
}

/// The levels in an attempt of a run: before and after each act, and at least every `every`.
#[must_use]
pub fn levels(run: &Run, stretch: &Stretch, every: Ms) -> Vec<Level> {
    let (from, to) = (stretch.from, stretch.to);
    let unit = strength(&run.scenario().rulebook(), stretch.about);
    let look = |run: &Run| Level { at: run.now(), hood: run.mist() / unit, mask: run.in_mask() / unit };
    let mut again = run.until(Ms(from.0.saturating_sub(1)));
    let mut levels = Vec::new();
    let mut next = from;
    let within = |(at, act): &(Ms, Act)| *at >= from && *at <= to && !matches!(act, Act::Wait(_));
    let acts = run.acts().filter(within).map(|(at, act)| (at, Some(act)));
    for (at, act) in acts.chain([(to, None)]) {
        while next < at {
            again.advance(next);
            levels.push(look(&again));
            next = next.plus(Ms(every.0.max(1)));
        }
        again.advance(at);
        levels.push(look(&again));
        if let Some(act) = act {
            // What could be done then can be done again.
            let _ = again.apply(act, at);
            levels.push(look(&again));
        }
    }
    levels
}

/// The level in the hood by the book, in squeezes of the solution: the initial squeezes end where the first exercise begins.
/// Empty where nothing says how many.
#[must_use]
pub fn level_by_the_book(scenario: &Scenario, stretch: &Stretch, every: Ms) -> Vec<(Ms, f64)> {
    let motion = Parameters::live(scenario.agent).motion();
    let puffs = stretch
        .book
        .due
        .iter()
        .flat_map(|(due, count)| (0..*count).map(move |squeeze| (due.plus(RAPID.times(squeeze)), 1.0)));
    let end = stretch.book.exercises.last().map(|bar| (bar.to, 0.0));
    let mut air = Air::default();
    let mut levels: Vec<(Ms, f64)> = Vec::new();
    for (at, adds) in puffs.chain(end) {
        let mut now = levels.last().map_or(at, |(before, _)| *before);
        while now < at {
            let next = now.plus(Ms(every.0.max(1))).min(at);
            air = motion.after(air, 0.0, next.since(now).as_secs());
            levels.push((next, air.level));
            now = next;
        }
        air.level += adds;
        levels.push((at, air.level));
    }
    levels
}
