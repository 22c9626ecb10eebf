//! What a finding is made of: the figures that the page tells beside it are those of what was done. Each row says what was done
//! and when, so the figures follow from the row itself.

use crate::{
    driver::{Conductor, plain},
    golden::golden,
};
use bittersweet_core::{
    act::{Act, Exercise, Role, Threshold, Verdict},
    happened::{Happened, happened, since},
    review::{Review, of_run},
    rulebook::{Agent, RuleId},
    run::Run,
    sign::{Mouthful, Seen},
    state::About,
    timeline,
    units::Ms,
    wire::{
        run_v1,
        scenario_v1::{ByMouthV1, FitV1, TroubleV1},
    },
};
use std::rc::Rc;

/// Between two acts of the conductor.
const BEAT: Ms = Ms(1_200);

fn told(run: &Run, review: &Review, rule: RuleId) -> Vec<Happened> {
    let finding = review.findings.iter().find(|finding| finding.rule == rule);
    let finding = finding.unwrap_or_else(|| panic!("{} is not found", rule.code()));
    let mut told: Vec<Happened> =
        finding.times.iter().filter_map(|at| happened(run.scenario(), run.state(), finding, *at)).collect();
    told.dedup();
    told
}

#[track_caller]
fn check(rule: RuleId, done: fn(&mut Conductor), is_it: fn(&[Happened]) -> bool) {
    for agent in [Agent::Sweet, Agent::Bitter] {
        let mut conductor = Conductor::new(&plain(agent, |_| {}));
        done(&mut conductor);
        conductor.finish();
        let told = told(&conductor.run, &conductor.review(), rule);
        assert!(is_it(&told), "{} ({agent:?}): {told:?}", rule.code());
    }
}

/// Stands before the replenishment of deep breathing.
fn at_a_replenishment(conductor: &mut Conductor) -> &mut Conductor {
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().exercise() == Some(Exercise::DeepBreathing))
}

#[test]
fn the_nebulizer_in_hand_is_named() {
    check(
        RuleId::NebTest,
        |conductor| {
            let (meant, done) = (Act::Take(Role::Fit), Act::Take(Role::Check));
            conductor.until(meant).mistake(meant, done);
        },
        |told| *told == [Happened::Sprayed(Role::Check)],
    );
    check(
        RuleId::NebScreen,
        |conductor| {
            let (meant, done) = (Act::Take(Role::Check), Act::Take(Role::Fit));
            conductor.until(meant).mistake(meant, done);
        },
        |told| *told == [Happened::Sprayed(Role::Fit)],
    );
}

#[test]
fn a_cut_exercise_is_told_with_its_length() {
    check(
        RuleId::FitMinute,
        |conductor| {
            conductor.into(Exercise::HeadSide, Ms::secs(41).since(BEAT)).unaware(Act::Begin(Exercise::HeadUpDown));
            conductor.until(Act::Begin(Exercise::HeadUpDown)).skip();
        },
        |told| *told == [Happened::Lasted(Exercise::HeadSide, Ms::secs(41))],
    );
}

#[test]
fn what_was_left_out_is_named() {
    check(
        RuleId::FitAll,
        |conductor| {
            conductor.never(Act::Begin(Exercise::Talking)).never(Act::Begin(Exercise::Bending));
        },
        |told| *told == [Happened::LeftOut(vec![Exercise::Talking, Exercise::Bending])],
    );
}

#[test]
fn how_long_it_was_worn_is_told() {
    check(
        RuleId::ComfortFive,
        |conductor| {
            conductor.until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some());
            let on = conductor.run.state().donnings[0].at;
            conductor.wait(on.plus(Ms::secs(100)).since(BEAT).since(conductor.run.now())).act(Act::ReviewComfort);
        },
        |told| *told == [Happened::Worn(Ms::secs(100))],
    );
    check(
        RuleId::WearFive,
        |conductor| {
            conductor.until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some()).skip();
        },
        |told| matches!(told, [Happened::Worn(length)] if *length < Ms::mins(5)),
    );
}

#[test]
fn squeezes_are_told_beside_what_was_asked() {
    let one_less = |conductor: &mut Conductor| {
        conductor.until_like(|run, act| act == Act::Squeeze && run.state().worn().is_some()).skip();
    };
    check(RuleId::FitMinimum, one_less, |told| *told == [Happened::Squeezed(9, 10)]);
    check(
        RuleId::FitHalf,
        |conductor| {
            at_a_replenishment(conductor).miss_squeezes(1);
        },
        |told| *told == [Happened::Squeezed(4, 5)],
    );
}

