//! Whether the engine says the same in WebAssembly as natively, to the byte: every kept run replayed, written and judged again,
//! scenarios drawn by seed, and drills.
//!
//! What is said is in `tests/alike/`; that the kept runs are still what they were is checked natively.

use crate::{
    cargo::{WASM, cargo},
    folders,
    tools::{run, said},
    wasm,
};
use anyhow::{Context as _, Result, bail, ensure};
use bittersweet_alike::{Again, drawn, drilled};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

const PACKAGE: &str = "bittersweet-alike";

/// How many scenarios are drawn, and how many drills.
const DRAWN: u32 = 200;

/// How much is shown of what differs, in letters.
const SHOWN: usize = 60;

/// Compares everything. Returns how many texts were alike.
///
/// # Errors
/// When something cannot be built or read, or at the first text that differs, and where.
pub(crate) fn check() -> Result<usize> {
    let files = kept()?;
    let mut node = Command::new("node");
    node.arg(folders::root().join("tests/alike/in_wasm.mjs")).arg(bound()?).arg(DRAWN.to_string()).args(&files);
    let in_wasm: Vec<String> = serde_json::from_str(&said(&mut node)?)?;
    let mut natively = Vec::new();
    for file in &files {
        let name = name(file);
        let again = Again::of(&fs::read_to_string(file)?).with_context(|| name.clone())?;
        natively.push((name, again.joined()));
    }
    natively.extend((0..DRAWN).map(|number| (format!("drawn scenario {number}"), drawn(number))));
    natively.extend((0..DRAWN).map(|number| (format!("drill {number}"), drilled(number))));
    ensure!(in_wasm.len() == natively.len(), "{} texts for {}", in_wasm.len(), natively.len());
    for ((name, natively), in_wasm) in natively.iter().zip(&in_wasm) {
        if let Some(where_and_what) = difference(natively, in_wasm) {
            bail!("{name} differs in WebAssembly {where_and_what}");
        }
    }
    Ok(natively.len())
}

/// The engine in WebAssembly: the folder of the bound module.
fn bound() -> Result<PathBuf> {
    run(cargo().args(["build", "--locked", "--package", PACKAGE, "--lib", "--target", WASM]))?;
    let bare = folders::target().join(WASM).join("debug").join(format!("{}.wasm", PACKAGE.replace('-', "_")));
    let bound = wasm::bind(&bare)?;
    let folder = folders::target().join("alike");
    fs::create_dir_all(&folder)?;
    fs::write(folder.join("alike.wasm"), bound.wasm)?;
    fs::write(folder.join("alike.mjs"), bound.glue)?;
    Ok(folder)
}

/// Every kept run, those of earlier engines too.
fn kept() -> Result<Vec<PathBuf>> {
    let mut folders = vec![folders::root().join("tests/golden")];
    let mut files = Vec::new();
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).with_context(|| folder.display().to_string())? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "json") {
                files.push(path);
            }
        }
    }
    ensure!(!files.is_empty(), "no kept runs");
    files.sort();
    Ok(files)
}

fn name(file: &Path) -> String {
    file.strip_prefix(folders::root()).unwrap_or(file).display().to_string()
}

/// The first place where two texts differ, and what stands there in each.
fn difference(natively: &str, in_wasm: &str) -> Option<String> {
    if natively == in_wasm {
        return None;
    }
    let same = natively.chars().zip(in_wasm.chars()).take_while(|(one, other)| one == other).count();
    let shown = |text: &str| -> String { text.chars().skip(same.saturating_sub(SHOWN / 2)).take(SHOWN).collect() };
    Some(format!("at letter {}: natively {:?}, there {:?}", same + 1, shown(natively), shown(in_wasm)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_place_that_differs_is_named() {
        assert_eq!(difference("same", "same"), None);
        let said = difference("{\"at\":1200}", "{\"at\":1300}").unwrap();
        assert!(said.starts_with("at letter 8: ") && said.contains("1200") && said.contains("1300"), "{said}");
        assert!(difference("cut off", "cut").unwrap().starts_with("at letter 4: "));
    }
}
