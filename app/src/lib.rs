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
mod place;
mod screen;
mod screens;
mod session;
mod shell;
mod watching;
mod words;

use modules::Shows;
use place::{Place, PlaceProps};
use shell::ShellProps;
use std::cell::{Cell, RefCell};
use wasm_bindgen::prelude::wasm_bindgen;
use yew::AppHandle;

thread_local! {
    static SHOWS: Cell<Option<Shows>> = const { Cell::new(None) };
    // Only the module that shows first goes without the words of the others.
    static ALL_WORDS: Cell<bool> = const { Cell::new(true) };
    static THERE: RefCell<Option<AppHandle<Place>>> = const { RefCell::new(None) };
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

/// Shows the page, at first in the element with the id `app`, which stays this module's own. `left` holds what other modules
/// left; `moved` says whether one came from there.
#[wasm_bindgen]
pub fn arrive(left: js_sys::Map, moved: bool) {
    edge::left::is_in(left);
    stand(SHOWS.get().map(|shows| ShellProps { shows, moved, all_words: ALL_WORDS.get() }));
}

/// Shows nothing any more: what other modules need has been left once the tasks that wait are done.
#[wasm_bindgen]
pub fn leave() {
    stand(None);
}

fn stand(page: Option<ShellProps>) {
    let props = PlaceProps { page };
    THERE.with_borrow_mut(|there| {
        if let Some(there) = there {
            there.update(props);
        } else if let Some(root) = edge::page::element("app") {
            *there = Some(yew::Renderer::<Place>::with_root_and_props(root, props).render());
        }
    });
}
