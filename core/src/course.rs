//! What the hood and the mouth went through in one fit test, as the teaching model needs it: puffs and stretches.
//!
//! It knows nothing of people: who would have noticed is [`crate::population`]'s and [`crate::risk`]'s.

use crate::{
    act::{Exercise, Threshold},
    attempt::FitTest,
    motion::{Air, Motion},
    rounds,
    rulebook::{Numbers, Rulebook},
    sign::Seen,
    taste::{RAPID, RAPID_S},
    units::Ms,
};

/// How many exercises a taste test has.
pub const EXERCISES: usize = 7;

/// A stretch of the test: the initial squeezes, or one exercise with whatever follows it up to the next.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stretch {
    /// How long it lasts, s. Of a longer one than the book's only the first part counts where it is compared.
    pub lasts_s: f64,
    /// How long it would have to the next one's beginning, s.
    pub until_next_s: f64,
    /// What each puff adds to the level in the hood, in squeezes of check solution, and when: seconds from the beginning
    /// of the stretch.
    pub puffs: Vec<(f64, f64)>,
    /// When the mouth was shut, in seconds from the beginning: from, to.
    pub shut: Vec<(f64, f64)>,
}

/// A whole fit test: first the initial squeezes, then the seven exercises, `None` where one was left out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Course {
    /// The initial squeezes.
    pub initial: Stretch,
    /// The exercises by their place among the seven, whatever the order in which they were done.
    pub exercises: [Option<Stretch>; EXERCISES],
}

/// The strongest taste in each exercise, in squeeze-seconds, for a leak that lets in all of the hood's level (a fit factor
/// of 1); the initial squeezes count to the first. Divided by a fit factor it is that wearer's.
pub type Strongest = [f64; EXERCISES];

impl Course {
    /// A test by the book after this threshold; `None` where there is nothing to test from.
    #[must_use]
    pub fn by_the_book(book: &Rulebook, threshold: Threshold) -> Option<Self> {
        let strength = f64::from(book.solution.strength_milli) / 1_000.0;
        let (first, later) = (book.initial(threshold)?, book.replenishment(threshold)?);
        let rapid = |count: u32, from: f64| (0..count).map(move |n| (from + f64::from(n) * RAPID_S, strength));
        let length = book.numbers.exercise.as_secs();
        let every = book.numbers.replenish_every.as_secs();
        let initial_s = f64::from(first) * RAPID_S;
        let initial = Stretch {
            lasts_s: initial_s,
            until_next_s: initial_s,
            puffs: rapid(first, 0.0).collect(),
            shut: Vec::new(),
        };
        // The first replenishment is due half a minute into the first exercise, the next with the second, and so on.
        let exercises = core::array::from_fn(|place| {
            let at_once = if place == 0 { 0 } else { later };
            let puffs = rapid(at_once, 0.0).chain(rapid(later, every)).collect();
            Some(Stretch { lasts_s: length, until_next_s: length, puffs, shut: Vec::new() })
        });
        Some(Self { initial, exercises })
    }

