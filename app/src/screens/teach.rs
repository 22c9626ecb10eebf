//! What there is for whoever teaches: what to hand out, and what to look at afterwards.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The screen.
pub(crate) fn teach(words: &Words) -> Html {
    let before = [
        (Screen::Wearer, Word::TeachWorkers, Word::TeachWorkersText),
        (Screen::Assess, Word::TeachGroup, Word::TeachGroupText),
        (Screen::Home, Word::TeachTogether, Word::TeachTogetherText),
    ];
    let after = [
        (Screen::Open, Word::TeachFile, Word::TeachFileText),
        (Screen::Learners, Word::TeachShared, Word::TeachSharedText),
        (Screen::Progress, Word::TeachReady, Word::TeachReadyText),
        (Screen::Record, Word::TeachRecord, Word::TeachRecordText),
    ];
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::TeachTitle) }</h1>
            <p class="lead">{ words.get(Word::TeachLead) }</p>
            <h2>{ words.get(Word::TeachBefore) }</h2>
            { ways(words, &before) }
            <h2>{ words.get(Word::TeachAfter) }</h2>
            { ways(words, &after) }
            <p class="notice">{ words.get(Word::TeachHands) }</p>
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

fn ways(words: &Words, ways: &[(Screen, Word, Word)]) -> Html {
    html! {
        <div class="wearers">
            <ul>
                { for ways.iter().map(|(screen, title, text)| html! {
                    <li><a class="way wearer" href={screen.link()}><strong>{ words.get(*title) }</strong><span>{ words.get(*text) }</span></a></li>
                }) }
            </ul>
        </div>
    }
}
