//! What is seen and said during a test, and whether it was called rightly.

use super::{Case, Docket};
use crate::{
    act::{Act, Reminder, Verdict},
    attempt::Common,
    rulebook::RuleId,
    ruling::{self, Ruling},
    sign::Seen,
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for (about, screening) in case.screenings() {
        noticing(case, docket, about, &screening.common);
        distress(case, docket, about, &screening.common);
        mouth(case, docket, about, &screening.common);
    }
    for (about, test) in case.tests() {
        noticing(case, docket, about, &test.common);
        distress(case, docket, about, &test.common);
        mouth(case, docket, about, &test.common);
        if let Some(at) = test.resumed {
            docket.broke(RuleId::FitResumed, at, about);
        }
    }
    for call in calls(case) {
        verdict(case, docket, call);
    }
}

/// A result as it was given or, where the conductor went straight to a new start, as that implies.
#[derive(Clone, Copy, Debug)]
pub(super) struct Call {
    pub(super) at: Ms,
    pub(super) verdict: Verdict,
    pub(super) about: About,
}

/// The last call on each attempt, and those on the day.
pub(super) fn calls(case: &Case<'_>) -> Vec<Call> {
    let mut calls: Vec<Call> = Vec::new();
    let attempts = case
        .screenings()
        .map(|(about, screening)| (about, &screening.common))
        .chain(case.tests().map(|(about, test)| (about, &test.common)));
    for (about, common) in attempts {
        let implied = common.next.filter(|(_, step)| step.is_again()).map(|(at, _)| (at, Verdict::Invalid));
        if let Some((at, verdict)) = common.verdict.or(implied) {
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
        let shows = |act: Act| {
            act == Act::Note(observation)
                || matches!(
                    act,
                    Act::Remind(_)
                        | Act::SetGap
                        | Act::Ask(_)
                        | Act::AnswerSignal
                        | Act::NoteThreshold(_)
                        | Act::Stop
                        | Act::Give(_)
                        | Act::Next(_)
                        | Act::CallHelp
                        | Act::HoodOff
                        | Act::ClearNebulizer(_)
                        | Act::CheckNebulizer(_)
                        | Act::WipeFace
                )
        };
        let shown = case.acted_from(at, shows).is_some_and(|acted| acted.since(at) <= within);
        docket.mark(RuleId::WatchNote, at, about, shown);
    }
}

fn distress(case: &Case<'_>, docket: &mut Docket, about: About, common: &Common) {
    let within = case.book.numbers.distress_within;
    let in_time = |from: Ms, like: &dyn Fn(Act) -> bool| {
        case.acted_from(from, like).is_some_and(|acted| acted.since(from) <= within)
    };
    let stops = |act: Act| matches!(act, Act::Stop | Act::HoodOff | Act::Give(Verdict::Stopped(_)));
    for (at, seen) in common.signs.iter().copied() {
        match seen {
            Seen::ChestPain | Seen::Wheezes => {
                let masked = case.state.donnings.iter().any(|donning| donning.at <= at && donning.off.is_none_or(|off| off > at));
                let free = in_time(at, &|act| act == Act::HoodOff) && (!masked || in_time(at, &|act| act == Act::Doff));
                docket.mark(RuleId::DistressEmergency, at, about, free && in_time(at, &|act| act == Act::CallHelp));
            }
            Seen::Breathless => docket.mark(RuleId::DistressBreathing, at, about, in_time(at, &stops)),
            Seen::SaysStop => docket.mark(RuleId::DistressWish, at, about, in_time(at, &stops)),
            _ => {}
        }
    }
}

fn mouth(case: &Case<'_>, docket: &mut Docket, about: About, common: &Common) {
    let most = case.book.numbers.mouth_closed_for;
    for (at, _) in common.signs.iter().copied().filter(|(_, seen)| *seen == Seen::MouthShuts) {
        let said = common.acted(at, |act| act == Act::Remind(Reminder::Breathing));
        // Whoever stops the test at once has seen it too.
        let over = common.closed.is_some_and(|closed| closed.since(at) <= most);
        docket.mark(RuleId::WatchMouth, at, about, said.is_some_and(|said| said.since(at) <= most) || over);
    }
}

fn verdict(case: &Case<'_>, docket: &mut Docket, call: Call) {
    let ruling = ruling::of(case, docket, call.about);
    let right = ruling.accepts(call.verdict);
    wearers_doing(case, docket, call, &ruling);
    let Call { at, about, .. } = call;
    if right {
        match call.verdict {
            Verdict::Pass => docket.kept(RuleId::ResultComplete, at, about),
            Verdict::Fail => docket.kept(RuleId::WatchTaste, at, about),
            Verdict::Invalid if ruling.suspect => docket.kept(RuleId::WatchSuspect, at, about),
            Verdict::Invalid if ruling.salty => docket.kept(RuleId::WatchSalty, at, about),
            Verdict::Invalid => docket.kept(RuleId::ResultInvalid, at, about),
            Verdict::CannotTaste => docket.kept(RuleId::ScreenNone, at, about),
            Verdict::NotTested(_) | Verdict::Stopped(_) => docket.kept(RuleId::ResultGiven, at, about),
        }
        harmless(case, docket, about);
        return;
    }
    match call.verdict {
        Verdict::Pass if ruling.taste && !ruling.suspect => docket.broke(RuleId::WatchTaste, at, about),
        Verdict::Pass if ruling.taste => docket.broke(RuleId::WatchTaste, at, about),
        Verdict::Pass if ruling.salty => docket.broke(RuleId::WatchSalty, at, about),
        // What spoilt it has its own finding already.
        Verdict::Pass if ruling.spoilt || ruling.barred || ruling.distress => {}
        Verdict::Pass => docket.broke(RuleId::ResultComplete, at, about),
        Verdict::Fail if ruling.suspect => docket.broke(RuleId::WatchSuspect, at, about),
        Verdict::Fail => docket.broke(RuleId::ResultUntasted, at, about),
        Verdict::Invalid if ruling.taste => docket.broke(RuleId::WatchTaste, at, about),
        Verdict::Invalid if ruling.distress || ruling.barred => docket.broke(RuleId::ResultInvalid, at, about),
        Verdict::Invalid if had_harmless(case, about) => docket.broke(RuleId::WatchOvercall, at, about),
        Verdict::Invalid => docket.broke(RuleId::ResultInvalid, at, about),
        Verdict::CannotTaste | Verdict::NotTested(_) | Verdict::Stopped(_) => docket.broke(RuleId::WatchOvercall, at, about),
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
    if let (Some(at), None) = (test.hood_off, test.resumed) {
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

/// Harmless things let pass.
fn harmless(case: &Case<'_>, docket: &mut Docket, about: About) {
    for (at, _) in signs_of(case, about).iter().filter(|(_, seen)| seen.is_harmless()) {
        docket.kept(RuleId::WatchOvercall, *at, about);
    }
}
