//! Whose run it is, and with which agent: nobody should have to know that by a tint.

use crate::words::Words;
use bittersweet_core::scenario::Scenario;
use yew::prelude::*;

/// The heading of a screen on which a run goes on.
pub(crate) fn named(words: &Words, scenario: &Scenario) -> Html {
    html! {
        <div class="named">
            <h1 id="heading" tabindex="-1">{ words.scenario_title(scenario) }</h1>
            <p class="soft">{ words.agent(scenario.agent) }</p>
        </div>
    }
}
