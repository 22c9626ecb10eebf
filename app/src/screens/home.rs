//! The ways in: begin a run, go on with one, or open a file. What they lead to stands in other modules: here is only what
//! there is to choose from.

use crate::{
    begin::{Begin, Which},
    edge::{address, clock, left, page, site, store::Kept},
    hooks::{acquire, use_answers},
    parts::{cautions::cautions, open_file::open_file, options::options, way_in::way_in},
    screen::Screen,
    shell::{Around, Keeping},
    words::{Word, Words},
};
use bittersweet_core::{
    refresh,
    rulebook::Agent,
    wire::{
        listed_v1::{KeptV1, ListedV1},
        run_v1::{Help, Pace},
    },
};
use serde::Deserialize;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// A run kept on this device, as it is listed.
#[derive(Clone, PartialEq)]
struct Listed {
    id: String,
    kept: Option<Rc<KeptV1>>,
    /// Where it goes on.
    screen: Screen,
}

/// What another screen left, as far as it is listed.
#[derive(Deserialize)]
struct Left {
    id: String,
    header: String,
    #[serde(default)]
    ended: bool,
}

/// How far forgetting a run has come.
#[derive(Clone, Default, PartialEq)]
enum Forgetting {
    #[default]
    Nothing,
    /// Asked for once: it is done when it is asked for again.
    Asked(String),
    /// Not done, since another window has the run open.
    Held,
}

/// What is offered, as far as it is there.
#[derive(Clone, PartialEq)]
enum Offered {
    Fetching,
    Ready(Rc<[ListedV1]>),
    Failed,
}

/// Properties of [`Home`].
#[derive(Properties, PartialEq)]
pub(crate) struct HomeProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// Levels that a scenario can have.
const LEVELS: u8 = 3;

/// So many runs are listed at first, and so many more each time.
const LISTED: usize = 5;

/// The main ways in, and how much is to be refreshed.
fn ways_in(words: &Words, due: usize) -> Html {
    html! {
        <nav class="ways-in wearers" aria-label={words.get(Word::HomeWays)}>
            <ul>
                <li><button type="button" class="wearer" id="to-begin" onclick={|_: MouseEvent| page::focus("begin-title")}>
                    <strong>{ words.get(Word::HomeRun) }</strong><span>{ words.get(Word::HomeRunText) }</span>
                </button></li>
                { way_in(words, &Screen::Wearer, "to-wearer", Word::WearerWay, Word::WearerWayText) }
                <li><a class="way wearer" id="to-refresh" href={Screen::Refresh.link()}>
                    <strong>{ words.get(Word::HomeRefresh) }</strong><span>{ words.get(Word::HomeRefreshText) }</span>
                    if due > 0 {
                        <span class="due">{ words.fill(Word::HomeDue, &[("number", &due.to_string())]) }</span>
                    }
                </a></li>
                { way_in(words, &Screen::Assess, "to-assessment", Word::HomeAssess, Word::HomeAssessText) }
                { way_in(words, &Screen::Teach, "to-teach", Word::HomeTeach, Word::HomeTeachText) }
            </ul>
        </nav>
    }
}

