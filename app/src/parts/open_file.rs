//! The button with which a file is chosen. A browser's own would speak the browser's language.

use crate::{
    edge::left,
    words::{Word, Words},
};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// For a run file, which is left for the screen that opens it; `on_file` once it has been.
pub(crate) fn open_file(words: &Words, chosen: Option<&str>, on_file: Callback<()>) -> Html {
    let onchange = Callback::from(move |event: Event| {
        let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        left::put(left::FILE, &file);
        // The same file can be chosen again after it was mended.
        input.set_value("");
        on_file.emit(());
    });
    file_field(words, "open-file", Word::OpenLabel, chosen, onchange)
}

/// The button under what it is for, and the file that was chosen last.
pub(crate) fn file_field(
    words: &Words,
    id: &'static str,
    label: Word,
    chosen: Option<&str>,
    onchange: Callback<Event>,
) -> Html {
    html! {
        <label class="file">
            <span>{ words.get(label) }{ " " }</span>
            // The browser's own lies over it unseen, so that a hand, a key and a reader meet that one.
            <span class="way">
                { words.get(Word::OpenChoose) }
                <input type="file" {id} accept=".json,application/json" {onchange} />
            </span>
            { for chosen.map(|name| html! { <span class="soft">{ " " }{ words.fill(Word::OpenChosen, &[("name", name)]) }</span> }) }
        </label>
    }
}
