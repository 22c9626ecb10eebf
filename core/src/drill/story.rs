//! What a drill tells: a test or a screening by the book, with one thing that comes up or goes wrong, something that only
//! looks odd, or nothing.
//!
//! It says what is planted and how easily that is overlooked. What it means for the result is not said here: that is the
//! judge's to find in the log that comes of it.

use super::{Asks, Level};
use crate::{
    act::Exercise,
    draw::{self, Purpose},
    facepiece::{Class, Condition, Filters, Straps},
    rulebook::Agent,
    scenario::{Attention, Scenario},
    trouble::{Kind, Moment, When},
    unannounced,
    units::{FitFactor, Ms},
};

/// The id of every scenario made for a drill; its seed tells it from the others.
const ID: &str = "drill";

/// What a story is about, for a fair mixture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Family {
    /// Odd to look at, and of no weight.
    Harmless,
    /// Nothing comes up.
    Plain,
    /// A taste in the test.
    Taste,
    /// Something spoils the attempt, or may.
    Spoilt,
    /// Nothing is tasted at thirty.
    CannotTaste,
    /// Something stands in the way of a test.
    Barred,
    /// The wearer has to stop, or wants to.
    Stopped,
}

/// What the conductor does otherwise than the book.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Slip {
    /// Nothing.
    None,
    /// Gives a replenishment so many halves of its squeezes, and so many seconds late.
    Set { halves: u32, late_s: (u32, u32) },
    /// Gives every replenishment with half of its squeezes.
    HalfSets,
    /// Stops the initial squeezes at ten.
    FewInitial,
    /// Ends an exercise after so many seconds.
    Length(u32, u32),
    /// Leaves an exercise out.
    Skip,
    /// Has two exercises done in the other's place.
    Swap,
    /// Takes the other nebulizer.
    OtherNebulizer,
    /// Asks in a way that wants a no.
    Leads,
    /// Straightens the straps in an exercise.
    Straps,
    /// Notes the class before the one in which it was tasted, and goes by it.
    NotesLess,
    /// Points the nozzle at the mouth.
    Nozzle,
    /// Gives twelve squeezes before the first question.
    Twelve,
    /// Presses again before the bulb has filled.
    Hasty,
}

/// A thing that comes up, and whether the conductor takes notice.
#[derive(Clone, Copy, Debug)]
pub(super) struct Event {
    pub(super) kind: Kind,
    pub(super) overlooked: bool,
}

/// One story.
#[derive(Clone, Copy, Debug)]
pub(super) struct Story {
    level: Level,
    pub(super) family: Family,
    pub(super) events: &'static [Event],
    pub(super) slip: Slip,
}

const fn seen(kind: Kind) -> Event {
    Event { kind, overlooked: false }
}

const fn unseen(kind: Kind) -> Event {
    Event { kind, overlooked: true }
}

const fn story(level: Level, family: Family, events: &'static [Event]) -> Story {
    Story { level, family, events, slip: Slip::None }
}

const fn slip(level: Level, family: Family, slip: Slip) -> Story {
    Story { level, family, events: &[], slip }
}

use Family::{Barred, CannotTaste, Harmless, Plain, Spoilt, Stopped, Taste};
use Level::{Four, One, Three, Two};

/// How often each family comes, in a test and in a screening.
const IN_TESTS: [(Family, u32); 7] =
    [(Harmless, 8), (Plain, 1), (Taste, 4), (Spoilt, 5), (CannotTaste, 2), (Barred, 2), (Stopped, 2)];
const IN_SCREENINGS: [(Family, u32); 4] = [(Harmless, 8), (Plain, 6), (CannotTaste, 4), (Spoilt, 6)];

