//! Who practises on this device, version 1: names with ids, kept beside what the first of them did.
//!
//! There is always a first one, without an id; as long as nobody else practises here they need no name.

use super::{Code, Faults, is_id, is_plain, quoted, read, tree::Tree};
use crate::coded::coded;

/// How many there can be.
pub const MOST: usize = 100;

/// Letters that a name may have.
pub const LONGEST_NAME: usize = 60;

const MOST_BYTES: usize = 64 * 1024;
const VERSION: u32 = 1;

coded! {
    /// Why a name is not taken.
    NotNamed {
        /// Nothing was typed.
        Empty = "empty",
        /// It is longer than [`LONGEST_NAME`], or has characters that are not seen.
        NotPlain = "not-plain",
        /// Somebody here has it.
        Taken = "taken",
        /// There are [`MOST`] already.
        Full = "full",
    }
}

/// Somebody who practises here.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Learner {
    /// Names what is kept of them; empty for the first.
    pub id: String,
    /// As it was typed; empty only where nobody else practises here.
    pub name: String,
}

/// Everybody who practises here.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LearnersV1 {
    learners: Vec<Learner>,
}

impl Default for LearnersV1 {
    fn default() -> Self {
        Self { learners: vec![Learner::default()] }
    }
}

impl LearnersV1 {
    /// Reads the list.
    ///
    /// # Errors
    /// All faults, with where and why.
    pub fn parse(text: &str) -> Result<Self, Faults> {
        let tree: Tree = read(text, MOST_BYTES)?;
        let mut faults = Faults::default();
        if tree.get("version").whole() != Some(VERSION) {
            faults.push("version", Code::NewerVersion, tree.get("version"));
        }
        let mut learners = Vec::new();
        for (number, entry) in tree.get("learners").list().unwrap_or_default().iter().enumerate() {
            let text = |name: &str| entry.get(name).text().unwrap_or_default().to_owned();
            let learner = Learner { id: text("id"), name: text("name") };
            let is_first = number == 0;
            if learner.id.is_empty() != is_first || !(is_first || is_id(&learner.id)) {
                faults.push(&format!("learners[{number}].id"), Code::UnknownCode, &learner.id);
            }
            if !is_name(&learner.name) {
                faults.push(&format!("learners[{number}].name"), Code::NotPlain, &learner.name);
            }
            learners.push(learner);
        }
        match learners.len() {
            0 => faults.push("learners", Code::Empty, 0),
            1..=MOST => {}
            many => faults.push("learners", Code::TooMany, many),
        }
        faults.or(Self { learners })
    }

