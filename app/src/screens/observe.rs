//! A colleague's run, watched: the person, what is done, and the marks made beside it.

use crate::{
    edge::{clock, page},
    hooks::{use_keep_marks, use_shortcut, use_ticker},
    parts::{
        bench::no_repeat,
        clocks::timers,
        logbook::{lines, logbook},
        named::named,
        options::options,
        picture::{picture, picture_in_words},
    },
    screen::Screen,
    session::Halt,
    shell::{Around, Keeping},
    watching::{Action, Lookout, LookoutAction, PACES, Watching},
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{log::What, observe::Slip, source::Skill, units::Ms, wire::run_v1::Pace};
use std::rc::Rc;
use yew::prelude::*;

/// How often time is looked at, in milliseconds.
const BEAT_MS: u32 = 100;

/// Properties of [`Watch`].
#[derive(Properties)]
pub(crate) struct WatchProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// What is watched.
    pub(crate) watching: Rc<Watching>,
    /// What happens to it.
    pub(crate) dispatch: UseReducerDispatcher<Lookout>,
}

impl PartialEq for WatchProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.watching, &other.watching)
            && self.around.keeper == other.around.keeper
            && self.around.words == other.around.words
    }
}

/// The room in which a colleague is at work.
#[component]
pub(crate) fn Watch(props: &WatchProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let watching = Rc::clone(&props.watching);
    let shortcut = use_state(|| true);

    let dispatcher = props.dispatch.clone();
    let on_lost = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |(), ()| dispatcher.dispatch(LookoutAction::Clear)
    });
    use_keep_marks(&watching, &keeper, on_lost);
    let on_action = use_callback((), move |action: Action, ()| dispatcher.dispatch(LookoutAction::Watching(action)));
    let beat = use_callback(on_action.clone(), |(), on_action| on_action.emit(Action::Tick(clock::now_ms())));
    use_ticker(watching.is_running(), BEAT_MS, beat);

    let wrong = use_callback(on_action.clone(), |(), on_action| on_action.emit(Action::Wrong(clock::now_ms())));
    use_shortcut(*shortcut, "w", wrong.clone());
    let step = use_callback(on_action.clone(), |(), on_action| on_action.emit(Action::Step(clock::now_ms())));
    use_shortcut(*shortcut && watching.naming.is_none() && !watching.is_done(), "n", step.clone());

    // What is wrong is named at once, and then watching goes on.
    let before = use_mut_ref(|| None);
    use_effect_with(watching.naming, move |naming| {
        if naming.is_some() {
            page::focus("slip");
        } else if before.replace(*naming).is_some() {
            page::focus("wrong");
        }
        *before.borrow_mut() = *naming;
    });
    // With the last act the controls of time go, and the one that had the focus.
    use_effect_with(watching.is_done(), |done| {
        if *done {
            page::focus("to-compare");
        }
    });

    let run = watching.run();
    let told = use_memo((run.log().len(), words.clone()), |(_, words)| {
        let lines = lines(words, run.scenario(), run.log(), true);
        let done = lines.iter().rfind(|line| matches!(line.what, What::Act(_)));
        let done = done.map(|line| words.fill(Word::ObserveColleague, &[("act", &line.text)]));
        (done, logbook(words, &lines))
    });
    let toggle = {
        let shortcut = shortcut.clone();
        move |_: Event| shortcut.set(!*shortcut)
    };
    html! {
        <div class="room" data-agent={watching.scenario().agent.code()}>
            <header class="room-head">
                { named(&words, watching.scenario()) }
                { time(&words, &watching, &on_action) }
            </header>
            if matches!(keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::ObserveMemory) }</p>
            }
            <div class="desk">
                { picture(&words, run, None, told.0.clone()) }
                { match watching.naming {
                    Some(at) => naming(&words, at, &on_action),
                    None => looking(&words, &watching, &wrong, &step, &on_action),
                } }
                { marked(&words, &watching, &on_action) }
                { told.1.clone() }
            </div>
            { picture_in_words(&words, run) }
            <label class="setting">
                <input type="checkbox" id="shortcut" checked={*shortcut} onchange={toggle} />
                { words.get(Word::ObserveShortcut) }
            </label>
        </div>
    }
}

/// The timers and the pace.
fn time(words: &Words, watching: &Watching, on_action: &Callback<Action>) -> Html {
    let onchange = on_action.reform(|event: Event| {
        Action::SetPace(Pace::from_code(&page::chosen(&event)).unwrap_or(Pace::Real), clock::now_ms())
    });
    html! {
        <div class="time">
            { timers(words, watching.run()) }
            if !watching.is_done() {
                <div class="pace">
                    <label>
                        { words.get(Word::ClockPace) }
                        <select {onchange}>
                            { options(PACES.iter().map(|pace| (pace.code(), words.of(&format!("pace.{}", pace.code())))), watching.pace.code()) }
                        </select>
                    </label>
                </div>
            }
            { match watching.halt.filter(|_| !watching.is_done()) {
                Some(Halt::Away) => html! { <p class="notice">{ words.get(Word::ClockHaltAway) }</p> },
                Some(Halt::Resumed) => html! { <p class="notice">{ words.get(Word::ClockHaltResumed) }</p> },
                // The button says it.
                Some(Halt::Paused) | None => Html::default(),
            } }
        </div>
    }
}

