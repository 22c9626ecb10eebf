//! What must happen, as data: the rules, their sources and their numbers, per agent.
//!
//! The tables are generated from `data/rulebook`; a rulebook that compiled is whole. What a rule says in words stands
//! in the language files, under the rule's id.

use crate::{
    act::Threshold,
    coded::coded,
    source::{Basis, Gravity, Push, Reading, Skill},
    units::Ms,
};

coded! {
    /// The aerosol of the test.
    Agent {
        /// Sodium saccharin.
        Sweet = "sweet",
        /// Denatonium benzoate.
        Bitter = "bitter",
    }
}

coded! {
    /// What the agent is dissolved in.
    Solvent {
        /// Water.
        Water = "water",
        /// Five per cent sodium chloride in water.
        SaltWater = "salt-water",
    }
}

impl Solvent {
    /// Sodium chloride in [`Self::SaltWater`], in per cent: grams to a hundred millilitres.
    pub const SALT_PERCENT: u32 = 5;
}

/// One rule.
#[derive(Clone, Copy, Debug)]
pub struct Rule {
    /// Its name for ever.
    pub id: RuleId,
    /// The paragraph, letter or practice it comes from.
    pub source: &'static str,
    /// The skill that a breach speaks of.
    pub skill: Skill,
    /// What a breach does.
    pub gravity: Gravity,
    /// Which wrong answer a breach makes likelier.
    pub push: Push,
    /// On what it rests.
    pub basis: Basis,
    /// How the source reached us.
    pub reading: Reading,
    /// Codes of the acts with which it is kept or broken.
    pub governs: &'static [&'static str],
}

/// The two solutions of an agent, as the rule gives them.
#[derive(Clone, Copy, Debug)]
pub struct Solution {
    /// What the agent is dissolved in.
    pub solvent: Solvent,
    /// Milligrams of agent in the check solution.
    pub check_mg: f64,
    /// Millilitres they are dissolved in.
    pub check_ml: u32,
    /// Milligrams of agent in the fit test solution.
    pub fit_mg: f64,
    /// Millilitres they are dissolved in.
    pub fit_ml: u32,
    /// Strength of the fit test solution over the check solution, in thousandths.
    pub strength_milli: u32,
    /// The substance.
    pub name: &'static str,
}

/// What many programmes do beside the text; the default follows the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct House {
    /// After a fail the same facepiece may be refitted once.
    pub one_refit_after_fail: bool,
    /// Jogging may stand for bending whatever the hood.
    pub jogging_for_bending: bool,
}

/// The rules for one agent.
#[derive(Clone, Copy, Debug)]
pub struct Rulebook {
    /// Which jurisdiction's.
    pub id: &'static str,
    /// Counts up when a rule changes.
    pub version: u32,
    /// Of the data it was made from.
    pub hash: &'static str,
    /// The agent's part of Appendix A.
    pub part: &'static str,
    /// The solutions.
    pub solution: Solution,
    /// Its rules, in the order of the procedure.
    pub rules: &'static [Rule],
    /// Where each id of [`RuleId::ALL`] stands among them; `None` for another agent's.
    pub(crate) places: &'static [Option<u8>],
    /// Its numbers.
    pub numbers: Numbers,
    /// Its switches.
    pub house: House,
}

impl Rulebook {
    /// The United States' rules for `agent`.
    #[must_use]
    pub fn us(agent: Agent) -> &'static Self {
        match agent {
            Agent::Sweet => &SWEET,
            Agent::Bitter => &BITTER,
        }
    }

    /// Squeezes of the initial set for a threshold; `None` where there is none to test from.
    #[must_use]
    pub fn initial(&self, threshold: Threshold) -> Option<u32> {
        let sets = match threshold {
            Threshold::Ten => 1,
            Threshold::Twenty => 2,
            Threshold::Thirty => 3,
            Threshold::NotTasted => return None,
        };
        Some(self.numbers.set * sets)
    }

    /// Squeezes of each replenishment for a threshold.
    #[must_use]
    pub fn replenishment(&self, threshold: Threshold) -> Option<u32> {
        self.initial(threshold).map(|initial| initial / self.numbers.replenish_part)
    }

    /// The class of somebody who tasted it at the `squeeze`-th squeeze, from 1.
    #[must_use]
    pub fn class_at(&self, squeeze: u32) -> Threshold {
        match squeeze.saturating_sub(1) / self.numbers.set {
            0 => Threshold::Ten,
            1 => Threshold::Twenty,
            2 => Threshold::Thirty,
            _ => Threshold::NotTasted,
        }
    }

    /// The rule with this id; `None` where it is another agent's.
    #[must_use]
    pub fn rule(&self, id: RuleId) -> Option<&'static Rule> {
        let place = self.places.get(id as usize).copied().flatten()?;
        self.rules.get(usize::from(place))
    }
}

impl RuleId {
    /// The rule with this code, if there is one.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|rule| rule.code() == code)
    }
}

/// How long an act takes when each act is one step: ours, not law.
#[must_use]
pub fn nominal(act_code: &str) -> Ms {
    let row = |code: &str| NOMINAL.iter().find(|(name, _)| *name == code).map(|(_, length)| *length);
    row(act_code).or_else(|| row("other")).unwrap_or(Ms::ZERO)
}

include!(concat!(env!("OUT_DIR"), "/rules.rs"));
