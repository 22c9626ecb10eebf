//! Which rule is tested where and shows where: `docs/traceability.md`, made from the rulebook and the cases.
//!
//! `UPDATE=1` writes it anew; otherwise a stale page, a rule without a case, or one that is never kept fails here.

use crate::{
    cases,
    driver::{Conductor, built_in},
};
use bittersweet_core::{
    guide, judge,
    rulebook::{Agent, Rule, RuleId, Rulebook},
    run::Run,
    scenarios::BUILT_IN,
};
use std::{collections::BTreeSet, env, fmt::Write as _, fs, path::PathBuf, rc::Rc};

/// Rules that no run of ours shows kept, and why.
const ONLY_BROKEN: &[(RuleId, &str)] = &[
    (RuleId::TrainingApart, "kept by not counting the briefing as training"),
    (RuleId::UseEvery, "kept by not signing for somebody untested"),
    (RuleId::FacepiecePassedOn, "kept by not handing a worn one on"),
    (RuleId::SealCheckFailed, "kept by not testing what failed its seal check"),
    (RuleId::ComfortOther, "kept by not testing what was refused"),
    (RuleId::FitSqueeze, "kept as the count of each set, which has rules of its own"),
    (RuleId::FitInitialOver, "kept as the count of the first set, which has a rule of its own"),
    (RuleId::FitHalfOver, "kept as the count of a replenishment, which has a rule of its own"),
    (RuleId::FitGrimace, "kept by not adding one"),
    (RuleId::AskLeadingPass, "kept by not asking so"),
    (RuleId::NextAgent, "kept by not changing the agent"),
    (RuleId::UseLimit, "kept by a full facepiece within the limit, which no scenario has yet"),
    (RuleId::FitJog, "kept where the house lets jogging stand for bending, which no scenario has yet"),
    (RuleId::WatchSuspect, "kept by calling a suspect taste invalid, which no scenario has yet"),
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
    let in_cases = cases::all().flat_map(|case| case.conductors()).flat_map(|conductor| {
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

/// The row of a rule, for one agent where they differ.
fn row(rule: &Rule, agent: Option<Agent>, cited: &BTreeSet<RuleId>) -> String {
    let cases: Vec<&str> = cases::all()
        .filter(|case| case.rule == rule.id && agent.is_none_or(|agent| case.concerns(agent)))
        .map(|case| case.name)
        .collect();
    let agents = agent.map(|agent| format!(" ({})", agent.code())).unwrap_or_default();
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
        "# Which rule is tested where\n\nMade from the rulebook and from the cases in `tests/checks/cases/`; `UPDATE=1 cargo test -p \
         bittersweet-checks` writes it anew. Every case is run for each agent that it concerns. Where an agent differs, it has a row of its own.\n\n\
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
                let _ = writeln!(text, "{}", row(sweet, None, &cited));
            }
            (sweet, bitter) => {
                for (rule, agent) in [(sweet, Agent::Sweet), (bitter, Agent::Bitter)] {
                    if let Some(rule) = rule {
                        let _ = writeln!(text, "{}", row(rule, Some(agent), &cited));
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
        .filter(|rule| !kept.contains(rule) && ONLY_BROKEN.iter().all(|(only, _)| only != *rule))
        .map(|rule| rule.code())
        .collect();
    assert!(never.is_empty(), "never kept: {never:?}");
    let stale: Vec<&str> =
        ONLY_BROKEN.iter().filter(|(rule, _)| kept.contains(rule)).map(|(rule, _)| rule.code()).collect();
    assert!(stale.is_empty(), "no exceptions any more: {stale:?}");
}
