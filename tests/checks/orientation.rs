//! What a worker reads before their own test: plain enough for everybody, and short enough for four minutes.

use crate::questions::{
    LANGUAGES, all,
    readable::{grades, reading},
};
use bittersweet_core::{
    orientation::{Ending, QUESTIONS, Told},
    words::LANGUAGES as WORDS,
};
use std::collections::BTreeMap;

/// The highest grade of an English text (Flesch-Kincaid), and the lowest score of a Spanish one (Fernandez Huerta; from 70 on
/// a text is "fairly easy", which is read after six years of school).
const HIGHEST_GRADE: f64 = 6.0;
const LOWEST_SCORE: f64 = 70.0;

/// Shorter texts have no grade that means anything.
const FEWEST_WORDS: f64 = 9.0;

/// Silent reading of plain prose by adults, in words a minute: 238 in a review of 190 studies (Brysbaert 2019, from memory).
const WORDS_A_MINUTE: f64 = 238.0;

/// In the hood at the short pace: a set of squeezes and the whole test.
const IN_THE_HOOD_MINUTES: f64 = 1.1;

/// What is called four minutes.
const MOST_MINUTES: f64 = 4.5;

fn texts(language: &str) -> BTreeMap<String, String> {
    let (_, json) = WORDS.iter().find(|(tag, _)| *tag == language).expect("a language of the page");
    let texts: BTreeMap<String, String> = serde_json::from_str(json).expect("the build makes JSON");
    texts.into_iter().filter(|(key, _)| key.starts_with("worker.") || key.starts_with("ui.wearer.")).collect()
}

fn is_hard(grade: f64, language: &str) -> bool {
    if language == "es" { grade < LOWEST_SCORE } else { grade > HIGHEST_GRADE }
}

#[test]
fn every_text_is_read_after_six_years_of_school() {
    let mut found = Vec::new();
    for language in LANGUAGES {
        let texts = texts(language);
        assert!(texts.len() > 80, "{language}: {}", texts.len());
        for (key, text) in &texts {
            for paragraph in text.lines() {
                let (words, grade) = reading(paragraph, language);
                if words >= FEWEST_WORDS && is_hard(grade, language) {
                    found.push(format!("{language}: `{key}`: read at {grade:.1}: {paragraph}"));
                }
            }
        }
        let questions = grades(language).into_iter().filter(|(_, place)| place.contains("wearer.toml"));
        found.extend(
            questions
                .filter(|(grade, _)| is_hard(*grade, language))
                .map(|(grade, place)| format!("{place}: read at {grade:.1}")),
        );
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn it_is_read_and_done_in_four_minutes() {
    for language in LANGUAGES {
        let texts = texts(language);
        let words = |key: &str| texts.get(key).map_or(0.0, |text| reading(text, language).0);
        let told: f64 = Told::ALL
            .iter()
            .flat_map(|told| ["title", "text"].map(|part| words(&format!("worker.told.{}.{part}", told.code()))))
            .sum();
        let longest = Ending::ALL.iter().map(|ending| words(&format!("worker.after.{}.text", ending.code())));
        let longest = longest.fold(0.0, f64::max);
        // A question with its options, why it is so, and why the chosen option is right or wrong.
        let mut questions: Vec<f64> = all()
            .iter()
            .filter(|asked| asked.file == "wearer")
            .filter_map(|asked| {
                let texts = asked.texts.get(language)?;
                let because = texts.options.iter().map(|option| reading(&option.because, language).0);
                let options: f64 = texts.options.iter().map(|option| reading(&option.text, language).0).sum();
                let asks = reading(&texts.ask, language).0 + reading(&texts.because, language).0;
                Some(asks + options + because.fold(0.0, f64::max))
            })
            .collect();
        questions.sort_by(f64::total_cmp);
        let questions: f64 = questions.iter().rev().take(QUESTIONS).sum();
        let minutes = IN_THE_HOOD_MINUTES + (told + longest + questions) / WORDS_A_MINUTE;
        assert!(minutes < MOST_MINUTES, "{language}: {minutes:.1} minutes: {told} {longest} {questions}");
    }
}
