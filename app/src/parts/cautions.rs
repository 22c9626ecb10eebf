//! The cautions in full.

use crate::words::{Word, Words};
use yew::prelude::*;

const ALL: [Word; 7] = [
    Word::CautionPractice,
    Word::CautionJudges,
    Word::CautionHands,
    Word::CautionModel,
    Word::CautionLaw,
    Word::CautionClearance,
    Word::CautionStop,
];

/// The list of cautions.
pub(crate) fn cautions(words: &Words) -> Html {
    html! {
        <ul class="cautions">
            { for ALL.iter().map(|caution| html! { <li key={caution.key()}>{ words.get(*caution) }</li> }) }
        </ul>
    }
}
