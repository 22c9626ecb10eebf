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
        Self::of(&super::read(text, MOST_BYTES)?)
    }

    /// Takes one from its fields.
    pub(crate) fn of(tree: &Tree) -> Result<Self, Faults> {
        if tree.get("v").count() != Some(1) {
            return Err(tree.wrong("v", Code::NewerVersion));
        }
        let part = |name: &str| u8::try_from(tree.count_of(name)?).map_err(|_| tree.wrong(name, Code::OutOfRange));
        Ok(Self {
            asked: tree.coded("asked", Asked::from_code)?,
            id: tree.id_of("id")?,
            revision: tree.count_of("revision")?,
            skill: tree.coded("skill", Skill::from_code)?,
            agent: tree.coded("agent", Agent::from_code)?,
            credit: Credit { got: part("got")?, of: part("of")?.max(1) },
            day: tree.count_of("day")?,
        })
    }
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
