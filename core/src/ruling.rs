//! Which results would have been right for an attempt.
//!
//! Precedence: the wearer's safety first; then what bars a test; then a taste, which no defect rescues unless the taste
//! itself is suspect; then what spoils a test; then completeness.

use crate::{
    act::{Act, Bar, Cause, Threshold, Verdict},
    attempt::{Common, FitTest},
    facepiece::{Class, Condition},
    judge::{self, Case, Docket},
    scenario::{Clearance, Face},
    sign::{Mouthful, Seen},
    state::{About, State},
    units::Ms,
};

/// What would have been right, and why.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ruling {
    /// The results that would have been right; more than one where both readings can be argued.
    pub accepted: Vec<Verdict>,
    /// It was a test that had not come to a result: going on was right as well.
    pub unfinished: bool,
    /// A taste was reported, or half shown and never asked about.
    pub taste: bool,
    /// That taste may have come from elsewhere.
    pub suspect: bool,
    /// Salt was reported and is not clearly gone.
    pub salty: bool,
    /// The facepiece was adjusted after the exercises had begun.
    pub adjusted: Option<Ms>,
    /// The facepiece was touched after the exercises had begun.
    pub touched: Option<Ms>,
    /// Something spoilt it.
    pub spoilt: bool,
    /// It follows a fail, and is not what may follow one.
    pub unlawful: bool,
    /// The wearer was not to be tested.
    pub barred: bool,
    /// The wearer was in distress, or wanted to stop.
    pub distress: Option<Cause>,
}

impl Ruling {
    /// Whether this result would have been right.
    #[must_use]
    pub fn accepts(&self, verdict: Verdict) -> bool {
        self.accepted.contains(&verdict)
    }
}

/// The ruling at `at` on an attempt, given what has been found broken in it so far.
pub(crate) fn of(case: &Case<'_>, docket: &Docket, about: About, at: Ms) -> Ruling {
    match about {
        About::Day => of_the_day(case, at),
        About::Screening(number) => of_a_screening(case, docket, number, at),
        About::Test(number) => of_a_test(case, docket, number, at),
    }
}

fn of_the_day(case: &Case<'_>, at: Ms) -> Ruling {
    let bars = bars(case, None, at);
    let shown = |seen: Seen| case.state.shown(seen).is_some_and(|shown| shown <= at);
    // Said before anything had begun, or between attempts.
    let distress = CAUSES.iter().find(|(seen, _)| shown(*seen)).map(|(_, cause)| *cause);
    let accepted = bars.iter().copied().map(Verdict::NotTested).chain(distress.map(Verdict::Stopped)).collect();
    Ruling { barred: !bars.is_empty(), distress, accepted, ..Ruling::default() }
}

fn of_a_screening(case: &Case<'_>, docket: &Docket, number: usize, at: Ms) -> Ruling {
    let Some(screening) = case.state.screenings.get(number) else { return Ruling::default() };
    let mut ruling = Ruling::default();
    if let Some(cause) = cause_of_stopping(&screening.common) {
        ruling.distress = Some(cause);
        ruling.accepted = vec![Verdict::Stopped(cause)];
        return ruling;
    }
    let bars = bars(case, None, at);
    ruling.accepted = bars.iter().copied().map(Verdict::NotTested).collect();
    // What bars a fit test only, such as hair at the seal, takes nothing from what a screening shows.
    ruling.barred = bars.iter().any(|bar| matches!(bar, Bar::Clearance | Bar::Mouth | Bar::Wish));
    if bars.iter().any(|bar| matches!(bar, Bar::Clearance | Bar::Wish)) {
        return ruling;
    }
    ruling.spoilt = docket.is_spoilt(case.book, About::Screening(number))
        || screening.common.shown(Seen::SaysTasteBefore).is_some();
    let most = usize::try_from(case.book.numbers.set * case.book.numbers.sets).unwrap_or(usize::MAX);
    let whole = screening.common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
    if !ruling.spoilt && !ruling.barred && screening.tasted_after().is_none() && whole >= most {
        ruling.accepted.push(Verdict::CannotTaste);
    }
    // Screening once more than the text asks is never marked down.
    ruling.accepted.push(Verdict::Invalid);
    ruling
}

