//! Taste-threshold screening: what breaks each rule of this skill.

use super::{
    Case, EITHER, PASS, VOID, at_the_first_squeeze, case, conductor, in_screening, mistaken, never, overlooked, slot,
};
use bittersweet_core::{
    act::{Act, Aim, Hands, Manner, NextStep, Reminder, Role, Threshold, Verdict},
    rulebook::RuleId,
    sign::{Seen, Sign},
    units::Ms,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::NebScreen, "screened with the fit test solution", &["screening-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        let (meant, done) = (Act::Take(Role::Check), Act::Take(Role::Fit));
        conductor.until(meant).mistake(meant, done).finish();
        conductor
    }),
    case(RuleId::ScreenDone, "last year's threshold is taken", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::HoodOn).takes_for_screened(Threshold::Ten).finish();
        conductor
    }),
    case(
        RuleId::ScreenBare,
        "screened with the mask on",
        &["screening-1"],
        &["screening-1: cannot-taste [invalid]"],
        |a| {
            let mut conductor = conductor(a, |s| s.wearer.tastes_after = None);
            conductor.until(Act::HoodOn).acts([
                Act::HandOver(slot(2)),
                Act::InspectFacepiece,
                Act::Don(Hands::Own),
                Act::HoodOn,
                Act::Take(Role::Check),
                Act::Aim(Aim::Away),
                Act::Remind(Reminder::Breathing),
            ]);
            for _ in 0..3 {
                conductor.squeezes(10).act(Act::Ask(Manner::Neutral));
            }
            conductor.acts([
                Act::NoteThreshold(Threshold::NotTasted),
                Act::HoodOff,
                Act::Give(Verdict::CannotTaste),
                Act::Next(NextStep::OtherAgent),
                Act::Finish,
            ]);
            conductor
        },
    ),
    case(
        RuleId::ScreenHood,
        "screened without the hood",
        &["screening-1"],
        &["screening-1: cannot-taste [invalid]"],
        |a| {
            let mut conductor = conductor(a, |s| s.wearer.tastes_after = None);
            conductor.until(Act::HoodOn).skip().until(Act::HoodOff).skip().finish();
            conductor
        },
    ),
    case(RuleId::ScreenGap, "the window slides near unnoticed", &["screening-1"], PASS, |a| {
        overlooked(a, Seen::HoodSlidesNear, |s| s.trouble.push(in_screening("hood-slides-near", 2)))
    }),
    case(RuleId::ScreenNozzle, "the nozzle points at the mouth", &["screening-1"], VOID, |a| {
        never(a, Act::Aim(Aim::Away))
    }),
    case(RuleId::ScreenCount, "thirteen before asking, and ten noted", &["screening-1"], VOID, |a| {
        let mut conductor = at_the_first_squeeze(a, 11);
        conductor.squeezes(13).act(Act::Ask(Manner::Neutral)).unaware(Act::NoteThreshold(Threshold::Ten));
        conductor.pretend(Act::NoteThreshold(Threshold::Twenty)).finish();
        conductor
    }),
    case(RuleId::ScreenSqueeze, "one of ten is short, and nobody makes it good", &["screening-1"], PASS, |a| {
        let mut conductor = at_the_first_squeeze(a, 14);
        conductor.squeezes(9);
        conductor.try_act(Act::Squeeze, Ms(100)).expect("the nebulizer is in hand");
        conductor.act(Act::Ask(Manner::Neutral)).finish();
        conductor
    }),
    case(RuleId::ScreenRapid, "ten squeezes in a minute", &["screening-1"], PASS, |a| {
        let mut conductor = at_the_first_squeeze(a, 14);
        conductor.act(Act::Squeeze).wait(Ms::secs(50)).finish();
        conductor
    }),
    // Believing in the lower number, the conductor sprays too little for the one that was noted.
    case(RuleId::ScreenEarly, "tasted before the tenth, and twenty noted", &["screening-1"], VOID, |a| {
        mistaken(a, |_| {}, Act::NoteThreshold(Threshold::Ten), Act::NoteThreshold(Threshold::Twenty))
    })
    .with(&[RuleId::FitInitial, RuleId::FitHalf]),
    case(RuleId::ScreenClass, "tasted in the second ten, and ten noted", &["screening-1"], VOID, |a| {
        mistaken(
            a,
            |s| s.wearer.tastes_after = Some(15),
            Act::NoteThreshold(Threshold::Twenty),
            Act::NoteThreshold(Threshold::Ten),
        )
    }),
    case(RuleId::ScreenClassHigh, "tasted in the second ten, and thirty noted", &["screening-1"], VOID, |a| {
        mistaken(
            a,
            |s| s.wearer.tastes_after = Some(15),
            Act::NoteThreshold(Threshold::Twenty),
            Act::NoteThreshold(Threshold::Thirty),
        )
    })
    .with(&[RuleId::FitInitial, RuleId::FitHalf]),
    case(RuleId::ScreenNote, "the threshold is not noted", &["test-1"], EITHER, |a| {
        never(a, Act::NoteThreshold(Threshold::Ten))
    }),
    case(
        RuleId::ScreenNone,
        "not tasted at thirty, and tested all the same",
        &["test-1"],
        &["test-1: pass [cannot-taste]"],
        |a| {
            let mut conductor = conductor(a, |s| s.wearer.tastes_after = None);
            let meant = Act::NoteThreshold(Threshold::NotTasted);
            conductor.until(meant).unaware(meant).believe(Sign::Seen(Seen::SaysTaste));
            conductor.pretend(Act::NoteThreshold(Threshold::Thirty)).finish();
            conductor
        },
    ),
    case(
        RuleId::ScreenUntrue,
        "a taste before the first squeeze is taken for the threshold",
        &["screening-1"],
        VOID,
        |a| overlooked(a, Seen::SaysTasteBefore, |s| s.trouble.push(in_screening("tastes-before", 0))),
    ),
    case(RuleId::ScreenSalty, "salt is taken for the agent", &["screening-1"], VOID, |a| {
        let mut conductor = conductor(a, |s| {
            s.wearer.tastes_after = Some(25);
            s.trouble.push(in_screening("salty-stays", 4));
        });
        conductor.overlook(Seen::SaysSalty).until(Act::Squeeze).squeezes(10).act(Act::Ask(Manner::Neutral));
        conductor.believe(Sign::Seen(Seen::SaysTaste)).finish();
        conductor
    }),
    case(RuleId::ScreenClear, "no rinse afterwards", &["test-1"], PASS, |a| never(a, Act::GiveWater)),
];
