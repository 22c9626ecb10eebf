//! The two risk figures: which way they may move, on any input. The rows are those of the model's own table of checks.

use bittersweet_core::{
    act::Threshold,
    course::Course,
    model::{Parameters, Set},
    risk::{self, Chances, Tested},
    rulebook::{Agent, Rulebook},
};
use rand::{RngExt as _, SeedableRng as _};
use rand_pcg::Pcg32;

const CLASSES: [Threshold; 3] = [Threshold::Ten, Threshold::Twenty, Threshold::Thirty];

/// As good as equal: what rounding leaves.
const ROUNDING: f64 = 1e-12;

fn by_the_book(agent: Agent, class: Threshold) -> Course {
    Course::by_the_book(Rulebook::us(agent), class).expect("a class to test from")
}

fn figures(agent: Agent, set: Set, course: &Course, class: Option<Threshold>) -> risk::Compared {
    let tested = Tested { course: course.clone(), class, led_to_yes: false, led_to_no: false };
    risk::compare(Parameters::of(agent, set), Rulebook::us(agent), &tested)
}

/// Runs a check for each agent, set and class, with a generator of its own.
fn each(rounds: u32, mut check: impl FnMut(&mut Pcg32, Agent, Set, Threshold)) {
    let mut random = Pcg32::seed_from_u64(134);
    for _ in 0..rounds {
        for agent in Agent::ALL.iter().copied() {
            for set in Set::ALL.iter().copied() {
                for class in CLASSES {
                    check(&mut random, agent, set, class);
                }
            }
        }
    }
}

/// A course with replenishments left out, late or short, and exercises cut or left out, as it comes.
fn worse(random: &mut Pcg32, course: &Course) -> Course {
    let mut worse = course.clone();
    for place in &mut worse.exercises {
        let Some(stretch) = place else { continue };
        match random.random_range(0..8) {
            0 => *place = None,
            1 => {
                stretch.lasts_s *= random.random_range(0.0..1.0);
                stretch.until_next_s = stretch.lasts_s;
                let to = stretch.until_next_s;
                stretch.puffs.retain(|(at, _)| *at < to);
            }
            2 => stretch.puffs.retain(|(at, _)| *at < 29.0),
            3 => stretch.puffs.clear(),
            4 => {
                let late = random.random_range(0.0..40.0);
                stretch.puffs.iter_mut().for_each(|(at, _)| *at += late);
                let to = stretch.until_next_s;
                stretch.puffs.retain(|(at, _)| *at < to);
            }
            5 => stretch.shut.push((random.random_range(0.0..30.0), random.random_range(30.0..60.0))),
            _ => {}
        }
    }
    worse
}

#[test]
fn by_the_book_both_arms_are_alike() {
    each(1, |_, agent, set, class| {
        let found = figures(agent, set, &by_the_book(agent, class), Some(class));
        assert!((found.ran.poor_missed - found.book.poor_missed).abs() < ROUNDING, "{found:?}");
        assert!((found.ran.good_failed - found.book.good_failed).abs() < ROUNDING, "{found:?}");
        assert!(found.book.poor_missed > 0.0 && found.book.poor_missed < 0.6, "{found:?}");
    });
}

#[test]
fn nothing_missed_late_or_cut_makes_fewer_poor_fits_be_missed() {
    each(40, |random, agent, set, class| {
        let course = worse(random, &by_the_book(agent, class));
        let found = figures(agent, set, &course, Some(class));
        assert!(found.ran.poor_missed >= found.book.poor_missed - ROUNDING, "{found:?} for {course:?}");
    });
}

#[test]
fn one_more_replenishment_missed_never_helps() {
    each(20, |random, agent, set, class| {
        let course = worse(random, &by_the_book(agent, class));
        let mut less = course.clone();
        let place = random.random_range(0..7);
        if let Some(stretch) = &mut less.exercises[place] {
            stretch.puffs.retain(|(at, _)| *at < 29.0);
        }
        let (before, after) = (figures(agent, set, &course, Some(class)), figures(agent, set, &less, Some(class)));
        assert!(after.ran.poor_missed >= before.ran.poor_missed - ROUNDING, "{before:?} {after:?}");
        assert!(after.ran.good_failed <= before.ran.good_failed + ROUNDING, "{before:?} {after:?}");
    });
}

#[test]
fn a_missed_replenishment_is_felt() {
    each(1, |_, agent, set, class| {
        let mut course = by_the_book(agent, class);
        course.exercises.iter_mut().flatten().for_each(|stretch| stretch.puffs.clear());
        let found = figures(agent, set, &course, Some(class));
        assert!(found.ran.poor_missed > found.book.poor_missed * 1.05, "{agent:?} {set:?} {class:?} {found:?}");
    });
}

#[test]
fn full_instead_of_half_fails_no_fewer_good_fits() {
    each(4, |random, agent, set, class| {
        let course = by_the_book(agent, class);
        let mut over = course.clone();
        for stretch in over.exercises.iter_mut().flatten().filter(|_| random.random_bool(0.5)) {
            stretch.puffs = stretch.puffs.iter().flat_map(|puff| [*puff, *puff]).collect();
        }
        let (half, full) = (figures(agent, set, &course, Some(class)), figures(agent, set, &over, Some(class)));
        assert!(full.ran.good_failed >= half.ran.good_failed - ROUNDING);
        // And it earns nothing.
        assert!(full.ran.poor_missed >= half.ran.poor_missed - ROUNDING);
    });
}

#[test]
fn leading_questions_cost_what_they_lead_to() {
    each(1, |_, agent, set, class| {
        let of = |led_to_yes, led_to_no| -> Chances {
            let tested = Tested { course: by_the_book(agent, class), class: Some(class), led_to_yes, led_to_no };
            risk::compare(Parameters::of(agent, set), Rulebook::us(agent), &tested).ran
        };
        assert!(of(true, false).good_failed > of(false, false).good_failed);
        assert!(of(false, true).poor_missed > of(false, false).poor_missed);
    });
}

#[test]
fn screening_skipped_misses_more_poor_fits() {
    for agent in Agent::ALL.iter().copied() {
        for set in Set::ALL.iter().copied() {
            let skipped = figures(agent, set, &by_the_book(agent, Threshold::Ten), None);
            assert!(skipped.ran.poor_missed > skipped.book.poor_missed + 0.01, "{agent:?} {set:?} {skipped:?}");
        }
    }
}

#[test]
fn a_higher_threshold_from_the_same_squeezes_is_heard_no_oftener() {
    // Ten squeezes for somebody whose class is twenty.
    each(1, |_, agent, set, class| {
        if class == Threshold::Ten {
            return;
        }
        let found = figures(agent, set, &by_the_book(agent, Threshold::Ten), Some(class));
        assert!(found.ran.poor_missed > found.book.poor_missed, "{found:?}");
    });
}
