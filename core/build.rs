//! Reads the data folder and writes the tables that the crate is compiled with.
//!
//! Everything wrong in the data is found here, with file, entry and field, so that a rulebook or a language that
//! made it into the crate is whole. What needs the crate's own types (that every act has words, say) is left to
//! the tests.

#[path = "build/faults.rs"]
mod faults;
#[path = "build/model.rs"]
mod model;
#[path = "build/names.rs"]
mod names;
#[path = "build/questions.rs"]
mod questions;
#[path = "build/rules.rs"]
mod rules;
#[path = "build/scenarios.rs"]
mod scenarios;
#[path = "build/trouble.rs"]
mod trouble;
#[path = "build/words.rs"]
mod words;

use faults::Faults;
use std::{env, fs, path::Path, process::ExitCode};

fn main() -> ExitCode {
    println!("cargo:rerun-if-changed=data");
    println!("cargo:rerun-if-changed=build");
    let data = Path::new("data");
    let mut faults = Faults::default();
    let rules = rules::generate(&data.join("rulebook/us"), &mut faults);
    let model = model::generate(&data.join("model.toml"), &mut faults);
    let trouble = trouble::generate(&data.join("trouble.toml"), &mut faults);
    let words = words::generate(&data.join("words"), &mut faults);
    let scenarios = scenarios::generate(&data.join("scenarios"), &mut faults);
    let questions = questions::generate(&data.join("questions"), &mut faults);
    if faults.report() {
        return ExitCode::FAILURE;
    }
    let out = env::var("OUT_DIR").expect("cargo sets OUT_DIR for build scripts");
    for (name, text) in [
        ("rules.rs", rules),
        ("model.rs", model),
        ("trouble.rs", trouble),
        ("words.rs", words),
        ("scenarios.rs", scenarios),
        ("questions.rs", questions),
    ] {
        fs::write(Path::new(&out).join(name), text).expect("OUT_DIR is writable");
    }
    ExitCode::SUCCESS
}
