//! What every screen stands in: words, the store, and the address.

use crate::{
    edge::{
        address, language, learner, left,
        listener::Listener,
        offline::{self, Offline},
        page, site,
        store::Store,
    },
    modules::Shows,
    parts::{
        footer::footer,
        languages::{Languages, languages},
        newer::newer,
    },
    screen::Screen,
    screens::nowhere::nowhere,
    words::{Word, Words},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

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
    /// One that keeps nothing.
    #[cfg(test)]
    pub(crate) fn for_tests(keeping: UseStateHandle<Keeping>) -> Self {
        Self { keeping: (*keeping).clone(), change: keeping.setter() }
    }

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
        left::take(left::IN_MEMORY);
        self.change.set(Keeping::Device(store));
    }

    /// From now on in memory only, in other modules too.
    pub(crate) fn failed(&self) {
        left::put(left::IN_MEMORY, &true.into());
        self.change.set(Keeping::Memory);
    }
}

/// What every screen is handed: it is cheap to clone and to compare, and weighs less than contexts would.
#[derive(Clone, PartialEq)]
pub(crate) struct Around {
    /// The words.
    pub(crate) words: Words,
    /// The store.
    pub(crate) keeper: Keeper,
    /// Whether the page is kept for use without a network.
    pub(crate) offline: Offline,
}

/// What has to be fetched before anything can be shown.
#[derive(Clone, PartialEq)]
enum Loading {
    Fetching,
    Ready(Loaded),
    Failed,
}

/// What has been fetched.
#[derive(Clone, PartialEq)]
struct Loaded {
    /// The words, in the language that is spoken.
    words: Words,
    spoken: AttrValue,
    languages: Languages,
}

async fn load(all_words: bool) -> Result<Loaded, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let spoken = language::spoken();
    let words = words(&spoken, all_words).await?;
    let languages = site.languages.iter().map(|(tag, name)| (tag.clone().into(), name.clone().into())).collect();
    Ok(Loaded { words, spoken: spoken.into(), languages })
}

/// Fetches the words of a language: those that the first screen needs, or all of them.
async fn words(tag: &str, all: bool) -> Result<Words, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let mut files = Vec::new();
    // What the first screen needs comes last, since it was there first: both files are on their way together.
    for listed in [&site.more, &site.words].into_iter().skip(usize::from(!all)) {
        let address = listed.get(tag).ok_or_else(|| format!("{tag}: no words are listed"))?;
        files.push(site::fetch(address).await.map_err(|error| format!("{address}: {error}"))?);
    }
    let words = Words::parse(&files).ok_or_else(|| format!("{tag}: its words cannot be read"))?;
    Ok(words.with_decimal(language::decimal))
}

/// Properties of [`Shell`].
#[derive(Clone, Properties)]
pub(crate) struct ShellProps {
    /// What this module shows.
    pub(crate) shows: Shows,
    /// Whether one came here from another module.
    pub(crate) moved: bool,
    /// Whether it needs more words than the first screen does.
    pub(crate) all_words: bool,
}

impl PartialEq for ShellProps {
    fn eq(&self, _: &Self) -> bool {
        // They are handed over once.
        true
    }
}

/// The whole page.
#[component]
pub(crate) fn Shell(props: &ShellProps) -> Html {
    let all_words = props.all_words;
    let loading = use_state(|| site::at_once(load(all_words)).map_or(Loading::Fetching, Loading::Ready));
    let is_lost = !left::look(left::IN_MEMORY).is_undefined();
    let keeping = use_state(|| if is_lost { Keeping::Memory } else { Keeping::Opening });
    let screen = use_state(|| Screen::at(&address::read()));
    let offline = use_state(Offline::now);

    use_effect_with((), {
        let (loading, keeping, screen, offline) = (loading.clone(), keeping.clone(), screen.clone(), offline.clone());
        move |()| {
            if matches!(*loading, Loading::Fetching) {
                spawn_local(async move {
                    loading.set(match load(all_words).await {
                        Ok(loaded) => Loading::Ready(loaded),
                        Err(error) => {
                            site::incomplete(&error);
                            Loading::Failed
                        }
                    });
                });
            }
            if !is_lost {
                spawn_local(async move {
                    keeping.set(match Store::of(&learner::chosen()).await {
                        Ok(store) => Keeping::Device(store),
                        Err(_) => Keeping::Memory,
                    });
                });
            }
            let moved = Listener::new(address::CHANGED, move || screen.set(Screen::at(&address::read())));
            let stands = Listener::new(offline::CHANGED, move || offline.set(Offline::now()));
            move || drop((moved, stands))
        }
    });

    let named = match &*loading {
        Loading::Ready(Loaded { words, .. }) => Some(words.get(title(&screen))),
        Loading::Fetching | Loading::Failed => None,
    };
    let there = named.is_some().then(|| (*screen).clone());
    use_effect_with(named, |named| {
        if let Some(named) = named {
            page::entitle(named);
        }
    });
    let first = use_mut_ref(|| !props.moved);
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
                let arrived = words(&tag, all_words).await;
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
        // What happened stands above the page.
        Loading::Failed => html! { <main><h1>{ "Bittersweet" }</h1></main> },
        Loading::Ready(loaded) => {
            let around = Around {
                words: loaded.words.clone(),
                keeper: Keeper { keeping: (*keeping).clone(), change: keeping.setter() },
                offline: *offline,
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
            frame(&around, (props.shows)(&around, &screen), &screen, choice)
        }
    }
}

/// The screen and what stands around it.
fn frame(around: &Around, shown: Option<Html>, screen: &Screen, choice: Html) -> Html {
    let words = &around.words;
    html! {
        <>
            <a class="skip" href="#main" onclick={|event: MouseEvent| { event.prevent_default(); page::focus("heading"); }}>
                { words.get(Word::NavSkip) }
            </a>
            <header class="top">
                <a class="mark" href={Screen::Home.link()}>{ words.get(Word::AppTitle) }</a>
                <p class="motto">{ words.get(Word::AppMotto) }</p>
                { who(around) }
                <nav aria-label={words.get(Word::NavLabel)}>
                    <a href={Screen::About.link()}>{ words.get(Word::NavAbout) }</a>
                </nav>
                { choice }
            </header>
            <main id="main">
                { shown.unwrap_or_else(|| nowhere(words, &screen.address())) }
            </main>
            { footer(words, screen) }
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
        Screen::Open => Word::PageOpen,
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
        Screen::Learners => Word::LearnersPage,
        Screen::Teach => Word::PageTeach,
        Screen::About => Word::PageAbout,
        Screen::Nowhere(_) => Word::PageNowhere,
    }
}