    /// As it is written.
    #[must_use]
    pub fn written(&self) -> String {
        let learner = |one: &Learner| format!(r#"{{"id":{},"name":{}}}"#, quoted(&one.id), quoted(&one.name));
        let learners: Vec<String> = self.learners.iter().map(learner).collect();
        format!(r#"{{"version":{VERSION},"learners":[{}]}}"#, learners.join(","))
    }

    /// Everybody, the first one first.
    #[must_use]
    pub fn list(&self) -> &[Learner] {
        &self.learners
    }

    /// Who has this id.
    #[must_use]
    pub fn with_id(&self, id: &str) -> Option<&Learner> {
        self.learners.iter().find(|learner| learner.id == id)
    }

    /// Who has this name.
    #[must_use]
    pub fn named(&self, name: &str) -> Option<&Learner> {
        self.learners.iter().find(|learner| learner.name == name)
    }

    /// With somebody more.
    ///
    /// # Errors
    /// Why the name is not taken.
    pub fn with(&self, id: &str, name: &str) -> Result<Self, NotNamed> {
        if self.learners.len() >= MOST {
            return Err(NotNamed::Full);
        }
        let name = self.checked(id, name)?;
        let mut list = self.clone();
        list.learners.push(Learner { id: id.to_owned(), name });
        Ok(list)
    }

    /// With another name for one of them.
    ///
    /// # Errors
    /// Why the name is not taken.
    pub fn renamed(&self, id: &str, name: &str) -> Result<Self, NotNamed> {
        let name = self.checked(id, name)?;
        let mut list = self.clone();
        for learner in list.learners.iter_mut().filter(|learner| learner.id == id) {
            learner.name.clone_from(&name);
        }
        Ok(list)
    }

    /// Without one of them. The first one stays, without a name.
    #[must_use]
    pub fn without(&self, id: &str) -> Self {
        let mut list = self.clone();
        list.learners.retain(|learner| learner.id != id || id.is_empty());
        for learner in list.learners.iter_mut().filter(|learner| learner.id == id) {
            learner.name.clear();
        }
        list
    }

    /// A name that is free: this one, or this one with the first number that makes it so.
    #[must_use]
    pub fn free_name(&self, name: &str) -> String {
        let numbered = (2..).map(|number| format!("{name} {number}"));
        std::iter::once(name.to_owned()).chain(numbered).find(|name| self.named(name).is_none()).unwrap_or_default()
    }

    /// A name without blanks at its ends, if it can be somebody's.
    fn checked(&self, id: &str, name: &str) -> Result<String, NotNamed> {
        let name = name.trim();
        if name.is_empty() {
            return Err(NotNamed::Empty);
        }
        if !is_name(name) {
            return Err(NotNamed::NotPlain);
        }
        if self.named(name).is_some_and(|other| other.id != id) {
            return Err(NotNamed::Taken);
        }
        Ok(name.to_owned())
    }
}

/// Whether a text can be a name; nobody's name can be empty.
pub(crate) fn is_name(name: &str) -> bool {
    name.chars().count() <= LONGEST_NAME && is_plain(name) && name.trim() == name
}

#[cfg(test)]
mod tests {
    use super::*;

    fn three() -> LearnersV1 {
        LearnersV1::default().renamed("", "Ana").unwrap().with("a1", "Ben").unwrap().with("a2", "Kim").unwrap()
    }

    fn names(list: &LearnersV1) -> Vec<&str> {
        list.list().iter().map(|learner| learner.name.as_str()).collect()
    }

    #[test]
    fn the_first_one_needs_no_name_and_never_goes() {
        assert_eq!(names(&LearnersV1::default()), [""]);
        assert_eq!(names(&three().without("")), ["", "Ben", "Kim"]);
        assert_eq!(names(&three().without("a1")), ["Ana", "Kim"]);
    }

    #[test]
    fn a_name_is_one_persons_and_can_be_read() {
        let list = three();
        let refused = |name: &str| list.with("a3", name).unwrap_err();
        assert_eq!(refused("  "), NotNamed::Empty);
        assert_eq!(refused(" Ben "), NotNamed::Taken);
        assert_eq!(refused("B\u{202e}en"), NotNamed::NotPlain);
        assert_eq!(refused(&"a".repeat(LONGEST_NAME + 1)), NotNamed::NotPlain);
        assert_eq!(names(&list.with("a3", &"ä".repeat(LONGEST_NAME)).unwrap()).len(), 4);
        assert_eq!(list.renamed("a1", "Kim").unwrap_err(), NotNamed::Taken);
        assert_eq!(names(&list.renamed("a1", " Ben").unwrap()), ["Ana", "Ben", "Kim"]);
        assert_eq!([list.free_name("Lee"), list.free_name("Kim")], ["Lee", "Kim 2"]);
    }

    #[test]
    fn there_is_an_end() {
        let mut list = LearnersV1::default();
        for number in 1..MOST {
            list = list.with(&format!("a{number}"), &format!("N{number}")).unwrap();
        }
        assert_eq!(list.with("more", "More").unwrap_err(), NotNamed::Full);
        assert_eq!(LearnersV1::parse(&list.written()).unwrap(), list);
    }

    /// The first version's form, kept for ever.
    #[test]
    fn the_golden_list_still_opens() {
        let golden =
            r#"{"version":1,"learners":[{"id":"","name":"Ana"},{"id":"a1","name":"Ben"},{"id":"a2","name":"Kim"}]}"#;
        assert_eq!(LearnersV1::parse(golden).unwrap(), three());
        assert_eq!(three().written(), golden);
    }

    #[test]
    fn what_is_wrong_is_named() {
        let written = three().written();
        for (path, damaged) in [
            ("version", written.replace("\"version\":1", "\"version\":2")),
            ("learners[0].id", written.replace("\"id\":\"\"", "\"id\":\"a0\"")),
            ("learners[1].id", written.replace("\"a1\"", "\"\"")),
            ("learners[2].name", written.replace("Kim", "Kim ")),
        ] {
            assert_eq!(LearnersV1::parse(&damaged).unwrap_err().list()[0].path, path, "{damaged}");
        }
        assert!(LearnersV1::parse(r#"{"version":1,"learners":[]}"#).is_err());
    }
}
