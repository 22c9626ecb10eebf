//! Everything that must hold, step by step.

use crate::{
    alike,
    cargo::{WASM, cargo},
    dist, folders, lighthouse, reference,
    server::{Manner, Server},
    shelf::Shelf,
    site, slow, texts,
    tools::{self, run},
};
use anyhow::{Context as _, Result, bail};
use std::{
    fs,
    process::Command,
    time::{Duration, Instant},
};

/// What was asked for.
#[derive(Debug, Default)]
pub(crate) struct Wish {
    /// Also what is too slow for each run.
    pub(crate) all: bool,
    /// Only the steps named here; all when empty.
    pub(crate) only: Vec<String>,
    /// Handed on to the browser tests' runner.
    pub(crate) browser: Vec<String>,
}

struct Step {
    name: &'static str,
    what: &'static str,
    run: fn(&Wish) -> Result<Done>,
}

enum Done {
    Passed,
    Skipped(&'static str),
}

/// In the order in which they are made: what is quick to fail comes first, and each build serves the steps after it.
const STEPS: [Step; 13] = [
    Step { name: "tools", what: "wasm target, npm packages, a browser, Java", run: tools_present },
    Step { name: "format", what: "cargo fmt", run: format },
    Step { name: "lints", what: "clippy, natively", run: lints },
    Step { name: "lints-wasm", what: "clippy, as the page is compiled", run: lints_wasm },
    Step { name: "native", what: "unit, whole-run and doc tests", run: native },
    Step { name: "golden-wasm", what: "kept runs and drawn scenarios in WebAssembly, to the byte", run: golden_wasm },
    Step { name: "reference", what: "the arithmetic beside SciPy, scikit-learn and textstat", run: beside_libraries },
    Step { name: "docs", what: "every link in the documentation", run: docs },
    Step { name: "purity", what: "core alone, without a system beneath it", run: purity },
    Step { name: "site", what: "the folder to ship, and its weight", run: built_site },
    Step { name: "browser", what: "journeys in Chromium", run: browser },
    Step { name: "lighthouse", what: "the first screen on a telephone", run: on_a_telephone },
    Step { name: "wording", what: "words that must not stand here", run: wording },
];

/// A check kept beside a checkout rather than in it: it gets the repository as its argument.
const WORDING_CHECK: &str = "../shared/checks/own-words";

/// Crates that would give `core` a clock, chance or a browser of its own.
const IMPURE: [&str; 8] = ["chrono", "getrandom", "js-sys", "libc", "time", "wasm-bindgen", "web-sys", "web-time"];

/// How one step ended.
pub(crate) struct Row {
    /// The step.
    pub(crate) name: &'static str,
    /// In words, for the table.
    pub(crate) result: String,
    /// `None` when it was skipped.
    pub(crate) passed: Option<bool>,
    /// How long it took.
    pub(crate) took: Duration,
}

/// Makes the steps and prints a table of them. Returns whether all passed.
///
/// # Errors
/// When a step is asked for that does not exist, or the record of the slow checks cannot be written.
pub(crate) fn test(wish: &Wish) -> Result<bool> {
    if let Some(unknown) = wish.only.iter().find(|name| STEPS.iter().all(|step| step.name != **name)) {
        let names: Vec<_> = STEPS.iter().map(|step| step.name).collect();
        bail!("there is no step `{unknown}`; there are: {}", names.join(", "));
    }
    if wish.all {
        slow::clear_figures()?;
    }
    let mut rows = Vec::new();
    for step in STEPS.iter().filter(|step| wish.only.is_empty() || wish.only.iter().any(|name| name == step.name)) {
        println!("\n== {}: {}", step.name, step.what);
        let start = Instant::now();
        let done = (step.run)(wish);
        let took = start.elapsed();
        let (result, passed) = match &done {
            Ok(Done::Passed) => ("passed".to_owned(), Some(true)),
            Ok(Done::Skipped(why)) => (format!("skipped: {why}"), None),
            Err(error) => {
                eprintln!("{error:#}");
                ("FAILED".to_owned(), Some(false))
            }
        };
        println!("== {}: {result} ({:.1} s)", step.name, took.as_secs_f32());
        rows.push(Row { name: step.name, result, passed, took });
        // Without its tools, what follows would fail for that reason only.
        if done.is_err() && step.name == "tools" {
            break;
        }
    }
    let summary = summary(&rows);
    println!("\n{:<12} {:>8}  result", "step", "seconds");
    for row in &rows {
        println!("{:<12} {:>8.1}  {}", row.name, row.took.as_secs_f32(), row.result);
    }
    if wish.all && wish.only.is_empty() {
        slow::record(&rows, &summary)?;
    }
    println!("{}", slow::age());
    println!("{summary}");
    Ok(rows.iter().all(|row| row.passed != Some(false)))
}

fn summary(rows: &[Row]) -> String {
    let count = |passed| rows.iter().filter(|row| row.passed == Some(passed)).count();
    format!("{} passed, {} failed", count(true), count(false))
}

fn tools_present(_: &Wish) -> Result<Done> {
    tools::wasm_target()?;
    tools::browser_packages()?;
    println!("browser: {}", tools::chromium()?.display());
    println!("Java: {}", tools::java()?.display());
    Ok(Done::Passed)
}

fn format(_: &Wish) -> Result<Done> {
    pass(cargo().args(["fmt", "--all", "--check"]))
}

fn lints(_: &Wish) -> Result<Done> {
    pass(cargo().args(["clippy", "--workspace", "--all-targets", "--locked", "--", "-D", "warnings"]))
}

fn lints_wasm(_: &Wish) -> Result<Done> {
    tools::wasm_target()?;
    pass(cargo().args(["clippy", "--package", "bittersweet-app", "--target", WASM, "--locked", "--", "-D", "warnings"]))
}

fn native(wish: &Wish) -> Result<Done> {
    pass(slow::ask(cargo().args(["test", "--workspace", "--locked"]), wish.all))
}

fn golden_wasm(_: &Wish) -> Result<Done> {
    tools::wasm_target()?;
    println!("alike, natively and in WebAssembly: {} texts", alike::check()?);
    Ok(Done::Passed)
}

fn beside_libraries(wish: &Wish) -> Result<Done> {
    reference::check(wish.all)?;
    Ok(Done::Passed)
}

fn docs(_: &Wish) -> Result<Done> {
    pass(cargo().args(["doc", "--workspace", "--no-deps", "--locked"]).env("RUSTDOCFLAGS", "-D warnings"))
}

/// `core` has neither clock nor chance nor files of its own: it compiles alone where none of them exist, and nothing
/// that it stands on brings one.
fn purity(_: &Wish) -> Result<Done> {
    tools::wasm_target()?;
    run(cargo().args(["check", "--package", "bittersweet-core", "--target", WASM, "--locked"]))?;
    let tree = cargo()
        .args(["tree", "--package", "bittersweet-core", "--target", WASM, "--edges", "normal", "--locked"])
        .args(["--prefix", "none", "--format", "{p}"])
        .output()?;
    if !tree.status.success() {
        bail!("{}", String::from_utf8_lossy(&tree.stderr));
    }
    let text = String::from_utf8(tree.stdout)?;
    let impure: Vec<_> = impure(&text).collect();
    if !impure.is_empty() {
        bail!("core stands on {}", impure.join(", "));
    }
    Ok(Done::Passed)
}

/// The crates in the output of `cargo tree` that `core` must not stand on.
fn impure(tree: &str) -> impl Iterator<Item = &str> {
    tree.lines().filter_map(|line| line.split(' ').next()).filter(|name| IMPURE.contains(name))
}

fn built_site(_: &Wish) -> Result<Done> {
    dist::dist(&dist::folder())?;
    Ok(Done::Passed)
}

/// Serves the built site twice while the browser tests run: strictly, and as the plainest host would.
fn browser(wish: &Wish) -> Result<Done> {
    tools::browser_packages()?;
    let chromium = tools::chromium()?;
    let shelf = Shelf(site::read(&dist::folder()).context("the step `site` makes what the browser opens")?);
    let strict = Server::bind(0, Manner::STRICT)?;
    let plain = Server::bind(0, Manner::PLAIN_HOST)?;
    let pseudo = folders::target().join("pseudo.json");
    fs::write(&pseudo, texts::pseudo())?;
    let mut runner = Command::new("node");
    runner
        .current_dir(tools::browser_tests())
        .args(["node_modules/@playwright/test/cli.js", "test"])
        .args(&wish.browser)
        .env("BASE_URL", strict.url())
        .env("PLAIN_URL", plain.url())
        .env("DIST", dist::folder())
        .env("PSEUDO", pseudo)
        .env("CHROMIUM", chromium);
    for server in [strict, plain] {
        drop(server.start(shelf.clone()));
    }
    pass(slow::ask(&mut runner, wish.all))
}

fn on_a_telephone(wish: &Wish) -> Result<Done> {
    if !wish.all {
        return Ok(Done::Skipped("it is made with --all"));
    }
    let scores = lighthouse::scores()?;
    for score in &scores {
        slow::note(score.what, &score.score.to_string())?;
    }
    let failing: Vec<_> = scores.iter().filter(|score| score.fails()).map(|score| score.what).collect();
    if !failing.is_empty() {
        bail!("below {}: {}", lighthouse::GOAL, failing.join("; "));
    }
    Ok(Done::Passed)
}

fn wording(_: &Wish) -> Result<Done> {
    let check = folders::root().join(WORDING_CHECK);
    if !check.is_file() {
        return Ok(Done::Skipped("its check does not lie beside this checkout"));
    }
    pass(Command::new(check).arg(folders::root()))
}

fn pass(command: &mut Command) -> Result<Done> {
    run(command)?;
    Ok(Done::Passed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn skipped_steps_count_neither_as_passed_nor_as_failed() {
        let row = |passed| Row { name: "", result: String::new(), passed, took: Duration::ZERO };
        assert_eq!(summary(&[row(Some(true)), row(None), row(Some(false)), row(Some(true))]), "2 passed, 1 failed");
    }

    #[test]
    fn a_clock_or_a_browser_beneath_core_is_found() {
        let tree =
            "bittersweet-core v0.1.0 (core)\nlibm v0.2.16\ngetrandom v0.4.0\ntime-machine v1.0.0\njs-sys v0.3.0 (*)";
        assert_eq!(impure(tree).collect::<Vec<_>>(), ["getrandom", "js-sys"]);
    }

    #[test]
    fn an_unknown_step_is_refused_before_any_is_made() {
        let wish = Wish { only: vec!["nonsense".to_owned()], ..Wish::default() };
        assert!(test(&wish).is_err());
    }
}
