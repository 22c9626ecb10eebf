//! The built-in scenarios: JSON files in, one table of texts out. Whether each is valid is left to the tests, which have
//! the crate's own reader.

use crate::faults::Faults;
use std::{fmt::Write as _, fs, path::Path};

/// The order in which they are offered: easier ones first.
const ORDER: &str = "order.txt";

/// Generates `BUILT_IN`.
pub(crate) fn generate(folder: &Path, faults: &mut Faults) -> String {
    let order = fs::read_to_string(folder.join(ORDER)).unwrap_or_default();
    let ids: Vec<&str> = order.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let mut rows = String::new();
    for id in &ids {
        match fs::read_to_string(folder.join(format!("{id}.json"))) {
            Ok(text) => {
                let _ = write!(rows, "({id:?}, {text:?}),");
            }
            Err(error) => faults.push(&format!("scenarios/{ORDER}: {id}"), &error.to_string()),
        }
    }
    for name in
        fs::read_dir(folder).expect("data/scenarios is there").filter_map(Result::ok).map(|entry| entry.file_name())
    {
        let name = name.to_string_lossy().into_owned();
        if name.strip_suffix(".json").is_some_and(|id| !ids.contains(&id)) {
            faults.push(&format!("scenarios/{name}"), &format!("is not in {ORDER}"));
        }
    }
    format!(
        "/// Each built-in scenario: its id and its file. The page fetches them; nothing of this ends up in it.\npub const \
         BUILT_IN: &[(&str, &str)] = &[{rows}];\n"
    )
}
