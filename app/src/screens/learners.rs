//! Who practises on this device, and what is kept of them: names, backup, restoring, erasing.

use crate::{
    edge::{
        clock,
        file::{self, Unread},
        learner, left, page, room,
        store::Store,
    },
    parts::{open_file::file_field, refused::refused, rescue::save_kept},
    screen::Screen,
    shell::{Around, Keeping},
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

/// What can be done here.
#[derive(Clone)]
enum Deed {
    Choose(Learner),
    Add,
    Rename(Learner),
    Save(Vec<String>),
    Erase(Learner),
    EraseAll,
    Merge,
    Replace,
    Leave,
}

impl Deed {
    /// Whether it is asked about before it is done.
    const fn is_asked_about(&self) -> bool {
        match self {
            Self::Rename(_) | Self::Erase(_) | Self::EraseAll | Self::Replace => true,
            Self::Choose(_) | Self::Add | Self::Save(_) | Self::Merge | Self::Leave => false,
        }
    }
}

/// Who is here, each with what is kept of them.
struct Here {
    list: LearnersV1,
    contents: Vec<Contents>,
    /// Whether the browser has promised not to clear it by itself.
    stays: bool,
}

/// What there is to see.
#[derive(Default)]
struct View {
    here: Option<Here>,
    said: AttrValue,
    asking: Option<Deed>,
    /// The name of the file that was chosen last.
    chosen: Option<String>,
    opened: Option<BackupV1>,
    faults: Option<Faults>,
    /// Whether what was to be done last did not succeed.
    has_failed: bool,
    /// Where the focus goes once this has been drawn.
    to_focus: Option<&'static str>,
}

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

/// The screen. One place holds what there is to see, since what is done takes a while and then meets whatever is there.
#[component]
pub(crate) fn Learners(props: &LearnersProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let view = use_mut_ref(View::default);
    let redraw = use_force_update();

    use_effect_with(keeper.keeping.clone(), {
        let (view, words, redraw) = (Rc::clone(&view), words.clone(), redraw.clone());
        move |keeping| {
            if matches!(keeping, Keeping::Device(_)) {
                spawn_local(async move {
                    let found = look_round(&words).await;
                    let mut seen = view.borrow_mut();
                    match found {
                        Ok((here, is_mended)) => {
                            seen.here = Some(here);
                            if is_mended {
                                seen.said = words.get(Word::LearnersMended);
                            }
                        }
                        Err(_) => {
                            seen.said = words.get(Word::LearnersFailed);
                            seen.has_failed = true;
                        }
                    }
                    drop(seen);
                    redraw.force_update();
                });
            }
        }
    });
    use_effect({
        let view = Rc::clone(&view);
        move || {
            if view.borrow().asking.is_some() {
                page::open_dialog(DIALOG);
            }
            let id = view.borrow_mut().to_focus.take();
            if let Some(id) = id {
                page::focus(id);
            }
        }
    });

    // What is asked about shows its question first; the second time it is meant.
    let on_deed = Callback::from({
        let (view, words, redraw) = (Rc::clone(&view), words.clone(), redraw.clone());
        move |(deed, is_meant): (Deed, bool)| {
            if deed.is_asked_about() && !is_meant {
                view.borrow_mut().asking = Some(deed);
                redraw.force_update();
                return;
            }
            let name = page::typed(if is_meant { OTHER_NAME } else { NEW_NAME });
            // The focus goes back to where the question came from, and further where that will be gone.
            page::close_dialog(DIALOG);
            let ends = matches!(deed, Deed::Merge | Deed::Replace | Deed::Leave);
            let opened = if ends { view.borrow_mut().opened.take() } else { None };
            if opened.is_some() || is_meant {
                view.borrow_mut().to_focus = Some("heading");
            }
            view.borrow_mut().asking = None;
            redraw.force_update();
            let (view, words, redraw) = (Rc::clone(&view), words.clone(), redraw.clone());
            let keeper = keeper.clone();
            spawn_local(async move {
                let changes = !matches!(deed, Deed::Save(_) | Deed::Leave);
                let done = go_through(&words, deed, &name, opened).await;
                if changes {
                    // The page goes on with what is kept, as it is now.
                    left::take(left::DESK);
                    left::take(left::LOOKOUT);
                    match Store::of(&learner::chosen()).await {
                        Ok(store) => keeper.go_on_in(store),
                        Err(_) => keeper.failed(),
                    }
                }
                let mut seen = view.borrow_mut();
                seen.has_failed = matches!(done, Err(Undone::Failed));
                seen.said = match done {
                    Ok(text) | Err(Undone::Said(text)) => text,
                    Err(Undone::Failed) => words.get(Word::LearnersFailed),
                };
                drop(seen);
                redraw.force_update();
            });
        }
    });
    let on_file = Callback::from({
        let (view, redraw) = (Rc::clone(&view), redraw.clone());
        move |event: Event| {
            let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
            let Some(chosen) = input.files().and_then(|files| files.get(0)) else { return };
            let (view, redraw) = (Rc::clone(&view), redraw.clone());
            spawn_local(async move {
                let read = read(&chosen).await;
                // The same file can be chosen again after it was mended.
                input.set_value("");
                let mut seen = view.borrow_mut();
                seen.chosen = Some(chosen.name());
                (seen.opened, seen.faults) = match read {
                    Ok(backup) => (Some(backup), None),
                    Err(faults) => (None, Some(faults)),
                };
                seen.to_focus = seen.opened.is_some().then_some("in-it");
                drop(seen);
                redraw.force_update();
            });
        }
    });
    // The dialog closes by its key as well.
    let onclose = Callback::from({
        let view = Rc::clone(&view);
        move |_: Event| {
            view.borrow_mut().asking = None;
            redraw.force_update();
        }
    });

    let seen = view.borrow();
    let current = props.around.keeper.store().map(|store| store.learner().id.clone());
    html! {
        <div class="learners">
            <h1 id="heading" tabindex="-1">{ words.get(Word::LearnersTitle) }</h1>
            <p>{ words.get(Word::LearnersLead) }</p>
            <p role="status" class={if seen.said.is_empty() { "unseen" } else { "notice" }}>{ seen.said.clone() }</p>
            if seen.has_failed {
                { save_kept(&words) }
            }
            if let (Some(here), Some(current)) = (&seen.here, current) {
                { all(&words, here, &current, &seen, &on_deed, on_file) }
            }
            if matches!(props.around.keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::LearnersMemory) }</p>
            }
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
            if let Some(asked) = &seen.asking {
                { ask(&words, asked, &on_deed, &onclose) }
            }
        </div>
    }
}