/// The screen.
#[component]
pub(crate) fn Home(props: &HomeProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let offered = use_state(|| site::at_once(fetch()).map_or(Offered::Fetching, Offered::Ready));
    let help = use_state(|| Help::Guided);
    let pace = use_state(|| Pace::Real);
    let kept = use_state(Vec::<Listed>::new);
    let forgetting = use_state(Forgetting::default);
    // How many runs are listed, and how many there are.
    let (listed_at_most, all_kept) = (use_state(|| LISTED), use_state(|| 0));
    let (answers, _) = use_answers(&keeper);
    let due = use_memo(answers.as_ref().map(|answers| answers.len()), |_| {
        let cards = answers.as_deref().map(|answers| refresh::cards(answers)).unwrap_or_default();
        let sitting = refresh::sitting(&cards, clock::today());
        sitting.cards.len() + sitting.left
    });

    use_effect_with((), {
        let offered = offered.clone();
        move |()| {
            if *offered == Offered::Fetching {
                spawn_local(async move {
                    offered.set(match fetch().await {
                        Ok(list) => Offered::Ready(list),
                        Err(error) => {
                            site::incomplete(&error);
                            Offered::Failed
                        }
                    });
                });
            }
        }
    });
    use_effect_with((std::mem::discriminant(&keeper.keeping), *listed_at_most), {
        let (keeper, kept, all_kept) = (keeper.clone(), kept.clone(), all_kept.clone());
        move |(_, most)| {
            let most = *most;
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    let mut list = Vec::new();
                    let (latest, all) = store.latest_runs(most).await.unwrap_or_default();
                    for one in latest {
                        let lines = store.lines(&one.id).await.unwrap_or_default();
                        let ended = lines.last().is_some_and(|line| line.contains("\"finish\""));
                        let Kept { id, header } = one;
                        list.push(listed(id, &header, ended));
                    }
                    kept.set(list);
                    all_kept.set(all);
                });
            }
        }
    });

    let begin = {
        let how = (help.code().to_owned(), pace.code().to_owned());
        Callback::from(move |(which, there): (Which, fn(String) -> Screen)| {
            let id = clock::new_id();
            Begin { id: id.clone(), which, how: how.clone() }.leave();
            address::go(&there(id).address());
        })
    };
    let forget = {
        let (keeper, kept, forgetting) = (keeper.clone(), kept.clone(), forgetting.clone());
        Callback::from(move |id: String| {
            let Some(store) = keeper.store() else { return };
            if *forgetting != Forgetting::Asked(id.clone()) {
                forgetting.set(Forgetting::Asked(id));
                return;
            }
            let (kept, forgetting) = (kept.clone(), forgetting.clone());
            spawn_local(async move {
                if matches!(acquire(&store, &id, false).await, Ok(false)) {
                    forgetting.set(Forgetting::Held);
                    return;
                }
                forgetting.set(Forgetting::Nothing);
                // Its button goes, and would take the focus with it.
                page::focus("heading");
                kept.set(kept.iter().filter(|one| one.id != id).cloned().collect());
                // Nor is it taken up again from where a screen left it.
                for name in [left::DESK, left::LOOKOUT] {
                    if left_there(name).is_some_and(|one| one.id == id) {
                        left::take(name);
                    }
                }
                // A run that could not be forgotten is listed again next time.
                let _ = store.forget(&id).await;
            });
        })
    };

    let more = {
        let listed_at_most = listed_at_most.clone();
        Callback::from(move |_: MouseEvent| listed_at_most.set(*listed_at_most + 4 * LISTED))
    };
    let on_help = Callback::from({
        let help = help.clone();
        move |code: String| help.set(Help::from_code(&code).unwrap_or(Help::Guided))
    });
    let on_pace = Callback::from({
        let pace = pace.clone();
        move |code: String| pace.set(Pace::from_code(&code).unwrap_or(Pace::Real))
    });

    let rest = match &*offered {
        // All at once, so that nothing moves once it stands there; what failed stands above the page.
        Offered::Fetching | Offered::Failed => Html::default(),
        Offered::Ready(list) => html! {
            <>
                <p class="lead">{ words.get(Word::HomeLead) }</p>
                if matches!(keeper.keeping, Keeping::Memory) {
                    <p class="notice">{ words.get(Word::KeepMemory) }</p>
                    // What is kept nowhere is not listed: what was left has its way back here.
                    { for [left::DESK, left::LOOKOUT].into_iter().filter_map(left_there).map(|one| html! {
                        <p><a class="way" href={one.screen.link()}>{ words.get(Word::KeptGoOn) }{ ": " }{ title(&words, &one) }</a></p>
                    }) }
                }
                // Whoever comes back goes on first.
                if !kept.is_empty() {
                    { kept_runs(&words, &kept, *all_kept, &forgetting, &forget, &more) }
                }
                { ways_in(&words, *due) }
                // On a wide screen it stands beside.
                <p class="to-before"><a href="#before-title" onclick={|event: MouseEvent| { event.prevent_default(); page::focus("before-title"); }}>
                    { words.get(Word::HomeBefore) }
                </a></p>
                <div class="runs">
                    <section aria-labelledby="begin-title">
                        <h2 id="begin-title" tabindex="-1">{ words.get(Word::HomeBegin) }</h2>
                        <div class="choices">
                            { choice(&words, Word::HomeHelp, "help", &Help::ALL.iter().map(|help| help.code()).collect::<Vec<_>>(), help.code(), on_help) }
                            { choice(&words, Word::HomePace, "pace", &Pace::ALL.iter().map(|pace| pace.code()).collect::<Vec<_>>(), pace.code(), on_pace) }
                        </div>
                        { for Agent::ALL.iter().copied().map(|agent| html! {
                            <section key={agent.code()} class="wearers" data-agent={agent.code()} aria-labelledby={format!("agent-{}", agent.code())}>
                                <h3 id={format!("agent-{}", agent.code())}>{ words.agent(agent) }</h3>
                                <ul>
                                    { unannounced(&words, agent, &begin) }
                                    { for at_level(list, agent, 1).map(|one| rehearsal(&words, one, &begin)) }
                                </ul>
                                { for (2..=LEVELS).map(|level| html! {
                                    <Level key={level} words={words.clone()} {level} list={at_level(list, agent, level).cloned().collect::<Vec<_>>()} begin={begin.clone()} />
                                }) }
                            </section>
                        }) }
                        <p class="soft">{ words.get(Word::HomeInvented) }</p>
                    </section>
                    <section aria-labelledby="watch-title">
                        <h2 id="watch-title">{ words.get(Word::ObserveTitle) }</h2>
                        <p>{ words.get(Word::ObserveLead) }</p>
                        <div class="wearers">
                            <ul>
                                { for list.iter().filter(|one| one.is_watched()).map(|one| {
                                    offer(&words, one.id.clone(), one, Screen::Watch, &begin)
                                }) }
                            </ul>
                        </div>
                    </section>
                </div>
                <div class="besides">
                    <section aria-labelledby="before-title">
                        <h2 id="before-title" tabindex="-1">{ words.get(Word::CautionTitle) }</h2>
                        { cautions(&words) }
                    </section>
                    { section("practise-title", words.get(Word::HomePractise), html! {
                        <>
                            { way_in(&words, &Screen::Drills, "to-drills", Word::HomeDrill, Word::HomeDrillText) }
                            { way_in(&words, &Screen::Questions, "to-questions", Word::HomeQuestions, Word::HomeQuestionsText) }
                        </>
                    }) }
                    { section("stand-title", words.get(Word::HomeStand), html! {
                        <>
                            { way_in(&words, &Screen::Progress, "to-progress", Word::HomeProgress, Word::HomeProgressText) }
                            { way_in(&words, &Screen::Record, "to-record", Word::HomeRecord, Word::HomeRecordText) }
                        </>
                    }) }
                    <section aria-labelledby="open-title">
                        <h2 id="open-title">{ words.get(Word::OpenTitle) }</h2>
                        { open_file(&words, None, Callback::from(|()| address::go(&Screen::Open.address()))) }
                    </section>
                </div>
            </>
        },
    };
    html! {
        // The heading keeps its place, since it may have the focus.
        <div class="home">
            <h1 id="heading" tabindex="-1">{ words.get(Word::HomeTitle) }</h1>
            // Drawn in the page itself, where it stands before anything else has come.
            <svg class="welcome" aria-hidden="true">
                <use href="#welcome" />
            </svg>
            { rest }
        </div>
    }
}

