//! The bare model of a rehearsal as one plain loop: hood, taste and breaths, with no rules around it.
//!
//! It is the floor beside which the engine is measured, and what is handed to another program to compute the same.

use crate::rehearsal::Rehearsal;
use bittersweet_core::{
    act::{Act, Role},
    draw::{self, Purpose},
    model::Parameters,
    motion::{Air, Motion},
    rulebook::Rulebook,
    taste,
    units::Ms,
};
use serde::Serialize;

/// How far apart breaths are.
const BREATH: Ms = Ms::secs(3);

/// How much of what was gathered a mouthful of water leaves.
const RINSED: f64 = 0.3;

/// Something that changes what is in the hood or on the tongue.
#[derive(Clone, Copy, Debug, Serialize)]
#[serde(tag = "what", content = "with", rename_all = "kebab-case")]
enum Event {
    /// A squeeze of so much.
    Squeeze(f64),
    /// The hood goes on, and such a share of its level reaches the tongue.
    HoodOn(f64),
    /// The hood comes off.
    HoodOff,
    /// Another share reaches the tongue.
    Share(f64),
    /// A mouthful of water, which leaves such a part of what was gathered.
    Water(f64),
}

/// What happens to the air, and who breathes it.
#[derive(Debug, Serialize)]
pub struct Model {
    #[serde(skip)]
    motion: Motion,
    fade_per_s: f64,
    gathers_s: f64,
    threshold: f64,
    first_breath: Ms,
    breath: Ms,
    events: Vec<(Ms, Event)>,
}

/// What comes of it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Impression {
    /// Squeezes given.
    pub squeezes: u32,
    /// Breaths in the hood, until a taste was signalled.
    pub breaths: u32,
    /// Tastes signalled.
    pub signals: u32,
    /// The most that was on the tongue at any breath.
    pub strongest: f64,
}

impl Impression {
    /// All counts together.
    pub const fn total(self) -> u32 {
        self.squeezes + self.breaths + self.signals
    }
}

impl Model {
    /// The model of a rehearsal with a sound, evenly strapped facepiece.
    pub fn of(rehearsal: &Rehearsal) -> Self {
        let scenario = &rehearsal.scenario;
        let agent = scenario.agent;
        let tastes_after = scenario.person.tastes_after.expect("a wearer who tastes it");
        let parameters = Parameters::live(agent);
        let motion = parameters.motion();
        let strength = f64::from(Rulebook::us(agent).solution.strength_milli) / 1_000.0;
        let (mut in_hand, mut worn, mut squeeze) = (None, None, 1.0);
        let mut events = Vec::new();
        for (at, act) in rehearsal.acts.iter().copied() {
            #[expect(clippy::wildcard_enum_match_arm, reason = "few acts change the air")]
            match act {
                Act::HandOver(slot) => in_hand = scenario.facepiece(slot),
                Act::Don(_) => worn = in_hand,
                Act::Doff => worn = None,
                Act::Take(Role::Check) => squeeze = 1.0,
                Act::Take(Role::Fit) => squeeze = strength,
                Act::Squeeze => events.push((at, Event::Squeeze(squeeze))),
                Act::HoodOff => events.push((at, Event::HoodOff)),
                Act::GiveWater => events.push((at, Event::Water(RINSED))),
                Act::HoodOn | Act::Begin(_) => {
                    let exercise = if let Act::Begin(exercise) = act { Some(exercise) } else { None };
                    let leaks = |fit: f64| parameters.reach / fit;
                    let share = worn.map_or(1.0, |piece| leaks(f64::from(piece.fit_in(exercise).get())));
                    events.push((at, if act == Act::HoodOn { Event::HoodOn(share) } else { Event::Share(share) }));
                }
                _ => {}
            }
        }
        Self {
            motion,
            fade_per_s: motion.fade_per_s,
            gathers_s: motion.gathers_s,
            threshold: taste::threshold(tastes_after, agent),
            first_breath: Ms(draw::number(scenario.seed, Purpose::FirstBreath, 0, BREATH.0)),
            breath: BREATH,
            events,
        }
    }

    /// Goes through it.
    pub fn run(&self) -> Impression {
        let mut impression = Impression::default();
        let (mut air, mut since, mut share, mut hooded) = (Air::default(), Ms::ZERO, 0.0, false);
        let mut breath = self.first_breath;
        for (at, event) in self.events.iter().copied() {
            while breath <= at {
                if hooded {
                    impression.breaths += 1;
                    let gathered = self.motion.after(air, share, breath.since(since).as_secs()).gathered;
                    impression.strongest = impression.strongest.max(gathered);
                    if gathered >= self.threshold {
                        impression.signals += 1;
                        // Signalled once, it is not signalled again.
                        hooded = false;
                    }
                }
                breath = breath.plus(self.breath);
            }
            air = self.motion.after(air, share, at.since(since).as_secs());
            since = at;
            match event {
                Event::Squeeze(adds) => {
                    impression.squeezes += 1;
                    air.level += adds;
                }
                Event::HoodOn(reaches) => (air.level, share, hooded) = (0.0, reaches, true),
                Event::HoodOff => (air.level, share, hooded) = (0.0, 0.0, false),
                Event::Share(reaches) => share = reaches,
                Event::Water(leaves) => air.gathered *= leaves,
            }
        }
        impression
    }
}
