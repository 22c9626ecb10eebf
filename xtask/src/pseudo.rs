//! A language made from English by code: every letter wears an accent and every text is longer than in English, so that
//! what is not translated, or has no room, is seen at once.
//!
//! It is for developers: `serve` offers it, the browser tests walk through it, and no site that is shipped has it.

use crate::texts::parsed;
use bittersweet_core::words::LANGUAGES;
use std::collections::BTreeMap;

/// Its tag, as is usual for such a language.
pub(crate) const TAG: &str = "en-XA";

/// Each letter, and what stands for it: no letter of English remains.
const ACCENTED: [(&str, &str); 2] = [
    ("abcdefghijklmnopqrstuvwxyz", "åƀçđéƒĝħïĵķļɱñöþǫŕšŧûṽŵẋýž"),
    ("ABCDEFGHIJKLMNOPQRSTUVWXYZ", "ÅƁÇĐÉƑĜĦÏĴĶĻṀÑÖÞǪŔŠŦÛṼŴẊÝŽ"),
];

/// All texts of it.
pub(crate) fn language() -> BTreeMap<String, String> {
    let (_, english) = LANGUAGES.iter().find(|(tag, _)| *tag == "en").expect("English is the measure");
    parsed(english).into_iter().map(|(key, text)| (key, pseudo(&text))).collect()
}

/// A text in it: letters with accents, placeholders as they were, brackets round it, and a third more of it.
fn pseudo(text: &str) -> String {
    let mut out = String::from("⟦");
    let mut in_placeholder = false;
    for letter in text.chars() {
        in_placeholder = (in_placeholder || letter == '{') && letter != '}';
        out.push(if in_placeholder { letter } else { accented(letter) });
    }
    let longer = text.chars().count().div_ceil(3);
    out.extend(std::iter::once(' ').chain(std::iter::repeat('·')).take(longer));
    out.push('⟧');
    out
}

fn accented(letter: char) -> char {
    let stands_for = |(plain, accented): &(&str, &str)| {
        plain.chars().position(|other| other == letter).and_then(|place| accented.chars().nth(place))
    };
    ACCENTED.iter().find_map(stands_for).unwrap_or(letter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_letter_of_english_remains_outside_placeholders() {
        for (key, text) in language() {
            let mut rest = text.as_str();
            while let Some((before, after)) = rest.split_once('{') {
                assert!(!before.contains(|letter: char| letter.is_ascii_alphabetic()), "{key}: {text}");
                rest = after.split_once('}').map_or("", |(_, after)| after);
            }
            assert!(!rest.contains(|letter: char| letter.is_ascii_alphabetic()), "{key}: {text}");
        }
    }

    #[test]
    fn placeholders_stay_and_the_text_grows() {
        assert_eq!(pseudo("Ask {name}"), "⟦Åšķ {name} ···⟧");
    }
}
