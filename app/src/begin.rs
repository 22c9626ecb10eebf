//! What is to be begun: the start leaves it for the screen on which that happens, and so needs no engine of its own.

use crate::edge::{clock, left, site};
use bittersweet_core::{
    rulebook::Agent,
    scenario::Scenario,
    unannounced,
    wire::scenario_v1::{self, ScenarioV1},
};
use serde::{Deserialize, Serialize};
use std::rc::Rc;

/// The name under which it is left.
const BEGIN: &str = "begin";

/// Which scenario.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Which {
    /// A built-in one, by its id.
    BuiltIn(String),
    /// Somebody drawn, to be tested with the agent of this code.
    Drawn(String),
}

/// What is to be begun.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Begin {
    /// The id of the run.
    pub(crate) id: String,
    /// With which scenario.
    pub(crate) which: Which,
    /// A code of help, and one of a pace.
    pub(crate) how: (String, String),
}

impl Begin {
    /// Leaves it.
    pub(crate) fn leave(&self) {
        left::put_json(BEGIN, self);
    }

    /// Whether a run with this id is to be begun.
    pub(crate) fn is_left(id: &str) -> bool {
        left::read_json::<Self>(&left::look(BEGIN)).is_some_and(|begin| begin.id == id)
    }

    /// Takes what was left, where it is the run with this id.
    pub(crate) fn take(id: &str) -> Option<Self> {
        if Self::is_left(id) { left::read_json(&left::take(BEGIN)) } else { None }
    }

    /// The scenario.
    pub(crate) async fn scenario(&self) -> Option<Rc<Scenario>> {
        match &self.which {
            Which::Drawn(agent) => Some(Rc::new(unannounced::draw_up(Agent::from_code(agent)?, clock::new_seed()))),
            Which::BuiltIn(id) => {
                let text = site::fetch(&site::list()?.scenarios).await.ok()?;
                let all: Vec<ScenarioV1> = serde_json::from_str(&text).ok()?;
                scenario_v1::check(all.iter().find(|one| one.id == *id)?).ok().map(Rc::new)
            }
        }
    }
}
