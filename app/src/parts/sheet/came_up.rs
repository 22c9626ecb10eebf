//! What came up in a run, and what a good conductor does about it.

use crate::words::{Word, Words, clock as clock_text};
use bittersweet_core::{log::Entry, met, scenario::Scenario, state::State};
use yew::prelude::*;

/// What came up, harmless things included, with what a good conductor does about it and what poor answers lead to.
pub(crate) fn came_up(words: &Words, scenario: &Scenario, log: &[Entry]) -> Html {
    let met = met::met(scenario, &State::of(scenario.agent, log));
    html! {
        <section aria-labelledby="met-title" class="met">
            <h2 id="met-title">{ words.get(Word::MetTitle) }</h2>
            <p>{ words.get(Word::MetLead) }</p>
            if met.is_empty() {
                <p>{ words.get(Word::MetNothing) }</p>
            } else {
                <details>
                    <summary>{ words.fill(Word::MetCount, &[("number", &met.len().to_string())]) }</summary>
                    <dl>
                        { for met.iter().map(|one| {
                            let code = one.kind.code();
                            let when = one.at.map_or_else(|| words.get(Word::MetUnseen), clock_text);
                            html! {
                                <div key={code} data-group={one.kind.entry().group.code()}>
                                    <dt>{ words.of(&format!("kind.{code}")) }{ " " }<span class="soft">{ when }</span></dt>
                                    <dd>{ words.of(&format!("trouble.{code}.good")) }</dd>
                                    <dd class="soft"><span class="label">{ words.get(Word::MetPoor) }</span>{ " " }{ words.of(&format!("trouble.{code}.poor")) }</dd>
                                </div>
                            }
                        }) }
                    </dl>
                </details>
            }
        </section>
    }
}
