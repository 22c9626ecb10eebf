//! Ways to a file where something has failed.

use crate::{
    edge::file,
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::wire::run_v1;
use std::rc::Rc;
use yew::prelude::*;

/// Offers everything that is kept of whoever practises, as it lies in the store. `boot.js` hears the button: it reads the store
/// without knowing what is in it, so that nothing damaged is in its way.
pub(crate) fn save_kept(words: &Words) -> Html {
    html! { <p><button type="button" data-saves="kept">{ words.get(Word::RunSaveKept) }</button></p> }
}

/// Says that a run is in memory only, and offers its log so far: a file that can be opened to go on.
pub(crate) fn in_memory(words: &Words, session: &Rc<Session>) -> Html {
    let session = Rc::clone(session);
    let onclick = move |_: MouseEvent| {
        let log = run_v1::of_log(session.scenario(), session.log(), &session.conditions);
        if let Ok(text) = serde_json::to_string(&log) {
            // Where the browser offers no file, the run and this button are still there.
            let _ = file::save(&format!("bittersweet-{}-{}.json", session.scenario().id, session.id), &text);
        }
    };
    html! {
        <div class="notice">
            <p>{ words.get(Word::KeepMemory) }</p>
            <button type="button" id="save-so-far" {onclick}>{ words.get(Word::RunSaveSoFar) }</button>
        </div>
    }
}
