//! The model's arithmetic beside general scientific libraries: whether the vectors that the Rust checks read are still what
//! the libraries say, and, where time is no object, many more of them.

use crate::{
    cargo::cargo,
    folders, python, slow,
    tools::{self, run},
};
use anyhow::{Result, bail};
use std::{fs, path::Path, process::Command};

/// What the Rust check of the large sets notes of each of them begins with this.
const NOTED: &str = "worst relative error of level and taste against SciPy";

/// Makes the committed vectors again and compares; with `all`, makes large sets and has the Rust checks read them too.
///
/// # Errors
/// When a number differs, or the libraries cannot be had.
pub(crate) fn check(all: bool) -> Result<()> {
    let sources = folders::root().join("tests/reference");
    let folder = folders::target().join("reference");
    let python = python::environment(&folder, &sources.join("requirements.txt"))?;
    let script = sources.join("all.py");
    run(Command::new(&python).arg(&script).arg("--check"))?;
    let second = |vectors: &Path| second_opinion(&sources.join("spacing"), &folder.join("spacing"), vectors);
    second(&sources.join("vectors"))?;
    if !all {
        return Ok(());
    }
    let large = folder.join("vectors");
    run(Command::new(&python).arg(&script).arg("--all").arg(&large))?;
    second(&large)?;
    let mut checks = cargo();
    checks.args(["test", "--package", "bittersweet-checks", "--locked", "--test", "checks", "reference::"]);
    run(slow::ask(&mut checks, true).env("BITTERSWEET_REFERENCE", large))?;
    // A filter that matches nothing passes too.
    if !slow::is_noted(NOTED) {
        bail!("the large sets were made, but nothing compared them");
    }
    Ok(())
}

/// Goes through the histories among the vectors with another library, whose packages are installed into a folder.
fn second_opinion(sources: &Path, folder: &Path, vectors: &Path) -> Result<()> {
    fs::create_dir_all(folder)?;
    for file in ["package.json", "package-lock.json"] {
        // What is the same is not written again, so that the packages stay newer.
        if fs::read(sources.join(file)).ok() != fs::read(folder.join(file)).ok() {
            fs::copy(sources.join(file), folder.join(file))?;
        }
    }
    tools::packages(folder)?;
    run(Command::new("node").arg(sources.join("second.mjs")).arg(folder).arg(vectors.join("spacing.json")))
}
