//! Keeps a run on this device while it goes on: its header once, each line as it happens, and the time reached.

use crate::{
    edge::store::{Kept, Store, Sure, reached_key},
    session::{Line, Session},
    shell::Keeper,
};
use bittersweet_core::{act::Act, units::Ms, wire::ledger_v1::HeaderV1};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Writes every line of `session` that is not kept yet, after it was painted. Where the store fails, the keeper is told
/// and the run goes on in memory.
#[hook]
pub(crate) fn use_keep(session: &Rc<Session>, keeper: &Keeper) {
    let written = use_mut_ref(|| session.kept_before);
    let is_open = keeper.store().is_some();
    use_effect_with((session.ledger.len(), is_open), {
        let (session, keeper) = (Rc::clone(session), keeper.clone());
        move |(lines, _)| {
            let Some(store) = keeper.store() else { return };
            let from = written.replace(*lines);
            for (number, line) in session.ledger.iter().copied().enumerate().skip(from) {
                write_line(&store, &keeper, &session, number, line);
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

fn write_line(store: &Store, keeper: &Keeper, session: &Session, number: usize, line: Line) {
    let (store, keeper, id) = (store.clone(), keeper.clone(), session.id.clone());
    let Ok(text) = serde_json::to_string(&line.written()) else { return };
    let header =
        (number == 0).then(|| HeaderV1::new(session.scenario(), session.conditions.help, session.started.clone()));
    let number = u32::try_from(number).unwrap_or(u32::MAX);
    spawn_local(async move {
        if let Some(header) = header {
            let kept = Kept { id: id.clone(), header: serde_json::to_string(&header).unwrap_or_default() };
            if store.put_run(&kept).await.is_err() {
                keeper.failed();
                return;
            }
        }
        if store.put_act(&id, number, &text, sure(line)).await.is_err() {
            keeper.failed();
        }
    });
}

/// What ends a phase or a run is written out at once.
const fn sure(line: Line) -> Sure {
    match line {
        Line::Act(_, Act::NoteThreshold(_) | Act::Give(_) | Act::Next(_) | Act::Finish) | Line::Pace(Ms(0), _) => {
            Sure::Strict
        }
        Line::Act(..) | Line::Pace(..) => Sure::Relaxed,
    }
}
