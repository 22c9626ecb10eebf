//! What answers are worth: the laws of marking over every question of the bank, and the order against `SciPy`.

use super::all;
use bittersweet_core::{
    question::{
        Agents, Grounds, Number, Options, Question, Task,
        ask::{Asked, ask},
        formula::Formula,
        mark::{Answer, Credit, Fate, How, Marked, Slip, mark},
        unit::Unit,
    },
    rulebook::{Agent, RuleId},
    source::Skill,
};
use proptest::prelude::*;
use serde_json::Value;
use std::{collections::BTreeMap, fs, path::Path};

fn question(task: Task) -> Question {
    Question {
        id: "made".to_owned(),
        revision: 1,
        skill: Skill::Running,
        agents: Agents::Both,
        grounds: Grounds::Rule(RuleId::FitHalf),
        now: true,
        difficulty: 40,
        task,
    }
}

fn options(all: &str, right: &str) -> Options {
    Options { letters: all.chars().collect(), right: right.chars().collect() }
}

fn marked(task: Task, letters: &str) -> Marked {
    let question = question(task);
    mark(&question, &ask(1, &question, Agent::Sweet), &Answer::Letters(letters.chars().collect()))
}

#[track_caller]
fn check(task: Task, letters: &str, got: u8, of: u8) {
    assert_eq!(marked(task, letters).credit, Credit { got, of }, "{letters}");
}

#[test]
fn one_right_option_is_all_or_nothing() {
    let task = || Task::One(options("abcd", "c"));
    check(task(), "c", 1, 1);
    check(task(), "a", 0, 1);
    check(task(), "", 0, 1);
    check(task(), "abcd", 0, 1);
    assert_eq!(marked(task(), "c").how, How::Whole);
}

#[test]
fn several_are_worth_right_marks_minus_wrong_ones() {
    let task = || Task::Many(options("abcde", "ace"));
    check(task(), "ace", 3, 3);
    check(task(), "ac", 2, 3);
    check(task(), "acb", 1, 3);
    check(task(), "abcde", 1, 3);
    check(task(), "bd", 0, 3);
    let fates: BTreeMap<char, Fate> = marked(task(), "ab").options.into_iter().collect();
    let wanted = [('a', Fate::Hit), ('b', Fate::Wrong), ('c', Fate::Missed), ('d', Fate::Left), ('e', Fate::Missed)];
    assert_eq!(fates, BTreeMap::from(wanted));
}

#[test]
fn an_order_says_what_stands_in_its_place() {
    let marked = marked(Task::Order(options("abcd", "dbac")), "dabc");
    let fates: BTreeMap<char, Fate> = marked.options.into_iter().collect();
    let wanted = [('a', Fate::Wrong), ('b', Fate::Wrong), ('c', Fate::Hit), ('d', Fate::Hit)];
    assert_eq!(fates, BTreeMap::from(wanted));
    assert_eq!((marked.credit, marked.how), (Credit { got: 4, of: 6 }, How::Pairs));
}

/// Kendall's tau, with nothing below nought.
#[test]
fn an_order_is_worth_what_scipy_makes_of_it() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/vectors/order.json");
    let vectors: Value = serde_json::from_str(&fs::read_to_string(path).expect("vectors")).expect("JSON");
    let rows = vectors["orders"].as_array().expect("a list");
    for row in rows {
        let places = row[0].as_array().expect("places");
        let letter = |place: &Value| char::from(b'a' + u8::try_from(place.as_u64().expect("a place")).expect("few"));
        let given: String = places.iter().map(letter).collect();
        let right: String = ('a'..).take(given.len()).collect();
        let credit = marked(Task::Order(options(&right, &right)), &given).credit;
        let tau = row[1].as_f64().expect("a number");
        assert!((credit.share() - tau.max(0.0)).abs() < 1e-12, "{given}: {credit:?}, not {tau}");
    }
    assert_eq!(rows.len(), 294);
}

fn number(formula: Formula, unit: Unit, tolerance: u8, figures: &[(&str, f64)]) -> Question {
    let drawn = figures.iter().map(|(name, value)| ((*name).to_owned(), vec![*value])).collect();
    question(Task::Number(Number { formula, unit, tolerance, drawn }))
}

#[track_caller]
fn check_number(question: &Question, value: f64, unit: Unit, credit: [u8; 2], slip: Option<Slip>) {
    let marked = mark(question, &ask(3, question, Agent::Sweet), &Answer::Number(value, unit));
    let [got, of] = credit;
    assert_eq!((marked.credit, marked.slip), (Credit { got, of }, slip), "{value} {unit:?}");
}

