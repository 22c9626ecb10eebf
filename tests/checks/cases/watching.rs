//! What is seen and said: what breaks each rule of this skill.

use super::{Case, PASS, VOID, case, conductor, during, finish, leaks, overlooked};
use crate::driver::Conductor;
use bittersweet_core::{
    act::{Act, Exercise, Manner, Verdict},
    rulebook::RuleId,
    sign::Seen,
    units::Ms,
    wire::scenario_v1::TroubleV1,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::FitAdjusted, "a strap pulled tighter, and a pass", &["test-1"], VOID, |a| {
        overlooked(a, Seen::AdjustsMask, |s| s.trouble.push(during("adjusts-mask", "head-side", 20)))
    }),
    case(RuleId::FitTouched, "a finger at the mask, and a pass", &["test-1"], VOID, |a| {
        overlooked(a, Seen::TouchesMask, |s| s.trouble.push(during("touches-mask", "head-side", 20)))
    }),
    case(RuleId::FitResumed, "the hood came off, and the test goes on", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |s| s.trouble.push(during("takes-hood-off", "head-side", 12)));
        conductor.overlook(Seen::TakesHoodOff).into(Exercise::HeadSide, Ms::secs(16)).unaware(Act::HoodOn).finish();
        conductor
    }),
    case(RuleId::WatchTaste, "a sign of taste, and a pass", &["test-1"], &["test-1: pass [fail]"], |a| {
        overlooked(a, Seen::SignalsTaste, leaks)
    }),
    case(
        RuleId::WatchTaste,
        "a hand half raised and never asked about, and a pass",
        &["test-1"],
        &["test-1: pass [fail]"],
        |a| {
            overlooked(a, Seen::RaisesHand, |s| {
                leaks(s);
                s.trouble.push(during("half-gesture", "deep-breathing", 10));
            })
        },
    ),
    case(
        RuleId::WatchSuspect,
        "a drop on the chin tasted, and a fail",
        &["test-1"],
        &["test-1: fail [invalid]", "test-2: pass"],
        |a| {
            let mut conductor = conductor(a, |s| s.trouble.push(during("drop-on-face", "normal-breathing", 5)));
            conductor.overlook(Seen::DropOnFace).into(Exercise::NormalBreathing, Ms::secs(12));
            conductor.act(Act::Ask(Manner::Neutral)).finish();
            conductor
        },
    ),
    case(RuleId::WatchSalty, "salt in the test, and a pass", &["test-1"], &["test-1: pass [invalid, fail]"], |a| {
        overlooked(a, Seen::SaysSalty, |s| s.trouble.push(during("salty-stays", "deep-breathing", 20)))
    }),
    case(RuleId::WatchMouth, "mouth shut, and nobody says anything", &["test-1"], VOID, |a| {
        overlooked(a, Seen::MouthShuts, |s| s.trouble.push(during("mouth-shuts", "deep-breathing", 8)))
    }),
    case(RuleId::WatchNote, "the window slides near, unnoticed", &["test-1"], PASS, |a| {
        overlooked(a, Seen::HoodSlidesNear, |s| s.trouble.push(during("hood-slides-near", "talking", 8)))
    }),
    case(
        RuleId::WatchOvercall,
        "a cough, and the test is called invalid",
        &["test-1"],
        &["test-1: invalid [nothing yet]", "test-2: pass"],
        |a| {
            let mut conductor = conductor(a, |s| s.trouble.push(during("coughs", "deep-breathing", 20)));
            Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(26))
                .acts([Act::Stop, Act::Give(Verdict::Invalid)]);
            finish(conductor)
        },
    ),
    case(
        RuleId::DistressEmergency,
        "chest pain goes unnoticed",
        &["test-1"],
        &["test-1: pass [stopped:emergency]"],
        |a| overlooked(a, Seen::ChestPain, |s| s.trouble.push(during("chest-pain", "deep-breathing", 20))),
    ),
    case(
        RuleId::DistressBreathing,
        "trouble breathing goes unnoticed",
        &["test-1"],
        &["test-1: pass [stopped:breathing]"],
        |a| overlooked(a, Seen::Breathless, |s| s.trouble.push(during("breathless", "deep-breathing", 20))),
    ),
    case(
        RuleId::DistressAlarm,
        "an alarm, and the test goes on",
        &["test-1"],
        &["test-1: pass [stopped:alarm]"],
        |a| overlooked(a, Seen::FireAlarm, |s| s.trouble.push(during("fire-alarm", "deep-breathing", 20))),
    ),
    case(RuleId::WatchOne, "a second worker under the other hood", &["day"], PASS, |a| {
        let mut conductor = conductor(a, |s| {
            s.trouble.push(TroubleV1 { kind: "two-at-once".to_owned(), start_s: Some(20), ..TroubleV1::default() });
        });
        conductor.until(Act::HearBack).act(Act::AdmitSecond).finish();
        conductor
    }),
    case(RuleId::DistressWish, "a wish to stop goes unheard", &["test-1"], &["test-1: pass [stopped:wish]"], |a| {
        overlooked(a, Seen::SaysStop, |s| s.trouble.push(during("wants-to-stop", "deep-breathing", 20)))
    }),
];
