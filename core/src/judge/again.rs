//! What was really tested after a fail, whatever had been decided: a different facepiece, and a new screening.

use super::{Case, Docket};
use crate::{
    act::{Slot, Verdict},
    attempt::FitTest,
    facepiece::Class,
    rulebook::RuleId,
    ruling,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, test) in case.tests() {
        let About::Test(number) = about else { continue };
        let Some((last, _)) = failed_before(case, docket, number).last().copied() else { continue };
        // A finding belongs to the first decision that went wrong: where the fail was waved through, or the wrong step was
        // decided on, that is where it stands already.
        let decided = [RuleId::NextDifferent, RuleId::NextWhole, RuleId::NextAgent, RuleId::WatchTaste];
        if decided.into_iter().any(|rule| docket.has_broken(rule, About::Test(last))) {
            continue;
        }
        match breach(case, docket, number) {
            Some(rule) => docket.broke(rule, test.common.from, about),
            None => {
                docket.kept(RuleId::NextDifferent, test.common.from, about);
                docket.kept(RuleId::NextWhole, test.common.from, about);
            }
        }
    }
}

/// What a test breaks that follows a fail: it is of the same facepiece, or there was no new screening.
pub(crate) fn breach(case: &Case<'_>, docket: &Docket, number: usize) -> Option<RuleId> {
    let test = case.state.tests.get(number)?;
    let failed = failed_before(case, docket, number);
    let (_, last) = failed.last().copied()?;
    let slot = slot_of(case, test);
    let same = failed.iter().filter(|(_, failed)| slot_of(case, failed) == slot).count();
    if same > 0 {
        return (!may_be_refitted(case, same)).then_some(RuleId::NextDifferent);
    }
    let screening = test.screening.and_then(|number| case.state.screenings.get(number));
    let again = screening.is_some_and(|screening| screening.common.from > last.common.from);
    (!again).then_some(RuleId::NextWhole)
}

/// Whether a facepiece that failed so often may be put on once more: once, where the house says so.
fn may_be_refitted(case: &Case<'_>, fails: usize) -> bool {
    case.book.house.one_refit_after_fail && fails == 1
}

/// Whether refitting may be decided on after this fail.
pub(super) fn may_refit_after(case: &Case<'_>, docket: &Docket, about: About) -> bool {
    let About::Test(number) = about else { return false };
    let Some(test) = case.state.tests.get(number) else { return false };
    let same = failed_before(case, docket, number + 1);
    may_be_refitted(case, same.iter().filter(|(_, failed)| slot_of(case, failed) == slot_of(case, test)).count())
}

fn slot_of(case: &Case<'_>, test: &FitTest) -> Option<Slot> {
    case.donning(test).map(|donning| donning.slot)
}

/// The tests before this one that were failed, or should have been.
fn failed_before<'a>(case: &Case<'a>, docket: &Docket, number: usize) -> Vec<(usize, &'a FitTest)> {
    let called = |test: &FitTest| matches!(test.common.verdict, Some((_, Verdict::Fail)));
    case.state
        .tests
        .iter()
        .take(number)
        .enumerate()
        .filter(|(_, test)| called(test) || ruling::is_leak(case, docket, test))
        .collect()
}

/// Whether a facepiece was given up before a moment: it failed, leaked, was faulty, or was not acceptable.
pub(super) fn is_given_up(case: &Case<'_>, docket: &Docket, slot: Slot, before: Ms) -> bool {
    let tests = case.state.tests.iter().take_while(|test| test.common.from < before).count();
    let failed = failed_before(case, docket, tests).iter().any(|(_, test)| slot_of(case, test) == Some(slot));
    let of_it = case.state.donnings.iter().filter(|donning| donning.slot == slot && donning.at < before);
    let refused = of_it.clone().any(|donning| donning.comfort_last.is_some_and(|(at, fine)| !fine && at < before));
    let leaked = of_it.clone().any(|donning| donning.seal_checks.iter().any(|check| !check.holds && check.at < before));
    let faulty = case.state.handled(slot).defect.is_some_and(|at| at < before);
    let filtering = case.scenario.facepiece(slot).is_some_and(|piece| piece.class == Class::Filtering);
    let passed_on = filtering && case.state.handled(slot).used.is_some_and(|at| at < before);
    failed || refused || leaked || faulty || passed_on
}
