//! The question bank, read as the page reads it and looked through for what a reader cannot see: how it is balanced, how it
//! reads, whether it says the same twice, and whether what it takes for right is.
//!
//! Bounds stand where they are used. What is found is told all at once, each with file, id and field.

mod balance;
mod choosing;
mod damaged;
mod marking;
mod numbers;
mod overlap;
mod page;
mod pictures;
pub(crate) mod readable;
mod wording;

use bittersweet_core::{
    question::{Grounds, Kind, Question, Texts, read},
    questions::{TEXTS, TRUTH},
    source::{Basis, Reading, Skill},
    wire::Faults,
};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// So many questions there are at least.
const LEAST: usize = 160;

/// And so many of each skill.
const LEAST_OF_A_SKILL: usize = 15;

/// The languages of the texts.
pub(crate) const LANGUAGES: [&str; 2] = ["en", "es"];

/// For whoever is tested rather than for a conductor: not of the bank, and not counted to it.
const APART: &str = "wearer";

/// A question with its texts.
pub(crate) struct Asked {
    pub(crate) file: &'static str,
    pub(crate) question: Question,
    /// By language; only those that could be read.
    pub(crate) texts: BTreeMap<&'static str, Texts>,
}

impl Asked {
    pub(crate) fn id(&self) -> &str {
        &self.question.id
    }
}

/// All questions that can be read, those for the wearer among them.
pub(crate) fn all() -> Vec<Asked> {
    let read = |(file, truth): &(&'static str, &'static str)| {
        let questions = read::questions(Skill::from_code(file), truth).whole;
        let texts = LANGUAGES.map(|language| (language, read::texts(texts_of(language, file), &questions).whole));
        let asked = move |question: Question| {
            let of = |(language, texts): &(&'static str, Vec<Texts>)| {
                Some((*language, texts.iter().find(|texts| texts.id == question.id)?.clone()))
            };
            let texts = texts.iter().filter_map(of).collect();
            Asked { file, question, texts }
        };
        questions.into_iter().map(asked).collect::<Vec<_>>()
    };
    TRUTH.iter().flat_map(read).collect()
}

/// Those for conductors alone.
pub(crate) fn bank() -> Vec<Asked> {
    all().into_iter().filter(|asked| asked.file != APART).collect()
}

fn texts_of(language: &str, file: &str) -> &'static str {
    TEXTS.iter().find(|(tag, name, _)| (*tag, *name) == (language, file)).map_or("{}", |(.., json)| json)
}

/// Fails where anything was found, and says all of it.
#[track_caller]
pub(crate) fn none(found: &[String]) {
    assert!(found.is_empty(), "{} faults:\n{}", found.len(), found.join("\n"));
}

/// Each question of a file by itself, so that a long list of faults is not cut off.
fn entries(truth: &str) -> Vec<String> {
    let file: Value = serde_json::from_str(truth).expect("the build makes JSON");
    file["question"].as_array().into_iter().flatten().map(|entry| json!({ "question": [entry] }).to_string()).collect()
}

fn told(place: &str, faults: &Faults) -> Vec<String> {
    faults.list().iter().map(|fault| format!("{place}: {fault}")).collect()
}

#[test]
fn every_file_is_read_without_a_fault() {
    let mut found = Vec::new();
    for (file, truth) in TRUTH {
        let skill = Skill::from_code(file);
        if skill.is_none() && *file != APART {
            found.push(format!("{file}.toml: is named for none of the skills"));
        }
        for entry in entries(truth) {
            let read = read::questions(skill, &entry);
            found.extend(told(&format!("{file}.toml"), &read.faults));
            for language in LANGUAGES {
                let texts = read::texts(texts_of(language, file), &read.whole);
                found.extend(told(&format!("{language}/{file}.toml"), &texts.faults));
            }
        }
        // Together, an id that stands in the file twice is found.
        let whole = read::questions(skill, truth);
        if whole.whole.len() < entries(truth).len() && found.is_empty() {
            found.extend(told(&format!("{file}.toml"), &whole.faults));
        }
    }
    none(&found);
}

#[test]
fn the_languages_have_the_same_questions_as_the_truth() {
    let mut found = Vec::new();
    for (file, truth) in TRUTH {
        let ids = |json: &str| -> BTreeSet<String> {
            let texts: Value = serde_json::from_str(json).expect("the build makes JSON");
            texts.as_object().into_iter().flatten().map(|(id, _)| id.clone()).collect()
        };
        let truth: Value = serde_json::from_str(truth).expect("the build makes JSON");
        let list = truth["question"].as_array().into_iter().flatten();
        let wanted: BTreeSet<String> = list.filter_map(|entry| entry["id"].as_str()).map(str::to_owned).collect();
        for language in LANGUAGES {
            let there = ids(texts_of(language, file));
            found.extend(wanted.difference(&there).map(|id| format!("{language}/{file}.toml: {id}: is missing")));
            found.extend(there.difference(&wanted).map(|id| format!("{language}/{file}.toml: {id}: has no truth")));
        }
    }
    for (language, file, _) in TEXTS {
        if !LANGUAGES.contains(language) || !TRUTH.iter().any(|(name, _)| name == file) {
            found.push(format!("{language}/{file}.toml: is of no language or no skill"));
        }
    }
    none(&found);
}

