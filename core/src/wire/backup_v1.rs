//! Backups, version 1: everything that is kept of one or more learners, as it is kept.
//!
//! What is kept stays text here, byte for byte: a run that this version cannot read is carried along whole. Sums tell
//! accidental damage and where it is; they keep nobody from making a file of their own.

use super::{
    Code, Faults, MOST_RUN_BYTES, answer_v1::AnswerV1, check_kind, is_id, is_plain, learners_v1, quoted, read,
    tree::Tree,
};
use crate::run::MOST_ENTRIES;

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-backup";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// Bytes that a backup may have.
pub const MOST_BYTES: usize = 64 * 1024 * 1024;

const LONGEST_KEY: usize = 100;

/// A backup file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BackupV1 {
    /// When it was saved, by the wall clock, as ISO 8601; for people to read.
    pub saved: String,
    /// Each with what is kept of them.
    pub learners: Vec<LearnerV1>,
}

/// What is kept of a learner.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LearnerV1 {
    /// Their name; empty for one who never needed any.
    pub name: String,
    /// Runs and watched runs, oldest first.
    pub runs: Vec<KeptV1>,
    /// What became of runs: the run's id and its outcome.
    pub outcomes: Vec<(String, String)>,
    /// Answers, in the order in which they were given.
    pub answers: Vec<String>,
    /// Assessments: id, and how it stands.
    pub sittings: Vec<(String, String)>,
    /// Settings: key and value.
    pub settings: Vec<(String, String)>,
}

