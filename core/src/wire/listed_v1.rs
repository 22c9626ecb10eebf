//! What a list shows of a scenario, version 1: the few fields of [`super::scenario_v1::ScenarioV1`] by which it is chosen.
//!
//! Nothing else is looked at, so that a list stands on little; whoever opens the scenario checks it.

use super::watch_v1;
use serde::{Deserialize, de::IgnoredAny};

/// A scenario as it is listed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct ListedV1 {
    /// Its id.
    pub id: String,
    /// Its own title.
    #[serde(default)]
    pub title: Option<String>,
    /// How hard it is, from 1 (plain) to 3 (hard).
    #[serde(default = "plain")]
    pub level: u8,
    /// Codes of the skills it practises most.
    #[serde(default)]
    pub practises: Vec<String>,
    /// A code of [`crate::rulebook::Agent`].
    pub agent: String,
    /// The wearer.
    pub wearer: NamedV1,
    #[serde(default)]
    colleague: Option<IgnoredAny>,
}

/// A wearer as they are listed.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct NamedV1 {
    /// An invented first name.
    pub name: String,
}

const fn plain() -> u8 {
    1
}

impl ListedV1 {
    /// Whether a colleague is watched in it.
    #[must_use]
    pub const fn is_watched(&self) -> bool {
        self.colleague.is_some()
    }
}

/// What a list shows of a run that is kept: a header of [`super::ledger_v1`] or [`super::watch_v1`].
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct KeptV1 {
    format: String,
    /// When it began, by the wall clock.
    pub started: String,
    /// A code of [`super::run_v1::Help`]; watching knows none.
    #[serde(default)]
    pub help: Option<String>,
    /// Its scenario.
    pub scenario: ListedV1,
}

impl KeptV1 {
    /// Reads a header; `None` where it cannot be read.
    #[must_use]
    pub fn parse(header: &str) -> Option<Self> {
        serde_json::from_str(header).ok()
    }

    /// Whether it is a colleague's run that is watched.
    #[must_use]
    pub fn is_watched(&self) -> bool {
        self.format == watch_v1::FORMAT
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        rulebook::Agent,
        scenarios::BUILT_IN,
        wire::{ledger_v1, run_v1, scenario_v1},
    };

    #[test]
    fn what_is_listed_is_what_the_scenario_says() {
        for (id, text) in BUILT_IN {
            let listed: ListedV1 = serde_json::from_str(text).unwrap();
            let scenario = scenario_v1::parse(text).unwrap();
            assert_eq!((listed.id.as_str(), Agent::from_code(&listed.agent)), (*id, Some(scenario.agent)));
            assert_eq!((&listed.title, &listed.wearer.name), (&scenario.title, &scenario.person.name));
            assert_eq!(
                (listed.level.to_string(), listed.is_watched()),
                (scenario.level.to_string(), scenario.colleague.is_some())
            );
            let practises: Vec<&str> = scenario.practises.iter().map(|skill| skill.code()).collect();
            assert_eq!(listed.practises, practises);
        }
    }

    #[test]
    fn headers_are_told_apart() {
        let (_, text) = BUILT_IN.iter().find(|(id, _)| *id == "watch-joinery").unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        let conditions = run_v1::Conditions::new(run_v1::Help::Guided, run_v1::Pace::Real);
        let run = ledger_v1::HeaderV1::new(&scenario, &conditions, "then".to_owned());
        let watch = watch_v1::HeaderV1::new(&scenario, "then".to_owned());
        let read = |header: &str| KeptV1::parse(header).map(|kept| (kept.is_watched(), kept.started));
        assert_eq!(read(&serde_json::to_string(&run).unwrap()), Some((false, "then".to_owned())));
        assert_eq!(read(&serde_json::to_string(&watch).unwrap()), Some((true, "then".to_owned())));
        assert_eq!(read("{}"), None);
    }
}
