//! The fit-test record that was written in a run: a sample for an invented wearer, marked across wherever it is seen.
//!
//! It has no line to sign on and no name but the scenario's.

use crate::words::{Word, Words};
use bittersweet_core::{
    act::{Field, Fields},
    sample::Sample,
    scenario::Scenario,
};
use yew::prelude::*;

/// What stands in a field; `None` where it was left blank.
fn value(words: &Words, scenario: &Scenario, sample: &Sample, date: &str, field: Field) -> Option<AttrValue> {
    sample.fields.has(field).then(|| match field {
        Field::Wearer => AttrValue::from(scenario.person.name.clone()),
        Field::Test => words.fill(Word::SampleTest, &[("agent", &words.agent(scenario.agent))]),
        Field::Facepiece => match sample.facepiece.and_then(|slot| scenario.facepiece(slot)) {
            None => words.get(Word::SampleFacepieceNone),
            Some(piece) => {
                let class = words.of(&format!("class.{}", piece.class.code()));
                let size = words.of(&format!("size.{}", piece.size.code()));
                let model = piece.model.to_string();
                words.fill(Word::SampleFacepiece, &[("model", &model), ("class", &class), ("size", &size)])
            }
        },
        Field::Date => AttrValue::from(date.to_owned()),
        Field::Result => sample.result.map_or_else(|| words.get(Word::SampleResultNone), |given| words.verdict(given)),
        Field::Health => words.get(Word::SampleHealth),
        Field::Conductor => words.get(Word::SampleConductor),
        Field::Threshold => sample.threshold.map_or_else(
            || words.get(Word::SampleThresholdNone),
            |threshold| words.of(&format!("threshold.{}", threshold.code())),
        ),
    })
}

/// The fields that show: the five of the law, and what else was filled.
fn rows(words: &Words, scenario: &Scenario, sample: &Sample, date: &str) -> Vec<(Field, Option<AttrValue>)> {
    let row = |field: &Field| (*field, value(words, scenario, sample, date, *field));
    Field::ALL.iter().map(row).filter(|(field, value)| Fields::FIVE.has(*field) || value.is_some()).collect()
}

/// The card, with its mark across it.
pub(crate) fn card(words: &Words, scenario: &Scenario, sample: &Sample, date: &str) -> Html {
    let mark = words.get(Word::SampleMark);
    html! {
        <div class="sample">
            <p class="mark-line">{ mark.clone() }</p>
            <dl>
                { for rows(words, scenario, sample, date).into_iter().map(|(field, value)| html! {
                    <div key={field.code()} data-field={field.code()}>
                        <dt>{ words.field(field) }</dt>
                        // A name and a date are the same in every language.
                        <dd class={value.is_none().then_some("blank")} translate={matches!(field, Field::Wearer | Field::Date).then_some("no")}>{ value.unwrap_or_else(|| words.get(Word::SampleBlank)) }</dd>
                    </div>
                }) }
            </dl>
            <p class="soft">{ words.get(Word::ReviewPrinted) }</p>
            // Said in words above; this is the same across the card.
            <svg class="across" viewBox="0 0 600 240" aria-hidden="true">
                <text x="300" y="135" text-anchor="middle" textLength="560" lengthAdjust="spacingAndGlyphs" transform="rotate(-15 300 120)">{ mark }</text>
            </svg>
        </div>
    }
}

/// The same as a text, with the mark before and after it.
pub(crate) fn as_text(words: &Words, scenario: &Scenario, sample: &Sample, date: &str) -> String {
    let mark = words.get(Word::SampleMark).to_string();
    let mut lines = vec![mark.clone(), words.get(Word::ReviewPrinted).to_string(), String::new()];
    for (field, value) in rows(words, scenario, sample, date) {
        lines.push(format!("{}: {}", words.field(field), value.unwrap_or_else(|| words.get(Word::SampleBlank))));
    }
    lines.extend([String::new(), mark, String::new()]);
    lines.join("\n")
}