/// A run as it is kept: a header, and lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeptV1 {
    /// Its id.
    pub id: String,
    /// Its header.
    pub header: String,
    /// Its lines, in order.
    pub lines: Vec<String>,
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
    /// As it is written.
    #[must_use]
    pub fn written(&self) -> String {
        let saved = quoted(&self.saved);
        let learners = list(&self.learners, LearnerV1::written);
        let sum = self.sum();
        format!(r#"{{"format":"{FORMAT}","version":{VERSION},"saved":{saved},"learners":{learners},"sum":"{sum}"}}"#)
    }

    /// Reads a backup.
    ///
    /// # Errors
    /// All faults, with where and why.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        let tree: Tree = read(text, MOST_BYTES)?;
        let mut faults = Faults::default();
        let format = tree.get("format").text().unwrap_or_default();
        check_kind(format, tree.get("version").whole().unwrap_or_default(), FORMAT, VERSION, &mut faults);
        let saved = string(&tree, "saved", "", &mut faults);
        if !is_plain(&saved) || saved.len() > LONGEST_KEY {
            faults.push("saved", Code::NotPlain, &saved);
        }
        let learners = entries(&tree, "learners", "", &mut faults);
        match learners.len() {
            0 => faults.push("learners", Code::Empty, 0),
            1..=learners_v1::MOST => {}
            many => faults.push("learners", Code::TooMany, many),
        }
        let learners = (0..learners_v1::MOST).zip(learners);
        let learners = learners
            .map(|(number, learner)| LearnerV1::read(learner, &format!("learners[{number}]."), &mut faults))
            .collect();
        let backup = Self { saved, learners };
        check_sum(&tree, backup.sum(), "", &mut faults);
        faults.or(backup)
    }

    /// Of when it was saved and whose it is; each learner has a sum of their own.
    fn sum(&self) -> String {
        sum([&self.saved].into_iter().chain(self.learners.iter().map(|learner| &learner.name)))
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
                        for of in [reached_key, beat_key] {
                            if *key == of(&run.id) {
                                *key = of(&id);
                            }
                        }
                    }
                    run.id = id;
                    self.keep(run);
                }
                None => self.keep(run),
            }
        }
        for (key, value) in settings {
            match self.settings.iter_mut().find(|(here, _)| *here == key) {
                // Of two moments, the later.
                Some((_, here)) if is_moment(&key) && number(here) < number(&value) => *here = value,
                Some(_) => {}
                None => self.settings.push((key, value)),
            }
        }
        outcomes.retain(|(id, _)| self.outcomes.iter().all(|(here, _)| here != id));
        self.outcomes.append(&mut outcomes);
        for (id, sitting) in other.sittings {
            match self.sittings.iter_mut().find(|(here, _)| *here == id) {
                // It only ever grows.
                Some((_, here)) if here.len() < sitting.len() => *here = sitting,
                Some(_) => {}
                None => self.sittings.push((id, sitting)),
            }
        }
        self.answers = joined(self.answers, other.answers);
        self
    }

    /// Puts a run among the others, which are in the order of their ids.
    fn keep(&mut self, run: KeptV1) {
        let place = self.runs.partition_point(|other| other.id < run.id);
        self.runs.insert(place, run);
    }

    /// An id of which no run is kept, like this one.
    fn free_id(&self, id: &str) -> String {
        let is_free = |id: &String| self.runs.iter().all(|run| run.id != *id);
        let stem: String = id.chars().take(30).collect();
        (2..).map(|number| format!("{stem}-{number}")).find(is_free).unwrap_or_default()
    }

    fn read(tree: &Tree, at: &str, faults: &mut Faults) -> Self {
        let runs = entries(tree, "runs", at, faults).iter().enumerate();
        let learner = Self {
            name: string(tree, "name", at, faults),
            runs: runs.map(|(number, run)| KeptV1::read(run, &format!("{at}runs[{number}]."), faults)).collect(),
            outcomes: pairs(tree, "outcomes", at, faults),
            answers: strings(tree, "answers", at, faults),
            sittings: pairs(tree, "sittings", at, faults),
            settings: pairs(tree, "settings", at, faults),
        };
        if !learners_v1::is_name(&learner.name) {
            faults.push(&format!("{at}name"), Code::NotPlain, &learner.name);
        }
        check_sum(tree, learner.sum(), at, faults);
        learner
    }

    fn written(&self) -> String {
        let pair = |(key, value): &(String, String)| format!("[{},{}]", quoted(key), quoted(value));
        format!(
            r#"{{"name":{},"runs":{},"outcomes":{},"answers":{},"sittings":{},"settings":{},"sum":"{}"}}"#,
            quoted(&self.name),
            list(&self.runs, KeptV1::written),
            list(&self.outcomes, pair),
            list(&self.answers, |answer| quoted(answer)),
            list(&self.sittings, pair),
            list(&self.settings, pair),
            self.sum(),
        )
    }

    /// Of all of it but the runs' headers and lines, which have a sum of their own.
    fn sum(&self) -> String {
        let runs = self.runs.iter().map(|run| &run.id);
        let rows = self.outcomes.iter().chain(&self.sittings).chain(&self.settings);
        let rows = rows.flat_map(|(key, value)| [key, value]);
        sum([&self.name].into_iter().chain(runs).chain(&self.answers).chain(rows))
    }
}

impl KeptV1 {
    fn read(tree: &Tree, at: &str, faults: &mut Faults) -> Self {
        let run = Self {
            id: string(tree, "id", at, faults),
            header: string(tree, "header", at, faults),
            lines: strings(tree, "lines", at, faults),
        };
        if !is_id(&run.id) {
            faults.push(&format!("{at}id"), Code::UnknownCode, &run.id);
        }
        if run.header.len() > MOST_RUN_BYTES {
            faults.push(&format!("{at}header"), Code::TooLarge, run.header.len());
        }
        if run.lines.len() > MOST_ENTRIES {
            faults.push(&format!("{at}lines"), Code::TooMany, run.lines.len());
        }
        check_sum(tree, run.sum(), at, faults);
        run
    }

    fn written(&self) -> String {
        format!(
            r#"{{"id":{},"header":{},"lines":{},"sum":"{}"}}"#,
            quoted(&self.id),
            quoted(&self.header),
            list(&self.lines, |line| quoted(line)),
            self.sum(),
        )
    }

