//! One saved run for each built-in scenario, kept for ever: today's code opens it, replays it to the same log, and saves it
//! to the same bytes. `UPDATE=1` writes them anew, which is a new engine number or a new scenario.

use crate::driver::{Conductor, built_in};
use bittersweet_core::{
    run::Run,
    scenarios::BUILT_IN,
    units::Ms,
    wire::{
        Code, Faults,
        run_v1::{self, Conditions, Help, Pace, RulebookV1, RunV1},
    },
};
use std::{env, fs, path::PathBuf};

fn file(id: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("golden").join(format!("{id}.json"))
}

fn golden(id: &str) -> String {
    fs::read_to_string(file(id)).unwrap_or_else(|error| panic!("{id}: {error}; UPDATE=1 writes it"))
}

fn conditions() -> Conditions {
    Conditions { help: Help::Guided, paces: vec![(Ms::ZERO, Pace::Real)] }
}

/// The file of a run, on one line. No review: it is today's, and a golden file is for ever.
fn written(run: &Run, rulebook: Option<&RulebookV1>) -> String {
    let mut file = run_v1::of_log(run.scenario(), run.log(), &conditions());
    if let Some(rulebook) = rulebook {
        file.rulebook = rulebook.clone();
    }
    format!("{}\n", serde_json::to_string(&file).expect("a run is JSON"))
}

#[test]
fn every_golden_run_replays_to_the_same_bytes() {
    for (id, _) in BUILT_IN {
        if env::var_os("UPDATE").is_some() {
            fs::write(file(id), written(&Conductor::by_the_book(&built_in(id)), None)).expect("the folder is there");
        }
        let text = golden(id);
        let opened = run_v1::parse(&text).unwrap_or_else(|faults| panic!("{id}: {faults}"));
        let run = opened.run.unwrap_or_else(|| panic!("{id}: today's engine shows something else; see ENGINE"));
        assert_eq!(run.log(), opened.log, "{id}");
        // Which rules it was made under stays as it was recorded.
        let recorded: RunV1 = serde_json::from_str(&text).expect("it was read before");
        assert!(written(&run, Some(&recorded.rulebook)) == text, "{id}: written again it is not the same");
    }
}

#[test]
fn a_run_of_another_engine_keeps_its_recorded_log() {
    let text = golden("grinding-shop");
    let other = text
        .replacen("\"engine\":1", "\"engine\":7", 1)
        .replacen("\"sign\":\"scratches-forehead\"", "\"sign\":\"coughs\"", 1);
    let opened = run_v1::parse(&other).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(opened.run.is_none());
    assert_eq!(opened.log.len(), run_v1::parse(&text).expect("the golden run opens").log.len());
}

#[track_caller]
fn refused(text: &str, code: Code, place: &str) {
    let faults: Faults = run_v1::parse(text).expect_err("it must be refused");
    let found = faults.list().iter().any(|fault| fault.code == code && fault.path.starts_with(place) && !fault.got.is_empty());
    assert!(found, "expected {code:?} at {place:?}, got: {faults}");
}

#[test]
fn what_is_wrong_with_a_file_is_said_with_its_place() {
    let text = golden("grinding-shop");
    let with = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    };
    refused("", Code::NotJson, "line 1");
    refused(&text[..text.len() / 2], Code::NotJson, "line 1");
    refused("{\"format\":1}", Code::WrongShape, "line 1");
    refused(&format!("{text}{}", " ".repeat(1024 * 1024)), Code::TooLarge, "");
    refused(&with("bittersweet-run", "something-else"), Code::ForeignFormat, "format");
    refused(&with("\"version\":1", "\"version\":2"), Code::NewerVersion, "version");
    refused(&with("\"act\":\"ask-clearance\"", "\"act\":\"dance\""), Code::UnknownCode, "acts[0].act");
    refused(&with("\"at\":2400", "\"at\":1"), Code::TimeRunsBack, "acts[1].at");
    refused(&with("\"act\":\"ask-clearance\"", "\"act\":\"hood-off\""), Code::Impossible, "acts");
    refused(&with("\"name\":\"Ines\"", "\"name\":\"I\\u202enes\""), Code::NotPlain, "scenario.wearer.name");
    refused(&with("\"name\":\"Ines\"", "\"name\":\"I\\u0007nes\""), Code::NotPlain, "scenario.wearer.name");
    refused(&with("\"clearance\":\"cleared\"", "\"clearance\":\"perhaps\""), Code::UnknownCode, "scenario.wearer.clearance");
    refused(&with("\"help\":\"guided\"", "\"help\":\"much\""), Code::UnknownCode, "help");
}

#[test]
fn all_faults_are_told_at_once_up_to_twenty() {
    let text = golden("grinding-shop").replace("\"act\":\"squeeze\"", "\"act\":\"squeese\"");
    let faults = run_v1::parse(&text).expect_err("it must be refused");
    assert_eq!(faults.list().len(), Faults::MOST);
}

/// A plain generator of pseudo-random numbers (xorshift): which mutations are made is the same each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(limit.max(1)).expect("it fits")).expect("it fits")
    }
}

/// Damaged files are refused with a place and a reason, or read; nothing panics.
#[test]
fn no_damaged_file_panics() {
    let runs = if env::var_os("BITTERSWEET_ALL").is_some() { 50_000 } else { 2_000 };
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let text = golden("sawmill");
    let (_, scenario) = BUILT_IN[0];
    let mut read = 0;
    for number in 0..runs {
        for (kind, original) in [text.as_bytes(), scenario.as_bytes()].into_iter().enumerate() {
            let mut bytes = original.to_vec();
            for _ in 0..=dice.below(3) {
                let place = dice.below(bytes.len());
                match dice.below(4) {
                    0 => bytes[place] = b"{}[]\",:0919-eE.x \\"[dice.below(18)],
                    1 => drop(bytes.remove(place)),
                    2 => bytes.truncate(place.max(1)),
                    _ => {
                        let copied = bytes[place..(place + dice.below(40)).min(bytes.len())].to_vec();
                        bytes.splice(place..place, copied);
                    }
                }
            }
            let Ok(damaged) = String::from_utf8(bytes) else { continue };
            let faults = if kind == 0 {
                run_v1::parse(&damaged).err()
            } else {
                bittersweet_core::wire::scenario_v1::parse(&damaged).err()
            };
            match faults {
                None => read += 1,
                Some(faults) => assert!(!faults.list().is_empty() && !faults.to_string().is_empty(), "{number}"),
            }
        }
    }
    assert!(read < runs, "{read} of {} damaged files were read: the damage is too mild", 2 * runs);
}
