//! Near-duplicates: two questions that share too many runs of three words.

use super::{Asked, LANGUAGES, bank, none};
use std::collections::BTreeSet;

/// Words in a run.
const RUN: usize = 3;

/// The share of runs that two questions may have in common, of all runs in either.
pub(super) const MOST: f64 = 0.2;

fn runs(text: &str) -> BTreeSet<Vec<String>> {
    let lower = text.to_lowercase();
    let words: Vec<String> = lower
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_owned)
        .collect();
    words.windows(RUN).map(<[String]>::to_vec).collect()
}

fn share(one: &BTreeSet<Vec<String>>, other: &BTreeSet<Vec<String>>) -> f64 {
    let count = |number: usize| f64::from(u32::try_from(number).expect("few runs"));
    let (both, either) = (one.intersection(other).count(), one.union(other).count());
    if either == 0 { 0.0 } else { count(both) / count(either) }
}

/// The question and its options.
fn whole(asked: &Asked, language: &str) -> Option<String> {
    let texts = asked.texts.get(language)?;
    let options: Vec<&str> = texts.options.iter().map(|option| option.text.as_str()).collect();
    Some(format!("{} {}", texts.ask, options.join(" ")))
}

/// All pairs with what they share, the most first.
pub(super) fn pairs(language: &str) -> Vec<(f64, String)> {
    let bank = bank();
    let read: Vec<_> = bank.iter().filter_map(|asked| Some((asked, runs(&whole(asked, language)?)))).collect();
    let mut pairs = Vec::new();
    for (number, (one, runs)) in read.iter().enumerate() {
        for (other, theirs) in read.iter().skip(number + 1) {
            let share = share(runs, theirs);
            if share > 0.0 {
                pairs.push((
                    share,
                    format!("{} in {}.toml and {} in {}.toml", one.id(), one.file, other.id(), other.file),
                ));
            }
        }
    }
    pairs.sort_by(|one, other| other.0.total_cmp(&one.0));
    pairs
}

#[test]
fn no_two_questions_say_nearly_the_same() {
    let mut found = Vec::new();
    for language in LANGUAGES {
        for (share, pair) in pairs(language).into_iter().take_while(|(share, _)| *share > MOST) {
            found.push(format!("{language}: {pair} share {share:.2} of their runs of three words"));
        }
    }
    none(&found);
}

#[test]
fn a_question_with_one_word_changed_is_found() {
    let one =
        "Ten squeezes: nothing. At the eleventh the wearer tastes the agent. What do you note? Ten. Twenty. Thirty.";
    assert!(share(&runs(one), &runs(&one.replace("eleventh", "twelfth"))) > MOST);
    assert!(share(&runs(one), &runs("The phone rings at a replenishment. What do you do? Let it ring.")) < 0.05);
}
