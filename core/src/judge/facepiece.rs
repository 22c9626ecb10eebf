//! Choosing, fitting and checking the facepiece.

use super::{Case, Docket};
use crate::{
    act::Act,
    attempt::{Donning, FitTest},
    facepiece::{Class, Condition, Straps},
    rulebook::RuleId,
    sign::Sign,
    state::About,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    choosing(case, docket);
    for donning in &case.state.donnings {
        as_found(case, docket, donning);
        docket.mark(RuleId::DonUnaided, donning.at, About::Day, !donning.helped);
    }
    docket.before(RuleId::GearAsk, case.state.first(Act::AskGear), case.test_from(), About::Day);
    for (about, test) in case.tests() {
        if let Some(donning) = case.donning(test) {
            fitting(case, docket, about, test, donning);
        }
    }
}

fn choosing(case: &Case<'_>, docket: &mut Docket) {
    let state = case.state;
    let Some(first) = state.donnings.first() else { return };
    let chosen = state.signs.iter().any(|(sign, (at, _))| *sign == Sign::Chooses(first.slot) && *at <= first.at);
    let settled = case.scenario.person.at_work == Some(first.slot);
    docket.mark(RuleId::ChooseWearer, first.at, About::Day, chosen || settled);
    if !settled {
        docket.before(RuleId::ChooseHold, state.first(Act::HoldToFace), Some(first.at), About::Day);
        docket.before(RuleId::ChooseRunnerUp, state.first(Act::NoteRunnerUp), case.test_from(), About::Day);
    }
}

/// The facepiece as it was found on the rack.
fn as_found(case: &Case<'_>, docket: &mut Docket, donning: &Donning) {
    let Some(piece) = case.scenario.facepiece(donning.slot) else { return };
    let handled = case.state.handled(donning.slot);
    docket.before(RuleId::FacepieceInspect, handled.inspected, Some(donning.at), About::Day);
    if piece.condition != Condition::Sound {
        docket.broke(RuleId::FacepieceDefect, donning.at, About::Day);
    }
    let first_time = case.state.donnings.iter().find(|other| other.slot == donning.slot) == Some(donning);
    if piece.used && first_time {
        if piece.class == Class::Filtering {
            docket.broke(RuleId::FacepiecePassedOn, donning.at, About::Day);
        } else {
            docket.before(RuleId::FacepieceShared, handled.disinfected, Some(donning.at), About::Day);
        }
    }
}

/// What had to be done with the facepiece on, before the test it was tested in.
fn fitting(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, donning: &Donning) {
    let numbers = &case.book.numbers;
    let from = test.common.from;
    let begun = test.begun().unwrap_or(from);
    docket.mark(RuleId::WearFive, from, about, from.since(donning.at) >= numbers.pretest_wear);
    let comfort = donning.comfort.map(|(at, _)| at).filter(|at| *at <= begun);
    docket.before(RuleId::ComfortReview, comfort, Some(begun), about);
    if let Some(at) = comfort {
        docket.mark(RuleId::ComfortFive, at, about, at.since(donning.at) >= numbers.comfort_wear);
    }
    docket.before(RuleId::ComfortAdequacy, donning.adequacy, Some(begun), about);
    if donning.comfort.is_some_and(|(at, fine)| !fine && at <= begun) {
        docket.broke(RuleId::ComfortOther, begun, about);
    }
    if case.tested(test).is_some_and(|piece| piece.straps != Straps::Even) {
        docket.before(RuleId::StrapsFault, donning.fixed, Some(from), about);
    }
    match donning.seal_checks.iter().rev().find(|check| check.at <= begun) {
        Some(check) => {
            // Straps put right after the check have to be checked again.
            let still_good = donning.fixed.is_none_or(|fixed| fixed <= check.at || fixed > begun);
            docket.mark(RuleId::SealCheckEach, check.at, about, still_good);
            docket.mark(RuleId::SealCheckSeated, check.at, about, check.seated);
            docket.mark(RuleId::SealCheckMethod, check.at, about, check.full_method);
            if !check.holds {
                docket.broke(RuleId::SealCheckFailed, begun, about);
            }
        }
        None => docket.broke(RuleId::SealCheckEach, begun, about),
    }
    let known = case.state.first(Act::AskGear).is_some_and(|at| at <= begun);
    if known && !case.scenario.person.gear.is_empty() {
        docket.before(RuleId::GearOn, donning.gear, Some(begun), about);
    }
}
