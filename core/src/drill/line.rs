//! What is shown of a run: few lines that hold everything the result hangs on.
//!
//! What is not by the book is always a line. What is may be folded, or left out: whoever reads takes it to have been as it
//! should be. Nothing is worded here.

use super::conductor;
use crate::{
    act::{Act, Exercise, Reminder, Role},
    log::{Entry, What},
    sign::{Seen, Sign},
    units::Ms,
};

/// Squeezes in a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Set {
    /// The first.
    pub at: Ms,
    /// The last.
    pub to: Ms,
    /// How many times the bulb was pressed.
    pub pressed: u32,
    /// How many of those were seen to be whole.
    pub whole: u32,
}

/// What one line shows.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shown {
    /// The conductor did this, and was shown that on it.
    Did(Act, Vec<Sign>),
    /// This came by itself.
    Came(Sign),
    /// Squeezes outside the exercises.
    Squeezed(Set),
    /// One exercise, up to this moment, and the squeezes in it.
    Exercised(Exercise, Ms, Vec<Set>),
    /// From one exercise to another, up to this moment: each its minute, each half minute this many squeezes.
    Regular(Exercise, Exercise, Ms, u32),
}

/// One line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// When it began, since the run did.
    pub at: Ms,
    /// What it shows.
    pub what: Shown,
}

impl Line {
    /// When it was over.
    #[must_use]
    pub const fn to(&self) -> Ms {
        match &self.what {
            Shown::Did(..) | Shown::Came(_) => self.at,
            Shown::Squeezed(set) => set.to,
            Shown::Exercised(_, to, _) | Shown::Regular(_, _, to, _) => *to,
        }
    }

    /// Whether it can go where there is no room: the plain beginning or end of something, done as it always is.
    fn is_plain(&self, role: Role) -> bool {
        let Shown::Did(act, signs) = &self.what else { return false };
        let usual = matches!(act, Act::PutDown | Act::HoodOn | Act::CheckNebulizer(_) | Act::ReviewComfort)
            || *act == Act::Take(role)
            || (*act == Act::Remind(Reminder::Breathing) && signs.is_empty());
        let odd = [Seen::NebulizerTipCrusted, Seen::NebulizerLow, Seen::SaysUncomfortable, Seen::HoodNear];
        usual && !signs.iter().any(|sign| odd.iter().any(|seen| sign.is(*seen)))
    }
}

/// A set going on, and the line of the exercise in which it began.
struct Going {
    set: Set,
    exercise: Option<usize>,
}

/// Lines as they are made.
struct Maker {
    lines: Vec<Line>,
    /// When the log ends.
    to: Ms,
    /// The exercise going on, by its line.
    exercise: Option<usize>,
    going: Option<Going>,
}

/// The lines of a stretch of the log, `to` its end; squeezes further apart than `gap` are two sets.
pub(super) fn lines(log: &[Entry], to: Ms, gap: Ms) -> Vec<Line> {
    let mut maker = Maker { lines: Vec::new(), to, exercise: None, going: None };
    for entry in log {
        match entry.what {
            What::Act(Act::Squeeze) => maker.squeeze(entry.at, gap),
            What::Act(Act::Wait(_)) => {}
            What::Act(act) => maker.act(act, entry.at),
            What::Sign(sign) => maker.sign(sign, entry.at),
        }
    }
    maker.close();
    maker.lines
}

impl Maker {
    fn squeeze(&mut self, at: Ms, gap: Ms) {
        if self.going.as_ref().is_some_and(|going| at.since(going.set.to) > gap) {
            self.close();
        }
        let begun = Going { set: Set { at, to: at, pressed: 0, whole: 0 }, exercise: self.exercise };
        let set = &mut self.going.get_or_insert(begun).set;
        *set = Set { to: at, pressed: set.pressed + 1, whole: set.whole + 1, ..*set };
    }

    /// The set going on is over. One that runs on into the next exercise stays whole, as it is judged.
    fn close(&mut self) {
        let Some(Going { set, exercise }) = self.going.take() else { return };
        match exercise.and_then(|place| self.lines.get_mut(place)).map(|line| &mut line.what) {
            Some(Shown::Exercised(.., sets)) => sets.push(set),
            _ => self.lines.push(Line { at: set.at, what: Shown::Squeezed(set) }),
        }
    }

