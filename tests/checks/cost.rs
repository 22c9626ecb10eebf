//! What a whole run's departures cost: the figures that its review shows, on runs by the book and on runs with one thing off.

use crate::driver::{Conductor, built_in, changed};
use bittersweet_core::{
    act::{Act, Exercise, Manner, Threshold, Verdict},
    cost::{self, Cost, Void},
    departure::Departure,
    review::of_run,
    run::Run,
    scenarios::BUILT_IN,
    sign::Seen,
    units::Ms,
    wire::scenario_v1::TroubleV1,
};
use std::{cell::Cell, rc::Rc};

/// As good as equal: what rounding leaves.
const ROUNDING: f64 = 1e-12;

/// The run that these acts make; what cannot be any more is left out.
fn run_of(run: &Run, change: impl Fn(Ms, Act) -> Option<(Ms, Act)>) -> Run {
    let mut other = Run::new(Rc::clone(run.scenario()));
    for (at, act) in run.acts().filter_map(|(at, act)| change(at, act)) {
        // Later acts may depend on what was left out.
        let _ = other.apply(act, at);
    }
    other
}

fn costs(run: &Run) -> Vec<Cost> {
    cost::of(run, &of_run(run))
}

fn plain() -> Run {
    Conductor::by_the_book(&built_in("grinding-shop"))
}

/// When an exercise of the run's only test began.
fn begun(run: &Run, exercise: Exercise) -> Ms {
    run.acts().find(|(_, act)| *act == Act::Begin(exercise)).map(|(at, _)| at).expect("it was begun")
}

#[test]
fn a_run_by_the_book_cannot_be_told_from_the_book() {
    /// What a pause in the middle of the initial squeezes makes, as when somebody has to be told something.
    const PAUSES: f64 = 0.001;
    let mut passes = 0;
    for (id, _) in BUILT_IN.iter().filter(|(id, _)| !id.starts_with("watch-")) {
        for cost in costs(&Conductor::by_the_book(&built_in(id))) {
            let figures = cost.figures();
            assert!(!figures.poor_missed.apart && !figures.good_failed.apart, "{id}: {figures:?}");
            if cost.verdict == Verdict::Pass {
                passes += 1;
                assert_eq!(cost.departures, [], "{id}");
                assert!(
                    (figures.poor_missed.ran.high - figures.poor_missed.book.high).abs() < PAUSES,
                    "{id} {figures:?}"
                );
            }
        }
    }
    assert!(passes >= 10, "{passes}");
}

#[test]
fn replenishments_left_out_are_named_felt_and_put_right() {
    let run = plain();
    let (from, to) = (begun(&run, Exercise::Talking), begun(&run, Exercise::Bending));
    let spoilt = run_of(&run, |at, act| {
        // Both sets of the minute: the one that leads into it and the one in its middle.
        (act != Act::Squeeze || at < from.since(Ms::secs(5)) || at > to.since(Ms::secs(10))).then_some((at, act))
    });
    let [cost] = &costs(&spoilt)[..] else { panic!("one test came to a result") };
    assert_eq!(cost.void, Some(Void::Invalid));
    assert!(cost.departures.contains(&Departure::Replenishments(Exercise::Talking)), "{:?}", cost.departures);
    let figures = cost.figures();
    assert!(figures.poor_missed.apart);
    assert!(figures.poor_missed.ran.low > figures.poor_missed.book.low);
    assert!(figures.good_failed.ran.high < figures.good_failed.book.high);
    for (place, departure) in cost.departures.iter().enumerate() {
        let share = cost.if_put_right(place).expect("a share for each");
        assert!(share.poor_missed.ran.high <= figures.poor_missed.ran.high + ROUNDING, "{departure:?}");
        assert!(share.poor_missed.ran.high >= figures.poor_missed.book.high - ROUNDING, "{departure:?}");
    }
    assert!(cost.if_put_right(cost.departures.len()).is_none());
}

/// A set on the full minute is counted where the model has it: with it put right, the test is the book's.
#[test]
fn a_short_set_on_the_minute_is_put_right_where_it_was() {
    let run = plain();
    let deep = begun(&run, Exercise::DeepBreathing);
    let on_the_minute: Vec<Ms> = run
        .acts()
        .filter(|(at, act)| *act == Act::Squeeze && *at > deep.since(Ms::secs(8)) && *at < deep.plus(Ms::secs(5)))
        .map(|(at, _)| at)
        .collect();
    assert_eq!(on_the_minute.len(), 5, "a whole set about the beginning of deep breathing");
    let short = run_of(&run, |at, act| (act != Act::Squeeze || !on_the_minute[2..].contains(&at)).then_some((at, act)));
    let [cost] = &costs(&short)[..] else { panic!("one test came to a result") };
    assert_eq!(cost.departures, [Departure::Replenishments(Exercise::DeepBreathing)]);
    let (figures, share) = (cost.figures(), cost.if_put_right(0).expect("its share"));
    assert!(figures.poor_missed.ran.high > figures.poor_missed.book.high + ROUNDING);
    assert!((share.poor_missed.ran.high - share.poor_missed.book.high).abs() < ROUNDING, "{share:?}");
}

