//! What the tongue gathers: a teaching model that predicts nobody's fit.
//!
//! `u' = a s - u / tau` with `a` what reaches the tongue of each squeeze's worth in the hood. Between events it has a
//! closed form together with the hood's.

use crate::{
    hood,
    rulebook::{Agent, Rulebook},
    units::Ms,
};

/// How long a taste gathers, in seconds: short for sweet, long for bitter. Assumptions of the teaching model.
#[must_use]
pub const fn gathers_s(agent: Agent) -> f64 {
    match agent {
        Agent::Sweet => 4.0,
        Agent::Bitter => 60.0,
    }
}

/// The level in the hood and what the tongue has gathered, both in squeezes of the check solution.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Air {
    /// In the hood.
    pub level: f64,
    /// On the tongue, in squeeze-seconds.
    pub gathered: f64,
}

impl Air {
    /// Both after `length` with no event, of which `share` of the hood's level reaches the tongue.
    ///
    /// The plain difference of exponentials loses its digits where the two rates are near each other; the form with
    /// `expm1` does not.
    #[must_use]
    pub fn after(self, length: Ms, share: f64, agent: Agent) -> Self {
        let seconds = length.as_secs();
        let tau = gathers_s(agent);
        let fade = hood::decay_per_s();
        let gap = (1.0 / tau - fade) * seconds;
        let mean = if gap == 0.0 { 1.0 } else { -libm::expm1(-gap) / gap };
        Self {
            level: hood::after(self.level, length),
            gathered: self.gathered * libm::exp(-seconds / tau)
                + share * self.level * seconds * libm::exp(-fade * seconds) * mean,
        }
    }
}

/// How far apart the squeezes of a usual screening are.
const USUAL: Ms = Ms(700);

/// What somebody has gathered who tastes the agent at the `squeeze`-th squeeze of a usual screening: their threshold.
#[must_use]
pub fn threshold(squeeze: u8, agent: Agent) -> f64 {
    let rapid = Rulebook::us(agent).numbers.set;
    let mut air = Air::default();
    for number in 1..=u32::from(squeeze) {
        air.level += 1.0;
        air = air.after(USUAL, 1.0, agent);
        // Between the sets of ten there is a question.
        if number.is_multiple_of(rapid) && number < u32::from(squeeze) {
            air = air.after(Ms::secs(4), 1.0, agent);
        }
    }
    air.gathered
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_pieces_is_as_at_once() {
        let start = Air { level: 10.0, gathered: 3.0 };
        for agent in Agent::ALL.iter().copied() {
            let pieces = start.after(Ms(7_300), 0.2, agent).after(Ms(1), 0.2, agent).after(Ms(22_699), 0.2, agent);
            let once = start.after(Ms(30_000), 0.2, agent);
            assert!((pieces.level - once.level).abs() < 1e-12);
            assert!((pieces.gathered - once.gathered).abs() < 1e-9);
        }
    }

    #[test]
    fn later_tasters_have_gathered_more() {
        for agent in Agent::ALL.iter().copied() {
            let within_a_set: Vec<f64> = (1..=10).map(|squeeze| threshold(squeeze, agent)).collect();
            assert!(within_a_set.is_sorted());
            assert!(threshold(25, agent) > threshold(15, agent));
        }
    }
}
