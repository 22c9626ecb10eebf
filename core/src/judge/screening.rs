//! Taste-threshold screening.

use super::{Case, Docket};
use crate::{
    act::{Act, Aim, Role, Threshold},
    attempt::Screening,
    rulebook::RuleId,
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, screening) in case.screenings() {
        spraying(case, docket, about, screening);
        counting(case, docket, about, screening);
        if let Some((at, threshold)) = screening.noted.last().copied() {
            class(case, docket, about, screening, at, threshold);
        }
    }
    before_the_test(case, docket);
}

/// How it was sprayed, and where.
fn spraying(case: &Case<'_>, docket: &mut Docket, about: About, screening: &Screening) {
    let squeezes = &screening.common.squeezes;
    let Some(first) = squeezes.first().copied() else { return };
    let mut all = |rule: RuleId, right: &dyn Fn(&crate::attempt::Squeeze) -> bool| {
        let wrong = squeezes.iter().find(|squeeze| !right(squeeze));
        docket.mark(rule, wrong.map_or(first.at, |squeeze| squeeze.at), about, wrong.is_none());
    };
    all(RuleId::NebScreen, &|squeeze| squeeze.role == Role::Check);
    all(RuleId::ScreenBare, &|squeeze| !squeeze.masked);
    all(RuleId::ScreenHood, &|squeeze| squeeze.hood);
    all(RuleId::ScreenNozzle, &|squeeze| squeeze.aim == Aim::Away);
    if let Some(near) = screening.common.shown_any(&[Seen::HoodNear, Seen::HoodSlidesNear]) {
        let mended = screening.common.acted(near, |act| act == Act::SetGap);
        docket.mark(RuleId::ScreenGap, near, about, mended.is_some());
    }
    let set = usize::try_from(case.book.numbers.set).unwrap_or(usize::MAX);
    for ten in squeezes.chunks_exact(set) {
        if let [first, .., last] = ten {
            docket.mark(RuleId::ScreenRapid, first.at, about, last.at.since(first.at) <= case.book.numbers.rapid_set);
        }
    }
}

/// Whether each set was whole before the question.
fn counting(case: &Case<'_>, docket: &mut Docket, about: About, screening: &Screening) {
    let squeezes = &screening.common.squeezes;
    let Some(short) = squeezes.iter().find(|squeeze| !squeeze.full) else {
        if let Some(first) = squeezes.first() {
            docket.kept(RuleId::ScreenSqueeze, first.at, about);
        }
        return;
    };
    // A short squeeze is put right by another one before the question.
    let set = usize::try_from(case.book.numbers.set).unwrap_or(usize::MAX);
    let made_good = screening.common.questions.iter().all(|question| {
        let given = squeezes.get(..question.after).unwrap_or_default();
        let whole = given.iter().filter(|squeeze| squeeze.counts()).count();
        whole.is_multiple_of(set) || given.len() < set
    });
    docket.mark(RuleId::ScreenSqueeze, short.at, about, made_good && !screening.common.questions.is_empty());
}

/// Whether the class noted is the one that was shown.
fn class(case: &Case<'_>, docket: &mut Docket, about: About, screening: &Screening, at: Ms, noted: Threshold) {
    let squeezes = &screening.common.squeezes;
    if squeezes.is_empty() {
        // Noted without a squeeze: there was no screening. Marked where a test rests on it.
        return;
    }
    if screening.common.shown(Seen::SaysTasteBefore).is_some() {
        docket.broke(RuleId::ScreenUntrue, at, about);
        return;
    }
    let whole = u32::try_from(squeezes.iter().filter(|squeeze| squeeze.counts()).count()).unwrap_or(u32::MAX);
    let most = case.book.numbers.set * case.book.numbers.sets;
    let Some(tasted_after) = screening.tasted_after() else {
        let odd = screening.common.shown_any(&[Seen::SaysSalty, Seen::SaysPlastic, Seen::SaysYesToPlease]);
        match noted {
            Threshold::NotTasted => docket.mark(RuleId::ScreenCount, at, about, whole >= most),
            _ if odd.is_some() => docket.broke(RuleId::ScreenSalty, at, about),
            _ => docket.broke(RuleId::ScreenClass, at, about),
        }
        return;
    };
    let given = squeezes.get(..tasted_after).unwrap_or_default();
    let count = u32::try_from(given.iter().filter(|squeeze| squeeze.counts()).count()).unwrap_or(u32::MAX).max(1);
    let right = case.book.class_at(count);
    // How many squeezes had been given since the question before.
    let asked_before = screening.common.questions.iter().rev().map(|question| question.after).find(|after| *after < tasted_after);
    let in_this_set = tasted_after - asked_before.unwrap_or(0);
    let too_many = in_this_set > usize::try_from(case.book.numbers.set).unwrap_or(usize::MAX);
    if screening.common.shown_any(&[Seen::SaysSalty, Seen::SaysPlastic]).is_some() {
        docket.kept(RuleId::ScreenSalty, at, about);
    }
    if noted == right {
        let early = right == Threshold::Ten && count < case.book.numbers.set;
        docket.kept(if early { RuleId::ScreenEarly } else { RuleId::ScreenClass }, at, about);
    } else if too_many && noted < right {
        docket.broke(RuleId::ScreenCount, at, about);
    } else if right == Threshold::Ten {
        docket.broke(RuleId::ScreenEarly, at, about);
    } else if noted < right {
        docket.broke(RuleId::ScreenClass, at, about);
    } else {
        docket.broke(RuleId::ScreenClassHigh, at, about);
    }
}

/// What a test rests on.
fn before_the_test(case: &Case<'_>, docket: &mut Docket) {
    for (about, test) in case.tests() {
        let from = test.common.from;
        let screening = test.screening.and_then(|number| case.state.screenings.get(number));
        let screened = screening.filter(|screening| !screening.common.squeezes.is_empty());
        docket.mark(RuleId::ScreenDone, from, about, screened.is_some());
        let Some(screening) = screened else { continue };
        docket.mark(RuleId::ScreenNote, from, about, screening.threshold().is_some());
        if screening.threshold() == Some(Threshold::NotTasted) {
            docket.broke(RuleId::ScreenNone, from, about);
        }
        let last = screening.common.squeezes.last().map_or(from, |squeeze| squeeze.at);
        let rinsed = case.acted_from(last, |act| act == Act::GiveWater).is_some_and(|at| at <= from);
        let waited = from.since(last) >= case.book.numbers.clear_wait;
        docket.mark(RuleId::ScreenClear, from, about, rinsed && waited);
    }
}
