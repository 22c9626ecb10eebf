//! The clocks that matter, and the controls of time.

use crate::{
    edge::page::chosen,
    parts::options::options,
    session::{Action, Halt, Session},
    words::{Word, Words, clock},
};
use bittersweet_core::{run::Run, units::Ms, wire::run_v1::Pace};
use yew::prelude::*;

/// Run time, exercise time, time with the facepiece on.
pub(crate) fn timers(words: &Words, run: &Run) -> Html {
    let (state, now) = (run.state(), run.now());
    let exercise = state.test().and_then(|test| test.going_on()).copied();
    let mask = state.worn().map(|donning| donning.at);
    let timer = |name: AttrValue, time: Ms| {
        html! {
            <div class="clock" key={name.to_string()}>
                <span class="name">{ name.clone() }</span>
                <span role="timer" aria-label={name}>{ clock(time) }</span>
            </div>
        }
    };
    html! {
        <div class="clocks">
            { timer(words.get(Word::ClockRun), now) }
            { for exercise.map(|done| {
                let name = words.of(&format!("exercise.{}.name", done.exercise.code()));
                timer(name, now.since(done.from))
            }) }
            { for mask.map(|at| timer(words.get(Word::ClockMask), now.since(at))) }
        </div>
    }
}

/// The timers, pause and pace. Wall time is added by whoever sends the action on.
pub(crate) fn clocks(
    words: &Words,
    session: &Session,
    on_action: &Callback<fn(u64) -> Action>,
    on_pace: &Callback<Pace>,
) -> Html {
    let halted = session.halt.is_some();
    let act = if halted { Action::Go as fn(u64) -> Action } else { Action::Halt };
    let onclick = on_action.reform(move |_: MouseEvent| act);
    let onchange = on_pace.reform(|event: Event| Pace::from_code(&chosen(&event)).unwrap_or(Pace::Real));
    html! {
        <div class="time">
            { timers(words, &session.run) }
            // In an assessment its pace was chosen beforehand, and time cannot be stopped.
            if !session.is_finished() && session.set.is_none() {
                <div class="pace">
                    <label>
                        { words.get(Word::ClockPace) }
                        <select {onchange}>
                            { options(Pace::ALL.iter().map(|pace| (pace.code(), words.of(&format!("pace.{}", pace.code())))), session.pace().code()) }
                        </select>
                    </label>
                    if session.pace() != Pace::Stepped {
                        <button type="button" {onclick}>
                            { words.get(if halted { Word::ClockGo } else { Word::ClockHalt }) }
                        </button>
                    }
                </div>
            }
            // An `if` keeps its place when it is empty; with one child more or fewer, the button that has the focus would be
            // made anew and lose it.
            if let Some(halt) = session.halt {
                <p class="notice">{ words.get(match halt {
                    Halt::Paused => Word::ClockHaltPaused,
                    Halt::Away => Word::ClockHaltAway,
                    Halt::Resumed => Word::ClockHaltResumed,
                }) }</p>
            }
        </div>
    }
}
