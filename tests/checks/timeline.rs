//! The timeline beside the book: counts, moments and levels.

use crate::driver::{Conductor, built_in, plain};
use bittersweet_core::{
    act::Act,
    log::{Entry, What},
    rulebook::Agent,
    run::Run,
    scenarios::BUILT_IN,
    state::{About, State},
    timeline::{self, Stretch},
    units::Ms,
};

fn tests_of(run: &Run) -> Vec<Stretch> {
    let all = timeline::of(run.scenario(), run.state());
    all.into_iter().filter(|stretch| matches!(stretch.about, About::Test(_))).collect()
}

/// App. A I.B.3(b)(7) and (9), I.B.4(b)(7) and (9): initial squeezes by threshold, half of them every thirty seconds.
#[test]
fn the_book_has_75_150_or_225_squeezes_in_seven_minutes() {
    for (tastes_after, squeezes) in [(7, 75), (14, 150), (24, 225)] {
        for agent in [Agent::Sweet, Agent::Bitter] {
            let scenario = plain(agent, |loose| loose.wearer.tastes_after = Some(tastes_after));
            let [test] = &tests_of(&Conductor::by_the_book(&scenario))[..] else { panic!("one test") };
            assert_eq!(test.book.due.iter().map(|(_, count)| *count).sum::<u32>(), squeezes, "{agent:?}");
            assert_eq!(test.sets.iter().map(|set| set.given).sum::<u32>(), squeezes, "{agent:?}");
            let (first, last) = (test.book.exercises[0], test.book.exercises[6]);
            assert_eq!(last.to.since(first.from), Ms::mins(7));
        }
    }
}

#[test]
fn a_run_by_the_book_has_in_each_set_what_was_asked() {
    let mut sets = 0;
    for (id, _) in BUILT_IN.iter().filter(|(id, _)| !id.starts_with("watch-")) {
        let run = Conductor::by_the_book(&built_in(id));
        // Those that went through to the end: elsewhere a set may have been broken off.
        for test in tests_of(&run).iter().filter(|test| test.exercises.len() == 7) {
            for set in &test.sets {
                sets += 1;
                let from = set.from.unwrap_or_else(|| panic!("{id}: none at {}", set.due));
                assert_eq!(Some(set.given), set.asked, "{id} at {}", set.due);
                assert!(from.since(set.due) <= Ms::secs(5), "{id} at {}", set.due);
            }
        }
    }
    assert!(sets >= 14 * 10, "{sets}");
}

/// The teaching model's own checks: half of the first squeezes just before each replenishment, all of them after it.
#[test]
fn the_books_level_falls_to_half_and_is_made_up_again() {
    let run = Conductor::by_the_book(&built_in("grinding-shop"));
    let [test] = &tests_of(&run)[..] else { panic!("one test") };
    let levels = timeline::level_by_the_book(run.scenario(), test, Ms::secs(1));
    let (_, initial) = test.book.due[0];
    let initial = f64::from(initial);
    // The squeezes themselves take seconds in which the level falls, so the figures are near these and not at them.
    for (due, _) in &test.book.due[1..] {
        let before = levels.iter().rfind(|(at, _)| at < due).expect("a level before").1;
        let after = levels.iter().rfind(|(at, _)| *at <= due.plus(Ms(3_000))).expect("a level after").1;
        assert!((before / initial - 0.5).abs() < 0.08, "{due}: {before}");
        assert!((after / initial - 1.0).abs() < 0.12, "{due}: {after}");
    }
}

#[test]
fn the_level_that_is_drawn_is_the_level_of_the_run() {
    let run = Conductor::by_the_book(&built_in("bakery"));
    let strength = f64::from(run.scenario().rulebook().solution.strength_milli) / 1_000.0;
    for test in tests_of(&run) {
        let levels = timeline::levels(&run, &test, Ms::secs(2));
        assert!(levels.windows(2).all(|pair| pair[0].at <= pair[1].at));
        assert_eq!((levels[0].at, levels[levels.len() - 1].at), (test.from, test.to));
        for moment in (test.from.0..test.to.0).step_by(7_321).map(Ms) {
            let drawn = levels.iter().rfind(|level| level.at <= moment).expect("a level");
            let there = run.until(drawn.at);
            assert!((there.mist() / strength - drawn.hood).abs() < 1e-9, "{moment}");
            assert!(drawn.mask <= drawn.hood, "a facepiece lets in no more than there is");
        }
    }
}

/// The law of an earlier moment: it shows what the whole run showed up to then.
#[test]
fn an_earlier_moment_is_the_beginning_of_the_run() {
    for (id, _) in BUILT_IN.iter().filter(|(id, _)| !id.starts_with("watch-")) {
        let run = Conductor::by_the_book(&built_in(id));
        let end = run.now();
        for moment in (0..=end.0).step_by(17_003).map(Ms).chain([end]) {
            let earlier = run.until(moment);
            assert_eq!(earlier.now(), moment, "{id}");
            let known = |log: &[Entry]| -> Vec<Entry> {
                let is_wait = |entry: &Entry| matches!(entry.what, What::Act(Act::Wait(_)));
                log.iter().filter(|entry| entry.at <= moment && !is_wait(entry)).copied().collect()
            };
            assert_eq!(known(earlier.log()), known(run.log()), "{id} at {moment}");
        }
        assert_eq!(run.until(end).log(), run.log(), "{id}");
        assert_eq!(*run.until(end).state(), State::of(run.scenario().agent, run.log()), "{id}");
    }
}
