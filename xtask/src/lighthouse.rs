//! What Lighthouse says of the first screen, as a telephone would show it: scores of 0 to 100.

use crate::{
    dist, folders,
    server::{Manner, Server},
    shelf::Shelf,
    site,
    tools::{self, said},
};
use anyhow::{Context as _, Result};
use serde::Deserialize;
use std::process::Command;

/// How often it is asked.
const TIMES: usize = 3;

/// What a score should be, whatever it is of.
pub(crate) const GOAL: u32 = 100;

/// What it said each time, by category.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Said {
    performance: [u32; TIMES],
    accessibility: [u32; TIMES],
    best_practices: [u32; TIMES],
    seo: [u32; TIMES],
}

/// The score of a category.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Score {
    /// Of what.
    pub(crate) what: &'static str,
    /// The score.
    pub(crate) score: u32,
    /// Whether the goal must be met: how fast it is depends on what else the machine does.
    pub(crate) must: bool,
}

impl Score {
    /// Whether it must be better.
    pub(crate) fn fails(self) -> bool {
        self.must && self.score < GOAL
    }
}

/// Asks about the page that `dist` made.
///
/// # Errors
/// When there is no browser, or the package cannot be had or fails.
pub(crate) fn scores() -> Result<Vec<Score>> {
    let folder = folders::root().join("tests/lighthouse");
    tools::packages(&folder).context("Lighthouse needs Node.js 20 or newer with npm")?;
    let chromium = tools::chromium()?;
    let server = Server::bind(0, Manner::STRICT)?;
    let url = server.url();
    drop(server.start(Shelf(site::read(&dist::folder())?)));
    let mut node = Command::new("node");
    node.current_dir(folder).args(["scores.mjs", &url, &TIMES.to_string()]).arg(chromium);
    let text = said(&mut node)?;
    Ok(judged(serde_json::from_str(&text).with_context(|| format!("Lighthouse says {text}"))?))
}

/// Of how fast it is, the one in the middle; of everything else, the least.
fn judged(Said { mut performance, accessibility, best_practices, seo }: Said) -> Vec<Score> {
    performance.sort_unstable();
    let least = |what, scores: [u32; TIMES]| Score { what, score: scores.into_iter().min().unwrap_or(0), must: true };
    vec![
        Score { what: "Lighthouse, performance", score: performance[TIMES / 2], must: false },
        least("Lighthouse, accessibility", accessibility),
        least("Lighthouse, best practices", best_practices),
        least("Lighthouse, SEO", seo),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_bad_time_counts_except_for_speed() {
        let said =
            Said { performance: [70, 99, 90], accessibility: [100, 96, 100], best_practices: [100; 3], seo: [100; 3] };
        let judged = judged(said);
        assert_eq!(judged.iter().map(|one| one.score).collect::<Vec<_>>(), [90, 96, 100, 100]);
        assert_eq!(judged.iter().map(|one| one.fails()).collect::<Vec<_>>(), [false, true, false, false]);
    }
}
