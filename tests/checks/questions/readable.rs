//! How hard the questions are to read: Flesch-Kincaid for English, Fernandez Huerta for Spanish.
//!
//! Words and sentences are counted as textstat does; syllables by rules of our own, so that nothing is needed but the text.
//! How near that comes is measured on a sample that textstat has counted (`tests/reference/reading.py`).

use super::{Asked, LANGUAGES, all, none};
use serde_json::Value;
use std::{fs, path::Path};

/// The highest grade of a question with its options: pupils of thirteen read it.
pub(super) const HIGHEST_GRADE: f64 = 8.0;

/// The lowest score: plain Spanish.
pub(super) const LOWEST_SCORE: f64 = 65.0;

#[derive(Debug, Default)]
struct Counts {
    words: f64,
    sentences: f64,
    syllables: f64,
}

impl Counts {
    fn of(text: &str, language: &str) -> Self {
        let words = words(text);
        let syllables = words.iter().map(|word| if language == "es" { spanish(word) } else { english(word) }).sum();
        Self { words: count(words.len()), sentences: sentences(text), syllables }
    }

    fn flesch_kincaid(&self) -> f64 {
        0.39 * (self.words / self.sentences) + 11.8 * (self.syllables / self.words) - 15.59
    }

    fn fernandez_huerta(&self) -> f64 {
        206.84 - 60.0 * (self.syllables / self.words) - 1.02 * (self.words / self.sentences)
    }

    fn grade(&self, language: &str) -> f64 {
        if language == "es" { self.fernandez_huerta() } else { self.flesch_kincaid() }
    }
}

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).expect("no text is that long"))
}

/// What stands between blanks, without marks; a hyphen makes one word of two.
fn words(text: &str) -> Vec<String> {
    let kept = |letter: &char| letter.is_alphanumeric() || letter.is_whitespace() || matches!(letter, '\'' | '_');
    let plain: String = text.to_lowercase().replace('\u{2019}', "").chars().filter(kept).collect();
    let words = plain.split_whitespace().map(|word| word.trim_matches('\'').to_owned());
    words.filter(|word| !word.is_empty()).collect()
}

/// Ended by a full stop or such; what has two words or less is none.
fn sentences(text: &str) -> f64 {
    let long = text.split(['.', '!', '?']).filter(|sentence| words(sentence).len() > 2).count();
    count(long.max(1))
}

/// Groups of vowels, less those that are silent at the end, and two where a group is spoken as two.
fn english(word: &str) -> f64 {
    if word == "people" {
        return 2.0;
    }
    if let Some(before) = word.strip_suffix("piece").filter(|before| !before.is_empty()) {
        return english(before) + 1.0;
    }
    let word: Vec<char> = word.chars().filter(|letter| letter.is_alphanumeric()).collect();
    let is_vowel = |letter: char| "aeiouyáéíóúü".contains(letter);
    let mut groups = 0;
    let mut before = false;
    for letter in &word {
        groups += i32::from(is_vowel(*letter) && !before);
        before = is_vowel(*letter);
    }
    let silent = match word.as_slice() {
        [.., 'g', 'u', 'e'] => true,
        [.., before, 'l', 'e'] => is_vowel(*before),
        [.., before, 'e'] => !is_vowel(*before),
        [.., 's' | 'x' | 'z' | 'c' | 'g', 'e', 's'] | [.., 'c' | 's', 'h', 'e', 's'] => false,
        [.., before, 'e', 's'] => !is_vowel(*before),
        [.., before, 'e', 'd'] => !is_vowel(*before) && !matches!(before, 't' | 'd'),
        _ => false,
    };
    let two = word.windows(3).filter(|three| {
        matches!(three, [before, 'i', 'a' | 'o' | 'u'] if !"qtcsg".contains(*before))
            || matches!(three, [_, 'e', 'o'] | [_, 'y', 'i'])
    });
    count(usize::try_from((groups - i32::from(silent)).max(0)).expect("not below nought") + two.count()).max(1.0)
}

/// Vowels, two that glide together as one; the `u` of `que` and `gue` is silent.
fn spanish(word: &str) -> f64 {
    let word: Vec<char> = word.chars().filter(|letter| letter.is_alphanumeric()).collect();
    let is_weak = |letter: char| "iuü".contains(letter);
    let is_vowel = |letter: char| "aeoáéíóúiuü".contains(letter);
    let mut syllables = 0;
    let mut last: Option<char> = None;
    for (place, letter) in word.iter().copied().enumerate() {
        let next = word.get(place + 1).copied();
        let silent = letter == 'u'
            && matches!(last_letter(&word, place), Some('q' | 'g'))
            && matches!(next, Some('e' | 'i' | 'é' | 'í'));
        let sounds = is_vowel(letter) && !silent;
        let ends_in_y = letter == 'y' && next.is_none() && last.is_none();
        if sounds && !last.is_some_and(|before| is_weak(before) || is_weak(letter)) || ends_in_y {
            syllables += 1;
        }
        last = sounds.then_some(letter);
    }
    count(syllables.max(1))
}

fn last_letter(word: &[char], place: usize) -> Option<char> {
    word.get(place.checked_sub(1)?).copied()
}

