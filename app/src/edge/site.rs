//! What the site is made of: words, scenarios and questions, fetched beside the program under names that the shell lists.

use super::left;
use js_sys::Reflect;
use serde::Deserialize;
use std::{
    cell::OnceCell,
    collections::BTreeMap,
    pin::pin,
    rc::Rc,
    task::{Context, Poll, Waker},
};
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Event, Response};

/// The list in the shell, in the element with the id `site`.
#[derive(Deserialize)]
pub(crate) struct Site {
    /// Addresses of the words that the first screen needs, by language.
    pub(crate) words: BTreeMap<String, String>,
    /// Addresses of all other words, likewise.
    pub(crate) more: BTreeMap<String, String>,
    /// What each language calls itself.
    pub(crate) languages: BTreeMap<String, String>,
    /// Address of the built-in scenarios.
    pub(crate) scenarios: String,
    /// Address of what they are chosen by.
    pub(crate) offered: String,
    /// Address of the list of questions.
    pub(crate) questions: String,
}

/// The list of questions, fetched with the first of them.
#[derive(Deserialize)]
pub(crate) struct Questions {
    /// Addresses of what is right, by skill.
    pub(crate) truth: BTreeMap<String, String>,
    /// Addresses of the texts, by language and by skill.
    pub(crate) texts: BTreeMap<String, BTreeMap<String, String>>,
}

thread_local! {
    static LIST: OnceCell<Option<Rc<Site>>> = const { OnceCell::new() };
}

/// The list, which is read once.
pub(crate) fn list() -> Option<Rc<Site>> {
    let read = || {
        let text = super::page::element("site")?.text_content()?;
        serde_json::from_str(&text).ok().map(Rc::new)
    };
    LIST.with(|list| list.get_or_init(read).clone())
}

/// Says that a part of the page did not arrive. `boot.js` does it, since words may be what is missing, and offers what was
/// kept as a file.
pub(crate) fn incomplete(details: &str) {
    left::put("incomplete", &details.into());
    if let (Some(window), Ok(event)) = (web_sys::window(), Event::new("incomplete")) {
        // Where nobody listens, nothing is said.
        let _ = window.dispatch_event(&event);
    }
}

/// What comes of fetching without waiting, where everything has been fetched before: `boot.js` leaves what a module begins
/// with, so that its first screen is drawn once and whole.
pub(crate) fn at_once<T>(fetching: impl Future<Output = Result<T, String>>) -> Option<T> {
    match pin!(fetching).poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(fetched) => fetched.ok(),
        Poll::Pending => None,
    }
}

/// Fetches a text of the site, once as long as the page is open.
pub(crate) async fn fetch(address: &str) -> Result<String, String> {
    if let Some(text) = left::look(address).as_string() {
        return Ok(text);
    }
    let said = |error: JsValue| {
        let message = Reflect::get(&error, &"message".into()).ok().and_then(|message| message.as_string());
        message.unwrap_or_else(|| "no answer".to_owned())
    };
    let window = web_sys::window().ok_or("no window")?;
    let response: Response = JsFuture::from(window.fetch_with_str(address)).await.map_err(said)?.unchecked_into();
    if !response.ok() {
        return Err(format!("{} {}", response.status(), response.status_text()));
    }
    let text = JsFuture::from(response.text().map_err(said)?).await.map_err(said)?;
    left::put(address, &text);
    text.as_string().ok_or_else(|| "no text".to_owned())
}
