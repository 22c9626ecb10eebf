//! How sure a share is that was counted: intervals for so many of so many.
//!
//! Wilson's interval is close to the stated confidence on average; the exact one (Clopper and Pearson) never falls below it
//! and is wider. Both stay within 0 and 1. Nothing here says what a share is good enough for.

mod beta;

use crate::normal;

/// So many of so many: at least one, and no more hits than that.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Counted {
    hits: u32,
    of: u32,
}

/// How sure an interval is to hold the true share: above 0 and below 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Confidence(f64);

/// On which sides an interval is bounded by what was counted; on the other it reaches to 0 or 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bounds {
    /// On both, with half of the doubt on each.
    Both,
    /// Below: "at least".
    Lower,
    /// Above: "at most".
    Upper,
}

/// From `low` to `high`, both shares from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// The lower end.
    pub low: f64,
    /// The upper end.
    pub high: f64,
}

impl Interval {
    /// The lower end in whole per cent, never more than it is.
    #[must_use]
    pub fn low_percent(self) -> u32 {
        percent(libm::floor(self.low * 100.0))
    }

    /// The upper end in whole per cent, never less than it is.
    #[must_use]
    pub fn high_percent(self) -> u32 {
        percent(libm::ceil(self.high * 100.0))
    }
}

/// A whole number from 0 to 100.
fn percent(whole: f64) -> u32 {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, and within 0 and 100")]
    let whole = whole.clamp(0.0, 100.0) as u32;
    whole
}

impl Confidence {
    /// The usual one, 0.95.
    pub const USUAL: Self = Self(0.95);

    /// A confidence of `share`; `None` unless it lies between 0 and 1.
    #[must_use]
    pub fn new(share: f64) -> Option<Self> {
        (share > 0.0 && share < 1.0).then_some(Self(share))
    }

    /// The doubt on each side that is bounded.
    fn doubt(self, bounds: Bounds) -> f64 {
        match bounds {
            Bounds::Both => (1.0 - self.0) / 2.0,
            Bounds::Lower | Bounds::Upper => 1.0 - self.0,
        }
    }
}

impl Counted {
    /// `hits` of `of`; `None` of nothing, and when there are more hits than that.
    #[must_use]
    pub const fn new(hits: u32, of: u32) -> Option<Self> {
        if of == 0 || hits > of { None } else { Some(Self { hits, of }) }
    }

    /// The share itself.
    #[must_use]
    pub fn share(self) -> f64 {
        f64::from(self.hits) / f64::from(self.of)
    }

    /// Wilson's score interval, without a correction for continuity.
    ///
    /// ```
    /// use bittersweet_core::interval::{Bounds, Confidence, Counted};
    /// let sure = Counted::new(9, 10).unwrap().wilson(Bounds::Both, Confidence::USUAL);
    /// assert!((sure.low - 0.596).abs() < 5e-4 && (sure.high - 0.982).abs() < 5e-4);
    /// ```
    #[must_use]
    pub fn wilson(self, bounds: Bounds, confidence: Confidence) -> Interval {
        let z = -normal::quantile(confidence.doubt(bounds));
        let (share, of) = (self.share(), f64::from(self.of));
        let widened = 1.0 + z * z / of;
        let middle = (share + z * z / (2.0 * of)) / widened;
        let half = z / widened * libm::sqrt(share * (1.0 - share) / of + z * z / (4.0 * of * of));
        self.bounded(bounds, || middle - half, || middle + half)
    }

    /// The exact interval (Clopper and Pearson): outside it, what was counted would be rarer than the doubt allows.
    ///
    /// ```
    /// use bittersweet_core::interval::{Bounds, Confidence, Counted};
    /// let sure = Counted::new(26, 26).unwrap().exact(Bounds::Both, Confidence::USUAL);
    /// assert!((sure.low - 0.868).abs() < 5e-4 && sure.high == 1.0);
    /// ```
    #[must_use]
    pub fn exact(self, bounds: Bounds, confidence: Confidence) -> Interval {
        let doubt = confidence.doubt(bounds);
        // Of n, at least h hits are as likely as I(p; h, n - h + 1): the lower end is where that is the doubt. The upper end is
        // the same for the misses, seen from 1.
        let lower = |hits: u32| beta::quantile(doubt, f64::from(hits), f64::from(self.of - hits) + 1.0);
        self.bounded(bounds, || lower(self.hits), || 1.0 - lower(self.of - self.hits))
    }

