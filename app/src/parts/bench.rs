//! The bench: the acts that make sense, grouped by phase.
//!
//! An act that cannot be now stays where it is and says why when it is pressed; nothing jumps about.

mod groups;
mod record;

pub(crate) use groups::phase_of;

use crate::{
    edge::page,
    parts::live::Live,
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::{
    act::{Act, Fields, Observation, Phase},
    scenario::Scenario,
    units::Ms,
    wire::run_v1::Help,
};
use groups::{Group, groups};
use record::RecordForm;
use std::rc::Rc;
use yew::prelude::*;

/// The id of an act's button in a phase, so that the guide can show it.
pub(crate) fn button_id(act: Act) -> String {
    let (code, with) = act.code();
    let with = with.unwrap_or_default().replace([':', ','], "-");
    format!("act-{code}-{with}")
}

/// The id of an act that lies at hand in every phase, or is made by the form.
pub(crate) fn at_hand_id(act: Act) -> Option<&'static str> {
    if act == Act::Squeeze {
        Some("squeeze")
    } else if act == Act::Stop {
        Some("stop")
    } else if let Act::Record(_) = act {
        Some("record")
    } else {
        None
    }
}

/// Lengths of time that can be let pass, in seconds.
const WAITS: [u32; 6] = [10, 30, 60, 180, 300, 600];

/// Properties of [`Bench`].
#[derive(Properties, PartialEq)]
pub(crate) struct BenchProps {
    /// The words.
    pub(crate) words: Words,
    /// The session.
    pub(crate) live: Live,
    /// What is next by the book, while that is shown: no other act at hand is louder.
    pub(crate) next: Option<Act>,
    /// The phase that lies open.
    pub(crate) phase: Phase,
    /// Another phase was opened.
    pub(crate) on_phase: Callback<Phase>,
    /// Something is done.
    pub(crate) on_act: Callback<Act>,
}

/// The bench.
#[component]
pub(crate) fn Bench(props: &BenchProps) -> Html {
    let words = &props.words;
    let open = props.phase;
    let heading = words.get(Word::BenchTitle);
    html! {
        <section class="bench" aria-labelledby="bench-title">
            <h2 id="bench-title">{ heading.clone() }</h2>
            { at_hand(words, &props.live, props.next, &props.on_act) }
            <div class="phases" role="group" aria-label={words.get(Word::BenchPhases)}>
                { for Phase::ALL.iter().copied().map(|phase| {
                    let onclick = props.on_phase.reform(move |_: MouseEvent| phase);
                    html! {
                        <button type="button" key={phase.code()} aria-pressed={(phase == open).to_string()} {onclick}>
                            { words.of(&format!("phase.{}", phase.code())) }
                        </button>
                    }
                }) }
            </div>
            <div class="groups">
                { for groups(open, props.live.scenario()).iter().map(|group| act_group(words, &props.live, group, &props.on_act)) }
                if open == Phase::Result {
                    <RecordForm words={words.clone()} on_record={props.on_act.reform(|fields: Fields| Act::Record(fields))} />
                }
            </div>
        </section>
    }
}

/// Acts of a kind, as buttons under a heading.
fn act_group(words: &Words, session: &Session, group: &Group, on_act: &Callback<Act>) -> Html {
    let id = group.name.key();
    html! {
        <section key={id} class="group" aria-labelledby={id}>
            <h3 {id}>{ words.get(group.name) }</h3>
            <div class="acts">
                { for group.acts.iter().map(|act| act_button(words, session, *act, on_act)) }
            </div>
        </section>
    }
}

/// One act.
fn act_button(words: &Words, session: &Session, act: Act, on_act: &Callback<Act>) -> Html {
    let id = button_id(act);
    let cannot = session.run.hindrance(act).is_some();
    // In guided runs a mark shows what has been done; unaided, keeping track is part of the work.
    let done = session.conditions.help == Help::Guided && session.run.state().first(act).is_some();
    let onclick = on_act.reform(move |_: MouseEvent| act);
    let named = words.act(act, session.scenario());
    // What is decided stands under a heading that says what it is, and needs not say so once more.
    let short = words.decided(act);
    let whole = short
        .is_some()
        .then(|| if done { format!("{named} {}", words.get(Word::BenchDone)) } else { named.to_string() });
    html! {
        <button key={id.clone()} type="button" {id} class={done.then_some("done")} aria-disabled={cannot.then_some("true")}
            aria-label={whole} onkeydown={no_repeat} {onclick}>
            { short.unwrap_or(named) }
            if done {
                <span class="unseen">{ words.get(Word::BenchDone) }</span>
            }
        </button>
    }
}

