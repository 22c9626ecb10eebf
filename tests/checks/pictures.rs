//! What comes up is to be seen in the picture, unless it is only said: the moment of each cue beside the same acts in a
//! quiet run.

use crate::driver::{Conductor, MOST_ACTS};
use bittersweet_core::{
    act::{Act, Manner},
    log::What,
    rulebook::Agent,
    run::Run,
    scenario::Scenario,
    scene::{Hand, Scene},
    sign::{Seen, Sign},
    trouble::Kind,
    unannounced,
    units::Ms,
};
use std::rc::Rc;

/// Kinds that show by words alone, spoken or written, and by nothing to be drawn.
const ONLY_SAID: [Kind; 23] = [
    Kind::Sweets,
    Kind::Coffee,
    Kind::Gum,
    Kind::Tobacco,
    Kind::NumbMouth,
    Kind::NotToday,
    Kind::BeyondLimit,
    Kind::OtherFacepiece,
    Kind::RefusesAgent,
    Kind::Overdue,
    Kind::SealLeaks,
    Kind::Uncomfortable,
    Kind::GlassesInPocket,
    Kind::CannotTaste,
    Kind::TastesBefore,
    Kind::Salty,
    Kind::SaltyStays,
    Kind::Plastic,
    Kind::TellsLate,
    Kind::Asks,
    Kind::DrankWater,
    Kind::ClearanceLongAgo,
    Kind::PoweredOnly,
];

/// The run by the book up to the first cue of this kind.
fn to_the_cue(scenario: &Rc<Scenario>, kind: Kind) -> Option<Run> {
    let mut conductor = Conductor::new(scenario);
    let cued = |run: &Run| {
        let shows = kind.entry().shows;
        run.log().iter().any(|entry| matches!(entry.what, What::Sign(sign) if shows.contains(&sign.code().0)))
    };
    for _ in 0..MOST_ACTS {
        if cued(&conductor.run) {
            return Some(conductor.run);
        }
        let step = conductor.next()?;
        if kind == Kind::Pleases && matches!(step.act, Act::Ask(_)) {
            // Only a leading question shows who says yes to please.
            conductor.act(Act::Ask(Manner::TowardsYes));
        } else {
            conductor.try_step(step).ok()?;
        }
    }
    None
}

/// The picture at the cue and that of the same acts where nothing came up. The facepieces are of the same classes in both,
/// unless the class is what came up.
fn at_the_cue(agent: Agent, seed: u64, kind: Kind) -> Option<(Scene, Scene)> {
    let scenario = unannounced::with(agent, seed, kind).map(Rc::new)?;
    let run = to_the_cue(&scenario, kind)?;
    let acts: Vec<_> = run.acts().collect();
    let mut quiet = unannounced::with(agent, seed, Kind::DrankWater)?;
    for (piece, planted) in quiet.rack.iter_mut().zip(&scenario.rack) {
        if kind != Kind::AirSupplied {
            piece.class = planted.class;
        }
    }
    let mut quiet = Run::replay(Rc::new(quiet), &acts).ok()?;
    quiet.advance(run.now());
    Some((Scene::of(&run), Scene::of(&quiet)))
}

#[test]
fn each_cue_is_seen_unless_it_is_only_said() {
    let mut wrong = Vec::new();
    for kind in Kind::ALL.iter().copied() {
        // What the conductor's own doing makes is looked at with its kind.
        if kind == Kind::AgentOnFingers {
            continue;
        }
        let mut pictures = (0..24).filter_map(|seed| at_the_cue(Agent::Sweet, seed, kind)).peekable();
        let shown = pictures.peek().is_some();
        let seen = pictures.any(|(cue, quiet)| cue != quiet);
        if !shown || seen == ONLY_SAID.contains(&kind) {
            wrong.push(format!("{}: cue shown: {shown}, seen in the picture: {seen}", kind.code()));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A run up to this sign, for whichever seed shows it.
fn shown(kind: Kind, seen: Seen) -> Run {
    let cued = |seed| {
        let run = to_the_cue(&Rc::new(unannounced::with(Agent::Sweet, seed, kind)?), kind)?;
        run.log().last().is_some_and(|entry| entry.what == What::Sign(Sign::Seen(seen))).then_some(run)
    };
    (0..200).find_map(cued).expect("a seed that shows it")
}

#[test]
fn a_gesture_passes_and_a_hand_that_is_up_waits_for_an_answer() {
    let later = Ms::secs(10);
    let mut run = shown(Kind::Scratches, Seen::ScratchesForehead);
    assert_eq!(Scene::of(&run).hand, Hand::AtForehead);
    run.advance(run.now().plus(later));
    assert_eq!(Scene::of(&run).hand, Hand::Down);

    let mut run = shown(Kind::TastesAtEleven, Seen::SignalsTaste);
    run.advance(run.now().plus(later));
    assert_eq!(Scene::of(&run).hand, Hand::Raised);
    run.apply(Act::AnswerSignal, run.now()).expect("a signal can be answered");
    assert_eq!(Scene::of(&run).hand, Hand::Down);
}

#[test]
fn a_hood_that_was_lifted_stays_lifted_until_it_goes_on_again() {
    let mut run = shown(Kind::LiftsHood, Seen::LiftsHood);
    run.advance(run.now().plus(Ms::secs(10)));
    assert!(Scene::of(&run).off.is_some());
    run.apply(Act::HoodOn, run.now()).expect("the hood can go on again");
    assert_eq!(Scene::of(&run).off, None);
}

#[test]
fn the_place_of_the_facepiece_that_is_worn_is_empty_and_no_other() {
    let run = shown(Kind::MaskSlips, Seen::MaskSlips);
    let worn = run.state().worn().map(|donning| donning.slot);
    let empty = |rack: Vec<Option<_>>| rack.iter().map(Option::is_none).collect::<Vec<_>>();
    let expected: Vec<bool> = run.scenario().slots().map(|slot| Some(slot) == worn).collect();
    assert!(expected.contains(&true));
    assert_eq!(empty(Scene::of(&run).rack), expected);
}

#[test]
fn what_a_look_showed_on_one_nebulizer_is_not_drawn_on_the_other() {
    let run = shown(Kind::Clogged, Seen::NebulizerTipCrusted);
    assert_eq!(Scene::of(&run).nebulizers.map(|nebulizer| nebulizer.crusted), [false, true]);
}

#[test]
fn paper_is_held_out_until_the_next_act() {
    let mut run = shown(Kind::PoweredOnly, Seen::SaysPoweredOnly);
    assert_eq!(Scene::of(&run).hand, Hand::WithSlip);
    run.apply(Act::AskMouth, run.now()).expect("a question can be asked");
    assert_eq!(Scene::of(&run).hand, Hand::Down);
}
