//! Damaged and hand-edited question files: what is wrong is told with id and field, the rest goes on, and nothing panics.

use super::{Asked, LANGUAGES, texts_of};
use crate::{
    damage::{Dice, Whole},
    random::either,
};
use bittersweet_core::{
    question::{Question, Texts, ask::ask, read},
    questions::TRUTH,
    rulebook::Agent,
    source::Skill,
    wire::{Code, Faults, is_plain},
};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Two questions that are whole: one to choose from, one to reckon.
fn whole() -> Value {
    json!({ "question": [
        {
            "id": "taste-late", "revision": 1, "kind": "one", "agents": "both", "rule": "watch.taste", "now": true,
            "difficulty": 40, "options": ["a", "b", "c"], "right": ["b"],
        },
        {
            "id": "how-many", "revision": 2, "kind": "number", "agents": "sweet", "source": "common practice",
            "basis": "ours", "reading": "practice", "now": false, "difficulty": 30, "answer": "squeezes-by",
            "unit": "squeezes", "tolerance": 0, "drawn": { "threshold": [10, 20], "seconds": [45, 100] },
        },
    ] })
}

fn words() -> Value {
    json!({
        "taste-late": {
            "ask": "What now?", "because": "So it is.", "a": "One.", "a_because": "No.", "b": "Two.", "b_because": "Yes.",
            "c": "Three.", "c_because": "Not at all.",
        },
        "how-many": { "ask": "At {threshold}, after {seconds} s?", "because": "It is {answer}." },
    })
}

fn list(faults: &Faults) -> Vec<(String, Code, String)> {
    faults.list().iter().map(|fault| (fault.path.clone(), fault.code, fault.got.clone())).collect()
}

/// Changes one question of the file, and looks at what is said; the other one goes on.
#[track_caller]
fn check(number: usize, change: impl FnOnce(&mut Value), path: &str, code: Code, got: &str) {
    let mut file = whole();
    change(&mut file["question"][number]);
    let read = read::questions(Some(Skill::Watching), &file.to_string());
    assert_eq!(list(&read.faults), [(path.to_owned(), code, got.to_owned())]);
    assert_eq!(read.whole.len(), 1, "the rest goes on");
}

#[track_caller]
fn check_words(change: impl FnOnce(&mut Value), path: &str, code: Code, got: &str) {
    let questions = read::questions(Some(Skill::Watching), &whole().to_string()).whole;
    let mut file = words();
    change(&mut file);
    let read = read::texts(&file.to_string(), &questions);
    assert_eq!(list(&read.faults), [(path.to_owned(), code, got.to_owned())]);
    assert_eq!(read.whole.len(), 1, "the rest goes on");
}

#[test]
fn what_is_whole_is_read() {
    let read = read::questions(Some(Skill::Watching), &whole().to_string());
    assert!(read.faults.is_empty(), "{}", read.faults);
    assert_eq!(read.whole.len(), 2);
    let texts = read::texts(&words().to_string(), &read.whole);
    assert!(texts.faults.is_empty(), "{}", texts.faults);
    assert_eq!(texts.whole.len(), 2);
}

#[test]
fn each_fault_of_a_choice_is_told_with_id_field_and_what_was_got() {
    let remove = |name: &'static str| move |one: &mut Value| drop(one.as_object_mut().expect("an entry").remove(name));
    check(0, |one| one["id"] = json!("Taste Late"), "question[0].id", Code::NotPlain, "Taste Late");
    check(0, remove("id"), "question[0].id", Code::Empty, "nothing");
    check(0, |one| one["revision"] = json!(0), "taste-late.revision", Code::OutOfRange, "0");
    check(0, |one| one["kind"] = json!("two"), "taste-late.kind", Code::UnknownCode, "two");
    check(0, |one| one["agents"] = json!("all"), "taste-late.agents", Code::UnknownCode, "all");
    check(0, |one| one["rule"] = json!("watch.smell"), "taste-late.rule", Code::UnknownCode, "watch.smell");
    check(0, |one| one["source"] = json!("common practice"), "taste-late.source", Code::UnknownCode, "source");
    check(0, |one| one["now"] = json!("yes"), "taste-late.now", Code::WrongShape, "yes");
    check(0, |one| one["difficulty"] = json!(95), "taste-late.difficulty", Code::OutOfRange, "95");
    check(0, |one| one["options"] = json!(["a", "b"]), "taste-late.options", Code::OutOfRange, "[a, b]");
    check(0, |one| one["options"] = json!(["a", "b", "b"]), "taste-late.options", Code::TooMany, "[a, b, b]");
    check(0, |one| one["options"] = json!("abc"), "taste-late.options", Code::WrongShape, "abc");
    check(0, |one| one["right"] = json!(["d"]), "taste-late.right", Code::NoSuchPlace, "d");
    check(0, |one| one["right"] = json!(["a", "b"]), "taste-late.right", Code::OutOfRange, "ab");
    check(0, |one| one["right"] = json!([]), "taste-late.right", Code::OutOfRange, "");
    check(0, |one| one["rigth"] = json!(["b"]), "taste-late.rigth", Code::UnknownCode, "rigth");
    check(0, |one| one["unit"] = json!("g"), "taste-late.unit", Code::UnknownCode, "unit");
    check(0, |one| one["id"] = json!("how-many"), "how-many.id", Code::TooMany, "how-many");
}