fn of_a_test(case: &Case<'_>, docket: &Docket, number: usize, at: Ms) -> Ruling {
    let (Some(test), about) = (case.state.tests.get(number), About::Test(number)) else { return Ruling::default() };
    let begun = test.begun();
    let in_exercises = |seen: Seen| {
        let mut shown = test.common.signs.iter().filter(|(_, sign)| *sign == seen).map(|(at, _)| *at);
        begun.and_then(|begun| shown.find(|at| *at >= begun))
    };
    let by_conductor = begun.and_then(|begun| test.common.acted(begun, |act| act == Act::FixStraps));
    let adjusted = [in_exercises(Seen::AdjustsMask), in_exercises(Seen::HelperAtStraps), by_conductor];
    let adjusted = adjusted.into_iter().flatten().min();
    let touched = in_exercises(Seen::TouchesMask);
    let taste = taste_in(test);
    let screening_spoilt = is_screening_spoilt(case, docket, test);
    let unlawful = judge::again::breach(case, docket, number).is_some();
    let mut ruling = Ruling {
        taste: taste.is_some(),
        suspect: is_suspect(case, docket, test),
        salty: is_salty(test),
        adjusted,
        touched,
        spoilt: docket.is_spoilt(case.book, about)
            || test.gap().is_some()
            || screening_spoilt
            || unlawful
            || adjusted.is_some()
            || touched.is_some()
            || begun.is_some_and(|begun| test.common.found_clogged(begun).is_some())
            || test.hood_off.is_some_and(|off| off <= at),
        unlawful,
        ..Ruling::default()
    };
    let moved_before =
        [adjusted, touched].into_iter().flatten().min().is_some_and(|moved| taste.is_some_and(|taste| moved < taste));
    let salty_before = case.state.tests.iter().take(number).any(is_salty);
    let bars = bars(case, Some(test), test.common.from);
    let cannot_taste = screening_of(case.state, test).is_some_and(|screening| {
        screening.threshold_at(begun.unwrap_or(test.common.from)) == Some(Threshold::NotTasted)
    });
    // Where something off the procedure made a false pass likelier, starting over can be argued as well.
    let whole = test.has_all_seven() && test.ended().is_some();
    // What is broken by a result given before the end could still have been done.
    let before = if whole { Ms(u32::MAX) } else { at };
    let weakened = docket.is_weakened(case.book, about, before)
        || test.screening.is_some_and(|number| docket.is_weakened(case.book, About::Screening(number), before))
        || has_residue(test);
    ruling.accepted = if let Some(cause) = cause_of_stopping(&test.common) {
        ruling.distress = Some(cause);
        vec![Verdict::Stopped(cause)]
    } else if !bars.is_empty() {
        ruling.barred = true;
        // What should have barred the test rescues no taste either.
        let fail = (ruling.taste && !ruling.suspect).then_some(Verdict::Fail);
        bars.into_iter().map(Verdict::NotTested).chain([Verdict::Invalid]).chain(fail).collect()
    } else if cannot_taste {
        vec![Verdict::CannotTaste]
    } else if ruling.suspect {
        vec![Verdict::Invalid]
    } else if ruling.taste && moved_before {
        vec![Verdict::Fail, Verdict::Invalid]
    } else if ruling.taste || (ruling.salty && salty_before) {
        // Salt that comes again is treated as a leak.
        vec![Verdict::Fail]
    } else if ruling.salty {
        vec![Verdict::Invalid, Verdict::Fail]
    } else if ruling.spoilt {
        vec![Verdict::Invalid]
    } else {
        ruling.unfinished = !whole;
        whole.then_some(Verdict::Pass).into_iter().chain(weakened.then_some(Verdict::Invalid)).collect()
    };
    ruling
}

/// When a taste was first reported in a test: said, signed, or half shown and not asked about until it was denied.
pub(crate) fn taste_in(test: &FitTest) -> Option<Ms> {
    let signs = &test.common.signs;
    let gesture = signs.iter().filter(|(_, seen)| *seen == Seen::RaisesHand).map(|(at, _)| *at).find(|raised| {
        !signs.iter().any(|(at, seen)| at >= raised && matches!(seen, Seen::SaysNothing | Seen::SaysPlastic))
    });
    [test.taste(), gesture, test.common.shown(Seen::SaysTasteBefore)].into_iter().flatten().min()
}

fn has_residue(test: &FitTest) -> bool {
    test.common.shown_any(&[Seen::DropOnFace, Seen::SaysTasteBefore]).is_some()
}

