//! Damaged files: whatever is changed in one, reading it ends with a run or with what is wrong and where, and never by a panic.
//!
//! Changes are made to bytes and to whole words of the file, from a fixed seed. That each kind of fault is told with its
//! place is in `golden`.

use crate::random::tenfold;
use bittersweet_core::{
    review::review,
    scenarios::BUILT_IN,
    wire::{Code, Faults, run_v1, scenario_v1},
};
use std::collections::BTreeMap;

/// A plain generator of pseudo-random numbers (xorshift): which changes are made is the same each time.
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(limit.max(1)).expect("it fits")).expect("it fits")
    }

    fn one_of<'a, T: ?Sized>(&mut self, list: &[&'a T]) -> &'a T {
        list[self.below(list.len())]
    }
}

/// What a word or a number is replaced by.
const STRANGE: &[&str] = &[
    "0",
    "-1",
    "1.5",
    "4294967295",
    "4294967296",
    "1e999",
    "null",
    "true",
    "[]",
    "{}",
    "\"\"",
    "\"\\u202e\"",
    "\"\\u0000\"",
    "\"\\ud800\"",
    "\"squeeze\"",
    "\"pass\"",
    "\"not-tested:seal\"",
    "\"12\"",
];

/// Where the words, numbers and strings of a file stand.
fn words(text: &[u8]) -> Vec<(usize, usize)> {
    let is_mark = |byte: u8| b"{}[],: \n".contains(&byte);
    let mut words = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let from = at;
        if text[at] == b'"' {
            at += 1;
            while at < text.len() && text[at] != b'"' {
                at += 1 + usize::from(text[at] == b'\\');
            }
            at = (at + 1).min(text.len());
        } else {
            while at < text.len() && !is_mark(text[at]) && text[at] != b'"' {
                at += 1;
            }
        }
        if at == from {
            at += 1;
        } else {
            words.push((from, at));
        }
    }
    words
}

/// Replaces a word by another one of the file, or by a strange one: text by text and number by number, so that the file keeps
/// its shape. The first words say what the file is, so they come up more often than they would.
fn reword(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let words = words(bytes);
    let among = if dice.below(3) == 0 { words.len().min(40) } else { words.len() };
    let (from, to) = words[dice.below(among)];
    let is_text = |word: &[u8]| word.first() == Some(&b'"');
    let of_its_kind = |word: &&[u8]| is_text(word) == is_text(&bytes[from..to]);
    let strange: Vec<&[u8]> = STRANGE.iter().map(|word| word.as_bytes()).filter(of_its_kind).collect();
    let others: Vec<&[u8]> = words.iter().map(|(from, to)| &bytes[*from..*to]).filter(of_its_kind).collect();
    let other = if dice.below(2) == 0 { dice.one_of(&strange) } else { dice.one_of(&others) }.to_vec();
    bytes.splice(from..to, other);
}

fn damage_bytes(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let place = dice.below(bytes.len());
    let end = (place + dice.below(200)).min(bytes.len());
    match dice.below(6) {
        0 => bytes[place] ^= 1 << dice.below(8),
        1 => bytes[place] = b"{}[]\",:0919-eE.x \\"[dice.below(18)],
        2 => drop(bytes.remove(place)),
        3 => bytes.truncate(place.max(1)),
        4 => drop(bytes.splice(place..place, bytes[place..end].to_vec())),
        _ => drop(bytes.drain(place..end)),
    }
}

fn damaged(original: &[u8], dice: &mut Dice) -> String {
    let mut bytes = original.to_vec();
    let in_words = dice.below(2) == 0;
    for _ in 0..=dice.below(3) {
        if in_words {
            reword(&mut bytes, dice);
        } else if !bytes.is_empty() {
            damage_bytes(&mut bytes, dice);
        }
    }
    // A page reads a file as text: what is no text has become another sign by then.
    String::from_utf8_lossy(&bytes).into_owned()
}

/// How often each kind of fault was found, and how many files were read all the same.
#[derive(Default)]
struct Found {
    codes: BTreeMap<&'static str, u32>,
    read: u32,
}

impl Found {
    fn take(&mut self, faults: Option<&Faults>, text: &str) {
        let Some(faults) = faults else {
            self.read += 1;
            return;
        };
        let list = faults.list();
        assert!(!list.is_empty() && list.len() <= Faults::MOST, "{text}");
        for fault in list {
            assert!(Code::ALL.contains(&fault.code));
            assert!(!fault.path.is_empty() || !fault.got.is_empty(), "neither where nor what in {fault:?}: {text}");
            assert!(!faults.to_string().contains(|letter: char| letter.is_control() && letter != '\n'), "{text}");
            *self.codes.entry(fault.code.code()).or_default() += 1;
        }
    }

    #[track_caller]
    fn has(&self, count: u32, codes: &[Code]) {
        for code in codes {
            assert!(self.codes.contains_key(code.code()), "{} never came up: {:?}", code.code(), self.codes);
        }
        assert!(self.read > 0 && self.read < count / 2, "{} of {count} damaged files were read", self.read);
    }
}

#[test]
fn no_damaged_run_file_panics() {
    let count = tenfold(5_000);
    let read = |id: &str| {
        let folder = std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("golden");
        std::fs::read(folder.join(format!("{id}.json"))).expect("a golden run")
    };
    // A short run and two whole ones, one for each agent.
    let originals = [read("sawmill"), read("sawmill"), read("paint-line"), read("tunnel-crew")];
    let mut dice = Dice(0x9e37_79b9_7f4a_7c15);
    let mut found = Found::default();
    for number in 0..count {
        let original = &originals[usize::try_from(number).expect("it fits") % originals.len()];
        let text = damaged(original, &mut dice);
        let opened = run_v1::parse(&text);
        found.take(opened.as_ref().err(), &text);
        if let Ok(opened) = opened {
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

#[test]
fn no_damaged_scenario_file_panics() {
    let count = tenfold(5_000);
    let mut dice = Dice(0x2545_f491_4f6c_dd1d);
    let mut found = Found::default();
    for number in 0..count {
        let (_, original) = BUILT_IN[usize::try_from(number).expect("it fits") % BUILT_IN.len()];
        let text = damaged(original.as_bytes(), &mut dice);
        let scenario = scenario_v1::parse(&text);
        found.take(scenario.as_ref().err(), &text);
        if let Ok(scenario) = scenario {
            // What was read is a scenario, and is written to one that is read the same.
            let again = scenario_v1::check(&scenario_v1::loose(&scenario));
            assert_eq!(again.as_ref(), Ok(&scenario), "{text}");
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
            Code::NotPlain,
        ],
    );
}