/// A held key is one act.
pub(crate) fn no_repeat(event: KeyboardEvent) {
    if event.repeat() && (event.key() == "Enter" || event.key() == " ") {
        event.prevent_default();
    }
}

/// What is needed in every phase: squeeze, note, let time pass, stop.
fn at_hand(words: &Words, session: &Session, next: Option<Act>, on_act: &Callback<Act>) -> Html {
    let scenario = session.scenario();
    let quiet = next.is_some_and(|next| next != Act::Squeeze).then_some("quiet");
    let loud = (next == Some(Act::Stop)).then_some("main");
    let squeeze = on_act.reform(|_: MouseEvent| Act::Squeeze);
    let stop = on_act.reform(|_: MouseEvent| Act::Stop);
    let cannot_squeeze = session.run.hindrance(Act::Squeeze).is_some();
    html! {
        <div class="at-hand" role="group" aria-label={words.get(Word::BenchAtHand)}>
            <div class="hand">
                <button type="button" class={classes!("squeeze", quiet)} id="squeeze" aria-keyshortcuts="s"
                    aria-disabled={cannot_squeeze.then_some("true")} onkeydown={no_repeat} onclick={squeeze}>
                    { words.act(Act::Squeeze, scenario) }
                </button>
                <button type="button" id="stop" class={loud} onkeydown={no_repeat} onclick={stop}>{ words.act(Act::Stop, scenario) }</button>
            </div>
            <Chosen words={words.clone()} scenario={Rc::clone(scenario)} on_act={on_act.clone()} />
        </div>
    }
}

/// Properties of [`Chosen`].
#[derive(Properties, PartialEq)]
struct ChosenProps {
    words: Words,
    scenario: Rc<Scenario>,
    on_act: Callback<Act>,
}

/// Acts chosen from a list: what is noted, and how long time passes. They are the same through the whole run, so that an act
/// does not draw them anew.
#[component]
fn Chosen(ChosenProps { words, scenario, on_act }: &ChosenProps) -> Html {
    let note = Callback::from({
        let on_act = on_act.clone();
        move |_: MouseEvent| {
            if let Some(seen) = page::choice("note-what").and_then(|code| Observation::from_code(&code)) {
                on_act.emit(Act::Note(seen));
            }
        }
    });
    let wait = Callback::from({
        let on_act = on_act.clone();
        move |_: MouseEvent| {
            if let Some(seconds) = page::choice("wait-how-long").and_then(|value| value.parse().ok()) {
                on_act.emit(Act::Wait(Ms::secs(seconds)));
            }
        }
    });
    html! {
        <>
            <div class="pair">
                <label for="note-what">{ words.get(Word::BenchNote) }</label>
                <select id="note-what">
                    <option key="" value="" selected={true}>{ words.get(Word::BenchNoteChoose) }</option>
                    { for Observation::ALL.iter().map(|seen| html! {
                        <option key={seen.code()} value={seen.code()}>{ words.act(Act::Note(*seen), scenario) }</option>
                    }) }
                </select>
                <button type="button" id="note" onkeydown={no_repeat} onclick={note}>{ words.get(Word::BenchNoteButton) }</button>
            </div>
            <div class="pair">
                <label for="wait-how-long">{ words.get(Word::BenchWait) }</label>
                <select id="wait-how-long">
                    { for WAITS.iter().map(|seconds| html! {
                        <option key={*seconds} value={seconds.to_string()} selected={*seconds == WAITS[0]}>{ Ms::secs(*seconds).to_string() }</option>
                    }) }
                </select>
                <button type="button" id="wait" onkeydown={no_repeat} onclick={wait}>{ words.get(Word::BenchWaitButton) }</button>
            </div>
        </>
    }
}