    fn sum(&self) -> String {
        sum([&self.id, &self.header].into_iter().chain(&self.lines))
    }
}

/// A list as it is written.
fn list<T>(all: &[T], written: impl Fn(&T) -> String) -> String {
    format!("[{}]", all.iter().map(written).collect::<Vec<_>>().join(","))
}

fn string(tree: &Tree, name: &str, at: &str, faults: &mut Faults) -> String {
    let found = tree.get(name);
    match found.text() {
        Some(text) => text.to_owned(),
        None => {
            faults.push(&format!("{at}{name}"), Code::WrongShape, found);
            String::new()
        }
    }
}

fn entries<'a>(tree: &'a Tree, name: &str, at: &str, faults: &mut Faults) -> &'a [Tree] {
    let found = tree.get(name);
    found.list().unwrap_or_else(|| {
        faults.push(&format!("{at}{name}"), Code::WrongShape, found);
        &[]
    })
}

fn strings(tree: &Tree, name: &str, at: &str, faults: &mut Faults) -> Vec<String> {
    let mut texts = Vec::new();
    for (number, entry) in entries(tree, name, at, faults).iter().enumerate() {
        match entry.text() {
            Some(text) => texts.push(text.to_owned()),
            None => faults.push(&format!("{at}{name}[{number}]"), Code::WrongShape, entry),
        }
    }
    texts
}

/// Keys with values; the keys are plain.
fn pairs(tree: &Tree, name: &str, at: &str, faults: &mut Faults) -> Vec<(String, String)> {
    let mut pairs = Vec::new();
    for (number, entry) in entries(tree, name, at, faults).iter().enumerate() {
        let place = format!("{at}{name}[{number}]");
        match entry.list() {
            Some([Tree::Text(key), Tree::Text(value)]) => {
                if key.is_empty() || key.len() > LONGEST_KEY || !is_plain(key) {
                    faults.push(&place, Code::NotPlain, key);
                }
                pairs.push((key.clone(), value.clone()));
            }
            _ => faults.push(&place, Code::WrongShape, entry),
        }
    }
    pairs
}

fn check_sum(tree: &Tree, reckoned: String, at: &str, faults: &mut Faults) {
    let said = tree.get("sum");
    if said.text() != Some(reckoned.as_str()) {
        faults.push(&format!("{at}sum"), Code::Damaged, said);
    }
}

const REACHED: &str = "reached/";
const BEAT: &str = "beat/";

/// The setting that holds the last moment of a run known to have been reached.
#[must_use]
pub fn reached_key(run: &str) -> String {
    format!("{REACHED}{run}")
}

/// The setting that holds when a run of an assessment was last known to go on, by the wall clock.
#[must_use]
pub fn beat_key(run: &str) -> String {
    format!("{BEAT}{run}")
}

fn is_moment(key: &str) -> bool {
    key.starts_with(REACHED) || key.starts_with(BEAT)
}

fn number(text: &str) -> u64 {
    text.parse().unwrap_or_default()
}

/// The answers of two lists in which some are the same: each as often as the list has it that has it more often, and by
/// the day on which it was given.
fn joined(mut here: Vec<String>, there: Vec<String>) -> Vec<String> {
    let day = |answer: &String| AnswerV1::parse(answer).map_or(u32::MAX, |answer| answer.day);
    let mut left = here.clone();
    let mut missing = Vec::new();
    // From their ends: two lists that are alike are then gone through once.
    for answer in there.into_iter().rev() {
        match left.iter().rposition(|known| *known == answer) {
            Some(place) => drop(left.remove(place)),
            None => missing.push(answer),
        }
    }
    for answer in missing.into_iter().rev() {
        let on = day(&answer);
        let place = here.partition_point(|earlier| day(earlier) <= on);
        here.insert(place, answer);
    }
    here
}

