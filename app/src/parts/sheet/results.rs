//! Results given, beside the right ones.

use crate::words::{Word, Words, clock as clock_text};
use bittersweet_core::review::Called;
use yew::prelude::*;

/// Results given beside the right ones.
pub(crate) fn results(words: &Words, calls: &[Called]) -> Html {
    html! {
        <section aria-labelledby="results-title">
            <h2 id="results-title">{ words.get(Word::ReviewResults) }</h2>
            if calls.is_empty() {
                <p>{ words.get(Word::ReviewNoResult) }</p>
            } else {
                <div class="wide" tabindex="0" role="group" aria-labelledby="results-title">
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">{ words.get(Word::ReviewOn) }</th>
                                <th scope="col">{ words.get(Word::ReviewGiven) }</th>
                                <th scope="col">{ words.get(Word::ReviewRight) }</th>
                                <th scope="col">{ words.get(Word::ReviewVerdict) }</th>
                            </tr>
                        </thead>
                        <tbody>
                            { for calls.iter().enumerate().map(|(number, call)| {
                                let nothing = (call.unfinished || call.accepted.is_empty()).then(|| words.get(Word::ReviewNothingYet));
                                let right: Vec<AttrValue> = nothing.into_iter().chain(call.accepted.iter().map(|verdict| words.verdict(*verdict))).collect();
                                let right = right.join(&words.get(Word::ReviewOr));
                                html! {
                                    <tr key={number}>
                                        <th scope="row">{ words.about(call.about) }{ " " }<span class="soft">{ clock_text(call.at) }</span></th>
                                        <td>{ words.verdict(call.given) }</td>
                                        <td>{ right }</td>
                                        <td class={if call.is_right() { "right" } else { "wrong" }}>
                                            { words.get(if call.is_right() { Word::ReviewIsRight } else { Word::ReviewIsWrong }) }
                                        </td>
                                    </tr>
                                }
                            }) }
                        </tbody>
                    </table>
                </div>
            }
        </section>
    }
}
