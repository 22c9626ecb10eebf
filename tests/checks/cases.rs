//! For every rule a run that breaks it: by the book, but for one thing.
//!
//! Each case is run for both agents. Its rule must be found, or be found put right; and nothing else of top gravity may be,
//! since a finding belongs to the first decision that went wrong. The few where two things cannot be told apart say so.

use crate::driver::{Conductor, calls, findings, plain};
use bittersweet_core::{
    act::{
        Act, Aim, Company, Exercise, Field, Fields, Hands, Manner, Method, NextStep, Reminder, Role, Slot, Threshold,
        Topic, Verdict,
    },
    rulebook::{Agent, RuleId, Rulebook},
    sign::{Seen, Sign},
    source::Gravity,
    units::Ms,
    wire::scenario_v1::{FitV1, ScenarioV1, TroubleV1},
};

/// A run that breaks a rule.
pub(crate) struct Case {
    /// The rule.
    pub(crate) rule: RuleId,
    /// What is done, as a fact.
    pub(crate) name: &'static str,
    /// Does it.
    run: fn(Agent) -> Conductor,
    /// Rules of top gravity that cannot but be broken with it.
    also: &'static [RuleId],
}

const fn case(rule: RuleId, name: &'static str, run: fn(Agent) -> Conductor) -> Case {
    Case { rule, name, run, also: &[] }
}

const fn case_with(rule: RuleId, name: &'static str, also: &'static [RuleId], run: fn(Agent) -> Conductor) -> Case {
    Case { rule, name, run, also }
}

fn conductor(agent: Agent, change: impl FnOnce(&mut ScenarioV1)) -> Conductor {
    Conductor::new(&plain(agent, change))
}

/// By the book, but never this act.
fn never(agent: Agent, act: Act) -> Conductor {
    let mut conductor = conductor(agent, |_| {});
    conductor.never(act).finish();
    conductor
}

/// By the book, but this sign goes unnoticed.
fn overlooked(agent: Agent, seen: Seen, change: impl FnOnce(&mut ScenarioV1)) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.overlook(seen).finish();
    conductor
}

/// By the book, but when `act` comes up `other` is done, and the conductor goes on from there.
fn instead(agent: Agent, change: impl FnOnce(&mut ScenarioV1), act: Act, other: Act) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.until(act).act(other).finish();
    conductor
}

/// By the book, but `done` is done in the belief of doing `meant`.
fn mistaken(agent: Agent, change: impl FnOnce(&mut ScenarioV1), meant: Act, done: Act) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor.until(meant).mistake(meant, done).finish();
    conductor
}

fn during(kind: &str, exercise: &str, after_s: u16) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), during: Some(exercise.to_owned()), after_s, ..TroubleV1::default() }
}

fn in_screening(kind: &str, squeezes: u8) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), screening: Some(squeezes), ..TroubleV1::default() }
}

fn had(loose: &mut ScenarioV1, what: &str, minutes_ago: u8) {
    loose.wearer.by_mouth = Some(bittersweet_core::wire::scenario_v1::ByMouthV1 { what: what.to_owned(), minutes_ago });
}

fn leaks(loose: &mut ScenarioV1) {
    loose.rack[1].fit = FitV1::One(15);
}

const fn slot(number: u8) -> Slot {
    Slot::new(number).expect("a place of the rack")
}

/// The wait that the book asks for is taken for done.
fn without_waiting(agent: Agent, change: impl FnOnce(&mut ScenarioV1), masked: bool) -> Conductor {
    let mut conductor = conductor(agent, change);
    conductor
        .until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some() == masked)
        .skip()
        .finish();
    conductor
}

fn finish(mut conductor: Conductor) -> Conductor {
    conductor.finish();
    conductor
}

/// Stands before the first squeeze of the screening.
fn at_the_first_squeeze(agent: Agent, tastes_after: u8) -> Conductor {
    let mut conductor = conductor(agent, |loose| loose.wearer.tastes_after = Some(tastes_after));
    conductor.until(Act::Squeeze);
    conductor
}

/// Stands before the first squeeze of the test.
fn at_the_initial_squeezes(agent: Agent, tastes_after: u8) -> Conductor {
    let mut conductor = conductor(agent, |loose| loose.wearer.tastes_after = Some(tastes_after));
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().worn().is_some());
    conductor
}

/// Stands before the first squeeze of a replenishment.
fn at_a_replenishment(mut conductor: Conductor) -> Conductor {
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().exercise() == Some(Exercise::DeepBreathing));
    conductor
}

/// Lets time pass until the next act is due.
fn until_due(conductor: &mut Conductor) {
    let due = conductor.next().map_or(Ms::ZERO, |step| conductor.due(step));
    conductor.wait(due.since(conductor.run.now()));
}

