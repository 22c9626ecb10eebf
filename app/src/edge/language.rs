//! The language of the page. `boot.js` chooses it before anything is painted, by the address, by what was chosen before and
//! by the browser; here it is read, changed and remembered.

use web_sys::{Url, Window};

/// What an address names the language by.
const IN_ADDRESS: &str = "lang";

/// The language that the page is in.
pub(crate) fn spoken() -> String {
    super::page::root().and_then(|root| root.get_attribute("lang")).unwrap_or_default()
}

/// Says which language the page is in from now on, and remembers it.
pub(crate) fn speak(tag: &str) {
    if let Some(root) = super::page::root() {
        // A tag that names a file of the site is a valid attribute.
        let _ = root.set_attribute("lang", tag);
    }
    let Some(window) = web_sys::window() else { return };
    // Where nothing can be kept, the choice holds for as long as the page is open.
    if let Ok(Some(kept)) = window.local_storage() {
        let _ = kept.set_item(&key(), tag);
    }
    name_in_address(&window, tag);
}

/// Where the choice is kept. Not in the store: `boot.js` needs it before the first paint, and the store takes a while.
fn key() -> String {
    format!("bittersweet:{}:language", super::address::folder())
}

/// An address that asks for a language asks for this one, so that loading it again changes nothing.
fn name_in_address(window: &Window, tag: &str) {
    let Some(address) = window.location().href().ok().and_then(|href| Url::new(&href).ok()) else { return };
    let asked = address.search_params();
    if asked.has(IN_ADDRESS) {
        asked.set(IN_ADDRESS, tag);
        if let Ok(history) = window.history() {
            // An address that cannot be changed stays.
            let _ = history.replace_state_with_url(&wasm_bindgen::JsValue::NULL, "", Some(&address.href()));
        }
    }
}

/// The mark that the browser puts before decimals in the language of the page. The first time it takes the browser as long as
/// drawing a screen.
pub(crate) fn decimal() -> char {
    let half = js_sys::Number::from(0.5).to_locale_string(&locale(&spoken()));
    String::from(half).chars().find(|letter| !letter.is_numeric()).unwrap_or('.')
}

/// How the browser writes figures and dates in a language: as its own region does, where it speaks the same one.
pub(crate) fn locale(spoken: &str) -> String {
    let main = |tag: &str| tag.split('-').next().unwrap_or_default().to_ascii_lowercase();
    let wished = web_sys::window().map(|window| window.navigator().languages()).unwrap_or_default();
    wished
        .iter()
        .filter_map(|tag| tag.as_string())
        .find(|tag| main(tag) == main(spoken))
        .unwrap_or_else(|| spoken.to_owned())
}