/// While one looks on: say that something is wrong, let it run or stop, or go on.
fn looking(
    words: &Words,
    watching: &Watching,
    wrong: &Callback<()>,
    step: &Callback<()>,
    on_action: &Callback<Action>,
) -> Html {
    let halted = watching.halt.is_some();
    let play = on_action.reform(move |_: MouseEvent| {
        let now = clock::now_ms();
        if halted { Action::Go(now) } else { Action::Halt(now) }
    });
    let wrong = wrong.reform(|_: MouseEvent| ());
    let step = step.reform(|_: MouseEvent| ());
    html! {
        <section class="guide looking" key="looking" aria-labelledby="looking-title">
            <h2 id="looking-title">{ words.get(if watching.is_done() { Word::ObserveOver } else { Word::ObserveLooking }) }</h2>
            <p>{ words.get(if watching.is_done() { Word::ObserveOverHow } else { Word::ObserveHow }) }</p>
            <div class="acts">
                <button type="button" class={(!watching.is_done() && !halted).then_some("squeeze")} id="wrong" aria-keyshortcuts="w" onkeydown={no_repeat} onclick={wrong}>
                    { words.get(Word::ObserveWrong) }
                </button>
                if watching.is_done() {
                    <a class="way main" id="to-compare" href={Screen::Compare(watching.id.clone()).link()}>{ words.get(Word::ObserveCompare) }</a>
                } else {
                    // While nothing moves, to let it go on is what comes next.
                    <button type="button" id="play" class={halted.then_some("main")} onclick={play}>{ words.get(if halted { Word::ObservePlay } else { Word::ClockHalt }) }</button>
                    <button type="button" id="step" aria-keyshortcuts="n" onkeydown={no_repeat} onclick={step}>{ words.get(Word::ObserveStep) }</button>
                }
            </div>
        </section>
    }
}

/// The moment is taken and the clock stands still: what is it?
fn naming(words: &Words, at: Ms, on_action: &Callback<Action>) -> Html {
    let onsubmit = {
        let on_action = on_action.clone();
        move |event: SubmitEvent| {
            event.prevent_default();
            match page::choice("slip").and_then(|code| Slip::from_code(&code)) {
                Some(slip) => on_action.emit(Action::Name(slip, clock::now_ms())),
                None => page::focus("slip"),
            }
        }
    };
    let never_mind = on_action.reform(|_: MouseEvent| Action::NeverMind(clock::now_ms()));
    html! {
        <form class="guide naming" key="naming" aria-labelledby="naming-title" {onsubmit}>
            <h2 id="naming-title">{ words.fill(Word::ObserveNaming, &[("time", &at.to_string())]) }</h2>
            <label for="slip">{ words.get(Word::ObserveWhat) }</label>
            <select id="slip">
                <option key="" value="" selected={true}>{ words.get(Word::BenchNoteChoose) }</option>
                { for Skill::ALL.iter().map(|skill| html! {
                    <optgroup key={skill.code()} label={words.of(&format!("skill.{}", skill.code()))}>
                        { for Slip::ALL.iter().filter(|slip| slip.skill() == *skill).map(|slip| html! {
                            <option key={slip.code()} value={slip.code()}>{ words.slip(*slip) }</option>
                        }) }
                    </optgroup>
                }) }
            </select>
            <div class="acts">
                <button type="submit" id="mark-it" class="main">{ words.get(Word::ObserveMark) }</button>
                <button type="button" id="never-mind" onclick={never_mind}>{ words.get(Word::ObserveNeverMind) }</button>
            </div>
        </form>
    }
}

/// The marks made so far.
fn marked(words: &Words, watching: &Watching, on_action: &Callback<Action>) -> Html {
    html! {
        <section class="bench marks" aria-labelledby="marks-title">
            <h2 id="marks-title" tabindex="-1">{ words.get(Word::ObserveMarks) }</h2>
            if watching.marks.is_empty() {
                <p class="soft">{ words.get(Word::ObserveNoMarks) }</p>
            }
            <ol>
                { for watching.marks.iter().enumerate().map(|(place, mark)| {
                    let name = words.slip(mark.slip);
                    let said = words.get(Word::ObserveTakeBack);
                    let onclick = on_action.reform(move |_: MouseEvent| {
                        // Its button goes, and would take the focus with it.
                        page::focus("marks-title");
                        Action::TakeBack(place)
                    });
                    html! {
                        <li key={place}>
                            <span class="at">{ clock_text(mark.at) }</span>
                            <span>{ name.clone() }</span>
                            <button type="button" aria-label={format!("{said}: {name}")} {onclick}>{ said.clone() }</button>
                        </li>
                    }
                }) }
            </ol>
        </section>
    }
}
