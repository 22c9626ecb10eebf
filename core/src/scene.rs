//! What there is to see at a moment, for whoever draws it or says it in words.
//!
//! Made from the state alone, so the picture shows no more than the logbook could tell: no threshold, no fit factor.
//! Both the drawing and its text equivalent are made from this, so nothing is only seen.

use crate::{
    act::{Aim, Exercise, Role},
    facepiece::{Class, Size},
    rulebook::Agent,
    run::Run,
    scenario::{Face, Look},
    sign::{Gear, Seen, Sign},
    state::State,
    units::Ms,
};

/// How long a gesture stays to be seen.
const GESTURE: Ms = Ms::secs(4);

/// How long a pressed bulb stays pressed.
const PRESS: Ms = Ms(250);

/// Where the wearer's free hand is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// At the side.
    Down,
    /// Up, in the sign agreed for taste.
    Raised,
    /// Half up, undecided.
    HalfRaised,
    /// At the facepiece.
    AtMask,
    /// At a strap.
    AtStrap,
    /// At the forehead.
    AtForehead,
    /// At the chest.
    AtChest,
    /// At the hood's edge.
    AtHood,
    /// With a cup.
    WithCup,
    /// Palm out: stop.
    Stop,
}

/// The mouth, where it can be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mouth {
    /// At rest.
    Rest,
    /// Slightly open, tongue out.
    TongueOut,
    /// Shut tight, breathing by the nose.
    Shut,
}

/// The facepiece on the face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Worn {
    /// Its kind.
    pub class: Class,
    /// Its size.
    pub size: Size,
    /// A fault to be seen in how it sits.
    pub fault: Option<Seen>,
    /// Whether it has slipped a little.
    pub slipped: bool,
}

/// The hood.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hood {
    /// The window nearly touches the face.
    pub near: bool,
    /// The window is fogged.
    pub fogged: bool,
    /// Mist, from 0 (none) to 5 (dense): the teaching model's level.
    pub mist: u8,
}

/// A nebulizer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Nebulizer {
    /// For which solution.
    pub role: Role,
    /// Whether it bears a clear mark; `None` until looked at.
    pub marked: Option<bool>,
    /// Whether a crust was seen on its tip.
    pub crusted: bool,
}

/// The nebulizer in hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// Which.
    pub role: Role,
    /// Where it points.
    pub aim: Aim,
    /// Whether the bulb is pressed just now.
    pub pressed: bool,
    /// Whether its spray was seen to fail.
    pub failing: bool,
}

/// What goes on around the wearer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Around {
    /// Somebody in the door, who wants something.
    Door,
    /// A queue in the door.
    Queue,
    /// A second worker with a hood in hand.
    SecondWearer,
    /// The phone on the bench rings.
    Phone,
    /// The alarm sounds.
    Alarm,
    /// A workmate's hand at a strap.
    Helper,
}

/// What there is to see.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scene {
    /// The agent of the day, for the tint.
    pub agent: Agent,
    /// How the wearer looks.
    pub look: Look,
    /// What is on the face.
    pub face: Face,
    /// Whether they sit.
    pub seated: bool,
    /// Which exercise goes on.
    pub exercise: Option<Exercise>,
    /// Whether its movements are rushed.
    pub rushed: bool,
    /// The mouth.
    pub mouth: Mouth,
    /// The hand.
    pub hand: Hand,
    /// Whether the wearer looks unwell.
    pub unwell: bool,
    /// Whether a drop hangs on the chin.
    pub drop: bool,
    /// Gear on.
    pub gear: Vec<Gear>,
    /// The facepiece on.
    pub worn: Option<Worn>,
    /// The hood on.
    pub hood: Option<Hood>,
    /// The two nebulizers on the bench or in hand.
    pub nebulizers: [Nebulizer; 2],
    /// The one in hand.
    pub held: Option<Held>,
    /// What the wearer did or said last, while it is fresh.
    pub fresh: Option<Sign>,
    /// What goes on around the wearer, while it is fresh.
    pub around: Option<Around>,
}