/// Stories that end in one of the six results.
const TESTS: &[Story] = &[
    story(One, Harmless, &[seen(Kind::Scratches)]),
    story(One, Harmless, &[seen(Kind::Coughs)]),
    story(One, Harmless, &[seen(Kind::Moustache)]),
    story(One, Harmless, &[seen(Kind::DrankWater)]),
    story(Two, Harmless, &[seen(Kind::Asks)]),
    story(Two, Harmless, &[seen(Kind::WindowFogs)]),
    story(Two, Harmless, &[seen(Kind::HoodBrushes)]),
    story(Two, Harmless, &[seen(Kind::ClearanceLongAgo)]),
    story(Two, Harmless, &[seen(Kind::Queue)]),
    story(Three, Harmless, &[seen(Kind::MaskSlips)]),
    story(Three, Harmless, &[seen(Kind::Plastic)]),
    story(Three, Harmless, &[seen(Kind::Salty)]),
    story(Three, Harmless, &[seen(Kind::MouthShuts)]),
    story(Three, Harmless, &[seen(Kind::Rushes)]),
    story(Three, Harmless, &[seen(Kind::SitsDown)]),
    story(Three, Harmless, &[seen(Kind::PhoneRings)]),
    slip(Four, Harmless, Slip::Set { halves: 2, late_s: (3, 4) }),
    slip(Four, Harmless, Slip::Set { halves: 4, late_s: (0, 0) }),
    slip(Four, Harmless, Slip::Length(58, 59)),
    slip(Four, Harmless, Slip::Length(66, 74)),
    story(Four, Harmless, &[seen(Kind::Whispers)]),
    story(Four, Harmless, &[seen(Kind::Pressed)]),
    story(One, Plain, &[]),
    story(Two, Plain, &[]),
    story(Three, Plain, &[]),
    story(Four, Plain, &[]),
    story(One, Taste, &[seen(Kind::InventsTaste)]),
    story(Two, Taste, &[unseen(Kind::InventsTaste)]),
    story(Two, Taste, &[seen(Kind::HalfGesture)]),
    story(Three, Taste, &[seen(Kind::HidesTaste)]),
    story(Three, Taste, &[unseen(Kind::HalfGesture)]),
    story(Three, Taste, &[unseen(Kind::TouchesMask), seen(Kind::InventsTaste)]),
    story(Four, Taste, &[seen(Kind::TellsLate)]),
    story(Four, Taste, &[unseen(Kind::AdjustsMask), unseen(Kind::InventsTaste)]),
    story(One, Spoilt, &[seen(Kind::TakesHoodOff)]),
    story(One, Spoilt, &[seen(Kind::AdjustsMask)]),
    slip(One, Spoilt, Slip::Skip),
    story(Two, Spoilt, &[unseen(Kind::AdjustsMask)]),
    story(Two, Spoilt, &[unseen(Kind::LiftsHood)]),
    story(Two, Spoilt, &[seen(Kind::ClogsUnseen)]),
    slip(Two, Spoilt, Slip::Set { halves: 0, late_s: (0, 0) }),
    slip(Two, Spoilt, Slip::FewInitial),
    slip(Two, Spoilt, Slip::Swap),
    slip(Two, Spoilt, Slip::Straps),
    story(Three, Spoilt, &[unseen(Kind::TouchesMask)]),
    story(Three, Spoilt, &[unseen(Kind::HelperTightens)]),
    story(Three, Spoilt, &[unseen(Kind::MouthShuts)]),
    story(Three, Spoilt, &[seen(Kind::SaltyStays)]),
    slip(Three, Spoilt, Slip::HalfSets),
    slip(Three, Spoilt, Slip::Length(30, 45)),
    slip(Three, Spoilt, Slip::OtherNebulizer),
    slip(Three, Spoilt, Slip::Leads),
    slip(Four, Spoilt, Slip::Set { halves: 1, late_s: (0, 0) }),
    slip(Four, Spoilt, Slip::Set { halves: 2, late_s: (7, 12) }),
    slip(Four, Spoilt, Slip::Set { halves: 2, late_s: (17, 24) }),
    slip(Four, Spoilt, Slip::Length(50, 55)),
    slip(Four, Spoilt, Slip::NotesLess),
    story(Four, Spoilt, &[unseen(Kind::Rushes)]),
    story(Four, Spoilt, &[unseen(Kind::SitsDown)]),
    story(Four, Spoilt, &[unseen(Kind::DropOnFace)]),
    story(One, CannotTaste, &[seen(Kind::CannotTaste)]),
    story(Two, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::Coughs)]),
    story(Three, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::Plastic)]),
    story(Four, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::Salty)]),
    Story {
        level: Four,
        family: CannotTaste,
        events: &[seen(Kind::CannotTaste), seen(Kind::PutTen)],
        slip: Slip::Hasty,
    },
    story(One, Barred, &[unseen(Kind::NoClearance)]),
    story(One, Barred, &[unseen(Kind::Beard)]),
    story(Two, Barred, &[unseen(Kind::Stubble)]),
    story(Two, Barred, &[unseen(Kind::BeyondLimit)]),
    story(Two, Barred, &[unseen(Kind::NotToday)]),
    story(Three, Barred, &[unseen(Kind::NumbMouth)]),
    story(Three, Barred, &[unseen(Kind::PoweredOnly)]),
    story(Three, Barred, &[seen(Kind::RefusesAgent)]),
    story(Four, Barred, &[unseen(Kind::Stubble), seen(Kind::Coughs)]),
    story(Four, Barred, &[unseen(Kind::BeyondLimit), seen(Kind::Scratches)]),
    story(One, Stopped, &[seen(Kind::ChestPain)]),
    story(One, Stopped, &[seen(Kind::WantsToStop)]),
    story(Two, Stopped, &[seen(Kind::Breathless)]),
    story(Two, Stopped, &[seen(Kind::FireAlarm)]),
    story(Three, Stopped, &[unseen(Kind::WantsToStop)]),
    story(Three, Stopped, &[unseen(Kind::TouchesMask), seen(Kind::Breathless)]),
    story(Four, Stopped, &[unseen(Kind::InventsTaste), seen(Kind::WantsToStop)]),
];

