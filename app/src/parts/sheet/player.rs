//! The timeline with a slider on it: the wearer as they stood at any moment of the run, by hand or played.

use crate::{
    hooks::use_ticker,
    parts::{
        logbook::Line,
        options::options,
        picture::describe,
        scene::SceneView,
        timeline::{Lanes, Table, Timeline, Window, place},
    },
    session::Session,
    words::{Word, Words, clock},
};
use bittersweet_core::{scene::Scene, units::Ms};
use std::{iter, rc::Rc};
use web_sys::{HtmlInputElement, HtmlSelectElement};
use yew::prelude::*;

/// How often the picture moves on while it plays, in milliseconds.
const BEAT_MS: u32 = 50;

/// How many times as fast as life it can play.
const SPEEDS: [u32; 5] = [1, 4, 10, 30, 60];

/// A moment to go to; the number tells one wish from the next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Jump {
    /// Where to.
    pub(crate) to: Ms,
    /// Which wish it is.
    pub(crate) wish: u32,
}

/// Properties of [`Player`].
#[derive(Properties)]
pub(crate) struct PlayerProps {
    /// The words.
    pub(crate) words: Words,
    /// The run.
    pub(crate) session: Rc<Session>,
    /// Its timeline.
    pub(crate) timeline: Rc<Timeline>,
    /// Its logbook.
    pub(crate) lines: Rc<Vec<Line>>,
    /// Where it was wished to go.
    pub(crate) jump: Jump,
    /// Goes on anew from a moment; none where the run cannot be replayed.
    pub(crate) again: Option<Callback<Ms>>,
}

impl PartialEq for PlayerProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.timeline, &other.timeline) && self.jump == other.jump && self.words == other.words
    }
}

