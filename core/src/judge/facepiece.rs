//! Choosing, fitting and checking the facepiece.

use super::{Case, Docket};
use crate::{
    act::{Act, Slot},
    attempt::{Donning, FitTest},
    facepiece::{Class, Condition, Straps},
    rulebook::RuleId,
    sign::{Seen, Sign},
    state::About,
    units::Ms,
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

/// Each facepiece is the wearer's choice, or the one of the job.
fn choosing(case: &Case<'_>, docket: &mut Docket) {
    let state = case.state;
    let settled = |slot: Slot| case.scenario.person.at_work == Some(slot);
    for donning in state.donnings.iter().filter(|donning| is_first_of_it(case, donning)) {
        let chosen =
            state.signs.iter().any(|(sign, (at, _))| *sign == Sign::Chooses(donning.slot) && *at <= donning.at);
        docket.mark(RuleId::ChooseWearer, donning.at, About::Day, chosen || settled(donning.slot));
    }
    if let Some(first) = state.donnings.first().filter(|first| !settled(first.slot)) {
        docket.before(RuleId::ChooseHold, state.first(Act::HoldToFace), Some(first.at), About::Day);
        docket.before(RuleId::ChooseRunnerUp, state.first(Act::NoteRunnerUp), case.test_from(), About::Day);
    }
}

fn is_first_of_it(case: &Case<'_>, donning: &Donning) -> bool {
    case.state.donnings.iter().find(|other| other.slot == donning.slot) == Some(donning)
}

/// The facepiece as it was found on the rack.
fn as_found(case: &Case<'_>, docket: &mut Docket, donning: &Donning) {
    let Some(piece) = case.scenario.facepiece(donning.slot) else { return };
    let handled = case.state.handled(donning.slot);
    docket.before(RuleId::FacepieceInspect, handled.inspected, Some(donning.at), About::Day);
    if piece.used && is_first_of_it(case, donning) {
        if piece.class == Class::Filtering {
            docket.broke(RuleId::FacepiecePassedOn, donning.at, About::Day);
        } else {
            docket.before(RuleId::FacepieceShared, handled.disinfected_first, Some(donning.at), About::Day);
        }
    }
}

/// What had to be done with the facepiece on, before the test it was tested in.
fn fitting(case: &Case<'_>, docket: &mut Docket, about: About, test: &FitTest, donning: &Donning) {
    let numbers = &case.book.numbers;
    let from = test.common.from;
    let begun = test.begun().unwrap_or(from);
    let faulty = case.tested(test).is_some_and(|piece| piece.condition != Condition::Sound);
    if faulty || case.state.handled(donning.slot).inspected.is_some() {
        docket.mark(RuleId::FacepieceDefect, from, about, !faulty);
    }
    docket.mark(RuleId::WearFive, from, about, from.since(donning.at) >= numbers.pretest_wear);
    // Taken off and put on again, it is no less comfortable: going through it once does for each facepiece.
    let of_it = case.state.donnings.iter().filter(|other| other.slot == donning.slot);
    let gone_through = of_it.filter_map(|worn| Some((worn.comfort?.0, worn.at))).filter(|(at, _)| *at <= begun);
    let comfort = gone_through.max_by_key(|(at, on)| at.since(*on));
    docket.before(RuleId::ComfortReview, comfort.map(|(at, _)| at), Some(begun), about);
    if let Some((at, on)) = comfort {
        docket.mark(RuleId::ComfortFive, at, about, at.since(on) >= numbers.comfort_wear);
    }
    docket.before(RuleId::ComfortAdequacy, donning.adequacy, Some(begun), about);
    if let Some((at, _)) = refused_before(test, donning) {
        docket.broke(RuleId::ComfortOther, at, about);
    }
    if case.tested(test).is_some_and(|piece| piece.straps != Straps::Even) {
        docket.before(RuleId::StrapsFault, donning.fixed, Some(from), about);
    }
    match donning.seal_checks.iter().rev().find(|check| check.at <= begun) {
        Some(check) => {
            // Adjusted after the check and before the first exercise: it has to be checked again.
            let adjusted = donning.fixed.into_iter().chain(adjustments(case)).any(|at| at > check.at && at < begun);
            docket.mark(RuleId::SealCheckEach, check.at, about, !adjusted);
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

/// When the wearer adjusted a facepiece by themselves.
fn adjustments<'a>(case: &Case<'a>) -> impl Iterator<Item = Ms> + use<'a> {
    let signs = case.attempts().flat_map(|(_, common)| &common.signs);
    signs.filter(|(_, seen)| matches!(seen, Seen::AdjustsMask | Seen::HelperAtStraps)).map(|(at, _)| *at)
}

/// When a facepiece found unacceptable was tested or passed all the same.
fn refused_before(test: &FitTest, donning: &Donning) -> Option<(Ms, bool)> {
    let begun = test.begun().unwrap_or(test.common.from);
    let refused_first = donning.comfort.filter(|(at, fine)| !fine && *at <= begun);
    let passed = test.common.passed();
    let refused_last = donning.comfort_last.filter(|(at, fine)| !fine && passed.is_some_and(|passed| *at <= passed));
    refused_first.or(refused_last)
}
