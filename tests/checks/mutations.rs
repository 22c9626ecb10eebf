//! Damaged files: whatever is changed in one, reading it ends with a run or with what is wrong and where, and never by a panic.
//!
//! How they are damaged is in `damage`. That each kind of fault is told with its
//! place is in `golden`.

use crate::{
    damage::{Dice, Whole},
    random::{either, tenfold},
};
use bittersweet_core::{
    act::{Act, Exercise, Hands, Role, Slot},
    review::review,
    rulebook::Agent,
    run::{MOST_ENTRIES, Run},
    scenario::Scenario,
    scenarios::BUILT_IN,
    unannounced::draw_up,
    units::Ms,
    wire::{
        Code, Faults, MOST_SCENARIO_BYTES, backup_v1::BackupV1, is_plain, learners_v1::LearnersV1,
        outcome_v1::OutcomeV1, run_v1, scenario_v1, sitting_v1,
    },
};
use serde_json::json;
use std::{
    collections::BTreeMap,
    rc::Rc,
    time::{Duration, Instant},
};

/// How long reading one file may take at most. How fast it is depends on the machine; this is many times as long.
const PATIENCE: Duration = Duration::from_secs(10);

/// How often each kind of fault was found, how many files were read all the same, and how long any of them took at most.
#[derive(Default)]
struct Found {
    codes: BTreeMap<&'static str, u32>,
    read: u32,
    longest: Duration,
}

impl Found {
    /// Reads a text, and looks at what is said of it.
    fn read<T>(&mut self, text: &str, parse: impl FnOnce(&str) -> Result<T, Faults>) -> Option<T> {
        let start = Instant::now();
        let read = parse(text);
        self.longest = self.longest.max(start.elapsed());
        match read {
            Ok(read) => {
                self.read += 1;
                Some(read)
            }
            Err(faults) => {
                self.take(&faults, text);
                None
            }
        }
    }

    fn take(&mut self, faults: &Faults, text: &str) {
        let list = faults.list();
        assert!(!list.is_empty() && list.len() <= Faults::MOST, "{text}");
        for fault in list {
            assert!(Code::ALL.contains(&fault.code) && !fault.code.code().is_empty());
            // A file that is too large is not looked into: where is the whole of it.
            assert!(!fault.path.is_empty() || fault.code == Code::TooLarge, "not where in {fault:?}: {text}");
            assert!(is_plain(&fault.path) && is_plain(&fault.got) && fault.got.chars().count() <= 120, "{text}");
            *self.codes.entry(fault.code.code()).or_default() += 1;
        }
    }

    #[track_caller]
    fn came_up(&self, codes: &[Code]) {
        for code in codes {
            assert!(self.codes.contains_key(code.code()), "{} never came up: {:?}", code.code(), self.codes);
        }
    }

    #[track_caller]
    fn has(&self, count: u32, codes: &[Code]) {
        self.came_up(codes);
        assert!(self.read > count / 50 && self.read < count / 2, "{} of {count} damaged files were read", self.read);
        assert!(self.longest < PATIENCE, "{:?} for one file", self.longest);
    }
}

#[test]
fn no_damaged_run_file_panics() {
    let count = tenfold(5_000);
    let read = |id: &str| {
        let folder = std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("golden");
        Whole::new(&std::fs::read_to_string(folder.join(format!("{id}.json"))).expect("a golden run"))
    };
    // A short run and two whole ones, one for each agent.
    let originals = [read("sawmill"), read("sawmill"), read("paint-line"), read("tunnel-crew")];
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let mut found = Found::default();
    for number in 0..count {
        let original = &originals[usize::try_from(number).expect("it fits") % originals.len()];
        let text = original.damaged(&mut dice);
        if let Some(opened) = found.read(&text, run_v1::parse) {
            // What was read can be judged, and goes on from where it stands.
            let _ = review(&opened.scenario, &opened.log);
            if let Some(run) = opened.run {
                assert_eq!(run.log(), opened.log);
            }
        }
    }
    found.has(
        count,
        &[
            Code::NotJson,
            Code::WrongShape,
            Code::ForeignFormat,
            Code::NewerVersion,
            Code::UnknownCode,
            Code::OutOfRange,
            Code::TimeRunsBack,
            Code::NotPlain,
        ],
    );
}

