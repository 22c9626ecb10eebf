//! What every screen stands in: words, scenarios, the store, the desk, and the address.

use crate::{
    edge::{
        address, language, learner,
        listener::Listener,
        offline::{self, Offline},
        page, site,
        store::Store,
    },
    parts::{
        footer::footer,
        languages::{Languages, languages},
        newer::newer,
    },
    screen::Screen,
    screens::{
        about::about, assess::Assess, desk::OnTheDesk, drills::Drills, home::Home, learners::Learners,
        lookout::FromTheLookout, nowhere::nowhere, progress::Progress, questions::Questions, record::Record,
        refresh::Refresh, sitting::Sat, wearer::Wearer,
    },
    session::Desk,
    watching::Lookout,
    words::{Word, Words},
};
use bittersweet_core::{scenario::Scenario, wire::scenario_v1};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// The built-in scenarios, in the order in which they are offered.
#[derive(Clone, Debug)]
pub(crate) struct Library(pub(crate) Rc<[Rc<Scenario>]>);

impl PartialEq for Library {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}

/// Where acts are kept.
#[derive(Clone)]
pub(crate) enum Keeping {
    /// Not known yet.
    Opening,
    /// On this device.
    Device(Store),
    /// In memory only: the store is switched off, full or broken.
    Memory,
}

impl PartialEq for Keeping {
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Device(ours), Self::Device(theirs)) => ours.is(theirs),
            _ => std::mem::discriminant(self) == std::mem::discriminant(other),
        }
    }
}

/// The store as it was when the page was drawn, and how to say that it failed. A handle would not do: it reads what is so
/// now, and two of them are always alike.
#[derive(Clone, PartialEq)]
pub(crate) struct Keeper {
    /// Where acts are kept.
    pub(crate) keeping: Keeping,
    change: UseStateSetter<Keeping>,
}

impl Keeper {
    /// The store, where there is one.
    pub(crate) fn store(&self) -> Option<Store> {
        match &self.keeping {
            Keeping::Device(store) => Some(store.clone()),
            Keeping::Opening | Keeping::Memory => None,
        }
    }

    /// Whether it is known where answers are kept.
    pub(crate) fn is_open(&self) -> bool {
        !matches!(self.keeping, Keeping::Opening)
    }

    /// From now on in this store.
    pub(crate) fn go_on_in(&self, store: Store) {
        self.change.set(Keeping::Device(store));
    }

    /// From now on in memory only.
    pub(crate) fn failed(&self) {
        self.change.set(Keeping::Memory);
    }
}

/// What every screen is handed: it is cheap to clone and to compare, and weighs less than contexts would.
#[derive(Clone, PartialEq)]
pub(crate) struct Around {
    /// The words.
    pub(crate) words: Words,
    /// The built-in scenarios.
    pub(crate) library: Library,
    /// The store.
    pub(crate) keeper: Keeper,
    /// The desk with the run on it.
    pub(crate) desk: UseReducerHandle<Desk>,
    /// The lookout with the run that is watched.
    pub(crate) lookout: UseReducerHandle<Lookout>,
}

/// What has to be fetched before anything can be shown.
#[derive(Clone, PartialEq)]
enum Loading {
    Fetching,
    Ready(Loaded),
    Failed(AttrValue),
}

/// What has been fetched.
#[derive(Clone, PartialEq)]
struct Loaded {
    /// The words, in the language that is spoken.
    words: Words,
    spoken: AttrValue,
    library: Library,
    languages: Languages,
}

async fn load() -> Result<Loaded, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let spoken = language::spoken();
    let words = words(&spoken).await?;
    let text = site::fetch(&site.scenarios).await.map_err(|error| format!("{}: {error}", site.scenarios))?;
    let loose: Vec<scenario_v1::ScenarioV1> =
        serde_json::from_str(&text).map_err(|error| format!("{}: {error}", site.scenarios))?;
    let scenarios: Result<Vec<Rc<Scenario>>, String> = loose
        .iter()
        .map(|loose| scenario_v1::check(loose).map(Rc::new).map_err(|faults| format!("{}: {faults}", loose.id)))
        .collect();
    let languages = site.languages.into_iter().map(|(tag, name)| (tag.into(), name.into())).collect();
    Ok(Loaded { words, spoken: spoken.into(), library: Library(scenarios?.into()), languages })
}