/// Ways in under a heading.
fn section(id: &'static str, heading: AttrValue, ways: Html) -> Html {
    html! {
        <section aria-labelledby={id}>
            <h2 {id}>{ heading }</h2>
            <div class="wearers"><ul>{ ways }</ul></div>
        </section>
    }
}

/// What can be begun.
async fn fetch() -> Result<Rc<[ListedV1]>, String> {
    let address = &site::list().ok_or("the page does not list its parts")?.offered;
    let text = site::fetch(address).await.map_err(|error| format!("{address}: {error}"))?;
    let list: Vec<_> = serde_json::from_str(&text).map_err(|error| format!("{address}: {error}"))?;
    Ok(list.into())
}

/// Those of a level who are tested with an agent.
fn at_level(list: &[ListedV1], agent: Agent, level: u8) -> impl Iterator<Item = &ListedV1> {
    list.iter().filter(move |one| one.agent == agent.code() && one.level == level && !one.is_watched())
}

/// Begins a run with somebody, on the screen that is made of its id.
type OnBegin = Callback<(Which, fn(String) -> Screen)>;

/// Properties of [`Level`].
#[derive(Properties, PartialEq)]
struct LevelProps {
    words: Words,
    level: u8,
    list: Vec<ListedV1>,
    begin: OnBegin,
}