#[test]
fn a_late_and_a_missed_replenishment_are_told_with_the_moment_they_were_due() {
    check(
        RuleId::FitTopUpPrompt,
        |conductor| {
            at_a_replenishment(conductor).late(Ms::secs(8));
        },
        |told| matches!(told, [Happened::Begun(due, at)] if at.since(*due) == Ms::secs(8)),
    );
    let mut conductor = Conductor::new(&plain(Agent::Sweet, |_| {}));
    at_a_replenishment(&mut conductor).miss_squeezes(5).finish();
    let begun = conductor.run.state().tests[0].begun().expect("exercises");
    let told = told(&conductor.run, &conductor.review(), RuleId::FitTopUp);
    assert_eq!(told, [Happened::Missed(begun.plus(Ms::secs(90)))]);
}

#[test]
fn a_wait_before_the_first_exercise_is_told() {
    check(
        RuleId::FitStartPrompt,
        |conductor| {
            conductor.until(Act::Begin(Exercise::NormalBreathing)).late(Ms::secs(8));
        },
        |told| *told == [Happened::Waited(Ms::secs(8).plus(BEAT))],
    );
}

#[test]
fn a_wrong_threshold_is_told_with_the_squeezes_it_was_tasted_after() {
    for (rule, tastes_after, right, noted, set) in [
        (RuleId::ScreenClass, 14, Threshold::Twenty, Threshold::Ten, 11..=20),
        (RuleId::ScreenClassHigh, 14, Threshold::Twenty, Threshold::Thirty, 11..=20),
    ] {
        let scenario = plain(Agent::Bitter, |loose| loose.wearer.tastes_after = Some(tastes_after));
        let mut conductor = Conductor::new(&scenario);
        let (right, noted_instead) = (Act::NoteThreshold(right), Act::NoteThreshold(noted));
        conductor.until(right).mistake(right, noted_instead).finish();
        let told = told(&conductor.run, &conductor.review(), rule);
        let [Happened::Tasted(Some(after), told)] = told[..] else { panic!("{told:?}") };
        assert!(told == noted && set.contains(&after), "{after} {told:?}");
    }
}

#[test]
fn what_nobody_answered_is_named() {
    for (kind, seen, rule) in [
        ("rushes", Seen::RushesMoves, RuleId::FitEnds),
        ("mouth-shuts", Seen::MouthShuts, RuleId::WatchMouth),
        ("touches-mask", Seen::TouchesMask, RuleId::FitTouched),
        ("chest-pain", Seen::ChestPain, RuleId::DistressEmergency),
    ] {
        let during = Some(Exercise::HeadSide.code().to_owned());
        let trouble = TroubleV1 { kind: kind.to_owned(), during, after_s: 10, ..TroubleV1::default() };
        let mut conductor = Conductor::new(&plain(Agent::Sweet, |loose| loose.trouble.push(trouble)));
        conductor.overlook(seen).finish();
        assert_eq!(told(&conductor.run, &conductor.review(), rule), [Happened::Unanswered(seen)], "{kind}");
    }
}

#[test]
fn a_taste_that_was_passed_over_is_told_with_its_moment() {
    let mut conductor = Conductor::new(&plain(Agent::Sweet, |loose| loose.rack[1].fit = FitV1::One(15)));
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().worn().is_some());
    conductor.overlook(Seen::SignalsTaste).finish();
    let reported = conductor.run.state().tests[0].taste().expect("a leak that is tasted");
    let told = told(&conductor.run, &conductor.review(), RuleId::WatchTaste);
    assert_eq!(told, [Happened::Reported(reported, Seen::SignalsTaste)]);
}

#[test]
fn what_was_had_by_mouth_is_told_with_how_long_ago_it_was_by_then() {
    let scenario = plain(Agent::Sweet, |loose| {
        loose.wearer.by_mouth = Some(ByMouthV1 { what: "coffee".to_owned(), minutes_ago: 4 });
    });
    let mut conductor = Conductor::new(&scenario);
    conductor.never(Act::AskMouth).finish();
    let from = conductor.run.state().tests[0].common.from;
    let told = told(&conductor.run, &conductor.review(), RuleId::MouthFifteen);
    assert_eq!(told, [Happened::ByMouth(Mouthful::Coffee, from.plus(Ms::mins(4)))]);
}

