//! How likely it is that somebody knows a skill, from right and wrong answers: Bayesian knowledge tracing.
//!
//! It says what to practise, and nothing about who is ready for what: knowing is not doing. Nothing is forgotten here; when
//! something is to come back is [`crate::spacing`]'s.

use crate::{
    question::Task,
    wire::answer_v1::{AnswerV1, Asked},
};

/// From here on a skill counts as known: the usual criterion (Corbett and Anderson 1995; from memory).
pub const KNOWN: f64 = 0.95;

/// However many answers were right, so much doubt is left that wrong ones still weigh.
const SUREST: f64 = 0.999;

/// The chance of a right answer without knowing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guess(f64);

impl Guess {
    /// One of so many answers that could be given; of two at least.
    #[must_use]
    pub fn one_of(answers: u32) -> Self {
        Self(1.0 / f64::from(answers.max(2)))
    }

    /// That of a question whose task is known.
    #[must_use]
    pub fn of(task: &Task) -> Self {
        let letters = task.options().map_or(0, |options| u32::try_from(options.letters.len()).unwrap_or(u32::MAX));
        Self::one_of(match task {
            Task::One(_) | Task::Log(_) | Task::Picture(..) => letters,
            // Any of them or several, but not none.
            Task::Many(_) => 2_u32.saturating_pow(letters) - 1,
            Task::Order(_) => (1..=letters).fold(1, u32::saturating_mul),
            // Nobody comes by a number with its unit by chance: an assumption.
            Task::Number(_) => 100,
        })
    }

    /// That of an answer whose question is not at hand: hardly a question has fewer than four options, and no drill fewer than
    /// five.
    #[must_use]
    pub fn of_answer(answer: &AnswerV1) -> Self {
        Self::one_of(match answer.asked {
            Asked::Question => 4,
            Asked::Drill => 5,
        })
    }
}

/// What is supposed of learners, in the ranges that are published for lessons of this kind (Corbett and Anderson 1995; from
/// memory). How well one guesses is no part of it: that follows from what is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Learner {
    /// The chance that it is known before the first answer.
    pub before: f64,
    /// The chance to learn it with an answer and what is said after it.
    pub learns: f64,
    /// The chance of a wrong answer all the same.
    pub slips: f64,
}

impl Learner {
    /// Somebody who begins with little and learns slowly.
    const CAUTIOUS: Self = Self { before: 0.05, learns: 0.05, slips: 0.1 };
    /// In between.
    const LIKELY: Self = Self { before: 0.2, learns: 0.15, slips: 0.1 };
    /// Somebody who begins with half and learns quickly.
    const HOPEFUL: Self = Self { before: 0.5, learns: 0.3, slips: 0.1 };

    /// The chance that it is known after one more answer, where it was `known` before it.
    ///
    /// ```
    /// use bittersweet_core::knowledge::{Guess, Learner};
    /// let learner = Learner { before: 0.2, learns: 0.15, slips: 0.1 };
    /// let known = learner.after(learner.before, true, Guess::one_of(4));
    /// assert!((known - 0.5526).abs() < 1e-4);
    /// ```
    #[must_use]
    pub fn after(self, known: f64, right: bool, guess: Guess) -> f64 {
        let (knowing, guessing) = if right { (1.0 - self.slips, guess.0) } else { (self.slips, 1.0 - guess.0) };
        let shown = known * knowing;
        let then = shown / (shown + (1.0 - known) * guessing);
        then + (1.0 - then) * self.learns
    }
}

/// The chance that a skill is known, and how far off it may be for not knowing the learner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// For somebody who begins with little and learns slowly.
    pub low: f64,
    /// In between.
    pub likely: f64,
    /// For somebody who begins with half and learns quickly.
    pub high: f64,
}

impl Estimate {
    /// Before any answer.
    pub const FIRST: Self =
        Self { low: Learner::CAUTIOUS.before, likely: Learner::LIKELY.before, high: Learner::HOPEFUL.before };

    /// After one more answer.
    #[must_use]
    pub fn after(self, right: bool, guess: Guess) -> Self {
        let after = |learner: Learner, known| learner.after(known, right, guess).min(SUREST);
        Self {
            low: after(Learner::CAUTIOUS, self.low),
            likely: after(Learner::LIKELY, self.likely),
            high: after(Learner::HOPEFUL, self.high),
        }
    }

    /// Whether it counts as known.
    #[must_use]
    pub fn is_known(self) -> bool {
        self.likely >= KNOWN
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::question::Options;

    /// Worked out before, for a start of 0.2, learning 0.15, slips 0.1 and one of four.
    #[test]
    fn the_chance_goes_as_it_was_worked_out() {
        let rows: [(&[bool], &[f64]); 2] = [
            (&[true; 4], &[0.5526, 0.8440, 0.9585, 0.9899]),
            (&[true, false, true, true, true, true], &[0.5526, 0.2702, 0.6356, 0.8832, 0.9699, 0.9927]),
        ];
        for (answers, wanted) in rows {
            let mut estimate = Estimate::FIRST;
            for (right, wanted) in answers.iter().zip(wanted) {
                estimate = estimate.after(*right, Guess::one_of(4));
                assert!((estimate.likely - wanted).abs() < 1e-4, "{answers:?}: {estimate:?}, not {wanted}");
            }
        }
    }

    #[test]
    fn three_right_answers_of_four_options_are_known_and_two_are_not() {
        let mut estimate = Estimate::FIRST;
        let known = [(); 3].map(|()| {
            estimate = estimate.after(true, Guess::one_of(4));
            estimate.is_known()
        });
        assert_eq!(known, [false, false, true]);
    }

    #[test]
    fn the_estimate_stays_in_order_and_within_bounds_whatever_is_answered() {
        for answers in 0_u32..256 {
            for options in [1, 2, 4, 6, 720] {
                let mut estimate = Estimate::FIRST;
                for bit in 0..8 {
                    estimate = estimate.after(answers >> bit & 1 == 1, Guess::one_of(options));
                    let Estimate { low, likely, high } = estimate;
                    assert!(
                        0.0 < low && low <= likely && likely <= high && high <= SUREST,
                        "{answers:b}: {estimate:?}"
                    );
                }
            }
        }
    }

    #[test]
    fn after_any_number_of_right_answers_wrong_ones_still_weigh() {
        let mut estimate = Estimate::FIRST;
        for _ in 0..1_000 {
            estimate = estimate.after(true, Guess::one_of(720));
        }
        for _ in 0..3 {
            estimate = estimate.after(false, Guess::one_of(4));
        }
        assert!(!estimate.is_known(), "{estimate:?}");
    }

    #[test]
    fn a_right_answer_says_more_the_harder_it_is_to_guess() {
        let after = |options| Estimate::FIRST.after(true, Guess::one_of(options)).likely;
        assert!(after(3) < after(4) && after(4) < after(5));
        let wrong = |options| Estimate::FIRST.after(false, Guess::one_of(options)).likely;
        assert!(wrong(2) < Estimate::FIRST.likely && Estimate::FIRST.likely < after(2));
    }

    #[test]
    fn a_guess_is_one_of_what_could_be_answered() {
        let options = Options { letters: vec!['a', 'b', 'c', 'd'], right: vec!['a'] };
        assert_eq!(Guess::of(&Task::One(options.clone())), Guess::one_of(4));
        assert_eq!(Guess::of(&Task::Many(options.clone())), Guess::one_of(15));
        assert_eq!(Guess::of(&Task::Order(options)), Guess::one_of(24));
    }
}