/// Does the act that comes after deep breathing when that has gone on for so long only.
fn hurry(conductor: &mut Conductor, act: Act, after: Ms) {
    Conductor::into(conductor, Exercise::DeepBreathing, after).act(act);
}

/// Every case.
pub(crate) const CASES: &[Case] = &[
    // Who may be tested, in what, for which use.
    case(RuleId::ClearBefore, "nobody asks for the clearance", |a| never(a, Act::AskClearance)),
    case(RuleId::ClearLimits, "cleared for powered units only, put into a half mask", |a| {
        let mut conductor = conductor(a, |s| s.wearer.clearance = "powered-only".to_owned());
        conductor.until_like(|_, act| matches!(act, Act::Give(_)));
        conductor.acts([Act::HandOver(slot(2)), Act::InspectFacepiece, Act::Don(Hands::Own), Act::Doff, Act::Finish]);
        conductor
    }),
    case(RuleId::ClearQuestionnaire, "the questionnaire is read", |a| {
        instead(
            a,
            |s| s.wearer.clearance = "questionnaire".to_owned(),
            Act::ReturnQuestionnaire,
            Act::ReadQuestionnaire,
        )
    }),
    case(RuleId::ClearPrivate, "health is asked about aloud", |a| {
        instead(a, |_| {}, Act::AskWell(Company::Private), Act::AskWell(Company::Public))
    }),
    case(RuleId::ClearToday, "nobody asks about today", |a| never(a, Act::AskWell(Company::Private))),
    case(RuleId::MouthAsk, "nobody asks what went into the mouth", |a| never(a, Act::AskMouth)),
    case(RuleId::MouthFifteen, "coffee just before, and no waiting", |a| {
        without_waiting(a, |s| had(s, "coffee", 0), false)
    }),
    case(RuleId::MouthScreening, "screened twelve minutes after coffee", |a| {
        without_waiting(a, |s| had(s, "coffee", 11), false)
    }),
    case(RuleId::MouthSweet, "screened twelve minutes after something sweet", |a| {
        without_waiting(a, |s| had(s, "sweets", 11), false)
    }),
    case(RuleId::SealLook, "nobody looks at the face", |a| never(a, Act::LookAtFace)),
    case(RuleId::SealHair, "stubble at the seal goes unnoticed", |a| {
        overlooked(a, Seen::FaceStubble, |s| s.wearer.face = "stubble".to_owned())
    }),
    case(RuleId::SealUnder, "a temple bar under the seal goes unnoticed", |a| {
        overlooked(a, Seen::FaceTempleBar, |s| {
            s.wearer.face = "temple-bar".to_owned();
            s.rack[1].fit = FitV1::One(100_000);
        })
    }),
    case(RuleId::SealUnder, "a temple bar under the seal goes unnoticed, and the agent is tasted", |a| {
        overlooked(a, Seen::FaceTempleBar, |s| s.wearer.face = "temple-bar".to_owned())
    }),
    case(RuleId::UseCheck, "nobody checks the use", |a| never(a, Act::CheckUse)),
    case(RuleId::UseLimit, "a full facepiece for twenty times the limit", |a| {
        let mut conductor = conductor(a, |s| {
            s.exposure_times = 20;
            s.rack[1].class = "full".to_owned();
        });
        conductor.never(Act::CheckUse).finish();
        conductor
    }),
    case(RuleId::UseApf, "a half mask for twenty times the limit", |a| {
        let mut conductor = conductor(a, |s| s.exposure_times = 20);
        conductor.never(Act::CheckUse).finish();
        conductor
    }),
    case(RuleId::UseFilter, "gas cartridges alone", |a| {
        overlooked(a, Seen::FiltersGasOnly, |s| s.rack[1].gas_only = true)
    }),
    case(RuleId::UseNegative, "a powered unit with its blower on", |a| {
        overlooked(a, Seen::AirSupplied, |s| s.rack[1].class = "powered".to_owned())
    }),
    case(RuleId::UseRestore, "a converted unit is not put back", |a| {
        let mut conductor = conductor(a, |s| s.rack[1].class = "powered".to_owned());
        conductor.never(Act::RestoreMode).finish();
        conductor
    }),
    case(RuleId::UseSame, "another facepiece than the one at work", |a| {
        let mut conductor = conductor(a, |s| s.wearer.at_work = Some(3));
        conductor.never(Act::AskWorkFacepiece).finish();
        conductor
    }),
    case(RuleId::UseEvery, "somebody is signed for who was not tested", |a| {
        instead(a, |_| {}, Act::TellResult(Company::Private), Act::SignUntested)
    }),
    case(RuleId::TrainingApart, "the briefing is counted as training", |a| {
        instead(a, |_| {}, Act::HearBack, Act::CountAsTraining)
    }),
    // Solutions, nebulizers, hood and hands.
    case(RuleId::NebCheck, "nobody looks at the nebulizer", |a| never(a, Act::CheckNebulizer(Role::Check))),
    case(RuleId::NebMarked, "no mark, and nobody sees it", |a| {
        overlooked(a, Seen::NebulizerUnmarked, |s| s.bench.check.unmarked = true)
    }),
    case(RuleId::NebScreen, "screened with the fit test solution", |a| {
        let mut conductor = conductor(a, |_| {});
        let (meant, done) = (Act::Take(Role::Check), Act::Take(Role::Fit));
        conductor.until(meant).mistake(meant, done).finish();
        conductor
    }),
    case(RuleId::NebTest, "tested with the check solution", |a| {
        let mut conductor = conductor(a, |_| {});
        let (meant, done) = (Act::Take(Role::Fit), Act::Take(Role::Check));
        conductor.until(meant).mistake(meant, done).finish();
        conductor
    }),
    case(RuleId::NebContents, "the other agent in the nebulizer", |a| {
        overlooked(a, Seen::NebulizerOtherAgent, |s| s.bench.fit.holds = Some("other-agent".to_owned()))
    }),
    case(RuleId::NebRinse, "filled six hours ago, and not again", |a| {
        let mut conductor = conductor(a, |s| s.bench.check.filled_h_ago = 6);
        conductor.never(Act::FillNebulizer(Role::Check)).never(Act::RinseNebulizer(Role::Check)).finish();
        conductor
    }),
    case_with(
        RuleId::NebFill,
        "nearly dry, and nobody sees it",
        &[RuleId::FitMinimum, RuleId::FitSqueeze, RuleId::FitTopUp],
        |a| {
            let mut conductor = conductor(a, |s| s.bench.fit.low = true);
            conductor.overlook(Seen::NebulizerLow).overlook(Seen::SpraysNothing).finish();
            conductor
        },
    ),
    case(RuleId::NebBottle, "filled from a bottle without a date", |a| {
        overlooked(a, Seen::BottleUndated, |s| {
            s.bench.check.low = true;
            s.bench.check.bottle_undated = true;
        })
    }),
    case(RuleId::NebSpray, "no test spray", |a| never(a, Act::TestSpray(Role::Check))),
    case(RuleId::NebClogEnd, "a crust at the end goes unnoticed", |a| {
        overlooked(a, Seen::NebulizerTipCrusted, |s| s.trouble.push(during("clogs-unseen", "bending", 5)))
    }),
    case(RuleId::NebClogLook, "nobody looks for a clog", |a| never(a, Act::CheckNebulizer(Role::Fit))),
    case(RuleId::HoodClean, "a damp hood goes unnoticed", |a| {
        overlooked(a, Seen::HoodDamp, |s| s.bench.hood_damp = true)
    }),
    case(RuleId::HoodCheck, "nobody looks at the hood", |a| never(a, Act::CheckHood)),
    case(RuleId::HandsGloves, "filled with bare hands", |a| {
        let mut conductor = conductor(a, |s| s.bench.check.filled_h_ago = 6);
        conductor.never(Act::GlovesOn).never(Act::GlovesOff).finish();
        conductor
    }),
    case(RuleId::AfterBench, "the nebulizer is left as it is", |a| never(a, Act::RinseNebulizer(Role::Check))),
    // What the wearer is told and asked.
    case(RuleId::BriefProcedure, "the procedure is not explained", |a| never(a, Act::Explain(Topic::Procedure))),
    case(RuleId::BriefDuties, "the duties are not told", |a| never(a, Act::Explain(Topic::Duties))),
    case(RuleId::BriefExercises, "the exercises are not described", |a| never(a, Act::Explain(Topic::Exercises))),
    case(RuleId::BriefAim, "the aim is not said", |a| never(a, Act::Explain(Topic::Aim))),
    case(RuleId::BriefDonning, "donning is not shown", |a| never(a, Act::Explain(Topic::Donning))),
    case(RuleId::BriefMirror, "no mirror", |a| never(a, Act::GiveMirror)),
    case(RuleId::BriefBack, "the duties are not heard back", |a| never(a, Act::HearBack)),
    case(RuleId::BriefSignals, "no signals are agreed", |a| never(a, Act::AgreeSignals)),
    case(RuleId::BriefMaskFails, "nobody says that only the mask can fail", |a| {
        never(a, Act::Explain(Topic::MaskFails))
    }),
    case(RuleId::BriefTongue, "nothing is said about mouth and tongue", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.never(Act::Remind(Reminder::Breathing)).never(Act::Explain(Topic::Duties)).finish();
        conductor
    }),
    case(RuleId::BriefRemember, "nobody says to remember the taste", |a| never(a, Act::Explain(Topic::Remember))),
    case(RuleId::AskLeading, "a leading question in screening", |a| {
        instead(a, |s| s.wearer.tastes_after = Some(14), Act::Ask(Manner::Neutral), Act::Ask(Manner::TowardsYes))
    }),
    case(RuleId::AskLeadingPass, "a pass on a leading question", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::HeadSide)).unaware(Act::Ask(Manner::TowardsNo)).finish();
        conductor
    }),
    // Choosing, fitting and checking the facepiece.
    case(RuleId::ChooseWearer, "somebody else chooses", |a| {
        mistaken(a, |_| {}, Act::HandOver(slot(2)), Act::HandOver(slot(3)))
    }),
    case(RuleId::ChooseHold, "no candidates held to the face", |a| never(a, Act::HoldToFace)),
    case(RuleId::ChooseRunnerUp, "no runner-up noted", |a| never(a, Act::NoteRunnerUp)),
    case(RuleId::ComfortFive, "comfort asked about at once", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| matches!(act, Act::Wait(_)) && run.state().worn().is_some());
        conductor.act(Act::ReviewComfort).finish();
        conductor
    }),
    case(RuleId::WearFive, "tested after two minutes", |a| without_waiting(a, |_| {}, true)),
    case(RuleId::ComfortReview, "comfort not gone through", |a| never(a, Act::ReviewComfort)),
    case(RuleId::ComfortAdequacy, "the fit not gone through", |a| never(a, Act::CheckAdequacy)),
    case(RuleId::ComfortOther, "found unacceptable, and tested all the same", |a| {
        overlooked(a, Seen::SaysUncomfortable, |s| s.rack[1].uncomfortable = true)
    }),
    case(RuleId::StrapsFault, "a twisted strap goes unnoticed", |a| {
        overlooked(a, Seen::StrapTwisted, |s| s.rack[1].straps = Some("twisted".to_owned()))
    }),
    case(RuleId::DonUnaided, "a helper puts it on", |a| {
        instead(a, |_| {}, Act::Don(Hands::Own), Act::Don(Hands::Helped))
    }),
    case(RuleId::SealCheckEach, "no seal check", |a| never(a, Act::SealCheck(Method::Both))),
    case(RuleId::SealCheckSeated, "checked before it was seated", |a| never(a, Act::SeatMask)),
    case(RuleId::SealCheckMethod, "a hand passed across the front", |a| {
        instead(a, |_| {}, Act::SealCheck(Method::Both), Act::SealCheck(Method::Quick))
    }),
    case(RuleId::SealCheckFailed, "tested after a failed seal check", |a| {
        overlooked(a, Seen::SealLeaks, |s| s.rack[1].seal_leaks = true)
    }),
    case(RuleId::GearAsk, "nobody asks what else is worn", |a| never(a, Act::AskGear)),
    case(RuleId::GearOn, "the glasses stay in the pocket", |a| {
        let mut conductor = conductor(a, |s| s.wearer.gear.push("glasses".to_owned()));
        conductor.never(Act::GearOn).finish();
        conductor
    }),
    case(RuleId::FacepieceInspect, "not inspected", |a| never(a, Act::InspectFacepiece)),
    case(RuleId::FacepieceDefect, "a cracked strap goes unnoticed", |a| {
        overlooked(a, Seen::StrapCracked, |s| s.rack[1].condition = Some("strap-cracked".to_owned()))
    }),
    case(RuleId::FacepieceShared, "handed on without disinfecting", |a| {
        overlooked(a, Seen::FacepieceUsed, |s| s.rack[1].used = true)
    }),
    case(RuleId::FacepiecePassedOn, "a worn filtering facepiece is handed on", |a| {
        overlooked(a, Seen::FacepieceUsed, |s| {
            s.rack[1].used = true;
            s.rack[1].class = "filtering".to_owned();
        })
    }),
    case(RuleId::FacepieceAfter, "left as it came off", |a| never(a, Act::Disinfect)),
    // Taste-threshold screening.
    case(RuleId::ScreenDone, "last year's threshold is taken", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::HoodOn).takes_for_screened(Threshold::Ten).finish();
        conductor
    }),
    case(RuleId::ScreenBare, "screened with the mask on", |a| {
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
    }),
    case(RuleId::ScreenHood, "screened without the hood", |a| {
        let mut conductor = conductor(a, |s| s.wearer.tastes_after = None);
        conductor.until(Act::HoodOn).skip().until(Act::HoodOff).skip().finish();
        conductor
    }),
    case(RuleId::ScreenGap, "the window slides near unnoticed", |a| {
        overlooked(a, Seen::HoodSlidesNear, |s| s.trouble.push(in_screening("hood-slides-near", 2)))
    }),
    case(RuleId::ScreenNozzle, "the nozzle points at the mouth", |a| never(a, Act::Aim(Aim::Away))),
    case(RuleId::ScreenCount, "thirteen before asking, and ten noted", |a| {
        let mut conductor = at_the_first_squeeze(a, 11);
        conductor.squeezes(13).act(Act::Ask(Manner::Neutral)).unaware(Act::NoteThreshold(Threshold::Ten));
        conductor.pretend(Act::NoteThreshold(Threshold::Twenty)).finish();
        conductor
    }),
    case(RuleId::ScreenSqueeze, "one of ten is short, and nobody makes it good", |a| {
        let mut conductor = at_the_first_squeeze(a, 14);
        conductor.squeezes(9);
        conductor.try_act(Act::Squeeze, Ms(100)).expect("the nebulizer is in hand");
        conductor.act(Act::Ask(Manner::Neutral)).finish();
        conductor
    }),
    case(RuleId::ScreenRapid, "ten squeezes in a minute", |a| {
        let mut conductor = at_the_first_squeeze(a, 14);
        conductor.act(Act::Squeeze).wait(Ms::secs(50)).finish();
        conductor
    }),
    // Believing in the lower number, the conductor sprays too little for the one that was noted.
    case_with(
        RuleId::ScreenEarly,
        "tasted before the tenth, and twenty noted",
        &[RuleId::FitInitial, RuleId::FitHalf],
        |a| mistaken(a, |_| {}, Act::NoteThreshold(Threshold::Ten), Act::NoteThreshold(Threshold::Twenty)),
    ),
    case(RuleId::ScreenClass, "tasted in the second ten, and ten noted", |a| {
        mistaken(
            a,
            |s| s.wearer.tastes_after = Some(15),
            Act::NoteThreshold(Threshold::Twenty),
            Act::NoteThreshold(Threshold::Ten),
        )
    }),
    case_with(
        RuleId::ScreenClassHigh,
        "tasted in the second ten, and thirty noted",
        &[RuleId::FitInitial, RuleId::FitHalf],
        |a| {
            mistaken(
                a,
                |s| s.wearer.tastes_after = Some(15),
                Act::NoteThreshold(Threshold::Twenty),
                Act::NoteThreshold(Threshold::Thirty),
            )
        },
    ),
    case(RuleId::ScreenNote, "the threshold is not noted", |a| never(a, Act::NoteThreshold(Threshold::Ten))),
    case(RuleId::ScreenNone, "not tasted at thirty, and tested all the same", |a| {
        let mut conductor = conductor(a, |s| s.wearer.tastes_after = None);
        let meant = Act::NoteThreshold(Threshold::NotTasted);
        conductor.until(meant).unaware(meant).believe(Sign::Seen(Seen::SaysTaste));
        conductor.pretend(Act::NoteThreshold(Threshold::Thirty)).finish();
        conductor
    }),
    case(RuleId::ScreenUntrue, "a taste before the first squeeze is taken for the threshold", |a| {
        overlooked(a, Seen::SaysTasteBefore, |s| s.trouble.push(in_screening("tastes-before", 0)))
    }),
    case(RuleId::ScreenSalty, "salt is taken for the agent", |a| {
        let mut conductor = conductor(a, |s| {
            s.wearer.tastes_after = Some(25);
            s.trouble.push(in_screening("salty-stays", 4));
        });
        conductor.overlook(Seen::SaysSalty).until(Act::Squeeze).squeezes(10).act(Act::Ask(Manner::Neutral));
        conductor.believe(Sign::Seen(Seen::SaysTaste)).finish();
        conductor
    }),
    case(RuleId::ScreenClear, "no rinse afterwards", |a| never(a, Act::GiveWater)),
    // The fit test itself.
    case(RuleId::FitHood, "tested without the hood", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| act == Act::HoodOn && run.state().worn().is_some());
        conductor.skip().until(Act::HoodOff).skip().finish();
        conductor
    }),
    case(RuleId::FitInitial, "nineteen to begin with for a threshold of twenty", |a| {
        let mut conductor = at_the_initial_squeezes(a, 15);
        conductor.skip().finish();
        conductor
    }),
    case(RuleId::FitMinimum, "nine to begin with", |a| {
        let mut conductor = at_the_initial_squeezes(a, 7);
        conductor.skip().finish();
        conductor
    }),
    case(RuleId::FitInitialOver, "eleven to begin with", |a| {
        instead(a, |_| {}, Act::Begin(Exercise::NormalBreathing), Act::Squeeze)
    }),
    case(RuleId::FitTopUp, "a replenishment is missed", |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.miss_squeezes(5).finish();
        conductor
    }),
    case(RuleId::FitTopUpPrompt, "a replenishment eight seconds late", |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.late(Ms::secs(8)).finish();
        conductor
    }),
    case(RuleId::FitHalf, "four at a replenishment", |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.miss_squeezes(1).finish();
        conductor
    }),
    case(RuleId::FitHalfOver, "six at a replenishment", |a| {
        let mut conductor = conductor(a, |_| {});
        Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(36)).act(Act::Squeeze).finish();
        conductor
    }),
    case(RuleId::FitSqueeze, "a short squeeze at a replenishment", |a| {
        let mut conductor = at_a_replenishment(conductor(a, |_| {}));
        conductor.overlook(Seen::SpraysShort).late(Ms::ZERO);
        conductor.try_act(Act::Squeeze, Ms(100)).expect("the nebulizer is in hand");
        conductor.finish();
        conductor
    }),
    case(RuleId::FitAll, "one exercise is left out", |a| never(a, Act::Begin(Exercise::Talking))),
    case(RuleId::FitAll, "the last is left out, and the wearer sent off cleared without a word", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.never(Act::Begin(Exercise::NormalAgain)).never(Act::Give(Verdict::Pass)).finish();
        conductor
    }),
    case(RuleId::FitOrder, "two exercises change places", |a| {
        let mut conductor = conductor(a, |_| {});
        let (side, nod) = (Act::Begin(Exercise::HeadSide), Act::Begin(Exercise::HeadUpDown));
        conductor.until(side);
        until_due(&mut conductor);
        conductor.mistake(side, nod).until(nod);
        until_due(&mut conductor);
        conductor.mistake(nod, side).finish();
        conductor
    }),
    case(RuleId::FitMinute, "an exercise of forty-five seconds, taken for a whole one", |a| {
        let mut conductor = conductor(a, |_| {});
        // The clock is misread by a quarter of a minute.
        Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(40)).pretend(Act::Wait(Ms::secs(15))).finish();
        conductor
    }),
    case(RuleId::FitMinuteNear, "an exercise of fifty-four seconds", |a| {
        let mut conductor = conductor(a, |_| {});
        hurry(&mut conductor, Act::Begin(Exercise::HeadSide), Ms::secs(54));
        conductor.finish();
        conductor
    }),
    case(RuleId::FitLong, "an exercise of eighty seconds", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::HeadSide)).late(Ms::secs(20)).finish();
        conductor
    }),
    case(RuleId::FitGrimace, "a grimace is added", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::Begin(Exercise::Bending));
        until_due(&mut conductor);
        conductor.act(Act::Begin(Exercise::Grimace)).finish();
        conductor
    }),
    case(RuleId::FitJog, "jogging for bending", |a| {
        let mut conductor = conductor(a, |_| {});
        let bend = Act::Begin(Exercise::Bending);
        conductor.until(bend);
        until_due(&mut conductor);
        conductor.mistake(bend, Act::Begin(Exercise::Jogging)).finish();
        conductor
    }),
    case(RuleId::FitStanding, "seated, and nobody says anything", |a| {
        overlooked(a, Seen::SitsDown, |s| s.trouble.push(during("sits-down", "head-side", 9)))
    }),
    case(RuleId::FitEnds, "head turns too fast, and nobody says anything", |a| {
        overlooked(a, Seen::RushesMoves, |s| s.trouble.push(during("rushes", "head-side", 9)))
    }),
    case(RuleId::FitAloud, "whispered, and nobody says anything", |a| {
        overlooked(a, Seen::Whispers, |s| s.trouble.push(during("whispers", "talking", 9)))
    }),
    case(RuleId::FitComfort, "comfort is not asked about at the end", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until_like(|run, act| act == Act::ReviewComfort && run.state().test().is_some());
        conductor.skip().finish();
        conductor
    }),
    // What is seen and said.
    case(RuleId::FitAdjusted, "a strap pulled tighter, and a pass", |a| {
        overlooked(a, Seen::AdjustsMask, |s| s.trouble.push(during("adjusts-mask", "head-side", 20)))
    }),
    case(RuleId::FitTouched, "a finger at the mask, and a pass", |a| {
        overlooked(a, Seen::TouchesMask, |s| s.trouble.push(during("touches-mask", "head-side", 20)))
    }),
    case(RuleId::FitResumed, "the hood came off, and the test goes on", |a| {
        let mut conductor = conductor(a, |s| s.trouble.push(during("takes-hood-off", "head-side", 12)));
        conductor.overlook(Seen::TakesHoodOff).into(Exercise::HeadSide, Ms::secs(16)).unaware(Act::HoodOn).finish();
        conductor
    }),
    case(RuleId::WatchTaste, "a sign of taste, and a pass", |a| overlooked(a, Seen::SignalsTaste, leaks)),
    case(RuleId::WatchTaste, "a hand half raised and never asked about, and a pass", |a| {
        overlooked(a, Seen::RaisesHand, |s| {
            leaks(s);
            s.trouble.push(during("half-gesture", "deep-breathing", 10));
        })
    }),
    case(RuleId::WatchSuspect, "a drop on the chin tasted, and a fail", |a| {
        let mut conductor = conductor(a, |s| s.trouble.push(during("drop-on-face", "normal-breathing", 5)));
        conductor.overlook(Seen::DropOnFace).into(Exercise::NormalBreathing, Ms::secs(12));
        conductor.act(Act::Ask(Manner::Neutral)).finish();
        conductor
    }),
    case(RuleId::WatchSalty, "salt in the test, and a pass", |a| {
        overlooked(a, Seen::SaysSalty, |s| s.trouble.push(during("salty-stays", "deep-breathing", 20)))
    }),
    case(RuleId::WatchMouth, "mouth shut, and nobody says anything", |a| {
        overlooked(a, Seen::MouthShuts, |s| s.trouble.push(during("mouth-shuts", "deep-breathing", 8)))
    }),
    case(RuleId::WatchNote, "the window slides near, unnoticed", |a| {
        overlooked(a, Seen::HoodSlidesNear, |s| s.trouble.push(during("hood-slides-near", "talking", 8)))
    }),
    case(RuleId::WatchOvercall, "a cough, and the test is called invalid", |a| {
        let mut conductor = conductor(a, |s| s.trouble.push(during("coughs", "deep-breathing", 20)));
        Conductor::into(&mut conductor, Exercise::DeepBreathing, Ms::secs(26))
            .acts([Act::Stop, Act::Give(Verdict::Invalid)]);
        finish(conductor)
    }),
    case(RuleId::DistressEmergency, "chest pain goes unnoticed", |a| {
        overlooked(a, Seen::ChestPain, |s| s.trouble.push(during("chest-pain", "deep-breathing", 20)))
    }),
    case(RuleId::DistressBreathing, "trouble breathing goes unnoticed", |a| {
        overlooked(a, Seen::Breathless, |s| s.trouble.push(during("breathless", "deep-breathing", 20)))
    }),
    case(RuleId::DistressWish, "a wish to stop goes unheard", |a| {
        overlooked(a, Seen::SaysStop, |s| s.trouble.push(during("wants-to-stop", "deep-breathing", 20)))
    }),
    // The result and what follows.
    case(RuleId::ResultGiven, "the run ends without a result", |a| {
        instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Finish)
    }),
    case(RuleId::ResultComplete, "a pass before anything was tested", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.until(Act::HoodOn).acts([Act::Give(Verdict::Pass), Act::Finish]);
        conductor
    }),
    case(RuleId::ResultUntasted, "a fail without a taste", |a| {
        instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Give(Verdict::Fail))
    }),
    case(RuleId::ResultInvalid, "a clean test called invalid", |a| {
        instead(a, |_| {}, Act::Give(Verdict::Pass), Act::Give(Verdict::Invalid))
    }),
    case(RuleId::NextDifferent, "the same facepiece after a fail", |a| {
        mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::RefitSame))
    }),
    case(RuleId::NextWhole, "the fit test alone after a fail", |a| {
        mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::TestAgain))
    }),
    case(RuleId::NextAgent, "another agent to rescue a fail", |a| {
        mistaken(a, leaks, Act::Next(NextStep::OtherFacepiece), Act::Next(NextStep::OtherAgent))
    }),
    case(RuleId::NextCannot, "cannot taste it, and sent home", |a| {
        mistaken(a, |s| s.wearer.tastes_after = None, Act::Next(NextStep::OtherAgent), Act::Next(NextStep::AnotherDay))
    }),
    case(RuleId::NextScreen, "a spoilt screening, and only the test again", |a| {
        let mut conductor = conductor(a, |_| {});
        conductor.never(Act::Aim(Aim::Away)).until(Act::Give(Verdict::Pass));
        conductor.acts([Act::Give(Verdict::Invalid), Act::Next(NextStep::TestAgain), Act::Finish]);
        conductor
    }),
    case(RuleId::NextRefer, "trouble breathing, and sent home", |a| {
        mistaken(
            a,
            |s| s.trouble.push(during("breathless", "deep-breathing", 20)),
            Act::Next(NextStep::Refer),
            Act::Next(NextStep::AnotherDay),
        )
    }),
    case(RuleId::NextStep, "nobody says what comes next", |a| never(a, Act::Next(NextStep::Cleared))),
    case(RuleId::ResultTell, "the result is not told", |a| never(a, Act::TellResult(Company::Private))),
    case(RuleId::ResultScope, "nobody says what the pass covers", |a| never(a, Act::TellScope)),
    case(RuleId::RecordFields, "no record", |a| never(a, Act::Record(Fields::FIVE))),
    case(RuleId::RecordHealth, "health in the record", |a| {
        instead(a, |_| {}, Act::Record(Fields::FIVE), Act::Record(Fields::FIVE.toggled(Field::Health)))
    }),
    case(RuleId::RecordAside, "the failed facepiece stays on the rack", |a| {
        let mut conductor = conductor(a, leaks);
        conductor.never(Act::SetAside).finish();
        conductor
    }),
];

