//! Keeps a run on this device while it goes on: its header once, each line as it happens, and the time reached.

use super::use_lease;
use crate::{
    edge::{
        clock, room,
        store::{Store, Sure, Unkept, beat_key, reached_key},
    },
    session::{Line, Session},
    shell::Keeper,
};
use bittersweet_core::{act::Act, evidence::Evidence, review, units::Ms, wire::outcome_v1::OutcomeV1};
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
                    // Only what was ended here is evidence of whoever sits here: a run from a file may be anybody's.
                    let outcome = session.is_finished().then(|| outcome(&session)).flatten();
                    match append(&store, &session, from, outcome).await {
                        Ok(()) if from == 0 => room::ask_to_stay().await,
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
        let (id, keeper, now, is_set) = (session.id.clone(), keeper.clone(), session.run.now(), session.set.is_some());
        move |_| {
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    let reached = (reached_key(&id), now.0.to_string());
                    let beat = is_set.then(|| (beat_key(&id), clock::epoch_ms().to_string()));
                    for (key, value) in [reached].into_iter().chain(beat) {
                        if store.put_setting(&key, &value).await.is_err() {
                            keeper.failed();
                        }
                    }
                });
            }
        }
    });
}

/// What became of a run that was ended.
fn outcome(session: &Session) -> Option<OutcomeV1> {
    let reviewed = review::of_run(&session.run);
    let evidence = Evidence::of(session.scenario(), session.log(), &reviewed, &session.conditions)?;
    let day = clock::day(&session.started);
    let outcome = OutcomeV1::new(&session.id, day, session.scenario(), session.log(), evidence);
    Some(OutcomeV1 { set: session.set.as_ref().map(ToString::to_string), ..outcome })
}

/// Writes the lines of `session` from number `from` on, its header before the first, and its outcome after the last.
pub(crate) async fn append(
    store: &Store,
    session: &Session,
    from: usize,
    outcome: Option<OutcomeV1>,
) -> Result<(), Unkept> {
    let new = session.ledger.get(from..).unwrap_or_default();
    let (Some(lines), Ok(header)) = (session.lines(from), serde_json::to_string(&session.header())) else {
        return Err(Unkept::Failed);
    };
    let sure = if new.iter().any(|line| sure(*line) == Sure::Strict) { Sure::Strict } else { Sure::Relaxed };
    let outcome = outcome.map(|outcome| outcome.written());
    store.append(&session.id, ((from == 0).then_some(header.as_str()), outcome.as_deref()), from, &lines, sure).await
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
