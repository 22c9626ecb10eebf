//! Who practises on this device, and what is kept of them: names, backup, restoring, erasing.

use crate::{
    edge::{
        clock,
        file::{self, Unread},
        learner, page,
        store::Store,
    },
    parts::refused::refused,
    screen::Screen,
    session::DeskAction,
    shell::{Around, Keeping},
    watching::LookoutAction,
    words::{Word, Words},
};
use bittersweet_core::wire::{
    Code, Faults,
    backup_v1::{self, BackupV1, Contents, LearnerV1},
    learners_v1::{Learner, LearnersV1, NotNamed},
};
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use web_sys::{File, HtmlInputElement};
use yew::prelude::*;

const DIALOG: &str = "ask";
const NEW_NAME: &str = "new-name";
const OTHER_NAME: &str = "other-name";

/// Properties of [`Learners`].
#[derive(Properties, PartialEq)]
pub(crate) struct LearnersProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// What is asked before it is done.
#[derive(Clone, PartialEq)]
enum Asking {
    Rename(Learner),
    Erase(Learner),
    EraseAll,
    Replace(Rc<BackupV1>),
}

/// Who is here, each with what is kept of them.
type Here = (LearnersV1, Vec<Contents>);

/// Why nothing was changed: the words for it, or the store's own reason, which nobody can read.
enum Undone {
    Said(AttrValue),
    Failed,
}

impl From<JsValue> for Undone {
    fn from(_: JsValue) -> Self {
        Self::Failed
    }
}