/// Fetches the words of a language.
async fn words(tag: &str) -> Result<Words, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let address = site.words.get(tag).ok_or_else(|| format!("{tag}: no words are listed"))?;
    let text = site::fetch(address).await.map_err(|error| format!("{address}: {error}"))?;
    let words = Words::parse(&text).ok_or_else(|| format!("{address}: cannot be read"))?;
    Ok(words.with_decimal(language::decimal(tag)))
}

/// The whole page.
#[component]
pub(crate) fn Shell() -> Html {
    let loading = use_state(|| Loading::Fetching);
    let keeping = use_state(|| Keeping::Opening);
    let screen = use_state(|| Screen::at(&address::read()));
    let offline = use_state(Offline::now);
    let desk = use_reducer(Desk::default);
    let lookout = use_reducer(Lookout::default);

    use_effect_with((), {
        let (loading, keeping, screen, offline) = (loading.clone(), keeping.clone(), screen.clone(), offline.clone());
        move |()| {
            spawn_local(async move {
                loading.set(match load().await {
                    Ok(loaded) => Loading::Ready(loaded),
                    Err(error) => Loading::Failed(error.into()),
                });
            });
            spawn_local(async move {
                keeping.set(match Store::of(&learner::chosen()).await {
                    Ok(store) => Keeping::Device(store),
                    Err(_) => Keeping::Memory,
                });
            });
            let moved = Listener::new(address::CHANGED, move || screen.set(Screen::at(&address::read())));
            let stands = Listener::new(offline::CHANGED, move || offline.set(Offline::now()));
            move || drop((moved, stands))
        }
    });

    let named = match &*loading {
        Loading::Ready(Loaded { words, .. }) => Some(words.get(title(&screen))),
        Loading::Fetching | Loading::Failed(_) => None,
    };
    let there = named.is_some().then(|| (*screen).clone());
    use_effect_with(named, |named| {
        if let Some(named) = named {
            page::entitle(named);
        }
    });
    let first = use_mut_ref(|| true);
    use_effect_with(there, move |there| {
        // On arriving at a screen its heading gets the focus, but not when the page is first opened.
        if there.is_some() && !first.replace(false) {
            page::focus("heading");
        }
    });

    // The language that was chosen last: another that arrives after it is too late.
    let chosen = use_mut_ref(AttrValue::default);
    let unspoken = use_state(|| false);
    let on_language = {
        let (loading, unspoken) = (loading.clone(), unspoken.clone());
        Callback::from(move |tag: AttrValue| {
            let Loading::Ready(before) = &*loading else { return };
            let (loading, unspoken, chosen, before) =
                (loading.clone(), unspoken.clone(), Rc::clone(&chosen), before.clone());
            chosen.replace(tag.clone());
            spawn_local(async move {
                let arrived = words(&tag).await;
                if *chosen.borrow() != tag {
                    return;
                }
                unspoken.set(arrived.is_err());
                if let Ok(words) = arrived {
                    language::speak(&tag);
                    loading.set(Loading::Ready(Loaded { words, spoken: tag, ..before }));
                }
            });
        })
    };

    match &*loading {
        Loading::Fetching => html! { <main><h1>{ "Bittersweet" }</h1><p role="status">{ "…" }</p></main> },
        Loading::Failed(error) => html! {
            <main>
                <h1>{ "Bittersweet" }</h1>
                // The words are what is missing, so this cannot come from them.
                <p role="alert">{ for site::list().and_then(|mut site| site.incomplete.remove(&language::spoken())) }</p>
                <p>{ error.clone() }</p>
            </main>
        },
        Loading::Ready(loaded) => {
            let around = Around {
                words: loaded.words.clone(),
                library: loaded.library.clone(),
                keeper: Keeper { keeping: (*keeping).clone(), change: keeping.setter() },
                desk,
                lookout,
            };
            let choice = html! {
                <>
                    { languages(&loaded.words, &loaded.languages, &loaded.spoken, &on_language) }
                    if *unspoken {
                        <p role="alert" class="notice">{ loaded.words.get(Word::NavUnspoken) }</p>
                    }
                    { newer(&loaded.words, *offline, &keeping) }
                </>
            };
            frame(&around, &screen, choice, *offline)
        }
    }
}