/// FNV-1a, 64 bits, of texts and where each ends.
fn sum<'a>(texts: impl Iterator<Item = &'a String>) -> String {
    let bytes = texts.flat_map(|text| text.bytes().chain([0xff]));
    let sum =
        bytes.fold(0xcbf2_9ce4_8422_2325, |sum: u64, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3));
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
            sittings: vec![("s1".to_owned(), "{}".to_owned())],
            settings: vec![("aloud".to_owned(), "yes".to_owned()), (reached_key("k1-a"), "9000".to_owned())],
        }
    }

    fn backup() -> BackupV1 {
        BackupV1 { saved: "2026-05-01T08:00:00Z".to_owned(), learners: vec![ana(), LearnerV1::default()] }
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
            ("sum", Code::Damaged, "2026-05-01", "2026-05-02"),
            ("learners[0].name", Code::NotPlain, "Ana", " Ana"),
            ("learners[0].sum", Code::Damaged, "Ana", "Ann"),
            ("learners[0].sum", Code::Damaged, "[\"aloud\",\"yes\"]", "[\"aloud\",\"no\"]"),
            ("learners[0].sum", Code::Damaged, "cough", "gough"),
            ("learners[0].runs[0].sum", Code::Damaged, "[\"1\",\"2\"]", "[\"12\",\"\"]"),
            ("learners[0].runs[1].sum", Code::Damaged, "2026-04-01", "2027-04-01"),
            ("learners[0].runs[0].id", Code::UnknownCode, "k1-a\"", "K1/a\""),
            ("learners[0].settings[0]", Code::NotPlain, "aloud", ""),
            ("learners[0].settings[0]", Code::WrongShape, "\"aloud\",", ""),
            ("learners[0].answers[2]", Code::WrongShape, "\"answers\":[", "\"answers\":[\"a\",\"b\",3,"),
            ("learners[0].runs[0].header", Code::WrongShape, "\"header\"", "\"heading\""),
            ("learners[1].runs", Code::WrongShape, "\"name\":\"\",\"runs\":[]", "\"name\":\"\",\"runs\":{}"),
        ];
        for (path, code, from, to) in rows {
            let damaged = written.replacen(from, to, 1);
            assert_ne!(damaged, written, "{path}");
            let faults = BackupV1::parse(&damaged).unwrap_err();
            let said = faults.list().iter().any(|fault| fault.path == path && fault.code == code);
            assert!(said, "{path}: {faults}");
        }
        let empty = BackupV1 { saved: String::new(), learners: Vec::new() }.written();
        assert_eq!(BackupV1::parse(&empty).unwrap_err().list()[0].path, "learners");
        let many =
            BackupV1 { saved: String::new(), learners: vec![LearnerV1::default(); learners_v1::MOST + 1] }.written();
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
    fn an_assessment_stays_as_far_as_it_got() {
        let sittings = |rows: &[(&str, &str)]| rows.iter().map(|(id, said)| ((*id).into(), (*said).into())).collect();
        let there = LearnerV1 { sittings: sittings(&[("s1", "{a}"), ("s2", "{}")]), ..LearnerV1::default() };
        let expected: Vec<_> = sittings(&[("s1", "{a}"), ("s2", "{}")]);
        assert_eq!(ana().merged(there.clone()).sittings, expected);
        assert_eq!(there.merged(ana()).sittings, expected);
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
            answers: vec![
                answer("cough", 20_000),
                answer("cough", 20_000),
                answer("cough", 20_000),
                answer("hood", 20_001),
            ],
            ..LearnerV1::default()
        };
        let expected = [("cough", 20_000), ("cough", 20_000), ("cough", 20_000), ("hood", 20_001), ("seal", 20_003)];
        assert_eq!(ana().merged(there).answers, expected.map(|(id, day)| answer(id, day)));
    }
}
