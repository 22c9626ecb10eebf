//! What the wearer does and says, aloud: off by default, and nothing depends on it.

use crate::{edge::speech, shell::Keeper};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

const ALOUD: &str = "aloud";

/// Whether it is on, and how to change that; `None` where the browser has no voice.
#[derive(Clone, PartialEq)]
pub(crate) struct Voice {
    /// Whether it is on.
    pub(crate) is_on: bool,
    /// Changes that.
    pub(crate) toggle: Callback<()>,
}

/// Says what was `heard` aloud whenever something comes, while it is switched on.
#[hook]
pub(crate) fn use_voice(keeper: &Keeper, heard: Vec<(usize, AttrValue)>) -> Option<Voice> {
    let is_on = use_state(|| false);
    use_effect_with(keeper.store().is_some(), {
        let (keeper, is_on) = (keeper.clone(), is_on.clone());
        move |_| {
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    if matches!(store.setting(ALOUD).await, Ok(Some(text)) if text == "yes") {
                        is_on.set(true);
                    }
                });
            }
        }
    });
    use_effect_with((*is_on, heard), |(on, heard)| {
        if *on && !heard.is_empty() {
            speech::say(&heard.iter().map(|(_, text)| text.as_str()).collect::<Vec<_>>().join(" "));
        }
    });
    use_effect_with((), |()| speech::hush);
    let there = use_memo((), |()| speech::is_there());
    let toggle = Callback::from({
        let (keeper, is_on) = (keeper.clone(), is_on.clone());
        move |()| {
            let wanted = !*is_on;
            if !wanted {
                speech::hush();
            }
            is_on.set(wanted);
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    // What cannot be kept is off again next time.
                    let _ = store.put_setting(ALOUD, if wanted { "yes" } else { "no" }).await;
                });
            }
        }
    });
    there.then_some(Voice { is_on: *is_on, toggle })
}
