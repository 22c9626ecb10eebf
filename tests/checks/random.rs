//! Random scenarios, conductors and damage, for the laws.

use crate::driver::{Conductor, built_in, changed};
use bittersweet_core::{
    act::Act,
    run::Run,
    scenario::Scenario,
    scenarios::BUILT_IN,
    trouble::{Kind, Moment},
    units::Ms,
    wire::scenario_v1::TroubleV1,
};
use proptest::{prelude::*, sample::Index, test_runner::Config};
use std::rc::Rc;

/// So many in each run, and so many where everything is asked for.
pub(crate) fn either(in_each_run: u32, in_all: u32) -> u32 {
    if std::env::var_os("BITTERSWEET_ALL").is_some_and(|all| all == "1") { in_all } else { in_each_run }
}

/// Ten times as many where everything is asked for.
pub(crate) fn tenfold(count: u32) -> u32 {
    either(count, count.saturating_mul(10))
}

/// So many cases, and no file of old failures.
pub(crate) fn config(cases: u32) -> Config {
    Config { cases: tenfold(cases), failure_persistence: None, ..Config::default() }
}

/// What a random conductor does next.
#[derive(Clone, Debug)]
pub(crate) enum Move {
    /// The next act of the book.
    Book,
    /// Leaves the next act of the book out, and takes it for done.
    Skip,
    /// Any act at all, so much later.
    Any(Index, Ms),
    /// The next act of the book, so much later than it was due.
    Late(Ms),
    /// The next act of the book, so much before it was due.
    Early(Ms),
    /// Nothing, for so long.
    Idle(Ms),
}

fn moment() -> impl Strategy<Value = Ms> {
    prop_oneof![6 => 0..3_000_u32, 2 => 3_000..40_000_u32, 1 => 40_000..400_000_u32].prop_map(Ms)
}

/// A move off the book.
pub(crate) fn deviation() -> impl Strategy<Value = Move> {
    prop_oneof![
        3 => Just(Move::Skip),
        4 => (any::<Index>(), moment()).prop_map(|(which, after)| Move::Any(which, after)),
        2 => moment().prop_map(Move::Late),
        1 => moment().prop_map(Move::Early),
        1 => moment().prop_map(Move::Idle),
    ]
}

/// A conductor who keeps to the book in most things, or in few.
pub(crate) fn moves() -> impl Strategy<Value = Vec<Move>> {
    let by_weight = |book: u32| prop::collection::vec(prop_oneof![book => Just(Move::Book), 2 => deviation()], 0..250);
    prop_oneof![by_weight(1), by_weight(20), by_weight(100)]
}

/// By the book, apart from one to three moves.
pub(crate) fn nearly_by_the_book() -> impl Strategy<Value = Vec<(usize, Move)>> {
    prop::collection::vec((0..220_usize, deviation()), 1..=3)
}

/// A built-in scenario with a few things changed.
pub(crate) fn scenario() -> impl Strategy<Value = Rc<Scenario>> {
    (any::<Index>(), prop::collection::vec((0..40_u8, any::<Index>()), 0..5)).prop_map(|(which, changes)| {
        let (id, _) = which.get(BUILT_IN);
        changed(&built_in(id), |loose| {
            for (what, how) in changes {
                change(loose, what, how);
            }
        })
    })
}

