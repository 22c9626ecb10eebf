//! The checks that are too slow for each run: how they are asked for, and when they last ran.
//!
//! A test that has a slow part looks at `BITTERSWEET_ALL`, and appends what it measured to the file that
//! `BITTERSWEET_FIGURES` names, one `name: value` a line. The record lies in the repository, so that its age is seen
//! by all.

use crate::{folders, steps::Row};
use anyhow::{Context as _, Result};
use std::{
    fmt::Write as _,
    fs,
    io::{self, Write as _},
    path::PathBuf,
    process::Command,
    time::{Duration, SystemTime},
};

/// The record, from the root of the repository.
const RECORD: &str = "docs/slow-checks.md";
const WHEN: &str = "- when: ";

/// Sets up a command so that the tests it runs know whether their slow parts are wanted.
pub(crate) fn ask(command: &mut Command, all: bool) -> &mut Command {
    if all { command.env("BITTERSWEET_ALL", "1").env("BITTERSWEET_FIGURES", figures()) } else { command }
}

/// Forgets the figures of an earlier run.
///
/// # Errors
/// When the file cannot be removed.
pub(crate) fn clear_figures() -> Result<()> {
    match fs::remove_file(figures()) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error).context("cannot clear the figures"),
        _ => Ok(()),
    }
}

/// Notes a figure for the record.
///
/// # Errors
/// When it cannot be written.
pub(crate) fn note(name: &str, value: &str) -> Result<()> {
    let mut file = fs::OpenOptions::new().create(true).append(true).open(figures()).context("cannot note a figure")?;
    writeln!(file, "{name}: {value}").context("cannot note a figure")
}

/// Whether a figure was noted whose name begins like this.
pub(crate) fn is_noted(name: &str) -> bool {
    fs::read_to_string(figures()).unwrap_or_default().lines().any(|line| line.starts_with(name))
}

/// Writes the record of a whole run.
///
/// # Errors
/// When it cannot be written.
pub(crate) fn record(rows: &[Row], summary: &str) -> Result<()> {
    let figures = fs::read_to_string(figures()).unwrap_or_default();
    let file = folders::root().join(RECORD);
    fs::create_dir_all(file.with_file_name(""))?;
    fs::write(&file, text(rows, summary, SystemTime::now(), &commit(), &figures))
        .with_context(|| format!("cannot write {RECORD}"))
}

/// One line: how old the last result of the slow checks is.
pub(crate) fn age() -> String {
    let record = fs::read_to_string(folders::root().join(RECORD)).unwrap_or_default();
    age_of(&record, SystemTime::now())
}

fn age_of(record: &str, now: SystemTime) -> String {
    const DAY: u64 = 24 * 60 * 60;
    let when = record.lines().find_map(|line| httpdate::parse_http_date(line.strip_prefix(WHEN)?).ok());
    match when.map(|when| now.duration_since(when).unwrap_or(Duration::ZERO).as_secs() / DAY) {
        None => "slow checks: never made (cargo xtask test --all)".to_owned(),
        Some(0) => format!("slow checks: made within the last day ({RECORD})"),
        Some(days) => format!("slow checks: last made {days} days ago ({RECORD})"),
    }
}

fn text(rows: &[Row], summary: &str, now: SystemTime, commit: &str, figures: &str) -> String {
    let mut text = format!(
        "# Slow checks\n\nWritten by `cargo xtask test --all`; the figures are those of its last run.\n\n\
         {WHEN}{}\n- commit: {commit}\n- result: {summary}\n\n| step | seconds | result |\n| --- | ---: | --- |\n",
        httpdate::fmt_http_date(now)
    );
    for row in rows {
        let _ = writeln!(text, "| {} | {:.0} | {} |", row.name, row.took.as_secs_f32(), row.result);
    }
    if !figures.is_empty() {
        text.push_str("\n| figure | value |\n| --- | --- |\n");
    }
    for (name, value) in figures.lines().filter_map(|line| line.split_once(": ")) {
        let _ = writeln!(text, "| {name} | {value} |");
    }
    text
}

fn commit() -> String {
    let git = |arguments: &[&str]| {
        let output = Command::new("git").current_dir(folders::root()).args(arguments).output().ok()?;
        output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
    };
    let Some(commit) = git(&["rev-parse", "--short", "HEAD"]) else { return "unknown".to_owned() };
    match git(&["status", "--porcelain"]).as_deref() {
        Some("") => commit,
        _ => format!("{commit}, with changes not committed"),
    }
}

fn figures() -> PathBuf {
    folders::target().join("figures.txt")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_record_tells_its_own_age() {
        let then = SystemTime::UNIX_EPOCH + Duration::from_secs(1_800_000_000);
        let rows =
            [Row { name: "native", result: "passed".to_owned(), passed: Some(true), took: Duration::from_secs(9) }];
        let record = text(&rows, "1 passed, 0 failed", then, "abc1234", "kills survived: 100\n");
        assert!(record.contains("| native | 9 | passed |") && record.contains("| kills survived | 100 |"), "{record}");
        let after = |hours: u64| age_of(&record, then + Duration::from_secs(hours * 3600));
        assert!(after(1).contains("within the last day"));
        assert!(after(49).contains("2 days ago"));
        assert!(age_of("", then).contains("never"));
    }
}