/// The screen and what stands around it.
fn frame(around: &Around, screen: &Screen, choice: Html, offline: Offline) -> Html {
    let words = &around.words;
    let around = around.clone();
    html! {
        <>
            <a class="skip" href="#main" onclick={|event: MouseEvent| { event.prevent_default(); page::focus("heading"); }}>
                { words.get(Word::NavSkip) }
            </a>
            <header class="top">
                <a class="mark" href={Screen::Home.link()}>{ words.get(Word::AppTitle) }</a>
                <p class="motto">{ words.get(Word::AppMotto) }</p>
                { who(&around) }
                <nav aria-label={words.get(Word::NavLabel)}>
                    <a href={Screen::About.link()}>{ words.get(Word::NavAbout) }</a>
                </nav>
                { choice }
            </header>
            <main id="main">
                { match screen {
                    Screen::Home => html! { <Home {around} /> },
                    Screen::Rehearse(id) => html! { <OnTheDesk key={format!("run-{id}")} id={id.clone()} review={false} {around} /> },
                    Screen::Review(id) => html! { <OnTheDesk key={format!("review-{id}")} id={id.clone()} review={true} {around} /> },
                    Screen::Watch(id) => html! { <FromTheLookout key={format!("watch-{id}")} id={id.clone()} compare={false} {around} /> },
                    Screen::Compare(id) => html! { <FromTheLookout key={format!("compare-{id}")} id={id.clone()} compare={true} {around} /> },
                    Screen::Wearer => html! { <Wearer {around} /> },
                    Screen::Learners => html! { <Learners {around} /> },
                    Screen::Questions => html! { <Questions key="questions" {around} /> },
                    Screen::Drills => html! { <Drills key="drills" {around} /> },
                    Screen::QuestionsOn(skill, agent) => html! { <Questions key={screen.address()} on={Some((*skill, *agent))} {around} /> },
                    Screen::DrillsWith(agent) => html! { <Drills key={screen.address()} with={*agent} {around} /> },
                    Screen::Refresh => html! { <Refresh {around} /> },
                    Screen::Progress => html! { <Progress {around} /> },
                    Screen::Record => html! { <Record {around} /> },
                    Screen::Assess => html! { <Assess {around} /> },
                    Screen::Sitting(id) => html! { <Sat key={id.clone()} id={id.clone()} {around} /> },
                    Screen::About => about(words, offline),
                    Screen::Nowhere(address) => nowhere(words, address),
                } }
            </main>
            { footer(words) }
        </>
    }
}

/// The way to who practises here, and what is kept of them.
fn who(around: &Around) -> Html {
    let words = &around.words;
    let named = around.keeper.store().map(|store| store.learner().name.clone()).filter(|name| !name.is_empty());
    let said = match named {
        Some(name) => words.fill(Word::LearnersNavNamed, &[("name", &name)]),
        None => words.get(Word::LearnersNav),
    };
    html! { <p class="who"><a href={Screen::Learners.link()}>{ said }</a></p> }
}

/// What the page is called while a screen shows.
const fn title(screen: &Screen) -> Word {
    match screen {
        Screen::Home => Word::PageHome,
        Screen::Rehearse(_) => Word::PageRun,
        Screen::Review(_) => Word::PageReview,
        Screen::Watch(_) => Word::PageWatch,
        Screen::Compare(_) => Word::PageCompare,
        Screen::Wearer => Word::WearerPage,
        Screen::Questions | Screen::QuestionsOn(..) => Word::PageQuestions,
        Screen::Drills | Screen::DrillsWith(_) => Word::PageDrill,
        Screen::Progress => Word::PageProgress,
        Screen::Record => Word::PageRecord,
        Screen::Refresh => Word::PageRefresh,
        Screen::Assess | Screen::Sitting(_) => Word::PageAssess,
        Screen::About => Word::PageAbout,
        Screen::Learners => Word::LearnersPage,
        Screen::Nowhere(_) => Word::PageNowhere,
    }
}
