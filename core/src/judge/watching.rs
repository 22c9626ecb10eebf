//! What is seen and said during a test, and whether it was called rightly.

use super::{Case, Docket};
use crate::{
    act::{Act, Cause, NextStep, Observation, Reminder, Verdict},
    attempt::Common,
    rulebook::RuleId,
    ruling::{self, Ruling},
    sign::{Mouthful, Seen, Sign},
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, common) in case.attempts() {
        noticing(case, docket, about, common);
        distress(case, docket, about, common);
    }
    for (about, screening) in case.screenings() {
        // After the taste, the note or the hood nothing hangs on the mouth any more.
        let common = &screening.common;
        let tasted = common.shown_any(&[Seen::SignalsTaste, Seen::SaysTaste, Seen::SaysTrace]);
        let noted = screening.noted.last().map(|(at, _)| *at);
        let hood_off = common.acted(common.from, |act| act == Act::HoodOff);
        mouth(case, docket, about, common, [tasted, noted, hood_off].into_iter().flatten().min());
    }
    for (about, test) in case.tests() {
        mouth(case, docket, about, &test.common, test.ended());
        if let Some(at) = test.resumed {
            docket.broke(RuleId::FitResumed, at, about);
        }
    }
    for call in calls(case) {
        verdict(case, docket, call);
    }
    harmless_beforehand(case, docket);
    match (case.state.first(Act::AdmitSecond), case.state.shown(Seen::SecondWearer)) {
        (Some(at), _) => docket.broke(RuleId::WatchOne, at, About::Day),
        (None, Some(at)) => docket.kept(RuleId::WatchOne, at, About::Day),
        (None, None) => {}
    }
}

/// A result as it was given or, where the conductor went straight to what follows one, as that implies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Call {
    pub(super) at: Ms,
    pub(super) verdict: Verdict,
    pub(super) about: About,
}

/// The last call on each attempt, and those on the day.
pub(super) fn calls(case: &Case<'_>) -> Vec<Call> {
    let mut calls: Vec<Call> = Vec::new();
    for (about, common) in case.attempts() {
        if let Some((at, verdict)) = common.call() {
            calls.push(Call { at, verdict, about });
        }
    }
    for (at, verdict, about) in case.state.verdicts.iter().copied() {
        let said_before = calls.iter().any(|call| call.verdict == verdict);
        if about == About::Day && !said_before {
            calls.push(Call { at, verdict, about });
        }
    }
    calls
}

/// What the wearer did unasked, and whether the conductor showed in time that they had seen it.
fn noticing(case: &Case<'_>, docket: &mut Docket, about: About, common: &Common) {
    let within = case.book.numbers.note_within;
    for (at, seen) in common.signs.iter().copied() {
        let Some(observation) = seen.observation() else { continue };
        let an_answer = matches!(seen, Seen::SaysTaste | Seen::SaysTrace | Seen::SpraysNothing | Seen::HoodNear);
        if seen.is_harmless() || an_answer {
            continue;
        }
        let shown = case.acted_after(at, seen, |act| shows(act, observation));
        docket.mark(RuleId::WatchNote, at, about, shown.is_some_and(|acted| acted.since(at) <= within));
    }
}