impl Scene {
    /// What there is to see in `run` now.
    #[must_use]
    pub fn of(run: &Run) -> Self {
        let (scenario, state, now) = (run.scenario(), run.state(), run.now());
        let seen_since = |seen: Seen, undone: Seen| {
            state.shown_last(seen).is_some_and(|at| state.shown_last(undone).is_none_or(|over| over < at))
        };
        let attempt_from = state.hood.unwrap_or(Ms::ZERO);
        let since_hood = |seen: Seen| state.shown_last(seen).is_some_and(|at| at >= attempt_from);
        let fresh = fresh(run);
        let hooded = state.hood.is_some();
        let told =
            state.last(crate::act::Act::Remind(crate::act::Reminder::Breathing)).is_some_and(|at| at >= attempt_from)
                || state.first(crate::act::Act::Explain(crate::act::Topic::Duties)).is_some()
                || state.first(crate::act::Act::Explain(crate::act::Topic::Procedure)).is_some();
        Self {
            agent: scenario.agent,
            look: scenario.person.look,
            face: if state.shown(Seen::SealCleared).is_some() { Face::Clear } else { scenario.person.face },
            seated: seen_since(Seen::SitsDown, Seen::StandsUp),
            exercise: state.exercise(),
            rushed: since_hood(Seen::RushesMoves) && seen_since(Seen::RushesMoves, Seen::SlowsMoves),
            mouth: if !hooded {
                Mouth::Rest
            } else if since_hood(Seen::MouthShuts) && seen_since(Seen::MouthShuts, Seen::MouthOpens) {
                Mouth::Shut
            } else if told {
                Mouth::TongueOut
            } else {
                Mouth::Rest
            },
            hand: fresh.map_or(Hand::Down, hand),
            unwell: [Seen::Breathless, Seen::ChestPain, Seen::Wheezes].iter().any(|seen| state.shown(*seen).is_some()),
            drop: state.shown_last(Seen::DropOnFace) > state.last(crate::act::Act::WipeFace)
                && state.shown(Seen::DropOnFace).is_some(),
            gear: if state.worn().is_some_and(|donning| donning.gear.is_some()) {
                scenario.person.gear.clone()
            } else {
                Vec::new()
            },
            worn: state.worn().and_then(|donning| {
                let piece = scenario.facepiece(donning.slot)?;
                let fault = donning.fault.filter(|_| donning.fixed.is_none()).map(|(_, seen)| seen);
                let slipped = state.shown_last(Seen::MaskSlips).is_some_and(|at| at >= donning.at);
                Some(Worn { class: piece.class, size: piece.size, fault, slipped })
            }),
            hood: hooded.then(|| Hood { near: state.hood_near, fogged: since_hood(Seen::WindowFogs), mist: mist(run) }),
            nebulizers: [nebulizer(state, Role::Check), nebulizer(state, Role::Fit)],
            held: state.held.map(|role| Held {
                role,
                aim: state.aim,
                pressed: state.last_squeeze.is_some_and(|at| now.since(at) < PRESS),
                failing: state.shown_last(Seen::SpraysNothing).max(state.shown_last(Seen::SprayFails))
                    > state.last(crate::act::Act::ClearNebulizer(role)),
            }),
            fresh,
            around: fresh.and_then(around),
        }
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "few of a hundred signs are of the room")]
fn around(sign: Sign) -> Option<Around> {
    let Sign::Seen(seen) = sign else { return None };
    Some(match seen {
        Seen::PressedForPass | Seen::AsksForTen | Seen::AsksForSignature | Seen::AsksForOtherAgent => Around::Door,
        Seen::QueueGrows => Around::Queue,
        Seen::SecondWearer => Around::SecondWearer,
        Seen::PhoneRings => Around::Phone,
        Seen::FireAlarm => Around::Alarm,
        Seen::HelperAtStraps => Around::Helper,
        _ => return None,
    })
}

/// The last sign that is the wearer's own doing or saying, while it is fresh.
fn fresh(run: &Run) -> Option<Sign> {
    let from = run.now().0.saturating_sub(GESTURE.0);
    run.log().iter().rev().take_while(|entry| entry.at.0 >= from).find_map(|entry| match entry.what {
        crate::log::What::Sign(sign) => Some(sign),
        crate::log::What::Act(_) => None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "few of a hundred signs move a hand")]
fn hand(sign: Sign) -> Hand {
    let Sign::Seen(seen) = sign else { return Hand::Down };
    match seen {
        Seen::SignalsTaste => Hand::Raised,
        Seen::RaisesHand => Hand::HalfRaised,
        Seen::TouchesMask => Hand::AtMask,
        Seen::AdjustsMask => Hand::AtStrap,
        Seen::ScratchesForehead => Hand::AtForehead,
        Seen::ChestPain => Hand::AtChest,
        Seen::LiftsHood | Seen::TakesHoodOff => Hand::AtHood,
        Seen::SipsWater => Hand::WithCup,
        Seen::SaysStop => Hand::Stop,
        _ => Hand::Down,
    }
}

fn nebulizer(state: &State, role: Role) -> Nebulizer {
    use crate::act::Act;
    let looked = state.last(Act::CheckNebulizer(role)).or(state.last(Act::LabelNebulizer(role)));
    let unmarked = state.shown_last(Seen::NebulizerUnmarked);
    let labelled = state.last(Act::LabelNebulizer(role));
    Nebulizer {
        role,
        marked: looked.map(|_| labelled >= unmarked),
        crusted: state.shown_last(Seen::NebulizerTipCrusted) > state.last(Act::ClearNebulizer(role)),
    }
}

/// The level as five steps of density, against a full initial set of the least class.
fn mist(run: &Run) -> u8 {
    let strength = match run.state().worn() {
        Some(_) => f64::from(run.scenario().rulebook().solution.strength_milli) / 1_000.0,
        None => 1.0,
    };
    let squeezes = run.mist() / strength;
    [0.3, 2.0, 5.0, 10.0, 18.0].iter().filter(|step| squeezes >= **step).count().try_into().unwrap_or(5)
}