/// Stories that end in a threshold, or in none.
const SCREENINGS: &[Story] = &[
    story(One, Harmless, &[seen(Kind::Coughs)]),
    story(One, Harmless, &[seen(Kind::Scratches)]),
    story(Two, Harmless, &[seen(Kind::Asks)]),
    story(Two, Harmless, &[seen(Kind::WindowFogs)]),
    story(Two, Harmless, &[seen(Kind::HoodBrushes)]),
    story(Two, Harmless, &[seen(Kind::TastesAtOnce)]),
    story(Three, Harmless, &[seen(Kind::Plastic)]),
    story(Three, Harmless, &[seen(Kind::Salty)]),
    story(Three, Harmless, &[seen(Kind::TastesAtEleven)]),
    story(Three, Harmless, &[seen(Kind::PhoneRings)]),
    story(Four, Harmless, &[seen(Kind::PutTen)]),
    story(Four, Harmless, &[seen(Kind::MouthShuts)]),
    slip(Four, Harmless, Slip::Hasty),
    story(One, Plain, &[]),
    story(Two, Plain, &[]),
    story(Three, Plain, &[]),
    story(Four, Plain, &[]),
    story(One, CannotTaste, &[seen(Kind::CannotTaste)]),
    story(Two, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::Scratches)]),
    story(Three, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::Salty)]),
    story(Four, CannotTaste, &[seen(Kind::CannotTaste), seen(Kind::PutTen)]),
    story(One, Spoilt, &[seen(Kind::TastesBefore)]),
    slip(One, Spoilt, Slip::OtherNebulizer),
    story(Two, Spoilt, &[unseen(Kind::TastesBefore)]),
    slip(Two, Spoilt, Slip::Nozzle),
    story(Three, Spoilt, &[unseen(Kind::DampHood)]),
    slip(Four, Spoilt, Slip::Twelve),
    story(Four, Spoilt, &[unseen(Kind::Sweets)]),
];

