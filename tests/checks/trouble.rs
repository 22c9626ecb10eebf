//! Every kind of trouble: met well it leaves nothing to find, and overlooked it does what its entry says.

use crate::driver::{Conductor, calls, findings};
use bittersweet_core::{
    act::Act,
    log::What,
    review::review,
    rulebook::{Agent, Rulebook},
    scenario::Scenario,
    scene::Scene,
    sign::{Seen, Sign},
    source::{Gravity, Push},
    trouble::{Group, Kind, Moment},
    unannounced,
};
use std::rc::Rc;

/// What is wrong with a run by the book; nothing but good practice may be left undone.
fn amiss(scenario: &Rc<Scenario>) -> Option<String> {
    let mut conductor = Conductor::new(scenario);
    conductor.finish();
    let review = review(scenario, conductor.run.log());
    let found = review.findings.iter().any(|finding| finding.gravity != Gravity::Good);
    let wrong = review.calls.iter().any(|call| !call.is_right());
    (found || wrong || review.calls.is_empty()).then(|| format!("{:?} {:?}", calls(&review), findings(&review)))
}

#[test]
fn each_kind_met_by_the_book_leaves_nothing_to_find() {
    let mut wrong = Vec::new();
    for agent in Agent::ALL.iter().copied() {
        for kind in Kind::ALL.iter().copied() {
            for seed in 0..6 {
                let Some(scenario) = unannounced::with(agent, seed, kind) else { continue };
                if let Some(amiss) = amiss(&Rc::new(scenario)) {
                    wrong.push(format!("{} {agent:?} {seed}: {amiss}", kind.code()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} runs:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn what_is_drawn_can_be_run_by_the_book() {
    let mut wrong = Vec::new();
    for agent in Agent::ALL.iter().copied() {
        for seed in 0..crate::random::tenfold(300).into() {
            if let Some(amiss) = amiss(&Rc::new(unannounced::draw_up(agent, seed))) {
                wrong.push(format!("{agent:?} {seed}: {amiss}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} runs:\n{}", wrong.len(), wrong.join("\n"));
}

/// Kinds whose cue was shown in some run by the book.
#[test]
fn each_kind_shows_by_its_cue() {
    let mut unseen = Vec::new();
    for kind in Kind::ALL.iter().copied() {
        let shown = Agent::ALL.iter().any(|agent| {
            (0..24).any(|seed| {
                let Some(scenario) = unannounced::with(*agent, seed, kind).map(Rc::new) else { return true };
                let mut conductor = Conductor::new(&scenario);
                conductor.finish();
                let shows = |code: &&str| {
                    conductor
                        .run
                        .log()
                        .iter()
                        .any(|entry| matches!(entry.what, What::Sign(sign) if sign.code().0 == *code))
                };
                kind.entry().shows.iter().any(shows)
            })
        });
        // Only a leading question shows who says yes to please, and the book asks none.
        if !shown && kind != Kind::Pleases {
            unseen.push(kind.code());
        }
    }
    assert!(unseen.is_empty(), "{unseen:?}");
}

/// What only the conductor's own doing makes cannot be planted: here a nebulizer has to be filled, and is with bare hands.
#[test]
fn agent_on_the_fingers_shows_as_a_drop_once_the_facepiece_is_on() {
    let scenario = Rc::new(unannounced::with(Agent::Sweet, 0, Kind::Low).expect("a low nebulizer can be planted"));
    for (gloves, drops) in [(true, false), (false, true)] {
        let mut conductor = Conductor::new(&scenario);
        if !gloves {
            conductor.never(Act::GlovesOn).never(Act::GlovesOff);
        }
        conductor.until_like(|run, _| run.state().worn().is_some());
        assert_eq!(conductor.run.state().shown(Seen::DropOnFace).is_some(), drops);
        assert_eq!(Scene::of(&conductor.run).drop, drops);
    }
}

/// Overlooked in a run that is otherwise by the book, what happens to the wearer breaks one of the rules of its entry; what is
/// harmless breaks none.
#[test]
fn what_is_overlooked_breaks_a_rule_of_its_entry() {
    let mut wrong = Vec::new();
    for kind in Kind::ALL.iter().copied() {
        let entry = kind.entry();
        let seen: Vec<Seen> = entry.shows.iter().filter_map(|code| Seen::from_code(code)).collect();
        let harmless = entry.group == Group::Harmless;
        let happens = entry.arises.iter().any(|moment| !matches!(moment, Moment::Found | Moment::Doing));
        let poor_is_to_fail = entry
            .breaks
            .iter()
            .all(|rule| Rulebook::us(Agent::Sweet).rule(*rule).is_some_and(|rule| rule.push == Push::FalseFail));
        if poor_is_to_fail && !harmless {
            // What makes a taste suspect, or is no taste of the agent: overlooking it is not what goes wrong with it.
            continue;
        }
        if !happens || entry.group == Group::Pressure && kind != Kind::FireAlarm || kind == Kind::Pleases {
            // What others want is overlooked rightly; what is found has its cases under its rules.
            continue;
        }
        if matches!(kind, Kind::TakesHoodOff | Kind::LiftsHood) {
            // Nobody overlooks for long that there is no hood; going on after it has a case under its rule.
            continue;
        }
        let mut broke = false;
        for seed in 0..16 {
            let Some(scenario) = unannounced::with(Agent::Sweet, seed, kind).map(Rc::new) else { continue };
            let mut conductor = Conductor::new(&scenario);
            for sign in &seen {
                conductor.overlook(*sign);
            }
            conductor.finish();
            let log = conductor.run.log();
            let met = seen.iter().any(|sign| log.iter().any(|entry| entry.what == What::Sign(Sign::Seen(*sign))));
            let review = review(&scenario, log);
            let of_entry = review.findings.iter().any(|finding| entry.breaks.contains(&finding.rule));
            broke |= met && of_entry;
            if harmless && !review.findings.is_empty() {
                wrong.push(format!("{} {seed}: {:?}", kind.code(), findings(&review)));
            }
        }
        if !harmless && !broke {
            wrong.push(format!(
                "{}: breaks none of {:?}",
                kind.code(),
                entry.breaks.iter().map(|rule| rule.code()).collect::<Vec<_>>()
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
