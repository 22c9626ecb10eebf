//! The site while it is worked on: the last one that was built, and what the page is told about the next.

use crate::{
    offline,
    server::{Answer, House, kind_of},
    shelf,
    site::{PAGE, Site},
};
use serde_json::json;
use std::{
    io::Write as _,
    net::TcpStream,
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};

const BUILDING: &str = include_str!("../live/building.html");
const SCRIPT: &str = include_str!("../live/live.js");
const WORKER: &str = include_str!("../live/sw.js");
const STYLE: &str = include_str!("../live/live.css");
/// What makes a page listen; it goes into every page that `serve` hands out and into nothing that is shipped.
const LISTEN: &str =
    "<link rel=\"stylesheet\" href=\"live/live.css\"><script src=\"live/live.js\" type=\"module\"></script></head>";

/// How far the build is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Stage {
    /// Under way; the text says with what.
    Building(String),
    /// Done.
    Ready,
    /// It does not compile; the text is the compiler's.
    Broken(String),
}

/// A site that is replaced when it has been built anew.
#[derive(Clone)]
pub(crate) struct Live(Arc<Mutex<State>>);

struct State {
    stage: Stage,
    site: Option<Arc<Site>>,
    listeners: Vec<TcpStream>,
}

impl Live {
    /// Nothing is built yet.
    pub(crate) fn new() -> Self {
        let stage = Stage::Building(String::new());
        Self(Arc::new(Mutex::new(State { stage, site: None, listeners: Vec::new() })))
    }

    /// Tells all open pages how far the build is.
    pub(crate) fn tell(&self, stage: Stage) {
        let mut state = self.lock();
        state.stage = stage;
        let event = state.event();
        state.listeners.retain_mut(|listener| send(listener, &event));
    }

    /// Puts a new site in place of the last; open pages then fetch it.
    pub(crate) fn replace(&self, mut site: Site) {
        if let Some(page) = site.get_mut(PAGE) {
            *page = String::from_utf8_lossy(page).replacen("</head>", LISTEN, 1).into_bytes();
        }
        self.lock().site = Some(Arc::new(site));
        self.tell(Stage::Ready);
    }

    fn lock(&self) -> MutexGuard<'_, State> {
        // Every change of the state is whole by itself, so what another thread left is good.
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    fn event(&self) -> String {
        let (stage, text) = match &self.stage {
            Stage::Building(text) => ("building", text.as_str()),
            Stage::Ready => ("ready", ""),
            Stage::Broken(text) => ("broken", text.as_str()),
        };
        format!("data: {}\n\n", json!({ "stage": stage, "text": text, "version": self.version() }))
    }

    /// What the page's own block says of the version, so that a page knows whether it is the last one.
    fn version(&self) -> Option<String> {
        let page = String::from_utf8_lossy(self.site.as_ref()?.get(PAGE)?);
        let (_, rest) = page.split_once("\"version\":\"")?;
        Some(rest.split_once('"')?.0.to_owned())
    }
}

fn send(listener: &mut TcpStream, event: &str) -> bool {
    listener.write_all(event.as_bytes()).is_ok()
}

impl House for Live {
    fn at(&self, address: &str, _takes_brotli: bool) -> Answer {
        let own = |text: &str| Answer::File { bytes: text.into(), kind: kind_of(address), brotli: false };
        match address {
            "live/events" => {
                let live = self.clone();
                Answer::Events(Box::new(move |mut listener| {
                    let mut state = live.lock();
                    if send(&mut listener, &state.event()) {
                        state.listeners.push(listener);
                    }
                }))
            }
            "live/live.js" => own(SCRIPT),
            "live/live.css" => own(STYLE),
            offline::WORKER => own(WORKER),
            _ => match (self.lock().site.clone(), address) {
                (Some(site), _) => shelf::take(&site, address, false),
                (None, "" | PAGE) => Answer::File { bytes: BUILDING.into(), kind: kind_of(PAGE), brotli: false },
                (None, _) => Answer::Missing,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(live: &Live, address: &str) -> String {
        match live.at(address, false) {
            Answer::File { bytes, .. } => String::from_utf8(bytes).unwrap(),
            Answer::Missing | Answer::Events(_) => String::new(),
        }
    }

    fn site(version: &str) -> Site {
        let page = format!("<head></head>{{\"version\":\"{version}\"}}");
        Site::from([(PAGE.to_owned(), page.into_bytes())])
    }

    #[test]
    fn before_the_first_site_the_page_says_that_it_is_being_built() {
        let live = Live::new();
        assert_eq!(text(&live, ""), BUILDING);
        assert_eq!(text(&live, "app.js"), "");
    }

    #[test]
    fn a_worker_from_an_earlier_visit_is_replaced_by_one_that_goes() {
        assert!(text(&Live::new(), offline::WORKER).contains("unregister"));
    }

    #[test]
    fn a_site_that_does_not_compile_leaves_the_last_one_standing() {
        let live = Live::new();
        live.replace(site("1"));
        live.tell(Stage::Broken("error: no".to_owned()));
        assert!(text(&live, "").contains("live/live.js"));
        assert!(live.lock().event().contains("error: no"));
        assert_eq!(live.lock().version().as_deref(), Some("1"));
    }

    #[test]
    fn an_event_is_one_line_whatever_the_compiler_wrote() {
        let live = Live::new();
        live.tell(Stage::Broken("one\r\n\ntwo".to_owned()));
        assert_eq!(live.lock().event().trim_end().lines().count(), 1);
    }
}
