//! Assessments as they are kept, version 1: one JSON object a sitting, written anew after each step of it.

use super::{Code, Faults, answer_v1::AnswerV1, outcome_v1::OutcomeV1, run_v1::Pace, tree::Tree};
use crate::{
    assessment::{BARS, Length, Limit, NUMBERS, Sitting, Terms, Wall},
    rulebook::Agent,
};

/// Bytes that a sitting may have.
pub const MOST_BYTES: usize = 128 * 1_024;

/// So many runs, and so many answers, may stand in one.
const MOST: usize = 64;

/// As it is written.
#[must_use]
pub fn written(sitting: &Sitting) -> String {
    let Sitting { id, terms, began, day, begun, outcomes, asked_from, answers, closed } = sitting;
    let begun: Vec<String> = begun.iter().map(|run| format!("\"{run}\"")).collect();
    let outcomes: Vec<String> = outcomes.iter().map(OutcomeV1::written).collect();
    let answers: Vec<String> = answers.iter().map(AnswerV1::written).collect();
    let asked_from = asked_from.map(|from| format!(r#""asked_from":{from},"#)).unwrap_or_default();
    // Codes and ids have nothing in them that JSON would write otherwise.
    format!(
        concat!(
            r#"{{"v":1,"id":"{}","number":{},"agent":"{}","length":"{}","pace":"{}","limit":"{}","bar":{},"began":{},"day":{},"#,
            r#"{}"closed":{},"begun":[{}],"outcomes":[{}],"answers":[{}]}}"#,
        ),
        id,
        terms.number,
        terms.agent.code(),
        terms.length.code(),
        terms.pace.code(),
        terms.limit.code(),
        terms.bar,
        began,
        day,
        asked_from,
        closed,
        begun.join(","),
        outcomes.join(","),
        answers.join(","),
    )
}

/// Reads one.
///
/// # Errors
/// The first field that is wrong, with what was there.
pub fn parse(text: &str) -> Result<Sitting, Faults> {
    let tree: Tree = super::read(text, MOST_BYTES)?;
    if tree.get("v").count() != Some(1) {
        return Err(tree.wrong("v", Code::NewerVersion));
    }
    let within = |name: &str, number: Option<u32>| number.ok_or_else(|| tree.wrong(name, Code::OutOfRange));
    let number = within("number", tree.get("number").count().filter(|number| *number < NUMBERS))?;
    let bar = tree.get("bar").count().and_then(|bar| BARS.into_iter().find(|known| u32::from(*known) == bar));
    let terms = Terms {
        number,
        agent: tree.coded("agent", Agent::from_code)?,
        length: tree.coded("length", Length::from_code)?,
        pace: tree.coded("pace", Pace::from_code)?,
        limit: tree.coded("limit", Limit::from_code)?,
        bar: bar.ok_or_else(|| tree.wrong("bar", Code::OutOfRange))?,
    };
    let run = |place: &str, run: &Tree| {
        let known = run.text().filter(|run| (1..=64).contains(&run.len()) && run.bytes().all(is_of_an_id));
        known.map(str::to_owned).ok_or_else(|| Faults::one(place, Code::UnknownCode, run))
    };
    let asked_from = if *tree.get("asked_from") == Tree::Nothing { None } else { Some(wall(&tree, "asked_from")?) };
    Ok(Sitting {
        id: tree.id_of("id")?,
        terms,
        began: wall(&tree, "began")?,
        day: tree.count_of("day")?,
        begun: each(&tree, "begun", run)?,
        outcomes: each(&tree, "outcomes", |place, one| OutcomeV1::of(one).map_err(|below| under(place, &below)))?,
        asked_from,
        answers: each(&tree, "answers", |place, one| AnswerV1::of(one).map_err(|below| under(place, &below)))?,
        closed: tree.get("closed").flag().ok_or_else(|| tree.wrong("closed", Code::WrongShape))?,
    })
}

const fn is_of_an_id(letter: u8) -> bool {
    letter.is_ascii_alphanumeric() || letter == b'-'
}

/// A moment of the wall clock: whole milliseconds that a JSON number holds exactly.
fn wall(tree: &Tree, name: &str) -> Result<Wall, Faults> {
    const MOST: f64 = 9_007_199_254_740_992.0;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within bounds")]
    let whole = |number: f64| number as Wall;
    let number = tree.get(name).number().filter(|number| (0.0..MOST).contains(number));
    number.map(whole).ok_or_else(|| tree.wrong(name, Code::OutOfRange))
}

fn each<T>(tree: &Tree, name: &str, read: impl Fn(&str, &Tree) -> Result<T, Faults>) -> Result<Vec<T>, Faults> {
    let list = tree.get(name).list().ok_or_else(|| tree.wrong(name, Code::WrongShape))?;
    if list.len() > MOST {
        return Err(Faults::one(name, Code::TooMany, list.len()));
    }
    list.iter().enumerate().map(|(place, one)| read(&format!("{name}[{place}]"), one)).collect()
}

fn under(place: &str, below: &Faults) -> Faults {
    let mut faults = Faults::default();
    faults.extend_below(place, below);
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{assessment::result::tests::outcome, question::mark::Credit, source::Skill, wire::answer_v1::Asked};

    fn sitting() -> Sitting {
        let terms = Terms {
            number: 483_920,
            agent: Agent::Bitter,
            length: Length::Short,
            pace: Pace::Double,
            limit: Limit::Tenfold,
            bar: 80,
        };
        Sitting {
            begun: vec!["r1".to_owned(), "r2".to_owned()],
            outcomes: vec![outcome("r1", &[])],
            asked_from: Some(1_795_600_000_123),
            answers: vec![AnswerV1 {
                asked: Asked::Drill,
                id: "2-77".to_owned(),
                revision: 1,
                skill: Skill::Result,
                agent: Agent::Bitter,
                credit: Credit { got: 1, of: 2 },
                day: 20_783,
            }],
            ..Sitting::begin("mhq2k1x0-5f3".to_owned(), terms, 1_795_590_000_000, 20_783)
        }
    }

    #[test]
    fn what_is_written_is_read_as_the_same() {
        let plain = Sitting { asked_from: None, begun: vec![], outcomes: vec![], answers: vec![], ..sitting() };
        for sitting in [sitting(), plain, Sitting { closed: true, ..sitting() }] {
            assert_eq!(parse(&written(&sitting)).unwrap(), sitting);
        }
    }

    /// The first version's form, kept for ever.
    #[test]
    fn the_golden_sitting_still_opens() {
        let golden = include_str!("../../golden/sitting-v1.json").trim_end();
        assert_eq!(parse(golden).unwrap(), sitting());
    }

    #[test]
    fn what_is_wrong_is_named() {
        let whole = written(&sitting());
        for (field, from, to) in [
            ("v", r#""v":1,"id""#, r#""v":2,"id""#),
            ("id", "mhq2k1x0-5f3", "../x"),
            ("number", "483920", "1000000"),
            ("agent", r#""agent":"bitter","length""#, r#""agent":"salty","length""#),
            ("length", "short", "endless"),
            ("pace", "double", "quick"),
            ("limit", "tenfold", "never"),
            ("bar", r#""bar":80"#, r#""bar":0"#),
            ("began", "1795590000000", "-1"),
            ("asked_from", "1795600000123", "\"noon\""),
            ("closed", r#""closed":false"#, r#""closed":0"#),
            ("begun[1]", r#""r2""#, r#""r 2""#),
            ("outcomes[0].right", r#""right":1"#, r#""right":2"#),
            ("answers[0].id", "2-77", ""),
        ] {
            let damaged = whole.replace(from, to);
            assert_ne!(damaged, whole, "{field}");
            let faults = parse(&damaged).unwrap_err();
            assert_eq!(faults.list()[0].path, field, "{damaged}");
        }
        let many = Sitting { begun: vec!["r1".to_owned(); MOST + 1], ..sitting() };
        assert_eq!(parse(&written(&many)).unwrap_err().list()[0].path, "begun");
    }
}
