//! How each thing that comes up in a test is ruled on: a run in which it comes up, and what the review must say of it.
//!
//! Each row says what happened in our own words, where the ruling comes from, what the review makes of the results given
//! (with what would have been right in brackets where that differs), every finding (in round brackets where it was caught
//! and put right), and the rule it rests on with its basis and push. "Ours" is our reading of "the protocol as written",
//! 1910.134(f)(5), or common practice.

use crate::driver::{Conductor, calls, findings, plain};
use bittersweet_core::{
    act::{Act, Aim, Cause, Exercise, Hands, Manner, Method, NextStep, Role, Threshold, Topic, Verdict},
    attempt::Screening,
    review::review,
    rulebook::{Agent, RuleId, Rulebook},
    run::Run,
    sign::Seen,
    source::{Basis, Push},
    units::Ms,
    wire::scenario_v1::{ByMouthV1, FitV1, HouseV1, ScenarioV1, TroubleV1},
};

use Basis::{Letter, Ours, Text};
use Push::{FalseFail, FalsePass, Neither};

/// A rule, its basis for sweet and for bitter, and its push.
type On = (RuleId, [Basis; 2], Push);

struct Row {
    /// What happened.
    what: &'static str,
    /// Where the ruling comes from.
    source: &'static str,
    /// What is not as in a plain room.
    room: fn(&mut ScenarioV1),
    /// What the conductor does.
    done: fn(&mut Conductor),
    /// The results given.
    calls: &'static [&'static str],
    /// The findings.
    found: &'static [&'static str],
    /// The rules that came up.
    on: &'static [On],
}

const fn nothing(_: &mut ScenarioV1) {}

fn by_the_book(conductor: &mut Conductor) {
    conductor.finish();
}

fn during(kind: &str, exercise: Exercise, after_s: u16) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), during: Some(exercise.code().to_owned()), after_s, ..TroubleV1::default() }
}

fn in_screening(kind: &str, after: u8) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), screening: Some(after), ..TroubleV1::default() }
}

fn at_the_initial(kind: &str, after: u8) -> TroubleV1 {
    TroubleV1 { kind: kind.to_owned(), initial: Some(after), ..TroubleV1::default() }
}

/// The wearer's first choice leaks when bending.
fn leaks(loose: &mut ScenarioV1) {
    loose.rack[1].fit = FitV1::Seven([2_500, 2_500, 2_500, 2_500, 2_500, 5, 2_500]);
}

/// A squeeze of the initial set is next.
fn initial(run: &Run, act: Act) -> bool {
    act == Act::Squeeze && run.state().test().is_some_and(|test| test.begun().is_none())
}

/// The first squeeze of a replenishment in this exercise is next.
fn replenishment(run: &Run, act: Act, exercise: Exercise) -> bool {
    act == Act::Squeeze && run.state().exercise() == Some(exercise)
}

/// Waiting with the facepiece on is next.
fn wearing(run: &Run, act: Act) -> bool {
    matches!(act, Act::Wait(_)) && run.state().worn().is_some()
}

/// Looking at the nebulizer after the exercises is next.
fn looking_at_the_end(run: &Run, act: Act) -> bool {
    act == Act::CheckNebulizer(Role::Fit) && run.state().test().is_some()
}

/// Presses the bulb before it has filled again.
fn pump(conductor: &mut Conductor, count: usize) {
    for _ in 0..count {
        conductor.try_act(Act::Squeeze, Ms(200)).expect("the bulb can be pressed");
    }
}

/// Squeezes without a question until the taste is reported.
fn squeeze_until_tasted(conductor: &mut Conductor) {
    conductor.until(Act::Squeeze);
    while conductor.run.state().screening().and_then(Screening::tasted_after).is_none() {
        conductor.squeezes(1);
    }
}

fn nozzle_at_the_mouth(conductor: &mut Conductor) {
    conductor.until(Act::Aim(Aim::Away)).skip();
}

fn head_side_cut_short(conductor: &mut Conductor, length: Ms) -> &mut Conductor {
    conductor.into(Exercise::HeadSide, length.since(Ms(1_200))).unaware(Act::Begin(Exercise::HeadUpDown));
    conductor.until(Act::Begin(Exercise::HeadUpDown)).skip()
}

fn head_side_cut_to(conductor: &mut Conductor, length: Ms) {
    head_side_cut_short(conductor, length).finish();
}

fn by_mouth(loose: &mut ScenarioV1, what: &str, minutes_ago: u8) {
    loose.wearer.by_mouth = Some(ByMouthV1 { what: what.to_owned(), minutes_ago });
}

/// Follows the book up to a decision, and decides this instead.
fn decide(conductor: &mut Conductor, step: NextStep) {
    conductor.until_like(|_, act| matches!(act, Act::Next(_))).act(Act::Next(step)).finish();
}

fn rows() -> Vec<Row> {
    let mut rows = Vec::new();
    rows.extend(solutions());
    rows.extend(screening());
    rows.extend(running());
    rows.extend(watching());
    rows.extend(who());
    rows.extend(facepieces());
    rows.extend(afterwards());
    rows.extend(precedence());
    rows
}

