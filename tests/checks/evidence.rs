//! What runs are evidence of, on whole runs: by the book, with what came up overlooked, and with mistakes of the conductor's own.

use crate::driver::{Conductor, built_in, plain};
use bittersweet_core::{
    act::{Act, Bar, Exercise, NextStep, Verdict},
    evidence::{Event, Evidence, Origin},
    readiness::{readiness, standings},
    rulebook::Agent,
    sign::Seen,
    trouble::{Group, Kind, Moment, Trouble, When},
    unannounced,
    units::Ms,
    wire::{
        outcome_v1::OutcomeV1,
        run_v1::{Conditions, Help, Pace},
    },
};
use std::{
    rc::Rc,
    time::{Duration, Instant},
};

fn evidence(conductor: &Conductor) -> Evidence {
    let conditions = Conditions::new(Help::Unaided, Pace::Real);
    let (scenario, log) = (conductor.run.scenario(), conductor.run.log());
    let evidence = Evidence::of(scenario, log, &conductor.review(), &conditions).expect("nobody else made it");
    let outcome = OutcomeV1::new("run-1", 20_782, scenario, log, evidence.clone());
    assert_eq!(OutcomeV1::parse(&outcome.written()), Ok(outcome), "what is kept is what was made");
    evidence
}

fn of_kind(evidence: &Evidence, kind: Kind) -> Option<bool> {
    evidence.events.iter().find(|event| event.origin == Origin::Came(kind)).map(|event| event.well)
}

fn made(evidence: &Evidence) -> Vec<Event> {
    evidence.events.iter().copied().filter(|event| matches!(event.origin, Origin::Made(_))).collect()
}

/// Runs in which this comes up alone.
fn runs_with(kind: Kind) -> impl Iterator<Item = Conductor> {
    let drawn = (0..12).filter_map(move |seed| unannounced::with(Agent::Sweet, seed, kind));
    drawn.map(|scenario| Conductor::new(&Rc::new(scenario)))
}

/// Of these the run does not tell whether they came up, or nothing in it tells that they were met well: they are no evidence
/// for anybody. Who answers "yes" to please shows only by a leading question.
const NEVER_WELL: [Kind; 6] = [
    Kind::AgentOnFingers,
    Kind::OtherFacepiece,
    Kind::Plastic,
    Kind::Pleases,
    Kind::TastesAtOnce,
    Kind::TastesAtEleven,
];

#[test]
fn by_the_book_every_kind_is_met_well_and_none_amiss() {
    for kind in Kind::ALL.iter().copied() {
        let mut well = 0;
        for mut conductor in runs_with(kind) {
            conductor.finish();
            let evidence = evidence(&conductor);
            assert!(evidence.is_as_in_earnest() && !evidence.is_spoilt(), "{kind:?}");
            assert_eq!((evidence.given, made(&evidence)), (evidence.right, vec![]), "{kind:?}");
            assert!(evidence.events.iter().all(|event| event.well), "{kind:?}: {:?}", evidence.events);
            well += usize::from(of_kind(&evidence, kind) == Some(true));
        }
        assert_eq!(well > 0, !NEVER_WELL.contains(&kind), "{kind:?}: {well}");
    }
}

#[test]
fn what_is_overlooked_is_missed() {
    for kind in Kind::ALL.iter().copied() {
        let entry = kind.entry();
        let happens = entry.arises.iter().any(|moment| !matches!(moment, Moment::Found | Moment::Doing));
        // What others want, and what is harmless, is overlooked rightly; going on without a hood can be overlooked by nobody;
        // a drop and a taste of plastic only bring up a fail that should not be.
        let rightly = matches!(entry.group, Group::Pressure | Group::Harmless) && kind != Kind::FireAlarm;
        let cannot =
            matches!(kind, Kind::LiftsHood | Kind::TakesHoodOff | Kind::DropOnFace | Kind::Plastic | Kind::Pleases);
        if !happens || rightly || cannot {
            continue;
        }
        let missed = runs_with(kind).any(|mut conductor| {
            for sign in entry.shows.iter().filter_map(|code| Seen::from_code(code)) {
                conductor.overlook(sign);
            }
            conductor.finish();
            of_kind(&evidence(&conductor), kind) == Some(false)
        });
        assert!(missed, "{kind:?}");
    }
}