/// Everybody of a level above the first, folded so that the list stays short for whoever is new. They are drawn when the level
/// is first opened: the page is there sooner.
#[component]
fn Level(props: &LevelProps) -> Html {
    let opened = use_state(|| false);
    let (level, levels, number) = (props.level.to_string(), LEVELS.to_string(), props.list.len().to_string());
    let ontoggle = {
        let opened = opened.clone();
        move |_: Event| opened.set(true)
    };
    html! {
        <details {ontoggle}>
            <summary>{ props.words.fill(Word::HomeFolded, &[("level", &level), ("levels", &levels), ("number", &number)]) }</summary>
            if *opened {
                <ul>{ for props.list.iter().map(|one| rehearsal(&props.words, one, &props.begin)) }</ul>
            }
        </details>
    }
}

/// A scenario that is rehearsed.
fn rehearsal(words: &Words, one: &ListedV1, begin: &OnBegin) -> Html {
    offer(words, format!("begin-{}", one.id), one, Screen::Rehearse, begin)
}

/// A scenario as it is offered, and where it begins.
fn offer(words: &Words, id: String, one: &ListedV1, there: fn(String) -> Screen, begin: &OnBegin) -> Html {
    let which = Which::BuiltIn(one.id.clone());
    let onclick = begin.reform(move |_: MouseEvent| (which.clone(), there));
    html! {
        <li key={one.id.clone()}>
            <button type="button" class="wearer" {id} {onclick}>
                <strong>{ words.listed_title(one) }</strong>
                <span>{ words.scenario_about(&one.id) }</span>
                if !one.practises.is_empty() {
                    <span>{ practises(words, one) }</span>
                }
            </button>
        </li>
    }
}

/// Which skills a scenario practises: enough to choose by, and nothing of what will come up.
fn practises(words: &Words, one: &ListedV1) -> AttrValue {
    let skills: Vec<AttrValue> = one.practises.iter().map(|skill| words.of(&format!("skill.{skill}"))).collect();
    words.fill(Word::HomePractises, &[("skills", &skills.join(" · ").to_lowercase())])
}

/// Somebody drawn when the run begins.
fn unannounced(words: &Words, agent: Agent, begin: &OnBegin) -> Html {
    let there: fn(String) -> Screen = Screen::Rehearse;
    let onclick = begin.reform(move |_: MouseEvent| (Which::Drawn(agent.code().to_owned()), there));
    html! {
        <li>
            <button type="button" class="wearer drawn" id={format!("begin-unannounced-{}", agent.code())} {onclick}>
                <strong>{ words.get(Word::HomeUnannounced) }</strong>
                <span>{ words.get(Word::HomeUnannouncedText) }</span>
            </button>
        </li>
    }
}

