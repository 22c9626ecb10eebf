//! Which results would have been right for an attempt.
//!
//! Precedence: the wearer's safety first; then what bars a test; then a taste, which no defect rescues unless the taste
//! itself is suspect; then what spoils a test; then completeness.

use crate::{
    act::{Act, Bar, Cause, Exercise, Threshold, Verdict},
    attempt::{Common, FitTest},
    facepiece::{Class, Condition},
    judge::{Case, Docket},
    scenario::{Clearance, Face},
    sign::{Mouthful, Seen},
    state::About,
    units::Ms,
};

/// What would have been right, and why.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ruling {
    /// The results that would have been right; more than one where both readings can be argued, none where the attempt
    /// had not come to a result.
    pub accepted: Vec<Verdict>,
    /// A taste was reported.
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
    /// The wearer was not to be tested.
    pub barred: bool,
    /// The wearer was in distress.
    pub distress: bool,
}

impl Ruling {
    /// Whether this result would have been right.
    #[must_use]
    pub fn accepts(&self, verdict: Verdict) -> bool {
        self.accepted.contains(&verdict)
    }
}

/// The ruling on an attempt, given what has been found broken in it so far.
pub(crate) fn of(case: &Case<'_>, docket: &Docket, about: About) -> Ruling {
    match about {
        About::Day => of_the_day(case),
        About::Screening(number) => of_a_screening(case, docket, about, number),
        About::Test(number) => case.state.tests.get(number).map_or_else(Ruling::default, |test| of_a_test(case, docket, about, test)),
    }
}

fn of_the_day(case: &Case<'_>) -> Ruling {
    let mut accepted: Vec<Verdict> = bars(case, None).into_iter().map(Verdict::NotTested).collect();
    // Said before anything had begun, or between attempts.
    accepted.extend(
        [(Seen::SaysStop, Cause::Wish), (Seen::Breathless, Cause::Breathing), (Seen::ChestPain, Cause::Emergency), (Seen::Wheezes, Cause::Emergency)]
            .into_iter()
            .filter(|(seen, _)| case.state.shown(*seen).is_some())
            .map(|(_, cause)| Verdict::Stopped(cause)),
    );
    Ruling { barred: !accepted.is_empty(), accepted, ..Ruling::default() }
}

fn of_a_screening(case: &Case<'_>, docket: &Docket, about: About, number: usize) -> Ruling {
    let Some(screening) = case.state.screenings.get(number) else { return Ruling::default() };
    let mut ruling = Ruling::default();
    if let Some(cause) = cause_of_stopping(&screening.common) {
        ruling.distress = true;
        ruling.accepted = vec![Verdict::Stopped(cause)];
        return ruling;
    }
    let bars = bars(case, None);
    if !bars.is_empty() {
        ruling.barred = true;
        ruling.accepted = bars.into_iter().map(Verdict::NotTested).collect();
        return ruling;
    }
    ruling.spoilt = docket.is_spoilt(case.book, about) || screening.common.shown(Seen::SaysTasteBefore).is_some();
    if ruling.spoilt {
        ruling.accepted = vec![Verdict::Invalid];
        return ruling;
    }
    let most = usize::try_from(case.book.numbers.set * case.book.numbers.sets).unwrap_or(usize::MAX);
    let whole = screening.common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
    if screening.tasted_after().is_none() && whole >= most {
        ruling.accepted = vec![Verdict::CannotTaste];
    }
    ruling
}