/// The replenishment missed belongs to nothing that came up.
#[test]
fn an_own_mistake_is_one_event_and_well_met_where_it_is_put_right() {
    let scenario = plain(Agent::Sweet, |_| {});
    let mistaken = || {
        let mut conductor = Conductor::new(&scenario);
        conductor.see().into(Exercise::DeepBreathing, Ms::secs(10)).miss_squeezes(5);
        conductor
    };
    let mut left = mistaken();
    left.finish();
    let left = evidence(&left);
    assert!(left.is_spoilt());
    assert_eq!(made(&left).iter().map(|event| event.well).collect::<Vec<_>>(), [false], "{:?}", left.events);
    let mut put_right = mistaken();
    put_right.wait(Ms::secs(30)).see().finish();
    let put_right = evidence(&put_right);
    assert!(!put_right.is_spoilt());
    assert_eq!(made(&put_right).iter().map(|event| event.well).collect::<Vec<_>>(), [true], "{:?}", put_right.events);
}

/// What was there to be found, and was never looked for, can only be missed.
#[test]
fn what_never_showed_is_missed_or_no_evidence() {
    let never_looked = |kind, act| {
        let scenario = Rc::new(unannounced::with(Agent::Sweet, 3, kind).expect("it can be planted"));
        let mut conductor = Conductor::new(&scenario);
        conductor.never(act).finish();
        of_kind(&evidence(&conductor), kind)
    };
    assert_eq!(never_looked(Kind::Stubble, Act::LookAtFace), Some(false));
    assert_eq!(never_looked(Kind::Clogged, Act::CheckHood), Some(true), "the nebulizer was looked at all the same");
    let mut at_once =
        Conductor::new(&Rc::new(unannounced::with(Agent::Sweet, 3, Kind::Stubble).expect("it can be planted")));
    at_once.acts([Act::Give(Verdict::NotTested(Bar::Wish)), Act::Finish]);
    assert_eq!(of_kind(&evidence(&at_once), Kind::Stubble), None);
}

#[test]
fn a_test_not_made_for_a_wrong_reason_is_no_catch() {
    let scenario = Rc::new(unannounced::with(Agent::Sweet, 0, Kind::BeyondLimit).expect("it can be planted"));
    let given = |bar| {
        let mut conductor = Conductor::new(&scenario);
        conductor.acts([Act::CheckUse, Act::Give(Verdict::NotTested(bar)), Act::Finish]);
        of_kind(&evidence(&conductor), Kind::BeyondLimit)
    };
    assert_eq!(given(Bar::Use), Some(true));
    assert_eq!(given(Bar::Clearance), None);
}

/// Before the exercises a touch changes nothing, and that the wearer tasted it later is not for the touch.
#[test]
fn a_fail_for_the_taste_is_no_catch_of_something_else() {
    let mut scenario = unannounced::with(Agent::Sweet, 1, Kind::HalfGesture).expect("it can be planted");
    scenario.trouble.push(Trouble { kind: Kind::TouchesMask, when: When::Initial(3) });
    let mut conductor = Conductor::new(&Rc::new(scenario));
    conductor.finish();
    assert!(conductor.run.state().shown(Seen::TouchesMask).is_some());
    let evidence = evidence(&conductor);
    assert_eq!(of_kind(&evidence, Kind::HalfGesture), Some(true));
    assert_eq!(of_kind(&evidence, Kind::TouchesMask), None);
}

