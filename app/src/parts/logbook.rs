//! The logbook: every act and sign with its time.
//!
//! Unaided, a row of squeezes is one line without a number: counting is part of the skill.

use crate::{
    parts::live::Live,
    words::{Word, Words, clock},
};
use bittersweet_core::{
    act::Act,
    log::{Entry, What},
    units::Ms,
    wire::run_v1::Help,
};
use yew::prelude::*;

/// One line as it is shown.
struct Line {
    at: Ms,
    text: AttrValue,
    is_act: bool,
}

/// The lines of a log; squeezes in a row are drawn together, with their number where `counted`.
fn lines(words: &Words, session: &Live, counted: bool) -> Vec<Line> {
    let scenario = session.scenario();
    let mut lines: Vec<Line> = Vec::new();
    let mut row = 0_u32;
    let mut row_is_last = false;
    for Entry { at, what } in session.run.log().iter().copied() {
        if what == What::Act(Act::Squeeze) {
            row += 1;
            let text = if counted {
                words.fill(Word::LogSqueezes, &[("number", &row.to_string())])
            } else {
                words.get(Word::LogSqueezing)
            };
            match lines.last_mut().filter(|_| row_is_last) {
                Some(line) => line.text = text,
                None => lines.push(Line { at, text, is_act: true }),
            }
            row_is_last = true;
            continue;
        }
        row_is_last = false;
        let (text, is_act) = match what {
            What::Act(act) => {
                row = 0;
                (words.act(act, scenario), true)
            }
            What::Sign(sign) => (words.sign(sign, scenario), false),
        };
        lines.push(Line { at, text, is_act });
    }
    lines
}

/// Properties of [`Logbook`].
#[derive(Properties, PartialEq)]
pub(crate) struct LogbookProps {
    /// The words.
    pub(crate) words: Words,
    /// The session.
    pub(crate) live: Live,
}

/// The logbook at the side, latest line first.
#[component]
pub(crate) fn Logbook(props: &LogbookProps) -> Html {
    let words = &props.words;
    let counted = props.live.conditions.help == Help::Guided || props.live.is_finished();
    let lines = lines(words, &props.live, counted);
    html! {
        <section class="logbook" aria-labelledby="logbook-title">
            <h2 id="logbook-title">{ words.get(Word::LogTitle) }</h2>
            if lines.is_empty() {
                <p class="soft">{ words.get(Word::LogEmpty) }</p>
            }
            // A list that scrolls can be reached by key.
            <ol reversed={true} tabindex="0" aria-labelledby="logbook-title">
                { for lines.iter().enumerate().rev().map(|(number, line)| html! {
                    <li key={number} class={if line.is_act { "did" } else { "saw" }}>
                        <span class="at">{ clock(line.at) }</span>
                        <span>{ line.text.clone() }</span>
                    </li>
                }) }
            </ol>
        </section>
    }
}
