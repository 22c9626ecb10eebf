//! `docs/questions.md`: how many questions there are and how they measure up, made from the bank.
//!
//! `UPDATE=1` writes it anew; otherwise a stale page fails here.

use super::{APART, LANGUAGES, LEAST, LEAST_OF_A_SKILL, all, balance, bank, overlap, readable};
use bittersweet_core::{question::Kind, source::Skill};
use std::{env, fmt::Write as _, fs, path::Path};

fn page() -> String {
    let bank = bank();
    let apart = all().iter().filter(|asked| asked.file == APART).count();
    let mut text = format!(
        "# The question bank\n\nMade by the tests from `core/data/questions`; `UPDATE=1 cargo test -p bittersweet-checks \
         questions` writes it anew.\n\n{} questions for conductors ({LEAST} at least, {LEAST_OF_A_SKILL} of each skill), and \
         {apart} for whoever is tested. {} ask what to do now.\n\n",
        bank.len(),
        bank.iter().filter(|asked| asked.question.now).count(),
    );
    let kinds: Vec<&str> = Kind::ALL.iter().map(|kind| kind.code()).collect();
    let _ = writeln!(text, "| skill | {} | all |\n| --- |{}", kinds.join(" | "), " ---: |".repeat(kinds.len() + 1));
    for skill in Skill::ALL.iter().copied() {
        let of = |kind: Kind| {
            let is_it = |asked: &&super::Asked| asked.question.skill == skill && asked.question.task.kind() == kind;
            bank.iter().filter(is_it).count()
        };
        let counts: Vec<usize> = Kind::ALL.iter().copied().map(of).collect();
        let cells: Vec<String> = counts.iter().map(usize::to_string).collect();
        let _ = writeln!(text, "| {} | {} | {} |", skill.code(), cells.join(" | "), counts.iter().sum::<usize>());
    }
    text.push_str("\n| measured | en | es | bound |\n| --- | ---: | ---: | --- |\n");
    let mut row = |what: &str, of: &dyn Fn(&str) -> String, bound: &str| {
        let [en, es] = LANGUAGES.map(of);
        let _ = writeln!(text, "| {what} | {en} | {es} | {bound} |");
    };
    let grades = |language: &str| readable::grades(language).into_iter().map(|(grade, _)| grade).collect::<Vec<_>>();
    let mean = |of: &[f64]| of.iter().sum::<f64>() / f64::from(u32::try_from(of.len()).expect("few"));
    let hardest = |language: &str| {
        let grades = grades(language).into_iter();
        let hardest = if language == "es" { grades.reduce(f64::min) } else { grades.reduce(f64::max) };
        format!("{:.1}", hardest.unwrap_or_default())
    };
    let bound = format!("en at most {}, es at least {}", readable::HIGHEST_GRADE, readable::LOWEST_SCORE);
    row("Flesch-Kincaid grade, Fernández Huerta score: mean", &|tag| format!("{:.1}", mean(&grades(tag))), "");
    row("the same: hardest question with its options", &hardest, &bound);
    row("the same: mean distance from textstat, fixed sample", &|tag| format!("{:+.2}", readable::off(tag).1), "");
    let longest = |tag: &str| {
        let [longest, expected, all] = balance::longest(tag);
        format!("{longest:.1} of {all} ({expected:.1} by chance)")
    };
    row("the right option is the longest of its question in", &longest, "at most as by chance");
    let most = |tag: &str| overlap::pairs(tag).first().map_or(0.0, |(share, _)| *share);
    let bound = format!("at most {:.2}", overlap::MOST);
    row("runs of three words that two questions share: most", &|tag| format!("{:.2}", most(tag)), &bound);
    text
}

#[test]
fn the_page_on_the_bank_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../docs/questions.md");
    let wanted = page();
    if env::var_os("UPDATE").is_some() {
        fs::write(&path, &wanted).expect("docs can be written");
    }
    let found = fs::read_to_string(&path).unwrap_or_default();
    assert!(found == wanted, "docs/questions.md is stale: UPDATE=1 writes it anew");
}
