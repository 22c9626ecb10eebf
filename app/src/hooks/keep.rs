//! Keeps a run on this device while it goes on: its header once, each line as it happens, and the time reached.

use super::use_lease;
use crate::{
    edge::store::{Store, Sure, Unkept},
    session::{Line, Session},
    shell::Keeper,
};
use bittersweet_core::{
    act::Act,
    units::Ms,
    wire::{backup_v1::reached_key, ledger_v1::HeaderV1},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Writes every line of `session` that is not kept yet, after it was painted. Where the store fails, the keeper is told
/// and the run goes on in memory; where another window has taken the run, `on_lost` is told.
#[hook]
pub(crate) fn use_keep(session: &Rc<Session>, keeper: &Keeper, on_lost: Callback<()>) {
    use_lease(&session.id, keeper, on_lost.clone());
    let written = use_mut_ref(|| session.kept_before);
    let is_open = keeper.store().is_some();
    use_effect_with((session.ledger.len(), is_open), {
        let (session, keeper) = (Rc::clone(session), keeper.clone());
        move |(lines, _)| {
            let Some(store) = keeper.store() else { return };
            let from = written.replace(*lines);
            if from < *lines {
                spawn_local(async move {
                    match append(&store, &session, from).await {
                        Ok(()) => {}
                        Err(Unkept::Elsewhere) => on_lost.emit(()),
                        Err(Unkept::Failed) => keeper.failed(),
                    }
                });
            }
        }
    });
    // The time that passed without an act is kept too, second by second.
    use_effect_with((session.run.now().0 / 1_000, is_open), {
        let (id, keeper, now) = (session.id.clone(), keeper.clone(), session.run.now());
        move |_| {
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    if store.put_setting(&reached_key(&id), &now.0.to_string()).await.is_err() {
                        keeper.failed();
                    }
                });
            }
        }
    });
}

/// Writes the lines of `session` from number `from` on, and its header before the first.
pub(crate) async fn append(store: &Store, session: &Session, from: usize) -> Result<(), Unkept> {
    let new = session.ledger.get(from..).unwrap_or_default();
    let lines: Result<Vec<String>, _> = new.iter().map(|line| serde_json::to_string(&line.written())).collect();
    let header = HeaderV1::new(session.scenario(), &session.conditions, session.started.clone());
    let (Ok(lines), Ok(header)) = (lines, serde_json::to_string(&header)) else { return Err(Unkept::Failed) };
    let sure = if new.iter().any(|line| sure(*line) == Sure::Strict) { Sure::Strict } else { Sure::Relaxed };
    store.append(&session.id, (from == 0).then_some(header.as_str()), from, &lines, sure).await
}

/// What ends a phase or a run is written out at once.
const fn sure(line: Line) -> Sure {
    match line {
        Line::Act(_, Act::NoteThreshold(_) | Act::Give(_) | Act::Next(_) | Act::Finish) | Line::Pace(Ms(0), _) => {
            Sure::Strict
        }
        Line::Act(..) | Line::Pace(..) | Line::Hint(_) => Sure::Relaxed,
    }
}
