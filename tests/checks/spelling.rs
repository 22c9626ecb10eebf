//! English is spelled as the rule that it speaks of: as in the United States.

use bittersweet_core::{questions, source::Skill, words::LANGUAGES};

/// How the same words begin or end elsewhere.
const ELSEWHERE: [&str; 20] = [
    "practis",
    "programme",
    "recognis",
    "organis",
    "labelled",
    "mould",
    "litre",
    "metre",
    "centre",
    "colour",
    "favour",
    "vapour",
    "behaviour",
    "moustache",
    "grey",
    "towards",
    "afterwards",
    "spoilt",
    "learnt",
    "whilst",
];

#[test]
fn english_is_spelled_as_in_the_united_states() {
    let words = LANGUAGES.iter().copied();
    let questions = questions::TEXTS.iter().map(|(tag, _, json)| (*tag, *json));
    let english: Vec<&str> = words.chain(questions).filter(|(tag, _)| *tag == "en").map(|(_, json)| json).collect();
    assert!(english.len() > Skill::ALL.len(), "the words, and the questions of each skill");
    let mut found = Vec::new();
    for json in english {
        let texts: serde_json::Value = serde_json::from_str(json).expect("the build wrote it");
        said(&texts, &mut found);
    }
    assert!(found.is_empty(), "{found:#?}");
}

/// Every text in it, keys apart, that is spelled otherwise.
fn said(texts: &serde_json::Value, found: &mut Vec<String>) {
    match texts {
        serde_json::Value::String(text) => {
            let small = text.to_lowercase();
            if ELSEWHERE.iter().any(|other| small.contains(other)) {
                found.push(text.clone());
            }
        }
        serde_json::Value::Object(inner) => inner.values().for_each(|value| said(value, found)),
        serde_json::Value::Array(inner) => inner.iter().for_each(|value| said(value, found)),
        serde_json::Value::Null | serde_json::Value::Bool(_) | serde_json::Value::Number(_) => {}
    }
}