/// The written scenarios, some drawn ones, and a colleague's run, shortened since it is read act by act.
fn scenarios() -> Vec<Whole> {
    let drawn = (0..6).map(|seed| draw_up(Agent::ALL[seed % Agent::ALL.len()], u64::try_from(seed).expect("it fits")));
    let drawn = drawn.map(|scenario| serde_json::to_string(&scenario_v1::loose(&scenario)).expect("it is JSON"));
    let written = BUILT_IN.iter().map(|(_, text)| {
        let mut loose: scenario_v1::ScenarioV1 = serde_json::from_str(text).expect("a built-in scenario");
        match &mut loose.colleague {
            None => (*text).to_owned(),
            Some(colleague) => {
                colleague.acts.truncate(30);
                serde_json::to_string(&loose).expect("it is JSON")
            }
        }
    });
    written.chain(drawn).map(|text| Whole::new(&text)).collect()
}

/// Acts enough that everything in a scenario has its part, as far as it lets them.
const IN_EARNEST: [Act; 9] = [
    Act::AskMouth,
    Act::LetChoose,
    Act::HoodOn,
    Act::Take(Role::Fit),
    Act::Squeeze,
    Act::Squeeze,
    Act::Begin(Exercise::NormalBreathing),
    Act::Begin(Exercise::Talking),
    Act::Begin(Exercise::Bending),
];

/// Begins a run and lets ten minutes pass, in which the wearer is tested.
fn ten_minutes(scenario: Scenario) {
    let mut run = Run::new(Rc::new(scenario));
    run.advance(Ms::secs(30));
    let first = Slot::new(1).expect("there is a first place");
    let acts = [Act::HandOver(first), Act::Don(Hands::ALL[0])].into_iter().chain(IN_EARNEST);
    for act in acts {
        let next = run.now().plus(Ms::secs(20));
        // Not all can be in each scenario; then it is refused, and time goes on.
        let _ = run.apply(act, next);
        run.advance(next);
    }
    run.advance(Ms::mins(10));
    assert_eq!(run.now(), Ms::mins(10));
    let _ = review(run.scenario(), run.log());
}

#[test]
fn no_damaged_scenario_file_panics() {
    let count = either(50_000, 1_000_000);
    let wholes = scenarios();
    let mut dice = Dice(0x2545_f491_4f6c_dd1d);
    let mut found = Found::default();
    for number in 0..count {
        let text = wholes[usize::try_from(number).expect("it fits") % wholes.len()].damaged(&mut dice);
        let Some(scenario) = found.read(&text, scenario_v1::parse) else { continue };
        assert!(text.len() <= MOST_SCENARIO_BYTES);
        let texts = [Some(&scenario.id), scenario.title.as_ref(), Some(&scenario.person.name)];
        assert!(texts.into_iter().flatten().all(|text| is_plain(text)), "{text}");
        // What was read is a scenario, and is written to one that is read the same.
        let again = serde_json::to_string(&scenario_v1::loose(&scenario)).expect("it is JSON");
        assert_eq!(scenario_v1::parse(&again).as_ref(), Ok(&scenario), "{text}");
        if found.read % 20 == 0 {
            ten_minutes(scenario);
        }
    }
    found.has(
        count,
        &[
            Code::TooLarge,
            Code::NotJson,
            Code::WrongShape,
            Code::ForeignFormat,
            Code::NewerVersion,
            Code::UnknownCode,
            Code::OutOfRange,
            Code::TooMany,
            Code::Empty,
            Code::NotPlain,
            Code::NotThen,
            Code::NoSuchPlace,
            Code::TimeRunsBack,
            Code::Impossible,
        ],
    );
}

/// Damages something kept on the device; what is read all the same is written and read as the same again.
fn damage_kept<T: PartialEq + std::fmt::Debug>(
    golden: &str,
    seed: u64,
    parse: fn(&str) -> Result<T, Faults>,
    written: fn(&T) -> String,
) {
    let count = either(20_000, 200_000);
    let (whole, mut dice, mut found) = (Whole::new(golden), Dice(seed), Found::default());
    for _ in 0..count {
        let text = whole.damaged(&mut dice);
        let Some(kept) = found.read(&text, parse) else { continue };
        assert_eq!(parse(&written(&kept)).as_ref(), Ok(&kept), "{text}");
    }
    found.has(
        count,
        &[Code::TooLarge, Code::NotJson, Code::WrongShape, Code::NewerVersion, Code::UnknownCode, Code::OutOfRange],
    );
}

