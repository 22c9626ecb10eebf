//! The ways in: begin a run, go on with one, or open a file.

use crate::{
    edge::{
        address, clock,
        file::{self, Unread},
        page,
        store::Kept,
    },
    hooks::append,
    parts::{cautions::cautions, refused::refused},
    screen::Screen,
    session::{DeskAction, Session},
    shell::{Around, Keeping},
    watching::{LookoutAction, Watching},
    words::{Word, Words},
};
use bittersweet_core::{
    rulebook::Agent,
    scenario::Scenario,
    unannounced,
    wire::{
        Code, Faults, MOST_RUN_BYTES,
        ledger_v1::HeaderV1,
        run_v1::{self, Help, Opened, Pace},
        scenario_v1::{self, ScenarioV1},
        watch_v1,
    },
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use web_sys::{File, HtmlInputElement};
use yew::prelude::*;

/// A run kept on this device, as it is listed.
#[derive(Clone, PartialEq)]
struct Listed {
    kept: Kept,
    scenario: Option<Rc<Scenario>>,
    started: AttrValue,
    /// Where it goes on.
    screen: Screen,
}

/// Properties of [`Home`].
#[derive(Properties, PartialEq)]
pub(crate) struct HomeProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// A way in that is an address of its own.
fn way_in(words: &Words, screen: &Screen, id: &'static str, title: Word, text: Word) -> Html {
    html! {
        <li><a class="way wearer" {id} href={screen.link()}><strong>{ words.get(title) }</strong><span>{ words.get(text) }</span></a></li>
    }
}

/// The screen.
#[component]
pub(crate) fn Home(props: &HomeProps) -> Html {
    let Around { words, library, keeper, desk, lookout } = props.around.clone();
    let faults = use_state(|| None::<Faults>);
    let help = use_state(|| Help::Guided);
    let pace = use_state(|| Pace::Real);
    let kept = use_state(Vec::<Listed>::new);

    use_effect_with(std::mem::discriminant(&keeper.keeping), {
        let (keeper, kept) = (keeper.clone(), kept.clone());
        move |_| {
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    let mut list = Vec::new();
                    for one in store.runs().await.unwrap_or_default().into_iter().rev() {
                        let lines = store.lines(&one.id).await.unwrap_or_default();
                        list.push(listed(one, &lines));
                    }
                    kept.set(list);
                });
            }
        }
    });

    let on_desk = desk.session.clone();
    let watched = lookout.watching.clone();
    let watch = Callback::from(move |scenario: Rc<Scenario>| {
        let id = clock::new_id();
        if let Some(watching) = Watching::begin(id.clone(), clock::iso_now(), scenario, clock::now_ms()) {
            lookout.dispatch(LookoutAction::Watch(Box::new(watching)));
            address::go(&Screen::Watch(id).address());
        }
    });
    let begin = {
        let (desk, help, pace) = (desk.clone(), *help, *pace);
        Callback::from(move |scenario: Rc<Scenario>| {
            let id = clock::new_id();
            let session = Session::begin(id.clone(), clock::iso_now(), scenario, help, pace, clock::now_ms());
            desk.dispatch(DeskAction::Lay(Box::new(session)));
            address::go(&Screen::Rehearse(id).address());
        })
    };
    let forget = {
        let (keeper, kept) = (keeper.clone(), kept.clone());
        Callback::from(move |id: String| {
            // Its button goes, and would take the focus with it.
            page::focus("heading");
            kept.set(kept.iter().filter(|one| one.kept.id != id).cloned().collect());
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    // A run that could not be forgotten is listed again next time.
                    let _ = store.forget(&id).await;
                });
            }
        })
    };

    let on_file = {
        let (faults, desk, keeper) = (faults.clone(), desk, keeper.clone());
        Callback::from(move |event: Event| {
            let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
            let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
            let (faults, desk, keeper) = (faults.clone(), desk.clone(), keeper.clone());
            spawn_local(async move {
                let opened = read_run(&chosen).await;
                // The same file can be chosen again after it was mended.
                input.set_value("");
                match opened {
                    Ok(opened) => {
                        let mut session = Session::open(clock::new_id(), clock::iso_now(), opened, clock::now_ms());
                        // All of it is new at once: it is kept before it is shown, so that a reload finds it whole.
                        if let (Some(store), None) = (keeper.store(), &session.recorded) {
                            match append(&store, &session, 0, None).await {
                                Ok(()) => session.kept_before = session.ledger.len(),
                                Err(_) => keeper.failed(),
                            }
                        }
                        let there = way_back(&session).address();
                        desk.dispatch(DeskAction::Lay(Box::new(session)));
                        address::go(&there);
                    }
                    Err(found) => faults.set(Some(found)),
                }
            });
        })
    };
    let on_help = Callback::from({
        let help = help.clone();
        move |code: String| help.set(Help::from_code(&code).unwrap_or(Help::Guided))
    });
    let on_pace = Callback::from({
        let pace = pace.clone();
        move |code: String| pace.set(Pace::from_code(&code).unwrap_or(Pace::Real))
    });

    html! {
        <div class="home">
            <h1 id="heading" tabindex="-1">{ words.get(Word::HomeTitle) }</h1>
            <p class="lead">{ words.get(Word::HomeLead) }</p>
            if matches!(keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::KeepMemory) }</p>
                // What is kept nowhere is not listed: the run on the desk has its way back here.
                if let Some(session) = &on_desk {
                    <p><a class="way" href={way_back(session).link()}>{ words.get(Word::KeptGoOn) }{ ": " }{ words.scenario_title(session.scenario()) }</a></p>
                }
                if let Some(watching) = &watched {
                    <p><a class="way" href={Screen::Watch(watching.id.clone()).link()}>{ words.get(Word::KeptGoOn) }{ ": " }{ watched_title(&words, watching.scenario()) }</a></p>
                }
            }
            if !kept.is_empty() {
                { kept_runs(&words, &kept, &forget) }
            }
            <section aria-labelledby="wearer-title">
                <h2 id="wearer-title">{ words.get(Word::WearerHomeTitle) }</h2>
                <div class="wearers">
                    <ul>{ way_in(&words, &Screen::Wearer, "to-wearer", Word::WearerWay, Word::WearerWayText) }</ul>
                </div>
            </section>
            <section class="begin" aria-labelledby="begin-title">
                <h2 id="begin-title">{ words.get(Word::HomeBegin) }</h2>
                <div class="choices">
                    { choice(&words, Word::HomeHelp, "help", &Help::ALL.iter().map(|help| help.code()).collect::<Vec<_>>(), help.code(), on_help) }
                    { choice(&words, Word::HomePace, "pace", &Pace::ALL.iter().map(|pace| pace.code()).collect::<Vec<_>>(), pace.code(), on_pace) }
                </div>
                { for Agent::ALL.iter().copied().map(|agent| html! {
                    <section key={agent.code()} class="wearers" data-agent={agent.code()} aria-labelledby={format!("agent-{}", agent.code())}>
                        <h3 id={format!("agent-{}", agent.code())}>{ words.of(&format!("agent.{}.name", agent.code())) }</h3>
                        <ul>
                            { unannounced(&words, agent, &begin) }
                            { for library.0.iter().filter(|scenario| scenario.agent == agent && scenario.colleague.is_none()).map(|scenario| {
                                offered(&words, format!("begin-{}", scenario.id), scenario, &begin)
                            }) }
                        </ul>
                    </section>
                }) }
                <p class="soft">{ words.get(Word::HomeInvented) }</p>
            </section>
            <section class="practise" aria-labelledby="practise-title">
                <h2 id="practise-title">{ words.get(Word::HomePractise) }</h2>
                <div class="wearers">
                    <ul>
                        { way_in(&words, &Screen::Drills, "to-drills", Word::HomeDrill, Word::HomeDrillText) }
                        { way_in(&words, &Screen::Questions, "to-questions", Word::HomeQuestions, Word::HomeQuestionsText) }
                    </ul>
                </div>
            </section>
            <section class="watch" aria-labelledby="watch-title">
                <h2 id="watch-title">{ words.get(Word::ObserveTitle) }</h2>
                <p>{ words.get(Word::ObserveLead) }</p>
                <div class="wearers">
                    <ul>
                        { for library.0.iter().filter(|scenario| scenario.colleague.is_some()).map(|scenario| {
                            offered(&words, scenario.id.clone(), scenario, &watch)
                        }) }
                    </ul>
                </div>
            </section>
            { open_file(&words, &faults, on_file) }
            <section aria-labelledby="before-title" class="before">
                <h2 id="before-title">{ words.get(Word::CautionTitle) }</h2>
                { cautions(&words) }
            </section>
        </div>
    }
}

