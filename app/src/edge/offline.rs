//! Whether the page is kept for use without a network. `offline.js` sees to it and tells how it stands.

use super::page;
use web_sys::Event;

/// The event by which every change is told.
pub(crate) const CHANGED: &str = "offline-state";

/// How it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Offline {
    /// This address is not one for which browsers keep a page.
    Insecure,
    /// The page is inside another.
    Frame,
    /// It cannot be had here.
    Unavailable,
    /// The parts are on their way.
    Coming,
    /// Everything is there.
    Ready,
    /// And a newer version waits.
    Newer,
    /// Another window has taken a newer version, whose parts are kept now.
    Taken,
}

impl Offline {
    /// How it stands now.
    pub(crate) fn now() -> Self {
        let state = page::root().and_then(|root| root.get_attribute("data-offline"));
        match state.as_deref() {
            Some("insecure") => Self::Insecure,
            Some("frame") => Self::Frame,
            Some("none") => Self::Unavailable,
            Some("ready") => Self::Ready,
            Some("newer") => Self::Newer,
            Some("taken") => Self::Taken,
            _ => Self::Coming,
        }
    }
}

/// Asks for the newer version; the page is loaded anew once it is there.
pub(crate) fn take_newer() {
    if let (Some(window), Ok(event)) = (web_sys::window(), Event::new("take-newer")) {
        // An event that nobody listens to changes nothing.
        let _ = window.dispatch_event(&event);
    }
}