#[test]
fn no_damaged_outcome_panics() {
    let golden = include_str!("../../core/golden/outcome-v1.json");
    damage_kept(golden, 0x94d0_49bb_1331_11eb, OutcomeV1::parse, OutcomeV1::written);
}

#[test]
fn no_damaged_sitting_panics() {
    let golden = include_str!("../../core/golden/sitting-v1.json");
    damage_kept(golden, 0xbf58_476d_1ce4_e5b9, sitting_v1::parse, sitting_v1::written);
}

/// What is read of a damaged backup is what was saved: its sums let nothing else through.
#[test]
fn no_damaged_backup_panics_or_passes_for_another() {
    let count = either(50_000, 1_000_000);
    let golden = include_str!("../../core/golden/backup-v1.json");
    let (whole, saved) = (Whole::new(golden), BackupV1::parse(golden).expect("a golden backup"));
    let mut dice = Dice(0xd6e8_feb8_6659_fd93);
    let mut found = Found::default();
    for _ in 0..count {
        let text = whole.damaged(&mut dice);
        if let Some(read) = found.read(&text, BackupV1::parse) {
            assert_eq!(read, saved, "{text}");
        }
    }
    found.came_up(&[
        Code::NotJson,
        Code::WrongShape,
        Code::ForeignFormat,
        Code::NewerVersion,
        Code::UnknownCode,
        Code::OutOfRange,
        Code::TooMany,
        Code::NotPlain,
        Code::Damaged,
    ]);
    assert!(found.longest < PATIENCE, "{:?} for one file", found.longest);
}

#[test]
fn no_damaged_list_of_learners_panics() {
    let count = either(20_000, 200_000);
    let list = r#"{"version":1,"learners":[{"id":"","name":"Ana"},{"id":"a1","name":"Ben"},{"id":"a2","name":"Kim"}]}"#;
    let whole = Whole::new(list);
    let mut dice = Dice(0xff51_afd7_ed55_8ccd);
    let mut found = Found::default();
    for _ in 0..count {
        let text = whole.damaged(&mut dice);
        let Some(list) = found.read(&text, LearnersV1::parse) else { continue };
        assert_eq!(LearnersV1::parse(&list.written()).as_ref(), Ok(&list), "{text}");
    }
    found.came_up(&[Code::NotJson, Code::NewerVersion, Code::UnknownCode, Code::NotPlain, Code::Empty]);
}

/// Acts over the longest time that can be written, in a log that is full: the most work that a file can ask for.
#[test]
fn the_longest_and_the_deepest_scenario_is_read_in_time() {
    let start = Instant::now();
    let mut file: serde_json::Value = serde_json::from_str(BUILT_IN[0].1).expect("a built-in scenario");
    let most = u32::try_from(MOST_ENTRIES).expect("it fits");
    let squeezes = (2..most).map(|number| json!({ "at": u32::MAX / most * number, "act": "squeeze" }));
    let ready = [json!({ "at": 0, "act": "hood-on" }), json!({ "at": 0, "act": "take", "with": "check" })];
    file["colleague"] = json!({ "acts": ready.into_iter().chain(squeezes).collect::<Vec<_>>() });
    let long = file.to_string();
    assert!(long.len() < MOST_SCENARIO_BYTES, "the list of acts is bounded before the bytes are");
    let faults = scenario_v1::parse(&long).expect_err("the log is full before the last act");
    assert_eq!(faults.list().first().map(|fault| fault.code), Some(Code::Impossible));
    let deep = "[".repeat(MOST_SCENARIO_BYTES);
    let faults = scenario_v1::parse(&deep).expect_err("no scenario");
    assert_eq!(faults.list().first().map(|fault| fault.code), Some(Code::WrongShape), "{faults}");
    let within = BUILT_IN[0].1.replacen("\"grinding-shop\"", &"[".repeat(100_000), 1);
    let faults = scenario_v1::parse(&within).expect_err("no scenario");
    assert!(!faults.is_empty());
    assert!(start.elapsed() < PATIENCE, "{:?}", start.elapsed());
}