#[test]
fn a_number_is_right_within_its_tolerance_and_slips_are_named() {
    // 41.5 g.
    let salt = number(Formula::SaccharinGrams, Unit::Grams, 2, &[("volume", 50.0)]);
    check_number(&salt, 41.5, Unit::Grams, [1, 1], None);
    check_number(&salt, 42.0, Unit::Grams, [1, 1], None);
    check_number(&salt, 43.0, Unit::Grams, [0, 1], None);
    check_number(&salt, 41_500.0, Unit::Milligrams, [1, 1], None);
    check_number(&salt, 41.5, Unit::Milligrams, [1, 2], Some(Slip::Unit));
    check_number(&salt, 41_500.0, Unit::Grams, [1, 2], Some(Slip::Unit));
    check_number(&salt, 4.15, Unit::Grams, [1, 2], Some(Slip::Ten));
    check_number(&salt, 415.0, Unit::Grams, [1, 2], Some(Slip::Ten));
    check_number(&salt, 50.0, Unit::Grams, [0, 1], None);
    check_number(&salt, 41.5, Unit::Minutes, [1, 2], Some(Slip::Unit));
    // 10 min.
    let wait = number(Formula::UntilMayStart, Unit::Minutes, 0, &[("minutes", 5.0)]);
    check_number(&wait, 600.0, Unit::Seconds, [1, 1], None);
    check_number(&wait, 10.0, Unit::Seconds, [1, 2], Some(Slip::Unit));
    check_number(&wait, 1.0, Unit::Minutes, [0, 1], None);
    // 0.5 mg/m3: the limit itself is no slip of the point, it was not multiplied.
    let limit = number(Formula::LimitHalfMask, Unit::MilligramsPerCubicMetre, 1, &[("limit", 0.05)]);
    check_number(&limit, 0.05, Unit::MilligramsPerCubicMetre, [0, 1], None);
    check_number(&limit, 5.0, Unit::MilligramsPerCubicMetre, [1, 2], Some(Slip::Ten));
    // A count has no point to slip.
    let count = number(Formula::WholeTestSqueezes, Unit::Squeezes, 0, &[("threshold", 10.0)]);
    check_number(&count, 75.0, Unit::Squeezes, [1, 1], None);
    check_number(&count, 750.0, Unit::Squeezes, [0, 1], None);
    check_number(&count, f64::NAN, Unit::Squeezes, [0, 1], None);
}

#[test]
fn an_answer_of_the_wrong_kind_is_worth_nothing() {
    let count = number(Formula::WholeTestSqueezes, Unit::Squeezes, 0, &[("threshold", 10.0)]);
    let asked = ask(3, &count, Agent::Sweet);
    assert_eq!(mark(&count, &asked, &Answer::Letters(vec!['a'])).credit, Credit::NONE);
    let one = question(Task::One(options("abc", "a")));
    assert_eq!(mark(&one, &ask(3, &one, Agent::Sweet), &Answer::Number(1.0, Unit::Times)).credit.got, 0);
}

/// The answer that is right by the question's own data.
fn right(question: &Question, asked: &Asked) -> Answer {
    match &question.task {
        Task::Number(number) => Answer::Number(asked.number.expect("it has one"), number.unit),
        Task::One(options)
        | Task::Many(options)
        | Task::Order(options)
        | Task::Log(options)
        | Task::Picture(options, _) => Answer::Letters(options.right.clone()),
    }
}

#[test]
fn the_right_answer_to_every_question_is_worth_all() {
    for asked in all() {
        for seed in 0..8 {
            let put = ask(seed, &asked.question, Agent::Bitter);
            let marked = mark(&asked.question, &put, &right(&asked.question, &put));
            assert!(marked.credit.is_whole() && marked.slip.is_none(), "{}", asked.id());
            assert!(marked.options.iter().all(|(_, fate)| matches!(fate, Fate::Hit | Fate::Left)), "{}", asked.id());
        }
    }
}

proptest! {
    #![proptest_config(crate::random::config(200))]

    /// Whatever is marked, credit lies between nothing and all, and all is had by the right answer alone.
    #[test]
    fn only_the_right_marks_are_worth_all(right in 1_usize..31, given in 0_usize..32, sort in 0_u8..3) {
        let of = |bits: usize| -> String { ('a'..='e').zip(0..).filter(|(_, n)| bits >> n & 1 == 1).map(|(l, _)| l).collect() };
        let options = options("abcde", &of(right));
        let task = match sort {
            0 => Task::Many(options),
            1 => Task::Log(options),
            _ => Task::One(Options { right: options.right[..1].to_vec(), ..options }),
        };
        let wanted: String = task.options().expect("some").right.iter().collect();
        let credit = marked(task, &of(given)).credit;
        prop_assert!(credit.got <= credit.of && credit.of > 0);
        prop_assert_eq!(credit.is_whole(), wanted == of(given));
    }
}
