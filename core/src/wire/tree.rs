//! JSON of any shape, for files that are read by their fields.
//!
//! Lists in place of maps: it weighs less in the page than `serde_json`'s own value, and a name that stands twice is kept
//! twice, so that it can be told.

use super::{Code, Faults};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use std::fmt;

/// Any JSON.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Tree {
    /// `null`, or what is not there.
    Nothing,
    /// `true` or `false`.
    Flag(bool),
    /// A number.
    Number(f64),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Self>),
    /// Names with values, in the order of the file.
    Table(Vec<(String, Self)>),
}

impl Tree {
    /// The first value under a name; nothing where there is none, or this is no table.
    pub(crate) fn get(&self, name: &str) -> &Self {
        let Self::Table(rows) = self else { return &Self::Nothing };
        rows.iter().find(|(known, _)| known == name).map_or(&Self::Nothing, |(_, value)| value)
    }

    /// The text, where it is one.
    pub(crate) fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            Self::Nothing | Self::Flag(_) | Self::Number(_) | Self::List(_) | Self::Table(_) => None,
        }
    }

    /// The number, where it is one.
    pub(crate) fn number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Nothing | Self::Flag(_) | Self::Text(_) | Self::List(_) | Self::Table(_) => None,
        }
    }

    /// The number, where it is a whole one that is not too large.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "asked within bounds")]
    pub(crate) fn whole(&self) -> Option<u32> {
        self.number().filter(|number| (0.0..=f64::from(u32::MAX)).contains(number)).map(|number| number as u32)
    }

    /// Whether it is `true` or `false`, where it is one of them.
    pub(crate) fn flag(&self) -> Option<bool> {
        match self {
            Self::Flag(flag) => Some(*flag),
            Self::Nothing | Self::Number(_) | Self::Text(_) | Self::List(_) | Self::Table(_) => None,
        }
    }

    /// The entries, where it is a list.
    pub(crate) fn list(&self) -> Option<&[Self]> {
        match self {
            Self::List(list) => Some(list),
            Self::Nothing | Self::Flag(_) | Self::Number(_) | Self::Text(_) | Self::Table(_) => None,
        }
    }
}

/// The largest number that a count can be.
const MOST: f64 = 4_294_967_295.0;

/// Named fields, each read or the fault of it.
impl Tree {
    /// The fault of a field, with what was there.
    pub(crate) fn wrong(&self, name: &str, code: Code) -> Faults {
        Faults::one(name, code, self.get(name))
    }

    /// The count, where it is one; a part is left off.
    pub(crate) fn count(&self) -> Option<u32> {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "within bounds")]
        let whole = |number: f64| number as u32;
        self.number().filter(|number| (0.0..=MOST).contains(number)).map(whole)
    }

    /// The count of this name.
    pub(crate) fn count_of(&self, name: &str) -> Result<u32, Faults> {
        self.get(name).count().ok_or_else(|| self.wrong(name, Code::OutOfRange))
    }

    /// What the code of this name stands for.
    pub(crate) fn coded<T>(&self, name: &str, from_code: impl Fn(&str) -> Option<T>) -> Result<T, Faults> {
        self.get(name).text().and_then(from_code).ok_or_else(|| self.wrong(name, Code::UnknownCode))
    }

    /// The id of this name: letters, digits and hyphens, 64 at most.
    pub(crate) fn id_of(&self, name: &str) -> Result<String, Faults> {
        let is_id = |id: &&str| {
            (1..=64).contains(&id.len()) && id.bytes().all(|letter| letter.is_ascii_alphanumeric() || letter == b'-')
        };
        self.coded(name, |id| Some(id).filter(is_id).map(str::to_owned))
    }
}

/// In short, for a fault.
impl fmt::Display for Tree {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Nothing => f.write_str("nothing"),
            Self::Flag(true) => f.write_str("true"),
            Self::Flag(false) => f.write_str("false"),
            Self::Number(value) => {
                if *value < 0.0 {
                    f.write_str("-")?;
                }
                f.write_str(&crate::question::unit::shown(libm::fabs(*value)))
            }
            Self::Text(text) => f.write_str(text),
            Self::List(list) => {
                f.write_str("[")?;
                for (number, one) in list.iter().enumerate() {
                    if number > 0 {
                        f.write_str(", ")?;
                    }
                    // No deeper: a fault shows what was got in short.
                    match one {
                        Self::List(_) => f.write_str("a list")?,
                        Self::Nothing | Self::Flag(_) | Self::Number(_) | Self::Text(_) | Self::Table(_) => {
                            one.fmt(f)?;
                        }
                    }
                }
                f.write_str("]")
            }
            Self::Table(_) => f.write_str("a table"),
        }
    }
}

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Reader)
    }
}

struct Reader;

impl<'de> Visitor<'de> for Reader {
    type Value = Tree;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E: Error>(self) -> Result<Tree, E> {
        Ok(Tree::Nothing)
    }

    fn visit_bool<E: Error>(self, flag: bool) -> Result<Tree, E> {
        Ok(Tree::Flag(flag))
    }

    #[expect(clippy::cast_precision_loss, reason = "a number that large is out of every range here")]
    fn visit_u64<E: Error>(self, value: u64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    #[expect(clippy::cast_precision_loss, reason = "a number that large is out of every range here")]
    fn visit_i64<E: Error>(self, value: i64) -> Result<Tree, E> {
        Ok(Tree::Number(value as f64))
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Tree, E> {
        Ok(Tree::Number(value))
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<Tree, E> {
        Ok(Tree::Text(text.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut entries: A) -> Result<Tree, A::Error> {
        let mut list = Vec::new();
        while let Some(entry) = entries.next_element()? {
            list.push(entry);
        }
        Ok(Tree::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut rows: A) -> Result<Tree, A::Error> {
        let mut table = Vec::new();
        while let Some(row) = rows.next_entry()? {
            table.push(row);
        }
        Ok(Tree::Table(table))
    }
}
