//! The choice of a language: each by its own name, the one that is spoken marked. Nothing but the words changes with it.

use crate::words::{Word, Words};
use std::rc::Rc;
use yew::prelude::*;

/// The languages that there are: the tag of each, and what it calls itself.
pub(crate) type Languages = Rc<[(AttrValue, AttrValue)]>;

/// The choice; nothing where there is none.
pub(crate) fn languages(words: &Words, all: &Languages, spoken: &str, on_choice: &Callback<AttrValue>) -> Html {
    if all.len() < 2 {
        return Html::default();
    }
    html! {
        <div class="languages" role="group" aria-label={words.get(Word::NavLanguage)}>
            { for all.iter().map(|(tag, name)| {
                let onclick = {
                    let tag = tag.clone();
                    on_choice.reform(move |_: MouseEvent| tag.clone())
                };
                html! {
                    <button type="button" key={tag.to_string()} lang={tag.clone()} aria-pressed={(**tag == *spoken).to_string()} {onclick}>
                        { name.clone() }
                    </button>
                }
            }) }
        </div>
    }
}