/// The screen.
#[component]
pub(crate) fn Learners(props: &LearnersProps) -> Html {
    let Around { words, keeper, desk, lookout, .. } = props.around.clone();
    let here = use_state(|| None::<Rc<Here>>);
    let said = use_state(AttrValue::default);
    let asking = use_state(|| None::<Asking>);
    let opened = use_state(|| None::<Rc<BackupV1>>);
    let faults = use_state(|| None::<Faults>);
    let current = keeper.store().map(|store| store.learner().clone());

    use_effect_with((keeper.keeping.clone(), (*said).clone()), {
        let here = here.clone();
        move |(keeping, _)| {
            if matches!(keeping, Keeping::Device(_)) {
                spawn_local(async move {
                    if let Ok(found) = look_round().await {
                        here.set(Some(Rc::new(found)));
                    }
                });
            }
        }
    });
    use_effect_with((*asking).clone(), |asking| {
        if asking.is_some() {
            page::open_dialog(DIALOG);
        }
    });
    use_effect_with(opened.is_some(), |is_open| {
        if *is_open {
            page::focus("in-it");
        }
    });

    // Whatever is done, the page then goes on with what is kept, as it is now.
    let after = {
        let (said, words) = (said.clone(), words.clone());
        move |done: Result<AttrValue, Undone>| {
            desk.dispatch(DeskAction::Clear);
            lookout.dispatch(LookoutAction::Clear);
            let (said, words, keeper) = (said.clone(), words.clone(), keeper.clone());
            spawn_local(async move {
                match Store::of(&learner::chosen()).await {
                    Ok(store) => keeper.go_on_in(store),
                    Err(_) => keeper.failed(),
                }
                said.set(match done {
                    Ok(text) | Err(Undone::Said(text)) => text,
                    Err(Undone::Failed) => words.get(Word::LearnersFailed),
                });
            });
        }
    };
    let close = {
        let (asking, opened) = (asking.clone(), opened.clone());
        move || {
            page::close_dialog(DIALOG);
            page::focus("heading");
            asking.set(None);
            opened.set(None);
        }
    };

    let on_choose = Callback::from({
        let (after, words) = (after.clone(), words.clone());
        move |one: Learner| {
            learner::choose(&one.id);
            after(Ok(words.fill(Word::LearnersChosen, &[("name", &shown(&words, &one.name))])));
        }
    });
    let on_save = Callback::from({
        let (said, words) = (said.clone(), words.clone());
        move |ids: Vec<String>| {
            let (said, words) = (said.clone(), words.clone());
            spawn_local(async move {
                said.set(match save(&words, ids).await {
                    Ok(text) | Err(Undone::Said(text)) => text,
                    Err(Undone::Failed) => words.get(Word::LearnersFailed),
                });
            });
        }
    });
    let on_add = Callback::from({
        let (after, words) = (after.clone(), words.clone());
        move |event: SubmitEvent| {
            event.prevent_default();
            let (after, words) = (after.clone(), words.clone());
            spawn_local(async move { after(add(&words, &page::typed(NEW_NAME)).await) });
        }
    });
    let on_ask = Callback::from({
        let asking = asking.clone();
        move |one: Asking| asking.set(Some(one))
    });
    let on_sure = {
        let (after, words, close) = (after.clone(), words.clone(), close.clone());
        Callback::from(move |asked: Asking| {
            let name = page::typed(OTHER_NAME);
            close();
            let (after, words) = (after.clone(), words.clone());
            spawn_local(async move { after(go_through(&words, asked, &name).await) });
        })
    };
    let on_merge = {
        let (opened, words, close) = (opened.clone(), words.clone(), close.clone());
        Callback::from(move |_: MouseEvent| {
            let Some(backup) = (*opened).clone() else { return };
            close();
            let (after, words) = (after.clone(), words.clone());
            spawn_local(async move { after(take_in(&words, &backup, false).await) });
        })
    };
    let on_leave = Callback::from({
        let (said, words) = (said.clone(), words.clone());
        move |_: MouseEvent| {
            close();
            said.set(words.get(Word::BackupLeft));
        }
    });
    let on_file = Callback::from({
        let (opened, faults) = (opened.clone(), faults.clone());
        move |event: Event| {
            let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
            let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
            let (opened, faults) = (opened.clone(), faults.clone());
            spawn_local(async move {
                let read = read(&chosen).await;
                // The same file can be chosen again after it was mended.
                input.set_value("");
                let (backup, found) = read.map_or_else(|found| (None, Some(found)), |read| (Some(Rc::new(read)), None));
                opened.set(backup);
                faults.set(found);
            });
        }
    });
    // The dialog closes by its key as well.
    let on_closed = {
        let asking = asking.clone();
        Callback::from(move |_: Event| asking.set(None))
    };

    let everybody: Vec<String> =
        here.iter().flat_map(|here| here.0.list()).map(|one| one.id.clone()).collect();
    html! {
        <div class="learners">
            <h1 id="heading" tabindex="-1">{ words.get(Word::LearnersTitle) }</h1>
            <p>{ words.get(Word::LearnersLead) }</p>
            <p role="status" class={if said.is_empty() { "unseen" } else { "notice" }}>{ (*said).clone() }</p>
            { match (&*here, current) {
                (Some(here), Some(current)) => html! {
                    <>
                        { who(&words, here, &current, &on_choose, &on_save, &on_ask) }
                        <form onsubmit={on_add}>
                            <h2>{ words.get(Word::LearnersMore) }</h2>
                            <label for={NEW_NAME}>{ words.get(Word::LearnersName) }</label>
                            <input type="text" id={NEW_NAME} autocomplete="off" maxlength="60" />
                            <button type="submit">{ words.get(Word::LearnersAdd) }</button>
                        </form>
                        <section aria-labelledby="backup-title">
                            <h2 id="backup-title">{ words.get(Word::BackupTitle) }</h2>
                            <p>{ words.get(Word::BackupText) }</p>
                            <p><button type="button" id="save-all" onclick={on_save.reform(move |_: MouseEvent| everybody.clone())}>{ words.get(Word::BackupSaveAll) }</button></p>
                            <label class="file">
                                { words.get(Word::BackupLabel) }
                                <input type="file" id="open-backup" accept=".json,application/json" onchange={on_file} />
                            </label>
                            { refused(&words, &faults) }
                            if let Some(backup) = &*opened {
                                { preview(&words, &here.0, backup, &on_merge, &on_ask, &on_leave) }
                            }
                        </section>
                        <p><button type="button" id="erase-all" onclick={on_ask.reform(|_: MouseEvent| Asking::EraseAll)}>{ words.get(Word::LearnersEraseAll) }</button></p>
                    </>
                },
                (_, None) if matches!(props.around.keeper.keeping, Keeping::Memory) => html! { <p class="notice">{ words.get(Word::LearnersMemory) }</p> },
                _ => Html::default(),
            } }
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
            if let Some(asked) = &*asking {
                { ask(&words, asked, &on_sure, &on_leave, &on_closed) }
            }
        </div>
    }
}

