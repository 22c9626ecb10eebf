//! Runs of a colleague, to be watched: how each was made, what is found in it, and how marks are laid beside it.
//!
//! The acts stand in the scenario's file; `UPDATE=1` makes them anew from the recipe here.

use crate::{
    cases,
    driver::{Conductor, built_in, calls, findings},
};
use bittersweet_core::{
    act::{Act, Company, Exercise, Field, Fields, Manner, Method, NextStep},
    observe::{Beside, Compared, Mark, Named, Slip, compare},
    review::review,
    run::Run,
    scenarios::BUILT_IN,
    sign::{Seen, Sign},
    units::Ms,
    wire::{
        Code,
        run_v1::ActV1,
        scenario_v1::{self, ScenarioV1},
    },
};
use proptest::prelude::*;
use std::{env, fs, path::PathBuf, rc::Rc};

/// A colleague's run.
struct Watched {
    id: &'static str,
    /// How the colleague goes about it.
    recipe: fn(&mut Conductor),
    /// What is found in it.
    findings: &'static [&'static str],
    /// The results given, with those that would have been right.
    calls: &'static [&'static str],
}

const WATCHED: &[Watched] = &[
    Watched { id: "watch-brickworks", recipe: by_the_book, findings: &[], calls: &["test-1: pass"] },
    Watched {
        id: "watch-joinery",
        recipe: distracted,
        findings: &["fit.top_up on test-1: spoils", "fit.touched on test-1: spoils"],
        calls: &["test-1: pass [invalid]"],
    },
    Watched {
        id: "watch-plating-shop",
        recipe: obliging,
        findings: &["ask.leading on screening-1: departure", "screen.class on screening-1: spoils"],
        calls: &["test-1: pass [invalid]"],
    },
    Watched {
        id: "watch-dairy",
        recipe: in_a_hurry,
        findings: &[
            "comfort.five on test-1: departure",
            "next.agent on test-1: spoils",
            "seal_check.each on test-1: departure",
            "wear.five on test-1: departure",
        ],
        calls: &["test-1: fail"],
    },
    Watched {
        id: "watch-shipyard",
        recipe: puts_it_right,
        findings: &[
            "(fit.minimum on test-1: departure)",
            "record.health on day: departure",
            "result.tell on test-2: good",
        ],
        calls: &["test-1: invalid", "test-2: pass"],
    },
];

fn by_the_book(conductor: &mut Conductor) {
    conductor.finish();
}

/// Does not replenish once, and overlooks a finger at the mask.
fn distracted(conductor: &mut Conductor) {
    conductor.overlook(Seen::TouchesMask);
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().exercise() == Some(Exercise::Talking));
    conductor.miss_squeezes(5).finish();
}

/// Suggests the taste, gets a yes, and notes ten for somebody who has tasted nothing yet.
fn obliging(conductor: &mut Conductor) {
    conductor.until(Act::Ask(Manner::Neutral)).act(Act::Ask(Manner::TowardsYes));
    conductor.believe(Sign::Seen(Seen::SaysTaste)).finish();
}

/// After the second donning no seal check and two minutes for five; after a fail the other agent.
fn in_a_hurry(conductor: &mut Conductor) {
    conductor.until_like(|run, act| run.state().donnings.len() > 1 && act == Act::SealCheck(Method::Both)).skip();
    conductor.until_like(|_, act| matches!(act, Act::Wait(_)));
    let Some(Act::Wait(five)) = conductor.next().map(|step| step.act) else { panic!("a wait") };
    let two = Ms::mins(2);
    conductor.unaware(Act::Wait(two)).pretend(Act::Wait(five.since(two)));
    conductor.until(Act::Next(NextStep::OtherFacepiece));
    conductor.mistake(Act::Next(NextStep::AnotherDay), Act::Next(NextStep::OtherAgent)).finish();
}

/// Too few squeezes to begin with, but sees it and starts over; then tells the result aloud, and puts health in the record.
fn puts_it_right(conductor: &mut Conductor) {
    conductor.until_like(|run, act| act == Act::Squeeze && run.state().worn().is_some()).squeezes(7);
    conductor.skip().skip().skip().into(Exercise::NormalBreathing, Ms::secs(20)).see();
    let (aside, aloud) = (Act::TellResult(Company::Private), Act::TellResult(Company::Public));
    conductor.until(aside).mistake(aside, aloud);
    let whole = Act::Record(Fields::FIVE);
    conductor.until(whole).mistake(whole, Act::Record(Fields::FIVE.toggled(Field::Health)));
    conductor.finish();
}

