//! The figures 1 to 9 choose what stands in that place, wherever the focus is, except where text is typed.

use crate::edge::page;
use wasm_bindgen::{JsCast, closure::Closure};
use web_sys::KeyboardEvent;
use yew::prelude::*;

/// Calls `pressed` with a place, from 0, when its figure goes down while `on`.
#[hook]
pub(crate) fn use_digits(on: bool, pressed: Callback<usize>) {
    use_effect_with((on, pressed), move |(on, pressed)| {
        let pressed = pressed.clone();
        let listener = on.then(|| {
            Closure::<dyn Fn(KeyboardEvent)>::new(move |event: KeyboardEvent| {
                let modified = event.ctrl_key() || event.alt_key() || event.meta_key();
                let place = event.key().parse::<usize>().ok().and_then(|figure| figure.checked_sub(1));
                if let Some(place) = place.filter(|_| !modified && !event.repeat() && !page::is_typing()) {
                    event.prevent_default();
                    pressed.emit(place);
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
