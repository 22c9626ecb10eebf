//! A run: the person, the bench, the logbook.

use crate::{
    edge::{clock, page},
    hooks::{use_keep, use_shortcut, use_ticker},
    parts::{
        bench::{Bench, button_id, phase_of},
        clocks::clocks,
        guide::guide,
        live::Live,
        logbook::Logbook,
        picture::{picture, picture_in_words},
    },
    screen::Screen,
    screens::home::bring_back,
    session::{Action, DeskAction, Session},
    shell::{DeskHandle, Keeper, Keeping},
    words::{Word, Words},
};
use bittersweet_core::{
    act::{Act, Phase},
    wire::{Faults, run_v1::{Help, Pace}},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// How often time is looked at, in milliseconds.
const BEAT_MS: u32 = 100;

/// Properties of [`Rehearse`].
#[derive(Properties, PartialEq)]
pub(crate) struct RehearseProps {
    /// The id of the run.
    pub(crate) id: AttrValue,
}

/// Where a run is that is not on the desk.
#[derive(Clone, PartialEq)]
enum Search {
    Looking,
    NotHere,
    Damaged(Faults),
}

/// The screen: fetches the run to the desk if it is not there.
#[component]
pub(crate) fn Rehearse(props: &RehearseProps) -> Html {
    let desk = use_context::<DeskHandle>().expect("the shell provides the desk");
    html! {
        <Fetched id={props.id.clone()}>
            { for desk.session.clone().filter(|session| session.id == *props.id).map(|session| html! { <Room {session} /> }) }
        </Fetched>
    }
}

/// Properties of [`Fetched`].
#[derive(Properties, PartialEq)]
pub(crate) struct FetchedProps {
    /// The id of the run.
    pub(crate) id: AttrValue,
    /// What is shown once it is on the desk.
    pub(crate) children: Html,
}

/// Brings a run to the desk, and says so where it cannot be found or read.
#[component]
pub(crate) fn Fetched(props: &FetchedProps) -> Html {
    let words = use_context::<Words>().expect("the shell provides the words");
    let desk = use_context::<DeskHandle>().expect("the shell provides the desk");
    let keeper = use_context::<Keeper>().expect("the shell provides the keeper");
    let search = use_state(|| Search::Looking);
    let is_here = desk.session.as_ref().is_some_and(|session| session.id == *props.id);

    use_effect_with((props.id.clone(), is_here, std::mem::discriminant(&*keeper.keeping)), {
        let (desk, keeper, search) = (desk, keeper.clone(), search.clone());
        move |(id, is_here, _)| {
            if *is_here || matches!(*keeper.keeping, Keeping::Opening) {
                return;
            }
            let id = id.clone();
            spawn_local(async move {
                match bring_back(&keeper, &id).await {
                    Ok(Some(session)) => desk.dispatch(DeskAction::Lay(Box::new(session))),
                    Ok(None) => search.set(Search::NotHere),
                    Err(faults) => search.set(Search::Damaged(faults)),
                }
            });
        }
    });

    if is_here {
        return props.children.clone();
    }
    let said = match &*search {
        Search::Looking => words.get(Word::RunLooking),
        Search::NotHere => words.get(Word::RunNotHere),
        Search::Damaged(faults) => words.fill(Word::RunDamaged, &[("faults", &faults.to_string())]),
    };
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::RunTitle) }</h1>
            <p role="status">{ said }</p>
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

#[derive(Properties)]
struct RoomProps {
    session: Rc<Session>,
}

impl PartialEq for RoomProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.session, &other.session)
    }
}

/// The room in which the run goes on.
#[component]
fn Room(props: &RoomProps) -> Html {
    let words = use_context::<Words>().expect("the shell provides the words");
    let desk = use_context::<DeskHandle>().expect("the shell provides the desk");
    let keeper = use_context::<Keeper>().expect("the shell provides the keeper");
    let session = Rc::clone(&props.session);
    let phase = use_state(|| Phase::Who);
    let shortcut = use_state(|| true);
    let to_focus = use_state(|| None::<AttrValue>);

    use_keep(&session, &keeper);
    let dispatcher = desk.dispatcher();
    let runs = !session.is_finished() && session.halt.is_none() && session.pace() != Pace::Stepped;
    let beat = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |(), ()| dispatcher.dispatch(DeskAction::Session(Action::Tick(clock::now_ms())))
    });
    use_ticker(runs, BEAT_MS, beat);

    let on_act = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |act: Act, ()| dispatcher.dispatch(DeskAction::Session(Action::Do(act, clock::now_ms())))
    });
    let on_action = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |action: fn(u64) -> Action, ()| dispatcher.dispatch(DeskAction::Session(action(clock::now_ms())))
    });
    let on_pace = use_callback((), move |pace: Pace, ()| {
        dispatcher.dispatch(DeskAction::Session(Action::SetPace(pace, clock::now_ms())));
    });
    let on_phase = use_callback(phase.setter(), |opened: Phase, phase| phase.set(opened));
    let squeeze = use_callback(on_act.clone(), |(), on_act| on_act.emit(Act::Squeeze));
    use_shortcut(*shortcut && !session.is_finished(), "s", squeeze);

    // The guide opens the phase first; once its buttons are there, the focus goes to the one meant.
    let on_show = {
        let (phase, to_focus, scenario) = (phase.clone(), to_focus.clone(), Rc::clone(session.scenario()));
        Callback::from(move |act: Act| {
            let there = phase_of(act, *phase, &scenario);
            phase.set(there);
            let id = match act {
                Act::Squeeze => "squeeze".to_owned(),
                Act::Stop => "stop".to_owned(),
                Act::Record(_) => "record".to_owned(),
                act => button_id(act),
            };
            to_focus.set(Some(id.into()));
        })
    };
    use_effect_with((*to_focus).clone(), {
        let to_focus = to_focus.clone();
        move |id| {
            if let Some(id) = id {
                page::focus(id);
                to_focus.set(None);
            }
        }
    });

    let live = Live(Rc::clone(&session));
    let title = words.scenario_title(session.scenario());
    let toggle = {
        let shortcut = shortcut.clone();
        move |_: Event| shortcut.set(!*shortcut)
    };
    html! {
        <div class="room" data-agent={session.scenario().agent.code()}>
            <header class="room-head">
                <h1 id="heading" tabindex="-1">{ title }</h1>
                { clocks(&words, &session, &on_action, &on_pace) }
            </header>
            if matches!(*keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::KeepMemory) }</p>
            }
            <div class="desk">
                { picture(&words, &session) }
                if session.is_finished() {
                    <section class="over" aria-labelledby="over-title">
                        <h2 id="over-title">{ words.get(Word::RunOver) }</h2>
                        <p><a class="way" id="to-review" href={Screen::Review(session.id.clone()).link()}>{ words.get(Word::RunToReview) }</a></p>
                    </section>
                } else {
                    if session.conditions.help == Help::Guided {
                        { guide(&words, &session, &on_show, &on_act) }
                    }
                    <Bench live={live.clone()} phase={*phase} {on_phase} {on_act} />
                }
                <Logbook {live} />
            </div>
            { picture_in_words(&words, &session) }
            <label class="setting">
                <input type="checkbox" id="shortcut" checked={*shortcut} onchange={toggle} />
                { words.get(Word::RunShortcut) }
            </label>
        </div>
    }
}
