//! Putting a list in order, by one piece of code for all lists: each sort of the standard library is compiled anew for its
//! element and its key, some five kilobytes a time, which is much for a page that is fetched.

use std::mem;

/// Puts a list in the order of its keys. What has the same key stays in the order in which it was.
///
/// ```
/// use bittersweet_core::ordered::order;
/// let mut words = vec!["mirror", "hood", "bulb", "mask"];
/// order(&mut words, |word| word.len() as u64);
/// assert_eq!(words, ["hood", "bulb", "mask", "mirror"]);
/// ```
pub fn order<T>(list: &mut Vec<T>, key: impl Fn(&T) -> u64) {
    let mut places: Vec<(u64, usize)> = list.iter().map(key).zip(0..).collect();
    places.sort_unstable();
    let mut from: Vec<Option<T>> = mem::take(list).into_iter().map(Some).collect();
    list.extend(places.into_iter().filter_map(|(_, place)| from.get_mut(place)?.take()));
}

/// A key by which numbers come in the order of [`f64::total_cmp`].
#[must_use]
pub const fn of_number(number: f64) -> u64 {
    let bits = number.to_bits();
    if number.is_sign_negative() { !bits } else { bits | (1 << 63) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::{self, Purpose};

    #[test]
    fn it_is_the_order_of_the_standard_library() {
        for seed in 0..50 {
            let length = draw::number(seed, Purpose::Choice, 0, 60);
            let mut ours: Vec<(u32, u32)> =
                (1..=length).map(|number| (draw::number(seed, Purpose::Choice, number, 20), number)).collect();
            let mut theirs = ours.clone();
            order(&mut ours, |(key, _)| (*key).into());
            theirs.sort_by_key(|(key, _)| *key);
            assert_eq!(ours, theirs);
        }
    }

    #[test]
    fn numbers_come_in_their_order() {
        let numbers = [f64::NEG_INFINITY, -2.0, -1.5, -0.0, 0.0, f64::MIN_POSITIVE, 0.1, 7.0, f64::INFINITY, f64::NAN];
        for one in numbers {
            for other in numbers {
                assert_eq!(of_number(one).cmp(&of_number(other)), one.total_cmp(&other), "{one} {other}");
            }
        }
    }
}
