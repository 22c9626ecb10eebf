//! A beat while something goes on.

use gloo_timers::callback::Interval;
use yew::prelude::*;

/// Calls `beat` every `every_ms` while `on`; a browser may slow it down, so a beat is no measure of time.
#[hook]
pub(crate) fn use_ticker(on: bool, every_ms: u32, beat: Callback<()>) {
    use_effect_with((on, every_ms, beat), |(on, every_ms, beat)| {
        let beat = beat.clone();
        let ticker = on.then(|| Interval::new(*every_ms, move || beat.emit(())));
        move || drop(ticker)
    });
}
