//! What is said of a run that is open in another window.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The text, and the ways on.
pub(crate) fn elsewhere(words: &Words, on_take: Callback<MouseEvent>) -> Html {
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::ElsewhereTitle) }</h1>
            <p role="status">{ words.get(Word::ElsewhereText) }</p>
            <p class="ways">
                <button type="button" id="take-over" class="main" onclick={on_take}>{ words.get(Word::ElsewhereTake) }</button>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
        </>
    }
}
