//! What must not stand in a question: trade names, options that say nothing of their own, the same option twice.

use super::{LANGUAGES, all, none};
use std::collections::BTreeSet;

/// Trade and product names, held only as FNV-1a hashes of their small letters, so that none is written here. One or two words.
const NAMES: [u64; 47] = [
    0x07e0_5419_1745_b450,
    0x07ff_3b07_b4bf_937d,
    0x0892_ccff_25af_3512,
    0x0e3f_958b_f813_b364,
    0x14dd_ee0e_141c_3e0d,
    0x1684_49c4_a055_4254,
    0x1a1d_8d19_21dc_8772,
    0x1da3_4d48_6436_56b2,
    0x232d_1928_d28f_8a8a,
    0x2c1a_6769_4fa7_1ccc,
    0x3160_e421_2787_1d4f,
    0x349d_88c1_f5e0_fffa,
    0x44a3_2011_60dc_d07f,
    0x464b_8f7a_a0c2_07ee,
    0x5706_cd19_4470_4f7b,
    0x65c5_1ea9_d0c1_d674,
    0x670c_2c5d_ab18_0bca,
    0x6ace_6ae8_39a7_421c,
    0x6cfc_50ed_7109_438f,
    0x70f0_97a2_1d58_8f20,
    0x7db8_7816_6fa8_d0a2,
    0x885a_e1ef_8e1f_9814,
    0x8eb7_5978_dfa7_77f4,
    0x8eb7_5a78_dfa7_79a7,
    0x8eb7_5b78_dfa7_7b5a,
    0x8ebd_c578_dfac_9b26,
    0x8ebd_c678_dfac_9cd9,
    0x9691_03e4_112f_de77,
    0xa458_a629_7235_25f3,
    0xadbb_6483_c71d_4bf1,
    0xb5a9_3826_aa28_5cee,
    0xb5b8_3202_69ac_db49,
    0xbd56_5289_cdf9_489d,
    0xbdfe_7005_f1a1_e746,
    0xc1e9_f2fa_e556_cb51,
    0xc346_ea75_cc0d_20e0,
    0xc6c9_4966_8cf5_9124,
    0xcd28_e764_6669_56d4,
    0xcd28_e864_6669_5887,
    0xcd2f_d164_666f_5020,
    0xcd2f_d364_666f_5386,
    0xcd2f_d464_666f_5539,
    0xd201_17ce_bd44_3da2,
    0xd359_491e_4554_b413,
    0xd729_1350_48e8_cd8d,
    0xd775_74a3_8f42_96d3,
    0xfe89_17be_9682_95e8,
];

/// Options that speak of the others instead of the matter, negative questions, and the like.
const PHRASES: [&str; 14] = [
    "all of the above",
    "none of the above",
    "all of these",
    "none of these",
    "both a and b",
    "which is not",
    "except",
    "todas las anteriores",
    "ninguna de las anteriores",
    "todos los anteriores",
    "ninguno de los anteriores",
    "cuál no es",
    "cuál de estas no",
    "excepto",
];

fn hash(text: &str) -> u64 {
    text.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

fn words(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    lower.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn names_something(text: &str, names: &[u64]) -> bool {
    let words = words(text);
    (1..=2).any(|size| words.windows(size).any(|run| names.contains(&hash(&run.join(" ")))))
}

#[test]
fn no_text_has_a_trade_name_or_an_empty_phrase() {
    let mut found = Vec::new();
    for asked in all() {
        for language in LANGUAGES {
            let Some(texts) = asked.texts.get(language) else { continue };
            let place = |field: &str| format!("{language}/{}.toml: {}: {field}", asked.file, asked.id());
            let reasons = texts.options.iter().map(|option| (format!("{}_because", option.letter), &option.because));
            let options = texts.options.iter().map(|option| (option.letter.to_string(), &option.text));
            let asks = [("ask".to_owned(), &texts.ask), ("because".to_owned(), &texts.because)];
            for (field, text) in asks.into_iter().chain(options).chain(reasons) {
                if names_something(text, &NAMES) {
                    found.push(format!("{}: a trade name", place(&field)));
                }
                let run = format!(" {} ", words(text).join(" "));
                for phrase in PHRASES.iter().filter(|phrase| run.contains(&format!(" {phrase} "))) {
                    if !field.ends_with("because") {
                        found.push(format!("{}: says {phrase:?}", place(&field)));
                    }
                }
            }
        }
    }
    none(&found);
}

#[test]
fn a_name_is_found_by_its_hash() {
    let names = [hash("quick fox")];
    assert!(names_something("The Quick-Fox jumps.", &names));
    assert!(!names_something("The quick brown fox jumps.", &names));
}

#[test]
fn every_option_and_every_reason_says_something_of_its_own() {
    let mut found = Vec::new();
    for asked in all() {
        for language in LANGUAGES {
            let Some(texts) = asked.texts.get(language) else { continue };
            let mut said = BTreeSet::new();
            let mut say = |field: String, text: &str| {
                if !said.insert(words(text)) {
                    let place = format!("{language}/{}.toml: {}: {field}", asked.file, asked.id());
                    found.push(format!("{place}: stands in this question already"));
                }
            };
            say("because".to_owned(), &texts.because);
            for option in &texts.options {
                say(option.letter.to_string(), &option.text);
                say(format!("{}_because", option.letter), &option.because);
            }
        }
    }
    none(&found);
}