/// A scenario as it is offered.
fn offered(words: &Words, id: String, scenario: &Rc<Scenario>, on_choice: &Callback<Rc<Scenario>>) -> Html {
    let onclick = {
        let scenario = Rc::clone(scenario);
        on_choice.reform(move |_: MouseEvent| Rc::clone(&scenario))
    };
    html! {
        <li key={scenario.id.clone()}>
            <button type="button" class="wearer" {id} {onclick}>
                <strong>{ words.scenario_title(scenario) }</strong>
                <span>{ words.scenario_about(scenario) }</span>
                if !scenario.practises.is_empty() {
                    <span>{ practises(words, scenario) }</span>
                }
            </button>
        </li>
    }
}

/// How hard a scenario is and which skills it practises: enough to choose by, and nothing of what will come up.
fn practises(words: &Words, scenario: &Scenario) -> AttrValue {
    let skills: Vec<AttrValue> =
        scenario.practises.iter().map(|skill| words.of(&format!("skill.{}", skill.code()))).collect();
    let level = scenario.level.to_string();
    words.fill(Word::HomeLevel, &[("level", &level), ("skills", &skills.join(" · ").to_lowercase())])
}

/// Somebody drawn when the button is pressed.
fn unannounced(words: &Words, agent: Agent, begin: &Callback<Rc<Scenario>>) -> Html {
    let onclick = begin.reform(move |_: MouseEvent| Rc::new(unannounced::draw_up(agent, clock::new_seed())));
    html! {
        <li>
            <button type="button" class="wearer drawn" id={format!("begin-unannounced-{}", agent.code())} {onclick}>
                <strong>{ words.get(Word::HomeUnannounced) }</strong>
                <span>{ words.get(Word::HomeUnannouncedText) }</span>
            </button>
        </li>
    }
}

