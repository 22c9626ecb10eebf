//! What has faded: which questions and drills are to be asked again today, the most faded first, for a sitting of ten minutes.
//!
//! A pure function of the answers that were given. The spacing is that of [`crate::spacing`], but nothing rests for longer
//! than a year: a house limit after the yearly test of each wearer, not law.

use crate::{
    ordered,
    question::mark::Credit,
    spacing::{Grade, Memory},
    units::Ms,
    wire::answer_v1::{AnswerV1, Asked},
};

/// A day, counted from 1 January 1970.
pub type Day = u32;

/// Nothing rests for longer, in days.
pub const A_YEAR: u32 = 365;

/// How long a sitting is meant to take.
pub const SITTING: Ms = Ms::mins(10);

/// What one more takes, in the middle: a question is read and answered, a drill is read through.
const fn takes(asked: Asked) -> Ms {
    match asked {
        Asked::Question => Ms::secs(30),
        Asked::Drill => Ms::mins(1),
    }
}

/// Something that was answered, and how well it is remembered.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// A question or a drill.
    pub asked: Asked,
    /// The id of the question; of a drill its level, since no two drills are alike.
    pub id: String,
    /// The question's revision: what was asked before it changed is another card.
    pub revision: u32,
    /// What is supposed of the memory of it.
    pub memory: Memory,
    /// When it was asked last.
    pub last: Day,
}

impl Card {
    /// The day on which it is to be asked again.
    #[must_use]
    pub fn due(&self) -> Day {
        self.last.saturating_add(self.memory.due_in().min(A_YEAR))
    }

    /// The chance that it is still known.
    #[must_use]
    pub fn known(&self, today: Day) -> f64 {
        self.memory.known_after(today.saturating_sub(self.last))
    }

    fn is_of(&self, answer: &AnswerV1) -> bool {
        self.asked == answer.asked && self.revision == answer.revision && self.id == id(answer)
    }
}

/// The part of an answer's id that names the card.
fn id(answer: &AnswerV1) -> &str {
    match answer.asked {
        Asked::Question => &answer.id,
        Asked::Drill => answer.id.split('-').next().unwrap_or_default(),
    }
}

const fn grade(credit: Credit) -> Grade {
    match credit {
        Credit { got: 0, .. } => Grade::Again,
        Credit { got, of } if got < of => Grade::Hard,
        Credit { .. } => Grade::Good,
    }
}

/// Everything that was answered, in the order in which it was first asked; `answers` oldest first. A device whose clock was
/// set back loses nothing: the time between is then taken as none.
#[must_use]
pub fn cards(answers: &[AnswerV1]) -> Vec<Card> {
    let mut cards: Vec<Card> = Vec::new();
    for answer in answers {
        let grade = grade(answer.credit);
        if let Some(card) = cards.iter_mut().find(|card| card.is_of(answer)) {
            card.memory = card.memory.again(grade, answer.day.saturating_sub(card.last));
            card.last = card.last.max(answer.day);
        } else {
            cards.push(Card {
                asked: answer.asked,
                id: id(answer).to_owned(),
                revision: answer.revision,
                memory: Memory::first(grade),
                last: answer.day,
            });
        }
    }
    cards
}

/// What is asked in one sitting.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sitting {
    /// What is due, the most faded first, as much as ten minutes hold.
    pub cards: Vec<Card>,
    /// How many more are due.
    pub left: usize,
}

impl Sitting {
    /// How long it is meant to take.
    #[must_use]
    pub fn takes(&self) -> Ms {
        self.cards.iter().fold(Ms::ZERO, |sum, card| sum.plus(takes(card.asked)))
    }
}

/// The sitting of today.
///
/// ```
/// use bittersweet_core::refresh::sitting;
/// assert!(sitting(&[], 20_000).cards.is_empty());
/// ```
#[must_use]
pub fn sitting(cards: &[Card], today: Day) -> Sitting {
    let mut due: Vec<(f64, &Card)> =
        cards.iter().filter(|card| card.due() <= today).map(|card| (card.known(today), card)).collect();
    ordered::order(&mut due, |(known, _)| ordered::of_number(*known));
    let mut sitting = Sitting { cards: Vec::new(), left: due.len() };
    for (_, card) in due {
        if sitting.takes().plus(takes(card.asked)) > SITTING {
            break;
        }
        sitting.cards.push(card.clone());
        sitting.left -= 1;
    }
    sitting
}

