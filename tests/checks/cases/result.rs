//! The result and what follows: what breaks each rule of this skill.

use super::{Case, PASS, case, conductor, during, instead, leaks, mistaken, never};
use bittersweet_core::{
    act::{Act, Aim, Company, Field, Fields, NextStep, Verdict},
    rulebook::RuleId,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::UseRestore, "a converted unit is not put back", &["day"], PASS, |a| {
        let mut conductor = conductor(a, |s| s.rack[1].class = "powered".to_owned());
        conductor.never(Act::RestoreMode).finish();
        conductor
    }),
    case(RuleId::UseEvery, "somebody is signed for who was not tested", &["day"], PASS, |a| {
        instead(a, |_| {}, Act::TellResult(Company::Private), Act::SignUntested)
    }),
    case(RuleId::FacepieceAfter, "left as it came off", &["day"], PASS, |a| never(a, Act::Disinfect)),
    case(RuleId::ResultGiven, "the run ends without a result", &["test-1"], &[], |a| {
        instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Finish)
    }),
    case(RuleId::ResultComplete, "a pass before anything was tested", &["day"], &["day: pass []"], |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::HoodOn).acts([Act::Give(Verdict::Pass), Act::Finish]);
        conductor
    }),
    case(
        RuleId::ResultUntasted,
        "a fail without a taste",
        &["test-1"],
        &["test-1: fail [pass]", "test-2: pass"],
        |a| instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Give(Verdict::Fail)),
    ),
    case(
        RuleId::ResultInvalid,
        "a clean test called invalid",
        &["test-1"],
        &["test-1: invalid [pass]", "test-2: pass"],
        |a| instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Give(Verdict::Invalid)),
    ),
    case(
        RuleId::NextDifferent,
        "the same facepiece after a fail",
        &["test-1"],
        &["test-1: fail", "test-2: pass"],
        |a| mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::RefitSame)),
    ),
    case(RuleId::NextWhole, "the fit test alone after a fail", &["test-1"], &["test-1: fail", "test-2: pass"], |a| {
        mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::TestAgain))
    }),
    case(RuleId::NextAgent, "another agent to rescue a fail", &["test-1"], &["test-1: fail", "test-2: pass"], |a| {
        mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::OtherAgent))
    }),
    case(
        RuleId::NextCannot,
        "cannot taste it, and sent home",
        &["screening-1"],
        &["screening-1: cannot-taste [cannot-taste, invalid]"],
        |a| {
            mistaken(
                a,
                |s| s.wearer.tastes_after = None,
                Act::Next(NextStep::OtherAgent),
                Act::Next(NextStep::AnotherDay),
            )
        },
    ),
    case(RuleId::NextScreen, "a spoilt screening, and only the test again", &["test-1"], &["test-1: invalid"], |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.never(Act::Aim(Aim::Away)).until(Act::Give(Verdict::Pass));
        conductor.acts([Act::Give(Verdict::Invalid), Act::Next(NextStep::TestAgain), Act::Finish]);
        conductor
    }),
    case(RuleId::NextRefer, "trouble breathing, and sent home", &["test-1"], &["test-1: stopped:breathing"], |a| {
        mistaken(
            a,
            |s| s.trouble.push(during("breathless", "deep-breathing", 20)),
            Act::Next(NextStep::Refer),
            Act::Next(NextStep::AnotherDay),
        )
    }),
    case(RuleId::NextStep, "nobody says what comes next", &["test-1"], PASS, |a| {
        never(a, Act::Next(NextStep::Cleared))
    }),
    case(RuleId::ResultTell, "the result is not told", &["test-1"], PASS, |a| {
        never(a, Act::TellResult(Company::Private))
    }),
    case(RuleId::ResultScope, "nobody says what the pass covers", &["test-1"], PASS, |a| never(a, Act::TellScope)),
    case(RuleId::RecordFields, "no record", &["test-1"], PASS, |a| never(a, Act::Record(Fields::FIVE))),
    case(RuleId::RecordHealth, "health in the record", &["day"], PASS, |a| {
        instead(a, |_| {}, Act::Record(Fields::FIVE), Act::Record(Fields::FIVE.toggled(Field::Health)))
    }),
    case(
        RuleId::RecordAside,
        "the failed facepiece stays on the rack",
        &["test-1"],
        &["test-1: fail", "test-2: pass"],
        |a| {
            let mut conductor = conductor(a, leaks);
            conductor.never(Act::SetAside).finish();
            conductor
        },
    ),
];
