//! The fit test itself: what breaks each rule of this skill.

use super::{
    Case, EITHER, PASS, VOID, at_a_replenishment, at_the_initial_squeezes, case, conductor, during, hurry, instead,
    never, overlooked, until_due,
};
use crate::driver::Conductor;
use bittersweet_core::{
    act::{Act, Exercise, Role, Verdict},
    rulebook::RuleId,
    sign::Seen,
    units::Ms,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::NebTest, "tested with the check solution", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        let (meant, done) = (Act::Take(Role::Fit), Act::Take(Role::Check));
        conductor.until(meant).mistake(meant, done).finish();
        conductor
    }),
    case(RuleId::FitHood, "tested without the hood", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| act == Act::HoodOn && run.state().worn().is_some());
        conductor.skip().until(Act::HoodOff).skip().finish();
        conductor
    }),
    case(RuleId::FitInitial, "nineteen to begin with for a threshold of twenty", &["test-1"], VOID, |a| {
        let mut conductor = at_the_initial_squeezes(a, 15);
        conductor.skip().finish();
        conductor
    }),
    case(RuleId::FitMinimum, "nine to begin with", &["test-1"], VOID, |a| {
        let mut conductor = at_the_initial_squeezes(a, 7);
        conductor.skip().finish();
        conductor
    }),
    case(RuleId::FitInitialOver, "eleven to begin with", &["test-1"], PASS, |a| {
        instead(a, |_| {}, Act::Begin(Exercise::NormalBreathing), Act::Squeeze)
    }),
    case(RuleId::FitStart, "twenty seconds pass before the first exercise", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::NormalBreathing)).wait(Ms::secs(20));
        // They take the squeezes for given just now.
        for _ in 0..10 {
            conductor.pretend(Act::Squeeze);
        }
        conductor.finish();
        conductor
    }),
    case(RuleId::FitStartPrompt, "eight seconds pass before the first exercise", &["test-1"], EITHER, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::NormalBreathing)).late(Ms::secs(8)).finish();
        conductor
    }),
    case(RuleId::FitTopUp, "a replenishment is missed", &["test-1"], VOID, |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.miss_squeezes(5).finish();
        conductor
    }),
    case(RuleId::FitTopUpPrompt, "a replenishment eight seconds late", &["test-1"], EITHER, |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.late(Ms::secs(8)).finish();
        conductor
    }),
    case(RuleId::FitHalf, "four at a replenishment", &["test-1"], VOID, |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.miss_squeezes(1).finish();
        conductor
    }),
    case(RuleId::FitHalfOver, "six at a replenishment", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(36)).act(Act::Squeeze).finish();
        conductor
    }),
    case(RuleId::FitSqueeze, "a short squeeze at a replenishment", &["test-1"], VOID, |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.overlook(Seen::SpraysShort).late(Ms::ZERO);
        conductor.try_act(Act::Squeeze, Ms(100)).expect("the nebulizer is in hand");
        conductor.finish();
        conductor
    }),
    case(RuleId::FitAll, "one exercise is left out", &["test-1"], VOID, |a| never(a, Act::Begin(Exercise::Talking))),
    case(
        RuleId::FitAll,
        "the last is left out, and the wearer sent off cleared without a word",
        &["test-1"],
        VOID,
        |a| {
            let mut conductor = conductor(a, |_| {});
            conductor.never(Act::Begin(Exercise::NormalAgain)).never(Act::Give(Verdict::Pass)).finish();
            conductor
        },
    ),
    case(
        RuleId::FitAll,
        "the last is left out, and a pass given with the hood still on",
        &["test-1"],
        &["test-1: pass [nothing yet]"],
        |a| {
            let mut conductor = conductor(a, |_| {});
            conductor.until(Act::Begin(Exercise::NormalAgain));
            until_due(&mut conductor);
            conductor.act(Act::Give(Verdict::Pass)).finish();
            conductor
        },
    ),
    case(RuleId::FitOrder, "two exercises change places", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        let (side, nod) = (Act::Begin(Exercise::HeadSide), Act::Begin(Exercise::HeadUpDown));
        conductor.until(side);
        until_due(&mut conductor);
        conductor.mistake(side, nod).until(nod);
        until_due(&mut conductor);
        conductor.mistake(nod, side).finish();
        conductor
    }),
    case(RuleId::FitMinute, "an exercise of forty-five seconds, taken for a whole one", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        // The clock is misread by a quarter of a minute.
        Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(40))
            .pretend(Act::Wait(Ms::secs(15)))
            .finish();
        conductor
    }),
    case(RuleId::FitMinuteNear, "an exercise of fifty-four seconds", &["test-1"], EITHER, |a| {
        let mut conductor = conductor(a, |_| {});
        hurry(&mut conductor, Act::Begin(Exercise::HeadSide), Ms::secs(54));
        conductor.finish();
        conductor
    }),
    case(RuleId::FitLong, "an exercise of eighty seconds", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::HeadSide)).late(Ms::secs(20)).finish();
        conductor
    }),
    case(RuleId::FitGrimace, "a grimace is added", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::Bending));
        until_due(&mut conductor);
        conductor.act(Act::Begin(Exercise::Grimace)).finish();
        conductor
    }),
    case(RuleId::FitJog, "jogging for bending", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        let bend = Act::Begin(Exercise::Bending);
        conductor.until(bend);
        until_due(&mut conductor);
        conductor.mistake(bend, Act::Begin(Exercise::Jogging)).finish();
        conductor
    }),
    case(RuleId::FitStanding, "seated, and nobody says anything", &["test-1"], EITHER, |a| {
        overlooked(a, Seen::SitsDown, |s| s.trouble.push(during("sits-down", "head-side", 9)))
    }),
    case(RuleId::FitEnds, "head turns too fast, and nobody says anything", &["test-1"], EITHER, |a| {
        overlooked(a, Seen::RushesMoves, |s| s.trouble.push(during("rushes", "head-side", 9)))
    }),
    case(RuleId::FitAloud, "whispered, and nobody says anything", &["test-1"], EITHER, |a| {
        overlooked(a, Seen::Whispers, |s| s.trouble.push(during("whispers", "talking", 9)))
    }),
    case(RuleId::FitComfort, "comfort is not asked about at the end", &["test-1"], PASS, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| act == Act::ReviewComfort && run.state().test().is_some());
        conductor.skip().finish();
        conductor
    }),
];
