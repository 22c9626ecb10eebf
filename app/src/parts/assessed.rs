//! What an assessment came to: hits and false alarms apart, each with how sure it is, what it failed by, and what to practise.

use crate::{
    edge::page,
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::{
    assessment::{
        Sitting,
        result::{Outcome, Reason, Share},
    },
    interval::{Bounds, Confidence},
};
use yew::prelude::*;

/// The result.
pub(crate) fn assessed(words: &Words, sitting: &Sitting, outcome: &Outcome, on_save: &Callback<MouseEvent>) -> Html {
    let terms = sitting.terms;
    let bar = terms.bar.to_string();
    let most = terms.length.most_over_called().to_string();
    html! {
        <>
            <p class="verdict" id="result" data-passed={outcome.is_passed().to_string()}>
                <strong>{ words.get(if outcome.is_passed() { Word::AssessPassed } else { Word::AssessNotPassed }) }</strong>
            </p>
            if !outcome.reasons.is_empty() {
                <h2>{ words.get(Word::AssessWhy) }</h2>
                <ul class="reasons">{ for outcome.reasons.iter().map(|reason| html! { <li>{ says(words, *reason) }</li> }) }</ul>
            }
            <h2>{ words.get(Word::AssessCounts) }</h2>
            <p>{ words.fill(Word::AssessTermsWere, &[("bar", &bar), ("most", &most)]) }</p>
            <table>
                <thead><tr>
                    <th scope="col">{ words.get(Word::AssessWhat) }</th>
                    <th scope="col">{ words.get(Word::AssessCount) }</th>
                    <th scope="col">{ words.get(Word::AssessSure) }</th>
                </tr></thead>
                <tbody>
                    { row(words, Word::AssessAnswered, outcome.answered) }
                    { row(words, Word::AssessCaught, outcome.caught) }
                    { row(words, Word::AssessLetPass, outcome.let_pass) }
                    { row(words, Word::AssessResults, outcome.results) }
                    <tr><th scope="row">{ words.get(Word::AssessOverCalled) }</th><td>{ outcome.over_called }</td><td>{ "–" }</td></tr>
                </tbody>
            </table>
            <p class="soft">{ words.get(Word::AssessInterval) }</p>
            if !sitting.outcomes.is_empty() {
                <h2>{ words.get(Word::AssessRuns) }</h2>
                <ul class="kept">
                    { for sitting.outcomes.iter().enumerate().map(|(place, run)| {
                        let name = words.fill(Word::AssessRunNumber, &[("place", &(place + 1).to_string())]);
                        html! {
                            <li key={run.run.clone()}>
                                <span><strong>{ name.clone() }</strong></span>
                                <a class="way" href={Screen::Review(run.run.clone()).link()} aria-label={format!("{}: {name}", words.get(Word::KeptReview))}>{ words.get(Word::KeptReview) }</a>
                            </li>
                        }
                    }) }
                </ul>
            }
            { practise(words, outcome) }
            <p class="notice">{ words.get(Word::AssessNoCertificate) }</p>
            <p class="ways no-print">
                <button type="button" id="save-result" onclick={on_save}>{ words.get(Word::AssessSave) }</button>
                <button type="button" id="print" onclick={|_: MouseEvent| page::print()}>{ words.get(Word::ReviewPrint) }</button>
                <a class="way" href={Screen::Assess.link()}>{ words.get(Word::AssessTitle) }</a>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
        </>
    }
}

fn says(words: &Words, reason: Reason) -> AttrValue {
    match reason {
        Reason::Grave(run, rule) => {
            words.fill(Word::AssessGrave, &[("run", &run.to_string()), ("rule", &words.rule_says(rule))])
        }
        Reason::NoResult(run) => words.fill(Word::AssessNoResult, &[("run", &run.to_string())]),
        Reason::OverCalled(number) => words.fill(Word::AssessTooOften, &[("number", &number.to_string())]),
        Reason::BelowBar => words.get(Word::AssessBelowBar),
        Reason::Undone(number) => words.fill(Word::AssessUndone, &[("number", &number.to_string())]),
    }
}

fn row(words: &Words, name: Word, share: Share) -> Html {
    let Share { hits, of } = share;
    let sure = share.counted().map(|counted| {
        let sure = counted.wilson(Bounds::Both, Confidence::USUAL);
        words.fill(Word::AssessBetween, &[("low", &percent(sure.low)), ("high", &percent(sure.high))])
    });
    let count = words.fill(Word::RefreshPlace, &[("place", &hits.to_string()), ("of", &of.to_string())]);
    html! {
        <tr>
            <th scope="row">{ words.get(name) }</th>
            <td>{ if of == 0 { words.get(Word::AssessNone) } else { count } }</td>
            <td>{ sure.unwrap_or_else(|| "–".into()) }</td>
        </tr>
    }
}

fn percent(share: f64) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share lies between 0 and 1")]
    let whole = (share * 100.0 + 0.5) as u32;
    whole.to_string()
}

fn practise(words: &Words, outcome: &Outcome) -> Html {
    if outcome.practise.is_empty() {
        // Nothing went wrong either where nothing was done.
        return html! { if outcome.is_passed() { <p>{ words.get(Word::AssessAllWell) }</p> } };
    }
    html! {
        <>
            <h2>{ words.get(Word::AssessPractise) }</h2>
            <ul class="practise">{ for outcome.practise.iter().map(|skill| html! { <li>{ words.of(&format!("skill.{}", skill.code())) }</li> }) }</ul>
            <p class="ways no-print">
                <a class="way" href={Screen::Questions.link()}>{ words.get(Word::QuestionsTitle) }</a>
                <a class="way" href={Screen::Drills.link()}>{ words.get(Word::DrillTitle) }</a>
            </p>
        </>
    }
}
