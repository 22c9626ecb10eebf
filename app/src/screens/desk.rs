//! Brings a run to the desk: from where another screen left it, begun where it is to be, or from the store.

use crate::{
    begin::Begin,
    edge::{
        address, clock, left, page,
        store::{beat_key, reached_key},
    },
    hooks::acquire,
    parts::{elsewhere::elsewhere, rescue::save_kept},
    screen::Screen,
    session::{Desk, DeskAction, LeftRun, Session},
    shell::{Around, Keeper, Keeping},
    words::Word,
};
use bittersweet_core::{
    units::Ms,
    wire::{
        Code, Faults, ledger_v1,
        run_v1::{Help, Pace},
    },
};
use std::{cell::RefCell, rc::Rc};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

thread_local! {
    /// A run that is only a record cannot be left for another module. None but this one shows it, and a module that was
    /// fetched stays as long as the page.
    static RECORD: RefCell<Option<Rc<Session>>> = const { RefCell::new(None) };
}

/// A run on the desk, and what can be done with it.
#[derive(Clone)]
pub(crate) struct AtDesk {
    /// The run.
    pub(crate) session: Rc<Session>,
    /// What happens to it.
    pub(crate) dispatch: UseReducerDispatcher<Desk>,
    /// Puts another run in its place, and goes there.
    pub(crate) lay: Callback<Session>,
}

/// Properties of [`OnTheDesk`].
#[derive(Properties)]
pub(crate) struct OnTheDeskProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The id of the run.
    pub(crate) id: AttrValue,
    /// Whether every line of it is handed to the store while it shows.
    pub(crate) keeps: bool,
    /// Shows the run: itself or its review.
    pub(crate) show: fn(&Around, AtDesk) -> Html,
}

impl PartialEq for OnTheDeskProps {
    fn eq(&self, other: &Self) -> bool {
        // What shows it never changes without the key.
        self.id == other.id && self.around == other.around
    }
}

/// Where a run is that is not on the desk.
#[derive(Clone, PartialEq)]
enum Search {
    Looking,
    NotHere,
    Damaged(Faults),
    Elsewhere,
}

/// The run or its review, or why it cannot be shown.
#[component]
pub(crate) fn OnTheDesk(props: &OnTheDeskProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let search = use_state(|| Search::Looking);
    let desk = use_reducer(|| Desk { session: left_here(&props.id).map(Rc::new) });
    let here = desk.session.clone();

    // Looks for the run; takes it from another window when it is told to.
    let look = {
        let (search, desk, keeper) = (search.clone(), desk.clone(), keeper.clone());
        let (id, keeps) = (props.id.clone(), props.keeps);
        move |take: bool| {
            let (search, desk, keeper, id) = (search.clone(), desk.clone(), keeper.clone(), id.clone());
            spawn_local(async move {
                let found = match Begin::take(&id) {
                    Some(begin) => Ok(begun(begin).await),
                    None if keeps && !is_ours(&keeper, &id, take).await => {
                        search.set(Search::Elsewhere);
                        return;
                    }
                    None => bring_back(&keeper, &id).await,
                };
                match found {
                    Ok(Some(session)) => {
                        search.set(Search::Looking);
                        desk.dispatch(DeskAction::Lay(Box::new(session)));
                    }
                    Ok(None) => search.set(Search::NotHere),
                    Err(faults) => search.set(Search::Damaged(faults)),
                }
            });
        }
    };
    use_effect_with((here.is_some(), std::mem::discriminant(&keeper.keeping)), {
        let (look, opening) = (look.clone(), matches!(keeper.keeping, Keeping::Opening));
        let id = props.id.clone();
        move |(is_here, _)| {
            // What is to be begun needs no store.
            if !*is_here && (!opening || Begin::is_left(&id)) {
                look(false);
            }
        }
    });

    // What lies here when the screen goes is left for the next one, and whether all of it was handed to the store.
    let lying = use_mut_ref(|| None::<(Rc<Session>, bool)>);
    use_effect_with(((*desk).clone(), props.keeps && keeper.store().is_some()), {
        let lying = Rc::clone(&lying);
        move |(desk, is_kept)| {
            let kept = |session: &Session| session.kept_before == session.ledger.len();
            let now = desk.session.clone();
            lying.replace(now.map(|session| (Rc::clone(&session), *is_kept || kept(&session))));
        }
    });
    use_effect_with((), {
        let lying = Rc::clone(&lying);
        move |()| {
            move || {
                if let Some((session, kept)) = &*lying.borrow() {
                    leave(session, *kept);
                }
            }
        }
    });

    // A run that had to be looked for takes the place of the heading that had the focus.
    let at_once = use_mut_ref(|| here.is_some());
    use_effect_with(here.is_some(), move |is_here| {
        if *is_here && !at_once.replace(false) {
            page::focus("heading");
        }
    });
    use_effect_with(matches!(*search, Search::Elsewhere), |is_elsewhere| {
        if *is_elsewhere {
            page::focus("heading");
        }
    });

    if let Some(session) = here {
        let lay = Callback::from(move |next: Session| {
            let there = Screen::Rehearse(next.id.clone()).address();
            lying.replace(Some((Rc::new(next), false)));
            address::go(&there);
        });
        return (props.show)(&props.around, AtDesk { session, dispatch: desk.dispatcher(), lay });
    }
    let said = match &*search {
        Search::Looking => words.get(Word::RunLooking),
        Search::NotHere => words.get(Word::RunNotHere),
        Search::Damaged(faults) => words.fill(Word::RunDamaged, &[("faults", &words.faults(faults))]),
        Search::Elsewhere => return elsewhere(&words, Callback::from(move |_| look(true))),
    };
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::RunTitle) }</h1>
            <p role="status">{ said }</p>
            if matches!(*search, Search::Damaged(_)) {
                { save_kept(&words) }
            }
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

