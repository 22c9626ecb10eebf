//! Backups, version 1: everything that is kept of one or more learners, as it is kept.
//!
//! What is kept stays text here, byte for byte: a run that this version cannot read is carried along whole. Sums tell
//! accidental damage and where it is; they keep nobody from making a file of their own.

use super::{Code, Faults, MOST_RUN_BYTES, answer_v1::AnswerV1, check_kind, is_id, is_plain, learners_v1, read, tree::Tree};
use crate::run::MOST_ENTRIES;
use serde::{Deserialize, Serialize};

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-backup";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// Bytes that a backup may have.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

const LONGEST_KEY: usize = 100;

/// A backup file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BackupV1 {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// When it was saved, by the wall clock, as ISO 8601; for people to read.
    pub saved: String,
    /// Each with what is kept of them.
    pub learners: Vec<LearnerV1>,
}

/// What is kept of a learner.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnerV1 {
    /// Their name; empty for one who never needed any.
    pub name: String,
    /// Runs and watched runs, oldest first.
    pub runs: Vec<KeptV1>,
    /// Answers, in the order in which they were given.
    pub answers: Vec<String>,
    /// What became of runs: the run's id and its outcome.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub outcomes: Vec<(String, String)>,
    /// Settings: key and value.
    pub settings: Vec<(String, String)>,
    /// The sum of all of it but the lines of the runs, which have their own.
    #[serde(default)]
    pub sum: String,
}

/// A run as it is kept: a header, and lines.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptV1 {
    /// Its id.
    pub id: String,
    /// Its header.
    pub header: String,
    /// Its lines, in order.
    pub lines: Vec<String>,
    /// The sum of all of it.
    #[serde(default)]
    pub sum: String,
}

/// What is in a backup of one learner, to be shown before anything is changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents {
    /// How many runs.
    pub runs: usize,
    /// How many answers.
    pub answers: usize,
    /// When the latest run began, as ISO 8601, where there is one that says so.
    pub latest: Option<String>,
}

impl BackupV1 {
    /// A backup that is saved now.
    #[must_use]
    pub fn new(saved: String, mut learners: Vec<LearnerV1>) -> Self {
        for learner in &mut learners {
            for run in &mut learner.runs {
                run.sum = run.reckoned();
            }
            learner.sum = learner.reckoned();
        }
        Self { format: FORMAT.to_owned(), version: VERSION, saved, learners }
    }

    /// As it is written.
    #[must_use]
    pub fn written(&self) -> String {
        // Texts and a number: there is nothing in it that JSON could not say.
        serde_json::to_string(self).unwrap_or_default()
    }

    /// Reads a backup.
    ///
    /// # Errors
    /// All faults, with where and why.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        let backup: Self = read(text, MOST_BYTES)?;
        let mut faults = Faults::default();
        check_kind(&backup.format, backup.version, FORMAT, VERSION, &mut faults);
        if !is_plain(&backup.saved) || backup.saved.len() > LONGEST_KEY {
            faults.push("saved", Code::NotPlain, &backup.saved);
        }
        match backup.learners.len() {
            0 => faults.push("learners", Code::Empty, 0),
            1..=learners_v1::MOST => {}
            many => faults.push("learners", Code::TooMany, many),
        }
        for (number, learner) in backup.learners.iter().enumerate() {
            let mut below = Faults::default();
            learner.check(&mut below);
            faults.extend_below(&format!("learners[{number}]"), &below);
        }
        faults.or(backup)
    }
}

impl LearnerV1 {
    /// What is in it.
    #[must_use]
    pub fn contents(&self) -> Contents {
        let started = |run: &KeptV1| {
            let header: Tree = read(&run.header, MOST_RUN_BYTES).ok()?;
            header.get("started").text().filter(|text| is_plain(text) && text.len() <= LONGEST_KEY).map(str::to_owned)
        };
        Contents {
            runs: self.runs.len(),
            answers: self.answers.len(),
            latest: self.runs.iter().filter_map(started).max(),
        }
    }

