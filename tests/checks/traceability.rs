//! Which rule is tested where and shows where: `docs/traceability.md`, made from the rulebook and the cases.
//!
//! `UPDATE=1` writes it anew; otherwise a stale page, a rule without a case, or one that is never kept fails here.

use crate::{
    cases::CASES,
    driver::{Conductor, built_in},
};
use bittersweet_core::{
    guide, judge,
    rulebook::{Agent, Rule, RuleId, Rulebook},
    run::Run,
    scenarios::BUILT_IN,
};
use std::{collections::BTreeSet, env, fmt::Write as _, fs, path::PathBuf, rc::Rc};

/// Rules that can only be broken: keeping them is not doing something, or leaves no trace in a run by the book.
const ONLY_BROKEN: &[RuleId] = &[
    RuleId::TrainingApart,
    RuleId::UseEvery,
    RuleId::FacepiecePassedOn,
    RuleId::FacepieceDefect,
    RuleId::SealCheckFailed,
    RuleId::ComfortOther,
    RuleId::FitSqueeze,
    RuleId::FitInitialOver,
    RuleId::FitHalfOver,
    RuleId::FitGrimace,
    RuleId::AskLeadingPass,
    RuleId::RecordHealth,
    RuleId::NextAgent,
    RuleId::ResultUntasted,
    // Kept only by a full facepiece within the limit, by a house that lets jogging stand for bending, and by calling a
    // taste suspect; no scenario of ours has them yet.
    RuleId::UseLimit,
    RuleId::FitJog,
    RuleId::WatchSuspect,
];

fn page() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs/traceability.md")
}

/// Rules that the guide cites on the way through the built-in scenarios.
fn cited_by_the_guide() -> BTreeSet<RuleId> {
    let mut cited = BTreeSet::new();
    for (id, _) in BUILT_IN {
        let scenario = built_in(id);
        let whole = Conductor::by_the_book(&scenario);
        let mut run = Run::new(Rc::clone(&scenario));
        for (at, act) in whole.acts().collect::<Vec<_>>() {
            cited.extend(guide::next(&scenario, run.state(), run.now()).map(|step| step.rule));
            run.apply(act, at).expect("it was done before");
        }
    }
    cited
}

/// Rules that are kept somewhere in the runs by the book and in the cases.
fn kept() -> BTreeSet<RuleId> {
    let by_the_book = BUILT_IN.iter().map(|(id, _)| Conductor::by_the_book(&built_in(id)));
    // Each case as it went, and its scenario by the book.
    let in_cases = CASES.iter().flat_map(|case| case.conductors()).flat_map(|conductor| {
        let as_it_should = Conductor::by_the_book(conductor.run.scenario());
        [conductor.run, as_it_should]
    });
    by_the_book
        .chain(in_cases)
        .flat_map(|run| judge::judge(run.scenario(), run.log()))
        .filter(|mark| mark.kept)
        .map(|mark| mark.rule)
        .collect()
}

fn row(rule: &Rule, agents: &str, cited: &BTreeSet<RuleId>) -> String {
    let cases: Vec<&str> = CASES.iter().filter(|case| case.rule == rule.id).map(|case| case.name).collect();
    let shows = if cited.contains(&rule.id) { "review, guide" } else { "review" };
    format!(
        "| `{}` | {} | {}{agents} | {} | {} | {} | {} | {} | {} | {shows} |",
        rule.id.code(),
        rule.skill.code(),
        rule.source,
        rule.basis.code(),
        rule.reading.code(),
        rule.gravity.code(),
        rule.push.code(),
        rule.governs.join(", "),
        cases.join("; "),
    )
}

fn written() -> String {
    let cited = cited_by_the_guide();
    let mut text = String::from(
        "# Which rule is tested where\n\nMade from the rulebook and from the cases of `tests/checks/cases.rs`; `UPDATE=1 cargo test -p \
         bittersweet-checks` writes it anew. Every case is run for both agents. Where an agent differs, it has a row of its own.\n\n\
         | rule | skill | source | basis | reading | gravity | push | acts it governs | the case that breaks it | shows in |\n\
         | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for id in RuleId::ALL.iter().copied() {
        let of = |agent: Agent| Rulebook::us(agent).rule(id);
        let same = |one: &Rule, other: &Rule| {
            let parts = (one.source.replace("I.B.3", "I.B.4"), other.source.replace("I.B.3", "I.B.4"));
            parts.0 == parts.1 && one.basis == other.basis && one.gravity == other.gravity
        };
        match (of(Agent::Sweet), of(Agent::Bitter)) {
            (Some(sweet), Some(bitter)) if same(sweet, bitter) => {
                let _ = writeln!(text, "{}", row(sweet, "", &cited));
            }
            (sweet, bitter) => {
                for (rule, agent) in [(sweet, " (sweet)"), (bitter, " (bitter)")] {
                    if let Some(rule) = rule {
                        let _ = writeln!(text, "{}", row(rule, agent, &cited));
                    }
                }
            }
        }
    }
    text
}

#[test]
fn the_page_is_what_rulebook_and_cases_say() {
    let now = written();
    if env::var_os("UPDATE").is_some() {
        fs::write(page(), &now).expect("docs is there");
    }
    let kept_page = fs::read_to_string(page()).expect("UPDATE=1 writes it");
    assert!(kept_page == now, "docs/traceability.md is stale: UPDATE=1 writes it anew");
}

#[test]
fn every_rule_is_kept_somewhere_too() {
    let kept = kept();
    let never: Vec<&str> = RuleId::ALL
        .iter()
        .filter(|rule| !kept.contains(rule) && !ONLY_BROKEN.contains(rule))
        .map(|rule| rule.code())
        .collect();
    assert!(never.is_empty(), "never kept: {never:?}");
}
