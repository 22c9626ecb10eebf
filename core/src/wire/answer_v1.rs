//! Answers as they are kept, version 1: one JSON object each, for a question or a drill.
//!
//! Read by its fields, since types of its own would weigh more than the rest of it.

use super::{Code, Faults, tree::Tree};
use crate::{coded::coded, question::mark::Credit, rulebook::Agent, source::Skill};

/// Bytes that an answer may have.
pub const MOST_BYTES: usize = 1_024;

coded! {
    /// What was answered.
    Asked {
        /// A question of the bank.
        Question = "question",
        /// A drill: a log whose result is to be named.
        Drill = "drill",
    }
}

/// An answer that was given.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AnswerV1 {
    /// What was answered.
    pub asked: Asked,
    /// The id of the question, or the level and seed of the drill.
    pub id: String,
    /// The question's revision; 1 for a drill.
    pub revision: u32,
    /// The skill that it practised.
    pub skill: Skill,
    /// In a test with which agent.
    pub agent: Agent,
    /// What it was worth.
    pub credit: Credit,
    /// On which day, counted from 1 January 1970, where the page was.
    pub day: u32,
}

impl AnswerV1 {
    /// As it is written.
    #[must_use]
    pub fn written(&self) -> String {
        // Codes and ids have nothing in them that JSON would write otherwise.
        format!(
            r#"{{"v":1,"asked":"{}","id":"{}","revision":{},"skill":"{}","agent":"{}","got":{},"of":{},"day":{}}}"#,
            self.asked.code(),
            self.id,
            self.revision,
            self.skill.code(),
            self.agent.code(),
            self.credit.got,
            self.credit.of,
            self.day,
        )
    }

    /// Reads one.
    ///
    /// # Errors
    /// The first field that is wrong, with what was there.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        let tree: Tree = super::read(text, MOST_BYTES)?;
        let wrong = |name: &str, code: Code| Faults::one(name, code, tree.get(name));
        let number =
            |name: &str| tree.get(name).number().filter(|number| (0.0..=MOST).contains(number)).map(whole_part);
        let whole = |name: &str| number(name).ok_or_else(|| wrong(name, Code::OutOfRange));
        let part = |name: &str| {
            number(name).and_then(|number| u8::try_from(number).ok()).ok_or_else(|| wrong(name, Code::OutOfRange))
        };
        if number("v") != Some(1) {
            return Err(wrong("v", Code::NewerVersion));
        }
        let code = |name: &str| tree.get(name).text().unwrap_or_default();
        let unknown = |name: &str| wrong(name, Code::UnknownCode);
        Ok(Self {
            asked: Asked::from_code(code("asked")).ok_or_else(|| unknown("asked"))?,
            id: Some(code("id")).filter(|id| is_id(id)).ok_or_else(|| unknown("id"))?.to_owned(),
            revision: whole("revision")?,
            skill: Skill::from_code(code("skill")).ok_or_else(|| unknown("skill"))?,
            agent: Agent::from_code(code("agent")).ok_or_else(|| unknown("agent"))?,
            credit: Credit { got: part("got")?, of: part("of")?.max(1) },
            day: whole("day")?,
        })
    }
}

/// The largest number that can stand there.
const MOST: f64 = 4_294_967_295.0;

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "called with numbers within bounds")]
const fn whole_part(number: f64) -> u32 {
    number as u32
}

fn is_id(id: &str) -> bool {
    (1..=64).contains(&id.len()) && id.bytes().all(|letter| letter.is_ascii_alphanumeric() || letter == b'-')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer() -> AnswerV1 {
        AnswerV1 {
            asked: Asked::Question,
            id: "one-cough-deep-breathing".to_owned(),
            revision: 1,
            skill: Skill::Watching,
            agent: Agent::Sweet,
            credit: Credit { got: 1, of: 2 },
            day: 20_782,
        }
    }

    #[test]
    fn what_is_written_is_read_as_the_same() {
        assert_eq!(AnswerV1::parse(&answer().written()).unwrap(), answer());
    }

    /// The first version's form, kept for ever.
    #[test]
    fn the_golden_answer_still_opens() {
        let golden = r#"{"v":1,"asked":"question","id":"one-cough-deep-breathing","revision":1,"skill":"watching","agent":"sweet","got":1,"of":2,"day":20782}"#;
        assert_eq!(AnswerV1::parse(golden).unwrap(), answer());
    }

    #[test]
    fn what_is_wrong_is_named() {
        let written = answer().written();
        for (field, damaged) in [
            ("v", written.replace("\"v\":1", "\"v\":2")),
            ("skill", written.replace("watching", "juggling")),
            ("got", written.replace("\"got\":1", "\"got\":999")),
            ("id", written.replace("one-cough-deep-breathing", "")),
            ("day", written.replace("20782", "-1")),
        ] {
            let faults = AnswerV1::parse(&damaged).unwrap_err();
            assert_eq!(faults.list()[0].path, field, "{damaged}");
        }
    }
}
