//! One window a run: what two of them did would not go together.
//!
//! A window says once a second that a run is open in it. Another that opens the run waits for that word, and takes the run
//! only when it does not come, or when it is told to.

use crate::{
    edge::{clock, store::Store},
    shell::Keeper,
};
use gloo_timers::callback::Interval;
use std::rc::Rc;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

const BEAT_MS: u32 = 1_000;
/// How often, and how many times, the word of another window is waited for: two beats and a half.
const WAIT_MS: i32 = 500;
const WAITS: u32 = 5;

/// Says that a run is open in this window as long as the screen is there; `on_lost` is told when another has taken it.
#[hook]
pub(crate) fn use_lease(run: &str, keeper: &Keeper, on_lost: Callback<()>) {
    use_effect_with((run.to_owned(), keeper.store().is_some()), {
        let store = keeper.store();
        move |(run, _)| {
            let (run, held) = (Rc::<str>::from(run.as_str()), store.clone());
            let holding = Rc::clone(&run);
            let beat = move || {
                let (store, run, on_lost) = (store.clone(), Rc::clone(&holding), on_lost.clone());
                spawn_local(async move {
                    if let Some(store) = store
                        && matches!(store.hold(&run, false).await, Ok(false))
                    {
                        on_lost.emit(());
                    }
                });
            };
            beat();
            let ticker = Interval::new(BEAT_MS, beat);
            move || {
                drop(ticker);
                spawn_local(async move {
                    if let Some(store) = held {
                        // A word that stays is found out by its silence.
                        let _ = store.release(&run).await;
                    }
                });
            }
        }
    });
}

/// Makes a run this window's: at once when it is to be taken, else unless another window has it and is alive.
pub(crate) async fn acquire(store: &Store, run: &str, take: bool) -> Result<bool, JsValue> {
    if store.hold(run, take).await? {
        return Ok(true);
    }
    let said = store.lease(run).await?;
    for _ in 0..WAITS {
        clock::wait(WAIT_MS).await;
        if store.lease(run).await? != said {
            return Ok(false);
        }
    }
    store.hold(run, true).await
}
