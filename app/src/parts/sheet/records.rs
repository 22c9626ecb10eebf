//! The records that were written in the run, as samples, and what is to be said of each.

use crate::{
    edge::{clock, file},
    parts::sample::{as_text, card},
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::{
    act::{Field, Fields},
    rulebook::{RuleId, Rulebook},
    sample::{Sample, samples},
};
use yew::prelude::*;

/// Every record, with the way to save it, and to print them without the rest of the review; `failed` is told whether the file
/// could not be offered.
pub(crate) fn records(
    words: &Words,
    book: &Rulebook,
    session: &Session,
    failed: &Callback<bool>,
    print: &Callback<MouseEvent>,
) -> Html {
    let scenario = session.scenario();
    let date = clock::date(clock::day(&session.started));
    let written = samples(scenario, session.log());
    if written.is_empty() {
        return Html::default();
    }
    let is_one = written.len() == 1;
    html! {
        <section aria-labelledby="records-title" class="records">
            <h2 id="records-title">{ words.get(Word::SampleTitle) }</h2>
            <p class="soft">{ words.get(Word::SampleLead) }</p>
            { for written.iter().zip(1..).map(|(sample, number)| {
                let number: u32 = number;
                let save = {
                    let text = as_text(words, scenario, sample, &date);
                    let name = format!("bittersweet-sample-{}-{number}.txt", session.id);
                    failed.reform(move |_: MouseEvent| file::save(&name, &text).is_err())
                };
                html! {
                    <div class="written" key={number}>
                        if !is_one {
                            <h3>{ words.fill(Word::SampleTitled, &[("number", &number.to_string())]) }</h3>
                        }
                        { card(words, scenario, sample, &date) }
                        { judged(words, book, sample) }
                        <p class="ways"><button type="button" id={format!("save-sample-{number}")} onclick={save}>{ words.get(Word::SampleSave) }</button></p>
                    </div>
                }
            }) }
            <p>{ words.get(Word::SampleMore) }</p>
            <p class="ways"><button type="button" id="print-samples" onclick={print}>{ words.get(Word::SamplePrint) }</button></p>
        </section>
    }
}

/// What the law asks of it and what has no place in it, each with its source.
fn judged(words: &Words, book: &Rulebook, sample: &Sample) -> Html {
    let blank: Vec<String> = Field::ALL
        .iter()
        .filter(|field| Fields::FIVE.has(**field) && !sample.fields.has(**field))
        .map(|field| words.field(*field).to_string())
        .collect();
    let five = if blank.is_empty() {
        words.get(Word::SampleHasFive)
    } else {
        words.fill(Word::SampleLacksSome, &[("fields", &blank.join(", "))])
    };
    let health = sample.fields.has(Field::Health);
    html! {
        <ul class="judged">
            <li class={if blank.is_empty() { "right" } else { "wrong" }}>{ five }{ source(words, book, RuleId::RecordFields) }</li>
            if health {
                <li class="wrong">{ words.get(Word::SampleHasHealth) }{ " " }{ words.rule_says(RuleId::RecordHealth) }{ source(words, book, RuleId::RecordHealth) }</li>
            }
        </ul>
    }
}

fn source(words: &Words, book: &Rulebook, rule: RuleId) -> Html {
    let whence = book.rule(rule).map(|rule| words.whence(rule.source, rule.basis, rule.reading));
    html! { <span class="soft">{ " " }{ for whence }</span> }
}
