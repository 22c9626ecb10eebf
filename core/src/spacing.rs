//! When something learned is to be asked again: the scheduler FSRS-6 with its published default parameters.
//!
//! Whole days, no fuzz, no steps within a day: asked again on the same day counts as that. What is asked, and what a year at
//! the latest means, is [`crate::refresh`]'s.

use libm::{exp, pow};

/// The published default parameters of FSRS-6, in its order.
const W: [f64; 21] = [
    0.212, 1.2931, 2.3065, 8.2956, 6.4133, 0.8334, 3.0194, 0.001, 1.8722, 0.1666, 0.796, 1.4835, 0.0614, 0.2629,
    1.6483, 0.6014, 1.8729, 0.5425, 0.0912, 0.0658, 0.1542,
];

/// The share that is still known when it is due: the usual one.
pub const KEPT: f64 = 0.9;

/// The least stability, in days.
const LEAST: f64 = 0.001;

/// The longest wait, in days: that of the reference libraries.
pub const LONGEST: u32 = 36_500;

/// How it went.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// Not known.
    Again = 1,
    /// Known in part, or with trouble.
    Hard,
    /// Known.
    Good,
    /// Known at once.
    Easy,
}

/// What is supposed of somebody's memory of one thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Memory {
    /// After so many days nine in ten still know it.
    pub stability: f64,
    /// How hard it is to keep: 1 to 10.
    pub difficulty: f64,
}

impl Memory {
    /// After the first time.
    ///
    /// ```
    /// use bittersweet_core::spacing::{Grade, Memory};
    /// assert_eq!(Memory::first(Grade::Good).due_in(), 2);
    /// ```
    #[must_use]
    pub fn first(grade: Grade) -> Self {
        let stability = match grade {
            Grade::Again => W[0],
            Grade::Hard => W[1],
            Grade::Good => W[2],
            Grade::Easy => W[3],
        };
        Self { stability, difficulty: first_difficulty(grade).clamp(1.0, 10.0) }
    }

    /// After it was asked again, so many days later.
    #[must_use]
    pub fn again(self, grade: Grade, days: u32) -> Self {
        let stability = match (days, grade) {
            (0, _) => self.same_day(grade),
            (_, Grade::Again) => self.forgotten(days),
            _ => self.recalled(grade, days),
        };
        Self { stability: stability.max(LEAST), difficulty: self.harder(grade) }
    }

    /// The chance that it is known so many days after it was asked.
    #[must_use]
    pub fn known_after(self, days: u32) -> f64 {
        pow(1.0 + factor() * f64::from(days) / self.stability, -W[20])
    }

    /// In how many days it is to be asked again: when [`KEPT`] would know it, and not on the same day.
    #[must_use]
    pub fn due_in(self) -> u32 {
        let days = self.stability / factor() * (pow(KEPT, -1.0 / W[20]) - 1.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and the longest wait")]
        let whole = libm::round(days.clamp(1.0, f64::from(LONGEST))) as u32;
        whole
    }

    fn same_day(self, grade: Grade) -> f64 {
        let times = exp(W[17] * (number(grade) - 3.0 + W[18])) * pow(self.stability, -W[19]);
        self.stability * if grade == Grade::Again { times } else { times.max(1.0) }
    }

    fn forgotten(self, days: u32) -> f64 {
        let long = W[11]
            * pow(self.difficulty, -W[12])
            * (pow(self.stability + 1.0, W[13]) - 1.0)
            * exp((1.0 - self.known_after(days)) * W[14]);
        long.min(self.stability / exp(W[17] * W[18]))
    }

    fn recalled(self, grade: Grade, days: u32) -> f64 {
        let times = match grade {
            Grade::Hard => W[15],
            Grade::Easy => W[16],
            Grade::Again | Grade::Good => 1.0,
        };
        let grows = exp(W[8])
            * (11.0 - self.difficulty)
            * pow(self.stability, -W[9])
            * (exp((1.0 - self.known_after(days)) * W[10]) - 1.0);
        self.stability * (1.0 + grows * times)
    }

    /// Difficulty moves less the higher it is, and leans back towards that of something easy.
    fn harder(self, grade: Grade) -> f64 {
        let moved = self.difficulty - W[6] * (number(grade) - 3.0) * (10.0 - self.difficulty) / 9.0;
        (W[7] * first_difficulty(Grade::Easy) + (1.0 - W[7]) * moved).clamp(1.0, 10.0)
    }
}

fn first_difficulty(grade: Grade) -> f64 {
    W[4] - exp(W[5] * (number(grade) - 1.0)) + 1.0
}

/// So that after the stability nine in ten know it.
fn factor() -> f64 {
    pow(0.9, -1.0 / W[20]) - 1.0
}

fn number(grade: Grade) -> f64 {
    f64::from(grade as u8)
}

#[cfg(test)]
mod tests {
    use super::*;

    const GRADES: [Grade; 4] = [Grade::Again, Grade::Hard, Grade::Good, Grade::Easy];

    #[test]
    fn nine_in_ten_know_it_when_its_stability_is_over() {
        let memory = Memory { stability: 40.0, difficulty: 5.0 };
        assert!((memory.known_after(40) - KEPT).abs() < 1e-12);
        assert_eq!(memory.due_in(), 40);
    }

    #[test]
    fn the_better_it_went_the_longer_it_rests() {
        for days in [0, 1, 30, 400] {
            let memory = Memory { stability: 12.0, difficulty: 5.0 };
            let after = GRADES.map(|grade| memory.again(grade, days).stability);
            assert!(after.is_sorted(), "{days}: {after:?}");
        }
    }

    #[test]
    fn whatever_happens_it_stays_within_bounds() {
        for first in GRADES {
            for then in GRADES {
                let mut memory = Memory::first(first);
                for days in [0, 1, 0, 36_500, u32::MAX, 0, 0, 3, 9] {
                    memory = memory.again(then, days);
                    assert!(memory.stability >= LEAST && memory.stability.is_finite(), "{memory:?}");
                    assert!((1.0..=10.0).contains(&memory.difficulty), "{memory:?}");
                    assert!((1..=LONGEST).contains(&memory.due_in()), "{memory:?}");
                }
            }
        }
    }
}
