//! Solutions, nebulizers, hood and hands.

use super::{Case, Docket};
use crate::{
    act::{Act, Role, Verdict},
    rulebook::RuleId,
    scenario::{Contents, Level},
    sign::Seen,
    state::About,
    trouble::Kind,
    units::Ms,
};

pub(super) fn judge(case: &Case<'_>, docket: &mut Docket) {
    for role in Role::ALL.iter().copied() {
        as_found(case, docket, role);
    }
    hood(case, docket);
    clog(case, docket);
    hands(case, docket);
    afterwards(case, docket);
}

/// When this nebulizer was first used on the wearer, and in which attempt.
fn first_use(case: &Case<'_>, role: Role) -> Option<(Ms, About)> {
    let screenings = case.screenings().map(|(about, screening)| (about, &screening.common));
    let tests = case.tests().map(|(about, test)| (about, &test.common));
    screenings
        .chain(tests)
        .flat_map(|(about, common)| common.squeezes.iter().map(move |squeeze| (squeeze, about)))
        .filter(|(squeeze, _)| squeeze.role == role)
        .map(|(squeeze, about)| (squeeze.at, about))
        .min()
}

/// What was wrong with a nebulizer as it was found, and whether that was put right before it was used.
fn as_found(case: &Case<'_>, docket: &mut Docket, role: Role) {
    let found = case.scenario.bench.nebulizer(role);
    let state = case.state;
    let used = first_use(case, role);
    let (deadline, about) = (used.map(|(at, _)| at), used.map_or(About::Day, |(_, about)| about));
    let filled = state.first(Act::FillNebulizer(role));
    docket.before(RuleId::NebCheck, state.first(Act::CheckNebulizer(role)), deadline, About::Day);
    docket.before(RuleId::NebSpray, state.first(Act::TestSpray(role)), deadline, About::Day);
    if !found.marked {
        docket.before(RuleId::NebMarked, state.first(Act::LabelNebulizer(role)), deadline, About::Day);
    }
    let own = match role {
        Role::Check => Contents::Check,
        Role::Fit => Contents::Fit,
    };
    if found.holds != own {
        docket.before(RuleId::NebContents, filled, deadline, about);
    }
    if Ms::mins(60).times(u32::from(found.filled_h_ago)) > case.book.numbers.refill_within {
        docket.before(RuleId::NebRinse, filled, deadline, About::Day);
    }
    if found.level == Level::Low {
        docket.before(RuleId::NebFill, filled, deadline, About::Day);
    }
    if let Some(filled) = filled
        && !found.bottle_dated
    {
        docket.before(RuleId::NebBottle, state.first(Act::FreshBottle(role)), Some(filled), About::Day);
    }
}

fn hood(case: &Case<'_>, docket: &mut Docket) {
    docket.before(RuleId::HoodCheck, case.state.first(Act::CheckHood), case.hood_from(), About::Day);
    if case.scenario.bench.hood_damp {
        let wiped = case.state.first(Act::WipeHood);
        for (about, screening) in case.screenings() {
            docket.before(RuleId::HoodClean, wiped, Some(screening.common.from), about);
        }
    }
}

fn clog(case: &Case<'_>, docket: &mut Docket) {
    let unseen = case.scenario.trouble.iter().any(|trouble| trouble.kind == Kind::ClogsUnseen);
    for (about, test) in case.tests() {
        let Some(begun) = test.begun() else { continue };
        let passed = matches!(test.common.verdict, Some((_, Verdict::Pass)));
        let looked = test.common.acted(begun, |act| {
            matches!(act, Act::CheckNebulizer(Role::Fit) | Act::TestSpray(Role::Fit))
        });
        let found = test.common.signs.iter().find(|(at, seen)| *at >= begun && *seen == Seen::NebulizerTipCrusted);
        if let Some((at, _)) = found {
            docket.mark(RuleId::NebClogEnd, *at, about, !passed);
        } else if let Some((at, Verdict::Pass)) = test.common.verdict {
            docket.before(RuleId::NebClogLook, looked, Some(at), about);
            // Nobody looked, and looking would have shown it.
            if unseen {
                docket.broke(RuleId::NebClogEnd, at, about);
            }
        }
    }
}

fn hands(case: &Case<'_>, docket: &mut Docket) {
    let (mut gloved, mut soiled, mut filled) = (false, false, None);
    let mut kept = true;
    for (at, act) in case.acts() {
        match act {
            Act::GlovesOn => gloved = true,
            Act::GlovesOff => (gloved, soiled) = (false, false),
            Act::FillNebulizer(_) => {
                filled = filled.or(Some(at));
                kept &= gloved;
                soiled = true;
            }
            Act::HandOver(_) | Act::FixStraps | Act::InspectFacepiece => kept &= !soiled,
            _ => {}
        }
    }
    if let Some(at) = filled {
        docket.mark(RuleId::HandsGloves, at, About::Day, kept);
    }
}

fn afterwards(case: &Case<'_>, docket: &mut Docket) {
    let Some(finished) = case.state.finished else { return };
    let used: Vec<Role> = Role::ALL.iter().copied().filter(|role| first_use(case, *role).is_some()).collect();
    let Some(last) = case.acts().filter(|(_, act)| *act == Act::Squeeze).map(|(at, _)| at).last() else { return };
    let wiped = case.state.last(Act::WipeHood).is_some_and(|at| at >= last);
    let rinsed = used.iter().all(|role| {
        case.state.last(Act::RinseNebulizer(*role)).is_some_and(|at| first_use(case, *role).is_some_and(|(from, _)| at >= from))
    });
    docket.mark(RuleId::AfterBench, finished, About::Day, wiped && rinsed);
}