/// A name as it is shown; who has none is shown too.
fn shown(words: &Words, name: &str) -> AttrValue {
    if name.is_empty() { words.get(Word::LearnersUnnamed) } else { name.to_owned().into() }
}

/// What is kept of somebody, in words.
fn kept(words: &Words, contents: &Contents) -> Html {
    let (runs, answers) = (contents.runs.to_string(), contents.answers.to_string());
    html! {
        <span class="soft">
            { words.fill(Word::LearnersContents, &[("runs", &runs), ("answers", &answers)]) }{ " " }
            { for contents.latest.as_ref().map(|latest| words.fill(Word::LearnersLatest, &[("date", &clock::shown(latest))])) }
        </span>
    }
}

/// Everybody, with what can be done for each.
fn who(
    words: &Words,
    (list, contents): &Here,
    current: &Learner,
    on_choose: &Callback<Learner>,
    on_save: &Callback<Vec<String>>,
    on_ask: &Callback<Asking>,
) -> Html {
    html! {
        <section aria-labelledby="who-title">
            <h2 id="who-title">{ words.get(Word::LearnersWho) }</h2>
            <ul class="kept">
                { for list.list().iter().zip(contents).map(|(one, contents)| {
                    let name = shown(words, &one.name);
                    let act = |word: Word, pressed: Option<bool>, onclick: Callback<MouseEvent>| html! {
                        <button type="button" aria-label={format!("{}: {name}", words.get(word))} aria-pressed={pressed.map(|is| is.to_string())} {onclick}>
                            { words.get(word) }
                        </button>
                    };
                    let (chosen, saved, renamed, erased) = (one.clone(), one.id.clone(), one.clone(), one.clone());
                    html! {
                        <li key={one.id.clone()}>
                            <span><strong>{ name.clone() }</strong>{ " " }{ kept(words, contents) }</span>
                            { act(Word::LearnersChoose, Some(one.id == current.id), on_choose.reform(move |_: MouseEvent| chosen.clone())) }
                            { act(Word::LearnersRename, None, on_ask.reform(move |_: MouseEvent| Asking::Rename(renamed.clone()))) }
                            { act(Word::BackupSave, None, on_save.reform(move |_: MouseEvent| vec![saved.clone()])) }
                            { act(Word::LearnersErase, None, on_ask.reform(move |_: MouseEvent| Asking::Erase(erased.clone()))) }
                        </li>
                    }
                }) }
            </ul>
        </section>
    }
}

