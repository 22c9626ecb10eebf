//! The page over [`bittersweet_core`]: screens that show what the core says and send it acts.
//!
//! No rule stands here: if a figure needs a test, it belongs to the core. All web interfaces outside components are in
//! `edge`.
//!
//! The page is several modules, each a program of its own in `bin/` that says which screens it shows. `boot.js` has one of
//! them [`arrive`] where an address is its own, and [`leave`] before another does.

mod begin;
mod edge;
mod hooks;
mod modules;
mod parts;
mod screen;
mod screens;
mod session;
mod shell;
mod watching;
mod words;

use modules::Shows;
use std::cell::{Cell, RefCell};
use wasm_bindgen::prelude::wasm_bindgen;
use yew::AppHandle;

thread_local! {
    static SHOWS: Cell<Option<Shows>> = const { Cell::new(None) };
    // Only the module that shows first goes without the words of the others.
    static ALL_WORDS: Cell<bool> = const { Cell::new(true) };
    static THERE: RefCell<Option<AppHandle<shell::Shell>>> = const { RefCell::new(None) };
}

/// This program is the module of the ways in.
pub fn start() {
    SHOWS.set(Some(modules::start));
    ALL_WORDS.set(false);
}

/// This program is the module of a run.
pub fn run() {
    SHOWS.set(Some(modules::run));
}

/// This program is the module of runs looked back on.
pub fn review() {
    SHOWS.set(Some(modules::review));
}

/// This program is the module of short exercises.
pub fn practice() {
    SHOWS.set(Some(modules::practice));
}

/// This program is the module of the worker's story.
pub fn worker() {
    SHOWS.set(Some(modules::worker));
}

/// This program is the module of what is kept of whoever practises.
pub fn kept() {
    SHOWS.set(Some(modules::kept));
}

/// This program is all modules in one.
pub fn all() {
    SHOWS.set(Some(modules::all));
}

/// Takes over the element with the id `app`. `left` holds what other modules left; `moved` says whether one came from there.
#[wasm_bindgen]
pub fn arrive(left: js_sys::Map, moved: bool) {
    edge::left::is_in(left);
    if let (Some(shows), Some(root)) = (SHOWS.get(), edge::page::element("app")) {
        let props = shell::ShellProps { shows, moved, all_words: ALL_WORDS.get() };
        THERE.replace(Some(yew::Renderer::<shell::Shell>::with_root_and_props(root, props).render()));
    }
}

/// Lets go of the page: what other modules need has been left once the tasks that wait are done.
#[wasm_bindgen]
pub fn leave() {
    if let Some(there) = THERE.take() {
        there.destroy();
    }
}
