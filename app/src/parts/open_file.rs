//! The field in which a run file is chosen. The file is left for the screen that opens it.

use crate::{
    edge::left,
    words::{Word, Words},
};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// The field; `on_file` once a file has been left.
pub(crate) fn open_file(words: &Words, on_file: Callback<()>) -> Html {
    let onchange = move |event: Event| {
        let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
        let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
        left::put(left::FILE, &file);
        // The same file can be chosen again after it was mended.
        input.set_value("");
        on_file.emit(());
    };
    html! {
        <label class="file">
            { words.get(Word::OpenLabel) }
            <input type="file" id="open-file" accept=".json,application/json" {onchange} />
        </label>
    }
}
