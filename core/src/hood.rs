//! Aerosol in the hood: squeezes add, time takes away.
//!
//! `s' = -k s`, so between events the level has a closed form and no small steps are needed.

use crate::units::Ms;

/// The half-life for which half the squeezes every half minute hold the level: an assumption about the procedure's
/// intent, since no decay curve is published.
pub const HALF_LIFE: Ms = Ms::secs(30);

/// Decay per second.
#[must_use]
pub fn decay_per_s() -> f64 {
    core::f64::consts::LN_2 / HALF_LIFE.as_secs()
}

/// The level after `length` without a squeeze, from `level` (in squeezes of the check solution).
///
/// ```
/// use bittersweet_core::{hood, units::Ms};
/// assert!((hood::after(10.0, Ms::secs(30)) - 5.0).abs() < 1e-12);
/// ```
#[must_use]
pub fn after(level: f64, length: Ms) -> f64 {
    level * libm::exp(-decay_per_s() * length.as_secs())
}