/// What a watched run is called in a list.
fn watched_title(words: &Words, scenario: &Scenario) -> AttrValue {
    words.fill(Word::ObserveWatched, &[("wearer", &words.scenario_title(scenario))])
}

/// Where a run on the desk goes on.
fn way_back(session: &Session) -> Screen {
    let id = session.id.clone();
    if session.is_finished() || session.recorded.is_some() { Screen::Review(id) } else { Screen::Rehearse(id) }
}

async fn read_run(chosen: &File) -> Result<Opened, Faults> {
    match file::read(chosen, MOST_RUN_BYTES).await {
        Ok(text) => run_v1::parse(&text),
        Err(Unread::TooLarge(bytes)) => Err(Faults::one("", Code::TooLarge, bytes)),
        Err(Unread::Failed) => Err(Faults::one("", Code::NotJson, chosen.name())),
    }
}

fn listed(kept: Kept, lines: &[String]) -> Listed {
    let read = |started: String, scenario: &ScenarioV1| (started, scenario_v1::check(scenario).ok().map(Rc::new));
    let run = serde_json::from_str::<HeaderV1>(&kept.header).ok();
    let watch = serde_json::from_str::<watch_v1::HeaderV1>(&kept.header).ok();
    let id = kept.id.clone();
    let screen = if watch.is_some() {
        Screen::Watch(id)
    } else if lines.last().is_some_and(|line| line.contains("\"finish\"")) {
        Screen::Review(id)
    } else {
        Screen::Rehearse(id)
    };
    let (started, scenario) = run
        .map(|header| read(header.started, &header.scenario))
        .or_else(|| watch.map(|header| read(header.started, &header.scenario)))
        .unwrap_or_default();
    Listed { kept, scenario, started: started.into(), screen }
}

/// Runs kept on this device.
fn kept_runs(words: &Words, list: &[Listed], on_forget: &Callback<String>) -> Html {
    html! {
        <section aria-labelledby="kept-title">
            <h2 id="kept-title">{ words.get(Word::KeptTitle) }</h2>
            <ul class="kept">
                { for list.iter().map(|one| {
                    let id = one.kept.id.clone();
                    let title = match &one.scenario {
                        None => words.get(Word::KeptUnreadable),
                        Some(scenario) if matches!(one.screen, Screen::Watch(_)) => watched_title(words, scenario),
                        Some(scenario) => words.scenario_title(scenario),
                    };
                    let word = if matches!(one.screen, Screen::Review(_)) { Word::KeptReview } else { Word::KeptGoOn };
                    let onclick = on_forget.reform(move |_: MouseEvent| id.clone());
                    html! {
                        <li key={one.kept.id.clone()}>
                            <span><strong>{ title.clone() }</strong>{ " " }<time class="soft" datetime={one.started.clone()}>{ clock::shown(&one.started) }</time></span>
                            <a class="way" href={one.screen.link()} aria-label={format!("{}: {title}", words.get(word))}>{ words.get(word) }</a>
                            <button type="button" aria-label={format!("{}: {title}", words.get(Word::KeptForget))} {onclick}>{ words.get(Word::KeptForget) }</button>
                        </li>
                    }
                }) }
            </ul>
        </section>
    }
}

/// One of several, each by its words: `codes` and the one chosen, under a family of keys.
fn choice(
    words: &Words,
    name: Word,
    family: &'static str,
    codes: &[&'static str],
    chosen: &str,
    on_choice: Callback<String>,
) -> Html {
    let onchange = on_choice.reform(|event: Event| page::chosen(&event));
    html! {
        <label>
            { words.get(name) }
            <select id={format!("choose-{family}")} {onchange}>
                { for codes.iter().map(|code| html! {
                    <option key={*code} value={*code} selected={*code == chosen}>{ words.of(&format!("{family}.{code}")) }</option>
                }) }
            </select>
        </label>
    }
}

/// Opens a run file, and says what is wrong with one that cannot be opened.
fn open_file(words: &Words, faults: &Option<Faults>, onchange: Callback<Event>) -> Html {
    html! {
        <section aria-labelledby="open-title">
            <h2 id="open-title">{ words.get(Word::OpenTitle) }</h2>
            <label class="file">
                { words.get(Word::OpenLabel) }
                <input type="file" id="open-file" accept=".json,application/json" {onchange} />
            </label>
            { refused(words, faults) }
        </section>
    }
}