/// What is in a backup, and what can be done with it.
fn preview(
    words: &Words,
    list: &LearnersV1,
    backup: &Rc<BackupV1>,
    on_merge: &Callback<MouseEvent>,
    on_ask: &Callback<Asking>,
    on_leave: &Callback<MouseEvent>,
) -> Html {
    let replaced = Rc::clone(backup);
    html! {
        <section class="notice preview" aria-labelledby="in-it">
            <h3 id="in-it" tabindex="-1">{ words.get(Word::BackupInIt) }</h3>
            <p>{ words.fill(Word::BackupMade, &[("date", &clock::shown(&backup.saved))]) }</p>
            <ul class="kept">
                { for backup.learners.iter().enumerate().map(|(number, one)| {
                    let name = shown(words, &one.name);
                    let goes = match list.named(&one.name) {
                        Some(_) => words.fill(Word::BackupGoesTo, &[("name", &name)]),
                        None => words.fill(Word::BackupGoesNew, &[("name", &list.free_name(&name))]),
                    };
                    html! { <li key={number}><span><strong>{ name }</strong>{ " " }{ kept(words, &one.contents()) }{ " " }{ goes }</span></li> }
                }) }
            </ul>
            <p class="ways">
                <button type="button" id="merge" onclick={on_merge}>{ words.get(Word::BackupMerge) }</button>
                <button type="button" id="replace" onclick={on_ask.reform(move |_: MouseEvent| Asking::Replace(Rc::clone(&replaced)))}>{ words.get(Word::BackupReplace) }</button>
                <button type="button" onclick={on_leave}>{ words.get(Word::LearnersLeave) }</button>
            </p>
        </section>
    }
}

/// Asks for a name, or whether it is really meant.
fn ask(
    words: &Words,
    asked: &Asking,
    on_sure: &Callback<Asking>,
    on_leave: &Callback<MouseEvent>,
    onclose: &Callback<Event>,
) -> Html {
    let of = |word: Word, one: &Learner| words.fill(word, &[("name", &shown(words, &one.name))]);
    let (title, text, sure) = match asked {
        Asking::Rename(one) => (of(Word::LearnersRenameTitle, one), None, Word::LearnersRenameDo),
        Asking::Erase(one) => (of(Word::LearnersEraseTitle, one), Some(Word::LearnersEraseText), Word::LearnersEraseDo),
        Asking::EraseAll => {
            (words.get(Word::LearnersEraseAllTitle), Some(Word::LearnersEraseText), Word::LearnersEraseDo)
        }
        Asking::Replace(_) => (words.get(Word::BackupReplaceTitle), Some(Word::BackupReplaceText), Word::BackupReplaceDo),
    };
    let onsubmit = {
        let asked = asked.clone();
        on_sure.reform(move |event: SubmitEvent| {
            event.prevent_default();
            asked.clone()
        })
    };
    html! {
        <dialog id={DIALOG} aria-labelledby="ask-title" {onclose}>
            <form {onsubmit}>
                <h2 id="ask-title">{ title }</h2>
                if let Asking::Rename(one) = asked {
                    <label for={OTHER_NAME}>{ words.get(Word::LearnersName) }</label>
                    <input type="text" id={OTHER_NAME} autocomplete="off" maxlength="60" value={one.name.clone()} />
                }
                { for text.map(|text| html! { <p>{ words.get(text) }</p> }) }
                <p class="ways">
                    <button type="button" onclick={on_leave}>{ words.get(Word::LearnersLeave) }</button>
                    <button type="submit" id="sure">{ words.get(sure) }</button>
                </p>
            </form>
        </dialog>
    }
}

async fn look_round() -> Result<Here, JsValue> {
    let list = Store::of("").await?.learners().await?;
    let mut contents = Vec::new();
    for one in list.list() {
        contents.push(Store::of(&one.id).await?.export().await?.contents());
    }
    Ok((list, contents))
}

async fn read(chosen: &File) -> Result<BackupV1, Faults> {
    match file::read(chosen, backup_v1::MOST_BYTES).await {
        Ok(text) => BackupV1::parse(&text),
        Err(Unread::TooLarge(bytes)) => Err(Faults::one("", Code::TooLarge, bytes)),
        Err(Unread::Failed) => Err(Faults::one("", Code::NotJson, chosen.name())),
    }
}

/// Saves what is kept of these as a file, and says where.
async fn save(words: &Words, ids: Vec<String>) -> Result<AttrValue, Undone> {
    let mut learners = Vec::new();
    for id in ids {
        learners.push(Store::of(&id).await?.export().await?);
    }
    let now = clock::iso_now();
    let text = BackupV1::new(now.clone(), learners).written();
    if text.len() > backup_v1::MOST_BYTES {
        return Err(Undone::Said(words.get(Word::BackupLarge)));
    }
    let file = format!("bittersweet-backup-{}.json", now.split('T').next().unwrap_or_default());
    file::save(&file, &text)?;
    Ok(words.fill(Word::BackupSaved, &[("file", &file)]))
}

