//! The address: everything after `#`, which no server ever sees.

use wasm_bindgen::{JsCast, closure::Closure};

/// The part after `#/`.
pub(crate) fn read() -> String {
    let hash = web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default();
    hash.trim_start_matches('#').trim_start_matches('/').to_owned()
}

/// Goes to `#/path`.
pub(crate) fn go(path: &str) {
    if let Some(window) = web_sys::window() {
        // Setting a fragment does not fail in a page that shows.
        let _ = window.location().set_hash(&format!("/{path}"));
    }
}

/// Tells of every change of address, until it is dropped.
pub(crate) struct Listener {
    changed: Closure<dyn Fn()>,
}

impl Listener {
    /// Listens from now on.
    pub(crate) fn new(changed: impl Fn() + 'static) -> Self {
        let changed = Closure::<dyn Fn()>::new(changed);
        if let Some(window) = web_sys::window() {
            let _ = window.add_event_listener_with_callback("hashchange", changed.as_ref().unchecked_ref());
        }
        Self { changed }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        if let Some(window) = web_sys::window() {
            let _ = window.remove_event_listener_with_callback("hashchange", self.changed.as_ref().unchecked_ref());
        }
    }
}
