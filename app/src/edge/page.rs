//! Elements, focus and the title.

use wasm_bindgen::JsCast;
use web_sys::{Document, Element, Event, HtmlDialogElement, HtmlElement, HtmlInputElement, HtmlSelectElement};

fn document() -> Option<Document> {
    web_sys::window()?.document()
}

/// The element with this id.
pub(crate) fn element(id: &str) -> Option<Element> {
    document()?.get_element_by_id(id)
}

/// The element that holds the whole page.
pub(crate) fn root() -> Option<Element> {
    document()?.document_element()
}

/// Moves the focus to the element with this id, and it into view.
pub(crate) fn focus(id: &str) {
    if let Some(element) = element(id).and_then(|element| element.dyn_into::<HtmlElement>().ok()) {
        // Nothing is lost where an element cannot take the focus.
        let _ = element.focus();
    }
}

/// Sets the title of the page.
pub(crate) fn entitle(title: &str) {
    if let Some(document) = document() {
        document.set_title(title);
    }
}

/// What was chosen in the list that an event comes from.
pub(crate) fn chosen(event: &Event) -> String {
    let list = event.target().and_then(|target| target.dyn_into::<HtmlSelectElement>().ok());
    list.map(|list| list.value()).unwrap_or_default()
}

/// What is chosen in the list with this id.
pub(crate) fn choice(id: &str) -> Option<String> {
    element(id)?.dyn_into::<HtmlSelectElement>().ok().map(|list| list.value())
}

/// What is typed in the field with this id.
pub(crate) fn typed(id: &str) -> String {
    element(id)
        .and_then(|field| field.dyn_into::<HtmlInputElement>().ok())
        .map(|field| field.value())
        .unwrap_or_default()
}

/// Empties the field with this id.
pub(crate) fn clear(id: &str) {
    if let Some(field) = element(id).and_then(|field| field.dyn_into::<HtmlInputElement>().ok()) {
        field.set_value("");
    }
}

fn dialog(id: &str) -> Option<HtmlDialogElement> {
    element(id)?.dyn_into().ok()
}

/// Opens a dialog over the page, which is out of reach until it closes.
pub(crate) fn open_dialog(id: &str) {
    if let Some(dialog) = dialog(id) {
        // One that is open already stays open.
        let _ = dialog.show_modal();
    }
}

/// Closes a dialog: the focus goes back to where it was.
pub(crate) fn close_dialog(id: &str) {
    if let Some(dialog) = dialog(id) {
        dialog.close();
    }
}

/// Whether the focus is where text is typed or chosen, so that a key is not a shortcut.
pub(crate) fn is_typing() -> bool {
    let active = document().and_then(|document| document.active_element());
    active.is_some_and(|element| {
        let tag = element.tag_name();
        tag == "SELECT"
            || tag == "TEXTAREA"
            || (tag == "INPUT" && element.get_attribute("type").is_none_or(|kind| kind == "text"))
    })
}

/// Opens the browser's print dialogue.
pub(crate) fn print() {
    if let Some(window) = web_sys::window() {
        // A browser that does not print leaves the page as it is.
        let _ = window.print();
    }
}