/// A clogged nebulizer spoils the squeezes as well; it is missed once.
#[test]
fn what_came_of_something_missed_is_no_second_miss() {
    let mut missed = 0;
    for mut conductor in runs_with(Kind::Clogged) {
        conductor.overlook(Seen::NebulizerTipCrusted).overlook(Seen::SpraysNothing).finish();
        let evidence = evidence(&conductor);
        if of_kind(&evidence, Kind::Clogged) == Some(false) {
            missed += 1;
            assert_eq!(made(&evidence), vec![], "{:?}", evidence.events);
        }
    }
    assert!(missed > 0);
}

#[test]
fn what_is_harmless_and_ended_the_test_was_not_let_pass() {
    let over_called = runs_with(Kind::Coughs).find_map(|mut conductor| {
        conductor.until_like(|run, act| {
            run.state().shown(Seen::Coughs).is_some() && run.state().test().is_some() || act == Act::Finish
        });
        let coughed = conductor.run.state().test().is_some_and(|test| test.begun().is_some());
        coughed.then(|| {
            conductor.acts([Act::Stop, Act::Give(Verdict::Invalid), Act::Next(NextStep::AnotherDay), Act::HoodOff]);
            conductor.act(Act::Finish);
            of_kind(&evidence(&conductor), Kind::Coughs)
        })
    });
    assert_eq!(over_called, Some(Some(false)));
}

#[test]
fn time_let_pass_under_the_hood_is_not_real_pace() {
    let scenario = built_in("grinding-shop");
    let mut before = Conductor::new(&scenario);
    before.act(Act::Wait(Ms::secs(30))).finish();
    assert!(evidence(&before).real_pace);
    let mut under = Conductor::new(&scenario);
    under.until_like(|run, _| run.state().hood.is_some()).act(Act::Wait(Ms::secs(10))).finish();
    assert!(!evidence(&under).real_pace);
}

#[test]
fn a_run_that_was_left_or_came_to_no_result_is_not_whole() {
    let scenario = built_in("grinding-shop");
    let mut left = Conductor::new(&scenario);
    left.until_like(|_, act| act == Act::Finish);
    assert!(!evidence(&left).whole);
    let mut without = Conductor::new(&scenario);
    without.act(Act::Finish);
    assert!(!evidence(&without).whole);
}

/// Ten years of three runs a day, each read, both agents and all skills looked at: within a second on the page (where the core is
/// small rather than fast), so well within that here.
#[test]
fn ten_thousand_outcomes_are_opened_in_time() {
    let drawn = (0..20).map(|seed| {
        let mut conductor = Conductor::new(&Rc::new(unannounced::draw_up(Agent::ALL[seed % 2], seed as u64)));
        conductor.finish();
        let (scenario, log) = (conductor.run.scenario(), conductor.run.log());
        OutcomeV1::new("mhq2k1x0-5f3", 0, scenario, log, evidence(&conductor))
    });
    let drawn: Vec<OutcomeV1> = drawn.collect();
    let written = drawn.iter().cycle().zip(0..10_000).map(|(outcome, number)| {
        let outcome = OutcomeV1 { day: 20_000 + number / 3, ..outcome.clone() };
        outcome.written()
    });
    let written: Vec<String> = written.collect();
    let start = Instant::now();
    let outcomes: Vec<OutcomeV1> = written.iter().map(|text| OutcomeV1::parse(text).expect("as written")).collect();
    for agent in Agent::ALL.iter().copied() {
        assert!(readiness(agent, &outcomes, 23_333).missing.is_none());
        assert_eq!(standings(agent, &[], &outcomes, 23_333).len(), 8);
    }
    assert!(start.elapsed() < Duration::from_secs(4), "{:?}", start.elapsed());
}

#[test]
fn what_a_colleague_did_is_no_evidence() {
    let scenario = built_in("watch-joinery");
    let mut conductor = Conductor::new(&scenario);
    conductor.act(Act::Finish);
    let conditions = Conditions::new(Help::Unaided, Pace::Real);
    assert!(Evidence::of(&scenario, conductor.run.log(), &conductor.review(), &conditions).is_none());
}
