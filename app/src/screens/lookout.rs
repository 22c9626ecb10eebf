//! Brings a watched run to the lookout: from where another screen left it, begun where it is to be, or from the store. Shows
//! it or how it compares.

use crate::{
    begin::Begin,
    edge::{address, clock, left, page, store::reached_key},
    parts::{elsewhere::elsewhere, rescue::save_kept},
    screen::Screen,
    screens::{compare::comparison, desk::is_ours, observe::Watch},
    shell::{Around, Keeper, Keeping},
    watching::{LeftWatch, Lookout, LookoutAction, Watching},
    words::Word,
};
use bittersweet_core::{
    units::Ms,
    wire::{Code, Faults, watch_v1},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Properties of [`FromTheLookout`].
#[derive(Properties, PartialEq)]
pub(crate) struct FromTheLookoutProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The id of the watched run.
    pub(crate) id: AttrValue,
    /// Whether the comparison is wanted rather than the run.
    pub(crate) compare: bool,
}

/// Where a watched run is that is not here.
#[derive(Clone, PartialEq)]
enum Search {
    Looking,
    NotHere,
    Damaged(Faults),
    Elsewhere,
}

/// The watched run, how it compares, or why it cannot be shown.
#[component]
pub(crate) fn FromTheLookout(props: &FromTheLookoutProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let search = use_state(|| Search::Looking);
    let lookout = use_reducer(|| Lookout { watching: left_here(&props.id).map(Rc::new) });
    let here = lookout.watching.clone();

    // Looks for it; takes it from another window when it is told to.
    let look = {
        let (search, lookout, keeper) = (search.clone(), lookout.clone(), keeper.clone());
        let (id, compare) = (props.id.clone(), props.compare);
        move |take: bool| {
            let (search, lookout, keeper, id) = (search.clone(), lookout.clone(), keeper.clone(), id.clone());
            spawn_local(async move {
                let found = match Begin::take(&id) {
                    Some(begin) => Ok(begun(begin).await),
                    None if !compare && !is_ours(&keeper, &id, take).await => {
                        search.set(Search::Elsewhere);
                        return;
                    }
                    None => bring_back(&keeper, &id).await,
                };
                match found {
                    Ok(Some(watching)) => {
                        search.set(Search::Looking);
                        lookout.dispatch(LookoutAction::Watch(Box::new(watching)));
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

    // What is seen from here when the screen goes is left for the next one.
    let seen = use_mut_ref(|| None::<Rc<Watching>>);
    use_effect_with((*lookout).clone(), {
        let seen = Rc::clone(&seen);
        move |lookout| {
            seen.replace(lookout.watching.clone());
        }
    });
    use_effect_with((), {
        let seen = Rc::clone(&seen);
        move |()| {
            move || {
                if let Some(watching) = &*seen.borrow() {
                    left::put_json(left::LOOKOUT, &watching.left());
                }
            }
        }
    });

    // One that had to be looked for takes the place of the heading that had the focus.
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
        Some(watching) if props.compare => {
            let watch = Callback::from(move |next: Watching| {
                let there = Screen::Watch(next.id.clone()).address();
                seen.replace(Some(Rc::new(next)));
                address::go(&there);
            });
            return comparison(&around, &watching, &watch);
        }
        Some(watching) => return html! { <Watch {around} {watching} dispatch={lookout.dispatcher()} /> },
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
            <h1 id="heading" tabindex="-1">{ words.get(Word::ObserveTitle) }</h1>
            <p role="status">{ said }</p>
            if matches!(*search, Search::Damaged(_)) {
                { save_kept(&words) }
            }
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
}

/// Takes the watched run with this id from where another screen left it.
fn left_here(id: &str) -> Option<Watching> {
    let left: LeftWatch = left::read_json(&left::look(left::LOOKOUT))?;
    if left.id != id {
        return None;
    }
    left::take(left::LOOKOUT);
    Watching::taken_up(left)
}

/// Begins what is to be begun.
async fn begun(begin: Begin) -> Option<Watching> {
    let scenario = begin.scenario().await?;
    Watching::begin(begin.id, clock::iso_now(), scenario, clock::now_ms())
}

/// Reads a watched run back from the store.
async fn bring_back(keeper: &Keeper, id: &str) -> Result<Option<Watching>, Faults> {
    let Some(store) = keeper.store() else { return Ok(None) };
    let lost = |_| Faults::one(id, Code::NotJson, "the store did not answer");
    let Some(kept) = store.run(id).await.map_err(lost)? else { return Ok(None) };
    let lines = store.lines(id).await.map_err(lost)?;
    let reached = store.setting(&reached_key(id)).await.map_err(lost)?;
    let reached = reached.and_then(|text| text.parse().ok()).map_or(Ms::ZERO, Ms);
    let restored = watch_v1::restore(&kept.header, &lines, reached)?;
    Ok(Some(Watching::resume(id.to_owned(), restored, lines.len(), clock::now_ms())))
}
