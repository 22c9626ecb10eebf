//! An address that leads nowhere, and the way back.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The screen.
pub(crate) fn nowhere(words: &Words, address: &str) -> Html {
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::NowhereTitle) }</h1>
            <p>{ words.fill(Word::NowhereText, &[("address", address)]) }</p>
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}
