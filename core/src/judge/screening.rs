//! Taste-threshold screening.

use super::{Case, Docket, again};
use crate::{
    act::{Act, Aim, Role, Threshold, Verdict},
    attempt::{FitTest, Screening},
    rounds,
    rulebook::RuleId,
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, screening) in case.screenings() {
        spraying(case, docket, about, screening);
        counting(case, docket, about, screening);
        cleared(case, docket, about, screening.common.from);
        for (about, at, threshold) in notes(case, about, screening) {
            class(case, docket, about, screening, at, threshold);
        }
    }
    before_the_test(case, docket);
}

/// The notes that count: the one that stands, laid to the screening; and one that was corrected later, laid to the test
/// whose result rests on it.
fn notes(case: &Case<'_>, about: About, screening: &Screening) -> Vec<(About, Ms, Threshold)> {
    let resting: Vec<(About, &FitTest)> =
        case.tests().filter(|(_, test)| test.screening.map(About::Screening) == Some(about)).collect();
    let at_its_begin = |test: &FitTest| {
        let begun = test.begun().unwrap_or(test.common.from);
        screening.noted.iter().rev().find(|(at, _)| *at <= begun).copied()
    };
    let stands = match resting.last() {
        Some((_, last)) => at_its_begin(last),
        None => screening.noted.last().copied(),
    };
    let corrected = resting.iter().filter_map(|(test_about, test)| {
        let note = at_its_begin(test).filter(|note| Some(*note) != stands)?;
        matches!(test.common.call(), Some((_, Verdict::Pass | Verdict::Fail))).then_some((*test_about, note.0, note.1))
    });
    stands.map(|(at, threshold)| (about, at, threshold)).into_iter().chain(corrected).collect()
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
    // A short squeeze is put right by another one before the question: of as many presses as make a set, as many are whole.
    let set = usize::try_from(case.book.numbers.set).unwrap_or(usize::MAX);
    let mut from = 0;
    let made_good = screening.common.questions.iter().all(|question| {
        let given = squeezes.get(from..question.after).unwrap_or_default();
        from = question.after;
        given.len() < set || given.iter().filter(|squeeze| squeeze.counts()).count() >= set
    });
    docket.mark(RuleId::ScreenSqueeze, short.at, about, made_good);
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
        let odd = screening.common.shown_any(&[Seen::SaysSalty, Seen::SaysPlastic]);
        if noted == Threshold::NotTasted {
            // Silence means nothing until it was asked about at the end.
            let asked = screening.common.questions.last().is_some_and(|question| question.after >= squeezes.len());
            docket.mark(RuleId::ScreenCount, at, about, whole >= most && asked);
        } else {
            docket.broke(if odd.is_some() { RuleId::ScreenSalty } else { RuleId::ScreenClass }, at, about);
        }
        return;
    };
    let given = squeezes.get(..tasted_after).unwrap_or_default();
    let count = u32::try_from(given.iter().filter(|squeeze| squeeze.counts()).count()).unwrap_or(u32::MAX).max(1);
    let right = case.book.class_at(count);
    let too_many = rounds::count(screening.tasted_set().len()) > case.book.numbers.set;
    if screening.common.shown_any(&[Seen::SaysSalty, Seen::SaysPlastic]).is_some() {
        docket.kept(RuleId::ScreenSalty, at, about);
    }
    if noted == right {
        let early = right == Threshold::Ten && count < case.book.numbers.set;
        docket.kept(if early { RuleId::ScreenEarly } else { RuleId::ScreenClass }, at, about);
        docket.kept(RuleId::ScreenClassHigh, at, about);
        docket.kept(RuleId::ScreenCount, at, about);
        docket.kept(RuleId::ScreenUntrue, at, about);
    } else if too_many && noted < right {
        docket.broke(RuleId::ScreenCount, at, about);
    } else if right == Threshold::Ten && count < case.book.numbers.set {
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
        let About::Test(number) = about else { continue };
        let from = test.common.from;
        let screening = test.screening.and_then(|number| case.state.screenings.get(number));
        // Something was sprayed, and something came of it before the test was begun.
        let screened = screening.filter(|screening| {
            let begun = test.begun().unwrap_or(from);
            let came_to = screening.threshold_at(begun).is_some() || screening.tasted_after().is_some();
            !screening.common.squeezes.is_empty() && came_to
        });
        // After a fail, leaving it out has a rule of its own.
        let after_a_fail = again::breach(case, docket, number) == Some(RuleId::NextWhole);
        if screened.is_some() || !after_a_fail {
            docket.mark(RuleId::ScreenDone, from, about, screened.is_some());
        }
        let Some(screening) = screened else { continue };
        let noted = screening.threshold_at(test.begun().unwrap_or(from));
        docket.mark(RuleId::ScreenNote, from, about, noted.is_some());
        if noted == Some(Threshold::NotTasted) {
            docket.broke(RuleId::ScreenNone, from, about);
        }
        cleared(case, docket, about, from);
    }
}

/// Whether the taste of what was sprayed before had time, and a rinse, to go.
fn cleared(case: &Case<'_>, docket: &mut Docket, about: About, from: Ms) {
    let Some(last) = case.sprayed_before(from) else { return };
    let rinsed = case.acted_from(last, |act| act == Act::GiveWater).is_some_and(|at| at <= from);
    let waited = from.since(last) >= case.book.numbers.clear_wait;
    docket.mark(RuleId::ScreenClear, from, about, rinsed && waited);
}
