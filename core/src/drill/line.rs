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

/// The lines of a stretch of the log, `to` its end; squeezes further apart than `gap` are two sets.
pub(super) fn lines(log: &[Entry], to: Ms, gap: Ms) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    // The exercise going on, by its line, and the set going on.
    let mut exercise: Option<usize> = None;
    let mut set: Option<Set> = None;
    let close = |lines: &mut Vec<Line>, exercise: Option<usize>, set: &mut Option<Set>| {
        let Some(set) = set.take() else { return };
        match exercise.and_then(|place| lines.get_mut(place)).map(|line| &mut line.what) {
            Some(Shown::Exercised(.., sets)) => sets.push(set),
            _ => lines.push(Line { at: set.at, what: Shown::Squeezed(set) }),
        }
    };
    let end = |lines: &mut Vec<Line>, exercise: &mut Option<usize>, at: Ms| {
        if let Some(Shown::Exercised(_, to, _)) =
            exercise.take().and_then(|place| lines.get_mut(place)).map(|line| &mut line.what)
        {
            *to = at;
        }
    };
    for entry in log {
        let at = entry.at;
        match entry.what {
            What::Act(Act::Squeeze) => {
                if set.is_some_and(|set| at.since(set.to) > gap) {
                    close(&mut lines, exercise, &mut set);
                }
                let set = set.get_or_insert(Set { at, to: at, pressed: 0, whole: 0 });
                *set = Set { to: at, pressed: set.pressed + 1, whole: set.whole + 1, ..*set };
            }
            What::Act(Act::Wait(_)) => {}
            What::Act(act) => {
                close(&mut lines, exercise, &mut set);
                if matches!(act, Act::Begin(_) | Act::End | Act::HoodOff) {
                    end(&mut lines, &mut exercise, at);
                }
                if let Act::Begin(begun) = act {
                    exercise = Some(lines.len());
                    lines.push(Line { at, what: Shown::Exercised(begun, to, Vec::new()) });
                } else if act != Act::End {
                    lines.push(Line { at, what: Shown::Did(act, Vec::new()) });
                }
            }
            What::Sign(sign) => match (sign, &mut set, lines.last_mut()) {
                (Sign::Seen(Seen::SpraysShort | Seen::SpraysNothing), Some(set), _) if set.to == at => set.whole -= 1,
                (_, _, Some(Line { at: done, what: Shown::Did(_, signs) })) if *done == at => signs.push(sign),
                _ => {
                    close(&mut lines, exercise, &mut set);
                    if sign.is(Seen::TakesHoodOff) || sign.is(Seen::LiftsHood) {
                        end(&mut lines, &mut exercise, at);
                    }
                    lines.push(Line { at, what: Shown::Came(sign) });
                }
            },
        }
    }
    close(&mut lines, exercise, &mut set);
    lines
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