    /// With what another has besides. Nothing that is here is lost: a run that went on both here and there is kept twice.
    #[must_use]
    pub fn merged(mut self, other: Self) -> Self {
        let (mut settings, mut outcomes) = (other.settings, other.outcomes);
        for mut run in other.runs {
            match self.runs.iter_mut().find(|here| here.id == run.id) {
                Some(here) if here.lines.starts_with(&run.lines) => {}
                Some(here) if here.header == run.header && run.lines.starts_with(&here.lines) => {
                    self.outcomes.retain(|(id, _)| *id != run.id);
                    *here = run;
                }
                Some(_) => {
                    // What is kept twice counts once.
                    outcomes.retain(|(id, _)| *id != run.id);
                    let id = self.free_id(&run.id);
                    for (key, _) in &mut settings {
                        if *key == reached_key(&run.id) {
                            *key = reached_key(&id);
                        }
                    }
                    run.id = id;
                    self.runs.push(run);
                }
                None => self.runs.push(run),
            }
        }
        for (key, value) in settings {
            match self.settings.iter_mut().find(|(here, _)| *here == key) {
                // Of two moments that were reached, the later.
                Some((_, here)) if key.starts_with(REACHED) && number(here) < number(&value) => *here = value,
                Some(_) => {}
                None => self.settings.push((key, value)),
            }
        }
        outcomes.retain(|(id, _)| self.outcomes.iter().all(|(here, _)| here != id));
        self.outcomes.append(&mut outcomes);
        self.answers = joined(self.answers, other.answers);
        self.runs.sort_by(|one, other| one.id.cmp(&other.id));
        self
    }

    /// An id of which no run is kept, like this one.
    fn free_id(&self, id: &str) -> String {
        let is_free = |id: &String| self.runs.iter().all(|run| run.id != *id);
        let stem: String = id.chars().take(30).collect();
        (2..).map(|number| format!("{stem}-{number}")).find(is_free).unwrap_or_default()
    }

    fn check(&self, faults: &mut Faults) {
        if !learners_v1::is_name(&self.name) {
            faults.push("name", Code::NotPlain, &self.name);
        }
        for (number, run) in self.runs.iter().enumerate() {
            let at = |field: &str| format!("runs[{number}].{field}");
            if !is_id(&run.id) {
                faults.push(&at("id"), Code::UnknownCode, &run.id);
            }
            if run.header.len() > MOST_RUN_BYTES {
                faults.push(&at("header"), Code::TooLarge, run.header.len());
            }
            if run.lines.len() > MOST_ENTRIES {
                faults.push(&at("lines"), Code::TooMany, run.lines.len());
            }
            if run.sum != run.reckoned() {
                faults.push(&at("sum"), Code::Damaged, &run.sum);
            }
        }
        for (name, rows) in [("outcomes", &self.outcomes), ("settings", &self.settings)] {
            for (number, (key, _)) in rows.iter().enumerate() {
                if key.is_empty() || key.len() > LONGEST_KEY || !is_plain(key) {
                    faults.push(&format!("{name}[{number}]"), Code::NotPlain, key);
                }
            }
        }
        if self.sum != self.reckoned() {
            faults.push("sum", Code::Damaged, &self.sum);
        }
    }

    fn reckoned(&self) -> String {
        let runs = self.runs.iter().flat_map(|run| [&run.id, &run.sum]);
        let rows = self.outcomes.iter().chain(&self.settings).flat_map(|(key, value)| [key, value]);
        sum([&self.name].into_iter().chain(runs).chain(&self.answers).chain(rows))
    }
}

impl KeptV1 {
    fn reckoned(&self) -> String {
        sum([&self.id, &self.header].into_iter().chain(&self.lines))
    }
}

/// Keys of settings that hold the last moment of a run known to have been reached.
const REACHED: &str = "reached/";

/// The setting that holds the last moment of a run known to have been reached.
#[must_use]
pub fn reached_key(run: &str) -> String {
    format!("{REACHED}{run}")
}

fn number(text: &str) -> u32 {
    text.parse().unwrap_or_default()
}

/// The answers of two lists in which some are the same: each as often as the list has it that has it more often, and by
/// the day on which it was given.
fn joined(mut here: Vec<String>, there: Vec<String>) -> Vec<String> {
    let mut left = here.clone();
    left.sort();
    for answer in there {
        match left.binary_search(&answer) {
            Ok(place) => drop(left.remove(place)),
            Err(_) => here.push(answer),
        }
    }
    here.sort_by_cached_key(|answer| AnswerV1::parse(answer).map_or(u32::MAX, |answer| answer.day));
    here
}