    /// The test that was run: `puffs` is what each squeeze really brought into the hood.
    ///
    /// What the judge lets pass as prompt counts as on time, and an exercise that it lets pass as a minute counts as one: the
    /// model is not finer than the rule.
    #[must_use]
    pub fn of(book: &Rulebook, test: &FitTest, puffs: &[(Ms, f64)], now: Ms) -> Self {
        let numbers = &book.numbers;
        let end = test.common.closed.unwrap_or(now).min(test.hood_off.unwrap_or(now));
        let begun = test.begun().unwrap_or(end);
        let puffs = on_time(numbers, test, (begun, end), puffs);
        let within = |from: Ms, to: Ms| -> Vec<(f64, f64)> {
            let here = puffs.iter().filter(|(at, _)| *at >= from && *at < to);
            here.map(|(at, level)| (at.since(from).as_secs(), *level)).collect()
        };
        let first = puffs.first().map_or(begun, |(at, _)| *at).clamp(test.common.from, begun);
        let until_first = begun.since(first).as_secs();
        let initial =
            Stretch { lasts_s: until_first, until_next_s: until_first, puffs: within(first, begun), shut: Vec::new() };
        let mut exercises = [const { None }; EXERCISES];
        // Where it begins if each minute before it counts as one.
        let mut from = begun;
        for (number, done) in test.exercises.iter().enumerate() {
            let next = test.exercises.get(number + 1).map_or(end, |next| next.from);
            let to = done.to.unwrap_or(next).min(next);
            let as_a_minute = |length: Ms| {
                if length >= numbers.exercise_slack && length <= numbers.exercise_long {
                    numbers.exercise
                } else {
                    length
                }
            };
            let (lasts, until_next) = (as_a_minute(to.since(done.from)), as_a_minute(next.since(done.from)));
            let place = done.exercise.place();
            if let Some(free) = place.and_then(|place| exercises.get_mut(place)).filter(|place| place.is_none()) {
                *free = Some(Stretch {
                    lasts_s: lasts.as_secs(),
                    until_next_s: until_next.as_secs(),
                    puffs: within(from, from.plus(until_next)),
                    shut: shut(test, done.from, next),
                });
            }
            from = from.plus(until_next);
        }
        Self { initial, exercises }
    }

    /// All its stretches.
    pub(crate) fn stretches(&self) -> impl Iterator<Item = &Stretch> {
        [&self.initial].into_iter().chain(self.exercises.iter().flatten())
    }

    /// All its stretches, to change them.
    pub(crate) fn stretches_mut(&mut self) -> impl Iterator<Item = &mut Stretch> {
        [&mut self.initial].into_iter().chain(self.exercises.iter_mut().flatten())
    }

    /// This test, decided before its end, gone on with by the book: what was not reached is the book's.
    #[must_use]
    pub fn gone_on(mut self, book: &Self) -> Self {
        let Some(reached) = self.exercises.iter().rposition(Option::is_some) else { return book.clone() };
        for (place, (ours, theirs)) in self.exercises.iter_mut().zip(&book.exercises).enumerate() {
            match (ours, theirs) {
                (Some(ours), Some(theirs)) if place == reached && ours.until_next_s < theirs.until_next_s => {
                    let left = ours.until_next_s;
                    ours.puffs.extend(theirs.puffs.iter().filter(|(at, _)| *at >= left));
                    (ours.lasts_s, ours.until_next_s) = (theirs.lasts_s, theirs.until_next_s);
                }
                (ours, theirs) if place > reached => ours.clone_from(theirs),
                _ => {}
            }
        }
        self
    }

    /// The strongest taste in each exercise where `leak` says how much wider than on average the leak is open in it.
    #[must_use]
    pub fn strongest(&self, motion: &Motion, leak: &[f64; EXERCISES]) -> Strongest {
        let mut at = Air::default();
        let [first, ..] = leak;
        let mut most = run(motion, &self.initial, self.initial.until_next_s, *first, &mut at);
        let mut strongest = [0.0; EXERCISES];
        for ((exercise, open), found) in self.exercises.iter().zip(leak).zip(&mut strongest) {
            if let Some(stretch) = exercise {
                *found = run(motion, stretch, stretch.until_next_s, *open, &mut at).max(most);
            }
            most = 0.0;
        }
        strongest
    }

    /// The same, but nowhere more than by the book: at no moment of an exercise is more aerosol counted, and no exercise
    /// counts longer, than the book gives. So a departure never looks like a gain for finding leaks.
    #[must_use]
    pub fn strongest_within(&self, book: &Self, motion: &Motion, leak: &[f64; EXERCISES]) -> Strongest {
        let [first, ..] = leak;
        let mut three = Three::default();
        let mut most = three.run(motion, Some(&self.initial), Some(&book.initial), *first);
        let mut strongest = [0.0; EXERCISES];
        for (((ours, theirs), open), found) in self.exercises.iter().zip(&book.exercises).zip(leak).zip(&mut strongest)
        {
            *found = three.run(motion, ours.as_ref(), theirs.as_ref(), *open).max(most);
            most = 0.0;
        }
        strongest
    }
}

