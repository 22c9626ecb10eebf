//! When a taste is noticed: a threshold, and chance about it.
//!
//! A hundred breaths are not a hundred independent chances. In each stretch (a set of the screening, an exercise of the
//! test) one number is drawn, and the stretch's strongest impression either passes what it asks for or does not.

/// The chance of noticing an impression of `times` the threshold: `1 - 2^(-times^slope)`, one half at the threshold.
///
/// ```
/// use bittersweet_core::noticing::chance;
/// assert!((chance(1.0, 4.0) - 0.5).abs() < 1e-15);
/// assert!(chance(2.0, 4.0) > 0.9999);
/// ```
#[must_use]
pub fn chance(times: f64, slope: f64) -> f64 {
    if times <= 0.0 {
        return 0.0;
    }
    -libm::expm1(-core::f64::consts::LN_2 * libm::pow(times, slope))
}

/// How many times the threshold it takes in a stretch for which `drawn`, from 0 up to 1, was drawn: the inverse of
/// [`chance`]. At one half it takes the threshold itself.
///
/// ```
/// use bittersweet_core::noticing::asked_for;
/// assert!((asked_for(0.5, 4.0) - 1.0).abs() < 1e-15);
/// ```
#[must_use]
pub fn asked_for(drawn: f64, slope: f64) -> f64 {
    libm::pow(-libm::log1p(-drawn) / core::f64::consts::LN_2, 1.0 / slope)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_asked_for_is_noticed_with_that_chance() {
        for slope in [1.0, 2.0, 4.0] {
            for drawn in [0.001, 0.2, 0.5, 0.77, 0.999] {
                assert!((chance(asked_for(drawn, slope), slope) - drawn).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn more_is_never_noticed_less() {
        let chances: Vec<f64> = (0..400).map(|step| chance(f64::from(step) / 100.0, 2.0)).collect();
        assert!(chances.is_sorted());
    }
}
