//! What is wrong with something from outside: where, why, and what was found there.

use crate::coded::coded;
use std::fmt;

coded! {
    /// Why it is wrong.
    Code {
        /// More bytes than allowed.
        TooLarge = "too-large",
        /// Not JSON, or cut off.
        NotJson = "not-json",
        /// JSON of another shape.
        WrongShape = "wrong-shape",
        /// Another program's or another kind of file.
        ForeignFormat = "foreign-format",
        /// Made by a newer version.
        NewerVersion = "newer-version",
        /// A code that stands for nothing.
        UnknownCode = "unknown-code",
        /// A number outside its range.
        OutOfRange = "out-of-range",
        /// Too many entries.
        TooMany = "too-many",
        /// None where there must be one.
        Empty = "empty",
        /// A text that is too long or not plain.
        NotPlain = "not-plain",
        /// Trouble at a moment when its kind cannot come up.
        NotThen = "not-then",
        /// Points at a place of the rack that is not there.
        NoSuchPlace = "no-such-place",
        /// Time runs back.
        TimeRunsBack = "time-runs-back",
        /// An act that cannot be at that point.
        Impossible = "impossible",
        /// Not what was saved: its sum is another.
        Damaged = "damaged",
    }
}

/// One thing wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where: a path such as `rack[2].fit`, or below it `line 3, column 7`, and the name there if there is one.
    pub path: String,
    /// Why.
    pub code: Code,
    /// What was found; where a reader of JSON stuck, its own words for a report.
    pub got: String,
}

impl Fault {
    /// What stands before the line, the line and the column, where a reader of JSON stuck.
    #[must_use]
    pub fn in_text(&self) -> Option<(&str, &str, &str)> {
        // No name of a field has a space in it.
        let (below, place) = self.path.split_once("line ")?;
        let (line, column) = place.split_once(", column ")?;
        Some((below, line, column))
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} (got {})", if self.path.is_empty() { "file" } else { &self.path }, self.code.code(), self.got)
    }
}

/// Everything wrong, up to [`Faults::MOST`].
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Faults(Vec<Fault>);

impl Faults {
    /// How many are listed.
    pub const MOST: usize = 20;

    const LONGEST_GOT: usize = 120;

    /// A single fault.
    #[must_use]
    pub fn one(path: &str, code: Code, got: impl fmt::Display) -> Self {
        let mut faults = Self::default();
        faults.push(path, code, got);
        faults
    }

    /// Adds one, unless the list is full.
    pub fn push(&mut self, path: &str, code: Code, got: impl fmt::Display) {
        if self.0.len() < Self::MOST {
            let got = got
                .to_string()
                .chars()
                .filter(|letter| super::is_plain_letter(*letter))
                .take(Self::LONGEST_GOT)
                .collect();
            self.0.push(Fault { path: path.to_owned(), code, got });
        }
    }

    /// Adds all of `others`, each below `path`.
    pub fn extend_below(&mut self, path: &str, others: &Self) {
        for fault in &others.0 {
            let below = if fault.path.is_empty() { path.to_owned() } else { format!("{path}.{}", fault.path) };
            self.push(&below, fault.code, &fault.got);
        }
    }

    /// The list; at least one where this is an error.
    #[must_use]
    pub fn list(&self) -> &[Fault] {
        &self.0
    }

    /// Whether nothing was wrong.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// `value`, if nothing was wrong.
    ///
    /// # Errors
    /// All faults, if there are any.
    pub fn or<T>(self, value: T) -> Result<T, Self> {
        if self.is_empty() { Ok(value) } else { Err(self) }
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (number, fault) in self.0.iter().enumerate() {
            if number > 0 {
                writeln!(f)?;
            }
            write!(f, "{fault}")?;
        }
        Ok(())
    }
}

impl std::error::Error for Faults {}
