//! What there is for whoever teaches: what to hand out, and what to look at afterwards.

use crate::{
    parts::way_in::way_in,
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The screen.
pub(crate) fn teach(words: &Words) -> Html {
    let before = [
        (Screen::Wearer, "to-workers", Word::TeachWorkers, Word::TeachWorkersText),
        (Screen::Assess, "to-group", Word::TeachGroup, Word::TeachGroupText),
        (Screen::Home, "to-together", Word::TeachTogether, Word::TeachTogetherText),
    ];
    let after = [
        (Screen::Open, "to-file", Word::TeachFile, Word::TeachFileText),
        (Screen::Learners, "to-shared", Word::TeachShared, Word::TeachSharedText),
        (Screen::Progress, "to-ready", Word::TeachReady, Word::TeachReadyText),
        (Screen::Record, "to-record", Word::TeachRecord, Word::TeachRecordText),
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

fn ways(words: &Words, ways: &[(Screen, &'static str, Word, Word)]) -> Html {
    html! {
        <div class="wearers">
            <ul>{ for ways.iter().map(|(screen, id, title, text)| way_in(words, screen, id, *title, *text)) }</ul>
        </div>
    }
}
