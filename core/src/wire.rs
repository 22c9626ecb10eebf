//! What is kept or shared, in versioned forms of their own, so that the rest is free to change.
//!
//! Everything from outside comes through here: a size limit by kind, then JSON, then a check that returns all faults at
//! once with where and why. Nothing here panics on any input.

pub mod answer_v1;
pub mod backup_v1;
pub mod faults;
pub mod learners_v1;
pub mod ledger_v1;
pub mod listed_v1;
pub mod outcome_v1;
pub mod review_v1;
pub mod run_v1;
pub mod scenario_v1;
pub mod sitting_v1;
pub(crate) mod tree;
pub mod watch_v1;

pub use faults::{Code, Fault, Faults};

use serde::de::DeserializeOwned;
use std::ops::RangeInclusive;

/// Bytes a scenario file may have.
pub const MOST_SCENARIO_BYTES: usize = 256 * 1024;

/// Bytes a run file may have.
pub const MOST_RUN_BYTES: usize = 1024 * 1024;

/// Bytes of the longest name of a field that is told of.
const LONGEST_NAME: usize = 40;

/// Reads JSON of at most `most` bytes.
pub(crate) fn read<T: DeserializeOwned>(text: &str, most: usize) -> Result<T, Faults> {
    if text.len() > most {
        return Err(Faults::one("", Code::TooLarge, format!("{} B", text.len())));
    }
    serde_json::from_str(text).map_err(|error| stuck(&error))
}

/// Where a reader of JSON stuck, and its own words.
#[cold]
fn stuck(error: &serde_json::Error) -> Faults {
    let says = error.to_string();
    let mut place = format!("line {}, column {}", error.line(), error.column());
    // The field or the word at which it stuck stands between backticks, and may be anything.
    let name = says.split('`').nth(1).filter(|name| is_plain(name) && name.len() <= LONGEST_NAME);
    name.into_iter().for_each(|name| place.extend([", ", name]));
    let code = if error.is_data() { Code::WrongShape } else { Code::NotJson };
    Faults::one(&place, code, says)
}

/// Checks that a file is of the kind and version that can be read.
fn check_kind(format: &str, version: u32, wanted: &str, newest: u32, faults: &mut Faults) {
    if format != wanted {
        faults.push("format", Code::ForeignFormat, format);
    } else if version > newest {
        faults.push("version", Code::NewerVersion, version);
    } else if version == 0 {
        faults.push("version", Code::OutOfRange, version);
    }
}

/// What a plain text has none of: control characters, and those that turn the direction of writing.
pub const NOT_PLAIN: [RangeInclusive<char>; 6] = [
    '\u{0000}'..='\u{001f}',
    '\u{007f}'..='\u{009f}',
    '\u{061c}'..='\u{061c}',
    '\u{200e}'..='\u{200f}',
    '\u{202a}'..='\u{202e}',
    '\u{2066}'..='\u{2069}',
];

/// Whether a text has nothing in it that is not plain.
#[must_use]
pub fn is_plain(text: &str) -> bool {
    text.chars().all(is_plain_letter)
}

/// A text as JSON has it.
fn quoted(text: &str) -> String {
    // There is no text that JSON could not say.
    serde_json::to_string(text).unwrap_or_default()
}

/// Whether a text can be the id of a run or a learner on a device.
#[must_use]
pub fn is_id(id: &str) -> bool {
    (1..=40).contains(&id.len())
        && id.chars().all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-')
}

fn is_plain_letter(letter: char) -> bool {
    !NOT_PLAIN.iter().any(|range| range.contains(&letter))
}