/// Puffs as they count: those of a prompt set begin when they were due, and the initial ones end where the first exercise
/// begins if it followed promptly.
fn on_time(numbers: &Numbers, test: &FitTest, (begun, end): (Ms, Ms), puffs: &[(Ms, f64)]) -> Vec<(Ms, f64)> {
    let slack = numbers.replenish_slack;
    let initial = puffs.iter().rfind(|(at, _)| *at <= begun).map(|(at, _)| at.plus(RAPID));
    let idle = initial.map(|ended| begun.since(ended)).filter(|idle| *idle <= slack);
    let sets: Vec<(Ms, Ms, Ms)> = rounds::later(numbers, test, end)
        .into_iter()
        .filter_map(|round| Some((round.given.first()?.at, round.given.last()?.at, round.due)))
        .filter(|(first, _, due)| first.since(*due).max(due.since(*first)) <= slack)
        .collect();
    puffs
        .iter()
        .map(|(at, level)| {
            let set = sets.iter().find(|(first, last, _)| at >= first && at <= last);
            let counts = match (set, idle) {
                (Some((first, _, due)), _) => due.plus(at.since(*first)),
                (None, Some(idle)) if *at <= begun => at.plus(idle),
                _ => *at,
            };
            (counts, *level)
        })
        .collect()
}

/// When the mouth was shut within a stretch.
fn shut(test: &FitTest, from: Ms, to: Ms) -> Vec<(f64, f64)> {
    let mut closed: Option<Ms> = None;
    let mut times = Vec::new();
    let mut note = |since: Ms, until: Ms| {
        let (since, until) = (since.max(from), until.min(to));
        if until > since {
            times.push((since.since(from).as_secs(), until.since(from).as_secs()));
        }
    };
    for (at, seen) in test.common.signs.iter().copied() {
        match (seen, closed) {
            (Seen::MouthShuts, None) => closed = Some(at),
            (Seen::MouthOpens, Some(since)) => {
                note(since, at);
                closed = None;
            }
            _ => {}
        }
    }
    if let Some(since) = closed {
        note(since, to);
    }
    times
}

/// When something changes within `until` seconds of a stretch, in order, with what a puff adds then.
fn changes(stretch: &Stretch, until: f64) -> Vec<(f64, f64)> {
    let edges = stretch.shut.iter().flat_map(|(from, to)| [(*from, 0.0), (*to, 0.0)]);
    let mut changes: Vec<(f64, f64)> =
        stretch.puffs.iter().copied().chain(edges).filter(|(at, _)| *at < until).collect();
    changes.sort_unstable_by(|(one, _), (other, _)| one.total_cmp(other));
    changes
}

fn share(stretch: &Stretch, at: f64, open: f64) -> f64 {
    if stretch.shut.iter().any(|(from, to)| at >= *from && at < *to) { 0.0 } else { open }
}

/// Passes through a stretch and gives its strongest taste.
fn run(motion: &Motion, stretch: &Stretch, until: f64, open: f64, air: &mut Air) -> f64 {
    let mut most = air.gathered;
    let mut now = 0.0;
    let mut pass = |air: &mut Air, to: f64, now: &mut f64| {
        let reaches = share(stretch, *now, open);
        most = most.max(motion.strongest(*air, reaches, to - *now));
        *air = motion.after(*air, reaches, to - *now);
        *now = to;
    };
    for (at, adds) in changes(stretch, until) {
        pass(air, at, &mut now);
        air.level += adds;
    }
    pass(air, until, &mut now);
    most
}

