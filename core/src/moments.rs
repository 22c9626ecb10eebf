//! When each of some things happened first and last: a short list in order, which is looked up far more often than it
//! grows.

use crate::units::Ms;

/// The first and the last time of each thing that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moments<K>(Vec<(K, (Ms, Ms))>);

impl<K> Default for Moments<K> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<K: Copy + Ord> Moments<K> {
    /// It happened, not before anything that is noted already.
    pub fn note(&mut self, what: K, at: Ms) {
        match self.place(what) {
            Ok(place) => {
                if let Some((_, (_, last))) = self.0.get_mut(place) {
                    *last = at;
                }
            }
            Err(place) => self.0.insert(place, (what, (at, at))),
        }
    }

    /// When it happened first and last.
    #[must_use]
    pub fn get(&self, what: K) -> Option<(Ms, Ms)> {
        let place = self.place(what).ok()?;
        self.0.get(place).map(|(_, moments)| *moments)
    }

    /// Whether it happened.
    #[must_use]
    pub fn contains_key(&self, what: &K) -> bool {
        self.place(*what).is_ok()
    }

    /// Everything that happened, in its own order, each with its first and its last time.
    pub fn iter(&self) -> impl Iterator<Item = (&K, &(Ms, Ms))> {
        self.0.iter().map(|(what, moments)| (what, moments))
    }

    /// Everything that happened, in its own order.
    pub fn keys(&self) -> impl Iterator<Item = &K> {
        self.iter().map(|(what, _)| what)
    }

    fn place(&self, what: K) -> Result<usize, usize> {
        self.0.binary_search_by_key(&what, |(known, _)| *known)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_what_happens_often_the_first_and_the_last_time_are_kept() {
        let mut moments = Moments::default();
        for (what, at) in [('b', 1), ('a', 2), ('b', 3), ('c', 4), ('b', 5)] {
            moments.note(what, Ms(at));
        }
        assert_eq!(moments.get('b'), Some((Ms(1), Ms(5))));
        assert_eq!(moments.get('a'), Some((Ms(2), Ms(2))));
        assert_eq!(moments.get('d'), None);
        assert!(moments.contains_key(&'c') && !moments.contains_key(&'d'));
        assert!(moments.keys().eq(&['a', 'b', 'c']), "in their own order, whenever they came");
    }
}
