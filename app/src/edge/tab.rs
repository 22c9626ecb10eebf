//! This window, told from others: by an id that a reload hands on and that a copy of the window does not get.
//!
//! It stands on the document, since the modules of the page share nothing else.

use super::{clock, listener::Listener, page};
use std::cell::OnceCell;

const KEY: &str = "bittersweet:window";
const ATTRIBUTE: &str = "data-window";

thread_local! {
    /// Hands the id on when the window goes; it is the first module's that asked.
    static LEAVING: OnceCell<Listener> = const { OnceCell::new() };
}

/// Its id.
pub(crate) fn id() -> String {
    let Some(root) = page::root() else { return String::new() };
    if let Some(id) = root.get_attribute(ATTRIBUTE) {
        return id;
    }
    let memory = || web_sys::window().and_then(|window| window.session_storage().ok()?);
    let handed_on = memory().and_then(|memory| {
        let id = memory.get_item(KEY).ok()?;
        // As long as the window lives nobody else can read it there.
        let _ = memory.remove_item(KEY);
        id
    });
    let id = handed_on.unwrap_or_else(clock::new_id);
    // A plain name is a valid attribute.
    let _ = root.set_attribute(ATTRIBUTE, &id);
    let leaving = id.clone();
    LEAVING.with(|listener| {
        listener.get_or_init(|| {
            Listener::new("pagehide", move || {
                if let Some(memory) = memory() {
                    let _ = memory.set_item(KEY, &leaving);
                }
            })
        });
    });
    id
}