/// The air `seconds` after the first of these stretches began, each with how wide the leak is open in it, and the strongest
/// taste since the one reached by then began.
#[must_use]
pub fn reached(stretches: &[(&Stretch, f64)], motion: &Motion, seconds: f64) -> (Air, f64) {
    let (mut air, mut most, mut left) = (Air::default(), 0.0, seconds);
    for (stretch, open) in stretches {
        most = run(motion, stretch, left.min(stretch.until_next_s), *open, &mut air);
        left -= stretch.until_next_s;
        if left < 0.0 {
            break;
        }
    }
    (air, most)
}

/// The run's air, the book's, and the lesser of both, which is what counts.
#[derive(Clone, Copy, Debug, Default)]
struct Three {
    ours: Air,
    book: Air,
    counted: f64,
}

impl Three {
    fn run(&mut self, motion: &Motion, ours: Option<&Stretch>, book: Option<&Stretch>, open: f64) -> f64 {
        let length = |stretch: Option<&Stretch>| stretch.map_or(0.0, |stretch| stretch.lasts_s);
        let both = length(ours).min(length(book));
        self.counted = self.counted.min(self.book.gathered);
        let mut most = if ours.is_some() { self.counted } else { 0.0 };
        if let (Some(ours), Some(book)) = (ours, book) {
            let tagged =
                |stretch, mine: bool| changes(stretch, both).into_iter().map(move |(at, adds)| (at, adds, mine));
            let mut all: Vec<(f64, f64, bool)> = tagged(ours, true).chain(tagged(book, false)).collect();
            all.sort_unstable_by(|(one, ..), (other, ..)| one.total_cmp(other));
            let mut now = 0.0;
            for (at, adds, mine) in all {
                most = most.max(self.pass(motion, ours, open, now, at));
                now = at;
                if mine {
                    self.ours.level += adds;
                } else {
                    self.book.level += adds;
                }
            }
            most = most.max(self.pass(motion, ours, open, now, both));
        }
        // What is left of either passes without counting.
        if let Some(stretch) = ours {
            rest(motion, stretch, both, open, &mut self.ours);
        }
        if let Some(stretch) = book {
            rest(motion, stretch, both, open, &mut self.book);
        }
        most
    }

    /// From `now` to `to`, with no change between: the level that counts is the lesser one, and decays as both do.
    fn pass(&mut self, motion: &Motion, ours: &Stretch, open: f64, now: f64, to: f64) -> f64 {
        let seconds = to - now;
        let reaches = share(ours, now, open);
        let lesser = Air { level: self.ours.level.min(self.book.level), gathered: self.counted };
        let most = motion.strongest(lesser, reaches, seconds);
        self.counted = motion.after(lesser, reaches, seconds).gathered;
        self.ours = motion.after(self.ours, reaches, seconds);
        self.book = motion.after(self.book, open, seconds);
        most
    }
}

/// The part of a stretch after `from`.
fn rest(motion: &Motion, stretch: &Stretch, from: f64, open: f64, air: &mut Air) {
    let mut now = from;
    for (at, adds) in changes(stretch, stretch.until_next_s).into_iter().filter(|(at, _)| *at >= from) {
        *air = motion.after(*air, share(stretch, now, open), at - now);
        air.level += adds;
        now = at;
    }
    *air = motion.after(*air, share(stretch, now, open), stretch.until_next_s - now);
}