/// Whether an act shows that such a thing was seen: it is noted, it is answered, or the attempt is ended over it. A pass is
/// given over nothing, and the hood comes off after every test.
#[expect(clippy::wildcard_enum_match_arm, reason = "four of a hundred acts end an attempt or note something")]
fn shows(act: Act, observation: Observation) -> bool {
    match act {
        Act::Stop => return true,
        Act::Give(verdict) => return verdict != Verdict::Pass,
        Act::Next(step) => return step != NextStep::Cleared,
        Act::Note(noted) => return noted == observation,
        _ => {}
    }
    match observation {
        Observation::MouthClosed => act == Act::Remind(Reminder::Breathing),
        Observation::MaskTouched => act == Act::Remind(Reminder::HandsOff),
        // Before the exercises it is put right by a new seal check.
        Observation::MaskAdjusted => {
            matches!(
                act,
                Act::Remind(Reminder::HandsOff) | Act::FixStraps | Act::SeatMask | Act::SealCheck(_) | Act::HoodOff
            )
        }
        Observation::HoodNear => act == Act::SetGap,
        Observation::Seated => act == Act::Remind(Reminder::Stand),
        Observation::Rushed => act == Act::Remind(Reminder::Slowly),
        Observation::Whispering => act == Act::Remind(Reminder::Louder),
        Observation::Clogged => matches!(act, Act::ClearNebulizer(_) | Act::CheckNebulizer(_) | Act::TestSpray(_)),
        Observation::Taste | Observation::OddTaste => {
            matches!(act, Act::Ask(_) | Act::AnswerSignal | Act::NoteThreshold(_) | Act::Remind(Reminder::SayTaste))
        }
        Observation::Residue => act == Act::WipeFace,
        Observation::Distress => matches!(act, Act::CallHelp | Act::HoodOff | Act::Doff),
        Observation::HoodOff | Observation::MaskSlipped | Observation::Harmless => false,
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "five of a hundred signs are of distress")]
fn distress(case: &Case<'_>, docket: &mut Docket, about: About, common: &Common) {
    let within = case.book.numbers.distress_within;
    let in_time = |from: Ms, like: &dyn Fn(Act) -> bool| {
        case.acted_from(from, like).is_some_and(|acted| acted.since(from) <= within)
    };
    let stops = |act: Act| matches!(act, Act::Stop | Act::HoodOff | Act::Give(Verdict::Stopped(_)));
    for (at, seen) in common.signs.iter().copied() {
        match seen {
            Seen::ChestPain | Seen::Wheezes => {
                let masked = case
                    .state
                    .donnings
                    .iter()
                    .any(|donning| donning.at <= at && donning.off.is_none_or(|off| off > at));
                let free = in_time(at, &|act| act == Act::HoodOff) && (!masked || in_time(at, &|act| act == Act::Doff));
                docket.mark(RuleId::DistressEmergency, at, about, free && in_time(at, &|act| act == Act::CallHelp));
            }
            Seen::Breathless => docket.mark(RuleId::DistressBreathing, at, about, in_time(at, &stops)),
            Seen::SaysStop => docket.mark(RuleId::DistressWish, at, about, in_time(at, &stops)),
            Seen::FireAlarm => docket.mark(RuleId::DistressAlarm, at, about, in_time(at, &|act| act == Act::HoodOff)),
            _ => {}
        }
    }
}

fn mouth(case: &Case<'_>, docket: &mut Docket, about: About, common: &Common, ended: Option<Ms>) {
    let most = case.book.numbers.mouth_closed_for;
    let shut = |(at, seen): &(Ms, Seen)| *seen == Seen::MouthShuts && ended.is_none_or(|ended| *at < ended);
    for (at, _) in common.signs.iter().copied().filter(shut) {
        let said = common.acted(at, |act| act == Act::Remind(Reminder::Breathing));
        // Whoever stops the test at once has seen it too.
        let over = ended.or(common.closed).is_some_and(|over| over.since(at) <= most);
        docket.mark(RuleId::WatchMouth, at, about, said.is_some_and(|said| said.since(at) <= most) || over);
    }
}

fn verdict(case: &Case<'_>, docket: &mut Docket, call: Call) {
    let ruling = ruling::of(case, docket, call.about, call.at);
    wearers_doing(case, docket, call, &ruling);
    let Call { at, about, .. } = call;
    if ruling.accepts(call.verdict) {
        let rule = match call.verdict {
            Verdict::Pass => RuleId::ResultComplete,
            Verdict::Fail => RuleId::WatchTaste,
            Verdict::Invalid if ruling.suspect => RuleId::WatchSuspect,
            Verdict::Invalid if ruling.salty => RuleId::WatchSalty,
            Verdict::Invalid => RuleId::ResultInvalid,
            Verdict::CannotTaste => RuleId::ScreenNone,
            Verdict::NotTested(_) | Verdict::Stopped(_) => RuleId::ResultGiven,
        };
        docket.kept(rule, at, about);
        if call.verdict == Verdict::Fail {
            docket.kept(RuleId::ResultUntasted, at, about);
        }
    } else {
        wrongly_called(case, docket, call, &ruling);
    }
    harmless(case, docket, about);
}

