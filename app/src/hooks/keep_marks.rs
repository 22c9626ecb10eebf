//! Keeps the marks beside a watched run on this device: its header once, each mark as it is made, and the time reached.

use super::use_lease;
use crate::{
    edge::{
        clock,
        store::{New, Store, Sure, Unkept},
    },
    shell::Keeper,
    watching::Watching,
};
use bittersweet_core::wire::watch_v1::HeaderV1;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Writes every mark of `watching` that is not kept yet, and its header once. Where the store fails, the keeper is told and
/// the watching goes on in memory.
/// Where another window has taken it, `on_lost` is told.
#[hook]
pub(crate) fn use_keep_marks(watching: &Rc<Watching>, keeper: &Keeper, on_lost: Callback<()>) {
    use_lease(&watching.id, keeper, on_lost.clone());
    // What was written before this screen came up may be written again: it is the same, under the same numbers.
    let written = use_mut_ref(|| None);
    let is_open = keeper.store().is_some();
    use_effect_with((watching.lines(), watching.run().now().0 / 1_000, is_open), {
        let (watching, keeper) = (Rc::clone(watching), keeper.clone());
        move |(lines, ..)| {
            let Some(store) = keeper.store() else { return };
            let before = written.replace(Some(*lines));
            spawn_local(async move {
                clock::painted().await;
                match append(&store, &watching, before).await {
                    Ok(()) => {}
                    Err(Unkept::Elsewhere) => on_lost.emit(()),
                    Err(Unkept::Failed) => keeper.failed(),
                }
            });
        }
    });
}

/// Writes the lines that come after the first `before`, and the header where nothing was written yet.
async fn append(store: &Store, watching: &Watching, before: Option<usize>) -> Result<(), Unkept> {
    let from = before.unwrap_or(watching.kept_before);
    let new = watching.ledger.get(from.saturating_sub(watching.kept_before)..).unwrap_or_default();
    let lines: Result<Vec<String>, _> = new.iter().map(serde_json::to_string).collect();
    let header = serde_json::to_string(&HeaderV1::new(watching.scenario(), watching.started.clone()));
    let (Ok(lines), Ok(header)) = (lines, header) else { return Err(Unkept::Failed) };
    let (header, reached) = (before.is_none().then_some(header), Some(watching.run().now()));
    store.append(&watching.id, &New { header, from, lines, reached, ..New::default() }, Sure::Relaxed).await
}
