//! People and leaks, as the teaching model has them, and how a whole test method would do on them.
//!
//! Sums over fixed nodes, no sampling: the same figures everywhere and always. They are about invented crowds, never about
//! anybody's fit.

use crate::{
    accuracy::Table,
    act::{Exercise, Threshold},
    course::{Course, EXERCISES, Strongest, leak},
    model::Parameters,
    motion::{Air, Motion},
    noticing,
    rulebook::Rulebook,
    taste::{QUESTION_S, RAPID_S},
};

/// The classes from which one can be tested.
pub const CLASSES: [Threshold; 3] = [Threshold::Ten, Threshold::Twenty, Threshold::Thirty];

/// How leaks are spread over the exercises, and the share of leaks of each kind: most are the same throughout, some open in
/// one exercise. The shares are an assumption; that talking is hard on the fit is published in a study of 225 people.
pub const LEAKS: [(Option<Exercise>, f64); 4] = [
    (None, 0.55),
    (Some(Exercise::HeadUpDown), 0.10),
    (Some(Exercise::Talking), 0.20),
    (Some(Exercise::Bending), 0.15),
];

/// Somebody's threshold in a sitting, and how many people have it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Node {
    /// The threshold, in squeeze-seconds.
    pub threshold: f64,
    /// The share of all people.
    pub share: f64,
}

/// How many thresholds stand for all people.
pub const THRESHOLDS: usize = 41;

/// How many fit factors stand for all fits.
pub const FITS: usize = 161;

/// Nodes of a standard normal distribution from -4 to 4 with their shares, which add up to 1.
fn normal(count: usize) -> impl Iterator<Item = (f64, f64)> {
    let last = count.saturating_sub(1).max(1);
    let at = move |number: usize| as_f64(number) / as_f64(last) * 8.0 - 4.0;
    let density = |z: f64| libm::exp(-z * z / 2.0);
    let total: f64 = (0..count).map(|number| density(at(number))).sum();
    (0..count).map(move |number| (at(number), density(at(number)) / total))
}

fn as_f64(count: usize) -> f64 {
    f64::from(u32::try_from(count).unwrap_or(u32::MAX))
}

/// The strongest taste in each set of a usual screening, bare-faced: ten rapid squeezes, then a question.
#[must_use]
pub fn screening(motion: &Motion, book: &Rulebook) -> [f64; 3] {
    let mut air = Air::default();
    core::array::from_fn(|_| {
        let mut most: f64 = air.gathered;
        for squeeze in 1..=book.numbers.set {
            air.level += 1.0;
            let lasts = if squeeze == book.numbers.set { RAPID_S + QUESTION_S } else { RAPID_S };
            most = most.max(motion.strongest(air, 1.0, lasts));
            air = motion.after(air, 1.0, lasts);
        }
        most
    })
}

/// All people's thresholds.
#[must_use]
pub fn thresholds(parameters: &Parameters, sets: &[f64; 3]) -> Vec<Node> {
    let [first, ..] = sets;
    let spread = libm::log(parameters.threshold_spread);
    normal(THRESHOLDS)
        .map(|(z, share)| Node { threshold: first * parameters.threshold_median * libm::exp(spread * z), share })
        .collect()
}

/// The chance that somebody with this threshold first tastes it in the first, second, third set of a screening.
#[must_use]
pub fn classes(parameters: &Parameters, sets: &[f64; 3], threshold: f64) -> [f64; 3] {
    let mut left = 1.0;
    sets.map(|strongest| {
        let here = left * noticing::chance(strongest / threshold, parameters.slope);
        left -= here;
        here
    })
}

/// The chance that a test is never answered by a taste: `strongest` is that of a leak of the whole hood's level,
/// `fit_factor` what the facepiece keeps out.
#[must_use]
pub fn unheard(parameters: &Parameters, strongest: &Strongest, threshold: f64, fit_factor: f64) -> f64 {
    unheard_from(parameters, impression(parameters, strongest), threshold, fit_factor)
}

/// The exponents of all exercises together, for a threshold of 1 and a fit factor of 1: since
/// `(u / threshold)^slope = u^slope * threshold^-slope`, one power an exercise serves all people.
#[must_use]
pub fn impression(parameters: &Parameters, strongest: &Strongest) -> f64 {
    (0..EXERCISES)
        .zip(strongest)
        .map(|(place, taste)| {
            let tired = 1.0 + parameters.tiring * as_f64(place);
            libm::pow(parameters.reach * taste / tired, parameters.slope)
        })
        .sum()
}

/// As [`unheard`], from an [`impression`].
#[must_use]
pub fn unheard_from(parameters: &Parameters, impression: f64, threshold: f64, fit_factor: f64) -> f64 {
    let all = impression * libm::pow(threshold * fit_factor, -parameters.slope);
    let unnoticed = libm::exp(-core::f64::consts::LN_2 * all);
    (parameters.lapse + (1.0 - parameters.lapse) * unnoticed) * (1.0 - parameters.false_report)
}

/// How a test by the book would do on everybody who could be tested.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trial {
    /// The share of all people who taste it within the first, second, third set, and not at all.
    pub split: [f64; 4],
    /// Of everybody tested, by what the test said and what the fit is.
    pub table: Table,
    /// Of fits below 10, the share passed.
    pub passed_below_10: f64,
}