fn of_a_test(case: &Case<'_>, docket: &Docket, about: About, test: &FitTest) -> Ruling {
    let begun = test.begun();
    let after_begun = |at: Option<Ms>| at.filter(|at| begun.is_some_and(|begun| *at >= begun));
    let last_of = |seen: Seen| test.common.signs.iter().rev().find(|(_, sign)| *sign == seen).map(|(at, _)| *at);
    let by_conductor = begun.and_then(|begun| test.common.acted(begun, |act| act == Act::FixStraps));
    let adjusted = after_begun(last_of(Seen::AdjustsMask)).or(by_conductor);
    let touched = after_begun(last_of(Seen::TouchesMask));
    let taste = test.taste();
    let screening = test.screening.map(About::Screening);
    let screening_spoilt = screening.is_some_and(|screening| docket.is_spoilt(case.book, screening));
    let residue = test.common.shown_any(&[Seen::DropOnFace, Seen::SaysTasteBefore]);
    let residue_first = residue.is_some_and(|drop| taste.is_none_or(|taste| drop <= taste));
    let mut ruling = Ruling {
        taste: taste.is_some(),
        suspect: taste.is_some() && (screening_spoilt || residue_first),
        salty: last_of(Seen::SaysSalty) > last_of(Seen::SaysSaltGone),
        adjusted,
        touched,
        spoilt: docket.is_spoilt(case.book, about)
            || screening_spoilt
            || adjusted.is_some()
            || touched.is_some()
            || test.hood_off.is_some()
            || residue.is_some(),
        ..Ruling::default()
    };
    let moved_before = [adjusted, touched].into_iter().flatten().min().is_some_and(|moved| taste.is_some_and(|taste| moved < taste));
    let bars = bars(case, Some(test));
    let cannot_taste = test
        .screening
        .and_then(|number| case.state.screenings.get(number))
        .is_some_and(|screening| screening.threshold() == Some(Threshold::NotTasted));
    ruling.accepted = if let Some(cause) = cause_of_stopping(&test.common) {
        ruling.distress = true;
        vec![Verdict::Stopped(cause)]
    } else if !bars.is_empty() {
        ruling.barred = true;
        bars.into_iter().map(Verdict::NotTested).chain([Verdict::Invalid]).collect()
    } else if cannot_taste {
        vec![Verdict::CannotTaste]
    } else if ruling.suspect {
        vec![Verdict::Invalid]
    } else if ruling.taste && moved_before {
        vec![Verdict::Fail, Verdict::Invalid]
    } else if ruling.taste {
        vec![Verdict::Fail]
    } else if ruling.salty {
        vec![Verdict::Invalid, Verdict::Fail]
    } else if ruling.spoilt {
        vec![Verdict::Invalid]
    } else if is_complete(test) {
        vec![Verdict::Pass]
    } else {
        Vec::new()
    };
    ruling
}

/// All seven exercises, to their end.
fn is_complete(test: &FitTest) -> bool {
    let all = Exercise::SEVEN.iter().all(|one| {
        test.exercises.iter().any(|done| done.exercise == *one || (*one == Exercise::Bending && done.exercise == Exercise::Jogging))
    });
    all && test.ended().is_some()
}

fn cause_of_stopping(common: &Common) -> Option<Cause> {
    common.signs.iter().find_map(|(_, seen)| match seen {
        Seen::ChestPain | Seen::Wheezes => Some(Cause::Emergency),
        Seen::Breathless => Some(Cause::Breathing),
        Seen::SaysStop => Some(Cause::Wish),
        _ => None,
    })
}

/// What stands in the way of testing this wearer: in this test, or on this day.
fn bars(case: &Case<'_>, test: Option<&FitTest>) -> Vec<Bar> {
    let (person, state, numbers) = (&case.scenario.person, case.state, &case.book.numbers);
    let tested = test.and_then(|test| case.tested(test));
    let from = test.map_or(state.now, |test| test.common.from);
    let mut bars = Vec::new();
    let not_powered = tested.is_none_or(|piece| piece.class != Class::Powered);
    if person.clearance == Clearance::NotCleared || (person.clearance == Clearance::PoweredOnly && not_powered) {
        bars.push(Bar::Clearance);
    }
    let covered = matches!(person.face, Face::TempleBar | Face::Covering)
        && state.shown(Seen::SealCleared).is_none_or(|cleared| cleared > from);
    if matches!(person.face, Face::Stubble | Face::Beard) || covered {
        bars.push(Bar::Seal);
    }
    let (what, minutes) = person.by_mouth;
    let clear_from = numbers.nothing_by_mouth.since(Ms::mins(u32::from(minutes)));
    let told = test.is_some() || state.first(Act::AskMouth).is_some();
    if !matches!(what, Mouthful::Nothing | Mouthful::Water) && told && from < clear_from {
        bars.push(Bar::Mouth);
    }
    let times = u32::from(case.scenario.exposure_times);
    if times > numbers.limit_times && tested.is_none_or(|piece| !piece.class.is_positive()) {
        bars.push(Bar::Use);
    }
    let defective = tested.is_some_and(|piece| piece.condition != Condition::Sound);
    let none_left = test.is_none()
        && (state.shown(Seen::ChoosesNone).is_some()
            || [Seen::ValveMissing, Seen::FilterAskew, Seen::StrapCracked, Seen::SaysUncomfortable, Seen::SealLeaks]
                .iter()
                .any(|seen| state.shown(*seen).is_some()));
    if defective || none_left {
        bars.push(Bar::Facepiece);
    }
    if state.shown(Seen::SaysRatherNot).is_some() {
        bars.push(Bar::Wish);
    }
    bars
}