#[test]
fn each_fault_of_a_reckoning_is_told() {
    check(1, |one| one["answer"] = json!("sum"), "how-many.answer", Code::UnknownCode, "sum");
    check(1, |one| one["unit"] = json!("g"), "how-many.unit", Code::OutOfRange, "g");
    check(1, |one| one["tolerance"] = json!(50), "how-many.tolerance", Code::OutOfRange, "50");
    check(
        1,
        |one| one["drawn"]["threshold"] = json!([10, 15]),
        "how-many.drawn",
        Code::OutOfRange,
        "seconds 45, threshold 15",
    );
    check(1, |one| one["drawn"]["minutes"] = json!([1]), "how-many.drawn.minutes", Code::UnknownCode, "minutes");
    check(1, |one| one["drawn"] = json!({ "threshold": [10] }), "how-many.drawn.seconds", Code::Empty, "nothing");
    check(
        1,
        |one| one["drawn"] = json!({ "threshold": [10], "seconds": [] }),
        "how-many.drawn",
        Code::OutOfRange,
        "a table",
    );
    check(1, |one| one["source"] = json!(" "), "how-many.source", Code::NotPlain, " ");
}

#[test]
fn each_fault_of_a_picture_is_told() {
    let picture = || {
        json!({ "question": [{
            "id": "in-the-hood", "revision": 1, "kind": "find", "agents": "both", "rule": "fit.touched", "now": true,
            "difficulty": 40, "shows": "picture", "trouble": "touches-mask", "moment": "exercise",
            "kinds": ["scratches", "touches-mask", "none"], "options": ["a", "b", "c"], "right": ["b"],
        }] })
    };
    let check = |field: &str, value: Value, path: &str, code: Code, got: &str| {
        let mut file = picture();
        file["question"][0][field] = value;
        let read = read::questions(Some(Skill::Watching), &file.to_string());
        assert_eq!(list(&read.faults).first(), Some(&(path.to_owned(), code, got.to_owned())));
        assert!(read.whole.is_empty());
    };
    assert!(read::questions(Some(Skill::Watching), &picture().to_string()).faults.is_empty());
    check("trouble", json!("itches"), "in-the-hood.trouble", Code::UnknownCode, "itches");
    check("moment", json!("screening"), "in-the-hood.moment", Code::NotThen, "screening");
    check("kinds", json!(["none"]), "in-the-hood.kinds", Code::OutOfRange, "1");
    check("right", json!(["a"]), "in-the-hood.right", Code::NoSuchPlace, "a for touches-mask");
    check("shows", json!("film"), "in-the-hood.shows", Code::UnknownCode, "film");
}

#[test]
fn each_fault_of_a_text_is_told() {
    let remove = |id: &'static str, name: &'static str| {
        move |file: &mut Value| drop(file[id].as_object_mut().expect("texts").remove(name))
    };
    check_words(remove("taste-late", "a_because"), "taste-late.a_because", Code::Empty, "nothing");
    check_words(|file| file["taste-late"]["d"] = json!("Four."), "taste-late.d", Code::UnknownCode, "d");
    check_words(|file| file["taste-late"]["b"] = json!(""), "taste-late.b", Code::NotPlain, "");
    check_words(|file| file["taste-late"]["b"] = json!(2), "taste-late.b", Code::WrongShape, "2");
    check_words(|file| file["taste-late"]["ask"] = json!("At {time}?"), "taste-late.ask", Code::UnknownCode, "{time}");
    check_words(|file| file["taste-late"]["c"] = json!("{answer}"), "taste-late.c", Code::UnknownCode, "{answer}");
    check_words(|file| file["taste-late"] = json!("What now?"), "taste-late", Code::WrongShape, "What now?");
    check_words(|file| file["how-many"]["ask"] = json!("At {threshold}?"), "how-many.ask", Code::Empty, "no {seconds}");
    check_words(
        |file| drop(file.as_object_mut().expect("texts").remove("how-many")),
        "how-many",
        Code::Empty,
        "nothing",
    );
}

#[test]
fn what_is_no_question_file_is_told_as_a_whole() {
    let read = |text: &str| list(&read::questions(None, text).faults);
    assert_eq!(read("{").first().map(|(_, code, _)| *code), Some(Code::NotJson));
    assert_eq!(read("[]"), [("question".to_owned(), Code::WrongShape, "nothing".to_owned())]);
    assert_eq!(read("{\"question\":1}"), [("question".to_owned(), Code::WrongShape, "1".to_owned())]);
    let long = " ".repeat(read::MOST_BYTES + 1);
    assert_eq!(read(&long).first().map(|(_, code, _)| *code), Some(Code::TooLarge));
    // Without a skill of the file each question names its own.
    assert_eq!(
        read(&whole().to_string()).first(),
        Some(&("taste-late.skill".to_owned(), Code::Empty, "nothing".to_owned()))
    );
}