    /// The ends asked for. No hits bound nothing from below, and no misses nothing from above.
    fn bounded(self, bounds: Bounds, low: impl FnOnce() -> f64, high: impl FnOnce() -> f64) -> Interval {
        Interval {
            low: if bounds == Bounds::Upper || self.hits == 0 { 0.0 } else { low() },
            high: if bounds == Bounds::Lower || self.hits == self.of { 1.0 } else { high() },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(hits: u32, of: u32, bounds: Bounds) -> Interval {
        Counted::new(hits, of).unwrap().exact(bounds, Confidence::USUAL)
    }

    #[track_caller]
    fn is(interval: Interval, low: f64, high: f64) {
        // The values are given to three digits.
        let near = |value: f64, wanted: f64| (value - wanted).abs() < 5.001e-4;
        assert!(near(interval.low, low) && near(interval.high, high), "{interval:?}, not {low} to {high}");
    }

    #[test]
    fn in_whole_per_cent_it_never_says_more_than_it_is() {
        let of = |low, high| (Interval { low, high }.low_percent(), Interval { low, high }.high_percent());
        assert_eq!(of(0.819, 0.811), (81, 82));
        assert_eq!(of(0.0, 1.0), (0, 100));
        assert_eq!(of(0.9, 0.5), (90, 50));
        assert_eq!(of(-0.1, 1.1), (0, 100), "an end that rounding pushed over the edge");
    }

    /// The counts of a published trial with a fixed leak (26 people) and of one with 100 pairs; the intervals are derived.
    #[test]
    fn the_published_trials_have_their_intervals() {
        is(exact(26, 26, Bounds::Both), 0.868, 1.0);
        is(exact(17, 26, Bounds::Both), 0.443, 0.828);
        is(exact(24, 26, Bounds::Both), 0.749, 0.991);
        is(exact(3, 100, Bounds::Upper), 0.0, 0.076);
    }

    /// `(1 - p)^n` is the doubt: derived.
    #[test]
    fn none_of_59_is_at_most_5_of_100_and_none_of_58_is_not() {
        assert!(exact(0, 59, Bounds::Upper).high < 0.05);
        assert!(exact(0, 58, Bounds::Upper).high > 0.05);
    }

    #[test]
    fn hits_and_misses_mirror_each_other() {
        for hits in 0..=40 {
            for interval in [Counted::exact, Counted::wilson] {
                let of = |hits| interval(Counted::new(hits, 40).unwrap(), Bounds::Both, Confidence::USUAL);
                let (here, there) = (of(hits), of(40 - hits));
                assert!((here.low + there.high - 1.0).abs() < 1e-15, "{hits}: {here:?}, {there:?}");
                assert!(here.low <= f64::from(hits) / 40.0 && f64::from(hits) / 40.0 <= here.high);
            }
        }
    }

    #[test]
    fn the_exact_interval_is_as_sure_as_it_says_whatever_the_true_share() {
        // The chance of every count from 0 to 30, and whether its interval holds the true share.
        let intervals: Vec<Interval> = (0..=30).map(|hits| exact(hits, 30, Bounds::Both)).collect();
        for percent in 1..100 {
            let share = f64::from(percent) / 100.0;
            let mut chance = libm::pow(1.0 - share, 30.0);
            let mut held = 0.0;
            for (hits, interval) in (0_u32..).zip(&intervals) {
                if interval.low <= share && share <= interval.high {
                    held += chance;
                }
                chance *= f64::from(30 - hits) / f64::from(hits + 1) * share / (1.0 - share);
            }
            assert!((0.95..=1.0 + 1e-12).contains(&held), "{share}: {held}");
        }
    }

    #[test]
    fn what_cannot_be_counted_is_refused() {
        assert_eq!(Counted::new(0, 0), None);
        assert_eq!(Counted::new(3, 2), None);
        for confidence in [0.0, 1.0, -0.5, f64::NAN] {
            assert_eq!(Confidence::new(confidence), None);
        }
    }
}
