//! Solutions, nebulizers, hood and hands.

use super::{Case, Docket};
use crate::{
    act::{Act, Role},
    attempt::Common,
    ordered,
    rulebook::RuleId,
    scenario::{Contents, Level},
    state::About,
    trouble::{Kind, When},
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

/// When this nebulizer was first used on the wearer in each attempt.
fn uses(case: &Case<'_>, role: Role) -> Vec<(Ms, About)> {
    let of_role =
        |common: &Common| common.squeezes.iter().find(|squeeze| squeeze.role == role).map(|squeeze| squeeze.at);
    let mut uses: Vec<(Ms, About)> =
        case.attempts().filter_map(|(about, common)| Some((of_role(common)?, about))).collect();
    ordered::order(&mut uses, |(at, _)| at.0.into());
    uses
}

/// What was wrong with a nebulizer as it was found, and whether that was put right before it was used.
fn as_found(case: &Case<'_>, docket: &mut Docket, role: Role) {
    let found = case.scenario.bench.nebulizer(role);
    let state = case.state;
    let uses = uses(case, role);
    let deadline = uses.first().map(|(at, _)| *at);
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
        for (at, about) in &uses {
            docket.before(RuleId::NebContents, filled, Some(*at), *about);
        }
    }
    if Ms::mins(60).times(u32::from(found.filled_h_ago)) > case.book.numbers.refill_within {
        let rinsed = state.first(Act::RinseNebulizer(role)).and(filled);
        docket.before(RuleId::NebRinse, rinsed, deadline, About::Day);
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

/// A hood that is damp, or that the strong solution was sprayed in, is wiped before a screening.
fn hood(case: &Case<'_>, docket: &mut Docket) {
    docket.before(RuleId::HoodCheck, case.state.first(Act::CheckHood), case.hood_from(), About::Day);
    let damp = case.scenario.bench.hood_damp.then_some(Ms::ZERO);
    for (about, screening) in case.screenings() {
        let from = screening.common.from;
        let tests = case.tests().flat_map(|(_, test)| &test.common.squeezes).map(|squeeze| squeeze.at);
        if let Some(soiled) = tests.filter(|at| *at < from).max().or(damp) {
            docket.before(RuleId::HoodClean, case.acted_from(soiled, |act| act == Act::WipeHood), Some(from), about);
        }
    }
}

fn clog(case: &Case<'_>, docket: &mut Docket) {
    let unseen = case
        .scenario
        .trouble
        .iter()
        .any(|trouble| trouble.kind == Kind::ClogsUnseen && !matches!(trouble.when, When::Screening(_)));
    let cleared = case.test_from().and_then(|from| {
        case.acted_from(from, |act| matches!(act, Act::ClearNebulizer(Role::Fit) | Act::RinseNebulizer(Role::Fit)))
    });
    for (about, test) in case.tests() {
        let Some(begun) = test.begun() else { continue };
        let passed = test.common.passed();
        let look = |act: Act| matches!(act, Act::CheckNebulizer(Role::Fit) | Act::TestSpray(Role::Fit));
        let looked = test.common.acted(begun, look);
        let sprayed = test.common.squeezes.last().map_or(begun, |squeeze| squeeze.at);
        let at_the_end = test.common.acted(sprayed, look).is_some();
        if let Some(at) = test.common.found_clogged(begun) {
            docket.mark(RuleId::NebClogEnd, at, about, passed.is_none());
        } else if let Some(at) = passed {
            // Nobody looked at the end, and looking would have shown it.
            if unseen && !at_the_end && cleared.is_none_or(|cleared| cleared > at) {
                docket.broke(RuleId::NebClogEnd, at, about);
            } else if test.reached_the_last() {
                docket.before(RuleId::NebClogLook, looked, Some(at), about);
            }
        }
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "few acts touch a facepiece or a solution")]
fn hands(case: &Case<'_>, docket: &mut Docket) {
    let is_filled = |role: &Role| case.state.first(Act::FillNebulizer(*role)).is_some();
    if !Role::ALL.iter().any(is_filled) {
        return;
    }
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
    let Some(last) = case.sprayed_before(Ms(u32::MAX)) else { return };
    let wiped = case.state.last(Act::WipeHood).is_some_and(|at| at >= last);
    let rinsed = Role::ALL.iter().copied().all(|role| {
        let used = uses(case, role).last().map(|(at, _)| *at);
        used.is_none_or(|used| case.state.last(Act::RinseNebulizer(role)).is_some_and(|at| at >= used))
    });
    docket.mark(RuleId::AfterBench, finished, About::Day, wiped && rinsed);
}
