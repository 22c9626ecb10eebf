//! One saved run for each built-in scenario, by the book or, where there is one, the colleague's, kept for ever: today's
//! code opens it, replays it to the same log, and saves it to the same bytes. `UPDATE=1` writes them anew, which is a new engine number or a new scenario.

use crate::driver::{Conductor, built_in};
use bittersweet_alike::{Again, written};
use bittersweet_core::{
    act::Act,
    log::What,
    review::review,
    run::{MOST_ENTRIES, Run},
    scenario::Scenario,
    scenarios::BUILT_IN,
    sign::{Seen, Sign},
    source::Gravity,
    wire::{
        Code, Faults,
        run_v1::{self, Conditions, Help, Pace, RunV1},
        scenario_v1,
    },
};
use std::{env, fs, path::PathBuf, rc::Rc};

fn file(id: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("golden").join(format!("{id}.json"))
}

pub(crate) fn golden(id: &str) -> String {
    fs::read_to_string(file(id)).unwrap_or_else(|error| panic!("{id}: {error}; UPDATE=1 writes it"))
}

fn built_in_text(id: &str) -> &'static str {
    BUILT_IN.iter().find(|(name, _)| *name == id).map(|(_, text)| *text).expect("a built-in scenario")
}

fn run_of(id: &str) -> Run {
    let scenario = built_in(id);
    let Some(acts) = &scenario.colleague else { return Conductor::by_the_book(&scenario) };
    let alone = Rc::new(Scenario { colleague: None, ..(*scenario).clone() });
    Run::replay(alone, acts).unwrap_or_else(|refusal| panic!("{id}: {refusal}"))
}

fn conditions() -> Conditions {
    Conditions::new(Help::Guided, Pace::Real)
}

#[test]
fn every_golden_run_replays_to_the_same_bytes() {
    for (id, _) in BUILT_IN {
        if env::var_os("UPDATE").is_some() {
            let run = run_of(id);
            let text = written(run.scenario(), run.log(), &conditions(), None);
            fs::write(file(id), text).expect("the folder is there");
        }
        let text = golden(id);
        let again = Again::of(&text).unwrap_or_else(|faults| panic!("{id}: {faults}"));
        let file = again.file.unwrap_or_else(|| panic!("{id}: today's engine shows something else; see ENGINE"));
        assert!(file == text, "{id}: written again it is not the same");
    }
}

/// Runs that were saved by engines before this one. They open for ever: what was shown then is shown now, and today's rules
/// judge it.
#[test]
fn runs_of_earlier_engines_open_with_what_was_recorded() {
    for (engine, id) in [(1, "grinding-shop"), (1, "tunnel-crew")] {
        let text = golden(&format!("engine-{engine}/{id}"));
        let recorded: RunV1 = serde_json::from_str(&text).unwrap_or_else(|error| panic!("{id}: {error}"));
        assert_eq!(recorded.engine, engine);
        let opened = run_v1::parse(&text).unwrap_or_else(|faults| panic!("{id}: {faults}"));
        assert_eq!(opened.log.len(), recorded.acts.len() + recorded.events.len(), "{id}");
        let review = review(&opened.scenario, &opened.log);
        assert!(
            review.findings.iter().all(|finding| !matches!(finding.gravity, Gravity::Endangers | Gravity::Spoils)),
            "{id}: {review:?}"
        );
        assert!(!review.calls.is_empty() && review.calls.iter().all(|call| call.is_right()), "{id}");
    }
}

