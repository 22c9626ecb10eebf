//! The standard normal distribution: the share below a value, and the value below which a share lies.
//!
//! It draws nothing: that is [`crate::draw`]'s part.

use core::f64::consts::{FRAC_1_SQRT_2, PI};

/// The share of a standard normal distribution that lies below `z`, from 0 to 1.
///
/// Small shares keep their digits: to a part in 10^12 down to `z` = -37.
///
/// ```
/// use bittersweet_core::normal;
/// assert_eq!(normal::share_below(0.0), 0.5);
/// assert!((normal::share_below(1.96) - 0.975).abs() < 1e-5);
/// ```
#[must_use]
pub fn share_below(z: f64) -> f64 {
    0.5 * libm::erfc(-z * FRAC_1_SQRT_2)
}

/// The value below which `share` of a standard normal distribution lies, to 10^-12: minus infinity for a share of 0 or less,
/// infinity for 1 or more, not a number only for what is not a number.
///
/// ```
/// use bittersweet_core::normal;
/// assert!((normal::quantile(0.975) - 1.959_963_984_540_054).abs() < 1e-12);
/// assert_eq!(normal::quantile(1.0), f64::INFINITY);
/// ```
#[must_use]
pub fn quantile(share: f64) -> f64 {
    if share <= 0.0 {
        f64::NEG_INFINITY
    } else if share >= 1.0 {
        f64::INFINITY
    } else if share <= 0.5 {
        lower_quantile(share)
    } else {
        // Exact, since the share lies between one half and 1.
        -lower_quantile(1.0 - share)
    }
}

/// For shares up to one half, where the share keeps all its digits.
fn lower_quantile(share: f64) -> f64 {
    // Each step multiplies the digits that are right by three: from the start's three to all there are.
    halley(halley(start(share), share), share)
}

/// Off by less than 4.5e-4: the rational approximation 26.2.23 of Abramowitz and Stegun's handbook (1964, after Hastings).
fn start(share: f64) -> f64 {
    let t = libm::sqrt(-2.0 * libm::log(share));
    let above = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let below = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    above / below - t
}

/// One step of Halley's method; the second derivative is `-z` times the first.
fn halley(z: f64, share: f64) -> f64 {
    let density = libm::exp(-0.5 * z * z) / libm::sqrt(2.0 * PI);
    let newton = (share_below(z) - share) / density;
    z - newton / (1.0 + 0.5 * z * newton)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_and_back_is_where_one_was() {
        for step in -3_600..=800 {
            let z = f64::from(step) / 100.0;
            let back = quantile(share_below(z));
            // Above 0 a share is close to 1 and has fewer digits left to say how close.
            let lost = if z > 0.0 { f64::EPSILON * libm::exp(0.5 * z * z) * 3.0 } else { 0.0 };
            assert!((back - z).abs() < 1e-12 + lost, "{z} came back as {back}");
        }
    }

    #[test]
    fn what_is_no_share_has_no_finite_value() {
        for (share, wanted) in [(0.0, f64::NEG_INFINITY), (-1.0, f64::NEG_INFINITY), (1.0, f64::INFINITY)] {
            assert_eq!(quantile(share).total_cmp(&wanted), core::cmp::Ordering::Equal);
        }
        assert!(quantile(f64::NAN).is_nan());
        // The smallest number there is.
        assert!((quantile(f64::from_bits(1)) + 38.4).abs() < 0.1);
    }
}
