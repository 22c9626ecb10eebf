//! The cautions that stand under every screen.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// The foot of the page.
pub(crate) fn footer(words: &Words, screen: &Screen) -> Html {
    // Where something goes on in time the way back stands apart from what is done there.
    let is_under_way = matches!(screen, Screen::Rehearse(_) | Screen::Watch(_) | Screen::Wearer);
    html! {
        <footer class="foot">
            <p>{ words.get(Word::CautionShort) }</p>
            <p><a href={Screen::About.link()}>{ words.get(Word::CautionMore) }</a></p>
            if is_under_way {
                <p><a href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
            }
        </footer>
    }
}
