//! Laws that hold for any scenario and any conductor.

use crate::{
    driver::{Conductor, MOST_ACTS, built_in, calls, findings},
    random::{config, make, moves, nearly_by_the_book, run_nearly_by_the_book, run_of, scenario},
};
use bittersweet_core::{
    act::{Act, Exercise, Verdict},
    guide,
    log::{Entry, What},
    review::{Finding, Review, review},
    rulebook::RuleId,
    run::Run,
    scene::Scene,
    sign::{Seen, Sign},
    source::Skill,
    state::{About, State},
    units::Ms,
    wire::run_v1::{self, Conditions, Help, Pace},
};
use proptest::{prelude::*, test_runner::TestRunner};
use std::cell::Cell;

/// No attempt with an uncorrected spoiling finding is judged a valid pass; and a pass that is not right is explained by a
/// finding of that weight.
fn a_right_pass_is_unspoilt(run: &Run) -> Result<u32, String> {
    let review = review(run.scenario(), run.log());
    let mut passes = 0;
    for call in review.calls.iter().filter(|call| call.given == Verdict::Pass) {
        let about = |about: About| {
            let screening = match call.about {
                About::Test(number) => run.state().tests.get(number).and_then(|test| test.screening),
                About::Day | About::Screening(_) => None,
            };
            about == call.about || Some(about) == screening.map(About::Screening)
        };
        // A wrong call on a screening spoils that call, not the screening.
        let of_a_call =
            |rule: RuleId| run.scenario().rulebook().rule(rule).is_some_and(|rule| rule.skill == Skill::Result);
        let top = |finding: &&Finding| finding.gravity.is_top() && !of_a_call(finding.rule);
        if call.is_right() {
            passes += 1;
            if let Some(finding) = review.findings.iter().filter(top).find(|finding| about(finding.about)) {
                return Err(told(run, &review, &format!("a right pass with {}", finding.rule.code())));
            }
            if let Some(lacks) = lacks(run, call.about) {
                return Err(told(run, &review, &format!("a right pass, but {lacks}")));
            }
        } else if !review.findings.iter().any(|finding| finding.gravity.is_top()) {
            return Err(told(run, &review, "a wrong pass without a finding"));
        }
    }
    Ok(passes)
}

/// What a pass lacks by the plainest reading of the log; none of the judge's own arithmetic is used.
fn lacks(run: &Run, about: About) -> Option<&'static str> {
    let About::Test(number) = about else { return Some("it is not of a test") };
    let test = run.state().tests.get(number)?;
    let book = run.scenario().rulebook();
    let shown =
        |wanted: &[Seen], from: Ms| test.common.signs.iter().any(|(at, seen)| *at >= from && wanted.contains(seen));
    let begun = test.exercises.first()?.from;
    if shown(&[Seen::SignalsTaste, Seen::SaysTaste, Seen::SaysTrace, Seen::SaysTasteLate], Ms::ZERO) {
        return Some("a taste was reported");
    }
    if shown(&[Seen::AdjustsMask, Seen::TouchesMask, Seen::TakesHoodOff, Seen::LiftsHood], begun) {
        return Some("the wearer adjusted, touched or took off");
    }
    let mut seven = test
        .exercises
        .iter()
        .filter(|done| done.exercise != Exercise::Grimace && done.length(run.now()) >= book.numbers.exercise_lost);
    let in_order = Exercise::SEVEN.iter().all(|one| {
        seven.any(|done| done.exercise == *one || (*one == Exercise::Bending && done.exercise == Exercise::Jogging))
    });
    if !in_order {
        return Some("not all seven were done in order");
    }
    let screening = test.screening.and_then(|number| run.state().screenings.get(number))?;
    // Not noted, it may still have been shown.
    let shown =
        || screening.tasted_after().and_then(|count| u32::try_from(count).ok()).map(|count| book.class_at(count));
    let Some(threshold) = screening.threshold_at(begun).or_else(shown) else { return Some("there is no threshold") };
    let (Some(initial), Some(half)) = (book.initial(threshold), book.replenishment(threshold)) else {
        return Some("it rests on no threshold");
    };
    let whole =
        test.common.squeezes.iter().filter(|squeeze| squeeze.counts() && squeeze.hood && squeeze.masked).count();
    // Thirteen replenishments in seven minutes; the last may be cut off by exercises that were a little short.
    if u32::try_from(whole).is_ok_and(|whole| whole < initial + 12 * half - half) {
        return Some("too few squeezes");
    }
    None
}

fn told(run: &Run, review: &Review, what: &str) -> String {
    let log: Vec<String> = run.log().iter().map(|entry| format!("{} {:?}", entry.at.0, entry.what)).collect();
    format!("{what}\n{:?}\n{:?}\n{}", calls(review), findings(review), log.join("\n"))
}