/// A threshold noted from last year's record is no screening: it is said so, and none stands in time.
#[test]
fn a_threshold_that_was_only_noted_is_no_screening() {
    let of = |note: bool| {
        let mut conductor = Conductor::new(&plain(Agent::Sweet, |_| {}));
        conductor.until(Act::HoodOn);
        if note {
            conductor.unaware(Act::NoteThreshold(Threshold::Twenty));
        }
        conductor.takes_for_screened(Threshold::Twenty).finish();
        let told = told(&conductor.run, &conductor.review(), RuleId::ScreenDone);
        let stretches = timeline::of(conductor.run.scenario(), conductor.run.state());
        (told, stretches.iter().map(|stretch| stretch.about).collect::<Vec<_>>())
    };
    assert_eq!(of(true), (vec![Happened::OnlyNoted(Threshold::Twenty)], vec![About::Test(0)]));
    assert_eq!(of(false), (vec![Happened::NotScreened], vec![About::Test(0)]));
}

/// What the logbook shows by itself is not told twice.
#[test]
fn of_other_findings_the_logbook_says_enough() {
    let mut conductor = Conductor::new(&plain(Agent::Sweet, |_| {}));
    conductor.never(Act::AskGear).never(Act::Give(Verdict::Pass)).finish();
    let review = of_run(&conductor.run);
    assert!(told(&conductor.run, &review, RuleId::GearAsk).is_empty());
}

#[test]
fn what_the_wearer_said_of_the_facepiece_is_told() {
    for agent in [Agent::Sweet, Agent::Bitter] {
        let scenario = plain(agent, |loose| loose.rack.iter_mut().for_each(|piece| piece.uncomfortable = true));
        let mut conductor = Conductor::new(&scenario);
        conductor.overlook(Seen::SaysUncomfortable).finish();
        let told = told(&conductor.run, &conductor.review(), RuleId::ComfortOther);
        assert!(matches!(told[..], [Happened::Reported(_, Seen::SaysUncomfortable)]), "{agent:?}: {told:?}");
    }
}

/// The golden run without the last `fewer` squeezes given from `from` to `to`: since when the rule was being broken. Gone on with
/// from ten seconds before as it was first made, the run keeps the rule.
#[track_caller]
fn broken_since(golden: &Run, rule: RuleId, (from, to): (Ms, Ms), fewer: usize) -> Ms {
    let of_the_set = |(at, act): &(Ms, Act)| *act == Act::Squeeze && *at >= from && *at < to;
    let left_out: Vec<(Ms, Act)> = golden.acts().filter(of_the_set).collect();
    let left_out = &left_out[left_out.len() - fewer..];
    let acts: Vec<(Ms, Act)> = golden.acts().filter(|act| !left_out.contains(act)).collect();
    let run = Run::replay(Rc::clone(golden.scenario()), &acts).expect("what was left out hinders nothing");
    let findings =
        |run: &Run| of_run(run).findings.into_iter().filter(|finding| finding.rule == rule).collect::<Vec<_>>();
    let found = findings(&run);
    let [finding] = found.as_slice() else { panic!("{}: {found:?}", rule.code()) };
    let since = since(run.scenario(), run.state(), finding);
    let back = since.since(Ms::secs(10));
    let mut again = run.until(back);
    for (at, act) in golden.acts().filter(|(at, _)| *at > back) {
        again.apply(act, at).expect("as it was first made");
    }
    assert!(findings(&again).is_empty(), "{}: from {back}", rule.code());
    since
}

#[test]
fn whoever_goes_on_from_before_a_short_set_can_give_all_of_it() {
    let golden = run_v1::parse(&golden("grinding-shop")).expect("the golden run opens").run.expect("today's engine");
    let begun = golden.state().tests[0].begun().expect("exercises");
    let due = begun.plus(Ms::secs(90));
    let (initial, half) = ((begun.since(Ms::secs(30)), begun), (due.since(Ms::secs(5)), due.plus(Ms::secs(10))));
    let first = |(from, to): (Ms, Ms)| {
        golden.acts().find(|(at, act)| *act == Act::Squeeze && *at >= from && *at < to).expect("a set").0
    };
    assert_eq!(broken_since(&golden, RuleId::FitMinimum, initial, 1), first(initial));
    assert_eq!(broken_since(&golden, RuleId::FitHalf, half, 1), first(half));
    // Where none was given, it is where they were due.
    assert_eq!(broken_since(&golden, RuleId::FitMinimum, initial, 10), begun);
    assert_eq!(broken_since(&golden, RuleId::FitTopUp, half, 5), due);
}
