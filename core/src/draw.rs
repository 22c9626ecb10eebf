//! Chance, keyed: each draw has a purpose and an index of its own, so one more draw somewhere changes none elsewhere.
//!
//! The generator is PCG-32 by name, whose output is fixed; what is made of it here is our own, so that it is too.

use rand::Rng as _;
use rand_pcg::Pcg32;

/// What a draw is for. Its number is part of every recorded run: none is changed, and none is used again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u32)]
pub enum Purpose {
    /// Where in the beat a wearer's first breath falls.
    FirstBreath = 1,
    /// What it takes to be noticed in a set of a screening.
    NoticesInSet = 2,
    /// What it takes to be noticed in an exercise of a test.
    NoticesInExercise = 3,
    /// Whether somebody does not attend in a whole test.
    Lapses = 4,
    /// Whether, and when, somebody honest reports what is not there.
    ReportsFalsely = 5,
    /// A first name.
    Name = 20,
    /// A skin tone.
    Skin = 21,
    /// Hair.
    Hair = 22,
    /// Shape of the face.
    Shape = 23,
    /// A person's threshold.
    Tastes = 24,
    /// How far a threshold is off today.
    Sitting = 25,
    /// Size of the face.
    FaceSize = 26,
    /// The exposure.
    Exposure = 27,
    /// Size of a facepiece.
    PieceSize = 28,
    /// Class of a facepiece.
    PieceClass = 29,
    /// How a facepiece fits.
    Fit = 30,
    /// How it fits in each exercise.
    FitByExercise = 31,
    /// In which exercise a leak opens.
    Leak = 32,
    /// Whether a facepiece is comfortable.
    Comfort = 33,
    /// What a user seal check feels.
    SealCheck = 34,
    /// Which one somebody likes.
    Choice = 35,
    /// What is worn at work.
    Gear = 36,
    /// How many harmless things come up.
    HarmlessCount = 37,
    /// Which.
    HarmlessKind = 38,
    /// How much real trouble comes up.
    TroubleCount = 39,
    /// What it is about.
    TroubleGroup = 40,
    /// Which.
    TroubleKind = 41,
    /// When, of the moments at which its kind may arise.
    TroubleMoment = 42,
    /// In which exercise.
    TroubleExercise = 43,
    /// After how long, or how many squeezes.
    TroubleAfter = 44,
    /// How long ago, how high, how old.
    Planted = 45,
    /// A figure in the text of a question.
    QuestionFigure = 60,
    /// The order in which options are shown.
    QuestionOrder = 61,
    /// Which of several questions that would do equally well.
    QuestionChoice = 62,
    /// What is seen in the picture of a question.
    QuestionPicture = 63,
    /// What a short drill asks, and which story it tells.
    DrillStory = 70,
    /// In which exercise, at which set, after how long its moment comes.
    DrillMoment = 71,
    /// What a short drill shows beside what decides.
    DrillShown = 72,
    /// Which next steps are offered, and in which order.
    DrillOffers = 73,
    /// Which run comes next in an assessment.
    AssessmentRun = 80,
    /// In which of its runs nothing real comes up.
    AssessmentQuiet = 81,
    /// Which drill comes next in an assessment.
    AssessmentDrill = 82,
    /// Which questions are asked in an assessment.
    AssessmentQuestion = 83,
    /// What a worker's story before their own test is about, and what else comes up in it.
    Orientation = 90,
}

fn generator(seed: u64, purpose: Purpose, index: u32) -> Pcg32 {
    let stream = (u64::from(purpose as u32) << 32) | u64::from(index);
    let mut generator = Pcg32::new(seed, stream);
    // The first output depends on little of the stream.
    generator.next_u32();
    generator
}

/// A number from 0 up to, not including, `below`; 0 where `below` is 0. Every number is as likely as every other.
///
/// ```
/// use bittersweet_core::draw::{Purpose, number};
/// assert_eq!(number(7, Purpose::FirstBreath, 0, 3_000), number(7, Purpose::FirstBreath, 0, 3_000));
/// ```
#[must_use]
pub fn number(seed: u64, purpose: Purpose, index: u32, below: u32) -> u32 {
    if below == 0 {
        return 0;
    }
    let mut generator = generator(seed, purpose, index);
    // Numbers in the last, incomplete round would make the small ones likelier.
    let fair = u32::MAX - u32::MAX % below;
    loop {
        let drawn = generator.next_u32();
        if drawn < fair {
            return drawn % below;
        }
    }
}

/// A number from 0 up to, not including, 1, in steps of `2^-32`.
#[must_use]
pub fn unit(seed: u64, purpose: Purpose, index: u32) -> f64 {
    f64::from(generator(seed, purpose, index).next_u32()) / 4_294_967_296.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::SeedableRng as _;

    /// The generator's own published stream, as measured with `rand_pcg` 0.10 natively and in WebAssembly.
    #[test]
    fn the_generator_is_the_one_that_is_named() {
        let mut generator = Pcg32::seed_from_u64(42);
        let first = [0xcaa8_7230, 0xc7a9_5d44, 0x1eb4_d0ae, 0xfbcf_ed44];
        assert_eq!(first.map(|_| generator.next_u32()), first);
    }

    #[test]
    fn draws_are_fixed_for_ever() {
        let drawn = [0, 1, 2, 3].map(|index| number(1_000, Purpose::FirstBreath, index, 3_000));
        assert_eq!(drawn, [1_291, 2_344, 568, 1_778]);
    }

    #[test]
    fn every_number_is_about_as_likely() {
        let mut counts = [0_u32; 6];
        for index in 0..60_000 {
            counts[number(9, Purpose::FirstBreath, index, 6) as usize] += 1;
        }
        // Five standard deviations of a count with mean 10 000.
        assert!(counts.iter().all(|count| count.abs_diff(10_000) < 460), "{counts:?}");
    }
}
