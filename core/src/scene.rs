//! What there is to see at a moment, for whoever draws it or says it in words.
//!
//! Made from the state alone, so the picture shows no more than the logbook could tell: no threshold, no fit factor.
//! Both the drawing and its text equivalent are made from this, so nothing is only seen.

use crate::{
    act::{Act, Aim, Exercise, Reminder, Role, Topic},
    coded::coded,
    facepiece::{Class, Size},
    log::What,
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

coded! {
    /// Where the wearer's free hand is.
    Hand {
        /// At the side.
        Down = "down",
        /// Up, in the sign agreed for taste.
        Raised = "raised",
        /// Half up, undecided.
        HalfRaised = "half-raised",
        /// At the facepiece.
        AtMask = "at-mask",
        /// At a strap.
        AtStrap = "at-strap",
        /// At the forehead.
        AtForehead = "at-forehead",
        /// At the chest.
        AtChest = "at-chest",
        /// At the hood's edge.
        AtHood = "at-hood",
        /// With a cup.
        WithCup = "with-cup",
        /// With a slip of paper.
        WithSlip = "with-slip",
        /// With a form, filled in.
        WithForm = "with-form",
        /// On the table, leaned on.
        OnTable = "on-table",
        /// Palm out: stop.
        Stop = "stop",
    }
}

coded! {
    /// What the head does for a moment.
    Head {
        /// Nods.
        Nods = "nods",
        /// Is shaken.
        Shakes = "shakes",
        /// Coughs.
        Coughs = "coughs",
        /// Pulls a face.
        PullsFace = "pulls-face",
        /// Looks round at others.
        LooksRound = "looks-round",
    }
}

coded! {
    /// The mouth, where it can be seen.
    Mouth {
        /// At rest.
        Rest = "rest",
        /// Slightly open, tongue out.
        TongueOut = "tongue-out",
        /// Shut tight, breathing by the nose.
        Shut = "shut",
    }
}

coded! {
    /// How somebody unwell looks.
    Ill {
        /// Grey, a hand at the chest.
        ChestPain = "chest-pain",
        /// Each breath whistles, the lips swell.
        Wheezes = "wheezes",
        /// Leans on the table, out of breath.
        Breathless = "breathless",
    }
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
    /// It swings against a shoulder.
    pub swings: bool,
    /// Mist, from 0 (none) to 5 (dense): the teaching model's level.
    pub mist: u8,
}

coded! {
    /// A hood that is off and still in the wearer's hand.
    Off {
        /// Lifted off the face.
        Lifted = "lifted",
        /// Taken off.
        InHand = "in-hand",
    }
}

coded! {
    /// What a look at a nebulizer's tag showed.
    Tag {
        /// The solution that its place is for.
        Own = "own",
        /// The solution of the other place.
        Other = "other",
        /// The other agent.
        OtherAgent = "other-agent",
        /// Nothing.
        Blank = "blank",
    }
}

/// How much a nebulizer holds, as far as could be seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Liquid {
    /// What one session needs; taken to be so until looked at.
    Enough,
    /// Hardly anything.
    Low,
    /// Nothing: it was rinsed and shaken dry.
    Nothing,
}

/// A nebulizer, as the last look at it showed it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Nebulizer {
    /// For which solution.
    pub role: Role,
    /// What its tag says; `None` until looked at.
    pub tag: Option<Tag>,
    /// How much is in it.
    pub liquid: Liquid,
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

/// What the conductor has just looked at closely.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Object {
    /// A nebulizer.
    Nebulizer(Role),
    /// Its spray.
    Spray(Role),
    /// A bottle of solution.
    Bottle,
    /// The inside of the hood.
    Hood,
    /// The facepiece in hand.
    Facepiece(Class),
}

impl Object {
    /// The code that stands for it in keys.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Nebulizer(_) => "nebulizer",
            Self::Spray(_) => "spray",
            Self::Bottle => "bottle",
            Self::Hood => "hood",
            Self::Facepiece(_) => "facepiece",
        }
    }
}

/// A close look: at what, and what it showed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Close {
    /// At what.
    pub object: Object,
    /// What it showed.
    pub seen: Vec<Seen>,
}