/// The question and its options, each as a sentence.
fn whole(asked: &Asked, language: &str) -> Option<String> {
    let texts = asked.texts.get(language)?;
    let parts = [&texts.ask].into_iter().chain(texts.options.iter().map(|option| &option.text));
    let ended = |text: &String| {
        let text = text.trim();
        let end = text.trim_end_matches(['"', '\u{201d}', '\u{bb}', ')']).ends_with(['.', '!', '?']);
        if end { text.to_owned() } else { format!("{text}.") }
    };
    Some(parts.map(ended).collect::<Vec<_>>().join(" "))
}

/// How many words a text has, and its grade or score.
pub(crate) fn reading(text: &str, language: &str) -> (f64, f64) {
    let counts = Counts::of(text, language);
    (counts.words, counts.grade(language))
}

/// The grade, or the score, of each question.
pub(crate) fn grades(language: &str) -> Vec<(f64, String)> {
    let grade = |asked: &Asked| {
        let grade = Counts::of(&whole(asked, language)?, language).grade(language);
        Some((grade, format!("{language}/{}.toml: {}", asked.file, asked.id())))
    };
    all().iter().filter_map(grade).collect()
}

#[test]
fn the_questions_are_plain_to_read() {
    let mut found = Vec::new();
    for language in LANGUAGES {
        for (grade, place) in grades(language) {
            let hard = if language == "es" { grade < LOWEST_SCORE } else { grade > HIGHEST_GRADE };
            if hard {
                found.push(format!("{place}: ask and options: read at {grade:.1}"));
            }
        }
    }
    none(&found);
}

/// How far the grade of a text may be from textstat's, and the mean of all.
const ONE_OFF: f64 = 1.5;
const MEAN_OFF: f64 = 0.5;

/// The Spanish score: its counting by places for a hyphen finds fewer syllables than are spoken, so ours is the stricter.
const ONE_BELOW: f64 = 25.0;
const ONE_ABOVE: f64 = 2.0;

#[test]
fn words_and_sentences_and_formulas_are_those_of_textstat() {
    for language in LANGUAGES {
        for (text, [words, sentences, syllables, grade]) in sample(language) {
            let ours = Counts::of(&text, language);
            let off = (ours.words - words).abs() + (ours.sentences - sentences).abs();
            assert!(off < 1e-9, "{ours:?}, not {words} words and {sentences} sentences: {text}");
            let theirs = Counts { words, sentences, syllables }.grade(language);
            assert!((theirs - grade).abs() < 1e-9, "{theirs}, not {grade}: {text}");
        }
    }
}

/// How far off each text of the sample is, and all of them in the mean.
pub(super) fn off(language: &str) -> (Vec<(f64, String)>, f64) {
    let off = |(text, [.., grade]): (String, [f64; 4])| (Counts::of(&text, language).grade(language) - grade, text);
    let all: Vec<(f64, String)> = sample(language).into_iter().map(off).collect();
    let mean = all.iter().map(|(off, _)| off).sum::<f64>() / count(all.len());
    (all, mean)
}

#[test]
fn english_syllables_are_near_those_of_textstat() {
    let (all, mean) = off("en");
    assert!(mean.abs() < MEAN_OFF, "{mean}");
    for (off, text) in all {
        assert!(off.abs() < ONE_OFF, "{off}: {text}");
    }
}

#[test]
fn spanish_is_counted_more_strictly_than_by_textstat() {
    for (off, text) in off("es").0 {
        assert!((-ONE_BELOW..=ONE_ABOVE).contains(&off), "{off}: {text}");
    }
}

#[test]
fn syllables_of_known_words_are_counted() {
    for (word, syllables) in [
        ("mask", 1.0),
        ("tasted", 2.0),
        ("squeezes", 2.0),
        ("people", 2.0),
        ("tongue", 1.0),
        ("facepiece", 2.0),
        ("nebulizer", 4.0),
        ("the", 1.0),
        ("seal", 1.0),
    ] {
        assert!((english(word) - syllables).abs() < 1e-9, "{word}: {}", english(word));
    }
    let known = [
        ("qué", 1.0),
        ("capucha", 3.0),
        ("agua", 2.0),
        ("umbral", 2.0),
        ("día", 2.0),
        ("siguiente", 3.0),
        ("muy", 1.0),
        ("y", 1.0),
    ];
    for (word, syllables) in known {
        assert!((spanish(word) - syllables).abs() < 1e-9, "{word}: {}", spanish(word));
    }
}

/// Texts of the sample with words, sentences, syllables and grade as textstat has them.
fn sample(language: &str) -> Vec<(String, [f64; 4])> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference");
    let read = |path: &str| fs::read_to_string(folder.join(path)).unwrap_or_else(|error| panic!("{path}: {error}"));
    let counted: Value = serde_json::from_str(&read("vectors/reading.json")).expect("vectors are JSON");
    let rows = counted[language].as_array().expect("a list");
    let texts = read(&format!("reading/{language}.txt"));
    assert_eq!((texts.lines().count(), rows.len()), (60, 60));
    let numbers = |row: &Value| [0, 1, 2, 3].map(|place| row[place].as_f64().expect("a number"));
    texts.lines().map(str::to_owned).zip(rows.iter().map(numbers)).collect()
}
