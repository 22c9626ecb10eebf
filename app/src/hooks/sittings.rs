//! The assessments that were sat on this device.

use crate::shell::Keeper;
use bittersweet_core::{assessment::Sitting, wire::sitting_v1};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Sittings, oldest first; `None` until they have been read.
pub(crate) type Sittings = Option<Rc<Vec<Sitting>>>;

/// Reads them once, and keeps each as it changes. One that cannot be read is passed over.
#[hook]
pub(crate) fn use_sittings(keeper: &Keeper) -> (Sittings, Callback<Sitting>) {
    let sittings = use_state(|| None::<Rc<Vec<Sitting>>>);
    use_effect_with(keeper.is_open(), {
        let (keeper, sittings) = (keeper.clone(), sittings.clone());
        move |is_open| {
            if !*is_open {
                return;
            }
            spawn_local(async move {
                let texts = match keeper.store() {
                    Some(store) => store.sittings().await.unwrap_or_default(),
                    None => Vec::new(),
                };
                sittings.set(Some(Rc::new(texts.iter().filter_map(|text| sitting_v1::parse(text).ok()).collect())));
            });
        }
    });
    let put = Callback::from({
        let (keeper, sittings) = (keeper.clone(), sittings.clone());
        move |sitting: Sitting| {
            let before = sittings.as_deref().map(Vec::as_slice).unwrap_or_default();
            let mut after: Vec<Sitting> = before.iter().filter(|other| other.id != sitting.id).cloned().collect();
            after.push(sitting.clone());
            sittings.set(Some(Rc::new(after)));
            if let Some(store) = keeper.store() {
                let keeper = keeper.clone();
                spawn_local(async move {
                    if store.put_sitting(&sitting.id, &sitting_v1::written(&sitting)).await.is_err() {
                        keeper.failed();
                    }
                });
            }
        }
    });
    ((*sittings).clone(), put)
}
