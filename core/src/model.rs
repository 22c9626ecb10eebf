//! The parameters of the teaching model, each with its origin. It predicts nobody's fit.
//!
//! The numbers stand in `data/model.toml` and nowhere else. What is made of them stands in [`crate::motion`],
//! [`crate::noticing`] and [`crate::population`].

use crate::{coded::coded, motion::Motion, rulebook::Agent};

coded! {
    /// The two sets between which every figure of the model is given as a range.
    Set {
        /// As the method was accepted.
        Accepted = "accepted",
        /// As in the less favourable trials.
        Less = "less",
    }
}

/// The parameters for one agent in one set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parameters {
    /// Half-life of aerosol in the hood, s.
    pub half_life_s: f64,
    /// How long a taste gathers, s.
    pub gathers_s: f64,
    /// Slope of the psychometric curve.
    pub slope: f64,
    /// Share of what leaks in that reaches the tongue.
    pub reach: f64,
    /// Chance of not attending in a sitting.
    pub lapse: f64,
    /// Chance of a false report in a sitting.
    pub false_report: f64,
    /// How much the threshold rises with each exercise.
    pub tiring: f64,
    /// Median threshold beside what ten squeezes bring.
    pub threshold_median: f64,
    /// Geometric standard deviation of thresholds between people.
    pub threshold_spread: f64,
    /// Geometric standard deviation of one person's threshold between days.
    pub sitting_spread: f64,
    /// Median fit factor.
    pub fit_median: f64,
    /// Geometric standard deviation of fit factors.
    pub fit_spread: f64,
    /// Chance of going along with a leading question in a sitting.
    pub suggestible: f64,
}

/// What is said of a parameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Origin {
    /// Its name in the data.
    pub name: &'static str,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// `derived`, `calibrated` or `assumption`.
    pub origin: &'static str,
    /// Why it has this value.
    pub why: &'static str,
    /// The least value that makes sense.
    pub least: f64,
    /// The greatest.
    pub most: f64,
}

include!(concat!(env!("OUT_DIR"), "/model.rs"));

impl Parameters {
    /// Those of an agent in a set.
    #[must_use]
    pub const fn of(agent: Agent, set: Set) -> &'static Self {
        match (agent, set) {
            (Agent::Sweet, Set::Accepted) => &SWEET_ACCEPTED,
            (Agent::Sweet, Set::Less) => &SWEET_LESS,
            (Agent::Bitter, Set::Accepted) => &BITTER_ACCEPTED,
            (Agent::Bitter, Set::Less) => &BITTER_LESS,
        }
    }

    /// The one with which a wearer is simulated.
    #[must_use]
    pub const fn live(agent: Agent) -> &'static Self {
        Self::of(agent, Set::Accepted)
    }

    /// How level and taste move.
    #[must_use]
    pub fn motion(&self) -> Motion {
        Motion { fade_per_s: core::f64::consts::LN_2 / self.half_life_s, gathers_s: self.gathers_s }
    }

    /// The parameter of this name, for changing one at a time; `None` where there is none.
    pub fn named(&mut self, name: &str) -> Option<&mut f64> {
        Some(match name {
            "half_life_s" => &mut self.half_life_s,
            "gathers_s" => &mut self.gathers_s,
            "slope" => &mut self.slope,
            "reach" => &mut self.reach,
            "lapse" => &mut self.lapse,
            "false_report" => &mut self.false_report,
            "tiring" => &mut self.tiring,
            "threshold_median" => &mut self.threshold_median,
            "threshold_spread" => &mut self.threshold_spread,
            "sitting_spread" => &mut self.sitting_spread,
            "fit_median" => &mut self.fit_median,
            "fit_spread" => &mut self.fit_spread,
            "suggestible" => &mut self.suggestible,
            _ => return None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_parameter_has_a_name_and_an_origin() {
        for origin in ORIGINS {
            let mut parameters = *Parameters::live(Agent::Sweet);
            assert!(parameters.named(origin.name).is_some(), "{}", origin.name);
            assert!(!origin.why.is_empty());
        }
    }
}
