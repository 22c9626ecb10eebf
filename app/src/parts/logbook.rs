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
    scenario::Scenario,
    units::Ms,
    wire::run_v1::Help,
};
use yew::prelude::*;

/// One line as it is shown.
#[derive(Clone, PartialEq)]
pub(crate) struct Line {
    /// When; for a row of squeezes, the first of them.
    pub(crate) at: Ms,
    /// In words.
    pub(crate) text: AttrValue,
    /// What it is.
    pub(crate) what: What,
}

/// The lines of a log; squeezes in a row are drawn together, with their number where `counted`. A pause begins a new row:
/// between exercises the pause that parts two replenishments, before them one in which a replenishment would have been lost.
pub(crate) fn lines(words: &Words, scenario: &Scenario, log: &[Entry], counted: bool) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mut row = 0_u32;
    let mut row_is_last = false;
    let mut pressed = Ms::ZERO;
    let numbers = scenario.rulebook().numbers;
    let mut pause = numbers.replenish_lost;
    for Entry { at, what } in log.iter().copied() {
        if what == What::Act(Act::Squeeze) {
            if at.since(pressed) > pause {
                (row, row_is_last) = (0, false);
            }
            pressed = at;
            row += 1;
            let text = if counted {
                words.fill(Word::LogSqueezes, &[("number", &row.to_string())])
            } else if row == 1 {
                words.act(Act::Squeeze, scenario)
            } else {
                words.get(Word::LogSqueezing)
            };
            match lines.last_mut().filter(|_| row_is_last) {
                Some(line) => line.text = text,
                None => lines.push(Line { at, text, what }),
            }
            row_is_last = true;
            continue;
        }
        row_is_last = false;
        let text = match what {
            What::Act(act) => {
                row = 0;
                if matches!(act, Act::Begin(_)) {
                    pause = numbers.set_gap;
                } else if act == Act::HoodOn {
                    pause = numbers.replenish_lost;
                }
                words.act(act, scenario)
            }
            What::Sign(sign) => words.sign(sign, scenario),
        };
        lines.push(Line { at, text, what });
    }
    lines
}

/// Acts stand upright, signs lean.
pub(crate) const fn class_of(what: What) -> &'static str {
    match what {
        What::Act(_) => "did",
        What::Sign(_) => "saw",
    }
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
    logbook(words, &lines(words, props.live.scenario(), props.live.log(), counted))
}

/// How many lines a leaf of the logbook holds.
const LEAF: usize = 16;

/// The logbook of these lines.
pub(crate) fn logbook(words: &Words, lines: &[Line]) -> Html {
    let (earlier, leaf) = lines.split_at(lines.len().saturating_sub(1) / LEAF * LEAF);
    html! {
        <section class="logbook" aria-labelledby="logbook-title">
            <h2 id="logbook-title">{ words.get(Word::LogTitle) }</h2>
            if lines.is_empty() {
                <p class="soft">{ words.get(Word::LogEmpty) }</p>
            }
            // A list that scrolls can be reached by key.
            <div class="lines" tabindex="0" role="group" aria-labelledby="logbook-title">
                <ol reversed={true} start={lines.len().to_string()}>{ latest_first(leaf) }</ol>
                if !earlier.is_empty() {
                    <Earlier lines={earlier.to_vec()} />
                }
            </div>
        </section>
    }
}

/// Properties of [`Earlier`].
#[derive(Properties, PartialEq)]
struct EarlierProps {
    lines: Vec<Line>,
}

/// The leaves before the latest one: a new line moves them as a whole, and nothing in them is drawn anew.
#[component]
fn Earlier(EarlierProps { lines }: &EarlierProps) -> Html {
    html! { <ol class="earlier" reversed={true} start={lines.len().to_string()}>{ latest_first(lines) }</ol> }
}

fn latest_first(lines: &[Line]) -> Html {
    lines
        .iter()
        .enumerate()
        .rev()
        .map(|(number, line)| {
            html! {
                <li key={number} class={class_of(line.what)}>
                    <span class="at">{ clock(line.at) }</span>
                    <span>{ line.text.clone() }</span>
                </li>
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{act::Exercise, scenarios::BUILT_IN, wire::scenario_v1, words::LANGUAGES};

    #[test]
    fn each_replenishment_is_a_row_of_its_own() {
        let (_, json) = LANGUAGES.iter().find(|(tag, _)| *tag == "en").unwrap();
        let words = Words::parse(&[json]).unwrap();
        let (_, text) = BUILT_IN.first().unwrap();
        let scenario = scenario_v1::parse(text).unwrap();
        let log = [0, 700, 6_000, 30_000, 30_700, 31_400].map(|at| Entry::act(Ms(at), Act::Squeeze));
        let rows = lines(&words, &scenario, &log, true);
        let rows: Vec<(Ms, &str)> = rows.iter().map(|line| (line.at, line.text.as_str())).collect();
        assert_eq!(rows, [(Ms(0), "Squeeze, 3"), (Ms(30_000), "Squeeze, 3")]);
        // A late one and the next in time stand close together.
        let begun = Entry::act(Ms(0), Act::Begin(Exercise::Talking));
        let presses = [41_000, 41_700, 42_400, 58_000, 58_700].map(|at| Entry::act(Ms(at), Act::Squeeze));
        let log: Vec<Entry> = std::iter::once(begun).chain(presses).collect();
        let rows = lines(&words, &scenario, &log, true);
        let rows: Vec<(Ms, &str)> = rows.iter().skip(1).map(|line| (line.at, line.text.as_str())).collect();
        assert_eq!(rows, [(Ms(41_000), "Squeeze, 3"), (Ms(58_000), "Squeeze, 2")]);
    }
}