impl Watched {
    fn file(&self) -> PathBuf {
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../core/data/scenarios").join(format!("{}.json", self.id))
    }

    fn loose(&self) -> ScenarioV1 {
        let (_, text) = BUILT_IN.iter().find(|(id, _)| *id == self.id).expect("a built-in scenario");
        serde_json::from_str(text).expect("a scenario file")
    }

    /// The run that the recipe makes.
    fn made(&self) -> Run {
        let alone = scenario_v1::check(&ScenarioV1 { colleague: None, ..self.loose() });
        let mut conductor = Conductor::unhurried(&Rc::new(alone.unwrap_or_else(|faults| panic!("{faults}"))));
        (self.recipe)(&mut conductor);
        conductor.run
    }
}

/// The file with these acts, one a line: what is written by hand stays as it is.
fn with_acts(text: &str, acts: &[ActV1]) -> String {
    let head = match text.split_once(",\n  \"colleague\"") {
        Some((head, _)) => head,
        None => text.trim_end().strip_suffix("\n}").expect("a scenario file ends with its brace"),
    };
    let acts: Vec<String> = acts.iter().map(|act| serde_json::to_string(act).expect("an act is JSON")).collect();
    format!("{head},\n  \"colleague\": {{\n    \"acts\": [\n      {}\n    ]\n  }}\n}}\n", acts.join(",\n      "))
}

#[test]
fn every_colleague_did_what_the_recipe_makes() {
    for watched in WATCHED {
        let text = fs::read_to_string(watched.file()).expect("a scenario file");
        let made = with_acts(&text, &watched.made().acts().map(ActV1::from).collect::<Vec<_>>());
        if env::var_os("UPDATE").is_some() {
            fs::write(watched.file(), made).expect("the folder is there");
        } else {
            assert!(made == text, "{}: the recipe makes another run; UPDATE=1 writes it", watched.id);
        }
    }
}

#[test]
fn what_is_found_in_each_is_what_it_was_made_for() {
    for watched in WATCHED {
        let run = watched.made();
        let review = review(run.scenario(), run.log());
        assert_eq!(findings(&review), watched.findings, "{}", watched.id);
        assert_eq!(calls(&review), watched.calls, "{}", watched.id);
        assert!(review.finished, "{}", watched.id);
    }
}

#[test]
fn every_built_in_colleague_has_a_recipe() {
    let with_one: Vec<&str> =
        BUILT_IN.iter().map(|(id, _)| *id).filter(|id| built_in(id).colleague.is_some()).collect();
    assert_eq!(with_one, WATCHED.iter().map(|watched| watched.id).collect::<Vec<_>>());
}

/// The first colleague's file with one thing changed is refused, and where and why is said.
#[test]
fn what_is_wrong_with_a_colleague_is_said_with_its_place() {
    let (_, text) = BUILT_IN.iter().find(|(id, _)| *id == "watch-joinery").expect("a built-in scenario");
    scenario_v1::parse(text).unwrap_or_else(|faults| panic!("{faults}"));
    let (head, _) = text.split_once("\"acts\": [").expect("the acts");
    let no_acts = format!("{head}\"acts\": []}}}}");
    let many = format!(
        "{head}\"acts\": [{}{{\"at\":0,\"act\":\"ask-mouth\"}}]}}}}",
        "{\"at\":0,\"act\":\"ask-mouth\"},".repeat(5_000)
    );
    let rows = [
        (
            text.replacen("\"act\":\"ask-clearance\"", "\"act\":\"dance\"", 1),
            Code::UnknownCode,
            "colleague.acts[0].act",
        ),
        (text.replacen("\"at\":3000", "\"at\":9999999", 1), Code::TimeRunsBack, "colleague.acts[1].at"),
        (text.replacen("\"act\":\"ask-clearance\"", "\"act\":\"hood-off\"", 1), Code::Impossible, "colleague.acts[0]"),
        (no_acts, Code::Empty, "colleague.acts"),
        (many, Code::TooMany, "colleague.acts"),
        (text.replacen("\"acts\": [", "\"tools\": [], \"acts\": [", 1), Code::WrongShape, "line"),
    ];
    for (text, code, place) in rows {
        let faults = scenario_v1::parse(&text).expect_err(place);
        let said = faults.list().iter().any(|fault| fault.code == code && fault.path.starts_with(place));
        assert!(said, "expected {code:?} at {place:?}, got: {faults}");
    }
}

