//! Brings a watched run to the lookout, from the store where it is not there yet, and shows it or how it compares.

use crate::{
    edge::{address, clock, page, store::reached_key},
    parts::elsewhere::elsewhere,
    screen::Screen,
    screens::{compare::comparison, desk::is_ours, observe::Watch},
    shell::{Around, Keeper, Keeping},
    watching::{LookoutAction, Watching},
    words::Word,
};
use bittersweet_core::{
    units::Ms,
    wire::{Code, Faults, watch_v1},
};
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
    let Around { words, keeper, lookout, .. } = props.around.clone();
    let search = use_state(|| Search::Looking);
    let here = lookout.watching.clone().filter(|watching| watching.id == *props.id);

    let compare = props.compare;
    // Looks for it; takes it from another window when it is told to.
    let look = {
        let (search, keeper, id) = (search.clone(), keeper.clone(), props.id.clone());
        move |take: bool| {
            let (search, lookout, keeper, id) = (search.clone(), lookout.clone(), keeper.clone(), id.clone());
            spawn_local(async move {
                if !compare && !is_ours(&keeper, &id, take).await {
                    search.set(Search::Elsewhere);
                    return;
                }
                match bring_back(&keeper, &id).await {
                    // Meanwhile the page may have gone on to another.
                    Ok(Some(watching)) if address::read().ends_with(&*id) => {
                        search.set(Search::Looking);
                        lookout.dispatch(LookoutAction::Watch(Box::new(watching)));
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
        Some(watching) if props.compare => return comparison(&around, &watching),
        Some(watching) => return html! { <Watch {around} {watching} /> },
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
            <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
        </>
    }
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