fn unaided() -> Conditions {
    Conditions::new(Help::Unaided, Pace::Real)
}

#[test]
fn no_sequence_of_acts_panics_and_a_refused_act_leaves_no_trace() {
    TestRunner::new(config(300))
        .run(&(scenario(), moves()), |(scenario, moves)| {
            let mut conductor = Conductor::new(&scenario);
            for wanted in &moves {
                let before = conductor.run.clone();
                let Some(tried) = make(&mut conductor, wanted) else { continue };
                if !tried.done {
                    // Time has passed, as it would have without the act.
                    let mut idle = before;
                    idle.advance(conductor.run.now());
                    prop_assert_eq!(idle.log(), conductor.run.log());
                    prop_assert_eq!(idle.state(), conductor.run.state());
                    prop_assert!(conductor.run.hindrance(tried.act).is_some());
                }
                let _ = Scene::of(&conductor.run);
                let _ = guide::next(&scenario, conductor.run.state(), conductor.run.now());
            }
            let _ = review(&scenario, conductor.run.log());
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}

#[test]
fn time_in_pieces_is_as_time_at_once() {
    TestRunner::new(config(300))
        .run(&(scenario(), moves(), 1..900_u32), |(scenario, moves, piece)| {
            let at_once = run_of(&scenario, &moves);
            let mut in_pieces = Run::new(at_once.scenario().clone());
            for (at, act) in at_once.acts() {
                while in_pieces.now().plus(Ms(piece)) < at {
                    in_pieces.advance(in_pieces.now().plus(Ms(piece)));
                }
                in_pieces.apply(act, at).map_err(|refusal| TestCaseError::fail(refusal.to_string()))?;
            }
            while in_pieces.now() < at_once.now() {
                in_pieces.advance(in_pieces.now().plus(Ms(piece)).min(at_once.now()));
            }
            prop_assert_eq!(at_once.log(), in_pieces.log());
            prop_assert_eq!(at_once.state(), in_pieces.state());
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}

#[test]
fn the_acts_make_the_log_and_the_log_makes_the_state() {
    TestRunner::new(config(300))
        .run(&(scenario(), moves(), any::<prop::sample::Index>()), |(scenario, moves, cut)| {
            let run = run_of(&scenario, &moves);
            let acts: Vec<(Ms, Act)> = run.acts().collect();
            let mut again = Run::replay(run.scenario().clone(), &acts)
                .map_err(|refusal| TestCaseError::fail(refusal.to_string()))?;
            again.advance(run.now());
            prop_assert_eq!(run.log(), again.log());
            prop_assert_eq!(&State::of(scenario.agent, run.log()), run.state());
            // Cut off anywhere, the rest is still a run.
            let part = &run.log()[..cut.index(run.log().len() + 1)];
            let _ = review(&scenario, part);
            let acts: Vec<(Ms, Act)> = acts_of(part).collect();
            let shorter = Run::replay(run.scenario().clone(), &acts)
                .map_err(|refusal| TestCaseError::fail(refusal.to_string()))?;
            prop_assert!(shorter.log().len() >= acts.len());
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}

fn acts_of(log: &[Entry]) -> impl Iterator<Item = (Ms, Act)> + '_ {
    log.iter().filter_map(|entry| if let What::Act(act) = entry.what { Some((entry.at, act)) } else { None })
}

#[test]
fn a_saved_run_is_read_back_the_same() {
    TestRunner::new(config(300))
        .run(&(scenario(), moves()), |(scenario, moves)| {
            let run = run_of(&scenario, &moves);
            let text = serde_json::to_string(&run_v1::save(&run, &unaided())).expect("a run is JSON");
            let opened = run_v1::parse(&text).map_err(|faults| TestCaseError::fail(faults.to_string()))?;
            prop_assert_eq!(run.log(), opened.log.as_slice());
            prop_assert_eq!(opened.run.as_ref().map(Run::log), Some(run.log()));
            prop_assert_eq!(opened.conditions, unaided());
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
}

#[test]
fn no_spoilt_attempt_is_judged_a_valid_pass() {
    let passes = Cell::new(0);
    let runs = Cell::new(0_u32);
    let mut runner = TestRunner::new(config(600));
    runner
        .run(&(scenario(), nearly_by_the_book()), |(scenario, off)| {
            let Some(run) = run_nearly_by_the_book(&scenario, &off) else { return Ok(()) };
            passes.set(passes.get() + a_right_pass_is_unspoilt(&run).map_err(TestCaseError::fail)?);
            runs.set(runs.get() + 1);
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    runner
        .run(&(scenario(), moves()), |(scenario, moves)| {
            a_right_pass_is_unspoilt(&run_of(&scenario, &moves)).map_err(TestCaseError::fail)?;
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    assert!(passes.get() > runs.get() / 20, "{} right passes in {} runs prove little", passes.get(), runs.get());
}

/// From anywhere, the guide leads to the end; and it never leads to a wrong result where nothing was hidden from it.
#[test]
fn every_state_has_a_way_out() {
    let passes = Cell::new(0_u32);
    TestRunner::new(config(600))
        .run(&(scenario(), moves()), |(scenario, moves)| {
            let mut conductor = Conductor::new(&scenario);
            for wanted in &moves {
                make(&mut conductor, wanted);
            }
            conductor.see();
            let taken_over = conductor.run.now();
            for _ in 0..MOST_ACTS {
                let Some(step) = conductor.next() else { break };
                let tried = conductor.try_step(step);
                prop_assert!(tried.is_ok(), "{:?}: {:?}", step, tried);
            }
            let last: Vec<String> = conductor
                .run
                .log()
                .iter()
                .rev()
                .take(60)
                .map(|entry| format!("{} {:?}", entry.at.0, entry.what))
                .collect();
            prop_assert!(conductor.run.state().finished.is_some(), "no end:\n{}", last.join("\n"));
            a_right_pass_is_unspoilt(&conductor.run).map_err(TestCaseError::fail)?;
            let review = review(&scenario, conductor.run.log());
            for call in review.calls.iter().filter(|call| call.given == Verdict::Pass && call.at > taken_over) {
                // What was spoilt before the guide took over stays so.
                let state = conductor.run.state();
                let begun_by_the_guide = match call.about {
                    About::Test(number) => {
                        let screened = state.tests[number].screening.map(|number| state.screenings[number].common.from);
                        state.tests[number].common.from > taken_over && screened.is_some_and(|from| from > taken_over)
                    }
                    About::Day | About::Screening(_) => false,
                };
                prop_assert!(
                    call.is_right() || !begun_by_the_guide,
                    "{}",
                    told(&conductor.run, &review, "the guide gave a wrong pass")
                );
                passes.set(passes.get() + u32::from(begun_by_the_guide));
            }
            Ok(())
        })
        .unwrap_or_else(|error| panic!("{error}"));
    assert!(passes.get() > 20, "{} passes by the guide prove little", passes.get());
}

/// Every run that is one act away from the book: left out, done twice, swapped with the next, or twenty seconds late.
#[test]
fn one_deviation_from_the_book_makes_no_wrong_pass_right() {
    let (mut runs, mut passes) = (0, 0);
    for id in ["grinding-shop", "tunnel-crew"] {
        let scenario = built_in(id);
        let acts: Vec<(Ms, Act)> = Conductor::by_the_book(&scenario).acts().collect();
        for number in 0..acts.len() {
            let mut dropped = acts.clone();
            dropped.remove(number);
            let mut doubled = acts.clone();
            doubled.insert(number + 1, (acts[number].0.plus(Ms(500)), acts[number].1));
            let mut swapped = acts.clone();
            if number + 1 < acts.len() {
                (swapped[number].1, swapped[number + 1].1) = (acts[number + 1].1, acts[number].1);
            }
            let mut late = acts.clone();
            for (at, _) in late.iter_mut().skip(number) {
                *at = at.plus(Ms::secs(20));
            }
            for deviating in [dropped, doubled, swapped, late] {
                let mut run = Run::new(scenario.clone());
                for (at, act) in deviating {
                    // What the deviation made impossible is left undone.
                    let at = at.max(run.now());
                    let _ = run.apply(act, at);
                }
                passes += a_right_pass_is_unspoilt(&run).unwrap_or_else(|what| panic!("{id}, act {number}: {what}"));
                runs += 1;
            }
        }
    }
    assert!(passes > 0 && passes < runs, "{passes} of {runs}");
    assert!(runs > 1_000, "{runs} runs prove little");
}

/// What a full log refuses does not include ending it.
#[test]
fn a_full_log_can_still_be_ended_and_read_back() {
    let mut run = Run::new(built_in("grinding-shop"));
    while run.apply(Act::AskGear, run.now().plus(Ms(10))).is_ok() {}
    assert!(run.state().finished.is_none());
    let step = guide::next(run.scenario(), run.state(), run.now()).expect("not at the end");
    assert!(run.hindrance(step.act).is_some());
    run.apply(Act::Finish, run.now()).expect("the end is always allowed");
    let text = serde_json::to_string(&run_v1::save(&run, &unaided())).expect("a run is JSON");
    assert!(run_v1::parse(&text).is_ok_and(|opened| opened.log == run.log() && opened.run.is_some()));
    assert!(
        run.log()
            .iter()
            .any(|entry| entry.what == What::Sign(Sign::WearsAtWork(bittersweet_core::sign::Gear::Glasses)))
    );
}
