//! Marking an answer, and how the level follows.
//!
//! It keeps no history beyond what the level needs, and knows nothing of skills.

use super::Level;

/// How good an answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// Not what the log says.
    Wrong,
    /// It stands, but nothing in the log calls for it.
    Allowed,
    /// What the log says.
    Right,
}

/// How many right drills on end take one a level up.
pub const UP_AFTER: u8 = 3;

/// How many wrong ones on end take one a level down.
pub const DOWN_AFTER: u8 = 2;

/// Where somebody stands in a series of drills.
///
/// ```
/// use bittersweet_core::drill::{Grade, Level, Practice};
///
/// let practice = [Grade::Right; 3].into_iter().fold(Practice::new(Level::One), Practice::after);
/// assert_eq!(practice.level(), Level::Two);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Practice {
    level: Level,
    right: u8,
    wrong: u8,
}

impl Practice {
    /// A series that begins at this level.
    #[must_use]
    pub const fn new(level: Level) -> Self {
        Self { level, right: 0, wrong: 0 }
    }

    /// The level of the next drill.
    #[must_use]
    pub const fn level(self) -> Level {
        self.level
    }

    /// After one more drill, of which the poorest answer counts. What is merely allowed moves nothing.
    #[must_use]
    pub fn after(self, grade: Grade) -> Self {
        let Self { level, right, wrong } = self;
        match grade {
            Grade::Right if right + 1 >= UP_AFTER => Self::new(level.up()),
            Grade::Right => Self { level, right: right + 1, wrong: 0 },
            Grade::Allowed => self,
            Grade::Wrong if wrong + 1 >= DOWN_AFTER => Self::new(level.down()),
            Grade::Wrong => Self { level, right: 0, wrong: wrong + 1 },
        }
    }
}
