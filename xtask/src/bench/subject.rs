//! What is measured, made ready: each subject is a program that takes one sample of itself and prints it as JSON.

use crate::{
    cargo::{WASM, cargo, without_paths},
    folders, python,
    tools::{run, said},
    wasm,
};
use anyhow::{Context as _, Result};
use serde::Deserialize;
use serde_json::Value;
use std::{
    env, fs,
    path::{Path, PathBuf},
    process::Command,
};

const PACKAGE: &str = "bittersweet-bench";

/// How far a sum may be off that was rounded elsewhere.
const AGREES: f64 = 1e-9;

/// A program to ask.
pub(super) struct Subject {
    /// How it is called in the table.
    pub(super) name: &'static str,
    /// Whether it is our own code.
    pub(super) is_ours: bool,
    program: PathBuf,
    arguments: Vec<PathBuf>,
}

/// What it says.
#[derive(Clone, Debug, Deserialize)]
pub(super) struct Sample {
    /// Whole rehearsals a second.
    pub(super) rehearsal: Option<f64>,
    /// Runs of the bare model a second.
    pub(super) plain: Option<f64>,
    /// The pair of figures of a review, in milliseconds.
    pub(super) pair_ms: Option<f64>,
    /// The shares of its departures, in milliseconds.
    pub(super) shares_ms: Option<f64>,
    /// What came of a rehearsal.
    counts: Option<Value>,
    /// What came of the bare model.
    impression: Impression,
}

#[derive(Clone, Debug, Deserialize)]
struct Impression {
    squeezes: u32,
    breaths: u32,
    signals: u32,
    strongest: f64,
}

impl Sample {
    /// Whether the same came of it.
    pub(super) fn agrees(&self, other: &Self) -> bool {
        let counts = |Impression { squeezes, breaths, signals, .. }: &Impression| (*squeezes, *breaths, *signals);
        let (ours, theirs) = (&self.impression, &other.impression);
        (self.counts.is_none() || self.counts == other.counts)
            && counts(ours) == counts(theirs)
            && (ours.strongest - theirs.strongest).abs() <= AGREES * theirs.strongest
    }
}

impl Subject {
    /// Takes one sample.
    ///
    /// # Errors
    /// When the program fails, or says something else.
    pub(super) fn sample(&self) -> Result<Sample> {
        let text = said(Command::new(&self.program).args(&self.arguments))?;
        serde_json::from_str(&text).with_context(|| format!("{} says {text}", self.name))
    }
}

/// Where what is made ready lies.
pub(super) fn folder() -> PathBuf {
    folders::target().join("bench")
}

/// The engine as this machine runs it fastest.
///
/// # Errors
/// When it does not compile.
pub(super) fn native() -> Result<Subject> {
    run(cargo().args(["build", "--locked", "--profile", "measured", "--package", PACKAGE, "--bin", PACKAGE]))?;
    let program = folders::target().join("measured").join(format!("{PACKAGE}{}", env::consts::EXE_SUFFIX));
    Ok(Subject { name: "natively", is_ours: true, program, arguments: Vec::new() })
}

/// The engine as WebAssembly, built with this profile.
///
/// # Errors
/// When it does not compile or cannot be bound.
pub(super) fn in_wasm(profile: &str) -> Result<Subject> {
    let mut build = cargo();
    build.args(["build", "--locked", "--profile", profile, "--package", PACKAGE, "--lib", "--target", WASM]);
    // As the page is built, or each would make the other build everything again.
    run(build.env("RUSTFLAGS", without_paths()))?;
    let bare = folders::target().join(WASM).join(profile).join(format!("{}.wasm", PACKAGE.replace('-', "_")));
    let bound = wasm::bind(&bare)?;
    let folder = folder().join(profile);
    fs::create_dir_all(&folder)?;
    fs::write(folder.join("bench.wasm"), bound.wasm)?;
    fs::write(folder.join("bench.mjs"), bound.glue)?;
    let name = if profile == "release" { "WebAssembly as shipped" } else { "WebAssembly" };
    let arguments = vec![sources().join("in_wasm.mjs"), folder];
    Ok(Subject { name, is_ours: true, program: "node".into(), arguments })
}

/// The bare model in Python with `SimPy`, in an environment of its own.
///
/// # Errors
/// When there is no Python 3, or the package cannot be had.
pub(super) fn simpy(folder: &Path) -> Result<Subject> {
    let python = python::environment(folder, &sources().join("requirements.txt"))?;
    let model = folder.join("model.json");
    fs::write(&model, said(Command::new(native()?.program).arg("model"))?)?;
    let arguments = vec![sources().join("same_model.py"), model];
    Ok(Subject { name: "Python with SimPy", is_ours: false, program: python, arguments })
}

fn sources() -> PathBuf {
    folders::root().join("tests/bench")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample(breaths: u32, strongest: f64) -> Sample {
        let impression = Impression { squeezes: 83, breaths, signals: 1, strongest };
        Sample { rehearsal: None, plain: Some(1.0), pair_ms: None, shares_ms: None, counts: None, impression }
    }

    #[test]
    fn another_count_is_another_model_and_another_rounding_is_not() {
        assert!(sample(150, 14.671_234_388_430_957).agrees(&sample(150, 14.671_234_388_430_959)));
        assert!(!sample(149, 14.671_234_388_430_959).agrees(&sample(150, 14.671_234_388_430_959)));
        assert!(!sample(150, 14.671_234).agrees(&sample(150, 14.671_234_388_430_959)));
    }
}
