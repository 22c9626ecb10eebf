//! The questions: TOML files in, the same as JSON out, one text a skill and one a language and skill. What they say is
//! left to the crate's own reader and to the tests.

use crate::faults::Faults;
use std::{fmt::Write as _, fs, path::Path};

/// Generates `TRUTH` and `TEXTS`.
pub(crate) fn generate(folder: &Path, faults: &mut Faults) -> String {
    let row = |(skill, json): (String, String)| format!("({skill:?}, {json:?}),");
    let truth: String = files(folder, faults).into_iter().map(row).collect();
    let mut languages: Vec<_> =
        fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok).map(|entry| entry.path()).collect();
    languages.retain(|path| path.is_dir());
    languages.sort();
    let mut texts = String::new();
    for language in languages {
        let tag = language.file_name().unwrap_or_default().to_string_lossy().into_owned();
        for (skill, json) in files(&language, faults) {
            let _ = write!(texts, "({tag:?}, {skill:?}, {json:?}),");
        }
    }
    format!(
        "/// What is right, by skill. The page fetches it; nothing of this ends up in it.\npub const TRUTH: &[(&str, \
         &str)] = &[{truth}];\n/// The texts, by language and skill; fetched too.\npub const TEXTS: &[(&str, &str, \
         &str)] = &[{texts}];\n"
    )
}

/// The TOML files of a folder by name, each as JSON.
fn files(folder: &Path, faults: &mut Faults) -> Vec<(String, String)> {
    let mut paths: Vec<_> =
        fs::read_dir(folder).into_iter().flatten().filter_map(Result::ok).map(|entry| entry.path()).collect();
    paths.retain(|path| path.extension() == Some("toml".as_ref()));
    paths.sort();
    let mut read = Vec::new();
    for path in paths {
        let place = path.display().to_string();
        let text = fs::read_to_string(&path).expect("a question file can be read");
        match text.parse::<toml::Table>() {
            Ok(table) => {
                let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
                read.push((name, serde_json::to_string(&table).expect("a TOML table is JSON")));
            }
            Err(error) => faults.push(&place, &error.to_string().replace('\n', " ")),
        }
    }
    read
}
