//! A way to another screen, with what one finds there.

use crate::{
    screen::Screen,
    words::{Word, Words},
};
use yew::prelude::*;

/// An entry of a list of ways.
pub(crate) fn way_in(words: &Words, screen: &Screen, id: &'static str, title: Word, text: Word) -> Html {
    html! {
        <li><a class="way wearer" {id} href={screen.link()}><strong>{ words.get(title) }</strong><span>{ words.get(text) }</span></a></li>
    }
}