/// FNV-1a, 64 bits, of texts and where each ends.
fn sum<'a>(texts: impl Iterator<Item = &'a String>) -> String {
    let bytes = texts.flat_map(|text| text.bytes().chain([0xff]));
    let sum = bytes.fold(0xcbf2_9ce4_8422_2325, |sum: u64, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
    format!("{sum:016x}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(id: &str, started: &str, lines: &[&str]) -> KeptV1 {
        KeptV1 {
            id: id.to_owned(),
            header: format!("{{\"started\":\"{started}\"}}"),
            lines: lines.iter().map(|line| (*line).to_owned()).collect(),
            sum: String::new(),
        }
    }

    fn answer(id: &str, day: u32) -> String {
        format!(
            r#"{{"v":1,"asked":"question","id":"{id}","revision":1,"skill":"watching","agent":"sweet","got":1,"of":2,"day":{day}}}"#
        )
    }

    fn ana() -> LearnerV1 {
        LearnerV1 {
            name: "Ana".to_owned(),
            runs: vec![run("k1-a", "2026-03-01T10:00:00Z", &["1", "2"]), run("k2-b", "2026-04-01T10:00:00Z", &["1"])],
            answers: vec![answer("cough", 20_000), answer("cough", 20_000), answer("seal", 20_003)],
            outcomes: Vec::new(),
            settings: vec![("aloud".to_owned(), "yes".to_owned()), (reached_key("k1-a"), "9000".to_owned())],
            sum: String::new(),
        }
    }

    fn backup() -> BackupV1 {
        BackupV1::new("2026-05-01T08:00:00Z".to_owned(), vec![ana(), LearnerV1::default()])
    }

    #[test]
    fn what_is_written_is_read_as_the_same() {
        assert_eq!(BackupV1::parse(&backup().written()).unwrap(), backup());
    }

    /// The sums of the empty text, of `a` and of `foobar` as the authors of FNV-1a publish them, but for the end that each
    /// text has here.
    #[test]
    fn the_sum_is_fnv_1a() {
        let end = |sum: u64| format!("{:016x}", (sum ^ 0xff).wrapping_mul(0x0100_0000_01b3));
        for (text, published) in
            [("", 0xcbf2_9ce4_8422_2325), ("a", 0xaf63_dc4c_8601_ec8c), ("foobar", 0x8594_4171_f739_67e8)]
        {
            assert_eq!(sum([&text.to_owned()].into_iter()), end(published), "{text}");
        }
    }

    /// The first version's file, kept for ever.
    #[test]
    fn the_golden_backup_still_opens() {
        let golden = include_str!("../../golden/backup-v1.json");
        assert_eq!(BackupV1::parse(golden).unwrap(), backup());
        assert_eq!(backup().written(), golden.trim_end());
    }

    #[test]
    fn what_is_wrong_is_named_with_its_place() {
        let written = backup().written();
        let rows = [
            ("format", Code::ForeignFormat, "bittersweet-backup", "bittersweet-run"),
            ("version", Code::NewerVersion, "\"version\":1", "\"version\":2"),
            ("saved", Code::NotPlain, "2026-05-01", "2026-05-01\\n"),
            ("learners[0].name", Code::NotPlain, "Ana", " Ana"),
            ("learners[0].sum", Code::Damaged, "Ana", "Ann"),
            ("learners[0].sum", Code::Damaged, "[\"aloud\",\"yes\"]", "[\"aloud\",\"no\"]"),
            ("learners[0].sum", Code::Damaged, "cough", "gough"),
            ("learners[0].runs[0].sum", Code::Damaged, "[\"1\",\"2\"]", "[\"12\",\"\"]"),
            ("learners[0].runs[1].sum", Code::Damaged, "2026-04-01", "2027-04-01"),
            ("learners[0].runs[0].id", Code::UnknownCode, "k1-a\"", "K1/a\""),
            ("learners[0].settings[0]", Code::NotPlain, "aloud", ""),
        ];
        for (path, code, from, to) in rows {
            let damaged = written.replacen(from, to, 1);
            assert_ne!(damaged, written, "{path}");
            let faults = BackupV1::parse(&damaged).unwrap_err();
            let said = faults.list().iter().any(|fault| fault.path == path && fault.code == code);
            assert!(said, "{path}: {faults}");
        }
        let empty = BackupV1::new(String::new(), Vec::new()).written();
        assert_eq!(BackupV1::parse(&empty).unwrap_err().list()[0].path, "learners");
        let many = BackupV1::new(String::new(), vec![LearnerV1::default(); learners_v1::MOST + 1]).written();
        assert_eq!(BackupV1::parse(&many).unwrap_err().list()[0].code, Code::TooMany);
        let cut = &written[..written.len() / 2];
        assert_eq!(BackupV1::parse(cut).unwrap_err().list()[0].code, Code::NotJson);
        let large = " ".repeat(MOST_BYTES + 1);
        assert_eq!(BackupV1::parse(&large).unwrap_err().list()[0].code, Code::TooLarge);
    }

    #[test]
    fn a_preview_says_what_is_in_it() {
        let latest = Some("2026-04-01T10:00:00Z".to_owned());
        assert_eq!(ana().contents(), Contents { runs: 2, answers: 3, latest });
        assert_eq!(LearnerV1::default().contents(), Contents { runs: 0, answers: 0, latest: None });
    }

    #[test]
    fn merged_with_the_same_or_with_nothing_nothing_changes() {
        assert_eq!(ana().merged(ana()), ana());
        assert_eq!(ana().merged(LearnerV1::default()), ana());
        assert_eq!(LearnerV1 { name: ana().name, ..LearnerV1::default() }.merged(ana()), ana());
    }

    #[test]
    fn the_longer_of_two_runs_stays_and_two_that_part_are_both_kept() {
        let there = LearnerV1 {
            runs: vec![
                run("k1-a", "2026-03-01T10:00:00Z", &["1", "3"]),
                run("k2-b", "2026-04-01T10:00:00Z", &["1", "2"]),
                run("k0-c", "2026-02-01T10:00:00Z", &[]),
            ],
            settings: vec![(reached_key("k1-a"), "8000".to_owned()), (reached_key("k2-b"), "5".to_owned())],
            ..LearnerV1::default()
        };
        let merged = ana().merged(there);
        let runs: Vec<_> = merged.runs.iter().map(|run| (run.id.as_str(), run.lines.join(" "))).collect();
        let expected = [("k0-c", ""), ("k1-a", "1 2"), ("k1-a-2", "1 3"), ("k2-b", "1 2")];
        assert_eq!(runs, expected.map(|(id, lines)| (id, lines.to_owned())));
        let reached = |id: &str| merged.settings.iter().find(|(key, _)| *key == reached_key(id)).unwrap().1.as_str();
        assert_eq!([reached("k1-a"), reached("k1-a-2"), reached("k2-b")], ["9000", "8000", "5"]);
    }

    #[test]
    fn the_outcome_of_the_longer_run_stays_and_what_is_kept_twice_counts_once() {
        let outcomes = |rows: &[(&str, &str)]| rows.iter().map(|(run, said)| ((*run).into(), (*said).into())).collect();
        let here = LearnerV1 { outcomes: outcomes(&[("k1-a", "here"), ("k2-b", "here")]), ..ana() };
        let there = LearnerV1 {
            runs: vec![
                run("k1-a", "2026-03-01T10:00:00Z", &["1", "3"]),
                run("k2-b", "2026-04-01T10:00:00Z", &["1", "2"]),
                run("k3-d", "2026-04-02T10:00:00Z", &["1"]),
            ],
            outcomes: outcomes(&[("k1-a", "there"), ("k2-b", "there"), ("k3-d", "there")]),
            ..LearnerV1::default()
        };
        let expected: Vec<_> = outcomes(&[("k1-a", "here"), ("k2-b", "there"), ("k3-d", "there")]);
        assert_eq!(here.merged(there).outcomes, expected);
    }

    #[test]
    fn a_moment_reached_never_goes_back() {
        let there = LearnerV1 {
            settings: vec![(reached_key("k1-a"), "10000".to_owned()), ("aloud".to_owned(), "no".to_owned())],
            ..LearnerV1::default()
        };
        let settings = ana().merged(there).settings;
        assert_eq!(settings, [("aloud".to_owned(), "yes".to_owned()), (reached_key("k1-a"), "10000".to_owned())]);
    }

    #[test]
    fn an_answer_given_twice_counts_twice_and_none_is_counted_double() {
        let there = LearnerV1 {
            answers: vec![answer("cough", 20_000), answer("cough", 20_000), answer("cough", 20_000), answer("hood", 20_001)],
            ..LearnerV1::default()
        };
        let expected = [("cough", 20_000), ("cough", 20_000), ("cough", 20_000), ("hood", 20_001), ("seal", 20_003)];
        assert_eq!(ana().merged(there).answers, expected.map(|(id, day)| answer(id, day)));
    }
}
