//! This window, told from others: by an id that a reload hands on and that a copy of the window does not get.

use super::{clock, left, listener::Listener};
use std::cell::RefCell;

const KEY: &str = "bittersweet:window";

thread_local! {
    static LEAVING: RefCell<Option<Listener>> = const { RefCell::new(None) };
}

/// Its id: the same for every module of the page.
pub(crate) fn id() -> String {
    if let Some(id) = left::look(left::WINDOW).as_string() {
        return id;
    }
    let (id, listener) = begin();
    left::put(left::WINDOW, &id.as_str().into());
    // The module that made it listens as long as the page lives, whichever shows.
    LEAVING.replace(Some(listener));
    id
}

fn begin() -> (String, Listener) {
    let memory = || web_sys::window().and_then(|window| window.session_storage().ok()?);
    let handed_on = memory().and_then(|memory| {
        let id = memory.get_item(KEY).ok()?;
        // As long as the window lives nobody else can read it there.
        let _ = memory.remove_item(KEY);
        id
    });
    let id = handed_on.unwrap_or_else(clock::new_id);
    let leaving = id.clone();
    let listener = Listener::new("pagehide", move || {
        if let Some(memory) = memory() {
            let _ = memory.set_item(KEY, &leaving);
        }
    });
    (id, listener)
}