/// Whether the taste reported in a test may have come from elsewhere than a leak.
fn is_suspect(case: &Case<'_>, docket: &Docket, test: &FitTest) -> bool {
    let residue = test.common.shown_any(&[Seen::DropOnFace, Seen::SaysTasteBefore]);
    taste_in(test)
        .is_some_and(|taste| is_screening_spoilt(case, docket, test) || residue.is_some_and(|residue| residue <= taste))
}

/// Whether a taste was reported in a test that stands against the facepiece.
pub(crate) fn is_leak(case: &Case<'_>, docket: &Docket, test: &FitTest) -> bool {
    taste_in(test).is_some() && !is_suspect(case, docket, test)
}

fn screening_of<'a>(state: &'a State, test: &FitTest) -> Option<&'a crate::attempt::Screening> {
    state.screenings.get(test.screening?)
}

fn is_screening_spoilt(case: &Case<'_>, docket: &Docket, test: &FitTest) -> bool {
    test.screening.is_some_and(|number| docket.is_spoilt(case.book, About::Screening(number)))
}

/// Whether salt was reported and is not clearly gone.
fn is_salty(test: &FitTest) -> bool {
    let last = test.common.signs.iter().rev().find(|(_, seen)| matches!(seen, Seen::SaysSalty | Seen::SaysSaltGone));
    last.is_some_and(|(_, seen)| *seen == Seen::SaysSalty)
}

/// What makes a conductor stop for the wearer's sake, gravest first.
const CAUSES: [(Seen, Cause); 5] = [
    (Seen::ChestPain, Cause::Emergency),
    (Seen::Wheezes, Cause::Emergency),
    (Seen::Breathless, Cause::Breathing),
    (Seen::FireAlarm, Cause::Alarm),
    (Seen::SaysStop, Cause::Wish),
];

fn cause_of_stopping(common: &Common) -> Option<Cause> {
    CAUSES.iter().find(|(seen, _)| common.shown(*seen).is_some()).map(|(_, cause)| *cause)
}

/// What stands in the way of testing this wearer at `at`: in this test, or on this day.
fn bars(case: &Case<'_>, test: Option<&FitTest>, at: Ms) -> Vec<Bar> {
    let (person, state, numbers) = (&case.scenario.person, case.state, &case.book.numbers);
    let tested = test.and_then(|test| case.tested(test));
    let shown = |seen: Seen| state.shown(seen).is_some_and(|shown| shown <= at);
    let mut bars = Vec::new();
    let powered = match test {
        Some(_) => tested.is_some_and(|piece| piece.class == Class::Powered),
        None => case.scenario.rack.iter().any(|piece| piece.class == Class::Powered),
    };
    let none_of_those = !powered || (test.is_none() && shown(Seen::ChoosesNone));
    if person.clearance == Clearance::NotCleared || (person.clearance == Clearance::PoweredOnly && none_of_those) {
        bars.push(Bar::Clearance);
    }
    let covered =
        test.is_some() && matches!(person.face, Face::TempleBar | Face::Covering) && !shown(Seen::SealCleared);
    if matches!(person.face, Face::Stubble | Face::Beard) || covered {
        bars.push(Bar::Seal);
    }
    let (what, minutes) = person.by_mouth;
    let clear_from = numbers.nothing_by_mouth.since(Ms::mins(u32::from(minutes)));
    let told = test.is_some() || state.first(Act::AskMouth).is_some_and(|asked| asked <= at);
    if (!matches!(what, Mouthful::Nothing | Mouthful::Water) && told && at < clear_from)
        || (what == Mouthful::Numb && told)
    {
        bars.push(Bar::Mouth);
    }
    let beyond = match tested {
        Some(piece) => u32::from(case.scenario.exposure_times) > numbers.limit_times && !piece.class.is_positive(),
        None => case.scenario.is_beyond_this_test(),
    };
    if beyond {
        bars.push(Bar::Use);
    }
    let defective = tested.is_some_and(|piece| piece.condition != Condition::Sound);
    let none_left = test.is_none()
        && [
            Seen::ChoosesNone,
            Seen::ValveMissing,
            Seen::FilterAskew,
            Seen::StrapCracked,
            Seen::SaysUncomfortable,
            Seen::SealLeaks,
            Seen::FacepieceUsed,
        ]
        .into_iter()
        .any(shown);
    if defective || none_left {
        bars.push(Bar::Facepiece);
    }
    if shown(Seen::SaysRatherNot) || shown(Seen::RefusesAgent) {
        bars.push(Bar::Wish);
    }
    bars
}
