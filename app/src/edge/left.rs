//! What a screen leaves for the next one, in a map that lives as long as the page: the next may stand in another module, and
//! modules share no memory.

use js_sys::Map;
use serde::{Serialize, de::DeserializeOwned};
use std::cell::RefCell;
use wasm_bindgen::JsValue;

/// The run on the desk.
pub(crate) const DESK: &str = "desk";

/// The run that is watched.
pub(crate) const LOOKOUT: &str = "lookout";

/// A file to be opened.
pub(crate) const FILE: &str = "file";

/// Something, where acts are kept in memory only.
pub(crate) const IN_MEMORY: &str = "in-memory";

thread_local! {
    static LEFT: RefCell<Map> = RefCell::new(Map::new());
}

/// The map is this one from now on.
pub(crate) fn is_in(map: Map) {
    LEFT.replace(map);
}

/// Leaves something under a name.
pub(crate) fn put(name: &str, value: &JsValue) {
    LEFT.with_borrow(|left| left.set(&name.into(), value));
}

/// What was left under a name.
pub(crate) fn look(name: &str) -> JsValue {
    LEFT.with_borrow(|left| left.get(&name.into()))
}

/// Takes what was left under a name, so that it is found once.
pub(crate) fn take(name: &str) -> JsValue {
    let left = look(name);
    LEFT.with_borrow(|left| left.delete(&name.into()));
    left
}

/// Leaves a value as JSON.
pub(crate) fn put_json(name: &str, value: &impl Serialize) {
    if let Ok(text) = serde_json::to_string(value) {
        put(name, &text.into());
    }
}

/// Reads what was left as JSON.
pub(crate) fn read_json<T: DeserializeOwned>(left: &JsValue) -> Option<T> {
    serde_json::from_str(&left.as_string()?).ok()
}
