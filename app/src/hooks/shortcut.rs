//! A single key for an act, wherever the focus is, except where text is typed or chosen.

use crate::edge::page;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::KeyboardEvent;
use yew::prelude::*;

/// Calls `pressed` when `key` goes down while `on`; a held key counts once, and a key with a modifier not at all.
#[hook]
pub(crate) fn use_shortcut(on: bool, key: &'static str, pressed: Callback<()>) {
    use_effect_with((on, pressed), move |(on, pressed)| {
        let pressed = pressed.clone();
        let listener = on.then(|| {
            Closure::<dyn Fn(KeyboardEvent)>::new(move |event: KeyboardEvent| {
                let modified = event.ctrl_key() || event.alt_key() || event.meta_key();
                if !modified && !event.repeat() && event.key().eq_ignore_ascii_case(key) && !page::is_typing() {
                    event.prevent_default();
                    pressed.emit(());
                }
            })
        });
        let window = web_sys::window();
        if let (Some(window), Some(listener)) = (&window, &listener) {
            let _ = window.add_event_listener_with_callback("keydown", listener.as_ref().unchecked_ref());
        }
        move || {
            if let (Some(window), Some(listener)) = (window, listener) {
                let _ = window.remove_event_listener_with_callback("keydown", listener.as_ref().unchecked_ref());
            }
        }
    });
}
