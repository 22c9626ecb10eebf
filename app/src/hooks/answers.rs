//! The answers given on this device, and how another one joins them.

use crate::shell::Keeper;
use bittersweet_core::wire::answer_v1::AnswerV1;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Answers, oldest first; `None` until they have been read.
pub(crate) type Answers = Option<Rc<Vec<AnswerV1>>>;

/// Reads them once, and keeps each that is given. Where nothing can be kept they last as long as the page.
#[hook]
pub(crate) fn use_answers(keeper: &Keeper) -> (Answers, Callback<AnswerV1>) {
    let answers = use_state(|| None::<Rc<Vec<AnswerV1>>>);
    let is_open = keeper.is_open();
    use_effect_with(is_open, {
        let (keeper, answers) = (keeper.clone(), answers.clone());
        move |is_open| {
            if !*is_open {
                return;
            }
            spawn_local(async move {
                let texts = match keeper.store() {
                    Some(store) => store.answers().await.unwrap_or_default(),
                    None => Vec::new(),
                };
                // What cannot be read is passed over: one damaged answer hides no other.
                answers.set(Some(Rc::new(texts.iter().filter_map(|text| AnswerV1::parse(text).ok()).collect())));
            });
        }
    });
    let add = Callback::from({
        let (keeper, answers) = (keeper.clone(), answers.clone());
        move |answer: AnswerV1| {
            let before = answers.as_deref().map(|before| before.as_slice()).unwrap_or_default();
            answers.set(Some(Rc::new(before.iter().cloned().chain([answer.clone()]).collect())));
            if let Some(store) = keeper.store() {
                let keeper = keeper.clone();
                spawn_local(async move {
                    if store.add_answer(&answer.written()).await.is_err() {
                        keeper.failed();
                    }
                });
            }
        }
    });
    ((*answers).clone(), add)
}