#[test]
fn an_exercise_cut_or_left_out_is_named() {
    let run = plain();
    let bending = begun(&run, Exercise::Bending);
    let last = begun(&run, Exercise::NormalAgain);
    // Everything after the bending comes twenty seconds sooner.
    let cut = run_of(&run, |at, act| match at {
        at if at < bending.plus(Ms::secs(40)) => Some((at, act)),
        at if at < last => None,
        at => Some((at.since(Ms::secs(20)), act)),
    });
    let [cost] = &costs(&cut)[..] else { panic!("one test came to a result") };
    assert!(cost.departures.contains(&Departure::Length(Exercise::Bending)), "{:?}", cost.departures);

    let without = run_of(&run, |at, act| match at {
        at if at < bending => Some((at, act)),
        at if at < last => None,
        at => Some((at.since(Ms::secs(60)), act)),
    });
    let [cost] = &costs(&without)[..] else { panic!("one test came to a result") };
    assert!(cost.departures.contains(&Departure::LeftOut(Exercise::Bending)), "{:?}", cost.departures);
    let place =
        cost.departures.iter().position(|one| *one == Departure::LeftOut(Exercise::Bending)).expect("just seen");
    let (figures, share) = (cost.figures(), cost.if_put_right(place).expect("a share"));
    assert!(share.poor_missed.ran.high < figures.poor_missed.ran.high);
}

#[test]
fn screening_left_out_says_nothing_of_the_threshold() {
    let run = plain();
    let hood = run.acts().find(|(_, act)| *act == Act::HoodOff).map(|(at, _)| at).expect("it came off");
    let skipped = run_of(&run, |at, act| {
        (at > hood || !matches!(act, Act::Squeeze | Act::NoteThreshold(_))).then_some((at, act))
    });
    let [cost] = &costs(&skipped)[..] else { panic!("one test came to a result") };
    assert_eq!(cost.departures, [Departure::Screening]);
    assert!(cost.void == Some(Void::Invalid) && cost.figures().poor_missed.apart);
}

#[test]
fn a_leading_question_is_named() {
    let run = plain();
    let talking = begun(&run, Exercise::Talking).plus(Ms(500));
    for (manner, departure) in [(Manner::TowardsYes, Departure::LedToYes), (Manner::TowardsNo, Departure::LedToNo)] {
        let mut other = Run::new(Rc::clone(run.scenario()));
        let asked = [(talking, Act::Ask(manner))];
        let mut acts: Vec<(Ms, Act)> = run.acts().chain(asked).collect();
        acts.sort_by_key(|(at, _)| *at);
        for (at, act) in acts {
            let _ = other.apply(act, at);
        }
        let [cost] = &costs(&other)[..] else { panic!("one test came to a result: {manner:?}") };
        assert!(cost.departures.contains(&departure), "{manner:?}: {:?}", cost.departures);
    }
}

/// A fail that a taste brought about leaves nothing out: what was not reached is counted as the book has it.
#[test]
fn a_test_that_a_taste_ended_left_nothing_out() {
    let run = Conductor::by_the_book(&built_in("tunnel-crew"));
    let fails: Vec<Cost> = BUILT_IN.iter().flat_map(|(id, _)| costs(&Conductor::by_the_book(&built_in(id)))).collect();
    let fails: Vec<&Cost> = fails.iter().filter(|cost| cost.verdict == Verdict::Fail).collect();
    assert!(!fails.is_empty(), "no built-in run fails, {} acts in the first", run.acts().count());
    for cost in fails {
        assert!(!cost.departures.iter().any(|one| matches!(one, Departure::LeftOut(_))), "{:?}", cost.departures);
    }
}

/// Precedence as in `rulings.rs`: the wearer's safety first; and where a test was not over, nothing was found out.
#[test]
fn why_nothing_follows_from_a_test_is_told_apart() {
    let mut tested_on = Conductor::new(&changed(&built_in("grinding-shop"), |loose| {
        let during = Some(Exercise::Bending.code().to_owned());
        loose.trouble = vec![TroubleV1 { kind: "chest-pain".to_owned(), during, after_s: 10, ..TroubleV1::default() }];
    }));
    tested_on.overlook(Seen::ChestPain).finish();
    let mut early = Conductor::new(&built_in("grinding-shop"));
    early.until(Act::Begin(Exercise::NormalAgain)).act(Act::Give(Verdict::Pass)).finish();
    let mut gap = Conductor::new(&built_in("grinding-shop"));
    gap.never(Act::Begin(Exercise::Talking)).finish();
    let void = |run: &Run| costs(run).iter().map(|cost| cost.void).collect::<Vec<_>>();
    assert_eq!(void(&tested_on.run), [Some(Void::Stopped)]);
    assert_eq!(void(&early.run), [Some(Void::Unfinished)]);
    assert_eq!(void(&gap.run), [Some(Void::Invalid)]);
    assert_eq!(void(&plain()), [None]);
}

/// A threshold noted a class too low: with each set in proportion to the one that was shown, the test is the book's.
#[test]
fn another_threshold_than_the_one_shown_is_named_and_put_right() {
    let scenario = changed(&built_in("grinding-shop"), |loose| loose.wearer.tastes_after = Some(14));
    let by_the_book = Conductor::by_the_book(&scenario);
    let from = by_the_book.state().tests[0].common.from;
    let squeezes = Cell::new(0);
    let run = run_of(&by_the_book, |at, act| {
        if let Act::NoteThreshold(_) = act {
            return Some((at, Act::NoteThreshold(Threshold::Ten)));
        }
        let of_the_test = act == Act::Squeeze && at > from;
        squeezes.set(squeezes.get() + u32::from(of_the_test));
        // Half of each set.
        (!of_the_test || squeezes.get() % 2 == 1).then_some((at, act))
    });
    let [cost] = &costs(&run)[..] else { panic!("one test came to a result") };
    assert_eq!(cost.departures, [Departure::Threshold]);
    let (ran, better) = (cost.figures().poor_missed, cost.if_put_right(0).expect("just found").poor_missed);
    assert!(ran.apart && !better.apart, "{ran:?} {better:?}");
}
