//! The texts of the page: what stands in it from the first, the words of each language, the built-in scenarios, and the
//! questions.

use crate::{cargo::cargo, pseudo};
use anyhow::{Context as _, Result, bail};
use bittersweet_core::{
    questions::{TEXTS, TRUTH},
    scenarios::BUILT_IN,
    words::LANGUAGES,
};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::{collections::BTreeMap, process::Stdio};

/// The family of keys that stands in the page itself.
const SHELL: &str = "shell.";

/// Texts of the first screen with which the page begins before its program has come, by their names in the page.
const STANDING: [(&str, &str); 3] = [("heading", "ui.home.title"), ("lead", "ui.home.lead"), ("motto", "ui.app.motto")];

/// The beginnings of the keys that the module which shows first needs. They are fetched apart from the others, and stand in no
/// other file.
const FIRST: [&str; 22] = [
    "agent.",
    "help.",
    "pace.",
    "scenario.",
    "skill.",
    "ui.about.",
    "ui.app.",
    "ui.caution.",
    "ui.home.",
    "ui.keep.",
    "ui.kept.",
    "ui.learners.nav",
    "ui.nav.",
    "ui.nowhere.",
    "ui.observe.lead",
    "ui.observe.title",
    "ui.observe.watched",
    "ui.offline.",
    "ui.open.",
    "ui.page.",
    "ui.wearer.page",
    "ui.wearer.way",
];

/// All texts.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Texts {
    /// What stands in the page itself, by language tag and by key.
    pub(crate) shell: BTreeMap<String, BTreeMap<String, String>>,
    /// The words that the first screen needs, by language tag, as JSON.
    pub(crate) words: BTreeMap<String, String>,
    /// All other words, likewise.
    pub(crate) more: BTreeMap<String, String>,
    /// The scenarios as one JSON list, in the order in which they are offered.
    pub(crate) scenarios: String,
    /// The same list with only what they are chosen by.
    pub(crate) offered: String,
    /// What is right, by skill, and the texts, by language and skill.
    pub(crate) questions: Questions,
}

/// The questions, each file as JSON.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Questions {
    /// What is right, by skill.
    pub(crate) truth: BTreeMap<String, String>,
    /// The texts, by language tag and skill.
    pub(crate) texts: BTreeMap<String, BTreeMap<String, String>>,
}

/// The texts that this tool was built with.
pub(crate) fn built_in() -> Texts {
    let scenarios: Vec<&str> = BUILT_IN.iter().map(|(_, json)| json.trim()).collect();
    let offered: Vec<Value> = scenarios.iter().map(|json| offered(json)).collect();
    let mut texts = Texts {
        scenarios: format!("[{}]", scenarios.join(",")),
        offered: json!(offered).to_string(),
        ..Texts::default()
    };
    for &(tag, json) in LANGUAGES {
        texts.add(tag, parsed(json));
    }
    texts.questions.truth = TRUTH.iter().map(|&(skill, json)| (skill.to_owned(), json.to_owned())).collect();
    for &(tag, skill, json) in TEXTS {
        texts.questions.texts.entry(tag.to_owned()).or_default().insert(skill.to_owned(), json.to_owned());
    }
    texts
}

/// The texts that this tool was built with, and besides them the pseudo-language.
pub(crate) fn for_developers() -> Texts {
    let mut texts = built_in();
    texts.add(pseudo::TAG, pseudo::language());
    texts
}

/// All words of the pseudo-language, as JSON.
pub(crate) fn pseudo() -> String {
    json!(pseudo::language()).to_string()
}

/// What a list shows of a scenario: a twelfth of the whole, which the first screen need not wait for.
fn offered(scenario: &str) -> Value {
    let whole: Value = serde_json::from_str(scenario).unwrap_or_default();
    let listed = ["id", "level", "practises", "agent", "colleague"].map(|key| (key, whole[key].clone()));
    let shown = listed.into_iter().filter(|(_, value)| !value.is_null()).map(|(key, value)| match key {
        // That there is one is enough.
        "colleague" => (key.to_owned(), json!({})),
        _ => (key.to_owned(), value),
    });
    let wearer = ("wearer".to_owned(), json!({ "name": whole["wearer"]["name"] }));
    Value::Object(shown.chain([wearer]).collect())
}

