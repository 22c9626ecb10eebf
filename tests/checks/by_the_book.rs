//! A run by the book comes to the right result, and nothing is found in it.

use crate::driver::{Conductor, built_in, calls, findings, plain};
use bittersweet_core::{
    act::{Act, Exercise, NextStep, Role},
    attempt::FitTest,
    guide,
    review::{of_run, review},
    rulebook::{Agent, RuleId},
    run::Run,
    scenarios::BUILT_IN,
    units::Ms,
};

/// What each built-in scenario comes to.
const RESULTS: &[(&str, &[&str])] = &[
    ("grinding-shop", &["test-1: pass"]),
    ("tunnel-crew", &["test-1: pass"]),
    ("bakery", &["screening-1: cannot-taste [cannot-taste, invalid]"]),
    ("laundry", &["screening-1: cannot-taste [cannot-taste, invalid]"]),
    ("sawmill", &["day: not-tested:seal"]),
    ("records-office", &["day: not-tested:clearance"]),
    ("market-hall", &["test-1: pass"]),
    ("dye-works", &["day: not-tested:wish"]),
    ("ferry-yard", &["test-1: stopped:alarm"]),
    ("brewery", &["day: not-tested:mouth"]),
    ("paint-line", &["test-1: fail", "test-2: pass"]),
    ("stone-yard", &["test-1: fail", "test-2: pass"]),
    ("foundry", &["test-1: invalid", "test-2: pass"]),
    ("pump-house", &["test-1: invalid", "test-2: pass"]),
    ("night-ward", &["test-1: stopped:wish"]),
    ("boiler-room", &["test-1: stopped:breathing"]),
    ("glass-works", &["test-1: invalid", "test-2: pass"]),
    ("attic-crew", &["day: not-tested:use"]),
    ("health-centre", &["test-1: pass"]),
    ("smelter", &["test-1: pass"]),
    ("greenhouse", &["test-1: pass"]),
    ("archive", &["test-1: pass"]),
    ("carpenters", &["test-1: invalid", "test-2: pass"]),
    ("quarry", &["test-1: fail", "test-2: pass"]),
    ("tannery", &["test-1: pass"]),
    ("demolition", &["test-1: fail", "test-2: pass"]),
    ("watch-brickworks", &["test-1: pass"]),
    ("watch-joinery", &["test-1: invalid", "test-2: pass"]),
    ("watch-plating-shop", &["test-1: pass"]),
    ("watch-dairy", &["test-1: fail", "test-2: pass"]),
    ("watch-shipyard", &["test-1: pass"]),
];

#[test]
fn there_are_twenty_four_scenarios_and_more_from_plain_to_hard() {
    let scenarios: Vec<_> = BUILT_IN.iter().map(|(id, _)| built_in(id)).filter(|one| one.colleague.is_none()).collect();
    assert!(scenarios.len() >= 24, "{}", scenarios.len());
    assert!(scenarios.iter().map(|one| one.level).is_sorted(), "plain ones first");
    assert!((1..=3).all(|level| scenarios.iter().filter(|one| one.level == level).count() >= 3));
    assert!(scenarios.iter().all(|one| !one.practises.is_empty()));
    assert!(BUILT_IN.len() - scenarios.len() >= 4, "runs of a colleague to be watched");
}

#[test]
fn every_built_in_scenario_by_the_book_comes_to_its_result_without_a_finding() {
    let ids: Vec<&str> = RESULTS.iter().map(|(id, _)| *id).collect();
    assert_eq!(ids, BUILT_IN.iter().map(|(id, _)| *id).collect::<Vec<_>>());
    for (id, results) in RESULTS {
        let scenario = built_in(id);
        let run = Conductor::by_the_book(&scenario);
        let review = review(&scenario, run.log());
        assert_eq!(calls(&review), *results, "{id}");
        assert_eq!(findings(&review), [""; 0], "{id}");
        assert!(review.finished, "{id}");
        // The full score: every rule that came up was kept, and nothing was called without need.
        assert!(review.skills.values().all(|tally| tally.kept == tally.came_up), "{id}: {:?}", review.skills);
        assert_eq!(of_run(&run), review, "{id}: from its state as from its log");
    }
}

/// Initial squeezes, then half as many thirteen times: 29 CFR 1910.134 App. A I.B.3 and I.B.4 (b)(7), (b)(9) over the 420 s
/// of I.A.14; the sums are derived.
#[test]
fn a_whole_test_takes_75_150_or_225_squeezes() {
    for agent in Agent::ALL.iter().copied() {
        for (tastes_after, total) in [(7, 75), (17, 150), (27, 225)] {
            let scenario = plain(agent, |loose| {
                loose.wearer.tastes_after = Some(tastes_after);
                // So tight that a late taster, too, notices nothing.
                for piece in &mut loose.rack {
                    piece.fit = bittersweet_core::wire::scenario_v1::FitV1::One(100_000);
                }
            });
            let run = Conductor::by_the_book(&scenario);
            let squeezes = |test: &FitTest| test.common.squeezes.len();
            assert_eq!(run.state().tests.iter().map(squeezes).collect::<Vec<_>>(), [total], "{agent:?} {tastes_after}");
            assert_eq!(calls(&review(&scenario, run.log())), ["test-1: pass"]);
            assert_eq!(findings(&review(&scenario, run.log())), [""; 0]);
        }
    }
}

#[test]
fn a_clearance_that_was_forgotten_is_asked_for_before_a_screening_goes_on() {
    let scenario = plain(Agent::Sweet, |_| {});
    let mut conductor = Conductor::new(&scenario);
    for act in [Act::HoodOn, Act::Take(Role::Check), Act::Squeeze] {
        conductor.act(act);
    }
    assert!(guide::was_broken(&scenario, conductor.run.state(), RuleId::ScreenNozzle), "sprayed towards the mouth");
    let next = |conductor: &mut Conductor| conductor.next().map(|step| (step.act, step.rule));
    assert_eq!(next(&mut conductor), Some((Act::AskClearance, RuleId::ClearBefore)));
    conductor.act(Act::AskClearance);
    // Then what is under way is over before anything else is asked.
    assert_eq!(next(&mut conductor), Some((Act::Next(NextStep::ScreenAgain), RuleId::ScreenNozzle)));
}

#[test]
fn a_clearance_that_was_forgotten_is_asked_for_before_a_test_goes_on() {
    let scenario = plain(Agent::Sweet, |_| {});
    let mut conductor = Conductor::new(&scenario);
    conductor.never(Act::AskClearance).into(Exercise::DeepBreathing, Ms::secs(5));
    // What the page shows, to somebody who takes nothing for done that is not.
    let shown = |run: &Run| guide::next(&scenario, run.state(), run.now()).map(|step| (step.act, step.rule));
    assert_eq!(shown(&conductor.run), Some((Act::AskClearance, RuleId::ClearBefore)));
    conductor.act(Act::AskClearance);
    // Then the test goes on where it was: the next squeezes are due at half of this minute.
    assert_eq!(shown(&conductor.run), Some((Act::Squeeze, RuleId::FitHalf)));
}