/// What a control does.
fn does<E: 'static>(on_deed: &Callback<(Deed, bool)>, deed: Deed) -> Callback<E> {
    on_deed.reform(move |_: E| (deed.clone(), false))
}

fn button(words: &Words, word: Word, id: &'static str, on_deed: &Callback<(Deed, bool)>, deed: Deed) -> Html {
    html! { <button type="button" {id} onclick={does(on_deed, deed)}>{ words.get(word) }</button> }
}

/// Everything that is here and can be done.
fn all(
    words: &Words,
    here: &Here,
    current: &str,
    seen: &View,
    on_deed: &Callback<(Deed, bool)>,
    on_file: Callback<Event>,
) -> Html {
    let everybody = here.list.list().iter().map(|one| one.id.clone()).collect();
    let onsubmit = on_deed.reform(|event: SubmitEvent| {
        event.prevent_default();
        (Deed::Add, false)
    });
    html! {
        <div class="two">
            { who(words, here, current, on_deed) }
            <div>
                <form {onsubmit}>
                    <h2>{ words.get(Word::LearnersMore) }</h2>
                    <label for={NEW_NAME}>{ words.get(Word::LearnersName) }</label>
                    <div class="typed">
                        <input type="text" id={NEW_NAME} autocomplete="off" maxlength="60" />
                        <button type="submit">{ words.get(Word::LearnersAdd) }</button>
                    </div>
                </form>
                <section aria-labelledby="backup-title">
                    <h2 id="backup-title">{ words.get(Word::BackupTitle) }</h2>
                    <p>{ words.get(if here.stays { Word::BackupStays } else { Word::BackupText }) }</p>
                    { button(words, Word::BackupSaveAll, "save-all", on_deed, Deed::Save(everybody)) }
                    { file_field(words, "open-backup", Word::BackupLabel, seen.chosen.as_deref(), on_file) }
                    { refused(words, seen.faults.as_ref()) }
                    if let Some(backup) = &seen.opened {
                        { preview(words, &here.list, backup, on_deed) }
                    }
                </section>
                <p>{ button(words, Word::LearnersEraseAll, "erase-all", on_deed, Deed::EraseAll) }</p>
            </div>
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
fn who(words: &Words, here: &Here, current: &str, on_deed: &Callback<(Deed, bool)>) -> Html {
    html! {
        <section aria-labelledby="who-title">
            <h2 id="who-title">{ words.get(Word::LearnersWho) }</h2>
            <ul class="kept">
                { for here.list.list().iter().zip(&here.contents).map(|(one, contents)| {
                    let name = shown(words, &one.name);
                    let choose = if one.id == current { Word::LearnersNow } else { Word::LearnersChoose };
                    let deeds = [
                        (choose, Deed::Choose(one.clone())),
                        (Word::LearnersRename, Deed::Rename(one.clone())),
                        (Word::BackupSave, Deed::Save(vec![one.id.clone()])),
                        (Word::LearnersErase, Deed::Erase(one.clone())),
                    ];
                    html! {
                        <li key={one.id.clone()}>
                            <span><strong>{ name.clone() }</strong>{ " " }{ kept(words, contents) }</span>
                            { for deeds.into_iter().map(|(word, deed)| {
                                let pressed = matches!(deed, Deed::Choose(_)).then(|| (one.id == current).to_string());
                                html! {
                                    <button type="button" aria-label={format!("{}: {name}", words.get(word))} aria-pressed={pressed} onclick={does(on_deed, deed)}>
                                        { words.get(word) }
                                    </button>
                                }
                            }) }
                        </li>
                    }
                }) }
            </ul>
        </section>
    }
}

/// What is in a backup, and what can be done with it.
fn preview(words: &Words, list: &LearnersV1, backup: &BackupV1, on_deed: &Callback<(Deed, bool)>) -> Html {
    html! {
        <section class="notice preview" aria-labelledby="in-it">
            <h3 id="in-it" tabindex="-1">{ words.get(Word::BackupInIt) }</h3>
            <p>{ words.fill(Word::BackupMade, &[("date", &clock::shown(&backup.saved))]) }</p>
            <ul class="kept">
                { for backup.learners.iter().map(|one| {
                    let name = shown(words, &one.name);
                    let goes = match list.named(&one.name) {
                        Some(_) => words.fill(Word::BackupGoesTo, &[("name", &name)]),
                        None => words.fill(Word::BackupGoesNew, &[("name", &list.free_name(&name))]),
                    };
                    html! { <li><span><strong>{ name }</strong>{ " " }{ kept(words, &one.contents()) }<span class="goes">{ goes }</span></span></li> }
                }) }
            </ul>
            <p class="ways">
                <button type="button" id="merge" class="main" onclick={does(on_deed, Deed::Merge)}>{ words.get(Word::BackupMerge) }</button>
                { button(words, Word::BackupReplace, "replace", on_deed, Deed::Replace) }
                { button(words, Word::LearnersLeave, "leave", on_deed, Deed::Leave) }
            </p>
        </section>
    }
}

/// Asks for a name, or whether it is really meant.
fn ask(words: &Words, asked: &Deed, on_deed: &Callback<(Deed, bool)>, onclose: &Callback<Event>) -> Html {
    let (title, text, sure, name) = match asked {
        Deed::Rename(one) => (Word::LearnersRenameTitle, None, Word::LearnersRenameDo, &*one.name),
        Deed::Erase(one) => {
            (Word::LearnersEraseTitle, Some(Word::LearnersEraseText), Word::LearnersEraseDo, &*one.name)
        }
        Deed::Replace => (Word::BackupReplaceTitle, Some(Word::BackupReplaceText), Word::BackupReplaceDo, ""),
        Deed::EraseAll | Deed::Choose(_) | Deed::Add | Deed::Save(_) | Deed::Merge | Deed::Leave => {
            (Word::LearnersEraseAllTitle, Some(Word::LearnersEraseText), Word::LearnersEraseDo, "")
        }
    };
    // What cannot be taken back is not made easy.
    let name_is_asked = matches!(asked, Deed::Rename(_));
    let meant = asked.clone();
    let onsubmit = on_deed.reform(move |event: SubmitEvent| {
        event.prevent_default();
        (meant.clone(), true)
    });
    html! {
        <dialog id={DIALOG} aria-labelledby="ask-title" onclose={onclose}>
            <form {onsubmit}>
                <h2 id="ask-title">{ words.fill(title, &[("name", &shown(words, name))]) }</h2>
                { match text {
                    Some(text) => html! { <p>{ words.get(text) }</p> },
                    None => html! {
                        <>
                            <label for={OTHER_NAME}>{ words.get(Word::LearnersName) }</label>
                            <input type="text" id={OTHER_NAME} autocomplete="off" maxlength="60" value={name.to_owned()} />
                        </>
                    },
                } }
                <p class="ways">
                    { button(words, Word::LearnersLeave, "leave-it", on_deed, Deed::Leave) }
                    <button type="submit" id="sure" class={name_is_asked.then_some("main")}>{ words.get(sure) }</button>
                </p>
            </form>
        </dialog>
    }
}

/// Who is here, and whether the list of them had to be mended.
async fn look_round(words: &Words) -> Result<(Here, bool), JsValue> {
    let first = Store::of("").await?;
    let (list, is_mended) = match first.learners().await {
        Ok(list) => (list, false),
        Err(_) => (first.mend_learners(&words.get(Word::LearnersFound)).await?, true),
    };
    let mut contents = Vec::new();
    for one in list.list() {
        contents.push(Store::of(&one.id).await?.export().await?.contents());
    }
    Ok((Here { list, contents, stays: room::is_to_stay().await }, is_mended))
}

async fn read(chosen: &File) -> Result<BackupV1, Faults> {
    match file::read(chosen, backup_v1::MOST_BYTES).await {
        Ok(text) => BackupV1::parse(&text),
        Err(Unread::TooLarge(bytes)) => Err(Faults::one("", Code::TooLarge, bytes)),
        Err(Unread::Failed) => Err(Faults::one("", Code::NotJson, chosen.name())),
    }
}

/// Does it, and says so.
async fn go_through(words: &Words, deed: Deed, typed: &str, opened: Option<BackupV1>) -> Result<AttrValue, Undone> {
    let first = Store::of("").await?;
    let list = first.learners().await?;
    let of = |word: Word, name: &str| words.fill(word, &[("name", &shown(words, name))]);
    Ok(match deed {
        Deed::Choose(one) => {
            learner::choose(&one.id);
            of(Word::LearnersChosen, &one.name)
        }
        Deed::Add => {
            first.put_learners(&named(words, list.with(&clock::new_id(), typed))?).await?;
            page::clear(NEW_NAME);
            of(Word::LearnersAdded, typed.trim())
        }
        Deed::Rename(one) => {
            first.put_learners(&named(words, list.renamed(&one.id, typed))?).await?;
            of(Word::LearnersRenamed, typed.trim())
        }
        Deed::Save(ids) => {
            let mut learners = Vec::new();
            for id in ids {
                learners.push(Store::of(&id).await?.export().await?);
            }
            let saved = clock::iso_now();
            let file = format!("bittersweet-backup-{}.json", saved.split('T').next().unwrap_or_default());
            let text = BackupV1 { saved, learners }.written();
            if text.len() > backup_v1::MOST_BYTES {
                return Err(Undone::Said(words.get(Word::BackupLarge)));
            }
            file::save(&file, &text)?;
            words.fill(Word::BackupSaved, &[("file", &file)])
        }
        Deed::Erase(one) => {
            let rest = list.without(&one.id);
            if one.id.is_empty() {
                first.import(&LearnerV1::default(), Some(&rest)).await?;
            } else {
                first.put_learners(&rest).await?;
                Store::remove(&one.id).await?;
            }
            of(Word::LearnersErased, &one.name)
        }
        Deed::EraseAll => {
            first.import(&LearnerV1::default(), Some(&LearnersV1::default())).await?;
            remove_all(&list).await?;
            learner::choose("");
            words.get(Word::LearnersErasedAll)
        }
        Deed::Merge | Deed::Replace => {
            let Some(backup) = opened else { return Err(Undone::Failed) };
            take_in(words, &first, &list, backup, matches!(deed, Deed::Replace)).await?;
            words.get(Word::BackupRestored)
        }
        Deed::Leave => words.get(Word::BackupLeft),
    })
}

fn named(words: &Words, list: Result<LearnersV1, NotNamed>) -> Result<LearnersV1, Undone> {
    list.map_err(|why| Undone::Said(words.of(&format!("not-named.{}", why.code()))))
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
async fn take_in(
    words: &Words,
    first: &Store,
    before: &LearnersV1,
    backup: BackupV1,
    replace: bool,
) -> Result<(), Undone> {
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
    for one in backup.learners {
        let place = match list.named(&one.name) {
            Some(there) => there.id.clone(),
            None => {
                let id = clock::new_id();
                list = named(words, list.with(&id, &list.free_name(&shown(words, &one.name))))?;
                id
            }
        };
        places.push((place, one));
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
        let _ = remove_all(before).await;
        learner::choose("");
    }
    Ok(())
}