coded! {
    /// What goes on around the wearer.
    Around {
        /// Somebody in the door, who wants something.
        Door = "door",
        /// Somebody in the door, and sheets on the bench.
        Sheets = "sheets",
        /// A queue in the door.
        Queue = "queue",
        /// A second worker with a hood in hand.
        SecondWearer = "second-wearer",
        /// The phone on the bench rings.
        Phone = "phone",
        /// The alarm sounds.
        Alarm = "alarm",
        /// A workmate's hand at a strap.
        Helper = "helper",
    }
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
    /// Whether the words cannot be made out.
    pub whispers: bool,
    /// The mouth.
    pub mouth: Mouth,
    /// The hand.
    pub hand: Hand,
    /// What the head does.
    pub head: Option<Head>,
    /// How unwell the wearer looks.
    pub ill: Option<Ill>,
    /// Whether a drop hangs on the chin.
    pub drop: bool,
    /// Gear on.
    pub gear: Vec<Gear>,
    /// The facepiece on.
    pub worn: Option<Worn>,
    /// Class and size of what lies at each place of the rack; `None` where it is on the face.
    pub rack: Vec<Option<(Class, Size)>>,
    /// The hood on.
    pub hood: Option<Hood>,
    /// The hood that is off and in the wearer's hand.
    pub off: Option<Off>,
    /// The two nebulizers on the bench or in hand.
    pub nebulizers: [Nebulizer; 2],
    /// The one in hand.
    pub held: Option<Held>,
    /// What goes on around the wearer.
    pub around: Option<Around>,
    /// What the conductor looks at closely, until the next act.
    pub close: Option<Close>,
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
        let hooded = state.hood.is_some();
        let told = state.last(Act::Remind(Reminder::Breathing)).is_some_and(|at| at >= attempt_from)
            || state.first(Act::Explain(Topic::Duties)).is_some()
            || state.first(Act::Explain(Topic::Procedure)).is_some();
        let around = fresh(run).find_map(around);
        Self {
            agent: scenario.agent,
            look: scenario.person.look,
            face: if state.shown(Seen::SealCleared).is_some() { Face::Clear } else { scenario.person.face },
            seated: seen_since(Seen::SitsDown, Seen::StandsUp),
            exercise: state.exercise(),
            rushed: since_hood(Seen::RushesMoves) && seen_since(Seen::RushesMoves, Seen::SlowsMoves),
            whispers: since_hood(Seen::Whispers) && seen_since(Seen::Whispers, Seen::SpeaksUp),
            mouth: if !hooded {
                Mouth::Rest
            } else if since_hood(Seen::MouthShuts) && seen_since(Seen::MouthShuts, Seen::MouthOpens) {
                Mouth::Shut
            } else if told {
                Mouth::TongueOut
            } else {
                Mouth::Rest
            },
            hand: hand(run),
            head: fresh(run).find_map(head),
            ill: ill(state),
            drop: state.shown_last(Seen::DropOnFace) > state.last(Act::WipeFace)
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
            rack: scenario
                .slots()
                .zip(&scenario.rack)
                .map(|(slot, piece)| {
                    let lies_there = state.worn().is_none_or(|donning| donning.slot != slot);
                    lies_there.then_some((piece.class, piece.size))
                })
                .collect(),
            hood: hooded.then(|| Hood {
                near: state.hood_near,
                fogged: since_hood(Seen::WindowFogs),
                swings: fresh(run).any(|sign| sign.is(Seen::HoodBrushes)),
                mist: mist(run),
            }),
            off: off(run),
            nebulizers: [Role::Check, Role::Fit].map(|role| nebulizer(run, role)),
            held: state.held.map(|role| {
                let cleared = state.last(Act::ClearNebulizer(role)).max(state.last(Act::Take(role)));
                Held {
                    role,
                    aim: state.aim,
                    pressed: state.last_squeeze.is_some_and(|at| now.since(at) < PRESS),
                    failing: state.shown_last(Seen::SpraysNothing).max(state.shown_last(Seen::SprayFails)) > cleared,
                }
            }),
            around,
            close: close(run).filter(|_| around.is_none()),
        }
    }
}

