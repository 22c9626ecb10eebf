//! What this is, what it is not, and whose rules it follows.

use crate::{
    edge::offline::Offline,
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
pub(crate) fn about(words: &Words, offline: Offline) -> Html {
    let kept = match offline {
        Offline::Insecure => Word::OfflineInsecure,
        Offline::Frame => Word::OfflineFrame,
        Offline::Unavailable => Word::OfflineNone,
        Offline::Coming => Word::OfflineComing,
        Offline::Ready | Offline::Newer | Offline::Taken => Word::OfflineReady,
    };
    let book = Rulebook::us(Agent::Sweet);
    let from_memory = book.rules.iter().filter(|rule| rule.reading == Reading::Memory).count();
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::AboutTitle) }</h1>
            { cautions(words) }
            <div class="parts">
                <section>
                    <h2>{ words.get(Word::AboutRulesTitle) }</h2>
                    <p>{ words.get(Word::AboutRules) }</p>
                    if from_memory > 0 {
                        <p>{ words.fill(Word::AboutMemory, &[("number", &from_memory.to_string()), ("all", &book.rules.len().to_string())]) }</p>
                    }
                </section>
                { part(words, Word::AboutModelTitle, Word::AboutModel) }
                { part(words, Word::AboutPrivacyTitle, Word::AboutPrivacy) }
                { part(words, Word::OfflineTitle, kept) }
            </div>
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

fn part(words: &Words, title: Word, text: Word) -> Html {
    html! { <section><h2>{ words.get(title) }</h2><p>{ words.get(text) }</p></section> }
}
