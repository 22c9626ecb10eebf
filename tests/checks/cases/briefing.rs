//! What the wearer is told and asked: what breaks each rule of this skill.

use super::{Case, EITHER, PASS, VOID, case, conductor, instead, never};
use bittersweet_core::{
    act::{Act, Exercise, Manner, Reminder, Topic},
    rulebook::RuleId,
};

pub(super) const CASES: &[Case] = &[
    case(RuleId::TrainingApart, "the briefing is counted as training", &["day"], PASS, |a| {
        instead(a, |_| {}, Act::HearBack, Act::CountAsTraining)
    }),
    case(RuleId::BriefProcedure, "the procedure is not explained", &["day"], PASS, |a| {
        never(a, Act::Explain(Topic::Procedure))
    }),
    case(RuleId::BriefDuties, "the duties are not told", &["day"], PASS, |a| never(a, Act::Explain(Topic::Duties))),
    case(RuleId::BriefExercises, "the exercises are not described", &["day"], PASS, |a| {
        never(a, Act::Explain(Topic::Exercises))
    }),
    case(RuleId::BriefAim, "the aim is not said", &["day"], PASS, |a| never(a, Act::Explain(Topic::Aim))),
    case(RuleId::BriefDonning, "donning is not shown", &["day"], PASS, |a| never(a, Act::Explain(Topic::Donning))),
    case(RuleId::BriefMirror, "no mirror", &["day"], PASS, |a| never(a, Act::GiveMirror)),
    case(RuleId::BriefBack, "the duties are not heard back", &["day"], PASS, |a| never(a, Act::HearBack)),
    case(RuleId::BriefSignals, "no signals are agreed", &["day"], PASS, |a| never(a, Act::AgreeSignals)),
    case(RuleId::BriefMaskFails, "nobody says that only the mask can fail", &["day"], PASS, |a| {
        never(a, Act::Explain(Topic::MaskFails))
    }),
    case(RuleId::BriefTongue, "nothing is said about mouth and tongue", &["screening-1", "test-1"], EITHER, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.never(Act::Remind(Reminder::Breathing)).never(Act::Explain(Topic::Duties)).finish();
        conductor
    }),
    case(RuleId::BriefRemember, "nobody says to remember the taste", &["day"], PASS, |a| {
        never(a, Act::Explain(Topic::Remember))
    }),
    case(RuleId::AskLeading, "a leading question in screening", &["screening-1"], EITHER, |a| {
        instead(a, |s| s.wearer.tastes_after = Some(14), Act::Ask(Manner::Neutral), Act::Ask(Manner::TowardsYes))
    }),
    case(RuleId::AskLeadingPass, "a pass on a leading question", &["test-1"], VOID, |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::HeadSide)).unaware(Act::Ask(Manner::TowardsNo)).finish();
        conductor
    }),
];