/// Leaves a run for the next screen; `kept` where all of it was handed to the store.
pub(crate) fn leave(session: &Rc<Session>, kept: bool) {
    left::put_json(left::DESK, &session.left(kept));
    if session.recorded.is_some() {
        RECORD.set(Some(Rc::clone(session)));
    }
}

/// Takes the run with this id from where another screen left it.
fn left_here(id: &str) -> Option<Session> {
    let left: LeftRun = left::read_json(&left::look(left::DESK))?;
    if left.id != id {
        return None;
    }
    left::take(left::DESK);
    if left.recorded {
        return RECORD.take().filter(|record| record.id == id).as_deref().cloned();
    }
    Session::taken_up(left, clock::now_ms())
}

/// Whether this window may go on with a run. Where the store does not answer, what follows tells why.
pub(super) async fn is_ours(keeper: &Keeper, id: &str, take: bool) -> bool {
    match keeper.store() {
        // What is not kept is nobody's.
        Some(store) if matches!(store.run(id).await, Ok(Some(_))) => acquire(&store, id, take).await.unwrap_or(true),
        Some(_) | None => true,
    }
}

/// Begins what is to be begun.
async fn begun(begin: Begin) -> Option<Session> {
    let scenario = begin.scenario().await?;
    let (help, pace) = (Help::from_code(&begin.how.0)?, Pace::from_code(&begin.how.1)?);
    Some(Session::begin(begin.id, clock::iso_now(), scenario, help, pace, clock::now_ms()))
}

/// Reads a run back from the store.
async fn bring_back(keeper: &Keeper, id: &str) -> Result<Option<Session>, Faults> {
    let Some(store) = keeper.store() else { return Ok(None) };
    let lost = |_| Faults::one(id, Code::NotJson, "the store did not answer");
    let Some(kept) = store.run(id).await.map_err(lost)? else { return Ok(None) };
    let lines = store.lines(id).await.map_err(lost)?;
    let reached = store.setting(&reached_key(id)).await.map_err(lost)?;
    let reached = reached.and_then(|text| text.parse().ok()).map_or(Ms::ZERO, Ms);
    let restored = ledger_v1::restore(&kept.header, &lines, reached)?;
    let beat = store.setting(&beat_key(id)).await.map_err(lost)?;
    let away = beat.and_then(|text| text.parse().ok()).map_or(0, |beat: u64| clock::epoch_ms().saturating_sub(beat));
    Ok(Some(Session::resume(id.to_owned(), restored, away, clock::now_ms())))
}
