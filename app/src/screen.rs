//! The screens, and the address of each.

use bittersweet_core::{rulebook::Agent, source::Skill, wire::is_id};

/// A screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Screen {
    /// The ways in.
    Home,
    /// A file to be opened.
    Open,
    /// A run, by its id.
    Rehearse(String),
    /// The review of a run, by its id.
    Review(String),
    /// A colleague's run that is watched, by its id.
    Watch(String),
    /// How what was marked compares with its review, by its id.
    Compare(String),
    /// Questions, one after the other.
    Questions,
    /// Questions on one skill, in tests with one agent.
    QuestionsOn(Skill, Agent),
    /// Short drills, one after the other.
    Drills,
    /// What a worker goes through before their own test.
    Wearer,
    /// Drills on tests with one agent.
    DrillsWith(Agent),
    /// What has faded.
    Refresh,
    /// What was practised here, and what it shows.
    Progress,
    /// The same on paper.
    Record,
    /// The terms of an assessment, and those that were sat.
    Assess,
    /// An assessment that is sat, by its id.
    Sitting(String),
    /// What there is for whoever teaches.
    Teach,
    /// What this is and what it is not.
    About,
    /// Who practises here, and what is kept.
    Learners,
    /// An address that leads nowhere.
    Nowhere(String),
}

impl Screen {
    /// The screen at an address.
    pub(crate) fn at(address: &str) -> Self {
        let parts: Vec<&str> = address.split('/').collect();
        match parts.as_slice() {
            [""] => Self::Home,
            ["about"] => Self::About,
            ["teach"] => Self::Teach,
            ["open"] => Self::Open,
            ["learners"] => Self::Learners,
            ["questions"] => Self::Questions,
            ["drills"] => Self::Drills,
            ["wearer"] => Self::Wearer,
            ["refresh"] => Self::Refresh,
            ["progress"] => Self::Progress,
            ["record"] => Self::Record,
            ["questions", skill, agent] => match (Skill::from_code(skill), Agent::from_code(agent)) {
                (Some(skill), Some(agent)) => Self::QuestionsOn(skill, agent),
                _ => Self::Questions,
            },
            ["drills", agent] => Agent::from_code(agent).map_or(Self::Drills, Self::DrillsWith),
            ["assessment"] => Self::Assess,
            ["assessment", id] if is_id(id) => Self::Sitting((*id).to_owned()),
            ["run", id] if is_id(id) => Self::Rehearse((*id).to_owned()),
            ["review", id] if is_id(id) => Self::Review((*id).to_owned()),
            ["watch", id] if is_id(id) => Self::Watch((*id).to_owned()),
            ["compare", id] if is_id(id) => Self::Compare((*id).to_owned()),
            _ => Self::Nowhere(address.chars().take(80).collect()),
        }
    }

    /// Its address.
    pub(crate) fn address(&self) -> String {
        match self {
            Self::Home => String::new(),
            Self::Rehearse(id) => format!("run/{id}"),
            Self::Review(id) => format!("review/{id}"),
            Self::Watch(id) => format!("watch/{id}"),
            Self::Compare(id) => format!("compare/{id}"),
            Self::About => "about".to_owned(),
            Self::Teach => "teach".to_owned(),
            Self::Open => "open".to_owned(),
            Self::Learners => "learners".to_owned(),
            Self::Questions => "questions".to_owned(),
            Self::Drills => "drills".to_owned(),
            Self::Wearer => "wearer".to_owned(),
            Self::Refresh => "refresh".to_owned(),
            Self::Progress => "progress".to_owned(),
            Self::Record => "record".to_owned(),
            Self::QuestionsOn(skill, agent) => format!("questions/{}/{}", skill.code(), agent.code()),
            Self::DrillsWith(agent) => format!("drills/{}", agent.code()),
            Self::Assess => "assessment".to_owned(),
            Self::Sitting(id) => format!("assessment/{id}"),
            Self::Nowhere(address) => address.clone(),
        }
    }

    /// Its address as a link.
    pub(crate) fn link(&self) -> String {
        format!("#/{}", self.address())
    }
}

#[cfg(test)]
impl Screen {
    /// Every screen that there is an address for.
    pub(crate) fn each() -> Vec<Self> {
        vec![
            Self::Home,
            Self::Rehearse("k3-x".to_owned()),
            Self::Review("k3-x".to_owned()),
            Self::Watch("k3-x".to_owned()),
            Self::Compare("k3-x".to_owned()),
            Self::About,
            Self::Teach,
            Self::Open,
            Self::Questions,
            Self::Drills,
            Self::Refresh,
            Self::Assess,
            Self::Sitting("k3-x".to_owned()),
            Self::Wearer,
            Self::Learners,
            Self::Progress,
            Self::Record,
            Self::QuestionsOn(Skill::Watching, Agent::Bitter),
            Self::DrillsWith(Agent::Bitter),
        ]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_screen_is_found_at_its_address() {
        for screen in Screen::each() {
            assert_eq!(Screen::at(&screen.address()), screen);
        }
    }

    #[test]
    fn nonsense_leads_nowhere() {
        for address in ["run", "run/", "run/<b>", "run/a/b", "?", "review/%00"] {
            assert!(matches!(Screen::at(address), Screen::Nowhere(_)), "{address}");
        }
    }
}
