//! This window, told from others: by an id that a reload hands on and that a copy of the window does not get.

use super::{clock, listener::Listener};
use std::cell::OnceCell;

const KEY: &str = "bittersweet:window";

thread_local! {
    static OWN: OnceCell<(String, Listener)> = const { OnceCell::new() };
}

/// Its id.
pub(crate) fn id() -> String {
    OWN.with(|own| own.get_or_init(begin).0.clone())
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