#[test]
fn a_run_of_another_engine_keeps_its_recorded_log() {
    let text = golden("grinding-shop");
    let other = text.replacen("\"engine\":2", "\"engine\":7", 1).replacen(
        "\"sign\":\"scratches-forehead\"",
        "\"sign\":\"coughs\"",
        1,
    );
    let opened = run_v1::parse(&other).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(opened.run.is_none());
    let before = run_v1::parse(&text).expect("the golden run opens").log;
    let differing: Vec<_> = before.iter().zip(&opened.log).filter(|(before, after)| before != after).collect();
    let [(_, coughs)] = differing.as_slice() else { panic!("one entry differs, not {differing:?}") };
    assert_eq!(coughs.what, What::Sign(Sign::Seen(Seen::Coughs)));
    assert_eq!(opened.log.len(), before.len());
    // What today's engine would not allow, another may have: the recorded log stands as well.
    let impossible = text.replacen("\"engine\":2", "\"engine\":7", 1).replacen(
        "\"act\":\"ask-clearance\"",
        "\"act\":\"hood-off\"",
        1,
    );
    let opened = run_v1::parse(&impossible).unwrap_or_else(|faults| panic!("{faults}"));
    assert!(opened.run.is_none());
    assert_eq!(opened.log.first().map(|entry| entry.what), Some(What::Act(Act::HoodOff)));
    let _ = review(&opened.scenario, &opened.log);
}

#[track_caller]
fn refused(text: &str, code: Code, place: &str) {
    let faults: Faults = run_v1::parse(text).expect_err("it must be refused");
    let found =
        faults.list().iter().any(|fault| fault.code == code && fault.path.starts_with(place) && !fault.got.is_empty());
    assert!(found, "expected {code:?} at {place:?}, got: {faults}");
}

#[test]
fn what_is_wrong_with_a_file_is_said_with_its_place() {
    let text = golden("grinding-shop");
    let with = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    };
    refused("", Code::NotJson, "line 1");
    refused(&text[..text.len() / 2], Code::NotJson, "line 1");
    refused("{\"format\":1}", Code::WrongShape, "line 1");
    refused(&format!("{text}{}", " ".repeat(1024 * 1024)), Code::TooLarge, "");
    refused(&with("bittersweet-run", "something-else"), Code::ForeignFormat, "format");
    refused(&with("\"version\":1", "\"version\":2"), Code::NewerVersion, "version");
    refused(&with("\"act\":\"ask-clearance\"", "\"act\":\"dance\""), Code::UnknownCode, "acts[0].act");
    refused(&with("\"at\":2400", "\"at\":1"), Code::TimeRunsBack, "acts[1].at");
    refused(&with("\"act\":\"ask-clearance\"", "\"act\":\"hood-off\""), Code::Impossible, "acts");
    refused(&with("\"name\":\"Ines\"", "\"name\":\"I\\u202enes\""), Code::NotPlain, "scenario.wearer.name");
    refused(&with("\"name\":\"Ines\"", "\"name\":\"I\\u0007nes\""), Code::NotPlain, "scenario.wearer.name");
    refused(
        &with("\"clearance\":\"cleared\"", "\"clearance\":\"perhaps\""),
        Code::UnknownCode,
        "scenario.wearer.clearance",
    );
    refused(&with("\"help\":\"guided\"", "\"help\":\"much\""), Code::UnknownCode, "help");
    refused("[]", Code::WrongShape, "line 1");
    refused(&with("\"version\":1", "\"version\":0"), Code::OutOfRange, "version");
    refused(&with("\"version\":1", "\"version\":-1"), Code::WrongShape, "line 1");
    refused(&with("\"engine\":2", "\"engine\":2,\"extra\":1"), Code::WrongShape, "line 1");
    refused(&with("\"pace\":\"real\"", "\"pace\":\"hasty\""), Code::UnknownCode, "paces[0].pace");
    refused(&with("\"sign\":\"says-cleared\"", "\"sign\":\"sings\""), Code::UnknownCode, "events[0].sign");
    refused(&with("\"after\":2,", "\"after\":60000,"), Code::OutOfRange, "events[1].after");
    refused(&with("\"at\":2400,\"after\":2", "\"at\":1,\"after\":2"), Code::TimeRunsBack, "events[1].at");
    refused(
        &with("\"act\":\"take\",\"with\":\"check\"", "\"act\":\"take\",\"with\":\"both\""),
        Code::UnknownCode,
        "acts[",
    );
    refused(&with("\"seed\":\"1000\"", "\"seed\":\"-1\""), Code::OutOfRange, "scenario.seed");
    refused(&with("\"choices\":[2,3]", "\"choices\":[2,9]"), Code::NoSuchPlace, "scenario.wearer.choices");
    let many = "{\"at\":0,\"act\":\"squeeze\"},".repeat(MOST_ENTRIES);
    refused(&with("\"acts\":[", &format!("\"acts\":[{many}")), Code::TooMany, "acts");
}