impl Texts {
    /// Adds a language, whose keys are those of its files.
    fn add(&mut self, tag: &str, all: BTreeMap<String, String>) {
        let (shell, words): (BTreeMap<_, _>, BTreeMap<_, _>) =
            all.into_iter().partition(|(key, _)| key.starts_with(SHELL));
        let shell = shell.into_iter().map(|(key, text)| (key.replacen(SHELL, "", 1), text));
        let standing = STANDING.into_iter().filter_map(|(name, key)| Some((name.to_owned(), words.get(key)?.clone())));
        let shell = shell.chain(standing).collect();
        let (first, more): (BTreeMap<_, _>, BTreeMap<_, _>) =
            words.into_iter().partition(|(key, _)| FIRST.iter().any(|first| key.starts_with(first)));
        self.shell.insert(tag.to_owned(), shell);
        self.words.insert(tag.to_owned(), json!(first).to_string());
        self.more.insert(tag.to_owned(), json!(more).to_string());
    }
}

/// A language as the core holds it.
pub(crate) fn parsed(json: &str) -> BTreeMap<String, String> {
    serde_json::from_str(json).expect("the core's own words are a map of texts")
}

/// Prints the texts for [`fresh`].
///
/// # Errors
/// When they cannot be written as JSON.
pub(crate) fn print() -> Result<()> {
    println!("{}", serde_json::to_string(&for_developers())?);
    Ok(())
}

/// The texts as the files have them now, while this tool has been running since before they changed.
///
/// # Errors
/// When the tool does not build any more; the error is the compiler's text.
pub(crate) fn fresh() -> Result<Texts> {
    let output = cargo()
        .args(["run", "--quiet", "--package", "xtask", "--", "texts"])
        .stdin(Stdio::null())
        .output()
        .context("cargo does not start")?;
    if !output.status.success() {
        bail!("{}", String::from_utf8_lossy(&output.stderr));
    }
    Ok(serde_json::from_slice(&output.stdout)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::wire::listed_v1::ListedV1;

    #[test]
    fn every_language_is_one_json_object() {
        let words = built_in().words;
        assert!(words.contains_key("en"));
        for (tag, json) in words {
            assert!(!parsed(&json).is_empty(), "{tag}");
        }
    }

    #[test]
    fn every_word_stands_in_one_file() {
        let Texts { words, more, .. } = built_in();
        for (tag, json) in &words {
            let (first, more) = (parsed(json), parsed(&more[tag]));
            assert!(!more.is_empty() && more.keys().all(|key| !first.contains_key(key)), "{tag}");
            // A beginning that begins no key is a slip.
            for beginning in FIRST {
                assert!(first.keys().any(|key| key.starts_with(beginning)), "{tag}: {beginning}");
            }
            assert!(json.len() < 40_000, "{tag}: {} bytes before the first screen", json.len());
        }
    }

    #[test]
    fn what_stands_in_the_page_is_not_fetched_as_well() {
        let texts = built_in();
        assert!(texts.shell["en"].contains_key("lead"));
        assert!(parsed(&texts.words["en"]).keys().all(|key| !key.starts_with(SHELL)));
    }

    #[test]
    fn every_text_of_the_shell_is_used() {
        let used = [
            include_str!("../../index.html"),
            include_str!("../../static/boot.js"),
            include_str!("site.rs"),
            include_str!("offline.rs"),
        ]
        .concat();
        for key in built_in().shell["en"].keys().filter(|key| *key != "noscript") {
            let named = [format!("shell.{key}}}"), format!("\"{key}\""), format!("texts.{key}")];
            assert!(named.iter().any(|name| used.contains(name)), "{key}");
        }
    }

    #[test]
    fn the_pseudo_language_is_for_developers_only() {
        assert!(!built_in().words.contains_key(pseudo::TAG));
        assert!(for_developers().words.contains_key(pseudo::TAG));
    }

    #[test]
    fn the_scenarios_are_one_json_list_and_are_offered_as_what_they_are() {
        let Texts { scenarios, offered, .. } = built_in();
        let whole: Vec<ListedV1> = serde_json::from_str(&scenarios).unwrap();
        let listed: Vec<ListedV1> = serde_json::from_str(&offered).unwrap();
        assert_eq!(whole.len(), BUILT_IN.len());
        assert_eq!(listed, whole);
        assert!(whole.iter().any(ListedV1::is_watched) && !whole.iter().all(ListedV1::is_watched));
        assert!(offered.len() * 10 < scenarios.len(), "{} of {}", offered.len(), scenarios.len());
    }
}
