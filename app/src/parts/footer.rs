//! The cautions that stand under every screen.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The foot of the page.
pub(crate) fn footer(words: &Words) -> Html {
    html! {
        <footer class="foot">
            <p>{ words.get(Word::CautionShort) }</p>
            <p><a href={Screen::About.link()}>{ words.get(Word::CautionMore) }</a></p>
        </footer>
    }
}