#[test]
fn a_scenario_without_a_colleague_is_written_without_one() {
    for (id, text) in BUILT_IN {
        let scenario = scenario_v1::parse(text).unwrap_or_else(|faults| panic!("{id}: {faults}"));
        let written = serde_json::to_string(&scenario_v1::loose(&scenario)).expect("a scenario is JSON");
        assert_eq!(written.contains("colleague"), scenario.colleague.is_some(), "{id}");
        assert_eq!(scenario_v1::parse(&written).as_ref(), Ok(&scenario), "{id}");
    }
}

/// Every run to compare marks with: the built-in ones, and one that breaks each rule, for both agents.
fn runs() -> Vec<Run> {
    let broken = cases::all().flat_map(|case| case.conductors()).map(|conductor| conductor.run);
    WATCHED.iter().map(Watched::made).chain(broken).collect()
}

fn compared(run: &Run, marks: &[Mark]) -> Compared {
    compare(run, &review(run.scenario(), run.log()), marks)
}

/// A mark on each thing that was to be found, by its name.
fn all_marks(run: &Run) -> Vec<Mark> {
    compared(run, &[]).asked.iter().map(|asked| Mark { at: asked.at(), slip: asked.slip }).collect()
}

#[test]
fn who_marks_nothing_finds_nothing() {
    for run in runs() {
        let nothing = compared(&run, &[]);
        assert_eq!((nothing.found().count(), nothing.beside.len()), (0, 0));
        assert_eq!(nothing.missed().count(), nothing.asked.len());
    }
}

#[test]
fn who_marks_everything_by_its_name_finds_everything() {
    for run in runs() {
        let all = compared(&run, &all_marks(&run));
        assert_eq!(all.missed().count(), 0, "{:?}", all.missed().collect::<Vec<_>>());
        assert!(all.found().all(|(_, found)| found.named == Named::Rightly));
        assert_eq!(all.beside, []);
    }
}

#[test]
fn each_is_found_once_and_a_second_mark_on_it_is_no_fault() {
    for run in runs() {
        let marks = all_marks(&run);
        let twice = compared(&run, &[marks.clone(), marks.clone()].concat());
        assert_eq!(twice.found().count(), marks.len());
        assert!(twice.beside.iter().all(|(_, beside)| *beside == Beside::Again), "{:?}", twice.beside);
    }
}

#[test]
fn everything_off_the_procedure_is_to_be_found_and_good_practice_is_not() {
    for run in runs() {
        let review = review(run.scenario(), run.log());
        let is_good =
            |finding: &&bittersweet_core::review::Finding| finding.gravity == bittersweet_core::source::Gravity::Good;
        let asked: usize = compared(&run, &[]).asked.iter().map(|asked| asked.findings.len()).sum();
        assert_eq!(asked, review.findings.iter().filter(|finding| !is_good(finding)).count());
        for finding in review.findings.iter().filter(is_good) {
            let marked = compared(&run, &[Mark { at: finding.times[0], slip: Slip::of(finding.rule) }]);
            let fair = marked.beside.iter().all(|(_, beside)| matches!(beside, Beside::GoodPractice(_)));
            assert!(fair, "{:?}", marked.beside);
        }
        for finding in &review.put_right {
            let marked = compared(&run, &[Mark { at: finding.times[0], slip: Slip::of(finding.rule) }]);
            let fair = marked.beside.iter().all(|(_, beside)| matches!(beside, Beside::PutRight(_)));
            assert!(fair, "{:?}", marked.beside);
        }
    }
}

