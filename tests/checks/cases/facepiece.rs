//! Choosing, fitting and checking the facepiece: what breaks each rule of this skill.

use super::{Case, EITHER, PASS, VOID, case, conductor, instead, mistaken, never, overlooked, slot, without_waiting};
use bittersweet_core::{
    act::{Act, Hands, Method},
    rulebook::RuleId,
    sign::Seen,
    wire::scenario_v1::FitV1,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::ChooseWearer, "somebody else chooses", &["day"], PASS, |a| {
        mistaken(a, |_| {}, Act::HandOver(slot(2)), Act::HandOver(slot(3)))
    }),
    case(RuleId::ChooseHold, "no candidates held to the face", &["day"], PASS, |a| never(a, Act::HoldToFace)),
    case(RuleId::ChooseRunnerUp, "no runner-up noted", &["day"], PASS, |a| never(a, Act::NoteRunnerUp)),
    case(RuleId::ComfortFive, "comfort asked about at once", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some());
        conductor.act(Act::ReviewComfort).finish();
        conductor
    }),
    case(RuleId::WearFive, "tested after two minutes", &["test-1"], PASS, |a| without_waiting(a, |_| {}, true)),
    case(RuleId::ComfortReview, "comfort not gone through", &["test-1"], PASS, |a| never(a, Act::ReviewComfort)),
    case(RuleId::ComfortAdequacy, "the fit not gone through", &["test-1"], EITHER, |a| never(a, Act::CheckAdequacy)),
    case(RuleId::ComfortOther, "found unacceptable, and tested all the same", &["test-1"], PASS, |a| {
        overlooked(a, Seen::SaysUncomfortable, |s| s.rack[1].uncomfortable = true)
    }),
    case(RuleId::StrapsFault, "a twisted strap goes unnoticed", &["test-1"], &["test-1: fail", "test-2: pass"], |a| {
        overlooked(a, Seen::StrapTwisted, |s| {
            s.rack[1].straps = Some("twisted".to_owned());
            s.rack[1].fit = FitV1::One(400);
        })
    }),
    case(RuleId::DonUnaided, "a helper puts it on", &["day"], PASS, |a| {
        instead(a, |_| {}, Act::Don(Hands::Own), Act::Don(Hands::Helped))
    }),
    case(RuleId::SealCheckEach, "no seal check", &["test-1"], VOID, |a| never(a, Act::SealCheck(Method::Both))),
    case(RuleId::SealCheckSeated, "checked before it was seated", &["test-1"], PASS, |a| never(a, Act::SeatMask)),
    case(RuleId::SealCheckMethod, "a hand passed across the front", &["test-1"], EITHER, |a| {
        instead(a, |_| {}, Act::SealCheck(Method::Both), Act::SealCheck(Method::Quick))
    }),
    case(RuleId::SealCheckFailed, "tested after a failed seal check", &["test-1"], VOID, |a| {
        overlooked(a, Seen::SealLeaks, |s| s.rack[1].seal_leaks = true)
    }),
    case(RuleId::GearAsk, "nobody asks what else is worn", &["day"], PASS, |a| never(a, Act::AskGear)),
    case(RuleId::GearOn, "the glasses stay in the pocket", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |s| s.wearer.gear.push("glasses".to_owned()));
        conductor.never(Act::GearOn).finish();
        conductor
    }),
    case(RuleId::FacepieceInspect, "not inspected", &["day"], PASS, |a| never(a, Act::InspectFacepiece)),
    case(
        RuleId::FacepieceDefect,
        "a cracked strap goes unnoticed",
        &["test-1"],
        &["test-1: pass [not-tested:facepiece, invalid]"],
        |a| overlooked(a, Seen::StrapCracked, |s| s.rack[1].condition = Some("strap-cracked".to_owned())),
    ),
    case(RuleId::FacepieceShared, "handed on without disinfecting", &["day"], PASS, |a| {
        overlooked(a, Seen::FacepieceUsed, |s| s.rack[1].used = true)
    }),
    case(RuleId::FacepiecePassedOn, "a worn filtering facepiece is handed on", &["day"], PASS, |a| {
        overlooked(a, Seen::FacepieceUsed, |s| {
            s.rack[1].used = true;
            s.rack[1].class = "filtering".to_owned();
        })
    }),
];
