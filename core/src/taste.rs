//! At which squeeze somebody tastes the agent, and what their tongue has gathered by then: their threshold.

use crate::{
    model::Parameters,
    motion::Air,
    rulebook::{Agent, Rulebook},
    units::Ms,
};

/// How far apart rapid squeezes are: ours.
pub(crate) const RAPID: Ms = Ms(700);

/// The same, s.
pub(crate) const RAPID_S: f64 = 0.7;

/// How long the question after a set takes, s: ours.
pub(crate) const QUESTION_S: f64 = 4.0;

/// What somebody has gathered who tastes the agent at the `squeeze`-th squeeze of a usual screening: their threshold, in
/// squeeze-seconds.
#[must_use]
pub fn threshold(squeeze: u8, agent: Agent) -> f64 {
    let set = Rulebook::us(agent).numbers.set;
    let motion = Parameters::live(agent).motion();
    let mut air = Air::default();
    for number in 1..=u32::from(squeeze) {
        air.level += 1.0;
        air = motion.after(air, 1.0, RAPID_S);
        if number.is_multiple_of(set) && number < u32::from(squeeze) {
            air = motion.after(air, 1.0, QUESTION_S);
        }
    }
    air.gathered
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn later_tasters_have_gathered_more() {
        for agent in Agent::ALL.iter().copied() {
            let within_a_set: Vec<f64> = (1..=10).map(|squeeze| threshold(squeeze, agent)).collect();
            assert!(within_a_set.is_sorted());
            assert!(threshold(25, agent) > threshold(15, agent));
        }
    }
}