/// What is wrong with a scenario: in the first built-in one a text, another in its place, why that is wrong, and where.
pub(crate) const WRONG_SCENARIOS: &[(&str, &str, Code, &str)] = &[
    ("bittersweet-scenario", "bittersweet-run", Code::ForeignFormat, "format"),
    ("\"version\":1", "\"version\":2", Code::NewerVersion, "version"),
    ("\"id\":\"grinding-shop\"", "\"id\":\"../shop\"", Code::NotPlain, "id"),
    ("\"agent\":\"sweet\"", "\"agent\":\"sour\"", Code::UnknownCode, "agent"),
    ("\"exposure_times\":4", "\"exposure_times\":10001", Code::OutOfRange, "exposure_times"),
    ("\"exposure_times\":4", "\"exposure_times\":-4", Code::WrongShape, "line 1"),
    ("\"name\":\"Ines\"", "\"name\":\" \"", Code::NotPlain, "wearer.name"),
    ("\"name\":\"Ines\"", "\"name\":\"\\u2066Ines\"", Code::NotPlain, "wearer.name"),
    ("\"name\":\"Ines\"", "\"name\":\"Ines\\n\"", Code::NotPlain, "wearer.name"),
    ("\"name\":\"Ines\"", "\"nickname\":\"Ines\"", Code::WrongShape, "line 1"),
    ("\"look\":[2,1,0]", "\"look\":[2,1,9]", Code::OutOfRange, "wearer.look"),
    ("\"tastes_after\":7", "\"tastes_after\":31", Code::OutOfRange, "wearer.tastes_after"),
    ("\"choices\":[2,3]", "\"choices\":[0]", Code::NoSuchPlace, "wearer.choices"),
    ("\"fit\":30", "\"fit\":0", Code::OutOfRange, "rack[0].fit"),
    ("\"class\":\"half\"", "\"class\":\"whole\"", Code::UnknownCode, "rack[0].class"),
    ("\"kind\":\"scratches\"", "\"kind\":\"sneezes\"", Code::UnknownCode, "trouble[0].kind"),
    ("\"during\":\"deep-breathing\",", "", Code::Empty, "trouble[0]"),
];

/// The first built-in scenario on one line.
pub(crate) fn scenario_without_blanks() -> String {
    built_in_text("grinding-shop").split_whitespace().collect()
}

/// A scenario file says so too.
#[test]
fn what_is_wrong_with_a_scenario_is_said_with_its_place() {
    let text = scenario_without_blanks();
    scenario_v1::parse(&text).unwrap_or_else(|faults| panic!("{faults}"));
    for (from, to, code, place) in WRONG_SCENARIOS {
        assert!(text.contains(from), "{from}");
        let faults = scenario_v1::parse(&text.replacen(from, to, 1)).expect_err(to);
        let said = faults
            .list()
            .iter()
            .any(|fault| fault.code == *code && fault.path.starts_with(place) && !fault.got.is_empty());
        assert!(said, "{to}: expected {code:?} at {place:?}, got: {faults}");
    }
    let large = format!("{text}{}", " ".repeat(256 * 1024));
    let faults = scenario_v1::parse(&large).expect_err("too large");
    assert_eq!(faults.list().first().map(|fault| fault.code), Some(Code::TooLarge));
}

#[test]
fn all_faults_are_told_at_once_up_to_twenty() {
    let text = golden("grinding-shop").replace("\"act\":\"squeeze\"", "\"act\":\"squeese\"");
    let faults = run_v1::parse(&text).expect_err("it must be refused");
    assert_eq!(faults.list().len(), Faults::MOST);
}
