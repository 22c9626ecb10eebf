//! What was noticed and what was made too much of.

use crate::words::{Word, Words};
use bittersweet_core::review::Review;
use yew::prelude::*;

/// Four counts, kept apart.
pub(crate) fn noticing(words: &Words, review: &Review) -> Html {
    let watch = review.watch;
    let row =
        |word: Word, number: u32| html! { <div key={word.key()}><dt>{ words.get(word) }</dt><dd>{ number }</dd></div> };
    html! {
        <section aria-labelledby="watch-title">
            <h2 id="watch-title">{ words.get(Word::WatchTitle) }</h2>
            <p>{ words.get(Word::WatchLead) }</p>
            <dl class="counts">
                { row(Word::WatchCaught, watch.caught) }
                { row(Word::WatchMissed, watch.missed) }
                { row(Word::WatchLetPass, watch.let_pass) }
                { row(Word::WatchOverCalled, watch.over_called) }
            </dl>
        </section>
    }
}
