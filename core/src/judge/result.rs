//! The result and what follows: next step, telling, recording, leaving things as they should be.

use super::{
    Case, Docket,
    watching::{Call, calls},
};
use crate::{
    act::{Act, Bar, Cause, Company, Field, Fields, NextStep, Verdict},
    attempt::FitTest,
    facepiece::Class,
    rulebook::RuleId,
    ruling,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    let calls = calls(case);
    given(case, docket, &calls);
    for call in &calls {
        next_step(case, docket, *call);
        told(case, docket, *call);
    }
    after_a_fail(case, docket);
    recorded(case, docket, &calls);
    left(case, docket);
    if let Some(at) = case.state.first(Act::SignUntested) {
        docket.broke(RuleId::UseEvery, at, About::Day);
    }
}

/// Each test that was begun came to a result.
fn given(case: &Case<'_>, docket: &mut Docket, calls: &[Call]) {
    let Some(finished) = case.state.finished else { return };
    for (about, _) in case.tests().filter(|(_, test)| !test.exercises.is_empty()) {
        let called = calls.iter().find(|call| call.about == about);
        docket.before(RuleId::ResultGiven, called.map(|call| call.at), Some(finished), about);
    }
    if calls.is_empty() && case.tests().next().is_none() {
        docket.broke(RuleId::ResultGiven, finished, About::Day);
    }
}

fn next_step(case: &Case<'_>, docket: &mut Docket, call: Call) {
    let about = call.about;
    let step = case.state.steps.iter().find(|(at, _, on)| *at >= call.at && *on == about).map(|(at, step, _)| (*at, *step));
    let Some((at, step)) = step else {
        if let Some(finished) = case.state.finished {
            docket.broke(RuleId::NextStep, finished, about);
        }
        return;
    };
    match call.verdict {
        Verdict::Pass => docket.mark(RuleId::NextStep, at, about, step == NextStep::Cleared),
        Verdict::Fail => after_fail(case, docket, about, at, step),
        Verdict::Invalid => after_invalid(case, docket, about, at, step),
        Verdict::CannotTaste => {
            let other = matches!(step, NextStep::OtherAgent | NextStep::Quantitative);
            docket.mark(RuleId::NextCannot, at, about, other);
        }
        Verdict::NotTested(bar) => docket.mark(RuleId::NextStep, at, about, fits_bar(bar, step)),
        Verdict::Stopped(Cause::Breathing) => docket.mark(RuleId::NextRefer, at, about, step == NextStep::Refer),
        Verdict::Stopped(Cause::Emergency) => docket.mark(RuleId::NextRefer, at, about, step == NextStep::Refer),
        Verdict::Stopped(Cause::Wish) => {
            docket.mark(RuleId::NextStep, at, about, matches!(step, NextStep::AnotherDay | NextStep::Refer));
        }
    }
}

fn fits_bar(bar: Bar, step: NextStep) -> bool {
    match bar {
        Bar::Clearance => matches!(step, NextStep::PutRight | NextStep::Refer | NextStep::AnotherDay),
        Bar::Use => matches!(step, NextStep::Quantitative | NextStep::PutRight),
        Bar::Seal | Bar::Mouth | Bar::Facepiece => {
            matches!(step, NextStep::PutRight | NextStep::AnotherDay | NextStep::Quantitative)
        }
        Bar::Wish => matches!(step, NextStep::AnotherDay | NextStep::PutRight | NextStep::Refer),
    }
}

/// A different respirator, and the whole procedure again; or another day.
fn after_fail(case: &Case<'_>, docket: &mut Docket, about: About, at: Ms, step: NextStep) {
    match step {
        NextStep::OtherFacepiece => {
            docket.kept(RuleId::NextStep, at, about);
            docket.kept(RuleId::NextDifferent, at, about);
        }
        NextStep::AnotherDay | NextStep::Quantitative | NextStep::PutRight | NextStep::Refer => {
            docket.kept(RuleId::NextStep, at, about);
        }
        NextStep::RefitSame | NextStep::ScreenAgain => {
            let allowed = case.book.house.one_refit_after_fail && refits_before(case, at) == 0;
            docket.mark(RuleId::NextDifferent, at, about, allowed);
        }
        NextStep::TestAgain => docket.broke(RuleId::NextWhole, at, about),
        NextStep::OtherAgent => docket.broke(RuleId::NextAgent, at, about),
        NextStep::Cleared => docket.broke(RuleId::WatchTaste, at, about),
    }
}

fn refits_before(case: &Case<'_>, at: Ms) -> usize {
    case.state.steps.iter().filter(|(when, step, _)| *when < at && *step == NextStep::RefitSame).count()
}