/// How a leak is spread over the exercises: how much wider than its mean it is open in each. The means are 1, so the overall
/// fit factor stays what it is said to be.
#[must_use]
pub const fn leak(opens_in: Option<Exercise>) -> [f64; EXERCISES] {
    match opens_in {
        None => [1.0; EXERCISES],
        Some(Exercise::HeadUpDown) => [0.5, 0.5, 0.5, 4.0, 0.5, 0.5, 0.5],
        Some(Exercise::Talking) => [0.5, 0.5, 0.5, 0.5, 4.0, 0.5, 0.5],
        Some(Exercise::Bending) => [0.5, 0.5, 0.5, 0.5, 0.5, 4.0, 0.5],
        Some(Exercise::HeadSide) => [0.5, 0.5, 4.0, 0.5, 0.5, 0.5, 0.5],
        Some(Exercise::DeepBreathing) => [0.5, 4.0, 0.5, 0.5, 0.5, 0.5, 0.5],
        Some(Exercise::NormalBreathing | Exercise::NormalAgain | Exercise::Grimace | Exercise::Jogging) => {
            [1.0; EXERCISES]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        model::{Parameters, Set},
        rulebook::Agent,
    };

    fn each(check: impl Fn(&Course, &Motion, &Rulebook)) {
        for agent in Agent::ALL.iter().copied() {
            let book = Rulebook::us(agent);
            let motion = Parameters::of(agent, Set::Accepted).motion();
            for threshold in [Threshold::Ten, Threshold::Twenty, Threshold::Thirty] {
                check(&Course::by_the_book(book, threshold).unwrap(), &motion, book);
            }
        }
    }

    #[test]
    fn a_whole_test_has_75_150_or_225_squeezes() {
        // App. A I.B.3(b)(7) and (9): the initial squeezes and thirteen replenishments of half as many.
        for (threshold, squeezes) in [(Threshold::Ten, 75), (Threshold::Twenty, 150), (Threshold::Thirty, 225)] {
            let course = Course::by_the_book(Rulebook::us(Agent::Sweet), threshold).unwrap();
            let in_exercises: usize = course.exercises.iter().flatten().map(|stretch| stretch.puffs.len()).sum();
            assert_eq!(course.initial.puffs.len() + in_exercises, squeezes);
        }
    }

    #[test]
    fn what_is_reached_at_an_exercises_end_is_its_strongest() {
        each(|course, motion, _| {
            let leak = leak(Some(Exercise::Talking));
            let strongest = course.strongest(motion, &leak);
            let [first, ..] = leak;
            let exercises = course.exercises.iter().flatten().zip(leak);
            let all: Vec<(&Stretch, f64)> = [(&course.initial, first)].into_iter().chain(exercises).collect();
            for (place, strongest) in (0_u32..).zip(strongest).skip(1) {
                let end = course.initial.until_next_s + 60.0 * f64::from(place + 1);
                let (_, found) = reached(&all, motion, end - 1e-6);
                assert!((found - strongest).abs() < 1e-3 * strongest, "{place}: {found}, not {strongest}");
            }
        });
    }

    #[test]
    fn the_book_within_the_book_is_the_book() {
        each(|course, motion, _| {
            for opens in [None, Some(Exercise::Talking)] {
                let alone = course.strongest(motion, &leak(opens));
                let within = course.strongest_within(course, motion, &leak(opens));
                for (one, other) in alone.iter().zip(within) {
                    assert!((one - other).abs() < 1e-9 * one, "{one} and {other}");
                }
            }
        });
    }

    #[test]
    fn more_than_the_book_counts_for_no_more() {
        each(|course, motion, _| {
            let mut over = course.clone();
            for stretch in over.exercises.iter_mut().flatten() {
                for (_, level) in &mut stretch.puffs {
                    *level *= 2.0;
                }
            }
            let (book, counted) =
                (course.strongest(motion, &leak(None)), over.strongest_within(course, motion, &leak(None)));
            for (one, other) in book.iter().zip(counted) {
                assert!(other <= one * (1.0 + 1e-12));
            }
            let really = over.strongest(motion, &leak(None));
            assert!(really[6] > book[6] * 1.5);
        });
    }

    #[test]
    fn a_leak_is_open_as_wide_as_its_mean_says() {
        for opens in Exercise::ALL.iter().copied().map(Some).chain([None]) {
            assert!((leak(opens).iter().sum::<f64>() - 7.0).abs() < 1e-12);
        }
    }
}