/// Tries the method out by the book, over all people and fits. A fit is poor below a fit factor of 100.
#[must_use]
pub fn trial(parameters: &Parameters, book: &Rulebook) -> Trial {
    let motion = parameters.motion();
    let sets = screening(&motion, book);
    let people = thresholds(parameters, &sets);
    let mut split = [0.0; 4];
    let mut table = Table::default();
    let (mut below_10, mut passed_below_10) = (0.0, 0.0);
    let fits: Vec<(f64, f64)> = normal(FITS)
        .map(|(z, share)| (parameters.fit_median * libm::exp(libm::log(parameters.fit_spread) * z), share))
        .collect();
    // What a class and a kind of leak bring is worked out once for all people and fits.
    let brought = CLASSES.map(|class| {
        let course = Course::by_the_book(book, class).unwrap_or_default();
        LEAKS.map(|(opens, share)| (impression(parameters, &course.strongest(&motion, &leak(opens))), share))
    });
    for person in &people {
        let classed = classes(parameters, &sets, person.threshold);
        let [ten, twenty, thirty, none] = &mut split;
        for (sum, class) in [ten, twenty, thirty].into_iter().zip(classed) {
            *sum += person.share * class;
        }
        *none += person.share * (1.0 - classed.iter().sum::<f64>());
        for (class, leaks) in classed.iter().zip(&brought) {
            for (fit, share) in &fits {
                let of_all = person.share * class * share;
                let passes: f64 = leaks
                    .iter()
                    .map(|(impression, share)| share * unheard_from(parameters, *impression, person.threshold, *fit))
                    .sum();
                let Table { a, b, c, d } = &mut table;
                let (failed, passed) = if *fit < 100.0 { (a, c) } else { (b, d) };
                *failed += of_all * (1.0 - passes);
                *passed += of_all * passes;
                if *fit < 10.0 {
                    below_10 += of_all;
                    passed_below_10 += of_all * passes;
                }
            }
        }
    }
    let tested = table.a + table.b + table.c + table.d;
    let share = |part: f64| part / tested;
    let table = Table { a: share(table.a), b: share(table.b), c: share(table.c), d: share(table.d) };
    Trial { split, table, passed_below_10: passed_below_10 / below_10 }
}

/// The chance that a leak of fixed size is noticed, over all who can be tested and over leaks whose fit factors are lognormal
/// about `median` with geometric standard deviation `spread`, in the first `minutes` exercises of a test by the book.
#[must_use]
pub fn fixed_leak(parameters: &Parameters, book: &Rulebook, median: f64, spread: f64, minutes: usize) -> f64 {
    let motion = parameters.motion();
    let sets = screening(&motion, book);
    let (mut noticed, mut tested) = (0.0, 0.0);
    for (class, place) in CLASSES.iter().zip(0_usize..) {
        let mut strongest = Course::by_the_book(book, *class).unwrap_or_default().strongest(&motion, &leak(None));
        strongest.iter_mut().skip(minutes).for_each(|taste| *taste = 0.0);
        let brought = impression(parameters, &strongest);
        for person in thresholds(parameters, &sets) {
            let classed = classes(parameters, &sets, person.threshold).get(place).copied().unwrap_or_default();
            for (z, share) in normal(THRESHOLDS) {
                let fit = median * libm::exp(libm::log(spread) * z);
                let of_all = person.share * classed * share;
                tested += of_all;
                noticed += of_all * (1.0 - unheard_from(parameters, brought, person.threshold, fit));
            }
        }
    }
    noticed / tested
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{model::Set, rulebook::Agent};

    #[test]
    fn everybody_is_counted_once() {
        for agent in Agent::ALL.iter().copied() {
            for set in Set::ALL.iter().copied() {
                let trial = trial(Parameters::of(agent, set), Rulebook::us(agent));
                assert!((trial.split.iter().sum::<f64>() - 1.0).abs() < 1e-12);
                let Table { a, b, c, d } = trial.table;
                assert!((a + b + c + d - 1.0).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_well_fitted_honest_wearer_reports_at_the_stated_rate() {
        // Whatever the number of breaths: false reports are by sitting.
        for agent in Agent::ALL.iter().copied() {
            let parameters = Parameters::of(agent, Set::Less);
            let course = Course::by_the_book(Rulebook::us(agent), Threshold::Ten).unwrap();
            let strongest = course.strongest(&parameters.motion(), &leak(None));
            let reports = 1.0 - unheard(parameters, &strongest, 1e9, 1e9);
            assert!((reports - parameters.false_report).abs() < 1e-12);
        }
    }

    #[test]
    fn better_fits_and_duller_tongues_are_heard_no_oftener() {
        let parameters = Parameters::of(Agent::Bitter, Set::Accepted);
        let course = Course::by_the_book(Rulebook::us(Agent::Bitter), Threshold::Twenty).unwrap();
        let strongest = course.strongest(&parameters.motion(), &leak(None));
        let by = |count: u32, chance: &dyn Fn(f64) -> f64| {
            (1..=count).map(|step| chance(f64::from(step) * 25.0)).collect::<Vec<_>>()
        };
        assert!(by(80, &|fit| unheard(parameters, &strongest, 60.0, fit)).is_sorted());
        assert!(by(80, &|threshold| unheard(parameters, &strongest, threshold, 100.0)).is_sorted());
    }
}
