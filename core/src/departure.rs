//! What in a fit test was off the book, as far as the teaching model feels it, and the same test with one of these put right.

use crate::{
    act::{Exercise, Threshold},
    attempt::FitTest,
    course::{Course, EXERCISES, Stretch},
    risk::Tested,
    rulebook::{RuleId, Rulebook},
    units::Ms,
};

/// Rules about the initial squeezes.
const INITIAL: [RuleId; 5] =
    [RuleId::FitInitial, RuleId::FitMinimum, RuleId::FitInitialOver, RuleId::FitStart, RuleId::FitStartPrompt];

/// Rules about a replenishment.
const ROUND: [RuleId; 5] =
    [RuleId::FitTopUp, RuleId::FitTopUpPrompt, RuleId::FitHalf, RuleId::FitHalfOver, RuleId::FitSqueeze];

/// Rules about how long an exercise lasts.
const LENGTH: [RuleId; 3] = [RuleId::FitMinute, RuleId::FitMinuteNear, RuleId::FitLong];

/// One way in which a fit test was off the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Departure {
    /// Screening was skipped or spoilt, so that its threshold says nothing.
    Screening,
    /// Another threshold was noted than the screening showed.
    Threshold,
    /// The initial squeezes: too few, too many, or too long before the first exercise.
    Initial,
    /// The replenishments due in an exercise: left out, late, short or over.
    Replenishments(Exercise),
    /// An exercise cut short or drawn out.
    Length(Exercise),
    /// An exercise left out.
    LeftOut(Exercise),
    /// Less came out of the nebulizer than a squeeze should bring: pressed too fast, clogged, or filled with something else.
    Spray,
    /// The wearer kept the mouth shut.
    MouthShut,
    /// A question led towards yes.
    LedToYes,
    /// A question led towards no.
    LedToNo,
}

impl Departure {
    /// The code of its text, and the exercise it is about.
    #[must_use]
    pub const fn code(self) -> (&'static str, Option<Exercise>) {
        match self {
            Self::Screening => ("screening", None),
            Self::Threshold => ("threshold", None),
            Self::Initial => ("initial", None),
            Self::Replenishments(exercise) => ("replenishments", Some(exercise)),
            Self::Length(exercise) => ("length", Some(exercise)),
            Self::LeftOut(exercise) => ("left-out", Some(exercise)),
            Self::Spray => ("spray", None),
            Self::MouthShut => ("mouth-shut", None),
            Self::LedToYes => ("led-to-yes", None),
            Self::LedToNo => ("led-to-no", None),
        }
    }
}

/// A fit test, the book's, and the threshold from which both are counted.
#[derive(Clone, Debug)]
pub struct Beside<'a> {
    tested: &'a Tested,
    threshold: Threshold,
    course: Course,
    full: f64,
    shown_over_noted: f64,
    every_s: f64,
    lost_s: f64,
}

impl<'a> Beside<'a> {
    /// `tested` beside the book; `None` where the threshold is none to test from.
    #[must_use]
    pub fn new(book: &Rulebook, tested: &'a Tested, threshold: Threshold) -> Option<Self> {
        let course = Course::by_the_book(book, threshold)?;
        let (every_s, lost_s) = (book.numbers.replenish_every.as_secs(), book.numbers.replenish_lost.as_secs());
        let count = |threshold: Threshold| book.initial(threshold).map(f64::from);
        let shown = tested.class.and_then(count);
        Some(Self {
            tested,
            threshold,
            course,
            full: f64::from(book.solution.strength_milli) / 1_000.0,
            shown_over_noted: shown.zip(count(threshold)).map_or(1.0, |(shown, noted)| shown / noted),
            every_s,
            lost_s,
        })
    }

    /// Everything that was off, in the order of the test. What is prompt and what is whole is for the judge to say, so counts and
    /// moments are off where a rule about them was broken: `broken` are these rules with their times.
    #[must_use]
    pub fn departures(&self, test: &FitTest, broken: &[(RuleId, Ms)]) -> Vec<Departure> {
        let mut found = Vec::new();
        let mut note = |is_off: bool, departure: Departure| {
            if is_off && !found.contains(&departure) {
                found.push(departure);
            }
        };
        let course = &self.tested.course;
        let noted_otherwise = self.tested.class.is_some_and(|class| class != self.threshold);
        note(self.tested.class.is_none(), Departure::Screening);
        note(noted_otherwise, Departure::Threshold);
        let begun = test.begun().unwrap_or(test.common.from);
        let at_first = |(rule, at): &(RuleId, Ms)| INITIAL.contains(rule) || (ROUND.contains(rule) && *at <= begun);
        note(broken.iter().any(at_first), Departure::Initial);
        for (exercise, ours) in Exercise::SEVEN.iter().copied().zip(&course.exercises) {
            note(ours.is_none(), Departure::LeftOut(exercise));
            for done in test.exercises.iter().filter(|done| done.exercise.as_one_of_seven() == Some(exercise)) {
                let to = done.to.unwrap_or(Ms(u32::MAX));
                let in_it = |at: Ms| at > done.from && at <= to;
                let off = |rules: &[RuleId]| broken.iter().any(|(rule, at)| rules.contains(rule) && in_it(*at));
                note(off(&LENGTH), Departure::Length(exercise));
            }
            let is_its = |(rule, at): &(RuleId, Ms)| {
                ROUND.contains(rule) && *at > begun && self.round_in(*rule, at.since(begun)) == Some(exercise)
            };
            note(broken.iter().any(is_its), Departure::Replenishments(exercise));
        }
        let mut puffs = course.stretches().flat_map(|stretch| &stretch.puffs);
        note(puffs.any(|(_, adds)| self.is_weak(*adds)), Departure::Spray);
        note(course.stretches().any(|stretch| !stretch.shut.is_empty()), Departure::MouthShut);
        note(self.tested.led_to_yes, Departure::LedToYes);
        note(self.tested.led_to_no, Departure::LedToNo);
        found
    }

