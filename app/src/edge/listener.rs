//! Listening to the window.

use wasm_bindgen::{JsCast, closure::Closure};

/// Tells of every event of one name, until it is dropped.
pub(crate) struct Listener {
    name: &'static str,
    heard: Closure<dyn Fn()>,
}

impl Listener {
    /// Listens from now on.
    pub(crate) fn new(name: &'static str, heard: impl Fn() + 'static) -> Self {
        let heard = Closure::<dyn Fn()>::new(heard);
        if let Some(window) = web_sys::window() {
            let _ = window.add_event_listener_with_callback(name, heard.as_ref().unchecked_ref());
        }
        Self { name, heard }
    }
}

impl Drop for Listener {
    fn drop(&mut self) {
        if let Some(window) = web_sys::window() {
            let _ = window.remove_event_listener_with_callback(self.name, self.heard.as_ref().unchecked_ref());
        }
    }
}
