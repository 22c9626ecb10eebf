//! That nothing but knowledge helps to find the right option: neither its place nor its length.

use super::{Asked, LANGUAGES, bank, none};
use bittersweet_core::{
    question::{Options, Task, ask::ask},
    rulebook::Agent,
};
use std::collections::BTreeMap;

/// Of its questions with one right option, a file may have so many in a hundred on one letter, where there are this many.
const MOST_ON_A_LETTER: usize = 45;
const FROM: usize = 8;

/// In the whole bank each of the four letters has at least, and at most, so many in a hundred.
const IN_THE_BANK: [usize; 2] = [17, 33];

/// Seeds with which places are counted, and how far a count may be off its mean in standard deviations.
const SEEDS: u64 = 400;
const DEVIATIONS: f64 = 5.0;

fn one(asked: &Asked) -> Option<(&Options, char)> {
    match &asked.question.task {
        Task::One(options) => Some((options, *options.right.first()?)),
        Task::Many(_) | Task::Order(_) | Task::Log(_) | Task::Picture(..) | Task::Number(_) => None,
    }
}

#[test]
fn right_letters_are_spread_in_each_file_and_in_the_bank() {
    let bank = bank();
    let mut counts: BTreeMap<&str, BTreeMap<char, usize>> = BTreeMap::new();
    for asked in &bank {
        if let Some((_, right)) = one(asked) {
            for place in [asked.file, "the bank"] {
                *counts.entry(place).or_default().entry(right).or_default() += 1;
            }
        }
    }
    let mut found = Vec::new();
    for (place, letters) in &counts {
        let all: usize = letters.values().sum();
        let four = ['a', 'b', 'c', 'd'].map(|letter| letters.get(&letter).copied().unwrap_or_default());
        let [least, most] = if *place == "the bank" { IN_THE_BANK } else { [0, MOST_ON_A_LETTER] };
        if all >= FROM && four.iter().any(|count| count * 100 > all * most || count * 100 < all * least) {
            found.push(format!("{place}: right letters a to d: {four:?} of {all}"));
        }
    }
    none(&found);
}

#[test]
fn as_shown_the_right_option_stands_anywhere() {
    for asked in bank() {
        let Some((options, right)) = one(&asked) else { continue };
        let mut counts = vec![0.0; options.letters.len()];
        for seed in 0..SEEDS {
            let shown = ask(seed, &asked.question, Agent::Sweet).shown;
            counts[shown.iter().position(|letter| *letter == right).expect("it is shown")] += 1.0;
        }
        let (seeds, share) = (400.0_f64, 1.0 / f64::from(u8::try_from(counts.len()).expect("few options")));
        let off = DEVIATIONS * (seeds * share * (1.0 - share)).sqrt();
        for count in &counts {
            assert!((count - seeds * share).abs() < off, "{}: {counts:?}", asked.id());
        }
    }
}

/// Over one sitting, as one learner sees it: each place has its share too.
#[test]
fn with_one_seed_the_whole_bank_is_spread() {
    let bank = bank();
    let mut counts = [0.0; 4];
    let mut all = 0.0;
    for asked in &bank {
        let Some((options, right)) = one(asked) else { continue };
        if options.letters.len() == 4 {
            let shown = ask(2_026, &asked.question, Agent::Bitter).shown;
            counts[shown.iter().position(|letter| *letter == right).expect("it is shown")] += 1.0;
            all += 1.0;
        }
    }
    let off = DEVIATIONS * f64::sqrt(all * 0.25 * 0.75);
    assert!(all > 50.0 && counts.iter().all(|count| f64::abs(count - all / 4.0) < off), "{counts:?} of {all}");
}

/// In how many questions the right option is the longest (a tie is shared), how many that would be by chance, and of how many.
pub(super) fn longest(language: &str) -> [f64; 3] {
    let (mut longest, mut expected, mut all) = (0.0, 0.0, 0.0);
    for asked in bank() {
        let (Some((options, right)), Some(texts)) = (one(&asked), asked.texts.get(language)) else { continue };
        let length = |letter: &char| texts.option(*letter).map_or(0, |option| option.text.chars().count());
        let most = options.letters.iter().map(length).max().unwrap_or_default();
        let as_long = options.letters.iter().filter(|letter| length(letter) == most).count();
        let part = |of: usize| 1.0 / f64::from(u8::try_from(of).expect("few options"));
        if length(&right) == most {
            longest += part(as_long);
        }
        expected += part(options.letters.len());
        all += 1.0;
    }
    [longest, expected, all]
}

/// Whoever marks the longest option does no better than whoever guesses.
#[test]
fn length_does_not_tell_the_right_option() {
    let mut found = Vec::new();
    for language in LANGUAGES {
        let [longest, expected, all] = longest(language);
        if longest > expected {
            found.push(format!(
                "{language}: the right option is the longest in {longest:.1} of {all}, {expected:.1} at most"
            ));
        }
    }
    none(&found);
}
