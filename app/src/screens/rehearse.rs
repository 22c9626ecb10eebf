//! A run: the person, the bench, the logbook.

use crate::{
    edge::{clock, page},
    hooks::{use_fade, use_keep, use_shortcut, use_ticker, use_voice},
    parts::{
        bench::{Bench, at_hand_id as at_hand, button_id, phase_of},
        clocks::clocks,
        guide::{Next, Ways, guided, on_request},
        live::Live,
        logbook::Logbook,
        named::named,
        passage::passage,
        picture::{heard, picture, picture_in_words},
        rescue::in_memory,
        sample::card,
    },
    screen::Screen,
    screens::desk::AtDesk,
    session::{Action, Desk, DeskAction, Session},
    shell::{Around, Keeping},
    words::Word,
};
use bittersweet_core::{
    act::{Act, Phase},
    sample::samples,
    wire::run_v1::{Help, Pace},
};
use std::rc::Rc;
use yew::prelude::*;

/// How often time is looked at, in milliseconds.
const BEAT_MS: u32 = 100;

/// Properties of [`Room`].
#[derive(Properties)]
pub(crate) struct RoomProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The run.
    pub(crate) session: Rc<Session>,
    /// What happens to it.
    pub(crate) dispatch: UseReducerDispatcher<Desk>,
}

impl PartialEq for RoomProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.session, &other.session)
            && self.around.keeper == other.around.keeper
            && self.around.words == other.around.words
    }
}

/// The room of the run on the desk.
pub(crate) fn room(around: &Around, AtDesk { session, dispatch, .. }: AtDesk) -> Html {
    html! { <Room around={around.clone()} {session} {dispatch} /> }
}

/// The room in which the run goes on.
#[component]
pub(crate) fn Room(props: &RoomProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let session = Rc::clone(&props.session);
    let phase = use_state(|| Phase::Who);
    let shortcut = use_state(|| true);
    let to_focus = use_state(|| None::<AttrValue>);

    let dispatcher = props.dispatch.clone();
    let on_lost = use_callback((), {
        let dispatcher = dispatcher.clone();
        move |(), ()| dispatcher.dispatch(DeskAction::Clear)
    });
    use_keep(&session, &keeper, on_lost);
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
    let to_the_guide = use_callback((), |(), ()| page::focus("guide-act"));
    use_shortcut(*shortcut && !session.is_finished(), "n", to_the_guide);
    let fade = use_fade(&session, &keeper);
    let voice = use_voice(&keeper, heard(&words, &session.run));
    let ask = use_callback(on_action.clone(), |(), on_action| on_action.emit(Action::Ask));
    let may_ask = session.conditions.help == Help::OnRequest && !session.is_finished();
    use_shortcut(*shortcut && may_ask, "h", ask.clone());
    // The act shown after all, until the next one.
    let revealed = use_state(|| None::<usize>);
    let acts = session.run.log().len();
    let next = Next::of(&session, &fade, *revealed == Some(acts));

    // The guide opens the phase first; once its buttons are there, the focus goes to the one meant.
    let on_show = {
        let (phase, to_focus, scenario) = (phase.clone(), to_focus.clone(), Rc::clone(session.scenario()));
        Callback::from(move |act: Act| {
            let there = phase_of(act, *phase, &scenario);
            phase.set(there);
            let id = at_hand(act).map_or_else(|| button_id(act), str::to_owned);
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

    // With the last act the bench goes, and the button that had the focus.
    use_effect_with(session.is_finished(), |over| {
        if *over {
            page::focus("to-review");
        }
    });

    let ways = Ways {
        on_show: &on_show,
        on_act: &on_act,
        on_ask: ask.reform(|_| ()),
        on_reveal: Callback::from({
            let revealed = revealed.clone();
            move |_| revealed.set(Some(acts))
        }),
    };
    let live = Live(Rc::clone(&session));
    let toggle = {
        let shortcut = shortcut.clone();
        move |_: Event| shortcut.set(!*shortcut)
    };
    html! {
        <div class="room" data-agent={session.scenario().agent.code()}>
            <header class="room-head">
                { named(&words, session.scenario()) }
                { clocks(&words, &session, &on_action, &on_pace) }
            </header>
            if session.set.is_some() {
                <p class="soft" id="of-assessment">{ words.get(Word::AssessOneRun) }</p>
            }
            if matches!(keeper.keeping, Keeping::Memory) {
                { in_memory(&words, &session) }
            }
            <div class="desk">
                <div class="seen">
                    { picture(&words, &session.run, session.refused, None) }
                    { passage(&words, &session) }
                    { picture_in_words(&words, &session.run) }
                </div>
                if session.is_finished() {
                    <section class="over" aria-labelledby="over-title">
                        <h2 id="over-title">{ words.get(Word::RunOver) }</h2>
                        <p>{ match &session.set {
                            None => html! { <a class="way main" id="to-review" href={Screen::Review(session.id.clone()).link()}>{ words.get(Word::RunToReview) }</a> },
                            Some(set) => html! { <a class="way main" id="to-review" href={Screen::Sitting(set.to_string()).link()}>{ words.get(Word::AssessBack) }</a> },
                        } }</p>
                        { for samples(session.scenario(), session.log()).iter().map(|sample| {
                            card(&words, session.scenario(), sample, &clock::date(clock::day(&session.started)))
                        }) }
                    </section>
                } else {
                    <div class="beside">
                        { for next.map(|next| guided(&words, &session, &fade, next, &ways)) }
                        if session.conditions.help == Help::OnRequest {
                            { on_request(&words, &session, &ways) }
                        }
                    </div>
                    <Bench words={words.clone()} live={live.clone()} next={next.and_then(Next::shown)} phase={*phase} {on_phase} {on_act} />
                }
                <Logbook words={words.clone()} {live} />
            </div>
            if !session.is_finished() {
                <label class="setting">
                    <input type="checkbox" id="shortcut" checked={*shortcut} onchange={toggle} />
                    { words.get(shortcuts(session.conditions.help)) }
                </label>
            }
            { for voice.map(|voice| html! {
                <label class="setting">
                    <input type="checkbox" id="aloud" checked={voice.is_on} onchange={move |_: Event| voice.toggle.emit(())} />
                    { words.get(Word::RunAloud) }
                </label>
            }) }
        </div>
    }
}

/// What the keys do, by the help there is: an assessment has none.
const fn shortcuts(help: Help) -> Word {
    match help {
        Help::Guided => Word::RunShortcutN,
        Help::OnRequest => Word::RunShortcutH,
        Help::Unaided => Word::RunShortcutS,
    }
}
