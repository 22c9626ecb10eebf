//! Which squeezes of a fit test were given for which due moment: the initial set, and one set for each half minute.
//!
//! It counts and judges nothing: what a set should have had is said beside it by whoever looks.

use crate::{
    attempt::{FitTest, Squeeze},
    rulebook::Numbers,
    state::State,
    units::Ms,
};

/// A moment at which squeezes were due, and those that were given for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Round {
    /// When they were due.
    pub due: Ms,
    /// Those given; none where they were left out.
    pub given: Vec<Squeeze>,
}

/// What was sprayed shortly before the first exercise, or shortly after it had begun, where `asked` squeezes are due: what
/// was sprayed long before is gone from the hood. `None` before the exercises.
#[must_use]
pub fn initial(numbers: &Numbers, test: &FitTest, asked: u32) -> Option<Round> {
    let begun = test.begun()?;
    let until = begun.plus(numbers.replenish_lost);
    let rapidly = numbers.rapid_set.times(asked.div_ceil(numbers.set));
    let since = begun.since(rapidly.plus(numbers.replenish_lost));
    let within = |squeeze: &&Squeeze| squeeze.at >= since && squeeze.at < until;
    Some(Round { due: begun, given: test.common.squeezes.iter().filter(within).copied().collect() })
}

/// One round for each half minute of the exercises, up to `end`.
#[must_use]
pub fn later(numbers: &Numbers, test: &FitTest, end: Ms) -> Vec<Round> {
    let Some(begun) = test.begun() else { return Vec::new() };
    let (every, lost) = (numbers.replenish_every, numbers.replenish_lost);
    let later = test.common.squeezes.partition_point(|squeeze| squeeze.at < begun.plus(lost));
    let later = test.common.squeezes.get(later..).unwrap_or_default();
    let sets: Vec<&[Squeeze]> = later.chunk_by(|one, next| next.at.since(one.at) <= numbers.set_gap).collect();
    let mut rounds = Vec::new();
    // Squeezes long after the last exercise belong to nothing.
    let end = end.min(test.ended().unwrap_or(end));
    let mut due = begun.plus(every);
    while due < end {
        let here = |set: &&[Squeeze]| {
            set.first().is_some_and(|first| first.at >= due.since(lost) && first.at < due.plus(lost))
        };
        rounds.push(Round { due, given: sets.iter().copied().filter(here).flatten().copied().collect() });
        due = due.plus(every);
    }
    rounds
}

/// Up to when replenishments were due: until the exercises ended, or the test was decided before.
#[must_use]
pub fn end(state: &State, test: &FitTest) -> Ms {
    let ended = test.ended().unwrap_or(state.now);
    [test.taste(), test.hood_off, test.common.call().map(|(at, _)| at), test.common.closed]
        .into_iter()
        .flatten()
        .fold(ended, Ord::min)
}

/// How many of these squeezes were whole.
#[must_use]
pub fn whole(given: &[Squeeze]) -> u32 {
    count(given.iter().filter(|squeeze| squeeze.counts()).count())
}

/// How many there are.
#[must_use]
pub fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
