//! The words of each language, as the page fetches them.

use crate::cargo::cargo;
use anyhow::{Context as _, Result, bail};
use std::{collections::BTreeMap, process::Stdio};

/// Language tag to JSON text.
pub(crate) type Words = BTreeMap<String, String>;

/// The words that this tool was built with.
pub(crate) fn built_in() -> Words {
    bittersweet_core::words::LANGUAGES.iter().map(|&(tag, json)| (tag.to_owned(), json.to_owned())).collect()
}

/// Prints the words for [`fresh`].
///
/// # Errors
/// When they cannot be written as JSON.
pub(crate) fn print() -> Result<()> {
    println!("{}", serde_json::to_string(&built_in())?);
    Ok(())
}

/// The words as the files have them now, while this tool has been running since before they changed.
///
/// # Errors
/// When the tool does not build any more; the error is the compiler's text.
pub(crate) fn fresh() -> Result<Words> {
    let output = cargo()
        .args(["run", "--quiet", "--package", "xtask", "--", "words"])
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

    #[test]
    fn every_language_is_one_json_object() {
        let words = built_in();
        assert!(words.contains_key("en"));
        for (tag, json) in words {
            let texts: BTreeMap<String, String> = serde_json::from_str(&json).unwrap();
            assert!(!texts.is_empty(), "{tag}");
        }
    }
}
