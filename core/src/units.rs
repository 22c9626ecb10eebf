//! Quantities as types, so that a time cannot be mistaken for a count.
//!
//! All of them are whole numbers: nothing here is rounded, and nothing overflows.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Simulated time since the run began, or a length of it, in milliseconds. Saturates at both ends.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Ms(pub u32);

impl Ms {
    /// The moment at which a run begins.
    pub const ZERO: Self = Self(0);

    /// A number of whole seconds.
    #[must_use]
    pub const fn secs(seconds: u32) -> Self {
        Self(seconds.saturating_mul(1_000))
    }

    /// A number of whole minutes.
    #[must_use]
    pub const fn mins(minutes: u32) -> Self {
        Self::secs(minutes.saturating_mul(60))
    }

    /// Later by `length`.
    #[must_use]
    pub const fn plus(self, length: Self) -> Self {
        Self(self.0.saturating_add(length.0))
    }

    /// The time from `earlier` to here; zero if it is not earlier.
    #[must_use]
    pub const fn since(self, earlier: Self) -> Self {
        Self(self.0.saturating_sub(earlier.0))
    }

    /// `count` times as long.
    #[must_use]
    pub const fn times(self, count: u32) -> Self {
        Self(self.0.saturating_mul(count))
    }

    /// In seconds, for arithmetic of the model.
    #[must_use]
    pub fn as_secs(self) -> f64 {
        f64::from(self.0) / 1_000.0
    }
}

/// Minutes and seconds, as on a clock: `4:05`.
impl fmt::Display for Ms {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{:02}", self.0 / 60_000, self.0 / 1_000 % 60)
    }
}

/// A fit factor: concentration outside over concentration inside. Never below 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct FitFactor(u32);

impl FitFactor {
    /// Nothing worn: as much inside as outside.
    pub const NONE: Self = Self(1);

    /// A fit factor of `value`; `None` below 1.
    #[must_use]
    pub const fn new(value: u32) -> Option<Self> {
        if value == 0 { None } else { Some(Self(value)) }
    }

    /// The whole number.
    #[must_use]
    pub const fn get(self) -> u32 {
        self.0
    }

    /// Harmonic mean over the exercises: the penetrations are averaged, then inverted (App. A I.C.2(b)(8)(iii)(D)).
    ///
    /// ```
    /// use bittersweet_core::units::FitFactor;
    /// let exercises = [1000, 1000, 1000, 1000, 1000, 1000, 20].map(|value| FitFactor::new(value).unwrap());
    /// assert!((FitFactor::overall(&exercises) - 125.0).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn overall(exercises: &[Self]) -> f64 {
        let penetration: f64 = exercises.iter().map(|factor| 1.0 / f64::from(factor.0)).sum();
        if penetration == 0.0 { 1.0 } else { exercises.iter().map(|_| 1.0).sum::<f64>() / penetration }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_saturates_at_both_ends() {
        assert_eq!(Ms::ZERO.since(Ms::secs(1)), Ms::ZERO);
        assert_eq!(Ms(u32::MAX).plus(Ms(1)), Ms(u32::MAX));
    }

    #[test]
    fn time_reads_as_minutes_and_seconds() {
        assert_eq!(Ms(245_999).to_string(), "4:05");
    }

    #[test]
    fn there_is_no_fit_factor_of_nought() {
        assert_eq!(FitFactor::new(0), None);
        assert_eq!(FitFactor::new(1), Some(FitFactor::NONE));
    }
}