#[test]
fn an_id_stands_once_in_the_bank() {
    let mut known = BTreeMap::new();
    let mut found = Vec::new();
    for asked in all() {
        if let Some(other) = known.insert(asked.id().to_owned(), asked.file) {
            found.push(format!("{}.toml: {}: id: stands in {other}.toml too", asked.file, asked.id()));
        }
    }
    none(&found);
}

#[test]
fn there_are_enough_of_each_skill_and_kind_and_most_ask_what_to_do_now() {
    let bank = bank();
    let mut found = Vec::new();
    if bank.len() < LEAST {
        found.push(format!("the bank: {} questions, {LEAST} at least", bank.len()));
    }
    for skill in Skill::ALL.iter().copied() {
        let count = bank.iter().filter(|asked| asked.question.skill == skill).count();
        if count < LEAST_OF_A_SKILL {
            found.push(format!("{}.toml: {count} questions, {LEAST_OF_A_SKILL} at least", skill.code()));
        }
    }
    for kind in Kind::ALL.iter().copied() {
        if !bank.iter().any(|asked| asked.question.task.kind() == kind) {
            found.push(format!("the bank: none of kind {}", kind.code()));
        }
    }
    let now = bank.iter().filter(|asked| asked.question.now).count();
    if now * 2 <= bank.len() {
        found.push(format!("the bank: {now} of {} ask what to do now", bank.len()));
    }
    none(&found);
}

/// Letters of interpretation, by date.
const LETTERS: [&str; 5] = ["1999-01-04", "1999-01-15", "1999-08-27", "2001-03-08", "2015-03-18"];

/// Paragraphs of the regulation, and its appendices.
const TEXT: [&str; 9] = [
    "1910.134(",
    "App. A I.A",
    "App. A I.B.1",
    "App. A I.B.3",
    "App. A I.B.4",
    "App. A I.C",
    "App. B-1",
    "App. B-2",
    "App. C",
];

/// Whether a source is a paragraph, a letter, a study, or common practice, and with what it goes.
fn known(source: &str, basis: Basis, reading: Reading) -> Result<(), &'static str> {
    if (source == "common practice") != (reading == Reading::Practice) {
        return Err("`reading` is practice with common practice, and with nothing else");
    }
    if source == "common practice" {
        return if basis == Basis::Ours { Ok(()) } else { Err("common practice has the basis ours") };
    }
    let ours = source.strip_prefix("our reading of ");
    if ours.is_some() && basis != Basis::Ours {
        return Err("our reading has the basis ours");
    }
    let parts: Vec<&str> = ours.unwrap_or(source).split("; ").collect();
    let letters: Vec<&&str> = parts.iter().filter(|part| part.starts_with("letter ")).collect();
    if letters.is_empty() && basis == Basis::Letter {
        return Err("the basis is a letter, and none is named");
    }
    let dated =
        |part: &str| LETTERS.iter().any(|date| part.strip_prefix("letter ").is_some_and(|p| p.starts_with(date)));
    let is_known =
        |part: &str| TEXT.iter().any(|text| part.starts_with(text)) || part.starts_with("study: ") || dated(part);
    if parts.iter().all(|part| is_known(part)) { Ok(()) } else { Err("no paragraph, letter, study or common practice") }
}

#[test]
fn every_source_is_known() {
    let mut found = Vec::new();
    for asked in all() {
        let Grounds::Other { source, basis, reading } = &asked.question.grounds else { continue };
        if let Err(what) = known(source, *basis, *reading) {
            found.push(format!("{}.toml: {}: source: {what} (got {source})", asked.file, asked.id()));
        }
    }
    none(&found);
}

#[test]
fn a_source_that_is_none_is_found() {
    assert!(known("1910.134(m)(2)", Basis::Text, Reading::Read).is_ok());
    assert!(known("our reading of App. A I.A.5; letter 2015-03-18", Basis::Ours, Reading::Memory).is_ok());
    assert!(known("letter 2015-03-19", Basis::Letter, Reading::Read).is_err());
    assert!(known("1910.134(m)", Basis::Letter, Reading::Read).is_err());
    assert!(known("somebody said so", Basis::Text, Reading::Read).is_err());
    assert!(known("common practice", Basis::Ours, Reading::Memory).is_err());
}