/// A story with everything that is drawn for it.
#[derive(Clone, Debug)]
pub(super) struct Told {
    pub(super) asks: Asks,
    pub(super) story: Story,
    /// The exercise it is about.
    pub(super) exercise: Exercise,
    /// The replenishment it is about, from 1.
    pub(super) set: u32,
    seed: u64,
}

impl Told {
    /// What this seed tells; a later `turn` tells something else.
    pub(super) fn draw(seed: u64, level: Level, turn: u32) -> Self {
        let number = |index: u32, below: u32| draw::number(seed, Purpose::DrillStory, turn * 8 + index, below);
        let asks = if number(0, 20) < 7 { Asks::Threshold } else { Asks::Result };
        let (families, stories): (&[(Family, u32)], _) = match asks {
            Asks::Threshold => (&IN_SCREENINGS, SCREENINGS),
            Asks::Result => (&IN_TESTS, TESTS),
        };
        let mut left = number(1, families.iter().map(|(_, weight)| weight).sum());
        let family = families.iter().find_map(|(family, weight)| match left.checked_sub(*weight) {
            Some(more) => {
                left = more;
                None
            }
            None => Some(*family),
        });
        let fits = |story: &&Story| story.level == level && Some(story.family) == family;
        let count = u32::try_from(stories.iter().filter(fits).count()).unwrap_or(0);
        let place = usize::try_from(number(2, count)).unwrap_or(0);
        let story = stories.iter().filter(fits).nth(place).copied().unwrap_or(slip(level, Plain, Slip::None));
        let moment = |index: u32, below: u32| draw::number(seed, Purpose::DrillMoment, index, below);
        // What is left out, or done in another's place, has exercises before and after it.
        let among = Exercise::SEVEN.get(1..6).unwrap_or_default();
        let exercise = among.get(usize::try_from(moment(0, 5)).unwrap_or(0)).copied().unwrap_or(Exercise::Talking);
        let exercise = match story.events.last().map(|event| event.kind) {
            Some(Kind::Rushes) if moment(1, 2) == 0 => Exercise::HeadSide,
            Some(Kind::Rushes) => Exercise::HeadUpDown,
            Some(Kind::Whispers) => Exercise::Talking,
            _ => exercise,
        };
        Self { asks, story, exercise, set: 2 + moment(2, 10), seed }
    }

    /// A number of seconds within these bounds.
    pub(super) fn seconds(&self, (from, to): (u32, u32)) -> Ms {
        Ms::secs(from + draw::number(self.seed, Purpose::DrillMoment, 3, to.saturating_sub(from) + 1))
    }

    /// Whether the conductor overlooks what a kind shows by, whatever else the story says of it.
    pub(super) fn overlooks(&self, code: &str) -> bool {
        let unseen = self.story.events.iter().filter(|event| event.overlooked);
        unseen.flat_map(|event| event.kind.entry().shows).any(|shown| *shown == code)
    }

    /// Whether everything is asked that is to be asked of somebody, whatever the answers, and then no more.
    pub(super) fn asks_on(&self) -> bool {
        let [event] = self.story.events else { return false };
        self.story.family == Barred && event.overlooked
    }

