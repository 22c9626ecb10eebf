//! The result and what follows: next step, telling, recording, leaving things as they should be.

use super::{
    Case, Docket, again,
    watching::{Call, calls},
};
use crate::{
    act::{Act, Bar, Cause, Company, Field, Fields, NextStep, Verdict},
    facepiece::Class,
    rulebook::RuleId,
    ruling,
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    let calls = calls(case);
    given(case, docket, &calls);
    for call in &calls {
        next_step(case, docket, *call);
    }
    told(case, docket, &calls);
    recorded(case, docket, &calls);
    left(case, docket);
    if let Some(at) = case.state.first(Act::SignUntested) {
        docket.broke(RuleId::UseEvery, at, About::Day);
    }
    // Sent off to use it on no result at all.
    let cleared = |(_, step, about): &&(Ms, NextStep, About)| *step == NextStep::Cleared && *about == About::Day;
    if let Some((at, ..)) = case.state.steps.iter().find(cleared)
        && calls.iter().all(|call| call.about != About::Day)
    {
        docket.broke(RuleId::UseEvery, *at, About::Day);
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

/// The last step decided on after a result stands.
fn next_step(case: &Case<'_>, docket: &mut Docket, call: Call) {
    let about = call.about;
    let distress = ruling::of(case, docket, about, call.at).distress.filter(|_| about != About::Day);
    // Whoever was in distress needs what that takes, whatever the test was ended with.
    let verdict = match (call.verdict, distress) {
        (Verdict::Pass | Verdict::Fail, _) | (_, None) => call.verdict,
        (_, Some(cause)) => Verdict::Stopped(cause),
    };
    let step =
        case.state.steps.iter().rfind(|(at, _, on)| *at >= call.at && *on == about).map(|(at, step, _)| (*at, *step));
    let Some((at, step)) = step else {
        if let Some(finished) = case.state.finished {
            docket.broke(RuleId::NextStep, finished, about);
        }
        return;
    };
    match verdict {
        Verdict::Pass => docket.mark(RuleId::NextStep, at, about, step == NextStep::Cleared),
        Verdict::Fail => after_fail(case, docket, about, at, step),
        Verdict::Invalid => after_invalid(case, docket, about, at, step),
        // Nobody was shown to be safe in anything.
        Verdict::CannotTaste | Verdict::NotTested(_) | Verdict::Stopped(_) if step == NextStep::Cleared => {
            docket.broke(RuleId::UseEvery, at, about);
        }
        Verdict::CannotTaste => {
            let other = matches!(step, NextStep::OtherAgent | NextStep::Quantitative);
            docket.mark(RuleId::NextCannot, at, about, other);
        }
        Verdict::NotTested(Bar::Wish) if case.state.shown(Seen::RefusesAgent).is_some() => {
            let fits = fits_bar(Bar::Wish, step) || matches!(step, NextStep::OtherAgent | NextStep::Quantitative);
            docket.mark(RuleId::NextStep, at, about, fits);
        }
        Verdict::NotTested(bar) => docket.mark(RuleId::NextStep, at, about, fits_bar(bar, step)),
        Verdict::Stopped(Cause::Breathing | Cause::Emergency) => {
            docket.mark(RuleId::NextRefer, at, about, step == NextStep::Refer);
        }
        Verdict::Stopped(Cause::Alarm) => docket.mark(RuleId::NextStep, at, about, after_an_alarm(step)),
        Verdict::Stopped(Cause::Wish) => {
            docket.mark(RuleId::NextStep, at, about, matches!(step, NextStep::AnotherDay | NextStep::Refer));
        }
    }
}

/// Once all is clear it is begun anew, or another day.
const fn after_an_alarm(step: NextStep) -> bool {
    matches!(step, NextStep::TestAgain | NextStep::ScreenAgain | NextStep::AnotherDay | NextStep::PutRight)
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
        // With which facepiece the new screening is followed by a test is seen when it is.
        NextStep::ScreenAgain
        | NextStep::AnotherDay
        | NextStep::Quantitative
        | NextStep::PutRight
        | NextStep::Refer => docket.kept(RuleId::NextStep, at, about),
        NextStep::RefitSame => {
            let allowed = again::may_refit_after(case, docket, about);
            docket.mark(RuleId::NextDifferent, at, about, allowed);
        }
        NextStep::TestAgain => docket.broke(RuleId::NextWhole, at, about),
        NextStep::OtherAgent => docket.broke(RuleId::NextAgent, at, about),
        NextStep::Cleared => docket.broke(RuleId::NextDifferent, at, about),
    }
}

/// The fit test again; where the screening was spoilt, that too.
fn after_invalid(case: &Case<'_>, docket: &mut Docket, about: About, at: Ms, step: NextStep) {
    let screening = match about {
        About::Screening(_) => Some(about),
        About::Test(number) => case.state.tests.get(number).and_then(|test| test.screening).map(About::Screening),
        About::Day => None,
    };
    let screening_spoilt = screening.is_some_and(|screening| ruling::of(case, docket, screening, at).spoilt);
    match step {
        NextStep::Cleared => docket.broke(RuleId::ResultComplete, at, about),
        NextStep::OtherAgent => docket.broke(RuleId::NextAgent, at, about),
        NextStep::TestAgain | NextStep::RefitSame if screening_spoilt => docket.broke(RuleId::NextScreen, at, about),
        NextStep::ScreenAgain | NextStep::OtherFacepiece if screening_spoilt => {
            docket.kept(RuleId::NextScreen, at, about);
            docket.kept(RuleId::NextStep, at, about);
        }
        NextStep::TestAgain
        | NextStep::RefitSame
        | NextStep::ScreenAgain
        | NextStep::OtherFacepiece
        | NextStep::Quantitative
        | NextStep::Refer
        | NextStep::PutRight
        | NextStep::AnotherDay => docket.kept(RuleId::NextStep, at, about),
    }
}

/// Takes the first of `done` at `from` or later, so that one telling or one record does for one result only.
fn take<T>(done: &mut Vec<(Ms, T)>, from: Ms) -> Option<(Ms, T)> {
    let place = done.iter().position(|(at, _)| *at >= from)?;
    Some(done.remove(place))
}

fn told(case: &Case<'_>, docket: &mut Docket, calls: &[Call]) {
    let Some(finished) = case.state.finished else { return };
    let mut told: Vec<(Ms, Company)> = case
        .acts()
        .filter_map(|(at, act)| if let Act::TellResult(company) = act { Some((at, company)) } else { None })
        .collect();
    for call in calls {
        if matches!(call.verdict, Verdict::Invalid | Verdict::Stopped(Cause::Emergency | Cause::Alarm)) {
            continue;
        }
        let how = take(&mut told, call.at);
        let private = how.is_some_and(|(_, company)| company == Company::Private);
        docket.mark(RuleId::ResultTell, how.map_or(finished, |(at, _)| at), call.about, private);
        if call.verdict == Verdict::Pass {
            let scope = case.acted_from(call.at, |act| act == Act::TellScope);
            docket.before(RuleId::ResultScope, scope, Some(finished), call.about);
        }
    }
}

fn recorded(case: &Case<'_>, docket: &mut Docket, calls: &[Call]) {
    let Some(finished) = case.state.finished else { return };
    let mut records: Vec<(Ms, Fields)> = case
        .acts()
        .filter_map(|(at, act)| if let Act::Record(fields) = act { Some((at, fields)) } else { None })
        .collect();
    if let Some((at, fields)) = records.iter().find(|(_, fields)| fields.has(Field::Health)).or(records.first()) {
        docket.mark(RuleId::RecordHealth, *at, About::Day, !fields.has(Field::Health));
    }
    for call in calls.iter().filter(|call| matches!(call.verdict, Verdict::Pass | Verdict::Fail)) {
        let record = take(&mut records, call.at);
        docket.mark(
            RuleId::RecordFields,
            record.map_or(finished, |(at, _)| at),
            call.about,
            record.is_some_and(|(_, fields)| fields.has_the_five()),
        );
        if let (Verdict::Fail, About::Test(number)) = (call.verdict, call.about)
            && let Some(slot) =
                case.state.tests.get(number).and_then(|test| case.donning(test)).map(|donning| donning.slot)
        {
            docket.before(RuleId::RecordAside, case.state.handled(slot).aside, Some(finished), call.about);
        }
    }
}

/// Facepieces as they were left.
fn left(case: &Case<'_>, docket: &mut Docket) {
    let Some(finished) = case.state.finished else { return };
    for handled in case.state.facepieces.values() {
        if let Some(negative) = handled.negative {
            let restored = handled.restored.filter(|at| *at >= negative);
            docket.before(RuleId::UseRestore, restored, Some(finished), About::Day);
        }
    }
    for donning in &case.state.donnings {
        let handled = case.state.handled(donning.slot);
        let last_of_it = case.state.donnings.iter().rfind(|other| other.slot == donning.slot) == Some(donning);
        if !last_of_it {
            continue;
        }
        let filtering = case.scenario.facepiece(donning.slot).is_some_and(|piece| piece.class == Class::Filtering);
        let off = donning.off.unwrap_or(finished);
        let clean = if filtering { handled.aside } else { handled.disinfected.max(handled.aside) };
        docket.before(RuleId::FacepieceAfter, clean.filter(|at| *at >= off), Some(finished), About::Day);
    }
}