fn solutions() -> Vec<Row> {
    vec![
        Row {
            what: "fit test solution sprayed in screening, and not noticed",
            source: "ours on App. A I.B.3 and I.B.4 (a)(4), (b)(4)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Take(Role::Check)).mistake(Act::Take(Role::Check), Act::Take(Role::Fit)).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["neb.screen on screening-1: spoils"],
            on: &[(RuleId::NebScreen, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "fit test solution sprayed in screening, noticed and screened again",
            source: "ours on App. A I.B.3 and I.B.4 (a)(4), (b)(4)",
            room: nothing,
            done: |conductor| {
                conductor
                    .until(Act::Take(Role::Check))
                    .acts([Act::Take(Role::Fit), Act::Aim(Aim::Away)])
                    .squeezes(1)
                    .see();
                conductor.finish();
            },
            calls: &["screening-1: invalid", "test-1: pass"],
            found: &["(neb.screen on screening-1: departure)"],
            on: &[(RuleId::NebScreen, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "check solution sprayed in the test, and not noticed",
            source: "ours on App. A I.B.3 and I.B.4 (b)(4), (b)(5)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Take(Role::Fit)).mistake(Act::Take(Role::Fit), Act::Take(Role::Check)).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["neb.test on test-1: spoils"],
            on: &[(RuleId::NebTest, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "check solution sprayed in the test, noticed and started over",
            source: "ours on App. A I.B.3 and I.B.4 (b)(4), (b)(5)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Take(Role::Fit)).act(Act::Take(Role::Check)).squeezes(3).see().finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(neb.test on test-1: departure)"],
            on: &[(RuleId::NebTest, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "screening in a hood still wet from the last test",
            source: "ours on App. A I.B.1(b)",
            room: |loose| loose.bench.hood_damp = true,
            done: |conductor| {
                conductor.overlook(Seen::HoodDamp).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["hood.clean on screening-1: spoils"],
            on: &[(RuleId::HoodClean, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a hood still wet from the last test, wiped before screening",
            source: "ours on App. A I.B.1(b)",
            room: |loose| loose.bench.hood_damp = true,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::HoodClean, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a taste before the first squeeze of screening, passed over",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)-(10)",
            room: |loose| loose.trouble.push(in_screening("tastes-before", 0)),
            done: |conductor| {
                conductor.overlook(Seen::SaysTasteBefore).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.untrue on screening-1: spoils"],
            on: &[(RuleId::ScreenUntrue, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a taste before the first squeeze of screening, cleaned up and screened again",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)-(10)",
            room: |loose| loose.trouble.push(in_screening("tastes-before", 0)),
            done: by_the_book,
            calls: &["screening-1: invalid", "test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "nebulizer clogged in the test, seen at the end and passed over",
            source: "App. A I.B.3(b)(12), read; bitter: ours on I.B.4(b)(7), (b)(9), I.B.1",
            room: |loose| loose.trouble.push(during("clogs-unseen", Exercise::HeadSide, 5)),
            done: |conductor| {
                conductor.overlook(Seen::NebulizerTipCrusted).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["neb.clog_end on test-1: spoils"],
            on: &[(RuleId::NebClogEnd, [Text, Ours], FalsePass)],
        },
        Row {
            what: "nebulizer clogged in the test, and nobody looks at the end",
            source: "App. A I.B.3(b)(12), read; bitter: ours on I.B.4(b)(7), (b)(9), I.B.1",
            room: |loose| loose.trouble.push(during("clogs-unseen", Exercise::HeadSide, 5)),
            done: |conductor| {
                conductor.until_like(looking_at_the_end).skip().finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["neb.clog_end on test-1: spoils"],
            on: &[(RuleId::NebClogEnd, [Text, Ours], FalsePass)],
        },
        Row {
            what: "nebulizer clogged in the test, seen at the end and started over",
            source: "App. A I.B.3(b)(12), read; bitter: ours on I.B.4(b)(7), (b)(9), I.B.1",
            room: |loose| loose.trouble.push(during("clogs-unseen", Exercise::HeadSide, 5)),
            done: by_the_book,
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::NebClogEnd, [Text, Ours], FalsePass)],
        },
        Row {
            what: "rinse and refill overdue, and left so",
            source: "App. A I.B.3 and I.B.4 (a)(14), read",
            room: |loose| loose.bench.fit.filled_h_ago = 6,
            done: |conductor| {
                conductor.until(Act::RinseNebulizer(Role::Fit)).skip();
                conductor.until(Act::FillNebulizer(Role::Fit)).skip().finish();
            },
            calls: &["test-1: pass"],
            found: &["neb.rinse on day: departure"],
            on: &[(RuleId::NebRinse, [Text, Text], Neither)],
        },
        Row {
            what: "rinse and refill overdue, and done",
            source: "App. A I.B.3 and I.B.4 (a)(14), read",
            room: |loose| loose.bench.fit.filled_h_ago = 6,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::NebRinse, [Text, Text], Neither)],
        },
        Row {
            what: "nebulizer clogged in the test, found by a test spray at the end and passed over",
            source: "App. A I.B.3(b)(12), read; bitter: ours on I.B.4(b)(7), (b)(9), I.B.1",
            room: |loose| loose.trouble.push(during("clogs-unseen", Exercise::HeadSide, 5)),
            done: |conductor| {
                conductor
                    .overlook(Seen::SpraysNothing)
                    .until_like(looking_at_the_end)
                    .unaware(Act::TestSpray(Role::Fit));
                conductor.skip().finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["neb.clog_end on test-1: spoils"],
            on: &[(RuleId::NebClogEnd, [Text, Ours], FalsePass)],
        },
    ]
}

fn screening() -> Vec<Row> {
    vec![
        Row {
            what: "bulb pressed before it has filled again in screening, uncorrected",
            source: "ours on App. A I.B.3 and I.B.4 (a)(6)",
            room: nothing,
            done: |conductor| {
                conductor.overlook(Seen::SpraysShort).until(Act::Squeeze);
                pump(conductor, 10);
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &["screen.early on screening-1: departure", "screen.squeeze on screening-1: departure"],
            on: &[(RuleId::ScreenSqueeze, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "bulb pressed before it has filled again in screening, made good before the question",
            source: "ours on App. A I.B.3 and I.B.4 (a)(6)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Squeeze);
                pump(conductor, 3);
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::ScreenSqueeze, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "tasted within the second ten, and the first ten noted",
            source: "App. A I.B.3 and I.B.4 (a)(8), read",
            room: |loose| loose.wearer.tastes_after = Some(14),
            done: |conductor| {
                conductor.until(Act::NoteThreshold(Threshold::Twenty)).act(Act::NoteThreshold(Threshold::Ten));
                conductor.takes_for_screened(Threshold::Ten).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.class on screening-1: spoils"],
            on: &[(RuleId::ScreenClass, [Text, Text], FalsePass)],
        },
        Row {
            what: "tasted within the second ten, the first ten noted, and the record corrected",
            source: "App. A I.B.3 and I.B.4 (a)(8), read",
            room: |loose| loose.wearer.tastes_after = Some(14),
            done: |conductor| {
                conductor.until(Act::NoteThreshold(Threshold::Twenty)).act(Act::NoteThreshold(Threshold::Ten)).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::ScreenClass, [Text, Text], FalsePass)],
        },
        Row {
            what: "tasted at the fourth squeeze: ten noted, ten used",
            source: "letter 1999-08-27, read; bitter: App. A I.B.4(a)(7), read",
            room: |loose| loose.wearer.tastes_after = Some(4),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::ScreenEarly, [Letter, Text], Neither)],
        },
        Row {
            what: "tasted at the fourth squeeze, and twenty noted",
            source: "letter 1999-08-27, read; bitter: App. A I.B.4(a)(7), read",
            room: |loose| loose.wearer.tastes_after = Some(4),
            done: |conductor| {
                conductor.until(Act::NoteThreshold(Threshold::Ten)).act(Act::NoteThreshold(Threshold::Twenty));
                conductor.takes_for_screened(Threshold::Twenty).finish();
            },
            calls: &["test-1: pass"],
            found: &["screen.early on screening-1: departure"],
            on: &[(RuleId::ScreenEarly, [Letter, Text], Neither)],
        },
        Row {
            what: "more than ten squeezes before the question, tasted among them, and ten noted",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)-(9)",
            room: |loose| loose.wearer.tastes_after = Some(15),
            done: |conductor| {
                squeeze_until_tasted(conductor);
                conductor.act(Act::NoteThreshold(Threshold::Ten)).takes_for_screened(Threshold::Ten).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.count on screening-1: spoils"],
            on: &[(RuleId::ScreenCount, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "more than ten squeezes before the question, tasted among them, and twenty noted",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)-(9)",
            room: |loose| loose.wearer.tastes_after = Some(15),
            done: |conductor| {
                squeeze_until_tasted(conductor);
                conductor.act(Act::NoteThreshold(Threshold::Twenty)).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::ScreenCount, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "nozzle at the mouth in screening, and not noticed",
            source: "letter 1999-08-27, read; bitter: ours on App. A I.B.4(a)(4)",
            room: nothing,
            done: |conductor| {
                nozzle_at_the_mouth(conductor);
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.nozzle on screening-1: spoils"],
            on: &[(RuleId::ScreenNozzle, [Letter, Ours], FalsePass)],
        },
        Row {
            what: "nozzle at the mouth in screening, noticed and screened again",
            source: "letter 1999-08-27, read; bitter: ours on App. A I.B.4(a)(4)",
            room: nothing,
            done: |conductor| {
                nozzle_at_the_mouth(conductor);
                conductor.until(Act::Squeeze).squeezes(2).see().finish();
            },
            calls: &["screening-1: invalid", "test-1: pass"],
            found: &["(screen.nozzle on screening-1: departure)"],
            on: &[(RuleId::ScreenNozzle, [Letter, Ours], FalsePass)],
        },
        Row {
            what: "salty in screening: no threshold, and gone on with",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)",
            room: |loose| loose.trouble.push(in_screening("salty", 2)),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::ScreenSalty, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "salty in screening, and taken for the threshold",
            source: "ours on App. A I.B.3 and I.B.4 (a)(7)",
            room: |loose| loose.trouble.push(in_screening("salty", 2)),
            done: |conductor| {
                conductor.until(Act::Ask(Manner::Neutral)).act(Act::NoteThreshold(Threshold::Ten));
                conductor.takes_for_screened(Threshold::Ten).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.salty on screening-1: spoils"],
            on: &[(RuleId::ScreenSalty, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "not tasted at thirty: not by this agent",
            source: "App. A I.B.3 and I.B.4 (a)(11), read",
            room: |loose| loose.wearer.tastes_after = None,
            done: by_the_book,
            calls: &["screening-1: cannot-taste [cannot-taste, invalid]"],
            found: &[],
            on: &[(RuleId::ScreenNone, [Text, Text], FalsePass), (RuleId::NextCannot, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "not tasted at thirty, and tested all the same",
            source: "App. A I.B.3 and I.B.4 (a)(11), read",
            room: |loose| loose.wearer.tastes_after = None,
            done: |conductor| {
                conductor.until(Act::NoteThreshold(Threshold::NotTasted)).act(Act::NoteThreshold(Threshold::NotTasted));
                conductor.takes_for_screened(Threshold::Ten).finish();
            },
            calls: &["test-1: pass [cannot-taste]"],
            found: &["screen.none on test-1: spoils"],
            on: &[(RuleId::ScreenNone, [Text, Text], FalsePass)],
        },
        Row {
            what: "not tasted at thirty, and sent off to use it",
            source: "App. A I.B.3 and I.B.4 (a)(11); 1910.134(f)(1), read",
            room: |loose| loose.wearer.tastes_after = None,
            done: |conductor| decide(conductor, NextStep::Cleared),
            calls: &["screening-1: cannot-taste [cannot-taste, invalid]"],
            found: &["use.every on screening-1: endangers"],
            on: &[(RuleId::UseEvery, [Text, Text], FalsePass)],
        },
        Row {
            what: "nothing tasted, nothing noted, and a threshold written down in the middle of the test",
            source: "App. A I.B.3 and I.B.4 (a)(7)-(10), read",
            room: |loose| loose.wearer.tastes_after = Some(14),
            done: |conductor| {
                conductor.until(Act::Ask(Manner::Neutral)).takes_for_screened(Threshold::Ten);
                conductor.into(Exercise::HeadSide, Ms::secs(20)).unaware(Act::NoteThreshold(Threshold::Ten)).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["screen.done on test-1: spoils"],
            on: &[(RuleId::ScreenDone, [Text, Text], FalsePass)],
        },
        Row {
            what: "exercises begun over a bare face, and the result given all the same",
            source: "App. A I.B.3 and I.B.4 (b)(2), (b)(3), read",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::LetChoose).acts([Act::Explain(Topic::Exercises), Act::HoodOn]);
                for exercise in Exercise::SEVEN {
                    conductor.act(Act::Begin(exercise)).wait(Ms::secs(60));
                }
                let end = [Act::End, Act::CheckNebulizer(Role::Fit), Act::HoodOff, Act::Give(Verdict::Pass)];
                conductor.acts(end).finish();
            },
            calls: &["test-1: pass [invalid]"],
            // The hood over a bare face begins a screening too, and that one was never made.
            found: &["fit.comfort on test-1: departure", "fit.hood on test-1: spoils", "screen.done on test-1: spoils"],
            on: &[(RuleId::FitHood, [Text, Text], FalsePass)],
        },
    ]
}

fn running() -> Vec<Row> {
    vec![
        Row {
            what: "bulb pressed before it has filled again in the test, uncorrected",
            source: "ours on App. A I.B.3 and I.B.4 (a)(6)",
            room: nothing,
            done: |conductor| {
                conductor.overlook(Seen::SpraysShort).until_like(initial);
                pump(conductor, 10);
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.squeeze on test-1: spoils"],
            on: &[(RuleId::FitSqueeze, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "bulb pressed before it has filled again in the test, made good",
            source: "ours on App. A I.B.3 and I.B.4 (a)(6)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(initial);
                pump(conductor, 3);
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitInitial, [Text, Text], FalsePass)],
        },
        Row {
            what: "fewer than ten initial squeezes, and not noticed",
            source: "App. A I.B.3(b)(7), read; I.B.4(b)(7), read, has no such sentence",
            room: nothing,
            done: |conductor| {
                conductor.until_like(initial).squeezes(7);
                for _ in 0..3 {
                    conductor.pretend(Act::Squeeze);
                }
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.minimum on test-1: spoils"],
            on: &[(RuleId::FitMinimum, [Text, Ours], FalsePass)],
        },
        Row {
            what: "fewer than ten initial squeezes, noticed and started over",
            source: "App. A I.B.3(b)(7), read; I.B.4(b)(7), read, has no such sentence",
            room: nothing,
            done: |conductor| {
                conductor.until_like(initial).squeezes(7).act(Act::Begin(Exercise::NormalBreathing)).finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(fit.minimum on test-1: departure)"],
            on: &[(RuleId::FitMinimum, [Text, Ours], FalsePass)],
        },
        Row {
            what: "ten initial squeezes for a threshold of twenty",
            source: "App. A I.B.3 and I.B.4 (b)(7), read",
            room: |loose| loose.wearer.tastes_after = Some(14),
            done: |conductor| {
                conductor.until_like(initial).squeezes(10);
                for _ in 0..10 {
                    conductor.pretend(Act::Squeeze);
                }
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.initial on test-1: spoils"],
            on: &[(RuleId::FitInitial, [Text, Text], FalsePass)],
        },
        Row {
            what: "a replenishment 3 s late",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).late(Ms::secs(3)).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitTopUpPrompt, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment begun in time, and slow: judged at its beginning",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).late(Ms::secs(2));
                for _ in 0..4 {
                    conductor.wait(Ms::secs(2)).squeezes(1);
                }
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitTopUpPrompt, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment 8 s late",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).late(Ms::secs(8)).finish();
            },
            calls: &["test-1: pass [pass, invalid]"],
            found: &["fit.top_up_prompt on test-1: departure"],
            on: &[(RuleId::FitTopUpPrompt, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment 17 s late, and not noticed",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor
                    .until_like(|run, act| replenishment(run, act, Exercise::HeadSide))
                    .miss_squeezes(5)
                    .wait(Ms::secs(17));
                for _ in 0..5 {
                    conductor.unaware(Act::Squeeze);
                }
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &[
                "fit.half_over on test-1: departure",
                "fit.top_up on test-1: spoils",
                "fit.top_up_prompt on test-1: departure",
            ],
            on: &[(RuleId::FitTopUp, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment missed, and not noticed",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).miss_squeezes(5).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.top_up on test-1: spoils"],
            on: &[(RuleId::FitTopUp, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment missed, noticed and started over",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor
                    .until_like(|run, act| replenishment(run, act, Exercise::HeadSide))
                    .late(Ms::secs(20))
                    .finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(fit.top_up on test-1: departure)"],
            on: &[(RuleId::FitTopUp, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment short of half, and not noticed",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).miss_squeezes(2).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.half on test-1: spoils"],
            on: &[(RuleId::FitHalf, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "the full number replenished instead of half",
            source: "ours on App. A I.B.3 and I.B.4 (b)(9)",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::HeadSide)).late(Ms::ZERO);
                for _ in 0..5 {
                    conductor.unaware(Act::Squeeze);
                }
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &["fit.half_over on test-1: departure"],
            on: &[(RuleId::FitHalfOver, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "an exercise of 46 s, and not noticed",
            source: "ours on App. A I.A.14(b)",
            room: nothing,
            done: |conductor| head_side_cut_to(conductor, Ms::secs(46)),
            calls: &["test-1: pass [invalid]"],
            found: &["fit.minute on test-1: spoils"],
            on: &[(RuleId::FitMinute, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "an exercise of 46 s, noticed and started over",
            source: "ours on App. A I.A.14(b)",
            room: nothing,
            done: |conductor| {
                conductor.into(Exercise::HeadSide, Ms(44_800)).act(Act::Begin(Exercise::HeadUpDown)).finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(fit.minute on test-1: departure)"],
            on: &[(RuleId::FitMinute, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "an exercise of 53 s",
            source: "ours on App. A I.A.14(b)",
            room: nothing,
            done: |conductor| head_side_cut_to(conductor, Ms::secs(53)),
            calls: &["test-1: pass [pass, invalid]"],
            found: &["fit.minute_near on test-1: departure"],
            on: &[(RuleId::FitMinuteNear, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "an exercise of 58 s",
            source: "ours on App. A I.A.14(b)",
            room: nothing,
            done: |conductor| head_side_cut_to(conductor, Ms::secs(58)),
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitMinuteNear, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "an exercise of a minute and a half",
            source: "ours on App. A I.A.14(b)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Begin(Exercise::HeadUpDown)).wait(Ms::secs(26)).squeezes(5).finish();
            },
            calls: &["test-1: pass"],
            found: &["fit.long on test-1: good"],
            on: &[(RuleId::FitLong, [Ours, Ours], Neither)],
        },
        Row {
            what: "an exercise skipped, and not noticed",
            source: "ours on App. A I.A.14(a), 1910.134(f)(5)",
            room: nothing,
            done: |conductor| {
                let (side, up_down) = (Act::Begin(Exercise::HeadSide), Act::Begin(Exercise::HeadUpDown));
                conductor.until(side).mistake(side, up_down).until(up_down).skip().finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.all on test-1: spoils", "fit.long on test-1: good"],
            on: &[(RuleId::FitAll, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "an exercise skipped, noticed and started over",
            source: "ours on App. A I.A.14(a), 1910.134(f)(5)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Begin(Exercise::HeadSide)).act(Act::Begin(Exercise::HeadUpDown)).finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(fit.all on test-1: departure)"],
            on: &[(RuleId::FitAll, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a pass before the last exercise: nothing had spoilt the test, and it was not over",
            source: "ours on App. A I.A.14(a), 1910.134(f)(5)",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Begin(Exercise::NormalAgain)).wait(Ms::secs(20));
                conductor.act(Act::Give(Verdict::Pass)).finish();
            },
            calls: &["test-1: pass [nothing yet]"],
            found: &["fit.all on test-1: spoils"],
            on: &[(RuleId::FitAll, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a pass before the last exercise of a test that might as well have been started over",
            source: "ours on App. A I.A.14(a), 1910.134(f)(5)",
            room: nothing,
            done: |conductor| {
                let conductor = head_side_cut_short(conductor, Ms::secs(53));
                conductor.until(Act::Begin(Exercise::Bending)).wait(Ms::secs(20));
                conductor.act(Act::Give(Verdict::Pass)).finish();
            },
            calls: &["test-1: pass [nothing yet, invalid]"],
            found: &["fit.all on test-1: spoils", "fit.minute_near on test-1: departure"],
            on: &[(RuleId::FitAll, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "two exercises in the wrong order, and not noticed",
            source: "ours on App. A I.A.14(a), letter 2015-03-18",
            room: nothing,
            done: |conductor| {
                let (side, up_down) = (Act::Begin(Exercise::HeadSide), Act::Begin(Exercise::HeadUpDown));
                conductor.until(side).mistake(side, up_down).until(up_down).mistake(up_down, side).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.order on test-1: spoils"],
            on: &[(RuleId::FitOrder, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "two exercises in the wrong order, noticed and started over",
            source: "ours on App. A I.A.14(a), letter 2015-03-18",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Begin(Exercise::HeadSide)).act(Act::Begin(Exercise::HeadUpDown));
                conductor
                    .wait(Ms::secs(28))
                    .squeezes(5)
                    .wait(Ms::secs(26))
                    .act(Act::Begin(Exercise::HeadSide))
                    .finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(fit.order on test-1: departure)"],
            on: &[(RuleId::FitOrder, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "jogging instead of bending",
            source: "App. A I.A.14(a), read",
            room: nothing,
            done: |conductor| {
                let (bending, jogging) = (Act::Begin(Exercise::Bending), Act::Begin(Exercise::Jogging));
                conductor.until(bending).mistake(bending, jogging).finish();
            },
            calls: &["test-1: pass"],
            found: &["fit.jog on test-1: departure"],
            on: &[(RuleId::FitJog, [Text, Text], Neither)],
        },
        Row {
            what: "jogging instead of bending, where the house allows it",
            source: "common practice, a switch of the house",
            room: |loose| loose.house = Some(HouseV1 { one_refit_after_fail: false, jogging_for_bending: true }),
            done: |conductor| {
                let (bending, jogging) = (Act::Begin(Exercise::Bending), Act::Begin(Exercise::Jogging));
                conductor.until(bending).mistake(bending, jogging).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitJog, [Text, Text], Neither)],
        },
        Row {
            what: "seated for exercises written as standing, and left so",
            source: "App. A I.A.14(a), read",
            room: |loose| loose.trouble.push(during("sits-down", Exercise::HeadSide, 10)),
            done: |conductor| {
                conductor.overlook(Seen::SitsDown).finish();
            },
            calls: &["test-1: pass [pass, invalid]"],
            found: &["fit.standing on test-1: departure"],
            on: &[(RuleId::FitStanding, [Text, Text], FalsePass)],
        },
        Row {
            what: "seated, and asked to stand",
            source: "App. A I.A.14(a), read",
            room: |loose| loose.trouble.push(during("sits-down", Exercise::HeadSide, 10)),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FitStanding, [Text, Text], FalsePass)],
        },
        Row {
            what: "a grimace added",
            source: "App. A I.A.14(a), read",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::Begin(Exercise::Bending)).act(Act::Begin(Exercise::Grimace)).finish();
            },
            calls: &["test-1: pass"],
            found: &["fit.grimace on test-1: departure"],
            on: &[(RuleId::FitGrimace, [Text, Text], Neither)],
        },
    ]
}

fn watching() -> Vec<Row> {
    vec![
        Row {
            what: "residue on the face in the test, and the taste of it called a fail",
            source: "ours on App. A I.B.3 and I.B.4 (b)(11)",
            room: |loose| loose.trouble.push(during("drop-on-face", Exercise::DeepBreathing, 10)),
            done: |conductor| {
                conductor.overlook(Seen::DropOnFace).into(Exercise::DeepBreathing, Ms::secs(15));
                conductor.act(Act::Ask(Manner::Neutral)).finish();
            },
            calls: &["test-1: fail [invalid]", "test-2: pass"],
            found: &["watch.suspect on test-1: departure"],
            on: &[(RuleId::WatchSuspect, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "residue on the face in the test, wiped, rinsed and started over",
            source: "ours on App. A I.B.3 and I.B.4 (b)(11)",
            room: |loose| loose.trouble.push(during("drop-on-face", Exercise::DeepBreathing, 10)),
            done: |conductor| {
                conductor.overlook(Seen::DropOnFace).into(Exercise::DeepBreathing, Ms::secs(15));
                conductor.act(Act::Ask(Manner::Neutral)).see().finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::WatchSuspect, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "resumed after the hood came off",
            source: "letter 2015-03-18, read",
            room: |loose| loose.trouble.push(during("takes-hood-off", Exercise::DeepBreathing, 20)),
            done: |conductor| {
                conductor.overlook(Seen::TakesHoodOff).into(Exercise::DeepBreathing, Ms::secs(20)).unaware(Act::HoodOn);
                conductor.finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.resumed on test-1: spoils", "watch.note on test-1: good"],
            on: &[(RuleId::FitResumed, [Letter, Letter], FalsePass)],
        },
        Row {
            what: "taken off by the conductor in an exercise, put on again and gone on with",
            source: "letter 2015-03-18, read",
            room: nothing,
            done: |conductor| {
                conductor
                    .into(Exercise::DeepBreathing, Ms::secs(20))
                    .unaware(Act::HoodOff)
                    .unaware(Act::HoodOn)
                    .finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.resumed on test-1: spoils"],
            on: &[(RuleId::FitResumed, [Letter, Letter], FalsePass)],
        },
        Row {
            what: "the hood came off, and the test was started over",
            source: "letter 2015-03-18, read",
            room: |loose| loose.trouble.push(during("takes-hood-off", Exercise::DeepBreathing, 20)),
            done: by_the_book,
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::FitResumed, [Letter, Letter], FalsePass)],
        },
        Row {
            what: "straps adjusted by the wearer in the exercises, and passed over",
            source: "App. A I.A.14(b), read",
            room: |loose| loose.trouble.push(during("adjusts-mask", Exercise::HeadUpDown, 20)),
            done: |conductor| {
                conductor.overlook(Seen::AdjustsMask).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.adjusted on test-1: spoils"],
            on: &[(RuleId::FitAdjusted, [Text, Text], Neither)],
        },
        Row {
            what: "straps adjusted by the conductor in the exercises, and passed over",
            source: "App. A I.A.14(b), read",
            room: nothing,
            done: |conductor| {
                conductor.into(Exercise::HeadUpDown, Ms::secs(20)).unaware(Act::FixStraps).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.adjusted on test-1: spoils"],
            on: &[(RuleId::FitAdjusted, [Text, Text], Neither)],
        },
        Row {
            what: "adjusted in the exercises: the fit test again, same facepiece, not screened again",
            source: "App. A I.A.14(b), read",
            room: |loose| loose.trouble.push(during("adjusts-mask", Exercise::HeadUpDown, 20)),
            done: |conductor| decide(conductor, NextStep::TestAgain),
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::FitAdjusted, [Text, Text], Neither)],
        },
        Row {
            what: "adjusted in the exercises: the same facepiece put on anew",
            source: "App. A I.A.14(b), read",
            room: |loose| loose.trouble.push(during("adjusts-mask", Exercise::HeadUpDown, 20)),
            done: |conductor| decide(conductor, NextStep::RefitSame),
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::FitAdjusted, [Text, Text], Neither)],
        },
        Row {
            what: "a finger at the facepiece in the exercises, and passed over",
            source: "ours on App. A I.A.14(b)",
            room: |loose| loose.trouble.push(during("touches-mask", Exercise::HeadUpDown, 20)),
            done: |conductor| {
                conductor.overlook(Seen::TouchesMask).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["fit.touched on test-1: spoils"],
            on: &[(RuleId::FitTouched, [Ours, Ours], Neither)],
        },
        Row {
            what: "a finger at the facepiece in the exercises, and started over",
            source: "ours on App. A I.A.14(b)",
            room: |loose| loose.trouble.push(during("touches-mask", Exercise::HeadUpDown, 20)),
            done: by_the_book,
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::FitTouched, [Ours, Ours], Neither)],
        },
        Row {
            what: "the forehead scratched, the hood brushed",
            source: "ours on App. A I.A.14(b)",
            room: |loose| {
                loose.trouble.push(during("scratches", Exercise::HeadSide, 10));
                loose.trouble.push(during("hood-brushes", Exercise::Bending, 10));
            },
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::WatchOvercall, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "the forehead scratched, and the test called invalid",
            source: "ours on App. A I.A.14(b)",
            room: |loose| loose.trouble.push(during("scratches", Exercise::HeadSide, 10)),
            done: |conductor| {
                conductor
                    .into(Exercise::HeadSide, Ms::secs(15))
                    .acts([Act::Stop, Act::Give(Verdict::Invalid)])
                    .finish();
            },
            calls: &["test-1: invalid [nothing yet]", "test-2: pass"],
            found: &["watch.overcall on test-1: departure"],
            on: &[(RuleId::WatchOvercall, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "the mask slipped untouched, and was gone on with",
            source: "ours: the taste decides",
            room: |loose| loose.trouble.push(during("mask-slips", Exercise::Bending, 10)),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "a taste reported, and waved through",
            source: "App. A I.B.3 and I.B.4 (b)(10), (11), read",
            room: leaks,
            done: |conductor| {
                conductor.overlook(Seen::SignalsTaste).finish();
            },
            calls: &["test-1: pass [fail]"],
            found: &["watch.note on test-1: good", "watch.taste on test-1: spoils"],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "a taste reported: fail, a different facepiece, everything again",
            source: "App. A I.B.3 and I.B.4 (b)(10), (11), read",
            room: leaks,
            done: by_the_book,
            calls: &["test-1: fail", "test-2: pass"],
            found: &[],
            on: &[
                (RuleId::WatchTaste, [Text, Text], FalsePass),
                (RuleId::NextDifferent, [Text, Text], FalsePass),
                (RuleId::NextWhole, [Text, Text], FalsePass),
            ],
        },
        Row {
            what: "a taste told after the hood is off, and waved through",
            source: "App. A I.B.3 and I.B.4 (b)(10), (11), read",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("tells-late", Exercise::Bending, 10));
            },
            done: |conductor| {
                conductor.overlook(Seen::SaysTasteLate).finish();
            },
            calls: &["test-1: pass [fail]"],
            found: &["watch.note on test-1: good", "watch.taste on test-1: spoils"],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "a taste told after the hood is off: fail",
            source: "App. A I.B.3 and I.B.4 (b)(10), (11), read",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("tells-late", Exercise::Bending, 10));
            },
            done: by_the_book,
            calls: &["test-1: fail", "test-2: pass"],
            found: &[],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "half a gesture, one neutral question, a trace: fail",
            source: "App. A I.B.3 and I.B.4 (b)(10), (11), read",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("half-gesture", Exercise::Bending, 10));
            },
            done: by_the_book,
            calls: &["test-1: fail", "test-2: pass"],
            found: &[],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "a leading question, and a pass after it",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: nothing,
            done: |conductor| {
                conductor.into(Exercise::HeadSide, Ms::secs(15)).unaware(Act::Ask(Manner::TowardsNo)).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["ask.leading on test-1: departure", "ask.leading_pass on test-1: spoils"],
            on: &[(RuleId::AskLeading, [Ours, Ours], FalsePass), (RuleId::AskLeadingPass, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a leading question, and a fail after it",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: leaks,
            done: |conductor| {
                conductor.into(Exercise::HeadSide, Ms::secs(15)).unaware(Act::Ask(Manner::TowardsNo)).finish();
            },
            calls: &["test-1: fail", "test-2: pass"],
            found: &["ask.leading on test-1: departure"],
            on: &[(RuleId::AskLeading, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "one neutral question in a test",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: nothing,
            done: |conductor| {
                conductor.into(Exercise::HeadSide, Ms::secs(15)).act(Act::Ask(Manner::Neutral)).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::AskLeading, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "salty in the test, asked about once, and clearly gone",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: |loose| loose.trouble.push(during("salty", Exercise::HeadSide, 10)),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "salty in the test, and passed over",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: |loose| loose.trouble.push(during("salty-stays", Exercise::HeadSide, 10)),
            done: |conductor| {
                conductor.overlook(Seen::SaysSalty).finish();
            },
            calls: &["test-1: pass [invalid, fail]"],
            found: &["watch.note on test-1: good", "watch.salty on test-1: spoils"],
            on: &[(RuleId::WatchSalty, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "salty in the test, not gone: started over; and again: a leak",
            source: "ours on App. A I.B.3 and I.B.4 (b)(10)",
            room: |loose| {
                loose.trouble.push(during("salty-stays", Exercise::DeepBreathing, 10));
                loose.trouble.push(during("salty-stays", Exercise::HeadSide, 10));
            },
            done: by_the_book,
            calls: &["test-1: invalid [invalid, fail]", "test-2: fail", "test-3: pass"],
            found: &[],
            on: &[(RuleId::WatchSalty, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "emergency signs, and tested on",
            source: "ours, common practice",
            room: |loose| loose.trouble.push(during("chest-pain", Exercise::Bending, 10)),
            done: |conductor| {
                conductor.overlook(Seen::ChestPain).finish();
            },
            calls: &["test-1: pass [stopped:emergency]"],
            found: &["distress.emergency on test-1: endangers"],
            on: &[(RuleId::DistressEmergency, [Ours, Ours], Neither)],
        },
        Row {
            what: "emergency signs: hood and mask off, help, stopped",
            source: "ours, common practice",
            room: |loose| loose.trouble.push(during("wheezes", Exercise::Bending, 10)),
            done: by_the_book,
            calls: &["test-1: stopped:emergency"],
            found: &[],
            on: &[(RuleId::DistressEmergency, [Ours, Ours], Neither)],
        },
        Row {
            what: "trouble breathing, and tested on",
            source: "App. A I.A.10, 1910.134(e)(7), read",
            room: |loose| loose.trouble.push(during("breathless", Exercise::Bending, 10)),
            done: |conductor| {
                conductor.overlook(Seen::Breathless).finish();
            },
            calls: &["test-1: pass [stopped:breathing]"],
            found: &["distress.breathing on test-1: endangers"],
            on: &[(RuleId::DistressBreathing, [Text, Text], Neither)],
        },
        Row {
            what: "trouble breathing: stopped and referred",
            source: "App. A I.A.10, 1910.134(e)(7), read",
            room: |loose| loose.trouble.push(during("breathless", Exercise::Bending, 10)),
            done: by_the_book,
            calls: &["test-1: stopped:breathing"],
            found: &[],
            on: &[(RuleId::DistressBreathing, [Text, Text], Neither), (RuleId::NextRefer, [Text, Text], Neither)],
        },
        Row {
            what: "trouble breathing: stopped and not referred",
            source: "App. A I.A.10, 1910.134(e)(7), read",
            room: |loose| loose.trouble.push(during("breathless", Exercise::Bending, 10)),
            done: |conductor| {
                conductor
                    .until(Act::Next(NextStep::Refer))
                    .mistake(Act::Next(NextStep::Refer), Act::Next(NextStep::AnotherDay));
                conductor.finish();
            },
            calls: &["test-1: stopped:breathing"],
            found: &["next.refer on test-1: endangers"],
            on: &[(RuleId::NextRefer, [Text, Text], Neither)],
        },
        Row {
            what: "trouble breathing: stopped, taken for a wish, and not referred",
            source: "App. A I.A.10, 1910.134(e)(7), read",
            room: |loose| loose.trouble.push(during("breathless", Exercise::Bending, 10)),
            done: |conductor| {
                let (right, wrong) = (Verdict::Stopped(Cause::Breathing), Verdict::Stopped(Cause::Wish));
                conductor.until(Act::Give(right)).mistake(Act::Give(right), Act::Give(wrong));
                let (right, wrong) = (Act::Next(NextStep::Refer), Act::Next(NextStep::AnotherDay));
                conductor.until(right).mistake(right, wrong).finish();
            },
            calls: &["test-1: stopped:wish [stopped:breathing]"],
            found: &["next.refer on test-1: endangers", "result.given on test-1: departure"],
            on: &[(RuleId::NextRefer, [Text, Text], Neither)],
        },
        Row {
            what: "trouble breathing: called invalid, and to be tested again",
            source: "App. A I.A.10, 1910.134(e)(7), read",
            room: |loose| loose.trouble.push(during("breathless", Exercise::Bending, 10)),
            done: |conductor| {
                let right = Act::Give(Verdict::Stopped(Cause::Breathing));
                conductor.until(right).mistake(right, Act::Give(Verdict::Invalid));
                let (right, wrong) = (Act::Next(NextStep::Refer), Act::Next(NextStep::TestAgain));
                conductor.until(right).mistake(right, wrong).finish();
            },
            calls: &["test-1: invalid [stopped:breathing]"],
            found: &["next.refer on test-1: endangers", "result.given on test-1: departure"],
            on: &[(RuleId::NextRefer, [Text, Text], Neither)],
        },
        Row {
            what: "a wish to stop, and tested on",
            source: "ours, common practice",
            room: |loose| loose.trouble.push(during("wants-to-stop", Exercise::Bending, 10)),
            done: |conductor| {
                conductor.overlook(Seen::SaysStop).finish();
            },
            calls: &["test-1: pass [stopped:wish]"],
            found: &["distress.wish on test-1: endangers"],
            on: &[(RuleId::DistressWish, [Ours, Ours], Neither)],
        },
        Row {
            what: "a wish to stop: stopped, another day, no verdict on the mask",
            source: "ours, common practice",
            room: |loose| loose.trouble.push(during("wants-to-stop", Exercise::Bending, 10)),
            done: by_the_book,
            calls: &["test-1: stopped:wish"],
            found: &[],
            on: &[(RuleId::DistressWish, [Ours, Ours], Neither)],
        },
    ]
}

fn who() -> Vec<Row> {
    vec![
        Row {
            what: "coffee before the test, and nobody asked",
            source: "App. A I.B.3 and I.B.4 (b)(1), read",
            room: |loose| by_mouth(loose, "coffee", 0),
            done: |conductor| {
                conductor.never(Act::AskMouth).finish();
            },
            calls: &["test-1: pass [not-tested:mouth, invalid]"],
            found: &[
                "mouth.ask on day: departure",
                "mouth.fifteen on test-1: spoils",
                "mouth.screening on screening-1: departure",
            ],
            on: &[(RuleId::MouthFifteen, [Text, Text], FalsePass)],
        },
        Row {
            what: "coffee before the test, and waited for",
            source: "App. A I.B.3 and I.B.4 (b)(1), read",
            room: |loose| by_mouth(loose, "coffee", 0),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::MouthFifteen, [Text, Text], FalsePass)],
        },
        Row {
            what: "coffee too shortly before screening, but not before the test",
            source: "ours on App. A I.B.3 and I.B.4 (b)(1)",
            room: |loose| by_mouth(loose, "coffee", 10),
            done: |conductor| {
                conductor.never(Act::AskMouth).finish();
            },
            calls: &["test-1: pass [pass, invalid]"],
            found: &["mouth.ask on day: departure", "mouth.screening on screening-1: departure"],
            on: &[(RuleId::MouthScreening, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "water before the test",
            source: "App. A I.B.3 and I.B.4 (b)(1), read",
            room: |loose| by_mouth(loose, "water", 0),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "a beard at the seal, and tested",
            source: "App. A I.A.9, 1910.134(g)(1), read",
            room: |loose| loose.wearer.face = "beard".to_owned(),
            done: |conductor| {
                conductor.overlook(Seen::FaceBeard).finish();
            },
            calls: &["test-1: pass [not-tested:seal, invalid]"],
            found: &["seal.hair on test-1: spoils"],
            on: &[(RuleId::SealHair, [Text, Text], FalsePass)],
        },
        Row {
            what: "stubble at the seal: not tested today",
            source: "App. A I.A.9, 1910.134(g)(1), read",
            room: |loose| loose.wearer.face = "stubble".to_owned(),
            done: by_the_book,
            calls: &["day: not-tested:seal"],
            found: &[],
            on: &[(RuleId::SealHair, [Text, Text], FalsePass)],
        },
        Row {
            what: "no clearance, and tested",
            source: "1910.134(e)(1), read",
            room: |loose| loose.wearer.clearance = "none".to_owned(),
            done: |conductor| {
                conductor.overlook(Seen::SaysNotCleared).finish();
            },
            calls: &["test-1: pass [not-tested:clearance, invalid]"],
            found: &["clear.before on day: endangers"],
            on: &[(RuleId::ClearBefore, [Text, Text], Neither)],
        },
        Row {
            what: "no clearance: not tested today",
            source: "1910.134(e)(1), read",
            room: |loose| loose.wearer.clearance = "none".to_owned(),
            done: by_the_book,
            calls: &["day: not-tested:clearance"],
            found: &[],
            on: &[(RuleId::ClearBefore, [Text, Text], Neither)],
        },
        Row {
            what: "a full facepiece asked for beyond ten times the limit, and tested",
            source: "1910.134(f)(6), letter 1999-01-15, read",
            room: |loose| {
                loose.exposure_times = 20;
                loose.rack.iter_mut().for_each(|piece| piece.class = "full".to_owned());
            },
            done: |conductor| {
                conductor.never(Act::CheckUse).finish();
            },
            calls: &["test-1: pass [not-tested:use, invalid]"],
            found: &["use.check on day: departure", "use.limit on test-1: spoils"],
            on: &[(RuleId::UseLimit, [Text, Text], FalsePass)],
        },
        Row {
            what: "a full facepiece asked for beyond ten times the limit: a quantitative test",
            source: "1910.134(f)(6), letter 1999-01-15, read",
            room: |loose| {
                loose.exposure_times = 20;
                loose.rack.iter_mut().for_each(|piece| piece.class = "full".to_owned());
            },
            done: by_the_book,
            calls: &["day: not-tested:use"],
            found: &[],
            on: &[],
        },
        Row {
            what: "a half mask asked for beyond ten times the limit, and tested",
            source: "1910.134(d)(1), (d)(3)(i), read",
            room: |loose| loose.exposure_times = 11,
            done: |conductor| {
                conductor.never(Act::CheckUse).finish();
            },
            calls: &["test-1: pass [not-tested:use, invalid]"],
            found: &["use.apf on test-1: endangers", "use.check on day: departure"],
            on: &[(RuleId::UseApf, [Text, Text], FalsePass)],
        },
        Row {
            what: "a full facepiece at ten times the limit",
            source: "1910.134(f)(6), letter 1999-01-15, read",
            room: |loose| {
                loose.exposure_times = 10;
                loose.rack.iter_mut().for_each(|piece| piece.class = "full".to_owned());
            },
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::UseLimit, [Text, Text], FalsePass)],
        },
        Row {
            what: "a powered facepiece tested with its blower on",
            source: "1910.134(f)(8), read",
            room: |loose| loose.rack[1].class = "powered".to_owned(),
            done: |conductor| {
                conductor.never(Act::SetNegative).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["use.negative on test-1: spoils"],
            // The push is ours: air blown in hides a leak.
            on: &[(RuleId::UseNegative, [Text, Text], FalsePass)],
        },
        Row {
            what: "a supplied-air facepiece tested in negative pressure, and restored",
            source: "1910.134(f)(8), read",
            room: |loose| loose.rack[1].class = "supplied".to_owned(),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::UseNegative, [Text, Text], FalsePass), (RuleId::UseRestore, [Text, Text], Neither)],
        },
        Row {
            what: "a powered facepiece tested in negative pressure, and not restored",
            source: "1910.134(f)(8), read",
            room: |loose| loose.rack[1].class = "powered".to_owned(),
            done: |conductor| {
                conductor.never(Act::RestoreMode).finish();
            },
            calls: &["test-1: pass"],
            found: &["use.restore on day: endangers"],
            on: &[(RuleId::UseRestore, [Text, Text], Neither)],
        },
    ]
}

fn facepieces() -> Vec<Row> {
    vec![
        Row {
            what: "straps adjusted before the first exercise, and the seal checked again",
            source: "App. A I.A.14(b), I.A.8, read",
            room: |loose| loose.trouble.push(at_the_initial("adjusts-mask", 3)),
            done: by_the_book,
            calls: &["test-3: pass"],
            found: &[],
            on: &[(RuleId::SealCheckEach, [Text, Text], Neither)],
        },
        Row {
            what: "straps adjusted before the first exercise, and the seal not checked again",
            source: "App. A I.A.14(b), I.A.8, read",
            room: |loose| loose.trouble.push(at_the_initial("adjusts-mask", 3)),
            done: |conductor| {
                conductor.overlook(Seen::AdjustsMask).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["seal_check.each on test-1: spoils", "watch.note on test-1: good"],
            on: &[(RuleId::SealCheckEach, [Text, Text], Neither)],
        },
        Row {
            what: "on for less than five minutes",
            source: "App. A I.A.12, read",
            room: nothing,
            done: |conductor| {
                conductor.until_like(wearing).skip().finish();
            },
            calls: &["test-1: pass"],
            found: &[
                "comfort.five on test-1: departure",
                "screen.clear on test-1: good",
                "wear.five on test-1: departure",
            ],
            on: &[(RuleId::WearFive, [Text, Text], Neither), (RuleId::ComfortFive, [Text, Text], Neither)],
        },
        Row {
            what: "one continuous five minutes for comfort and for the wear before the test",
            source: "App. A I.A.5, I.A.12, read; that one may serve both: ours",
            room: nothing,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::WearFive, [Text, Text], Neither), (RuleId::ComfortFive, [Text, Text], Neither)],
        },
        Row {
            what: "user seal check skipped",
            source: "1910.134(g)(1)(iii), App. A I.A.8, read",
            room: nothing,
            done: |conductor| {
                conductor.never(Act::SealCheck(Method::Both)).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["seal_check.each on test-1: spoils"],
            on: &[(RuleId::SealCheckEach, [Text, Text], Neither)],
        },
        Row {
            what: "tested after a user seal check that failed",
            source: "App. A I.A.8, read",
            room: |loose| loose.rack[1].seal_leaks = true,
            done: |conductor| {
                conductor.overlook(Seen::SealLeaks).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["seal_check.failed on test-1: spoils"],
            on: &[(RuleId::SealCheckFailed, [Text, Text], Neither)],
        },
        Row {
            what: "a user seal check that failed, and another facepiece",
            source: "App. A I.A.8, read",
            room: |loose| loose.rack[1].seal_leaks = true,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "put on once more after a user seal check that failed, then another facepiece",
            source: "ours on App. A I.A.8: no finding",
            room: |loose| loose.rack[1].seal_leaks = true,
            done: |conductor| {
                let check = Act::SealCheck(Method::Both);
                conductor.until(check).acts([check, Act::Doff, Act::Don(Hands::Own), Act::SeatMask, check]).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "gear worn at work known and left off",
            source: "App. A I.A.13, read",
            room: |loose| loose.wearer.gear.push("helmet".to_owned()),
            done: |conductor| {
                conductor.never(Act::GearOn).finish();
            },
            calls: &["test-1: pass [invalid]"],
            found: &["gear.on on test-1: spoils"],
            on: &[(RuleId::GearOn, [Text, Text], FalsePass)],
        },
        Row {
            what: "gear worn at work put on",
            source: "App. A I.A.13, read",
            room: |loose| loose.wearer.gear.push("helmet".to_owned()),
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::GearOn, [Text, Text], FalsePass)],
        },
        Row {
            what: "a facepiece somebody wore, not disinfected",
            source: "1910.134(h)(1)(iv), read",
            room: |loose| loose.rack[1].used = true,
            done: |conductor| {
                conductor.overlook(Seen::FacepieceUsed).finish();
            },
            calls: &["test-1: pass"],
            found: &["facepiece.shared on day: endangers"],
            on: &[(RuleId::FacepieceShared, [Text, Text], Neither)],
        },
        Row {
            what: "a facepiece somebody wore, disinfected first",
            source: "1910.134(h)(1)(iv), read",
            room: |loose| loose.rack[1].used = true,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::FacepieceShared, [Text, Text], Neither)],
        },
        Row {
            what: "a filtering facepiece passed on",
            source: "1910.134(h)(1)(iv), read, does not speak of filtering facepieces",
            room: |loose| {
                loose.rack[1].used = true;
                loose.rack[1].class = "filtering".to_owned();
            },
            done: |conductor| {
                conductor.overlook(Seen::FacepieceUsed).finish();
            },
            calls: &["test-1: pass"],
            found: &["facepiece.passed_on on day: endangers"],
            on: &[(RuleId::FacepiecePassedOn, [Ours, Ours], Neither)],
        },
        Row {
            what: "found unacceptable: another facepiece and the fit test, not screened again",
            source: "App. A I.A.11, I.A.14(b), 1910.134(f)(4), read",
            room: |loose| loose.rack[1].uncomfortable = true,
            done: by_the_book,
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "found unacceptable, and tested and passed all the same",
            source: "App. A I.A.11, I.A.14(b), 1910.134(f)(4), read",
            room: |loose| loose.rack[1].uncomfortable = true,
            done: |conductor| {
                conductor.overlook(Seen::SaysUncomfortable).finish();
            },
            calls: &["test-1: pass"],
            found: &["comfort.other on test-1: departure"],
            on: &[(RuleId::ComfortOther, [Text, Text], Neither)],
        },
        Row {
            what: "refitted while learning, before the test",
            source: "App. A I.A.5, read: novices put it on several times",
            room: nothing,
            done: |conductor| {
                conductor.until(Act::CheckAdequacy).acts([
                    Act::CheckAdequacy,
                    Act::SeatMask,
                    Act::SealCheck(Method::Both),
                ]);
                conductor.acts([Act::Doff, Act::Don(Hands::Own)]).finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[],
        },
        Row {
            what: "taken off after the five minutes, put on again, and tested at once",
            source: "App. A I.A.12, read; that the wear begins anew: ours",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| act == Act::HoodOn && run.state().worn().is_some());
                for act in
                    [Act::Doff, Act::Don(Hands::Own), Act::CheckAdequacy, Act::SeatMask, Act::SealCheck(Method::Both)]
                {
                    conductor.unaware(act);
                }
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &["wear.five on test-1: departure"],
            on: &[(RuleId::WearFive, [Text, Text], Neither)],
        },
        Row {
            what: "taken off after the five minutes, put on again, and worn for five minutes more",
            source: "App. A I.A.12, read; that the comfort period stands: ours",
            room: nothing,
            done: |conductor| {
                conductor.until_like(|run, act| act == Act::HoodOn && run.state().worn().is_some());
                let again =
                    [Act::Doff, Act::Don(Hands::Own), Act::CheckAdequacy, Act::SeatMask, Act::SealCheck(Method::Both)];
                for act in again.into_iter().chain([Act::Wait(Ms::mins(5))]) {
                    conductor.unaware(act);
                }
                conductor.finish();
            },
            calls: &["test-1: pass"],
            found: &[],
            on: &[(RuleId::WearFive, [Text, Text], Neither)],
        },
    ]
}

fn afterwards() -> Vec<Row> {
    vec![
        Row {
            what: "the same facepiece refitted after a fail",
            source: "App. A I.B.3 and I.B.4 (b)(11), read",
            room: leaks,
            done: |conductor| decide(conductor, NextStep::RefitSame),
            calls: &["test-1: fail", "test-2: invalid", "test-3: pass"],
            found: &["next.different on test-1: spoils"],
            on: &[(RuleId::NextDifferent, [Text, Text], FalsePass)],
        },
        Row {
            what: "the same facepiece refitted once after a fail, where the house allows it",
            source: "common practice, a switch of the house",
            room: |loose| {
                leaks(loose);
                loose.house = Some(HouseV1 { one_refit_after_fail: true, jogging_for_bending: false });
            },
            done: |conductor| {
                conductor.until(Act::SetAside).act(Act::Next(NextStep::RefitSame)).finish();
            },
            calls: &["test-1: fail", "test-2: fail", "test-3: pass"],
            found: &[],
            on: &[(RuleId::NextDifferent, [Text, Text], FalsePass)],
        },
        Row {
            what: "the fit test alone repeated after a fail",
            source: "App. A I.B.3 and I.B.4 (b)(11), read",
            room: leaks,
            done: |conductor| decide(conductor, NextStep::TestAgain),
            calls: &["test-1: fail", "test-2: invalid", "test-3: pass"],
            found: &["next.whole on test-1: spoils"],
            on: &[(RuleId::NextWhole, [Text, Text], FalsePass)],
        },
        Row {
            what: "another agent to rescue a fail",
            source: "ours on App. A I.B.3 and I.B.4 (b)(11)",
            room: leaks,
            done: |conductor| decide(conductor, NextStep::OtherAgent),
            calls: &["test-1: fail"],
            found: &["next.agent on test-1: spoils"],
            on: &[(RuleId::NextAgent, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "screening spoilt, seen after the test, and only the test repeated",
            source: "ours on App. A I.B.3 and I.B.4 (a)",
            room: nothing,
            done: |conductor| {
                nozzle_at_the_mouth(conductor);
                conductor.into(Exercise::HeadSide, Ms::secs(10)).acts([Act::Stop, Act::Give(Verdict::Invalid)]);
                decide(conductor, NextStep::TestAgain);
            },
            calls: &["test-1: invalid", "test-2: pass [invalid]"],
            found: &["next.screen on test-1: spoils", "screen.nozzle on screening-1: spoils"],
            on: &[(RuleId::NextScreen, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "screening spoilt, seen in the test: screening and all after it again, same facepiece",
            source: "ours on App. A I.B.3 and I.B.4 (a)",
            room: nothing,
            done: |conductor| {
                nozzle_at_the_mouth(conductor);
                conductor.into(Exercise::HeadSide, Ms::secs(10)).see().finish();
            },
            calls: &["test-1: invalid", "test-2: pass"],
            found: &["(screen.nozzle on screening-1: departure)"],
            on: &[(RuleId::NextScreen, [Ours, Ours], FalsePass)],
        },
    ]
}

fn precedence() -> Vec<Row> {
    vec![
        Row {
            what: "a replenishment missed, then a taste: the fail stands",
            source: "ours: a defect may void a pass and never rescues a taste",
            room: leaks,
            done: |conductor| {
                conductor
                    .until_like(|run, act| replenishment(run, act, Exercise::DeepBreathing))
                    .miss_squeezes(5)
                    .finish();
            },
            calls: &["test-1: fail", "test-2: pass"],
            found: &["fit.top_up on test-1: departure"],
            on: &[(RuleId::FitTopUp, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "a replenishment missed, then a taste, and called invalid",
            source: "ours: a defect may void a pass and never rescues a taste",
            room: leaks,
            done: |conductor| {
                conductor.until_like(|run, act| replenishment(run, act, Exercise::DeepBreathing)).miss_squeezes(5);
                conductor.until(Act::Give(Verdict::Fail)).act(Act::Give(Verdict::Invalid)).finish();
            },
            calls: &["test-1: invalid [fail]", "test-2: invalid", "test-3: pass"],
            found: &["(fit.top_up on test-1: departure)", "watch.taste on test-1: spoils"],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "screening spoilt, then a taste, and called a fail",
            source: "ours: a taste that is itself suspect",
            room: leaks,
            done: |conductor| {
                nozzle_at_the_mouth(conductor);
                conductor.finish();
            },
            calls: &["test-1: fail [invalid]", "test-2: pass"],
            found: &["screen.nozzle on screening-1: spoils", "watch.suspect on test-1: departure"],
            on: &[(RuleId::WatchSuspect, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "a taste before the first squeeze of the test: cleaned up and started over",
            source: "ours: a taste that is itself suspect",
            room: |loose| loose.trouble.push(at_the_initial("tastes-before", 0)),
            done: by_the_book,
            calls: &["test-1: invalid", "test-2: pass"],
            found: &[],
            on: &[(RuleId::WatchSuspect, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "a taste before the first squeeze of the test, and called a fail",
            source: "ours: a taste that is itself suspect",
            room: |loose| loose.trouble.push(at_the_initial("tastes-before", 0)),
            done: |conductor| {
                conductor.until(Act::Give(Verdict::Invalid)).act(Act::Give(Verdict::Fail)).finish();
            },
            calls: &["test-1: fail [invalid]", "test-2: pass"],
            found: &["watch.suspect on test-1: departure"],
            on: &[(RuleId::WatchSuspect, [Ours, Ours], FalseFail)],
        },
        Row {
            what: "touched, then a taste: called a fail",
            source: "ours: no pass, either call accepted",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("touches-mask", Exercise::HeadSide, 10));
            },
            done: |conductor| {
                conductor.overlook(Seen::TouchesMask).finish();
            },
            calls: &["test-1: fail [fail, invalid]", "test-2: pass"],
            found: &["watch.note on test-1: good"],
            on: &[(RuleId::FitTouched, [Ours, Ours], Neither)],
        },
        Row {
            what: "touched, then a taste: called invalid, and what follows a fail follows",
            source: "ours: no pass, either call accepted, next step as after a fail",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("touches-mask", Exercise::HeadSide, 10));
            },
            done: |conductor| {
                conductor.overlook(Seen::TouchesMask).until(Act::Give(Verdict::Fail)).act(Act::Give(Verdict::Invalid));
                decide(conductor, NextStep::OtherFacepiece);
            },
            calls: &["test-1: invalid [fail, invalid]", "test-2: pass"],
            found: &["watch.note on test-1: good"],
            on: &[(RuleId::FitTouched, [Ours, Ours], Neither)],
        },
        Row {
            what: "touched, then a taste: called invalid, and the fit test alone repeated",
            source: "ours: no pass, either call accepted, next step as after a fail",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("touches-mask", Exercise::HeadSide, 10));
            },
            done: |conductor| {
                conductor.overlook(Seen::TouchesMask).until(Act::Give(Verdict::Fail)).act(Act::Give(Verdict::Invalid));
                decide(conductor, NextStep::TestAgain);
            },
            calls: &["test-1: invalid [fail, invalid]", "test-2: invalid", "test-3: pass"],
            found: &["next.whole on test-2: spoils", "watch.note on test-1: good"],
            on: &[(RuleId::FitTouched, [Ours, Ours], Neither)],
        },
        Row {
            what: "a taste, then the hood off: fail",
            source: "ours: a taste stands",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("takes-hood-off", Exercise::NormalAgain, 20));
            },
            done: |conductor| {
                conductor.overlook(Seen::SignalsTaste).into(Exercise::NormalAgain, Ms::secs(20)).see().finish();
            },
            calls: &["test-1: fail", "test-2: pass"],
            found: &["watch.note on test-1: good"],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
        Row {
            what: "a taste, then the hood off, and called invalid",
            source: "ours: a taste stands",
            room: |loose| {
                leaks(loose);
                loose.trouble.push(during("takes-hood-off", Exercise::NormalAgain, 20));
            },
            done: |conductor| {
                conductor
                    .overlook(Seen::SignalsTaste)
                    .until(Act::Give(Verdict::Invalid))
                    .act(Act::Give(Verdict::Invalid));
                conductor.see().finish();
            },
            calls: &["test-1: invalid [fail]", "test-2: invalid", "test-3: pass"],
            found: &["watch.note on test-1: good", "watch.taste on test-1: spoils"],
            on: &[(RuleId::WatchTaste, [Text, Text], FalsePass)],
        },
    ]
}

/// What is ruled otherwise for one agent than for the other.
fn one_agents_own() -> Vec<(Agent, Row)> {
    fn no_look(conductor: &mut Conductor) {
        conductor.until_like(looking_at_the_end).skip().finish();
    }
    fn unasked(conductor: &mut Conductor) {
        conductor.never(Act::AskMouth).finish();
    }
    let rows = [
        Row {
            what: "sweet: nobody looked whether the nebulizer had clogged, and it had not",
            source: "App. A I.B.3(b)(12), read",
            room: nothing,
            done: no_look,
            calls: &["test-1: pass [pass, invalid]"],
            found: &["neb.clog_look on test-1: departure"],
            on: &[(RuleId::NebClogLook, [Text, Ours], FalsePass)],
        },
        Row {
            what: "bitter: nobody looked whether the nebulizer had clogged, and it had not",
            source: "ours on App. A I.B.4(b)(7), (b)(9), I.B.1: no such sentence",
            room: nothing,
            done: no_look,
            calls: &["test-1: pass"],
            found: &["neb.clog_look on test-1: good"],
            on: &[(RuleId::NebClogLook, [Text, Ours], FalsePass)],
        },
        Row {
            what: "sweet: something sweet too shortly before screening, not before the test",
            source: "App. A I.B.3(a), note, read: that the taste may be missed; that it is screened again: ours",
            room: |loose| by_mouth(loose, "sweets", 10),
            done: unasked,
            calls: &["test-1: pass [invalid]"],
            found: &["mouth.ask on day: departure", "mouth.sweet on screening-1: spoils"],
            on: &[(RuleId::MouthSweet, [Ours, Ours], FalsePass)],
        },
        Row {
            what: "bitter: something sweet too shortly before screening, not before the test",
            source: "ours on App. A I.B.4(b)(1): no such note",
            room: |loose| by_mouth(loose, "sweets", 10),
            done: unasked,
            calls: &["test-1: pass [pass, invalid]"],
            found: &["mouth.ask on day: departure", "mouth.screening on screening-1: departure"],
            on: &[(RuleId::MouthScreening, [Ours, Ours], FalsePass)],
        },
    ];
    [Agent::Sweet, Agent::Bitter, Agent::Sweet, Agent::Bitter].into_iter().zip(rows).collect()
}

/// The run of a row.
fn run_of(row: &Row, agent: Agent) -> Run {
    let mut conductor = Conductor::new(&plain(agent, row.room));
    (row.done)(&mut conductor);
    conductor.run
}

/// What the review makes of a row, its run replayed from its acts, where that is not what the row says.
fn differences(row: &Row, agent: Agent) -> Vec<String> {
    let run = run_of(row, agent);
    let acts: Vec<(Ms, Act)> = run.acts().collect();
    let again = Run::replay(run.scenario().clone(), &acts).expect("what was done can be done again");
    assert_eq!(again.log(), run.log(), "{}, {agent:?}", row.what);
    let review = review(run.scenario(), again.log());
    let mut differences = Vec::new();
    let mut unless = |same: bool, what: String| {
        if !same {
            differences.push(format!("{} ({}), {agent:?}: {what}", row.what, row.source));
        }
    };
    unless(calls(&review) == row.calls, format!("{:?}, not {:?}", calls(&review), row.calls));
    unless(findings(&review) == row.found, format!("{:?}, not {:?}", findings(&review), row.found));
    for (rule, basis, push) in row.on {
        let code = rule.code();
        unless(review.marks.iter().any(|mark| mark.rule == *rule), format!("{code} did not come up"));
        let known = Rulebook::us(agent).rule(*rule).expect("a rule of this agent");
        let wanted = (basis[usize::from(agent == Agent::Bitter)], *push);
        unless(
            (known.basis, known.push) == wanted,
            format!("{code} is {:?}, {:?}, not {wanted:?}", known.basis, known.push),
        );
    }
    differences
}

#[test]
fn every_ruling_is_as_published_or_as_we_read_it() {
    let (rows, own) = (rows(), one_agents_own());
    let both = rows.iter().flat_map(|row| Agent::ALL.iter().map(move |agent| (*agent, row)));
    let all: Vec<(Agent, &Row)> = both.chain(own.iter().map(|(agent, row)| (*agent, row))).collect();
    let wrong: Vec<String> = all.iter().flat_map(|(agent, row)| differences(row, *agent)).collect();
    assert!(wrong.is_empty(), "{} of {} runs:\n{}", wrong.len(), all.len(), wrong.join("\n"));
    assert!(all.len() > 250, "{} runs", all.len());
}

/// Each row stands once, and each result of a run is ruled on by a call that is right and by one that is not.
#[test]
fn the_rows_differ_and_show_both_right_and_wrong_calls() {
    let rows = rows();
    let mut names: Vec<&str> = rows.iter().map(|row| row.what).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), rows.len());
    for verdict in ["pass", "fail", "invalid"] {
        let given = |row: &&Row| row.calls.iter().any(|call| call.contains(&format!(": {verdict}")));
        let is_right = |row: &Row| row.calls.iter().all(|call| !call.contains('['));
        let right = rows.iter().filter(given).filter(|row| is_right(row)).count();
        let wrong = rows.iter().filter(given).filter(|row| !is_right(row)).count();
        assert!(right > 0 && wrong > 0, "{verdict}: {right} right, {wrong} wrong");
    }
}

/// Letter 1999-08-27 (read), on App. A I.B.3(a)(7); bitter: App. A I.B.4(a)(7), read: a taste before the tenth squeeze is ten,
/// and the test is begun with ten. The total is derived.
#[test]
fn a_taste_before_ten_squeezes_is_ten_and_ten_is_used() {
    for agent in Agent::ALL.iter().copied() {
        for squeeze in 1..=9 {
            let run = Conductor::by_the_book(&plain(agent, |loose| {
                loose.wearer.tastes_after = Some(squeeze);
                // So tight that the keenest taster notices nothing.
                loose.rack.iter_mut().for_each(|piece| piece.fit = FitV1::One(100_000));
            }));
            let [screening] = run.state().screenings.as_slice() else { panic!("one screening") };
            assert!(screening.tasted_after().is_some_and(|after| after <= 10), "{agent:?} {squeeze}");
            assert_eq!(screening.threshold(), Some(Threshold::Ten));
            let [test] = run.state().tests.as_slice() else { panic!("one test") };
            let begun = test.begun().expect("exercises");
            assert_eq!(test.common.squeezes.iter().filter(|squeeze| squeeze.at < begun).count(), 10);
            assert_eq!(test.common.squeezes.len(), 75);
            assert_eq!(calls(&review(run.scenario(), run.log())), ["test-1: pass"]);
        }
    }
}

/// Letter 2015-03-18 (read): whoever takes the hood off and wants to go on starts over; in whichever exercise it came off, a
/// test gone on with is no pass.
#[test]
fn a_test_is_not_resumed_after_the_hood_came_off() {
    for agent in Agent::ALL.iter().copied() {
        for exercise in Exercise::SEVEN {
            let scenario = plain(agent, |loose| {
                loose.trouble.push(during("takes-hood-off", exercise, 20));
            });
            let mut conductor = Conductor::new(&scenario);
            conductor.overlook(Seen::TakesHoodOff).into(exercise, Ms::secs(20)).unaware(Act::HoodOn);
            // What was cut short is begun again where it stopped.
            conductor.unaware(Act::Begin(exercise)).finish();
            let review = conductor.review();
            let found = findings(&review);
            let wanted = if exercise == Exercise::NormalBreathing {
                // Begun again from the first one it is a new start, which lacks what was sprayed before the hood came off.
                "fit.minimum on test-2: spoils"
            } else {
                "fit.resumed on test-1: spoils"
            };
            assert!(found.iter().any(|finding| finding == wanted), "{agent:?} {exercise:?}: {found:?}");
            let passed: Vec<_> = review.calls.iter().filter(|call| call.given == Verdict::Pass).collect();
            assert!(
                !passed.is_empty() && passed.iter().all(|call| call.accepted == [Verdict::Invalid]),
                "{agent:?} {exercise:?}"
            );
        }
    }
}
