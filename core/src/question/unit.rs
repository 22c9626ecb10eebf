//! Units in which a number can be answered, and numbers as people write them.

use crate::coded::coded;

coded! {
    /// A unit.
    Unit {
        /// Squeezes of the bulb.
        Squeezes = "squeezes",
        /// Millilitres.
        Millilitres = "ml",
        /// Litres.
        Litres = "l",
        /// Milligrams.
        Milligrams = "mg",
        /// Grams.
        Grams = "g",
        /// Kilograms.
        Kilograms = "kg",
        /// Seconds.
        Seconds = "s",
        /// Minutes.
        Minutes = "min",
        /// Hours.
        Hours = "h",
        /// Milligrams in a cubic metre of air.
        MilligramsPerCubicMetre = "mg/m3",
        /// A ratio, or how often.
        Times = "times",
        /// Days.
        Days = "days",
        /// Months.
        Months = "months",
        /// People.
        People = "people",
    }
}

impl Unit {
    /// The unit that this one is measured in, and how many of that it is.
    const fn in_small(self) -> (Self, f64) {
        match self {
            Self::Litres => (Self::Millilitres, 1_000.0),
            Self::Grams => (Self::Milligrams, 1_000.0),
            Self::Kilograms => (Self::Milligrams, 1_000_000.0),
            Self::Minutes => (Self::Seconds, 60.0),
            Self::Hours => (Self::Seconds, 3_600.0),
            Self::Days => (Self::Seconds, 86_400.0),
            Self::Squeezes
            | Self::Millilitres
            | Self::Milligrams
            | Self::Seconds
            | Self::MilligramsPerCubicMetre
            | Self::Times
            | Self::Months
            | Self::People => (self, 1.0),
        }
    }

    /// `value` of this unit in `other`; `None` where they do not measure the same.
    ///
    /// ```
    /// use bittersweet_core::question::unit::Unit;
    /// assert_eq!(Unit::Grams.in_units_of(0.5, Unit::Milligrams), Some(500.0));
    /// assert_eq!(Unit::Grams.in_units_of(0.5, Unit::Minutes), None);
    /// ```
    #[must_use]
    pub fn in_units_of(self, value: f64, other: Self) -> Option<f64> {
        let ((small, factor), (of, into)) = (self.in_small(), other.in_small());
        (small == of).then_some(value * factor / into)
    }

    /// All units that measure the same, this one among them.
    pub fn alike(self) -> impl Iterator<Item = Self> {
        Self::ALL.iter().copied().filter(move |other| other.in_small().0 == self.in_small().0)
    }

    /// Whether it is weighed or measured out, so that a point can slip.
    #[must_use]
    pub fn is_measured_out(self) -> bool {
        matches!(self.in_small().0, Self::Millilitres | Self::Milligrams | Self::MilligramsPerCubicMetre)
    }
}

/// The longest number that is read.
const LONGEST: usize = 12;

/// A number that somebody wrote, with a point or a comma before the decimals; `None` where it is none, or where a mark could
/// as well stand for thousands.
///
/// ```
/// use bittersweet_core::question::unit::number;
/// assert_eq!(number(" 2,5 "), Some(2.5));
/// assert_eq!(number("1,000"), None);
/// ```
#[must_use]
pub fn number(written: &str) -> Option<f64> {
    let written = written.trim();
    let (whole, decimals) = written.split_once(['.', ',']).unwrap_or((written, ""));
    let digits = whole.len() + decimals.len();
    let plain = |text: &str| text.bytes().all(|letter| letter.is_ascii_digit());
    let looks_like_thousands = written.contains(',') && decimals.len() == 3 && !whole.starts_with('0');
    if !(1..=LONGEST).contains(&digits) || !plain(whole) || !plain(decimals) || looks_like_thousands {
        return None;
    }
    let of = |text: &str| text.bytes().fold(0.0, |value, digit| value * 10.0 + f64::from(digit - b'0'));
    let scale = decimals.bytes().fold(1.0, |scale: f64, _| scale * 10.0);
    Some(of(whole) + of(decimals) / scale)
}

/// A figure as it is shown: about four digits, and no decimals that are nought. Never below nought.
///
/// ```
/// use bittersweet_core::question::unit::shown;
/// assert_eq!([shown(0.05), shown(7.5), shown(269.2307), shown(150.0)], ["0.05", "7.5", "269.2", "150"]);
/// ```
#[must_use]
pub fn shown(value: f64) -> String {
    let decimals = match value {
        small if small < 10.0 => 3,
        middle if middle < 100.0 => 2,
        _ => 1,
    };
    let scale = 10_u64.pow(decimals);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast from a float saturates")]
    #[expect(clippy::cast_precision_loss, reason = "a thousand at most")]
    let scaled = libm::round(value * scale as f64) as u64;
    let mut text = (scaled / scale).to_string();
    let mut rest = scaled % scale;
    if rest > 0 {
        text.push('.');
    }
    let mut place = scale / 10;
    while rest > 0 && place > 0 {
        text.push(char::from(b'0' + u8::try_from(rest / place).unwrap_or_default()));
        rest %= place;
        place /= 10;
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_shown_is_read_as_the_same() {
        for value in [0.0, 0.001, 0.5, 2.5, 41.5, 99.99, 100.0, 237.5, 83_000.0] {
            assert_eq!(number(&shown(value)), Some(value), "{value}");
        }
    }

    #[test]
    fn what_is_no_number_is_not_read() {
        for written in ["", " ", ".", "a", "1.2.3", "1e3", "-1", "1 000", "1,000", "1234567890123", "½"] {
            assert_eq!(number(written), None, "{written}");
        }
        assert_eq!([number("0,005"), number("12."), number(".5")], [Some(0.005), Some(12.0), Some(0.5)]);
    }

    #[test]
    fn only_what_measures_the_same_is_alike() {
        assert_eq!(Unit::Seconds.alike().count(), 4);
        assert_eq!(Unit::Squeezes.alike().collect::<Vec<_>>(), [Unit::Squeezes]);
    }
}