/// The timeline and what it shows.
#[component]
pub(crate) fn Player(props: &PlayerProps) -> Html {
    let PlayerProps { words, session, timeline, lines, jump, again } = props;
    // Where it turned or, where that was in no attempt or nowhere, the attempt that matters most.
    let part = use_state(|| timeline.part_at(jump.to).filter(|_| jump.to > Ms::ZERO).or_else(|| timeline.chief()));
    let at = use_state(|| jump.to);
    let playing = use_state(|| false);
    let speed = use_state(|| 4_u32);

    use_effect_with(*jump, {
        let (part, at, playing, timeline) = (part.clone(), at.clone(), playing.clone(), Rc::clone(timeline));
        move |jump| {
            if jump.wish > 0 {
                playing.set(false);
                at.set(jump.to);
                part.set(timeline.part_at(jump.to));
            }
        }
    });
    let window =
        use_memo((Rc::as_ptr(timeline), *part), |(_, part)| Window { timeline: Rc::clone(timeline), part: *part });
    let (from, to) = window.span();
    let beat = {
        let (at, playing, speed) = (at.clone(), playing.clone(), *speed);
        Callback::from(move |()| {
            let next = at.plus(Ms(BEAT_MS * speed)).min(to);
            at.set(next);
            if next == to {
                playing.set(false);
            }
        })
    };
    use_ticker(*playing, BEAT_MS, beat);

    let moment = (*at).max(from).min(to);
    let last = lines.partition_point(|line| line.at <= moment).checked_sub(1).and_then(|last| lines.get(last));
    let can_replay = again.is_some();
    let scene = can_replay.then(|| Rc::new(Scene::of(&session.run.until(moment))));

    let on_slide = {
        let (at, playing) = (at.clone(), playing.clone());
        move |event: InputEvent| {
            let value = event.target_dyn_into::<HtmlInputElement>().and_then(|input| input.value().parse().ok());
            if let Some(value) = value {
                playing.set(false);
                at.set(Ms(value));
            }
        }
    };
    let on_part = {
        let (part, at, playing, timeline) = (part.clone(), at.clone(), playing.clone(), Rc::clone(timeline));
        move |event: Event| {
            let Some(chosen) = event.target_dyn_into::<HtmlSelectElement>() else { return };
            let chosen = chosen.value().parse().ok();
            let start = chosen.and_then(|chosen: usize| timeline.parts.get(chosen)).map(|part| part.stretch.from);
            playing.set(false);
            at.set(start.unwrap_or(Ms::ZERO));
            part.set(chosen);
        }
    };
    let on_play = {
        let (at, playing) = (at.clone(), playing.clone());
        move |_: MouseEvent| {
            // At its end it begins again.
            if !*playing && moment >= to {
                at.set(from);
            }
            playing.set(!*playing);
        }
    };
    let on_speed = {
        let speed = speed.clone();
        move |event: Event| {
            let chosen = event.target_dyn_into::<HtmlSelectElement>().and_then(|select| select.value().parse().ok());
            if let Some(chosen) = chosen {
                speed.set(chosen);
            }
        }
    };
    let told = words.fill(Word::PlayerAt, &[("time", &clock(moment)), ("end", &clock(to))]);
    let last_said = last.map(|line| format!("{} {}", clock(line.at), line.text));
    let value_text = format!("{told}. {}", last_said.clone().unwrap_or_default());
    let mark = format!("{:.3}%", place(&window, moment));
    html! {
        <section aria-labelledby="timeline-title" class="player">
            <h2 id="timeline-title" tabindex="-1">{ words.get(Word::TimelineTitle) }</h2>
            <p>{ words.get(if can_replay { Word::TimelineLead } else { Word::TimelineOld }) }</p>
            <p class="choices">
                <label>
                    { words.get(Word::TimelinePart) }
                    <select id="timeline-part" onchange={on_part}>
                        { options(
                            iter::once((String::new(), words.get(Word::TimelineWhole)))
                                .chain(timeline.parts.iter().enumerate().map(|(number, one)| (number.to_string(), words.about(one.stretch.about)))),
                            &part.map(|number| number.to_string()).unwrap_or_default(),
                        ) }
                    </select>
                </label>
            </p>
            <div class="track">
                <Lanes words={words.clone()} window={(*window).clone()} />
                <svg class="now" aria-hidden="true" width="100%" height="100%"><line x1={mark.clone()} x2={mark} y1="0" y2="100%" /></svg>
            </div>
            <input
                type="range" id="moment" class="moment" min={from.0.to_string()} max={to.0.to_string()} step="1000"
                value={moment.0.to_string()} oninput={on_slide}
                aria-label={words.get(Word::PlayerSlider)} aria-valuetext={value_text}
            />
            <p class="key">
                <span class="as-run">{ words.get(Word::TimelineKeyRun) }</span>
                <span class="as-book">{ words.get(Word::TimelineKeyBook) }</span>
                <span class="as-tick">{ words.get(Word::TimelineKeyTick) }</span>
                <span class="as-taste">{ words.get(Word::TimelineKeyTaste) }</span>
            </p>
            <div class="then">
                { for scene.map(|scene| {
                    let label = AttrValue::from(describe(words, &scene));
                    html! { <figure class="then-scene"><SceneView {scene} {label} /></figure> }
                }) }
                <div class="then-says">
                    <p class="at">{ told }</p>
                    <p class="soft">{ words.get(Word::PlayerLast) }</p>
                    <p class="last">{ last_said.unwrap_or_else(|| words.get(Word::LogEmpty).to_string()) }</p>
                    if can_replay {
                        <p class="ways">
                            <button type="button" id="play" aria-pressed={playing.to_string()} onclick={on_play}>
                                { words.get(if *playing { Word::PlayerPause } else { Word::PlayerPlay }) }
                            </button>
                            <label>
                                { words.get(Word::PlayerSpeed) }
                                <select id="play-speed" onchange={on_speed}>
                                    { options(SPEEDS.iter().map(|one| (one.to_string(), words.fill(Word::PlayerSpeedOf, &[("times", &one.to_string())]))), &speed.to_string()) }
                                </select>
                            </label>
                        </p>
                    }
                    { for again.clone().map(|again| html! {
                        <>
                            <p><button type="button" id="again-from" onclick={move |_: MouseEvent| again.emit(moment)}>{ words.fill(Word::PlayerFrom, &[("time", &clock(moment))]) }</button></p>
                            <p class="soft">{ words.get(Word::PlayerFromSays) }</p>
                        </>
                    }) }
                </div>
            </div>
            <Table words={words.clone()} scenario={Rc::clone(session.scenario())} window={(*window).clone()} />
            // A run that was only recorded is drawn without levels.
            if session.recorded.is_none() {
                <p class="soft">{ words.get(Word::TimelineModel) }</p>
            }
        </section>
    }
}