impl Case {
    /// Whether the agent has this rule at all.
    fn concerns(&self, agent: Agent) -> bool {
        Rulebook::us(agent).rule(self.rule).is_some()
    }

    /// Its runs, one for each agent that has the rule.
    pub(crate) fn conductors(&self) -> Vec<Conductor> {
        Agent::ALL.iter().copied().filter(|agent| self.concerns(*agent)).map(self.run).collect()
    }

    /// What is wrong with the review of its run; `None` if it is as it should be.
    fn complaint(&self, agent: Agent) -> Option<String> {
        let conductor = (self.run)(agent);
        let review = conductor.review();
        let found = review.findings.iter().chain(&review.put_right).any(|finding| finding.rule == self.rule);
        let others: Vec<&str> = review
            .findings
            .iter()
            .filter(|finding| {
                finding.gravity.is_top() && finding.rule != self.rule && !self.also.contains(&finding.rule)
            })
            .map(|finding| finding.rule.code())
            .collect();
        let gravity = Rulebook::us(agent).rule(self.rule).map(|rule| rule.gravity);
        let spoils = gravity == Some(Gravity::Spoils);
        let spoilt = |about| review.findings.iter().any(|found| found.rule == self.rule && found.about == about);
        let wrong_pass = spoils
            && review.calls.iter().any(|call| call.given == Verdict::Pass && call.is_right() && spoilt(call.about));
        let what = match (found, others.is_empty(), wrong_pass) {
            (true, true, false) => return None,
            (false, ..) => "not found".to_owned(),
            (true, false, _) => format!("also found: {}", others.join(", ")),
            (true, true, true) => "a pass was called right".to_owned(),
        };
        Some(format!(
            "{} ({}, {}): {what}\n      {:?}\n      {:?}",
            self.rule.code(),
            self.name,
            agent.code(),
            calls(&review),
            findings(&review)
        ))
    }
}

