//! Why a file was not opened: every fault with its place.

use crate::words::{Word, Words};
use bittersweet_core::wire::Faults;
use yew::prelude::*;

/// The alert; empty where nothing is wrong.
pub(crate) fn refused(words: &Words, faults: Option<&Faults>) -> Html {
    html! {
        <div role="alert">
            { for faults.map(|faults| html! {
                <>
                    <p class="refused">{ words.get(Word::OpenRefused) }</p>
                    <ul class="faults">
                        { for faults.list().iter().enumerate().map(|(number, fault)| html! {
                            <li key={number}>
                                <code>{ words.place(fault) }</code>{ ": " }
                                { words.of(&format!("fault.{}", fault.code.code())) }
                                // What reads JSON knows no language but its own.
                                if fault.in_text().is_some() {
                                    <details class="soft">
                                        <summary>{ words.get(Word::OpenReport) }</summary>
                                        <code lang="en">{ fault.got.clone() }</code>
                                    </details>
                                } else {
                                    { " " }<span class="soft">{ words.fill(Word::OpenGot, &[("got", &fault.got)]) }</span>
                                }
                            </li>
                        }) }
                    </ul>
                </>
            }) }
        </div>
    }
}
