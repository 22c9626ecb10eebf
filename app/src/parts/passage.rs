//! What the wearer reads aloud in the talking exercise, with the part that has been reached, and what may be said instead.

use crate::{
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::act::Exercise;
use yew::prelude::*;

/// Slow speech, in words a minute (from memory: 100 to 130).
const WORDS_A_MINUTE: u32 = 130;

/// The passage while the talking exercise goes on; nothing otherwise.
pub(crate) fn passage(words: &Words, session: &Session) -> Html {
    let going_on = session.run.state().test().and_then(|test| test.going_on().copied());
    let Some(done) = going_on.filter(|done| done.exercise == Exercise::Talking) else { return Html::default() };
    let text = words.of("passage.text");
    let sentences: Vec<&str> = text.split_inclusive(". ").collect();
    let spoken = done.length(session.run.now()).0 / 1_000 * WORDS_A_MINUTE / 60;
    let at = reached(&sentences, spoken);
    html! {
        <details class="passage" open={true}>
            <summary>{ words.of("passage.title") }</summary>
            <p>
                { for sentences.iter().enumerate().map(|(number, sentence)| html! {
                    <>
                        <span key={number} aria-current={(number == at).then_some("true")}>{ sentence.trim_end() }</span>{ " " }
                    </>
                }) }
            </p>
            <p class="soft">{ words.get(Word::PassageInstead) }</p>
        </details>
    }
}

/// The sentence reached after so many words; the end leads back to the beginning.
fn reached(sentences: &[&str], spoken: u32) -> usize {
    let lengths = sentences.iter().map(|sentence| u32::try_from(sentence.split_whitespace().count()).unwrap_or(0));
    let all: u32 = lengths.clone().sum();
    let mut left = spoken.checked_rem(all).unwrap_or(0);
    for (number, length) in lengths.enumerate() {
        if left < length {
            return number;
        }
        left -= length;
    }
    0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_end_leads_back_to_the_beginning() {
        let sentences = ["One two. ", "Three four five. ", "Six."];
        let at = (0..9).map(|spoken| reached(&sentences, spoken)).collect::<Vec<_>>();
        assert_eq!(at, [0, 0, 1, 1, 1, 2, 0, 0, 1]);
    }
}
