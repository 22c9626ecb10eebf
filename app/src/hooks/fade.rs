//! What earlier guided runs on this device make of the guide: it asks before it shows what was done in two of them.

use crate::{session::Session, shell::Keeper};
use bittersweet_core::{fade::Practised, wire::run_v1::Help};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

const PRACTISED: &str = "guided/practised";
const ALWAYS: &str = "guided/always";

/// How the guide fades.
#[derive(Clone, PartialEq)]
pub(crate) struct Fade {
    /// What was done in earlier guided runs.
    pub(crate) practised: Rc<Practised>,
    /// Whether the trainee wants every act shown all the same.
    pub(crate) always: bool,
    /// Changes that.
    pub(crate) toggle: Callback<()>,
}

/// Reads it when the run is opened, and adds this run to it when it ends.
#[hook]
pub(crate) fn use_fade(session: &Rc<Session>, keeper: &Keeper) -> Fade {
    let practised = use_state(|| Rc::new(Practised::default()));
    let always = use_state(|| false);
    let guided = session.conditions.help == Help::Guided;
    use_effect_with((guided, keeper.store().is_some()), {
        let (keeper, practised, always) = (keeper.clone(), practised.clone(), always.clone());
        move |_| {
            if let Some(store) = keeper.store().filter(|_| guided) {
                spawn_local(async move {
                    if let Ok(Some(text)) = store.setting(PRACTISED).await {
                        practised.set(Rc::new(Practised::parse(&text)));
                    }
                    always.set(matches!(store.setting(ALWAYS).await, Ok(Some(text)) if text == "yes"));
                });
            }
        }
    });
    let was_over = use_mut_ref(|| session.is_finished());
    use_effect_with(session.is_finished(), {
        let (keeper, session, practised) = (keeper.clone(), Rc::clone(session), practised.clone());
        move |over| {
            // Only when it ends here: a run that is looked at again was counted before.
            let ends_now = *over && !was_over.replace(*over);
            if let Some(store) = keeper.store().filter(|_| ends_now && guided) {
                let next = practised.with(session.run.acts().map(|(_, act)| act)).to_string();
                spawn_local(async move {
                    // What cannot be kept is shown whole again next time.
                    let _ = store.put_setting(PRACTISED, &next).await;
                });
            }
        }
    });
    let toggle = Callback::from({
        let (keeper, always) = (keeper.clone(), always.clone());
        move |()| {
            let wanted = !*always;
            always.set(wanted);
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    let _ = store.put_setting(ALWAYS, if wanted { "yes" } else { "no" }).await;
                });
            }
        }
    });
    Fade { practised: (*practised).clone(), always: *always, toggle }
}
