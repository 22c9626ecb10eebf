//! Answers in numbers against an independent reckoning in Python, for every figure that can be drawn.

use super::{LANGUAGES, all};
use bittersweet_core::{
    question::{Number, Question, Task, ask::ask},
    rulebook::Agent,
};
use serde_json::Value;
use std::{collections::BTreeMap, fs, path::Path};

fn numbers() -> Vec<(Question, Number)> {
    let number = |question: Question| match question.task.clone() {
        Task::Number(number) => Some((question, number)),
        Task::One(_) | Task::Many(_) | Task::Order(_) | Task::Log(_) | Task::Picture(..) => None,
    };
    all().into_iter().filter_map(|asked| number(asked.question)).collect()
}

#[test]
fn every_answer_is_what_was_reckoned_elsewhere() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/vectors/answers.json");
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    let vectors: Value = serde_json::from_str(&text).expect("vectors are JSON");
    let mut wanted: BTreeMap<(String, Vec<String>), f64> = BTreeMap::new();
    for row in vectors["answers"].as_array().expect("a list") {
        let figures = row["figures"].as_object().expect("figures");
        let figures = figures.iter().map(|(name, value)| format!("{name} {:?}", value.as_f64().expect("a number")));
        let key = (row["id"].as_str().expect("an id").to_owned(), figures.collect());
        wanted.insert(key, row["answer"].as_f64().expect("a number"));
    }
    let mut compared = 0;
    for (question, number) in numbers() {
        for which in 0..number.combinations() {
            let mut figures = number.figures(which);
            figures.sort_by(|one, other| one.0.cmp(&other.0));
            let key: Vec<String> = figures.iter().map(|(name, value)| format!("{name} {value:?}")).collect();
            let wanted = wanted.get(&(question.id.clone(), key.clone()));
            let wanted =
                wanted.unwrap_or_else(|| panic!("{}: {key:?} is not among the vectors: make them anew", question.id));
            for agent in Agent::ALL.iter().copied().filter(|agent| question.agents.has(*agent)) {
                let found = number.right(agent, &figures).expect("a right answer");
                assert!(
                    (found - wanted).abs() <= 1e-9 * wanted.abs(),
                    "{}: {key:?}: {found}, not {wanted}",
                    question.id
                );
            }
            compared += 1;
        }
    }
    assert_eq!(compared, wanted.len(), "each row is of a question that there is");
    assert!(compared > 0, "there is a number in the bank");
}

#[test]
fn as_put_nothing_is_left_to_fill_in() {
    let mut seen = 0;
    for asked in all() {
        for seed in 0..20 {
            let put = ask(seed, &asked.question, Agent::Sweet);
            assert_eq!(put, ask(seed, &asked.question, Agent::Sweet), "the same seed, the same question");
            for language in LANGUAGES {
                let Some(texts) = asked.texts.get(language) else { continue };
                for text in [&texts.ask, &texts.because] {
                    let filled = put.fill(text);
                    assert!(!filled.contains(['{', '}']), "{filled}");
                }
                seen += 1;
            }
            if let Some(options) = asked.question.task.options() {
                let mut letters = put.shown.clone();
                letters.sort_unstable();
                assert_eq!(letters, options.letters, "{}", asked.id());
            }
        }
    }
    assert!(seen > 0);
}