fn wrongly_called(case: &Case<'_>, docket: &mut Docket, call: Call, ruling: &Ruling) {
    let Call { at, about, .. } = call;
    // What spoilt it, or barred it, has its own finding already; but not where nothing was done in it.
    let begun =
        case.tests().any(|(test, _)| test == about) || case.screenings().any(|(screening, _)| screening == about);
    let explained = begun && (ruling.spoilt || ruling.barred);
    let is_test = matches!(about, About::Test(_));
    match call.verdict {
        // Whoever wanted or needed to stop, and was tested on.
        Verdict::Pass | Verdict::Fail if ruling.distress.is_some() => tested_on(docket, call, ruling),
        Verdict::Pass if ruling.taste => docket.broke(RuleId::WatchTaste, at, about),
        Verdict::Pass if ruling.salty => docket.broke(RuleId::WatchSalty, at, about),
        Verdict::Pass if is_test && (explained || ruling.accepts(Verdict::CannotTaste)) => {}
        // Passed before all seven were done: that is the finding.
        Verdict::Pass if docket.has_broken(RuleId::FitAll, about) => {}
        Verdict::Pass => docket.broke(RuleId::ResultComplete, at, about),
        Verdict::Fail if ruling.suspect => docket.broke(RuleId::WatchSuspect, at, about),
        Verdict::Fail => docket.broke(RuleId::ResultUntasted, at, about),
        // There was a reason to end it, and another one was given.
        _ if ruling.distress.is_some() => docket.broke(RuleId::ResultGiven, at, about),
        Verdict::Invalid | Verdict::NotTested(_) | Verdict::Stopped(_) if ruling.barred => {
            docket.broke(RuleId::ResultGiven, at, about);
        }
        Verdict::Invalid if ruling.taste => docket.broke(RuleId::WatchTaste, at, about),
        Verdict::Invalid if had_harmless(case, about) => docket.broke(RuleId::WatchOvercall, at, about),
        Verdict::Invalid => docket.broke(RuleId::ResultInvalid, at, about),
        Verdict::CannotTaste if explained => {}
        Verdict::CannotTaste | Verdict::NotTested(_) | Verdict::Stopped(_) => {
            docket.broke(RuleId::WatchOvercall, at, about);
        }
    }
}

fn tested_on(docket: &mut Docket, call: Call, ruling: &Ruling) {
    let rule = match ruling.distress {
        Some(Cause::Emergency) => RuleId::DistressEmergency,
        Some(Cause::Breathing) => RuleId::DistressBreathing,
        Some(Cause::Alarm) => RuleId::DistressAlarm,
        Some(Cause::Wish) | None => RuleId::DistressWish,
    };
    if !docket.has_broken(rule, call.about) {
        docket.broke(rule, call.at, call.about);
    }
}

/// Adjusting and touching are the wearer's doing; the conductor's is to call them.
fn wearers_doing(case: &Case<'_>, docket: &mut Docket, call: Call, ruling: &Ruling) {
    let passed_over = call.verdict == Verdict::Pass && !ruling.taste;
    for (at, rule) in [(ruling.adjusted, RuleId::FitAdjusted), (ruling.touched, RuleId::FitTouched)] {
        if let Some(at) = at {
            docket.mark(rule, at, call.about, !passed_over);
        }
    }
    let About::Test(number) = call.about else { return };
    let Some(test) = case.state.tests.get(number) else { return };
    // Taking the hood off oneself before the end is a matter of completeness.
    let came_off = test.common.shown_any(&[Seen::TakesHoodOff, Seen::LiftsHood]).is_some();
    if let (Some(at), None, true) = (test.hood_off, test.resumed, came_off) {
        docket.mark(RuleId::FitResumed, at, call.about, !passed_over);
    }
}

fn signs_of<'a>(case: &Case<'a>, about: About) -> &'a [(Ms, Seen)] {
    match about {
        About::Day => &[],
        About::Screening(number) => case.state.screenings.get(number).map_or(&[], |screening| &screening.common.signs),
        About::Test(number) => case.state.tests.get(number).map_or(&[], |test| &test.common.signs),
    }
}

fn had_harmless(case: &Case<'_>, about: About) -> bool {
    signs_of(case, about).iter().any(|(_, seen)| seen.is_harmless())
}

/// Harmless things let pass. Where the attempt was ended without need, the last of them was what it was ended over.
fn harmless(case: &Case<'_>, docket: &mut Docket, about: About) {
    const WITHOUT_NEED: [RuleId; 3] = [RuleId::WatchOvercall, RuleId::ResultInvalid, RuleId::ResultUntasted];
    let mut cues: Vec<Ms> =
        signs_of(case, about).iter().filter(|(_, seen)| seen.is_harmless()).map(|(at, _)| *at).collect();
    if WITHOUT_NEED.into_iter().any(|rule| docket.has_broken(rule, about)) {
        cues.pop();
    }
    for at in cues {
        docket.kept(RuleId::WatchOvercall, at, about);
    }
}

/// Harmless things told or seen before the hood, and let pass by going on to it.
fn harmless_beforehand(case: &Case<'_>, docket: &mut Docket) {
    let Some(hood) = case.hood_from() else { return };
    let is_harmless = |sign: &Sign| {
        let harmless = [Seen::SaysClearedLongAgo, Seen::FaceMoustache, Seen::SipsWater];
        matches!(sign, Sign::ByMouth(Mouthful::Water, _)) || harmless.into_iter().any(|seen| sign.is(seen))
    };
    for (_, (at, _)) in case.state.signs.iter().filter(|(sign, (at, _))| is_harmless(sign) && *at <= hood) {
        docket.kept(RuleId::WatchOvercall, *at, About::Day);
    }
}
