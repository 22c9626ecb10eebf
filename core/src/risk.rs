//! What a test's departures did to the chance of missing a poor fit, and of failing a good one.
//!
//! Always the two figures together, for the acts made and for the acts by the book, over the same invented people and
//! leaks. The figures are about crowds and about the method: they predict nobody's fit, and a spoilt test is invalid
//! whatever they say.

use crate::{
    act::{Manner, Threshold},
    attempt::Common,
    course::{Course, leak},
    model::Parameters,
    population::{self, CLASSES, LEAKS},
    rulebook::Rulebook,
};

/// Fit factors that stand for poor fits.
pub const POOR: [f64; 3] = [20.0, 50.0, 90.0];

/// Fit factors that stand for good fits.
pub const GOOD: [f64; 3] = [200.0, 500.0, 2_000.0];

/// A fit test as far as the figures depend on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Tested {
    /// What went on in the hood.
    pub course: Course,
    /// The threshold that a sound screening gave; `None` where screening was skipped or spoilt, so that it says nothing.
    pub class: Option<Threshold>,
    /// Whether a question led towards yes.
    pub led_to_yes: bool,
    /// Whether a question led towards no.
    pub led_to_no: bool,
}

impl Tested {
    /// A test with these questions.
    #[must_use]
    pub fn new(course: Course, class: Option<Threshold>, common: &Common) -> Self {
        let led = |manner: Manner| common.questions.iter().any(|question| question.manner == manner);
        Self { course, class, led_to_yes: led(Manner::TowardsYes), led_to_no: led(Manner::TowardsNo) }
    }
}

/// The two figures, which are never shown apart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Chances {
    /// The chance that somebody with a poor fit is never heard.
    pub poor_missed: f64,
    /// The chance that somebody with a good fit is failed.
    pub good_failed: f64,
}

/// As it was run, and by the book.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Compared {
    /// For the acts made.
    pub ran: Chances,
    /// For the acts by the book.
    pub book: Chances,
}

/// Compares a test with the same test by the book, under one set of parameters.
///
/// For poor fits no more aerosol is counted than the book gives at any moment, so that a departure never looks like a gain;
/// for good fits all of it counts.
#[must_use]
pub fn compare(parameters: &Parameters, book: &Rulebook, tested: &Tested) -> Compared {
    let motion = parameters.motion();
    let sets = population::screening(&motion, book);
    let people = population::thresholds(parameters, &sets);
    let mut compared = Compared::default();
    let mut weight = 0.0;
    for (place, class) in
        CLASSES.iter().enumerate().filter(|(_, class)| tested.class.is_none_or(|noted| noted == **class))
    {
        let by_book = Course::by_the_book(book, *class).unwrap_or_default();
        for (opens, of_leaks) in LEAKS {
            let wide = leak(opens);
            let as_book = population::impression(parameters, &by_book.strongest(&motion, &wide));
            let within = tested.course.strongest_within(&by_book, &motion, &wide);
            let ran_poor = population::impression(parameters, &within);
            let ran_good = population::impression(parameters, &tested.course.strongest(&motion, &wide));
            for person in &people {
                let classed = population::classes(parameters, &sets, person.threshold);
                let share = person.share * of_leaks * classed.get(place).copied().unwrap_or_default();
                let unheard = |impression: f64, fits: [f64; 3]| {
                    fits.iter()
                        .map(|fit| population::unheard_from(parameters, impression, person.threshold, *fit))
                        .sum::<f64>()
                        / 3.0
                };
                weight += share;
                compared.book.poor_missed += share * unheard(as_book, POOR);
                compared.book.good_failed += share * (1.0 - unheard(as_book, GOOD));
                compared.ran.poor_missed += share * unheard(ran_poor, POOR);
                compared.ran.good_failed += share * (1.0 - unheard(ran_good, GOOD));
            }
        }
    }
    if weight > 0.0 {
        for chances in [&mut compared.ran, &mut compared.book] {
            chances.poor_missed /= weight;
            chances.good_failed /= weight;
        }
    }
    if tested.class.is_none() {
        untasting(parameters, &sets, &people, &mut compared);
    }
    let go_along = |chance: f64, led: bool| if led { chance + (1.0 - chance) * parameters.suggestible } else { chance };
    compared.ran.poor_missed = go_along(compared.ran.poor_missed, tested.led_to_no);
    compared.ran.good_failed = go_along(compared.ran.good_failed, tested.led_to_yes);
    compared
}

/// Where screening says nothing, those who cannot taste the agent are tested too. They are never heard; by the book they would
/// not have been tested.
fn untasting(parameters: &Parameters, sets: &[f64; 3], people: &[population::Node], compared: &mut Compared) {
    let none: f64 = people
        .iter()
        .map(|person| {
            person.share * (1.0 - population::classes(parameters, sets, person.threshold).iter().sum::<f64>())
        })
        .sum();
    let silent = 1.0 - parameters.false_report;
    compared.ran.poor_missed = (1.0 - none) * compared.ran.poor_missed + none * silent;
    compared.ran.good_failed = (1.0 - none) * compared.ran.good_failed + none * (1.0 - silent);
    compared.book.poor_missed *= 1.0 - none;
    compared.book.good_failed *= 1.0 - none;
}
