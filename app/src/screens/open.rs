//! Opens a run file and goes to the run or its review, or says what is wrong with the file.

use crate::{
    edge::{
        address, clock,
        file::{self, Unread},
        left, page,
    },
    hooks::append,
    parts::{open_file::open_file, refused::refused},
    screen::Screen,
    screens::desk::leave,
    session::Session,
    shell::{Around, Keeper, Keeping},
    words::Word,
};
use bittersweet_core::wire::{
    Code, Faults, MOST_RUN_BYTES,
    run_v1::{self, Opened},
};
use std::rc::Rc;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::spawn_local;
use web_sys::File;
use yew::prelude::*;

/// Properties of [`Open`].
#[derive(Properties, PartialEq)]
pub(crate) struct OpenProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// The screen.
#[component]
pub(crate) fn Open(props: &OpenProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let faults = use_state(|| None::<(String, Faults)>);
    let on_file = {
        let (faults, keeper) = (faults.clone(), keeper.clone());
        Callback::from(move |()| {
            let Ok(file) = left::take(left::FILE).dyn_into::<File>() else { return };
            let (faults, keeper) = (faults.clone(), keeper.clone());
            spawn_local(async move {
                match read(&file).await {
                    Ok(opened) => lay(&keeper, opened).await,
                    Err(found) => {
                        faults.set(Some((file.name(), found)));
                        page::focus("heading");
                    }
                }
            });
        })
    };
    // A file that was chosen at the start, once it is known where the run is to be kept.
    use_effect_with(matches!(keeper.keeping, Keeping::Opening), {
        let on_file = on_file.clone();
        move |is_opening| {
            if !*is_opening {
                on_file.emit(());
            }
        }
    });
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::OpenTitle) }</h1>
            <p>{ words.get(Word::OpenLead) }</p>
            { open_file(&words, faults.as_ref().map(|(name, _)| name.as_str()), on_file) }
            { refused(&words, faults.as_ref().map(|(_, faults)| faults)) }
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

async fn read(chosen: &File) -> Result<Opened, Faults> {
    match file::read(chosen, MOST_RUN_BYTES).await {
        Ok(text) => run_v1::parse(&text),
        Err(Unread::TooLarge(bytes)) => Err(Faults::one("", Code::TooLarge, bytes)),
        Err(Unread::Failed) => Err(Faults::one("", Code::NotJson, chosen.name())),
    }
}

/// Lays the run on the desk and goes there.
async fn lay(keeper: &Keeper, opened: Opened) {
    let session = Session::open(clock::new_id(), clock::iso_now(), opened, clock::now_ms());
    let mut kept = false;
    // All of it is new at once: it is kept before it is shown, so that a reload finds it whole.
    if let (Some(store), None) = (keeper.store(), &session.recorded) {
        kept = append(&store, &session, 0, None).await.is_ok();
        if !kept {
            keeper.failed();
        }
    }
    let session = Rc::new(session);
    leave(&session, kept);
    let id = session.id.clone();
    let is_over = session.is_finished() || session.recorded.is_some();
    let there = if is_over { Screen::Review(id) } else { Screen::Rehearse(id) };
    address::go_instead(&there.address());
}
