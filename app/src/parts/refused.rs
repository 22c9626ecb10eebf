//! Why a file was not opened: every fault with its place.

use crate::words::{Word, Words};
use bittersweet_core::wire::Faults;
use yew::prelude::*;

/// The alert; empty where nothing is wrong.
pub(crate) fn refused(words: &Words, faults: &Option<Faults>) -> Html {
    html! {
        <div role="alert">
            { for faults.as_ref().map(|faults| html! {
                <>
                    <p class="refused">{ words.get(Word::OpenRefused) }</p>
                    <ul class="faults">
                        { for faults.list().iter().enumerate().map(|(number, fault)| html! {
                            <li key={number}>
                                <code>{ words.place(fault) }</code>{ " " }
                                { words.of(&format!("fault.{}", fault.code.code())) }{ " " }
                                <span class="soft">{ words.fill(Word::OpenGot, &[("got", &fault.got)]) }</span>
                            </li>
                        }) }
                    </ul>
                </>
            }) }
        </div>
    }
}
