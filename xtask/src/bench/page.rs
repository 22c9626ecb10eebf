//! The page as a browser runs it: what `tests/browser/measure` notes, and how good each of it should be.

use super::{
    median,
    table::{Goal, Row},
};
use crate::{
    cargo::{WASM, cargo, without_paths},
    compress, dist, folders,
    server::{Manner, Server},
    shelf::Shelf,
    site::{self, Site},
    tools::{self, run},
    wasm,
};
use anyhow::{Context as _, Result};
use serde::Deserialize;
use std::{fs, process::Command};

const HELLO: &str = "bittersweet-hello";

/// What is noted under a name, and how it stands in the table.
struct Figure {
    name: &'static str,
    what: &'static str,
    /// What was measured beside it, where that is worth a row.
    beside: &'static str,
    unit: &'static str,
    goal: Goal,
    /// Whether the goal must be met: bytes and counts must, times depend on what else the machine does.
    must: bool,
}

const fn time(name: &'static str, what: &'static str, beside: &'static str, goal: Goal) -> Figure {
    Figure { name, what, beside, unit: "ms", goal, must: false }
}

const FIGURES: [Figure; 13] = [
    time("ready-1", "ready, cold", "a Yew hello world, cold", Goal::RatioAtMost(2.0)),
    time("ready-4", "ready, cold, CPU x4", "a Yew hello world, cold, CPU x4", Goal::RatioAtMost(2.0)),
    time("first-paint", "first paint, slow network", "its module has come", Goal::RatioAtMost(1.0)),
    time("act", "an act, click to painted, p95, CPU x4", "", Goal::AtMost(32.0)),
    Figure { unit: "", ..time("long-in-run", "tasks over 50 ms in a run, CPU x4", "", Goal::AtMost(0.0)) },
    Figure { unit: "", ..time("long-in-playback", "tasks over 50 ms in playback, CPU x4", "", Goal::AtMost(0.0)) },
    Figure {
        unit: "B",
        must: true,
        ..time("memory", "memory after 50 rehearsals", "memory after 10 rehearsals", Goal::RatioAtMost(1.05))
    },
    time("opening", "the page opens, 10 000 attempts kept", "", Goal::AtMost(1_000.0)),
    time("readiness", "readiness, 10 000 attempts kept", "", Goal::AtMost(1_000.0)),
    time("opening-growth", "the page opens, worst of ten times as many", "", Goal::RatioAtMost(10.0)),
    time("readiness-growth", "readiness, worst of ten times as many", "", Goal::RatioAtMost(10.0)),
    time("record-growth", "the record, worst of ten times as many", "", Goal::RatioAtMost(10.0)),
    time("backup-growth", "a backup, worst of ten times as many", "", Goal::RatioAtMost(10.0)),
];

/// What a measurement notes.
#[derive(Debug, Deserialize)]
struct Noted {
    name: String,
    samples: Vec<f64>,
    beside: Vec<f64>,
}

/// Measures the page that `dist` made. Returns the rows, and what must be met and is missed.
///
/// # Errors
/// When there is no browser, a measurement fails, or one notes nothing.
pub(super) fn measured() -> Result<(Vec<Row>, Vec<&'static str>)> {
    tools::browser_packages()?;
    let chromium = tools::chromium()?;
    let ours = Server::bind(0, Manner::STRICT)?;
    let hello = Server::bind(0, Manner::STRICT)?;
    let noted = folders::target().join("bench/noted.txt");
    fs::write(&noted, "")?;
    let mut runner = Command::new("node");
    runner
        .current_dir(tools::browser_tests())
        .args(["node_modules/@playwright/test/cli.js", "test", "--config", "measure.config.ts"])
        .env("BASE_URL", ours.url())
        .env("HELLO_URL", hello.url())
        .env("DIST", dist::folder())
        .env("NOTED", &noted)
        .env("CHROMIUM", chromium);
    drop(ours.start(Shelf(site::read(&dist::folder())?)));
    drop(hello.start(Shelf(hello_site()?)));
    run(&mut runner)?;
    rows(&fs::read_to_string(&noted)?)
}

/// The least page that Yew makes, built and packed as ours is.
fn hello_site() -> Result<Site> {
    let mut build = cargo();
    build.args(["build", "--locked", "--release", "--package", HELLO, "--target", WASM]);
    run(build.env("RUSTFLAGS", without_paths()))?;
    let bound = wasm::bind(&folders::target().join(WASM).join("release").join(format!("{HELLO}.wasm")))?;
    let sources = folders::root().join("tests/bench/hello");
    let mut site = Site::from([
        (site::PAGE.to_owned(), fs::read(sources.join(site::PAGE))?),
        ("boot.js".to_owned(), fs::read(sources.join("boot.js"))?),
        ("hello.js".to_owned(), bound.glue),
        ("hello.wasm".to_owned(), bound.wasm),
    ]);
    for (address, bytes) in site.clone() {
        site.insert(format!("{address}.br"), compress::brotli(&bytes)?);
    }
    Ok(site)
}

/// The rows of what was noted, a line of JSON each, and what must be met and is missed.
fn rows(text: &str) -> Result<(Vec<Row>, Vec<&'static str>)> {
    let noted: Vec<Noted> = text.lines().map(serde_json::from_str).collect::<Result<_, _>>()?;
    let (mut rows, mut missed) = (Vec::new(), Vec::new());
    for Figure { name, what, beside, unit, goal, must } in FIGURES {
        let found =
            noted.iter().find(|noted| noted.name == name).with_context(|| format!("{name}: nothing was noted"))?;
        let value = median(found.samples.clone()).with_context(|| format!("{name}: no samples"))?;
        let compared = median(found.beside.clone());
        let row = Row::figure(what, value, compared, unit, goal);
        if must && row.is_missed() {
            missed.push(what);
        }
        rows.push(row);
        rows.extend(
            compared.filter(|_| !beside.is_empty()).map(|value| Row::figure(beside, value, None, unit, Goal::None)),
        );
    }
    Ok((rows, missed))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noted(memory: &str) -> String {
        let line = |name: &str| format!(r#"{{"name":"{name}","samples":[1.0],"beside":[]}}"#);
        let lines = FIGURES.map(|figure| if figure.name == "memory" { memory.to_owned() } else { line(figure.name) });
        lines.join("\n")
    }

    #[test]
    fn memory_that_grows_is_missed_and_must_not_be() {
        let grown = |to: f64| noted(&format!(r#"{{"name":"memory","samples":[{to}],"beside":[100.0]}}"#));
        assert!(rows(&grown(105.0)).unwrap().1.is_empty());
        assert_eq!(rows(&grown(105.1)).unwrap().1, ["memory after 50 rehearsals"]);
    }

    #[test]
    fn what_was_not_measured_is_no_pass() {
        let error = rows(&noted("").replace("\n\n", "\n")).unwrap_err();
        assert!(error.to_string().starts_with("memory: "), "{error}");
    }
}
