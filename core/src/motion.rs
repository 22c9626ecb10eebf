//! How the level in the hood and the taste on the tongue move between events, exactly.
//!
//! `s' = -k s` and `u' = a s - u / tau`: between events both have closed forms, so the model is exact at any step and
//! needs no small ones.

/// The level in the hood, and what the tongue has gathered.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Air {
    /// In the hood, in squeezes of the check solution.
    pub level: f64,
    /// On the tongue, in squeeze-seconds.
    pub gathered: f64,
}

/// The two rates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Decay of the level, 1/s.
    pub fade_per_s: f64,
    /// How long a taste gathers, s.
    pub gathers_s: f64,
}

impl Motion {
    /// `air` after `seconds` with no event, while `share` of the hood's level reaches the tongue.
    ///
    /// The plain difference of exponentials loses its digits where the two rates are near each other; the form with
    /// `expm1` does not.
    ///
    /// ```
    /// use bittersweet_core::motion::{Air, Motion};
    /// let motion = Motion { fade_per_s: core::f64::consts::LN_2 / 30.0, gathers_s: 60.0 };
    /// let after = motion.after(Air { level: 10.0, gathered: 0.0 }, 1.0, 30.0);
    /// assert!((after.level - 5.0).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn after(&self, air: Air, share: f64, seconds: f64) -> Air {
        let faded = libm::exp(-self.fade_per_s * seconds);
        let lost = libm::exp(-seconds / self.gathers_s);
        // The two rates may change places here: seen from the slower one, nothing grows beyond what a number holds, however
        // long the wait.
        let gap = (1.0 / self.gathers_s - self.fade_per_s).abs() * seconds;
        let mean = if gap == 0.0 { 1.0 } else { -libm::expm1(-gap) / gap };
        Air {
            level: air.level * faded,
            gathered: air.gathered * lost + share * air.level * seconds * faded.max(lost) * mean,
        }
    }

    /// When the taste is strongest within `seconds` from now: it rises to one maximum and then only falls.
    #[must_use]
    pub fn strongest_after(&self, air: Air, share: f64, seconds: f64) -> f64 {
        let inflow = share * air.level;
        let lost = 1.0 / self.gathers_s;
        if inflow <= air.gathered * lost {
            return 0.0;
        }
        let gap = lost - self.fade_per_s;
        // Where u' = 0. Both forms are flat there, so a rounding of the moment does not show in the strength.
        let at = if gap.abs() < 1e-7 * lost {
            1.0 / lost - air.gathered / inflow
        } else {
            let fed = inflow / gap;
            libm::log((fed - air.gathered) * lost / (self.fade_per_s * fed)) / gap
        };
        if at > 0.0 && at < seconds { at } else { seconds }
    }

    /// The strongest taste within `seconds` from now, in squeeze-seconds.
    #[must_use]
    pub fn strongest(&self, air: Air, share: f64, seconds: f64) -> f64 {
        let at = self.strongest_after(air, share, seconds);
        let there = self.after(air, share, at).gathered;
        // Never below both ends, whatever the rounding.
        there.max(air.gathered)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BITTER: Motion = Motion { fade_per_s: core::f64::consts::LN_2 / 30.0, gathers_s: 60.0 };
    const SWEET: Motion = Motion { gathers_s: 3.0, ..BITTER };

    #[test]
    fn in_pieces_is_as_at_once() {
        let start = Air { level: 10.0, gathered: 3.0 };
        for motion in [SWEET, BITTER] {
            let pieces = [7.3, 0.001, 22.699].iter().fold(start, |air, length| motion.after(air, 0.2, *length));
            let once = motion.after(start, 0.2, 30.0);
            assert!((pieces.level - once.level).abs() < 1e-12);
            assert!((pieces.gathered - once.gathered).abs() < 1e-9);
        }
    }

    #[test]
    fn after_days_nothing_is_left() {
        for motion in [SWEET, BITTER] {
            let after = motion.after(Air { level: 10.0, gathered: 3.0 }, 1.0, 4.0e6);
            assert_eq!(after, Air { level: 0.0, gathered: 0.0 });
        }
    }

    #[test]
    fn the_strongest_taste_is_where_a_search_finds_it() {
        let same_rates = Motion { gathers_s: 30.0 / core::f64::consts::LN_2, ..BITTER };
        for motion in [SWEET, BITTER, same_rates] {
            for gathered in [0.0, 5.0, 200.0] {
                let start = Air { level: 10.0, gathered };
                let found = (0..=60_000)
                    .map(|step| motion.after(start, 0.5, f64::from(step) / 1_000.0).gathered)
                    .fold(0.0, f64::max);
                let said = motion.strongest(start, 0.5, 60.0);
                assert!((found - said).abs() <= 1e-6 * found, "{motion:?}, from {gathered}: {found} and {said}");
            }
        }
    }
}
