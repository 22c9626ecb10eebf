//! What can come up: TOML in, the kinds and their catalogue out.

use crate::{faults::Faults, names::camel};
use serde::Deserialize;
use std::{collections::BTreeSet, fmt::Write as _, fs, path::Path};

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    trouble: Vec<Trouble>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Trouble {
    id: String,
    group: String,
    arises: Vec<String>,
    shows: Vec<String>,
    good: Vec<String>,
    breaks: Vec<String>,
}

const GROUPS: &[&str] = &["who", "equipment", "fitting", "wearer", "distress", "pressure", "harmless"];
const MOMENTS: &[&str] = &["found", "throughout", "doing", "start", "screening", "initial", "exercise", "result"];

/// Generates `Kind` and `CATALOGUE`. Whether signs and acts have such codes is left to the tests; a rule that is none does
/// not compile.
pub(crate) fn generate(file: &Path, faults: &mut Faults) -> String {
    let read: File = match toml::from_str(&fs::read_to_string(file).unwrap_or_default()) {
        Ok(read) => read,
        Err(error) => {
            faults.push("trouble.toml", &error.to_string());
            return String::new();
        }
    };
    let (mut kinds, mut rows) = (String::new(), String::new());
    let mut known = BTreeSet::new();
    for Trouble { id, group, arises, shows, good, breaks } in &read.trouble {
        let place = format!("trouble.toml: {id}");
        if !known.insert(id) {
            faults.push(&place, "stands in it twice");
        }
        if !GROUPS.contains(&group.as_str()) {
            faults.push(&place, &format!("group is none of {}", GROUPS.join(", ")));
        }
        if arises.is_empty() || arises.iter().any(|moment| !MOMENTS.contains(&moment.as_str())) {
            faults.push(&place, &format!("arises is none of {}", MOMENTS.join(", ")));
        }
        if shows.is_empty() || breaks.is_empty() {
            faults.push(&place, "shows and breaks name at least one each");
        }
        let name = camel(id);
        let _ = writeln!(kinds, "/// `{id}`.\n{name} = {id:?},");
        let moments: String = arises.iter().map(|moment| format!("Moment::{},", camel(moment))).collect();
        let rules: String = breaks.iter().map(|rule| format!("RuleId::{},", camel(rule))).collect();
        let _ = writeln!(
            rows,
            "Entry {{ kind: Kind::{name}, group: Group::{}, arises: &[{moments}], shows: &{shows:?}, good: &{good:?}, \
             breaks: &[{rules}] }},",
            camel(group)
        );
    }
    format!(
        "coded! {{\n/// A kind of trouble, by its name in `data/trouble.toml`.\nKind {{\n{kinds}}}\n}}\n/// Every kind, \
         in the order of [`Kind`].\npub const CATALOGUE: &[Entry] = &[{rows}];\n"
    )
}
