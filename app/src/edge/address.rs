//! The address: everything after `#`, which no server ever sees.

/// The event by which `boot.js` tells that this module shows what is at another address.
pub(crate) const CHANGED: &str = "moved";

/// The part after `#/`.
pub(crate) fn read() -> String {
    let hash = web_sys::window().and_then(|window| window.location().hash().ok()).unwrap_or_default();
    hash.trim_start_matches('#').trim_start_matches('/').to_owned()
}

/// The folder that the page lies in: two installations on one host are kept apart by it.
pub(crate) fn folder() -> String {
    let path = web_sys::window().and_then(|window| window.location().pathname().ok()).unwrap_or_default();
    path.rfind('/').map_or("/", |end| &path[..=end]).to_owned()
}

/// Goes to `#/path`.
pub(crate) fn go(path: &str) {
    if let Some(window) = web_sys::window() {
        // Setting a fragment does not fail in a page that shows.
        let _ = window.location().set_hash(&format!("/{path}"));
    }
}

/// Goes to `#/path` in place of where one is, so that the way back does not lead there.
pub(crate) fn go_instead(path: &str) {
    if let Some(window) = web_sys::window() {
        let _ = window.location().replace(&format!("#/{path}"));
    }
}
