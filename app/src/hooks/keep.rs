//! Keeps a run on this device while it goes on: its header once, each line as it happens, and the time reached.

use super::use_lease;
use crate::{
    edge::{
        clock, room,
        store::{New, Store, Sure, Unkept},
    },
    session::{Line, Session},
    shell::Keeper,
};
use bittersweet_core::{act::Act, evidence::Evidence, review, units::Ms, wire::outcome_v1::OutcomeV1};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Writes every line of `session` that is not kept yet, and the time reached with it, second by second where nothing else is
/// new. Where the store fails, the keeper is told and the run goes on in memory; where another window has taken the run,
/// `on_lost` is told.
#[hook]
pub(crate) fn use_keep(session: &Rc<Session>, keeper: &Keeper, on_lost: Callback<()>) {
    use_lease(&session.id, keeper, on_lost.clone());
    let written = use_mut_ref(|| session.kept_before);
    let is_open = keeper.store().is_some();
    use_effect_with((session.ledger.len(), session.run.now().0 / 1_000, is_open), {
        let (session, keeper) = (Rc::clone(session), keeper.clone());
        move |(lines, ..)| {
            let Some(store) = keeper.store() else { return };
            let lines = *lines;
            let from = written.replace(lines);
            spawn_local(async move {
                // The frame comes first; but whoever ends a run goes on to what became of it.
                if !session.is_finished() {
                    clock::painted().await;
                }
                // Only what was ended here is evidence of whoever sits here: a run from a file may be anybody's.
                let is_end = session.is_finished() && from < lines;
                match append(&store, &session, from, is_end.then(|| outcome(&session)).flatten()).await {
                    Ok(()) if from == 0 => room::ask_to_stay().await,
                    Ok(()) => {}
                    Err(Unkept::Elsewhere) => on_lost.emit(()),
                    Err(Unkept::Failed) => keeper.failed(),
                }
            });
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

/// Writes the lines of `session` from number `from` on, its header before the first, its outcome after the last, and the time
/// reached.
pub(crate) async fn append(
    store: &Store,
    session: &Session,
    from: usize,
    outcome: Option<OutcomeV1>,
) -> Result<(), Unkept> {
    let added = session.ledger.get(from..).unwrap_or_default();
    let (Some(lines), Ok(header)) = (session.lines(from), serde_json::to_string(&session.header())) else {
        return Err(Unkept::Failed);
    };
    let sure = if added.iter().any(|line| sure(*line) == Sure::Strict) { Sure::Strict } else { Sure::Relaxed };
    let new = New {
        header: (from == 0).then_some(header),
        from,
        lines,
        outcome: outcome.map(|outcome| outcome.written()),
        reached: Some(session.run.now()),
        beat: session.set.is_some().then(clock::epoch_ms),
    };
    store.append(&session.id, &new, sure).await
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
