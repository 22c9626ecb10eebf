//! Who may be tested, in what, for which use.

use super::{Case, Docket, again};
use crate::{
    act::{Act, Company},
    facepiece::{Class, Filters},
    rulebook::{Agent, RuleId},
    scenario::{Clearance, Face},
    sign::{Mouthful, Seen},
    state::About,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    clearance(case, docket);
    mouth(case, docket);
    seal(case, docket);
    usage(case, docket);
}

fn clearance(case: &Case<'_>, docket: &mut Docket) {
    let (state, hood) = (case.state, case.hood_from());
    let asked = state.first(Act::AskClearance);
    match (case.scenario.person.clearance, hood) {
        (Clearance::NotCleared, Some(at)) => docket.broke(RuleId::ClearBefore, at, About::Day),
        _ => docket.before(RuleId::ClearBefore, asked, hood, About::Day),
    }
    if case.scenario.person.clearance == Clearance::PoweredOnly {
        let other = state
            .donnings
            .iter()
            .find(|donning| case.scenario.facepiece(donning.slot).is_some_and(|piece| piece.class != Class::Powered));
        match (other, asked) {
            (Some(donning), _) => docket.broke(RuleId::ClearLimits, donning.at, About::Day),
            (None, Some(at)) => docket.kept(RuleId::ClearLimits, at, About::Day),
            (None, None) => {}
        }
    }
    if let Some(at) = state.first(Act::ReadQuestionnaire) {
        docket.broke(RuleId::ClearQuestionnaire, at, About::Day);
    } else if let Some(at) = state.first(Act::ReturnQuestionnaire) {
        docket.kept(RuleId::ClearQuestionnaire, at, About::Day);
    }
    let (public, private) = (state.first(Act::AskWell(Company::Public)), state.first(Act::AskWell(Company::Private)));
    if let Some(at) = public.or(private) {
        docket.mark(RuleId::ClearPrivate, at, About::Day, public.is_none());
    }
    docket.before(RuleId::ClearToday, private.or(public), hood, About::Day);
    for (unwilling, from) in [(Seen::SaysRatherNot, hood), (Seen::RefusesAgent, hood)] {
        if let (Some(said), Some(at)) = (state.shown(unwilling), from)
            && said <= at
        {
            docket.broke(RuleId::DistressWish, at, About::Day);
        }
    }
}

fn mouth(case: &Case<'_>, docket: &mut Docket) {
    docket.before(RuleId::MouthAsk, case.state.first(Act::AskMouth), case.test_from(), About::Day);
    let (what, minutes) = case.scenario.person.by_mouth;
    if matches!(what, Mouthful::Nothing | Mouthful::Water) {
        return;
    }
    if what == Mouthful::Numb {
        let screened = case.screenings().map(|(_, screening)| screening.common.from).next();
        let asked = case.state.first(Act::AskMouth);
        match (screened, asked) {
            (Some(at), _) => docket.broke(RuleId::MouthNumb, at, About::Day),
            (None, Some(at)) => docket.kept(RuleId::MouthNumb, at, About::Day),
            (None, None) => {}
        }
        return;
    }
    let clear_from = case.book.numbers.nothing_by_mouth.since(Ms::mins(u32::from(minutes)));
    let sweet = case.scenario.agent == Agent::Sweet && what == Mouthful::Sweets;
    for (about, test) in case.tests() {
        docket.mark(RuleId::MouthFifteen, test.common.from, about, test.common.from >= clear_from);
    }
    for (about, screening) in case.screenings() {
        let rule = if sweet { RuleId::MouthSweet } else { RuleId::MouthScreening };
        docket.mark(rule, screening.common.from, about, screening.common.from >= clear_from);
    }
}

fn seal(case: &Case<'_>, docket: &mut Docket) {
    let looked = case.state.first(Act::LookAtFace);
    docket.before(RuleId::SealLook, looked, case.test_from(), About::Day);
    match case.scenario.person.face {
        Face::Stubble | Face::Beard => {
            for (about, test) in case.tests() {
                docket.broke(RuleId::SealHair, test.common.from, about);
            }
            if let (Some(at), None) = (looked, case.test_from()) {
                docket.kept(RuleId::SealHair, at, About::Day);
            }
        }
        Face::TempleBar | Face::Covering => {
            let cleared = case.state.shown(Seen::SealCleared);
            for (about, test) in case.tests() {
                docket.before(RuleId::SealUnder, cleared, Some(test.common.from), about);
            }
        }
        Face::Clear | Face::Moustache => {}
    }
}

fn usage(case: &Case<'_>, docket: &mut Docket) {
    let (state, numbers) = (case.state, &case.book.numbers);
    docket.before(RuleId::UseCheck, state.first(Act::CheckUse), case.test_from(), About::Day);
    let times = u32::from(case.scenario.exposure_times);
    for (about, test) in case.tests() {
        let from = test.common.from;
        let (Some(piece), Some(donning)) = (case.tested(test), case.donning(test)) else { continue };
        match piece.class {
            Class::Half | Class::Filtering => docket.mark(RuleId::UseApf, from, about, times <= numbers.apf_half),
            Class::Full => {
                docket.mark(RuleId::UseLimit, from, about, times <= numbers.limit_times);
                if times > numbers.apf_full {
                    docket.broke(RuleId::UseApf, from, about);
                }
            }
            Class::Powered | Class::Supplied => {
                let switched = case
                    .done_with(donning.slot)
                    .into_iter()
                    .rev()
                    .find(|(at, act)| *at <= from && matches!(act, Act::SetNegative | Act::RestoreMode));
                let negative = switched.is_some_and(|(_, act)| act == Act::SetNegative);
                docket.mark(RuleId::UseNegative, from, about, negative);
            }
        }
        if piece.filters == Filters::GasOnly {
            docket.before(RuleId::UseFilter, state.handled(donning.slot).filters_fitted, Some(from), about);
        }
        if let Some(at_work) =
            case.scenario.person.at_work.filter(|slot| !again::is_given_up(case, docket, *slot, from))
        {
            docket.mark(RuleId::UseSame, from, about, donning.slot == at_work);
        }
    }
}
