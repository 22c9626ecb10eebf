//! How it stands with being observed on a real test: in sentences, with what is missing and what it does not say.

use crate::{
    edge::clock,
    words::{Word, Words},
};
use bittersweet_core::{
    interval::Interval,
    readiness::{CAUGHT, KINDS, LET_PASS, Missing, RUNS, Readiness, SURE},
};
use yew::prelude::*;

/// How sure the statements are, in whole per cent.
pub(crate) fn sure() -> u32 {
    Interval { low: SURE, high: SURE }.low_percent()
}

/// Ready or not yet.
pub(crate) fn verdict(words: &Words, readiness: &Readiness) -> AttrValue {
    words.get(if readiness.missing.is_none() { Word::ReadyYes } else { Word::ReadyNotYet })
}

/// What that rests on.
pub(crate) fn rests_on(words: &Words, readiness: &Readiness) -> AttrValue {
    let Some(at_least) = readiness.caught.at_least() else { return words.get(Word::ReadyRestsNone) };
    let (met, well) = (readiness.caught.met(), readiness.caught.well());
    let counts = [("met", met), ("well", well), ("sure", sure()), ("share", at_least.low_percent())];
    words.fill_counts(Word::ReadyRests, &counts)
}

/// How long it stands; nothing where it does not.
pub(crate) fn until(words: &Words, readiness: &Readiness) -> Option<AttrValue> {
    Some(words.fill(Word::ReadyUntil, &[("date", &clock::date(readiness.until?))]))
}

/// What is still missing, as a list.
pub(crate) fn missing(words: &Words, missing: &Missing) -> Html {
    let Missing { events, kinds, harmless, runs } = *missing;
    let rows = [
        (Word::ReadyRuns, runs),
        (Word::ReadyEvents, events),
        (Word::ReadyKinds, kinds),
        (Word::ReadyHarmless, harmless),
    ];
    html! {
        <>
            <p>{ words.get(Word::ReadyMissing) }</p>
            <ul class="dashes">
                { for rows.into_iter().filter(|(_, number)| *number > 0).map(|(word, number)| html! {
                    <li>{ words.fill_counts(word, &[("number", number)]) }</li>
                }) }
            </ul>
        </>
    }
}

/// The rule, and what no simulation shows.
pub(crate) fn explained(words: &Words) -> Html {
    let ([events, ..], [harmless, ..]) = (CAUGHT, LET_PASS);
    let figures = [("events", events), ("kinds", KINDS), ("harmless", harmless), ("runs", RUNS)];
    html! {
        <details id="ready-what">
            <summary>{ words.get(Word::ReadyWhat) }</summary>
            <p>{ words.fill_counts(Word::ReadyWhatRule, &figures) }</p>
            <p>{ words.get(Word::ReadyWhatNot) }</p>
        </details>
    }
}