/// What a run is called in a list.
fn title(words: &Words, one: &Listed) -> AttrValue {
    let Some(kept) = &one.kept else { return words.get(Word::KeptUnreadable) };
    let title = words.listed_title(&kept.scenario);
    if kept.is_watched() { words.fill(Word::ObserveWatched, &[("wearer", &title)]) } else { title }
}

/// What another screen left under a name.
fn left_there(name: &str) -> Option<Listed> {
    let Left { id, header, ended } = left::read_json(&left::look(name))?;
    Some(listed(id, &header, ended))
}

fn listed(id: String, header: &str, ended: bool) -> Listed {
    let kept = KeptV1::parse(header);
    let screen = if kept.as_ref().is_some_and(KeptV1::is_watched) {
        Screen::Watch(id.clone())
    } else if ended {
        Screen::Review(id.clone())
    } else {
        Screen::Rehearse(id.clone())
    };
    Listed { id, kept: kept.map(Rc::new), screen }
}

/// Runs kept on this device.
fn kept_runs(
    words: &Words,
    list: &[Listed],
    all: usize,
    forgetting: &Forgetting,
    on_forget: &Callback<String>,
    on_more: &Callback<MouseEvent>,
) -> Html {
    let said = match forgetting {
        Forgetting::Nothing => None,
        Forgetting::Asked(_) => Some(Word::KeptSure),
        Forgetting::Held => Some(Word::KeptHeld),
    };
    html! {
        <section aria-labelledby="kept-title">
            <h2 id="kept-title">{ words.get(Word::KeptTitle) }</h2>
            <p role="status" class={if said.is_some() { "notice" } else { "unseen" }}>{ for said.map(|said| words.get(said)) }</p>
            <ul class="kept">
                { for list.iter().enumerate().map(|(place, one)| {
                    let id = one.id.clone();
                    let title = title(words, one);
                    // What was left last is what most come back for.
                    let class = classes!("way", (place == 0).then_some("main"));
                    let started = one.kept.as_ref().map(|kept| kept.started.clone()).unwrap_or_default();
                    let forget = match forgetting {
                        Forgetting::Asked(asked) if *asked == id => Word::KeptForgetDo,
                        Forgetting::Nothing | Forgetting::Asked(_) | Forgetting::Held => Word::KeptForget,
                    };
                    let word = if matches!(one.screen, Screen::Review(_)) { Word::KeptReview } else { Word::KeptGoOn };
                    let onclick = on_forget.reform(move |_: MouseEvent| id.clone());
                    html! {
                        <li key={one.id.clone()}>
                            <span>
                                <strong>{ title.clone() }</strong>{ " " }
                                <span class="soft">
                                    <time datetime={started.clone()}>{ clock::shown(&started) }</time>
                                    // Two runs of one wearer are told apart by it.
                                    { for one.kept.as_ref().and_then(|kept| kept.help.as_deref()).map(|help| words.of(&format!("help.{help}"))) }
                                </span>
                            </span>
                            <a {class} href={one.screen.link()} aria-label={format!("{}: {title}", words.get(word))}>{ words.get(word) }</a>
                            <button type="button" aria-label={format!("{}: {title}", words.get(forget))} {onclick}>{ words.get(forget) }</button>
                        </li>
                    }
                }) }
            </ul>
            if all > list.len() {
                <p><button type="button" id="more-runs" onclick={on_more}>{ words.fill(Word::KeptMore, &[("number", &(all - list.len()).to_string())]) }</button></p>
            }
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
                { options(codes.iter().map(|code| (*code, words.of(&format!("{family}.{code}")))), chosen) }
            </select>
        </label>
    }
}
