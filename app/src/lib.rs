//! The page over [`bittersweet_core`]: screens that show what the core says and send it acts.
//!
//! No rule stands here: if a figure needs a test, it belongs to the core. All web interfaces outside components are in
//! `edge`.

mod edge;
mod hooks;
mod parts;
mod screen;
mod screens;
mod session;
mod shell;
mod watching;
mod words;

/// Takes over the element with the id `app`.
pub fn mount() {
    if let Some(root) = edge::page::element("app") {
        yew::Renderer::<shell::Shell>::with_root(root).render();
    }
}
