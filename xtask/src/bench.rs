//! What is light and fast enough, measured side by side: one table from one command.
//!
//! Bytes and counts must hold; times depend on the machine and on what else it does, so a missed one is only shown.

mod page;
mod subject;
mod table;

use crate::{
    dist,
    lighthouse::{self, Score},
};
use anyhow::Result;
use subject::{Sample, Subject};
use table::{Goal, Row};

/// How often each subject is asked; the medians are shown.
const ROUNDS: usize = 5;

/// Whole rehearsals a second and core, natively; in WebAssembly half as many.
const REHEARSALS: f64 = 20_000.0;

/// How many times as long as the plain loop a rehearsal may take.
const TIMES_THE_FLOOR: f64 = 3.0;

/// How long the pair of figures of a review may take, and the shares of its departures, in milliseconds.
const PAIR_MS: f64 = 20.0;
const SHARES_MS: f64 = 200.0;

/// What all files of one language may weigh together when they travel, in bytes.
const SITE: f64 = 170_000.0;

/// Measures everything and prints the table. Returns whether all that must hold does.
///
/// # Errors
/// When something cannot be built or run.
pub(crate) fn bench() -> Result<bool> {
    let weights = dist::build(&dist::folder())?;
    let mut subjects = vec![subject::native()?, subject::in_wasm("measured")?, subject::in_wasm("release")?];
    match subject::simpy(&subject::folder()) {
        Ok(simpy) => subjects.push(simpy),
        Err(error) => println!("without SimPy: {error:#}"),
    }
    let rounds = rounds(&subjects)?;
    let (page, mut missed) = page::measured()?;
    let scores = lighthouse::scores().unwrap_or_else(|error| {
        println!("without Lighthouse: {error:#}");
        Vec::new()
    });
    missed.extend(scores.iter().filter(|score| score.fails()).map(|score| score.what));
    println!();
    table::print(&[speeds(&rounds), weighed(&weights), page, scored(&scores)].concat());
    for what in &missed {
        println!("{what}: the goal must be met");
    }
    let differing = differing(&rounds);
    for name in &differing {
        println!("what comes of it differs: {name}");
    }
    let light = dist::check_weight(&weights);
    if let Err(error) = &light {
        println!("{error}");
    }
    Ok(differing.is_empty() && missed.is_empty() && light.is_ok())
}

/// A subject and what it said in each round.
struct Measured<'a> {
    subject: &'a Subject,
    samples: Vec<Sample>,
}

/// Asks each subject once a round, so that what else the machine does falls on all of them.
fn rounds(subjects: &[Subject]) -> Result<Vec<Measured<'_>>> {
    let mut rounds: Vec<_> = subjects.iter().map(|subject| Measured { subject, samples: Vec::new() }).collect();
    for round in 1..=ROUNDS {
        println!("round {round} of {ROUNDS}");
        for measured in &mut rounds {
            measured.samples.push(measured.subject.sample()?);
        }
    }
    Ok(rounds)
}

fn speeds(rounds: &[Measured<'_>]) -> Vec<Row> {
    let median = |measured: &Measured<'_>, of: fn(&Sample) -> Option<f64>| {
        median(measured.samples.iter().filter_map(of).collect())
    };
    let natively = rounds.first().and_then(|native| median(native, |sample| sample.rehearsal)).unwrap_or(f64::NAN);
    let mut rows = Vec::new();
    for (number, measured) in rounds.iter().enumerate() {
        let (name, is_native) = (measured.subject.name, number == 0);
        if let Some(speed) = median(measured, |sample| sample.rehearsal) {
            let goal = Goal::AtLeast(if is_native { REHEARSALS } else { REHEARSALS / 2.0 });
            rows.push(Row::speed(format!("whole rehearsal, {name}"), speed, natively, goal));
        }
        if let Some(speed) = median(measured, |sample| sample.plain) {
            let goal = match measured.subject.is_ours {
                true if is_native => Goal::RatioAtMost(TIMES_THE_FLOOR),
                true => Goal::None,
                false => Goal::RatioAtMost(1.0),
            };
            rows.push(Row::speed(format!("bare model, {name}"), speed, natively, goal));
        }
    }
    for measured in rounds {
        let name = measured.subject.name;
        let pair = median(measured, |sample| sample.pair_ms);
        let shares = median(measured, |sample| sample.shares_ms);
        rows.extend(pair.map(|value| Row::time(format!("a review's pair, {name}"), value, PAIR_MS)));
        rows.extend(shares.map(|value| Row::time(format!("a review's shares, {name}"), value, SHARES_MS)));
    }
    rows
}

fn weighed(weights: &[dist::Weight]) -> Vec<Row> {
    let sum = |counts: fn(&str) -> bool| {
        let bytes: usize = weights.iter().filter(|file| counts(&file.address)).map(dist::Weight::travels).sum();
        bytes as f64
    };
    let mut rows = vec![Row::weight("first screen, all files, one language", sum(is_for_the_first_screen), SITE)];
    for file in weights.iter().filter(|file| file.address.ends_with(".wasm")) {
        let Some((name, ceiling)) = dist::module(&file.address) else { continue };
        let most = if name == dist::FIRST { dist::WASM_GOAL } else { ceiling };
        rows.push(Row::weight(&format!("module {name}"), file.travels() as f64, most as f64));
    }
    rows
}

fn scored(scores: &[Score]) -> Vec<Row> {
    let goal = Goal::AtLeast(f64::from(lighthouse::GOAL));
    scores.iter().map(|score| Row::figure(score.what, f64::from(score.score), None, "", goal)).collect()
}

/// Whether a browser fetches a file before the first screen stands: not what other screens ask for, nor what it fetches
/// when it has nothing else to do.
fn is_for_the_first_screen(address: &str) -> bool {
    let is_later = ["questions", "more/", "scenarios", "sw.js", "icon-"].iter().any(|later| address.starts_with(later));
    let is_other = |folder: &str| address.starts_with(folder) && !address.starts_with(&format!("{folder}en"));
    !is_later
        && !is_other("words/")
        && !is_other("manifest-")
        && dist::module(address).is_none_or(|(name, _)| name == dist::FIRST)
}

/// The subjects that come to something else than the first: then they are not the same, and their speeds tell nothing.
fn differing<'a>(rounds: &'a [Measured<'a>]) -> Vec<&'a str> {
    let Some(first) = rounds.first().and_then(|native| native.samples.first()) else { return Vec::new() };
    let differs = |measured: &&Measured<'_>| !measured.samples.iter().all(|sample| sample.agrees(first));
    rounds.iter().filter(differs).map(|measured| measured.subject.name).collect()
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_screen_needs_one_module_and_one_language() {
        for address in ["start-1.wasm", "start-1.js", "boot-1.js", "style-1.css", "words/en-1.json", "index.html"] {
            assert!(is_for_the_first_screen(address), "{address}");
        }
        for address in
            ["run-1.wasm", "run-1.js", "words/es-1.json", "more/en-1.json", "questions/result-1.json", "icon-192-1.png"]
        {
            assert!(!is_for_the_first_screen(address), "{address}");
        }
    }

    #[test]
    fn the_median_is_the_one_in_the_middle() {
        assert_eq!(median(vec![9.0, 1.0, 5.0, 2.0, 7.0]), Some(5.0));
        assert_eq!(median(Vec::new()), None);
    }
}
