//! The help that was asked for.

use crate::words::{Word, Words, clock as clock_text};
use bittersweet_core::{
    hint::{Depth, Hint},
    observe::Slip,
};
use yew::prelude::*;

/// The help that was asked for.
pub(crate) fn helped(words: &Words, hints: &[Hint]) -> Html {
    html! {
        <section aria-labelledby="helped-title" class="helped">
            <h2 id="helped-title">{ words.get(Word::HintReview) }</h2>
            if hints.is_empty() {
                <p>{ words.get(Word::HintReviewNone) }</p>
            }
            <ol>
                { for hints.iter().enumerate().map(|(number, hint)| {
                    let said = match hint.depth {
                        Depth::Think => words.of(&format!("think.{}", Slip::of(hint.rule).code())),
                        Depth::Act => words.get(Word::HintReviewAct),
                    };
                    html! { <li key={number}>{ words.fill(Word::HintReviewLine, &[("time", &clock_text(hint.at)), ("question", &said)]) }</li> }
                }) }
            </ol>
        </section>
    }
}
