//! The review of the run on the desk; that of a run in an assessment waits for the end of the assessment.

use crate::{
    edge::clock,
    hooks::use_sittings,
    screen::Screen,
    screens::{desk::AtDesk, review::Sheet},
    session::Session,
    shell::Around,
    words::{Word, Words},
};
use bittersweet_core::assessment::{Sitting, Step};
use std::rc::Rc;
use yew::prelude::*;

/// The sheet of the run on the desk.
pub(crate) fn sheet(around: &Around, AtDesk { session, lay, .. }: AtDesk) -> Html {
    let around = around.clone();
    match session.set {
        None => html! { <Sheet {around} {session} {lay} /> },
        Some(_) => html! { <Sealed {around} {session} {lay} /> },
    }
}

/// Properties of [`Sealed`].
#[derive(Properties)]
struct SealedProps {
    around: Around,
    session: Rc<Session>,
    lay: Callback<Session>,
}

impl PartialEq for SealedProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.session, &other.session) && self.around == other.around
    }
}

/// A run of an assessment.
#[component]
fn Sealed(props: &SealedProps) -> Html {
    let (sittings, _) = use_sittings(&props.around.keeper);
    let SealedProps { around, session, lay } = props;
    if is_sealed(session, sittings.as_deref()) {
        return later(&around.words, session);
    }
    html! { <Sheet around={around.clone()} session={Rc::clone(session)} lay={lay.clone()} /> }
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
