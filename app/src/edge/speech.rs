//! The browser's own voice. Where there is none, nothing is said and nothing is missed.

use wasm_bindgen::JsCast;
use web_sys::{SpeechSynthesis, SpeechSynthesisUtterance, Window};

fn voice() -> Option<SpeechSynthesis> {
    let window: Window = web_sys::window()?;
    // Some browsers have no such thing at all.
    js_sys::Reflect::has(&window, &"speechSynthesis".into()).ok().filter(|has| *has)?;
    window.speech_synthesis().ok()
}

/// Whether there is a voice.
pub(crate) fn is_there() -> bool {
    voice().is_some()
}

/// Says a text in the language of the page, in place of what is being said.
pub(crate) fn say(text: &str) {
    let Some(voice) = voice() else { return };
    voice.cancel();
    if let Ok(utterance) = SpeechSynthesisUtterance::new_with_text(text) {
        let root =
            web_sys::window().and_then(|window| window.document()).and_then(|document| document.document_element());
        if let Some(tag) = root.and_then(|root| root.get_attribute("lang")) {
            utterance.set_lang(&tag);
        }
        voice.speak(utterance.unchecked_ref());
    }
}

/// Says no more.
pub(crate) fn hush() {
    if let Some(voice) = voice() {
        voice.cancel();
    }
}