fn change(loose: &mut bittersweet_core::wire::scenario_v1::ScenarioV1, what: u8, how: Index) {
    let pick = |codes: &[&str]| (*how.get(codes)).to_owned();
    let piece = how.index(loose.rack.len());
    let exercise = pick(&["normal-breathing", "deep-breathing", "head-side", "talking", "bending", "normal-again"]);
    match what {
        0 => loose.wearer.clearance = pick(&["cleared", "none", "powered-only", "questionnaire"]),
        1 => loose.wearer.face = pick(&["clear", "moustache", "stubble", "beard", "temple-bar", "covering"]),
        2 => loose.wearer.well = false,
        3 => loose.wearer.tastes_after = [None, Some(1), Some(4), Some(11), Some(19), Some(30)][how.index(6)],
        4 => loose.wearer.at_work = Some(u8::try_from(piece + 1).expect("a short rack")),
        5 => loose.exposure_times = [1, 10, 11, 60][how.index(4)],
        6 => loose.rack[piece].condition = Some(pick(&["valve-missing", "filter-askew", "strap-cracked"])),
        7 => loose.rack[piece].seal_leaks = true,
        8 => loose.rack[piece].uncomfortable = true,
        9 => loose.rack[piece].used = true,
        10 => loose.rack[piece].gas_only = true,
        11 => loose.rack[piece].straps = Some(pick(&["twisted", "tight", "nosepiece-flat"])),
        12 => loose.rack[piece].class = pick(&["half", "filtering", "full", "powered", "supplied"]),
        13 => loose.bench.hood_damp = true,
        14 => loose.bench.fit.low = true,
        15 => loose.bench.check.low = true,
        16 => loose.bench.fit.clogged = true,
        17 => loose.bench.check.holds = Some(pick(&["fit", "other-agent"])),
        18 => loose.bench.fit.holds = Some(pick(&["check", "other-agent"])),
        19 => loose.bench.fit.bottle_undated = true,
        20 => {
            loose.house = Some(bittersweet_core::wire::scenario_v1::HouseV1 {
                one_refit_after_fail: true,
                jogging_for_bending: how.index(2) == 0,
            });
        }
        21 => loose.agent = pick(&["sweet", "bitter"]),
        _ => {
            let planted: Vec<Kind> = Kind::ALL
                .iter()
                .copied()
                .filter(|kind| !kind.entry().arises.iter().all(|when| matches!(when, Moment::Found | Moment::Doing)))
                .collect();
            let kind = *how.get(&planted);
            let moments = kind.entry().arises;
            let blank = TroubleV1 { kind: kind.code().to_owned(), ..TroubleV1::default() };
            loose.trouble.push(match moments[usize::from(what) % moments.len()] {
                Moment::Screening => TroubleV1 { screening: Some(what % 12), ..blank },
                Moment::Initial => TroubleV1 { initial: Some(what % 12), ..blank },
                Moment::Start => TroubleV1 { start_s: Some(u16::from(what)), ..blank },
                Moment::Result => TroubleV1 { after_result: true, ..blank },
                Moment::Exercise => TroubleV1 { during: Some(exercise), after_s: u16::from(what) * 2 % 55, ..blank },
                Moment::Throughout | Moment::Found | Moment::Doing => blank,
            });
        }
    }
}

/// What a move came to: the act tried, and whether it could be.
pub(crate) struct Tried {
    pub(crate) act: Act,
    pub(crate) done: bool,
}

/// Makes a move. The conductor believes what was skipped to be done.
pub(crate) fn make(conductor: &mut Conductor, wanted: &Move) -> Option<Tried> {
    let tried = |conductor: &mut Conductor, act: Act, after: Ms| {
        let done = conductor.try_act(act, after).is_ok();
        Some(Tried { act, done })
    };
    match wanted {
        Move::Idle(length) => {
            conductor.wait(*length);
            None
        }
        Move::Any(which, after) => tried(conductor, *which.get(&Act::all()), *after),
        Move::Skip => {
            conductor.next()?;
            conductor.skip();
            None
        }
        Move::Book | Move::Late(_) | Move::Early(_) => {
            let step = conductor.next()?;
            let beat = if step.act == Act::Squeeze { Ms(700) } else { Ms(1_200) };
            let due = conductor.due(step).max(conductor.run.now().plus(beat)).since(conductor.run.now());
            let after = match wanted {
                Move::Late(by) => due.plus(*by),
                Move::Early(by) => due.since(*by),
                Move::Book | Move::Skip | Move::Any(..) | Move::Idle(_) => due,
            };
            tried(conductor, step.act, after)
        }
    }
}

/// The run that these moves make.
pub(crate) fn run_of(scenario: &Rc<Scenario>, moves: &[Move]) -> Run {
    let mut conductor = Conductor::new(scenario);
    for wanted in moves {
        make(&mut conductor, wanted);
    }
    conductor.run
}

/// A run by the book apart from a few moves, to its end; `None` where it does not come to one.
pub(crate) fn run_nearly_by_the_book(scenario: &Rc<Scenario>, off: &[(usize, Move)]) -> Option<Run> {
    let mut conductor = Conductor::new(scenario);
    for number in 0..crate::driver::MOST_ACTS {
        for (_, wanted) in off.iter().filter(|(at, _)| *at == number) {
            make(&mut conductor, wanted);
        }
        if conductor.next().is_none() {
            return Some(conductor.run);
        }
        // Whoever has skipped something may find the next thing impossible: then they see how things stand.
        if make(&mut conductor, &Move::Book).is_some_and(|tried| !tried.done) {
            conductor.see();
        }
    }
    None
}