/// The fit test again; where the screening was spoilt, that too.
fn after_invalid(case: &Case<'_>, docket: &mut Docket, about: About, at: Ms, step: NextStep) {
    let screening = match about {
        About::Screening(_) => Some(about),
        About::Test(number) => case.state.tests.get(number).and_then(|test| test.screening).map(About::Screening),
        About::Day => None,
    };
    let screening_spoilt = screening.is_some_and(|screening| ruling::of(case, docket, screening).spoilt);
    match step {
        NextStep::Cleared => docket.broke(RuleId::ResultComplete, at, about),
        NextStep::OtherAgent => docket.broke(RuleId::NextAgent, at, about),
        NextStep::TestAgain | NextStep::RefitSame if screening_spoilt => docket.broke(RuleId::NextScreen, at, about),
        NextStep::ScreenAgain | NextStep::OtherFacepiece if screening_spoilt => {
            docket.kept(RuleId::NextScreen, at, about);
            docket.kept(RuleId::NextStep, at, about);
        }
        _ => docket.kept(RuleId::NextStep, at, about),
    }
}

/// What was really done after a fail, whatever had been decided.
fn after_a_fail(case: &Case<'_>, docket: &mut Docket) {
    let tests: Vec<(About, &FitTest)> = case.tests().collect();
    for pair in tests.windows(2) {
        let [(failed_about, failed), (about, again)] = pair else { continue };
        let decided = failed.common.next.map(|(_, step)| step);
        if !matches!(failed.common.verdict, Some((_, Verdict::Fail))) {
            continue;
        }
        let refit = case.book.house.one_refit_after_fail && decided == Some(NextStep::RefitSame);
        let slot = |test: &FitTest| case.donning(test).map(|donning| donning.slot);
        let same = slot(failed) == slot(again);
        if !refit && !docket.has_broken(RuleId::NextDifferent, *failed_about) {
            docket.mark(RuleId::NextDifferent, again.common.from, *about, !same);
        }
        let rescreened = again.screening.is_some() && again.screening != failed.screening;
        if !refit && !docket.has_broken(RuleId::NextWhole, *failed_about) {
            docket.mark(RuleId::NextWhole, again.common.from, *about, rescreened);
        }
    }
}

fn told(case: &Case<'_>, docket: &mut Docket, call: Call) {
    let Some(finished) = case.state.finished else { return };
    if call.verdict == Verdict::Invalid || call.verdict == Verdict::Stopped(Cause::Emergency) {
        return;
    }
    let how = |company| case.acted_from(call.at, |act| act == Act::TellResult(company));
    let (private, public) = (how(Company::Private), how(Company::Public));
    docket.mark(RuleId::ResultTell, private.or(public).unwrap_or(finished), call.about, private.is_some() && public.is_none());
    if call.verdict == Verdict::Pass {
        let scope = case.acted_from(call.at, |act| act == Act::TellScope);
        docket.before(RuleId::ResultScope, scope, Some(finished), call.about);
    }
}

fn recorded(case: &Case<'_>, docket: &mut Docket, calls: &[Call]) {
    let Some(finished) = case.state.finished else { return };
    let records: Vec<(Ms, Fields)> = case
        .acts()
        .filter_map(|(at, act)| match act {
            Act::Record(fields) => Some((at, fields)),
            _ => None,
        })
        .collect();
    if let Some((at, _)) = records.iter().find(|(_, fields)| fields.has(Field::Health)) {
        docket.broke(RuleId::RecordHealth, *at, About::Day);
    }
    for call in calls.iter().filter(|call| matches!(call.verdict, Verdict::Pass | Verdict::Fail)) {
        let record = records.iter().find(|(at, _)| *at >= call.at);
        let whole = record.is_some_and(|(_, fields)| Field::ALL.iter().all(|field| *field == Field::Health || fields.has(*field)));
        docket.mark(RuleId::RecordFields, record.map_or(finished, |(at, _)| *at), call.about, whole);
        if let (Verdict::Fail, About::Test(number)) = (call.verdict, call.about)
            && let Some(slot) = case.state.tests.get(number).and_then(|test| case.donning(test)).map(|donning| donning.slot)
        {
            docket.before(RuleId::RecordAside, case.state.handled(slot).aside, Some(finished), call.about);
        }
    }
}

/// Facepieces as they were left.
fn left(case: &Case<'_>, docket: &mut Docket) {
    let Some(finished) = case.state.finished else { return };
    for donning in &case.state.donnings {
        let handled = case.state.handled(donning.slot);
        let last_of_it = case.state.donnings.iter().rfind(|other| other.slot == donning.slot) == Some(donning);
        if !last_of_it {
            continue;
        }
        if let Some(negative) = handled.negative {
            let restored = handled.restored.filter(|at| *at >= negative);
            docket.before(RuleId::UseRestore, restored, Some(finished), About::Day);
        }
        let filtering = case.scenario.facepiece(donning.slot).is_some_and(|piece| piece.class == Class::Filtering);
        let off = donning.off.unwrap_or(finished);
        let clean = if filtering { handled.aside } else { handled.disinfected.max(handled.aside) };
        docket.before(RuleId::FacepieceAfter, clean.filter(|at| *at >= off), Some(finished), About::Day);
    }
}