    /// A new line begins; a set that is no part of an exercise's line has to be over.
    fn push(&mut self, at: Ms, what: Shown) {
        if self.going.as_ref().is_some_and(|going| going.exercise.is_none()) {
            self.close();
        }
        self.lines.push(Line { at, what });
    }

    fn end_exercise(&mut self, at: Ms) {
        let line = self.exercise.take().and_then(|place| self.lines.get_mut(place));
        if let Some(Shown::Exercised(_, to, _)) = line.map(|line| &mut line.what) {
            *to = at;
        }
    }

    fn act(&mut self, act: Act, at: Ms) {
        if matches!(act, Act::Begin(_) | Act::End | Act::HoodOff) {
            self.end_exercise(at);
        }
        if let Act::Begin(exercise) = act {
            self.push(at, Shown::Exercised(exercise, self.to, Vec::new()));
            self.exercise = self.lines.len().checked_sub(1);
        } else if act != Act::End {
            self.push(at, Shown::Did(act, Vec::new()));
        }
    }

    fn sign(&mut self, sign: Sign, at: Ms) {
        let not_whole = sign.is(Seen::SpraysShort) || sign.is(Seen::SpraysNothing);
        match (&mut self.going, self.lines.last_mut()) {
            (Some(Going { set, .. }), _) if not_whole && set.to == at => set.whole -= 1,
            (_, Some(Line { at: done, what: Shown::Did(_, signs) })) if *done == at => signs.push(sign),
            _ => {
                if sign.is(Seen::TakesHoodOff) || sign.is(Seen::LiftsHood) {
                    self.end_exercise(at);
                }
                self.push(at, Shown::Came(sign));
            }
        }
    }
}

/// Makes `lines` no more than `most`, where what is by the book suffices for it: exercises that follow on one another are
/// folded, then plain beginnings and ends left out. `half` is what each half minute brings; `stays` says which lines are
/// shown by themselves.
pub(super) fn shorten(lines: &mut Vec<Line>, most: usize, role: Role, half: u32, stays: impl Fn(&Line) -> bool) {
    let is_regular = |line: &Line| matches!(line.what, Shown::Exercised(..) | Shown::Regular(..)) && !stays(line);
    while lines.len() > most {
        let fits = |pair: &[Line]| match pair {
            [one, next] if is_regular(one) && is_regular(next) => folded(one, next, half),
            _ => None,
        };
        let found = lines.windows(2).enumerate().find_map(|(place, pair)| Some((place, fits(pair)?)));
        if let Some((place, both)) = found {
            lines.remove(place + 1);
            if let Some(line) = lines.get_mut(place) {
                *line = both;
            }
        } else if let Some(place) = lines.iter().position(|line| line.is_plain(role) && !stays(line)) {
            lines.remove(place);
        } else {
            break;
        }
    }
}

/// Two lines of exercises as one, if the one follows on the other in the order of the seven.
fn folded(one: &Line, next: &Line, half: u32) -> Option<Line> {
    let first_and_last = |line: &Line| match line.what {
        Shown::Exercised(exercise, ..) => Some((exercise, exercise)),
        Shown::Regular(first, last, ..) => Some((first, last)),
        Shown::Did(..) | Shown::Came(_) | Shown::Squeezed(_) => None,
    };
    let ((first, before), (after, last)) = (first_and_last(one)?, first_and_last(next)?);
    let follows = after.place()? == before.place()? + 1;
    follows.then(|| Line { at: one.at, what: Shown::Regular(first, last, next.to(), half) })
}

/// Whether a line shows one of these signs.
pub(super) fn shows(line: &Line, codes: &[&str]) -> bool {
    match &line.what {
        Shown::Did(_, signs) => signs.iter().any(|sign| conductor::is_of(*sign, codes)),
        Shown::Came(sign) => conductor::is_of(*sign, codes),
        Shown::Squeezed(_) | Shown::Exercised(..) | Shown::Regular(..) => false,
    }
}