    /// The scenario it is told of.
    pub(super) fn scenario(&self, agent: Agent) -> Scenario {
        let number = |index: u32, below: u32| draw::number(self.seed, Purpose::DrillMoment, 8 + index, below);
        let mut scenario = unannounced::blank(agent, self.seed);
        ID.clone_into(&mut scenario.id);
        scenario.person.gear.clear();
        scenario.exposure_times = scenario.exposure_times.min(9);
        scenario.person.tastes_after = Some(self.tastes_after(&number));
        for (event, index) in self.story.events.iter().zip(0..) {
            unannounced::plant(&mut scenario, event.kind, index);
        }
        scenario.person.attention = Attention::Even;
        let leak = self.story.events.iter().any(|event| unannounced::needs_a_leak(event.kind));
        let class = [Class::Half, Class::Filtering, Class::Full].get(usize::try_from(number(0, 3)).unwrap_or(0));
        let (tight, open) = (FitFactor::new(5_000), FitFactor::new(8));
        for piece in &mut scenario.rack {
            piece.class = class.copied().unwrap_or(Class::Half);
            piece.condition = Condition::Sound;
            piece.filters = Filters::Particulate;
            piece.straps = Straps::Even;
            (piece.comfortable, piece.seal_holds, piece.used) = (true, true, false);
            for (fit, exercise) in piece.fit.iter_mut().zip(Exercise::SEVEN) {
                let leaks = leak && exercise == self.exercise;
                *fit = if leaks { open } else { tight }.unwrap_or(*fit);
            }
        }
        let screening = self.asks == Asks::Threshold || self.story.family == CannotTaste;
        let until_taste = u32::from(scenario.person.tastes_after.unwrap_or(29)).saturating_sub(1);
        let events = scenario.trouble.len();
        for (trouble, place) in scenario.trouble.iter_mut().zip(1..) {
            let when = if screening && trouble.kind.entry().arises.contains(&Moment::Screening) {
                // While it is sprayed, and before the taste.
                let count = if trouble.kind == Kind::TastesBefore { 0 } else { number(3, until_taste) };
                u8::try_from(count).ok().map(When::Screening)
            } else {
                self.in_an_exercise(trouble.kind, place == events, &number)
            };
            trouble.when = when.unwrap_or(trouble.when);
        }
        scenario
    }

    /// Late tasters where the count matters; else as people are, many at once and few late.
    fn tastes_after(&self, number: &dyn Fn(u32, u32) -> u32) -> u8 {
        let within = |from: u32, count: u32| u8::try_from(from + number(1, count)).unwrap_or(5);
        let level = self.story.level;
        match self.story.slip {
            Slip::FewInitial | Slip::HalfSets => within(11, 10),
            Slip::NotesLess => within(11, 3),
            // At the eleventh or the twelfth, where the question comes after those.
            Slip::Twelve => 10,
            _ if self.asks == Asks::Threshold && self.story.family == Spoilt => within(4, 20),
            _ if self.asks == Asks::Threshold && matches!(level, Three | Four) => {
                [2, 9, 10, 11, 12, 19, 20, 21, 22, 29].get(usize::from(within(0, 10))).copied().unwrap_or(11)
            }
            _ if self.asks == Asks::Threshold => within(3, 26),
            Slip::None
            | Slip::Set { .. }
            | Slip::Length(..)
            | Slip::Skip
            | Slip::Swap
            | Slip::OtherNebulizer
            | Slip::Leads
            | Slip::Straps
            | Slip::Nozzle
            | Slip::Hasty => match number(2, 10) {
                0..6 => within(2, 8),
                6..9 => within(12, 8),
                _ => within(22, 5),
            },
        }
    }

    /// When something comes in a test. Where two things come, the first comes an exercise before the other.
    fn in_an_exercise(&self, kind: Kind, last: bool, number: &dyn Fn(u32, u32) -> u32) -> Option<When> {
        let place = self.exercise.place()?.checked_sub(usize::from(!last))?;
        let exercise = Exercise::SEVEN.get(place).copied()?;
        let may = kind.entry().arises.contains(&Moment::Exercise);
        may.then(|| When::During(exercise, Ms::secs(8 + number(4, 40))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_family_has_a_story_at_each_level() {
        for (families, stories) in [(&IN_TESTS[..], TESTS), (&IN_SCREENINGS[..], SCREENINGS)] {
            for level in Level::ALL {
                for (family, _) in families {
                    let told = stories.iter().any(|story| story.level == *level && story.family == *family);
                    assert!(told, "{level:?} {family:?}");
                }
            }
        }
    }
}