async fn add(words: &Words, name: &str) -> Result<AttrValue, Undone> {
    let first = Store::of("").await?;
    let list = named(words, first.learners().await?.with(&clock::new_id(), name))?;
    first.put_learners(&list).await?;
    page::clear(NEW_NAME);
    Ok(words.fill(Word::LearnersAdded, &[("name", name.trim())]))
}

fn named(words: &Words, list: Result<LearnersV1, NotNamed>) -> Result<LearnersV1, Undone> {
    list.map_err(|why| Undone::Said(words.of(&format!("not-named.{}", why.code()))))
}

/// Does what was asked about, now that it is meant.
async fn go_through(words: &Words, asked: Asking, name: &str) -> Result<AttrValue, Undone> {
    let first = Store::of("").await?;
    let list = first.learners().await?;
    match asked {
        Asking::Rename(one) => {
            first.put_learners(&named(words, list.renamed(&one.id, name))?).await?;
            Ok(words.fill(Word::LearnersRenamed, &[("name", name.trim())]))
        }
        Asking::Erase(one) => {
            let rest = list.without(&one.id);
            if one.id.is_empty() {
                first.import(&LearnerV1::default(), Some(&rest)).await?;
            } else {
                first.put_learners(&rest).await?;
                Store::remove(&one.id).await?;
            }
            Ok(words.fill(Word::LearnersErased, &[("name", &shown(words, &one.name))]))
        }
        Asking::EraseAll => {
            first.import(&LearnerV1::default(), Some(&LearnersV1::default())).await?;
            remove_all(&list).await?;
            learner::choose("");
            Ok(words.get(Word::LearnersErasedAll))
        }
        Asking::Replace(backup) => take_in(words, &backup, true).await,
    }
}

/// Removes the stores of all but the first.
async fn remove_all(list: &LearnersV1) -> Result<(), JsValue> {
    for one in list.list().iter().filter(|one| !one.id.is_empty()) {
        Store::remove(&one.id).await?;
    }
    Ok(())
}

/// Takes a backup in: added to what is here, or in its place. The first learner's store comes last, since it says who is
/// here: what fails before that changes nobody else's.
async fn take_in(words: &Words, backup: &BackupV1, replace: bool) -> Result<AttrValue, Undone> {
    let first = Store::of("").await?;
    let before = first.learners().await?;
    let mut list = before.clone();
    let mut of_first = None;
    if replace {
        list = LearnersV1::default();
        of_first = Some(LearnerV1::default());
        if let Some(one) = backup.learners.first().filter(|one| !one.name.is_empty()) {
            list = named(words, list.renamed("", &one.name))?;
        }
    }
    // Who goes where is settled before anything is written.
    let mut places = Vec::new();
    for one in &backup.learners {
        let place = match list.named(&one.name) {
            Some(there) => there.id.clone(),
            None => {
                let id = clock::new_id();
                list = named(words, list.with(&id, &list.free_name(&shown(words, &one.name))))?;
                id
            }
        };
        places.push((place, one.clone()));
    }
    for (id, kept) in places {
        if id.is_empty() {
            let here = match of_first.take() {
                Some(here) => here,
                None => first.export().await?,
            };
            of_first = Some(here.merged(kept));
        } else {
            let store = Store::with(&id).await?;
            let here = store.export().await?;
            store.import(&here.merged(kept), None).await?;
        }
    }
    match of_first {
        Some(kept) => first.import(&kept, Some(&list)).await?,
        None => first.put_learners(&list).await?,
    }
    if replace {
        // One that stays is in no list and shows nowhere.
        let _ = remove_all(&before).await;
        learner::choose("");
    }
    Ok(words.get(Word::BackupRestored))
}