/// The signs that are still fresh, the last first: what was shown a moment ago, and the answer to the last act.
fn fresh(run: &Run) -> impl Iterator<Item = Sign> + '_ {
    let from = run.now().0.saturating_sub(GESTURE.0);
    let acted = run.acts().last().map(|(at, _)| at);
    run.log().iter().rev().take_while(move |entry| entry.at.0 >= from || Some(entry.at) == acted).filter_map(|entry| {
        match entry.what {
            What::Sign(sign) => Some(sign),
            What::Act(_) => None,
        }
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "few of a hundred signs are of the room")]
fn around(sign: Sign) -> Option<Around> {
    let Sign::Seen(seen) = sign else { return None };
    Some(match seen {
        Seen::PressedForPass | Seen::AsksForTen | Seen::AsksForOtherAgent => Around::Door,
        Seen::AsksForSignature => Around::Sheets,
        Seen::QueueGrows => Around::Queue,
        Seen::SecondWearer => Around::SecondWearer,
        Seen::PhoneRings => Around::Phone,
        Seen::FireAlarm => Around::Alarm,
        Seen::HelperAtStraps => Around::Helper,
        _ => return None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "few of a hundred signs move the head")]
fn head(sign: Sign) -> Option<Head> {
    let Sign::Seen(seen) = sign else { return None };
    Some(match seen {
        Seen::NodsOnly | Seen::SaysYesToPlease => Head::Nods,
        Seen::ChoosesNone => Head::Shakes,
        Seen::Coughs => Head::Coughs,
        Seen::PullsFace => Head::PullsFace,
        Seen::LooksRound => Head::LooksRound,
        _ => return None,
    })
}

/// Whether `seen` was shown and nothing was done since that is `over`.
fn lasts(run: &Run, seen: Seen, over: impl Fn(Act) -> bool) -> bool {
    let last = run.log().iter().rev().find(|entry| match entry.what {
        What::Sign(sign) => sign.is(seen),
        What::Act(act) => over(act),
    });
    last.is_some_and(|entry| matches!(entry.what, What::Sign(_)))
}

fn ill(state: &State) -> Option<Ill> {
    let signs = [(Seen::ChestPain, Ill::ChestPain), (Seen::Wheezes, Ill::Wheezes), (Seen::Breathless, Ill::Breathless)];
    signs.into_iter().find(|(seen, _)| state.shown(*seen).is_some()).map(|(_, ill)| ill)
}

/// A hood that was lifted or taken off stays in the wearer's hand until it goes on again or the attempt is done with.
fn off(run: &Run) -> Option<Off> {
    let over = |act: Act| matches!(act, Act::HoodOn | Act::Stop | Act::Give(_) | Act::Doff);
    if run.state().hood.is_some() {
        None
    } else if lasts(run, Seen::TakesHoodOff, over) {
        Some(Off::InHand)
    } else {
        lasts(run, Seen::LiftsHood, over).then_some(Off::Lifted)
    }
}

/// What the hand does: the last gesture while it is fresh, else what it stays at.
fn hand(run: &Run) -> Hand {
    if let Some(gesture) = fresh(run).find_map(gesture) {
        return gesture;
    }
    // Paper is held out until something else is done.
    let held_out = |seen: Seen| lasts(run, seen, |_| true);
    if [Seen::SaysCleared, Seen::SaysClearedLongAgo, Seen::SaysPoweredOnly].into_iter().any(held_out) {
        return Hand::WithSlip;
    }
    if held_out(Seen::OffersQuestionnaire) {
        return Hand::WithForm;
    }
    // A hand that is up comes down when the conductor turns to the wearer.
    let turned_to = |act: Act| {
        matches!(act, Act::AnswerSignal | Act::Ask(_) | Act::NoteThreshold(_) | Act::Stop | Act::HoodOff | Act::Give(_))
    };
    if lasts(run, Seen::SignalsTaste, turned_to) {
        Hand::Raised
    } else if lasts(run, Seen::RaisesHand, turned_to) {
        Hand::HalfRaised
    } else if off(run).is_some() {
        Hand::AtHood
    } else {
        match ill(run.state()) {
            Some(Ill::ChestPain) => Hand::AtChest,
            Some(Ill::Breathless) => Hand::OnTable,
            Some(Ill::Wheezes) | None => Hand::Down,
        }
    }
}

/// What a hand does for a moment; `None` where the sign moves none.
#[expect(clippy::wildcard_enum_match_arm, reason = "few of a hundred signs move a hand")]
fn gesture(sign: Sign) -> Option<Hand> {
    let Sign::Seen(seen) = sign else { return None };
    Some(match seen {
        Seen::TouchesMask => Hand::AtMask,
        Seen::AdjustsMask => Hand::AtStrap,
        Seen::ScratchesForehead => Hand::AtForehead,
        Seen::SipsWater => Hand::WithCup,
        Seen::SaysStop => Hand::Stop,
        _ => return None,
    })
}

/// What the last look at a nebulizer showed, and what was done to it since.
#[expect(clippy::wildcard_enum_match_arm, reason = "few acts and signs concern a nebulizer")]
fn nebulizer(run: &Run, role: Role) -> Nebulizer {
    let mut found = Nebulizer { role, tag: None, liquid: Liquid::Enough, crusted: false };
    let mut looked = false;
    for entry in run.log() {
        match entry.what {
            What::Act(act) => {
                looked = act == Act::CheckNebulizer(role);
                match act {
                    Act::LabelNebulizer(of) if of == role => found.tag = Some(Tag::Own),
                    Act::ClearNebulizer(of) if of == role => found.crusted = false,
                    Act::RinseNebulizer(of) if of == role => (found.crusted, found.liquid) = (false, Liquid::Nothing),
                    Act::FillNebulizer(of) if of == role => {
                        found.liquid = Liquid::Enough;
                        found.tag = found.tag.map(|tag| if tag == Tag::Blank { tag } else { Tag::Own });
                    }
                    _ => {}
                }
            }
            What::Sign(Sign::Seen(seen)) if looked => match seen {
                Seen::NebulizerMarked => found.tag = Some(Tag::Own),
                Seen::NebulizerSwapped => found.tag = Some(Tag::Other),
                Seen::NebulizerOtherAgent => found.tag = Some(Tag::OtherAgent),
                Seen::NebulizerUnmarked => found.tag = Some(Tag::Blank),
                Seen::NebulizerLevelRight => found.liquid = Liquid::Enough,
                Seen::NebulizerLow => found.liquid = Liquid::Low,
                Seen::NebulizerTipFree => found.crusted = false,
                Seen::NebulizerTipCrusted => found.crusted = true,
                _ => {}
            },
            What::Sign(_) => {}
        }
    }
    found
}

/// What the last act was to look at, and what it showed.
#[expect(clippy::wildcard_enum_match_arm, reason = "few acts are close looks")]
fn close(run: &Run) -> Option<Close> {
    let (at, act) = run.acts().last()?;
    let object = match act {
        Act::CheckNebulizer(role) => Object::Nebulizer(role),
        Act::TestSpray(role) => Object::Spray(role),
        Act::CheckBottle(_) => Object::Bottle,
        Act::CheckHood => Object::Hood,
        Act::InspectFacepiece => {
            Object::Facepiece(run.state().in_hand.and_then(|slot| run.scenario().facepiece(slot))?.class)
        }
        _ => return None,
    };
    let shown = run.log().iter().rev().take_while(|entry| !matches!(entry.what, What::Act(_)));
    let mut seen: Vec<Seen> = shown
        .filter(|entry| entry.at == at)
        .filter_map(|entry| match entry.what {
            What::Sign(Sign::Seen(seen)) => Some(seen),
            What::Sign(_) | What::Act(_) => None,
        })
        .collect();
    seen.reverse();
    Some(Close { object, seen })
}

/// The level as five steps of density, against a full initial set of the least class.
fn mist(run: &Run) -> u8 {
    let strength = match run.state().worn() {
        Some(_) => f64::from(run.scenario().rulebook().solution.strength_milli) / 1_000.0,
        None => 1.0,
    };
    density(run.mist() / strength)
}

/// How dense mist of so many squeezes looks, from 0 to 5.
pub(crate) fn density(squeezes: f64) -> u8 {
    [0.3, 2.0, 5.0, 10.0, 18.0].iter().filter(|step| squeezes >= **step).count().try_into().unwrap_or(5)
}
