//! The words of each language: TOML files in, one JSON text a language and the keys of screens out.
//!
//! English is the measure: another language must have the same keys with the same placeholders, and no text may be
//! empty. What is wrong is named by file and key, so that whoever adds an English text sees at once where its fellow
//! goes.

use crate::{faults::Faults, names::camel};
use std::{collections::BTreeMap, fmt::Write as _, fs, path::Path};
use toml::Value;

/// A text, and the file of its language in which it stands.
#[derive(Clone)]
struct Text {
    file: String,
    text: String,
}

type Texts = BTreeMap<String, Text>;

const MEASURE: &str = "en";

/// Generates `Word` (the texts that screens name themselves) and `LANGUAGES` (everything, as JSON).
pub(crate) fn generate(folder: &Path, faults: &mut Faults) -> String {
    let mut languages: BTreeMap<String, Texts> = BTreeMap::new();
    let entries = fs::read_dir(folder).expect("data/words is there");
    for entry in entries.filter_map(Result::ok).filter(|entry| entry.path().is_dir()) {
        let tag = entry.file_name().to_string_lossy().into_owned();
        languages.insert(tag, read_language(&entry.path(), faults));
    }
    let Some(measure) = languages.get(MEASURE).cloned() else {
        faults.push("data/words", "there is no `en` folder");
        return String::new();
    };
    for (tag, texts) in &languages {
        compare(&folder.join(tag), texts, &measure, faults);
    }

    let named: Vec<&String> = measure.keys().filter(|key| key.starts_with("ui.")).collect();
    // Constants, and no enum with a table of keys: of constants a module carries those that its own screens name.
    let constants = named
        .iter()
        .map(|key| {
            let text = measure[*key].text.replace('\n', " ");
            format!("/// {text}\npub const {}: Self = Self({key:?});\n", camel(&key[3..]))
        })
        .collect::<String>();
    let mut out = format!(
        "/// A text that a screen names itself, by its key in the language files; texts of acts, signs and rules are found by \
         their code.\n#[derive(Clone, Copy, Debug, PartialEq, Eq)]\npub struct Word(&'static str);\n\
         #[expect(non_upper_case_globals, reason = \"they read as the variants of an enum do\")]\nimpl Word {{ {constants} \
         /// The key in the language files.\n#[must_use] pub const fn key(self) -> &'static str {{ self.0 }} }}\n"
    );
    let rows = languages
        .iter()
        .map(|(tag, texts)| {
            let texts: BTreeMap<&String, &String> = texts.iter().map(|(key, text)| (key, &text.text)).collect();
            let json = serde_json::to_string(&texts).expect("a map of strings is JSON");
            format!("({tag:?}, {json:?}),")
        })
        .collect::<String>();
    let _ = write!(
        out,
        "/// Each language: its tag (BCP 47) and its words as one JSON object. The page fetches them; nothing of this \
         ends up in it.\npub const LANGUAGES: &[(&str, &str)] = &[{rows}];\n"
    );
    out
}

fn read_language(folder: &Path, faults: &mut Faults) -> Texts {
    let mut texts = Texts::new();
    let entries = fs::read_dir(folder).expect("a language folder can be read");
    for path in entries
        .filter_map(Result::ok)
        .map(|entry| entry.path())
        .filter(|path| path.extension() == Some("toml".as_ref()))
    {
        let place = path.display().to_string();
        let file = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let text = fs::read_to_string(&path).expect("a language file can be read");
        match text.parse::<toml::Table>() {
            Ok(table) => flatten("", &Value::Table(table), (&place, &file), &mut texts, faults),
            Err(error) => faults.push(&place, &error.to_string().replace('\n', " ")),
        }
    }
    texts
}

fn flatten(key: &str, value: &Value, (place, file): (&str, &str), texts: &mut Texts, faults: &mut Faults) {
    match value {
        Value::Table(table) => {
            for (name, inner) in table {
                let inner_key = if key.is_empty() { name.clone() } else { format!("{key}.{name}") };
                flatten(&inner_key, inner, (place, file), texts, faults);
            }
        }
        Value::String(text) if text.trim().is_empty() => faults.push(place, &format!("`{key}` is empty")),
        Value::String(text) => {
            let text = Text { file: file.to_owned(), text: text.clone() };
            if texts.insert(key.to_owned(), text).is_some() {
                faults.push(place, &format!("`{key}` stands in another file of this language already"));
            }
        }
        Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) | Value::Array(_) => {
            faults.push(place, &format!("`{key}` is not a text"));
        }
    }
}

fn compare(folder: &Path, texts: &Texts, measure: &Texts, faults: &mut Faults) {
    let place = |file: &str| folder.join(file).display().to_string();
    for (key, Text { file, text: english }) in measure {
        match texts.get(key) {
            None => faults.push(&place(file), &format!("`{key}` is missing; in English it is {english:?}")),
            Some(found) if found.file != *file => {
                faults
                    .push(&place(&found.file), &format!("`{key}` belongs into {file}, where the English text stands"));
            }
            Some(Text { text, .. }) if placeholders(text) != placeholders(english) => faults.push(
                &place(file),
                &format!(
                    "`{key}` has the placeholders {:?}, and in English {:?}",
                    placeholders(text),
                    placeholders(english)
                ),
            ),
            Some(_) => {}
        }
    }
    for (key, Text { file, .. }) in texts.iter().filter(|(key, _)| !measure.contains_key(*key)) {
        faults.push(&place(file), &format!("`{key}` is not among the English words"));
    }
}

fn placeholders(text: &str) -> Vec<&str> {
    let mut found: Vec<&str> =
        text.split('{').skip(1).filter_map(|rest| rest.split_once('}').map(|(name, _)| name)).collect();
    found.sort_unstable();
    found
}
