//! Solutions, nebulizers, hood and hands: what breaks each rule of this skill.

use super::{Case, EITHER, PASS, VOID, case, conductor, during, never, overlooked};
use bittersweet_core::{
    act::{Act, Role},
    rulebook::{Agent, RuleId},
    sign::Seen,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::NebCheck, "nobody looks at the nebulizer", &["day"], PASS, |a| {
        never(a, Act::CheckNebulizer(Role::Check))
    }),
    case(RuleId::NebMarked, "no mark, and nobody sees it", &["day"], PASS, |a| {
        overlooked(a, Seen::NebulizerUnmarked, |s| s.bench.check.unmarked = true)
    }),
    case(RuleId::NebContents, "the other agent in the nebulizer", &["test-1"], VOID, |a| {
        overlooked(a, Seen::NebulizerOtherAgent, |s| s.bench.fit.holds = Some("other-agent".to_owned()))
    }),
    case(RuleId::NebRinse, "filled six hours ago, and not again", &["day"], PASS, |a| {
        let mut conductor = conductor(a, |s| s.bench.check.filled_h_ago = 6);
        conductor.never(Act::FillNebulizer(Role::Check)).never(Act::RinseNebulizer(Role::Check)).finish();
        conductor
    }),
    case(RuleId::NebFill, "nearly dry, and nobody sees it", &["day"], VOID, |a| {
        let mut conductor = conductor(a, |s| s.bench.fit.low = true);
        conductor.overlook(Seen::NebulizerLow).overlook(Seen::SpraysNothing).finish();
        conductor
    })
    .with(&[RuleId::FitMinimum, RuleId::FitSqueeze, RuleId::FitTopUp]),
    case(RuleId::NebBottle, "filled from a bottle without a date", &["day"], PASS, |a| {
        overlooked(a, Seen::BottleUndated, |s| {
            s.bench.check.low = true;
            s.bench.check.bottle_undated = true;
        })
    }),
    case(RuleId::NebSpray, "no test spray", &["day"], PASS, |a| never(a, Act::TestSpray(Role::Check))),
    case(RuleId::NebClogEnd, "a crust at the end goes unnoticed", &["test-1"], VOID, |a| {
        overlooked(a, Seen::NebulizerTipCrusted, |s| s.trouble.push(during("clogs-unseen", "bending", 5)))
    }),
    case(RuleId::NebClogLook, "nobody looks for a clog", &["test-1"], EITHER, |a| {
        never(a, Act::CheckNebulizer(Role::Fit))
    })
    .of(Agent::Sweet),
    case(RuleId::NebClogLook, "nobody looks for a clog", &["test-1"], PASS, |a| {
        never(a, Act::CheckNebulizer(Role::Fit))
    })
    .of(Agent::Bitter),
    case(RuleId::HoodClean, "a damp hood goes unnoticed", &["screening-1"], VOID, |a| {
        overlooked(a, Seen::HoodDamp, |s| s.bench.hood_damp = true)
    }),
    case(RuleId::HoodCheck, "nobody looks at the hood", &["day"], PASS, |a| never(a, Act::CheckHood)),
    case(RuleId::HandsGloves, "filled with bare hands", &["day"], PASS, |a| {
        let mut conductor = conductor(a, |s| s.bench.check.filled_h_ago = 6);
        conductor.never(Act::GlovesOn).never(Act::GlovesOff).finish();
        conductor
    }),
    case(RuleId::AfterBench, "the nebulizer is left as it is", &["day"], PASS, |a| {
        never(a, Act::RinseNebulizer(Role::Check))
    }),
];
