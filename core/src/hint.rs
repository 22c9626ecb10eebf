//! Help on request: first what to think about, then the act. What was asked is part of how a run was made, and it costs.

use crate::{
    coded::coded,
    rulebook::{RuleId, Rulebook},
    source::Skill,
    units::Ms,
};
use std::collections::{BTreeMap, BTreeSet};

coded! {
    /// How much a hint says.
    Depth {
        /// What to think about.
        Think = "think",
        /// The act.
        Act = "act",
    }
}

/// A hint that was asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hint {
    /// When.
    pub at: Ms,
    /// How much it said.
    pub depth: Depth,
    /// The rule that the next act by the book served.
    pub rule: RuleId,
}

/// What hints cost, in halves of a rule kept: one for a question, two for the act. A rule costs its dearest hint, and
/// once, however often it was asked.
#[must_use]
pub fn cost(book: &Rulebook, hints: &[Hint]) -> BTreeMap<Skill, u32> {
    let (mut shown, mut asked) = (BTreeSet::new(), BTreeSet::new());
    shown.extend(hints.iter().filter(|hint| hint.depth == Depth::Act).map(|hint| hint.rule));
    asked.extend(hints.iter().map(|hint| hint.rule));
    let mut cost = BTreeMap::new();
    for rule in asked {
        if let Some(row) = book.rule(rule) {
            *cost.entry(row.skill).or_insert(0) += if shown.contains(&rule) { 2 } else { 1 };
        }
    }
    cost
}

/// What is shown next of a step of which so much is shown: first the question, then the act, then no more.
#[must_use]
pub const fn next(shown: Option<Depth>) -> Option<Depth> {
    match shown {
        None => Some(Depth::Think),
        Some(Depth::Think) => Some(Depth::Act),
        Some(Depth::Act) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rulebook::Agent;

    fn hint(depth: Depth, rule: RuleId) -> Hint {
        Hint { at: Ms::ZERO, depth, rule }
    }

    #[test]
    fn a_question_costs_half_and_the_act_a_whole() {
        let book = Rulebook::us(Agent::Sweet);
        let asked = [
            hint(Depth::Think, RuleId::SealLook),
            hint(Depth::Act, RuleId::SealLook),
            hint(Depth::Think, RuleId::ClearBefore),
            hint(Depth::Think, RuleId::FitMinute),
        ];
        let cost = cost(book, &asked);
        assert_eq!(cost.get(&Skill::Eligibility), Some(&3));
        assert_eq!(cost.get(&Skill::Running), Some(&1));
    }

    #[test]
    fn the_same_question_twice_costs_no_more() {
        let book = Rulebook::us(Agent::Bitter);
        let once = cost(book, &[hint(Depth::Think, RuleId::SealLook)]);
        assert_eq!(cost(book, &[hint(Depth::Think, RuleId::SealLook); 3]), once);
    }

    #[test]
    fn the_act_is_named_only_after_the_question() {
        assert_eq!(next(None), Some(Depth::Think));
        assert_eq!(next(next(None)), Some(Depth::Act));
        assert_eq!(next(next(next(None))), None);
    }
}
