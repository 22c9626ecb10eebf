//! What became of the runs that were ended on this device.

use crate::shell::Keeper;
use bittersweet_core::wire::outcome_v1::OutcomeV1;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Outcomes, oldest first; `None` until they have been read.
pub(crate) type Outcomes = Option<Rc<Vec<OutcomeV1>>>;

/// Reads them once. What cannot be read is passed over: one that is damaged hides no other.
#[hook]
pub(crate) fn use_outcomes(keeper: &Keeper) -> Outcomes {
    let outcomes = use_state(|| None);
    use_effect_with(keeper.is_open(), {
        let (keeper, outcomes) = (keeper.clone(), outcomes.clone());
        move |is_open| {
            if !*is_open {
                return;
            }
            spawn_local(async move {
                let texts = match keeper.store() {
                    Some(store) => store.outcomes().await.unwrap_or_default(),
                    None => Vec::new(),
                };
                let mut read: Vec<OutcomeV1> = texts.iter().filter_map(|text| OutcomeV1::parse(text).ok()).collect();
                // Ids begin with the time at which a run began, so that this is its order within a day.
                read.sort_by(|one, other| (one.day, &one.run).cmp(&(other.day, &other.run)));
                outcomes.set(Some(Rc::new(read)));
            });
        }
    });
    (*outcomes).clone()
}