/// Goes on with what was read: whatever is in it can be put and filled.
fn put(question: &Question, texts: &[Texts]) {
    for agent in Agent::ALL.iter().copied() {
        let asked = ask(9, question, agent);
        assert_eq!(asked.number.is_some(), asked.shown.is_empty(), "{question:?}");
        if let Some(texts) = texts.iter().find(|texts| texts.id == question.id) {
            assert!(is_plain(&texts.ask) && !asked.fill(&texts.because).contains("{answer}"));
        }
    }
}

fn look(faults: &Faults, codes: &mut BTreeMap<&'static str, u32>) {
    assert!(faults.list().len() <= Faults::MOST);
    for fault in faults.list() {
        assert!(!fault.path.is_empty() || fault.code == Code::TooLarge, "not where: {fault:?}");
        assert!(is_plain(&fault.path) && is_plain(&fault.got) && fault.got.chars().count() <= 120, "{fault:?}");
        *codes.entry(fault.code.code()).or_default() += 1;
    }
}

#[test]
fn no_damaged_question_file_panics() {
    let plain = |json: &str| !json.contains("\\\"");
    let questions: Vec<Whole> =
        TRUTH.iter().map(|(_, json)| json).filter(|json| plain(json)).map(|json| Whole::new(json)).collect();
    let mut dice = Dice(0x1f83_d9ab_fb41_bd6b);
    let (mut codes, mut read_whole, mut partly) = (BTreeMap::new(), 0_u32, 0_u32);
    let count = either(4_000, 60_000);
    for number in 0..count {
        let place = usize::try_from(number).expect("it fits") % questions.len();
        let text = questions[place].damaged(&mut dice);
        let read = read::questions(Some(Skill::Running), &text);
        look(&read.faults, &mut codes);
        read_whole += u32::from(read.faults.is_empty());
        partly += u32::from(!read.faults.is_empty() && !read.whole.is_empty());
        for question in &read.whole {
            put(question, &[]);
        }
    }
    let seen = [
        Code::NotJson,
        Code::WrongShape,
        Code::UnknownCode,
        Code::OutOfRange,
        Code::NotPlain,
        Code::TooMany,
        Code::Empty,
    ];
    for code in seen {
        assert!(codes.contains_key(code.code()), "{} never came up: {codes:?}", code.code());
    }
    assert!(read_whole < count / 2 && partly > count / 20, "{read_whole} whole, {partly} in part, of {count}");
}

#[test]
fn no_damaged_texts_panic() {
    let (file, truth) = TRUTH.first().expect("a question file");
    let questions = read::questions(Skill::from_code(file), truth).whole;
    let mut dice = Dice(0x5be0_cd19_137e_2179);
    let mut codes = BTreeMap::new();
    let mut partly = 0_u32;
    let count = either(2_000, 30_000);
    for number in 0..count {
        let language = LANGUAGES[usize::try_from(number).expect("it fits") % LANGUAGES.len()];
        // What cuts files up knows no quotation marks within a text, and wants a number somewhere.
        let text = texts_of(language, file).replace("\\\"", "'").replacen('{', "{\"other\":{\"n\":1},", 1);
        let whole = Whole::new(&text);
        let read = read::texts(&whole.damaged(&mut dice), &questions);
        look(&read.faults, &mut codes);
        partly += u32::from(!read.faults.is_empty() && !read.whole.is_empty());
        for question in &questions {
            put(question, &read.whole);
        }
    }
    for code in [Code::NotJson, Code::WrongShape, Code::NotPlain, Code::Empty, Code::UnknownCode] {
        assert!(codes.contains_key(code.code()), "{} never came up: {codes:?}", code.code());
    }
    assert!(partly > count / 20, "{partly} in part, of {count}");
}

#[test]
fn a_field_that_stands_twice_is_told() {
    let text = whole().to_string().replacen("\"now\":true", "\"now\":true,\"now\":false", 1);
    let read = read::questions(Some(Skill::Watching), &text);
    assert_eq!(list(&read.faults), [("taste-late.now".to_owned(), Code::TooMany, "now".to_owned())]);
    let text = text.replacen("{\"question\"", "{\"questoin\":[],\"question\"", 1);
    let first = list(&read::questions(Some(Skill::Watching), &text).faults).remove(0);
    assert_eq!(first, ("questoin".to_owned(), Code::UnknownCode, "questoin".to_owned()));
}

#[test]
fn a_question_of_the_bank_that_is_left_out_leaves_the_others() {
    for (file, truth) in TRUTH {
        let mut changed: Value = serde_json::from_str(truth).expect("JSON");
        changed["question"][0]["difficulty"] = json!(100);
        let whole = read::questions(Skill::from_code(file), truth).whole;
        let read = read::questions(Skill::from_code(file), &changed.to_string());
        let all = super::all();
        let first: Option<&Asked> = all.iter().find(|asked| asked.file == *file);
        assert_eq!(read.whole.len() + 1, whole.len(), "{file}");
        let path = read.faults.list().first().map(|fault| fault.path.clone());
        assert_eq!(path, first.map(|first| format!("{}.difficulty", first.id())));
    }
}