    /// In which exercise of the course, where a minute counts as one, the round lies that a rule was broken in.
    fn round_in(&self, rule: RuleId, since_begun: Ms) -> Option<Exercise> {
        // What was left out is found when its time is up; what was given, when it was begun.
        let found_late = if rule == RuleId::FitTopUp { self.lost_s } else { 0.0 };
        let due = libm::round((since_begun.as_secs() - found_late) / self.every_s) * self.every_s;
        let mut from = 0.0;
        for (exercise, stretch) in Exercise::SEVEN.iter().copied().zip(&self.tested.course.exercises) {
            let Some(stretch) = stretch else { continue };
            if due >= from && due < from + stretch.until_next_s {
                return Some(exercise);
            }
            from += stretch.until_next_s;
        }
        None
    }

    /// The same test with this put right, and nothing else.
    #[must_use]
    pub fn put_right(&self, departure: Departure) -> Tested {
        let mut better = self.tested.clone();
        match departure {
            Departure::Screening => better.class = Some(self.threshold),
            // Each set as it was given, in proportion to the threshold shown.
            Departure::Threshold => better
                .course
                .stretches_mut()
                .flat_map(|stretch| &mut stretch.puffs)
                .for_each(|(_, adds)| *adds *= self.shown_over_noted),
            Departure::Initial => better.course.initial = self.course.initial.clone(),
            Departure::Replenishments(exercise) => self.exchange(&mut better, exercise, |ours, theirs| {
                ours.puffs = up_to(theirs, ours.until_next_s).puffs;
            }),
            Departure::Length(exercise) => self.exchange(&mut better, exercise, |ours, theirs| {
                // What was due in the part that was cut comes with it.
                let cut = ours.until_next_s;
                ours.puffs.retain(|(at, _)| *at < theirs.until_next_s);
                ours.puffs.extend(theirs.puffs.iter().filter(|(at, _)| *at >= cut).copied());
                (ours.lasts_s, ours.until_next_s) = (theirs.lasts_s, theirs.until_next_s);
            }),
            Departure::LeftOut(exercise) => {
                let theirs = exercise.place().and_then(|place| at(&self.course.exercises, place));
                if let (Some(ours), Some(theirs)) =
                    (exercise.place().and_then(|place| better.course.exercises.get_mut(place)), theirs)
                {
                    *ours = Some(theirs.clone());
                }
            }
            Departure::Spray => better
                .course
                .stretches_mut()
                .flat_map(|stretch| &mut stretch.puffs)
                .filter(|(_, adds)| self.is_weak(*adds))
                .for_each(|(_, adds)| *adds = self.full),
            Departure::MouthShut => better.course.stretches_mut().for_each(|stretch| stretch.shut.clear()),
            Departure::LedToYes => better.led_to_yes = false,
            Departure::LedToNo => better.led_to_no = false,
        }
        better
    }

    fn is_weak(&self, adds: f64) -> bool {
        // Whole squeezes bring exactly what the recipe says.
        adds < self.full
    }

    fn exchange(&self, better: &mut Tested, exercise: Exercise, change: impl FnOnce(&mut Stretch, &Stretch)) {
        let place = exercise.place();
        let theirs = place.and_then(|place| at(&self.course.exercises, place));
        let ours = place.and_then(|place| better.course.exercises.get_mut(place)).and_then(Option::as_mut);
        if let (Some(ours), Some(theirs)) = (ours, theirs) {
            change(ours, theirs);
        }
    }
}

fn at(exercises: &[Option<Stretch>; EXERCISES], place: usize) -> Option<&Stretch> {
    exercises.get(place).and_then(Option::as_ref)
}

/// The book's exercise as far as it could have gone until the next one began.
fn up_to(theirs: &Stretch, until: f64) -> Stretch {
    let mut shorter = theirs.clone();
    shorter.puffs.retain(|(at, _)| *at < until);
    shorter
}
