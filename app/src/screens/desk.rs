//! Brings a run to the desk, from the store where it is not there yet, and shows it or its review.

use crate::{
    edge::{
        address, clock, page,
        store::{beat_key, reached_key},
    },
    hooks::{acquire, use_sittings},
    parts::elsewhere::elsewhere,
    screen::Screen,
    screens::{rehearse::Room, review::Sheet},
    session::{DeskAction, Session},
    shell::{Around, Keeper, Keeping},
    words::{Word, Words},
};
use bittersweet_core::{
    assessment::{Sitting, Step},
    units::Ms,
    wire::{Code, Faults, ledger_v1},
};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Properties of [`OnTheDesk`].
#[derive(Properties, PartialEq)]
pub(crate) struct OnTheDeskProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The id of the run.
    pub(crate) id: AttrValue,
    /// Whether its review is wanted rather than the run.
    pub(crate) review: bool,
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
    let Around { words, keeper, desk, .. } = props.around.clone();
    let (sittings, _) = use_sittings(&keeper);
    let search = use_state(|| Search::Looking);
    let here = desk.session.clone().filter(|session| session.id == *props.id);

    let review = props.review;
    // Looks for the run; takes it from another window when it is told to.
    let look = {
        let (search, keeper, id) = (search.clone(), keeper.clone(), props.id.clone());
        move |take: bool| {
            let (search, desk, keeper, id) = (search.clone(), desk.clone(), keeper.clone(), id.clone());
            spawn_local(async move {
                if !review && !is_ours(&keeper, &id, take).await {
                    search.set(Search::Elsewhere);
                    return;
                }
                match bring_back(&keeper, &id).await {
                    // Meanwhile another run may have been laid there, and the page gone on to it.
                    Ok(Some(session)) if address::read().ends_with(&*id) => {
                        search.set(Search::Looking);
                        desk.dispatch(DeskAction::Lay(Box::new(session)));
                    }
                    Ok(Some(_)) => {}
                    Ok(None) => search.set(Search::NotHere),
                    Err(faults) => search.set(Search::Damaged(faults)),
                }
            });
        }
    };
    use_effect_with((props.id.clone(), here.is_some(), std::mem::discriminant(&keeper.keeping)), {
        let (look, opening) = (look.clone(), matches!(keeper.keeping, Keeping::Opening));
        move |(_, is_here, _)| {
            if !*is_here && !opening {
                look(false);
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

    let around = props.around.clone();
    match here {
        Some(session) if props.review && is_sealed(&session, sittings.as_deref()) => return later(&words, &session),
        Some(session) if props.review => return html! { <Sheet {around} {session} /> },
        Some(session) => return html! { <Room {around} {session} /> },
        None => {}
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
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

/// Whether this window may go on with a run. Where the store does not answer, what follows tells why.
pub(super) async fn is_ours(keeper: &Keeper, id: &str, take: bool) -> bool {
    match keeper.store() {
        // What is not kept is nobody's.
        Some(store) if matches!(store.run(id).await, Ok(Some(_))) => acquire(&store, id, take).await.unwrap_or(true),
        Some(_) | None => true,
    }
}

/// Whether a run belongs to an assessment that still goes on, or of which nothing is known yet.
fn is_sealed(session: &Session, sittings: Option<&Vec<Sitting>>) -> bool {
    let Some(set) = &session.set else { return false };
    let Some(sittings) = sittings else { return true };
    let is_open = |sitting: &Sitting| sitting.id == **set && sitting.step(clock::epoch_ms()) != Step::Over;
    sittings.iter().any(is_open)
}

/// The review of a run waits for the end of its assessment.
fn later(words: &Words, session: &Session) -> Html {
    let set = session.set.as_deref().unwrap_or_default().to_owned();
    html! {
        <>
            <h1 id="heading" tabindex="-1">{ words.get(Word::RunTitle) }</h1>
            <p>{ words.get(Word::AssessLater) }</p>
            <p><a class="way" href={Screen::Sitting(set).link()}>{ words.get(Word::AssessBack) }</a></p>
        </>
    }
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