#[test]
fn each_case_breaks_its_rule_and_no_other_that_spoils() {
    let mut complaints = Vec::new();
    for case in CASES {
        for agent in Agent::ALL.iter().copied().filter(|agent| case.concerns(*agent)) {
            match std::panic::catch_unwind(|| case.complaint(agent)) {
                Ok(complaint) => complaints.extend(complaint),
                Err(_) => complaints.push(format!("{} ({}): panicked", case.rule.code(), case.name)),
            }
        }
    }
    assert!(complaints.is_empty(), "{} of {} cases:\n{}", complaints.len(), CASES.len(), complaints.join("\n"));
}

#[test]
fn every_rule_has_a_case() {
    let without: Vec<&str> = RuleId::ALL
        .iter()
        .filter(|rule| CASES.iter().all(|case| case.rule != **rule))
        .map(|rule| rule.code())
        .collect();
    assert!(without.is_empty(), "{without:?}");
}

#[test]
fn zz_dump() {
    for case in CASES {
        for agent in Agent::ALL.iter().copied().filter(|agent| case.concerns(*agent)) {
            let c = (case.run)(agent);
            let r = c.review();
            let g = Rulebook::us(agent).rule(case.rule).unwrap();
            println!("DUMP\t{}\t{}\t{}\t{}\t{}\t{}\t{}", case.rule.code(), agent.code(), case.name, g.gravity.code(), g.skill.code(), findings(&r).join(";"), calls(&r).join(";"));
        }
    }
}