/// What becomes of one mark on a built-in case, in short.
fn fate(id: &str, at: &str, slip: Slip) -> String {
    let watched = WATCHED.iter().find(|watched| watched.id == id).expect("a colleague's run");
    let (minutes, seconds) = at.split_once(':').expect("minutes and seconds");
    let at = Ms::mins(minutes.parse().expect("minutes")).plus(Ms::secs(seconds.parse().expect("seconds")));
    let compared = compared(&watched.made(), &[Mark { at, slip }]);
    let found = compared.found().map(|(asked, found)| format!("{}: {:?}", asked.slip.code(), found.named));
    let beside = compared.beside.iter().map(|(_, beside)| match beside {
        Beside::GoodPractice(finding) => format!("good practice: {}", finding.rule.code()),
        Beside::PutRight(finding) => format!("put right: {}", finding.rule.code()),
        Beside::Harmless(seen) => format!("harmless: {}", seen.code()),
        Beside::Kept(rule) => format!("kept: {}", rule.code()),
        Beside::Again | Beside::Nothing => format!("{beside:?}"),
    });
    found.chain(beside).collect::<Vec<_>>().join("; ")
}

#[test]
fn a_mark_is_told_what_became_of_it() {
    let rows = [
        // At the moment, and late in the test that it spoils.
        ("watch-joinery", "10:55", Slip::MaskMoved, "mask-moved: Rightly"),
        ("watch-joinery", "14:40", Slip::MaskMoved, "mask-moved: Rightly"),
        // When the set was due, before it was lost.
        ("watch-joinery", "11:58", Slip::Replenishing, "replenishing: Rightly"),
        // By another name of the skill, and by the wrong result that came of it.
        ("watch-joinery", "12:20", Slip::Minute, "replenishing: Nearly"),
        ("watch-joinery", "14:48", Slip::Result, "replenishing: Nearly"),
        ("watch-plating-shop", "1:20", Slip::Threshold, "threshold: Rightly"),
        ("watch-plating-shop", "14:00", Slip::Threshold, "threshold: Rightly"),
        ("watch-plating-shop", "1:15", Slip::Tongue, "leading: Nearly"),
        // Not noted, because not seen: of one root.
        ("watch-joinery", "10:57", Slip::NotNoted, "mask-moved: Nearly"),
        // Missing once the hood is on, though there is still time until the first exercise; not when it could still come.
        ("watch-dairy", "9:45", Slip::SealCheck, "seal-check: Rightly"),
        ("watch-dairy", "7:24", Slip::SealCheck, "Nothing"),
        ("watch-dairy", "9:36", Slip::FiveMinutes, "five-minutes: Rightly"),
        ("watch-dairy", "12:33", Slip::NextStep, "next-step: Rightly"),
        // Too soon, too late, and out of nothing.
        ("watch-joinery", "9:00", Slip::MaskMoved, "Nothing"),
        ("watch-joinery", "2:00", Slip::Exercises, "Nothing"),
        // What mattered not, and what was done as it should be.
        ("watch-brickworks", "9:14", Slip::Distress, "harmless: coughs"),
        ("watch-joinery", "7:50", Slip::MaskMoved, "harmless: coughs"),
        ("watch-brickworks", "1:15", Slip::Leading, "kept: ask.leading"),
        // What was put right, and good practice.
        ("watch-shipyard", "7:26", Slip::InitialSqueezes, "put right: fit.minimum"),
        ("watch-shipyard", "18:48", Slip::Telling, "good practice: result.tell"),
    ];
    for (id, at, slip, became) in rows {
        assert_eq!(fate(id, at, slip), became, "{id} {at} {}", slip.code());
    }
}

proptest! {
    #[test]
    fn marks_anywhere_are_each_accounted_for(
        which in 0..WATCHED.len(),
        marks in prop::collection::vec((0..1_500_000_u32, 0..Slip::ALL.len()), 0..60),
    ) {
        let run = WATCHED[which].made();
        let marks: Vec<Mark> = marks.into_iter().map(|(at, slip)| Mark { at: Ms(at), slip: Slip::ALL[slip] }).collect();
        let compared = compared(&run, &marks);
        prop_assert_eq!(compared.found().count() + compared.beside.len(), marks.len());
        prop_assert_eq!(compared.found().count() + compared.missed().count(), compared.asked.len());
        let shuffled: Vec<Mark> = marks.iter().rev().copied().collect();
        prop_assert_eq!(super::observe::compared(&run, &shuffled).found().count(), compared.found().count());
    }
}
