//! The texts that the page fetches: words of each language, the built-in scenarios, and the questions.

use crate::cargo::cargo;
use anyhow::{Context as _, Result, bail};
use bittersweet_core::{
    questions::{TEXTS, TRUTH},
    scenarios::BUILT_IN,
    words::LANGUAGES,
};
use serde::{Deserialize, Serialize};
use std::{collections::BTreeMap, process::Stdio};

/// All texts, each as JSON.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Texts {
    /// The words, by language tag.
    pub(crate) words: BTreeMap<String, String>,
    /// The scenarios as one list, in the order in which they are offered.
    pub(crate) scenarios: String,
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
    let words = LANGUAGES.iter().map(|&(tag, json)| (tag.to_owned(), json.to_owned())).collect();
    let scenarios: Vec<&str> = BUILT_IN.iter().map(|(_, json)| json.trim()).collect();
    let truth = TRUTH.iter().map(|&(skill, json)| (skill.to_owned(), json.to_owned())).collect();
    let mut texts: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
    for &(tag, skill, json) in TEXTS {
        texts.entry(tag.to_owned()).or_default().insert(skill.to_owned(), json.to_owned());
    }
    Texts { words, scenarios: format!("[{}]", scenarios.join(",")), questions: Questions { truth, texts } }
}

/// Prints the texts for [`fresh`].
///
/// # Errors
/// When they cannot be written as JSON.
pub(crate) fn print() -> Result<()> {
    println!("{}", serde_json::to_string(&built_in())?);
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
    use serde_json::Value;

    #[test]
    fn every_language_is_one_json_object() {
        let words = built_in().words;
        assert!(words.contains_key("en"));
        for (tag, json) in words {
            let texts: BTreeMap<String, String> = serde_json::from_str(&json).unwrap();
            assert!(!texts.is_empty(), "{tag}");
        }
    }

    #[test]
    fn the_scenarios_are_one_json_list() {
        let list: Vec<Value> = serde_json::from_str(&built_in().scenarios).unwrap();
        assert_eq!(list.len(), BUILT_IN.len());
    }
}
