//! What this is, what it is not, and whose rules it follows.

use crate::{
    parts::cautions::cautions,
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::{
    rulebook::{Agent, Rulebook},
    source::Reading,
};
use yew::prelude::*;

/// The screen.
pub(crate) fn about(words: &Words) -> Html {
    let book = Rulebook::us(Agent::Sweet);
    let from_memory = book.rules.iter().filter(|rule| rule.reading == Reading::Memory).count();
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::AboutTitle) }</h1>
            { cautions(words) }
            <h2>{ words.get(Word::AboutRulesTitle) }</h2>
            <p>{ words.get(Word::AboutRules) }</p>
            <p>{ words.fill(Word::AboutMemory, &[("number", &from_memory.to_string()), ("all", &book.rules.len().to_string())]) }</p>
            <h2>{ words.get(Word::AboutModelTitle) }</h2>
            <p>{ words.get(Word::AboutModel) }</p>
            <h2>{ words.get(Word::AboutPrivacyTitle) }</h2>
            <p>{ words.get(Word::AboutPrivacy) }</p>
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}
