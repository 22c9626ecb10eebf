//! Guided mode fades: what was done in two earlier guided runs is first asked about, and shown only when wanted.

use crate::act::Act;
use std::{
    collections::{BTreeMap, BTreeSet},
    fmt,
};

/// After how many guided runs with an act the guide asks first.
const KNOWN_AFTER: u32 = 2;

/// In how many guided runs each act was done, by its code.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Practised(BTreeMap<String, u32>);

impl Practised {
    /// Reads what [`fmt::Display`] wrote; what cannot be read counts as never done.
    #[must_use]
    pub fn parse(text: &str) -> Self {
        let row = |part: &str| {
            let (code, times) = part.split_once(':')?;
            Some((code.to_owned(), times.parse().ok()?))
        };
        let mut practised = Self::default();
        practised.0.extend(text.split(',').filter_map(row));
        practised
    }

    /// With one more run, in which these acts were done.
    #[must_use]
    pub fn with(&self, acts: impl Iterator<Item = Act>) -> Self {
        let mut practised = self.clone();
        let mut codes = BTreeSet::new();
        codes.extend(acts.map(|act| act.code().0));
        for code in codes {
            let times = practised.0.entry(code.to_owned()).or_insert(0);
            *times = times.saturating_add(1);
        }
        practised
    }

    /// Whether the guide asks before it shows this act.
    #[must_use]
    pub fn knows(&self, act: Act) -> bool {
        // A wait is no skill, and counting squeezes is shown as long as there is a guide.
        !matches!(act, Act::Wait(_) | Act::Squeeze)
            && self.0.get(act.code().0).is_some_and(|times| *times >= KNOWN_AFTER)
    }
}

impl fmt::Display for Practised {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let rows: Vec<String> = self.0.iter().map(|(code, times)| format!("{code}:{times}")).collect();
        f.write_str(&rows.join(","))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_act_is_known_after_two_runs_and_not_by_doing_it_twice_in_one() {
        let often = [Act::AskClearance, Act::AskClearance, Act::AskClearance];
        let once = Practised::default().with(often.into_iter());
        assert!(!once.knows(Act::AskClearance));
        let twice = once.with([Act::AskClearance].into_iter());
        assert!(twice.knows(Act::AskClearance) && !twice.knows(Act::AskMouth));
    }

    #[test]
    fn it_is_read_back_as_written_and_nonsense_counts_for_nothing() {
        let practised = Practised::default().with([Act::AskMouth, Act::Stop].into_iter());
        assert_eq!(Practised::parse(&practised.to_string()), practised);
        assert_eq!(Practised::parse("x,:,stop:many,,"), Practised::default());
    }
}
