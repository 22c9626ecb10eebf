//! The beta distribution, as far as an exact interval needs it.
//!
//! From the mathematics (continued fraction 8.17.22 of the Digital Library of Mathematical Functions), for shape
//! parameters of at least 1.

/// The value below which `share` of the distribution with shape `a` and `b` lies, found by halving until two neighbouring
/// numbers are left.
pub(super) fn quantile(share: f64, a: f64, b: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    loop {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            return middle;
        }
        if share_below(middle, a, b) < share {
            low = middle;
        } else {
            high = middle;
        }
    }
}

/// The share below `x`: the regularised incomplete beta function.
fn share_below(x: f64, a: f64, b: f64) -> f64 {
    // The fraction converges quickly on this side of the mean, so the other side is reached from its end.
    if x * (a + b + 2.0) < a + 1.0 { lower_tail(x, a, b) } else { 1.0 - lower_tail(1.0 - x, b, a) }
}

fn lower_tail(x: f64, a: f64, b: f64) -> f64 {
    let scale = libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b);
    libm::exp(scale + a * libm::log(x) + b * libm::log1p(-x)) / a * fraction(x, a, b)
}

/// `1 / (1 + d1 / (1 + d2 / (1 + ...)))`, by Lentz's method, which goes forwards and stops when nothing changes.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    // Some thousands are enough for a million counted; the limit is there so that it ends whatever comes.
    const MOST_PAIRS: u32 = 100_000;
    let mut value = Lentz { value: 1.0, above: 1.0, below: 0.0 };
    for pair in 0..MOST_PAIRS {
        let m = f64::from(pair);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        // Where m is 0 there is no even one.
        let changed = if pair == 0 { value.take(odd) } else { value.take(even).max(value.take(odd)) };
        if changed <= f64::EPSILON {
            break;
        }
    }
    1.0 / value.value
}

/// A continued fraction `1 + d1 / (1 + d2 / ...)` as far as it has been gone through.
struct Lentz {
    value: f64,
    above: f64,
    below: f64,
}

impl Lentz {
    /// Takes one more coefficient, and returns by which part that changed the value.
    fn take(&mut self, d: f64) -> f64 {
        // Stands for a nought, by which nothing could be divided.
        const TINY: f64 = 1e-300;
        let nonzero = |value: f64| if value.abs() < TINY { TINY } else { value };
        self.below = 1.0 / nonzero(1.0 + d * self.below);
        self.above = nonzero(1.0 + d / self.above);
        let factor = self.above * self.below;
        self.value *= factor;
        (factor - 1.0).abs()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where one shape is 1, or both are 2, the integral is elementary.
    #[test]
    fn simple_shapes_have_their_elementary_form() {
        for step in 1..100 {
            let x = f64::from(step) / 100.0;
            let rows = [
                (1.0, 1.0, x),
                (1.0, 30.0, 1.0 - libm::pow(1.0 - x, 30.0)),
                (7.0, 1.0, libm::pow(x, 7.0)),
                (2.0, 2.0, x * x * (3.0 - 2.0 * x)),
            ];
            for (a, b, wanted) in rows {
                let found = share_below(x, a, b);
                assert!((found - wanted).abs() < 1e-14, "below {x} of ({a}, {b}): {found}, not {wanted}");
                let back = quantile(wanted, a, b);
                assert!((share_below(back, a, b) - wanted).abs() < 1e-14);
            }
        }
    }

    #[test]
    fn it_ends_for_the_largest_counts() {
        let most = f64::from(u32::MAX);
        let middle = quantile(0.5, most, most);
        assert!((middle - 0.5).abs() < 1e-6, "{middle}");
    }
}