/// When to come back: the first day after today on which something is due, and how much is by then; `None` where nothing was
/// ever answered. What is due today and was left counts on the next day.
#[must_use]
pub fn next(cards: &[Card], today: Day) -> Option<(Day, usize)> {
    let tomorrow = today.saturating_add(1);
    let day = cards.iter().map(|card| card.due().max(tomorrow)).min()?;
    Some((day, cards.iter().filter(|card| card.due() <= day).count()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{rulebook::Agent, source::Skill};

    fn answer(asked: Asked, id: &str, got: u8, day: Day) -> AnswerV1 {
        AnswerV1 {
            asked,
            id: id.to_owned(),
            revision: 1,
            skill: Skill::Watching,
            agent: Agent::Sweet,
            credit: Credit { got, of: 2 },
            day,
        }
    }

    #[test]
    fn what_was_not_known_is_due_before_what_was() {
        let answers = [answer(Asked::Question, "known", 2, 100), answer(Asked::Question, "not", 0, 100)];
        let cards = cards(&answers);
        assert!(cards[1].due() < cards[0].due(), "{cards:?}");
        assert_eq!(sitting(&cards, 100), Sitting::default());
        let due: Vec<String> = sitting(&cards, 101).cards.into_iter().map(|card| card.id).collect();
        assert_eq!(due, ["not"]);
        let due: Vec<String> = sitting(&cards, 130).cards.into_iter().map(|card| card.id).collect();
        assert_eq!(due, ["not", "known"]);
        assert_eq!(next(&cards, 100), Some((101, 1)));
    }

    #[test]
    fn answered_again_it_is_one_card_and_rests_longer() {
        let first = cards(&[answer(Asked::Question, "one", 2, 100)]);
        let again = cards(&[answer(Asked::Question, "one", 2, 100), answer(Asked::Question, "one", 2, 110)]);
        assert_eq!(again.len(), 1);
        assert!(again[0].due() - 110 > first[0].due() - 100);
    }

    #[test]
    fn another_revision_is_another_card() {
        let changed = AnswerV1 { revision: 2, ..answer(Asked::Question, "one", 2, 110) };
        assert_eq!(cards(&[answer(Asked::Question, "one", 2, 100), changed]).len(), 2);
    }

    #[test]
    fn drills_of_one_level_are_one_card() {
        let answers = [answer(Asked::Drill, "2-17", 1, 100), answer(Asked::Drill, "2-99", 2, 103)];
        let cards = cards(&answers);
        assert_eq!((cards.len(), cards[0].id.as_str()), (1, "2"));
    }

    #[test]
    fn nothing_rests_longer_than_a_year() {
        let often: Vec<AnswerV1> = (0..12).map(|time| answer(Asked::Question, "one", 2, 100 + time * 200)).collect();
        let card = &cards(&often)[0];
        assert!(card.memory.due_in() > A_YEAR, "{card:?}");
        assert_eq!(card.due(), card.last + A_YEAR);
    }

    #[test]
    fn a_sitting_holds_ten_minutes() {
        let many: Vec<AnswerV1> = (0..30).map(|one| answer(Asked::Question, &format!("q-{one}"), 0, 100)).collect();
        let full = sitting(&cards(&many), 200);
        assert_eq!((full.cards.len(), full.left, full.takes()), (20, 10, SITTING));
        let drills = [answer(Asked::Drill, "1-1", 0, 100), answer(Asked::Question, "one", 0, 100)];
        assert_eq!(sitting(&cards(&drills), 200).takes(), Ms::secs(90));
    }

    #[test]
    fn a_clock_set_back_loses_nothing() {
        let back = [answer(Asked::Question, "one", 2, 100), answer(Asked::Question, "one", 2, 90)];
        let card = &cards(&back)[0];
        assert_eq!(card.last, 100);
        assert!(card.due() > 100);
    }

    #[test]
    fn what_was_left_counts_on_the_next_day() {
        let cards = cards(&[answer(Asked::Question, "one", 0, 100), answer(Asked::Question, "two", 2, 100)]);
        assert_eq!(next(&cards, 150), Some((151, 2)));
        assert_eq!(next(&[], 150), None);
    }
}
