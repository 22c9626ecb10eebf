//! Who may be tested, in what, for which use: what breaks each rule of this skill.

use super::{Case, EITHER, PASS, VOID, case, conductor, had, instead, never, overlooked, slot, without_waiting};
use bittersweet_core::{
    act::{Act, Company, Hands},
    rulebook::RuleId,
    sign::Seen,
    source::Gravity,
    wire::scenario_v1::{ByMouthV1, FitV1},
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::ClearBefore, "nobody asks for the clearance", &["day"], PASS, |a| never(a, Act::AskClearance)),
    case(RuleId::ClearLimits, "cleared for powered units only, put into a half mask", &["day"], &[], |a| {
        let mut conductor = conductor(a, |s| s.wearer.clearance = "powered-only".to_owned());
        conductor.until_like(|_, act| matches!(act, Act::Give(_)));
        conductor.acts([Act::HandOver(slot(2)), Act::InspectFacepiece, Act::Don(Hands::Own), Act::Doff, Act::Finish]);
        conductor
    }),
    case(RuleId::ClearQuestionnaire, "the questionnaire is read", &["day"], PASS, |a| {
        instead(
            a,
            |s| s.wearer.clearance = "questionnaire".to_owned(),
            Act::ReturnQuestionnaire,
            Act::ReadQuestionnaire,
        )
    }),
    case(RuleId::ClearPrivate, "health is asked about aloud", &["day"], PASS, |a| {
        instead(a, |_| {}, Act::AskWell(Company::Private), Act::AskWell(Company::Public))
    }),
    case(RuleId::ClearToday, "nobody asks about today", &["day"], PASS, |a| never(a, Act::AskWell(Company::Private))),
    case(RuleId::MouthAsk, "nobody asks what went into the mouth", &["day"], PASS, |a| never(a, Act::AskMouth)),
    case(
        RuleId::MouthFifteen,
        "coffee just before, and no waiting",
        &["test-1"],
        &["test-1: pass [not-tested:mouth, invalid]"],
        |a| without_waiting(a, |s| had(s, "coffee", 0), false),
    ),
    case(RuleId::MouthScreening, "screened twelve minutes after coffee", &["screening-1"], EITHER, |a| {
        without_waiting(a, |s| had(s, "coffee", 11), false)
    }),
    case(RuleId::MouthSweet, "screened twelve minutes after something sweet", &["screening-1"], VOID, |a| {
        without_waiting(a, |s| had(s, "sweets", 11), false)
    }),
    case(RuleId::SealLook, "nobody looks at the face", &["day"], PASS, |a| never(a, Act::LookAtFace)),
    case(
        RuleId::SealHair,
        "stubble at the seal goes unnoticed",
        &["test-1"],
        &["test-1: pass [not-tested:seal, invalid]"],
        |a| overlooked(a, Seen::FaceStubble, |s| s.wearer.face = "stubble".to_owned()),
    ),
    case(
        RuleId::SealUnder,
        "a temple bar under the seal goes unnoticed",
        &["test-1"],
        &["test-1: pass [not-tested:seal, invalid]"],
        |a| {
            overlooked(a, Seen::FaceTempleBar, |s| {
                s.wearer.face = "temple-bar".to_owned();
                s.rack[1].fit = FitV1::One(100_000);
            })
        },
    ),
    case(
        RuleId::SealUnder,
        "a temple bar under the seal goes unnoticed, and the agent is tasted",
        &["test-1", "test-2"],
        &[
            "test-1: fail [not-tested:seal, invalid, fail]",
            "test-2: fail [not-tested:seal, invalid, fail]",
            "screening-3: not-tested:facepiece [not-tested:facepiece, invalid]",
        ],
        |a| overlooked(a, Seen::FaceTempleBar, |s| s.wearer.face = "temple-bar".to_owned()),
    )
    .counting_as(Gravity::Departure),
    case(RuleId::UseCheck, "nobody checks the use", &["day"], PASS, |a| never(a, Act::CheckUse)),
    case(
        RuleId::UseLimit,
        "a full facepiece for twenty times the limit",
        &["test-1"],
        &["test-1: pass [not-tested:use, invalid]"],
        |a| {
            let mut conductor = conductor(a, |s| {
                s.exposure_times = 20;
                s.rack[1].class = "full".to_owned();
            });
            conductor.never(Act::CheckUse).finish();
            conductor
        },
    ),
    case(
        RuleId::UseApf,
        "a half mask for twenty times the limit",
        &["test-1"],
        &["test-1: pass [not-tested:use, invalid]"],
        |a| {
            let mut conductor = conductor(a, |s| s.exposure_times = 20);
            conductor.never(Act::CheckUse).finish();
            conductor
        },
    ),
    case(RuleId::UseFilter, "gas cartridges alone", &["test-1"], &["test-1: fail", "test-2: pass"], |a| {
        overlooked(a, Seen::FiltersGasOnly, |s| s.rack[1].gas_only = true)
    })
    .counting_as(Gravity::Departure),
    case(
        RuleId::MouthNumb,
        "a numb mouth, and screened all the same",
        &["day"],
        &["screening-1: cannot-taste [cannot-taste, invalid]"],
        |a| {
            let mut conductor = conductor(a, |s| {
                s.wearer.tastes_after = None;
                s.wearer.by_mouth = Some(ByMouthV1 { what: "numb".to_owned(), minutes_ago: 90 });
            });
            conductor.never(Act::AskMouth).finish();
            conductor
        },
    ),
    case(RuleId::UseNegative, "a powered unit with its blower on", &["test-1"], VOID, |a| {
        overlooked(a, Seen::AirSupplied, |s| s.rack[1].class = "powered".to_owned())
    }),
    case(RuleId::UseSame, "another facepiece than the one at work", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |s| s.wearer.at_work = Some(3));
        conductor.never(Act::AskWorkFacepiece).finish();
        conductor
    }),
];
