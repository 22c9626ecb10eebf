//! The card to print or keep: all that has to be known on the day.

use crate::{
    edge::page,
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::rulebook::{Agent, Rulebook};
use yew::prelude::*;

/// The card, and what to do next.
pub(super) fn card(words: &Words, agent: Agent) -> Html {
    let minutes = (Rulebook::us(agent).numbers.nothing_by_mouth.0 / 60_000).to_string();
    let lines = [
        Word::WearerShave,
        Word::WearerBring,
        Word::WearerMouth,
        Word::WearerHands,
        Word::WearerSay,
        Word::WearerStop,
        Word::WearerCovers,
        Word::WearerRenew,
    ];
    html! {
        <>
            <section class="worker-card" aria-labelledby="card-title">
                <h3 id="card-title">{ words.get(Word::WearerTitle) }</h3>
                <ul>
                    <li>{ words.fill(Word::WearerWater, &[("minutes", &minutes)]) }</li>
                    { for lines.into_iter().map(|line| html! { <li>{ words.get(line) }</li> }) }
                </ul>
                <p class="soft">{ words.get(Word::WearerPrintNote) }</p>
            </section>
            <p>{ words.of("worker.card.next") }</p>
            <p class="ways">
                <button type="button" id="print" class="main" onclick={|_: MouseEvent| page::print()}>{ words.get(Word::WearerPrint) }</button>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
        </>
    }
}
