//! A scenario: one wearer, one room, and what comes up. A scenario that exists is valid.
//!
//! The loose form that is read from files is `wire::scenario_v1`.

use crate::{
    act::{Act, Role, Slot},
    coded::coded,
    facepiece::Facepiece,
    rulebook::{Agent, House, Rulebook},
    sign::{Gear, Mouthful},
    source::Skill,
    trouble::Trouble,
    units::Ms,
};

coded! {
    /// What the wearer's medical clearance says.
    Clearance {
        /// Any respirator.
        Cleared = "cleared",
        /// Any respirator; given two years ago, which is no bar.
        ClearedLongAgo = "cleared-long-ago",
        /// None.
        NotCleared = "none",
        /// Powered units only.
        PoweredOnly = "powered-only",
        /// Holds out the questionnaire first; cleared when asked again.
        Questionnaire = "questionnaire",
    }
}

coded! {
    /// What is on the face where the seal will lie.
    Face {
        /// Nothing.
        Clear = "clear",
        /// A moustache clear of the seal.
        Moustache = "moustache",
        /// Stubble.
        Stubble = "stubble",
        /// A beard.
        Beard = "beard",
        /// A temple bar, which can be moved.
        TempleBar = "temple-bar",
        /// Hair or a covering, which can be moved.
        Covering = "covering",
    }
}

coded! {
    /// What a nebulizer holds.
    Contents {
        /// The threshold check solution.
        Check = "check",
        /// The fit test solution.
        Fit = "fit",
        /// Another agent's solution.
        OtherAgent = "other-agent",
    }
}

coded! {
    /// How much a nebulizer holds.
    Level {
        /// About a millilitre.
        Right = "right",
        /// Nearly dry.
        Low = "low",
    }
}

coded! {
    /// How evenly the wearer attends to what they taste.
    Attention {
        /// Always alike: what reaches the threshold is noticed, so that a written scenario comes out as it was written.
        Even = "even",
        /// As people do, by chance about the threshold: drawn from the seed.
        Drawn = "drawn",
    }
}

/// A nebulizer as the conductor finds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Nebulizer {
    /// Whether it is clearly marked.
    pub marked: bool,
    /// What it holds.
    pub holds: Contents,
    /// How full it is.
    pub level: Level,
    /// Hours since it was rinsed and filled.
    pub filled_h_ago: u8,
    /// Whether its tip is clogged.
    pub clogged: bool,
    /// Whether the bottle it is filled from bears a label and a date.
    pub bottle_dated: bool,
}

/// The bench as the conductor finds it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bench {
    /// The one for screening.
    pub check: Nebulizer,
    /// The one for the fit test.
    pub fit: Nebulizer,
    /// Whether the hood is damp from the last test.
    pub hood_damp: bool,
}

impl Bench {
    /// The nebulizer standing in this role's place.
    #[must_use]
    pub const fn nebulizer(&self, role: Role) -> Nebulizer {
        match role {
            Role::Check => self.check,
            Role::Fit => self.fit,
        }
    }
}

/// How a wearer looks; it has no bearing on anything else.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// Skin tone, 0 to 5.
    pub skin: u8,
    /// Hair: 0 to 5.
    pub hair: u8,
    /// Shape of the face, 0 to 3.
    pub shape: u8,
}

/// The simulated wearer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// An invented first name.
    pub name: String,
    /// How they look.
    pub look: Look,
    /// At which squeeze of a usual screening they begin to taste the agent; `None`: not within thirty.
    pub tastes_after: Option<u8>,
    /// How evenly they attend.
    pub attention: Attention,
    /// Their clearance.
    pub clearance: Clearance,
    /// What they had by mouth, and how many minutes before the run began.
    pub by_mouth: (Mouthful, u8),
    /// What is on the face.
    pub face: Face,
    /// What they wear at work.
    pub gear: Vec<Gear>,
    /// The facepiece they will wear at work, if it is settled.
    pub at_work: Option<Slot>,
    /// Whether they feel well enough today.
    pub well: bool,
    /// Which one they find most acceptable, first choice first.
    pub choices: Vec<Slot>,
}

/// A checked scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scenario {
    /// Its name in files and links: small letters, digits and hyphens.
    pub id: String,
    /// A title, where the language files have none.
    pub title: Option<String>,
    /// How hard it is, from 1 (plain) to 3 (hard).
    pub level: u8,
    /// What it practises most.
    pub practises: Vec<Skill>,
    /// The agent of the day.
    pub agent: Agent,
    /// Switches of the house.
    pub house: House,
    /// How many times the limit the exposure is.
    pub exposure_times: u16,
    /// Seed of everything drawn.
    pub seed: u64,
    /// The wearer.
    pub person: Person,
    /// The bench.
    pub bench: Bench,
    /// Facepieces on hand, place 1 first. Never empty.
    pub rack: Vec<Facepiece>,
    /// What comes up.
    pub trouble: Vec<Trouble>,
    /// What a colleague did here, each act at its time, where the run is to be watched rather than made.
    pub colleague: Option<Vec<(Ms, Act)>>,
}

impl Scenario {
    /// The facepiece in a place; `None` where the rack is shorter.
    #[must_use]
    pub fn facepiece(&self, slot: Slot) -> Option<&Facepiece> {
        self.rack.get(usize::from(slot.number()).checked_sub(1)?)
    }

    /// The places of the rack.
    pub fn slots(&self) -> impl Iterator<Item = Slot> + '_ {
        (1..=Slot::MOST).filter_map(Slot::new).take(self.rack.len())
    }

    /// Whether the use is beyond this test, for the facepiece of the job or for all on the rack (1910.134(f)(6)).
    #[must_use]
    pub fn is_beyond_this_test(&self) -> bool {
        let positive = |slot: Slot| self.facepiece(slot).is_some_and(|piece| piece.class.is_positive());
        let any_positive = match self.person.at_work {
            Some(slot) => positive(slot),
            None => self.slots().any(positive),
        };
        u32::from(self.exposure_times) > self.rulebook().numbers.limit_times && !any_positive
    }

    /// The rules it runs under.
    #[must_use]
    pub fn rulebook(&self) -> Rulebook {
        Rulebook { house: self.house, ..*Rulebook::us(self.agent) }
    }

    /// Strength of what a nebulizer holds, in squeezes of check solution, thousandths.
    #[must_use]
    pub fn strength_milli(&self, contents: Contents) -> u32 {
        match contents {
            Contents::Check => 1_000,
            Contents::Fit => Rulebook::us(self.agent).solution.strength_milli,
            Contents::OtherAgent => 0,
        }
    }
}
