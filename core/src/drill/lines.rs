//! The few lines of a log that a drill shows.
//!
//! Shown is whatever is of the story, whatever broke a rule, and the exercise in which that was; preparations and exercises
//! in which nothing was broken and nothing of the story came are folded into one line each, which says that they were by
//! the book. So what is left out changes no ruling.

use super::{Asks, Named, Truth, Weight, story::Told};
use crate::{
    act::{Act, Exercise, Role},
    attempt::{Done, FitTest, Screening},
    draw::{self, Purpose},
    log::{Entry, What},
    ordered,
    rulebook::RuleId,
    run::Run,
    sign::{Seen, Sign},
    state::About,
    units::Ms,
};

/// What a line shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shown {
    /// Everything before was asked, looked at and done as it should be.
    Prepared,
    /// An act or a sign, as it stands in the log.
    Entry(What),
    /// Squeezes in a row, one right after the other.
    Squeezes(u32),
    /// From one exercise to another everything was by the book, and nothing came up.
    ByTheBook(Exercise, Exercise),
    /// Nothing more was said or seen, and the last minute is over.
    Over,
}

/// A line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Line {
    /// When.
    pub at: Ms,
    /// What.
    pub shown: Shown,
}

/// As many lines as a drill may have.
const MOST: usize = 18;

/// The lines of a run; `None` where they would be too many to be read in a few seconds.
pub(super) fn of(run: &Run, truth: &Truth, told: &Told, seed: u64) -> Option<Vec<Line>> {
    let view = View::new(run, truth, told);
    let mut lines = vec![Line { at: Ms::ZERO, shown: Shown::Prepared }];
    let state = run.state();
    match truth.about {
        About::Test(number) => {
            let test = state.tests.get(number)?;
            // Of its screening the threshold noted is enough, unless something was wrong with that.
            let screening = test.screening.and_then(|number| Some((number, state.screenings.get(number)?)));
            let is_wrong = |number: usize| truth.broken.iter().any(|mark| mark.about == About::Screening(number));
            match screening {
                Some((number, screening)) if is_wrong(number) => {
                    view.outside(Ms::ZERO, screening.common.from, &mut lines);
                    view.screening(screening, &mut lines);
                    view.outside(
                        screening.common.closed.unwrap_or(run.now()).plus(Ms(1)),
                        test.common.from,
                        &mut lines,
                    );
                }
                _ => view.outside(Ms::ZERO, test.common.from, &mut lines),
            }
            view.test(test, seed, &mut lines);
        }
        About::Screening(number) => {
            let screening = state.screenings.get(number)?;
            view.outside(Ms::ZERO, screening.common.from, &mut lines);
            view.screening(screening, &mut lines);
        }
        About::Day => view.outside(Ms::ZERO, run.now().plus(Ms(1)), &mut lines),
    }
    (lines.len() <= MOST).then_some(lines)
}

/// What each line weighs that weighs something.
pub(super) fn decides(lines: &[Line], truth: &Truth, run: &Run, told: &Told) -> Vec<(usize, Weight)> {
    let view = View::new(run, truth, told);
    let book = run.scenario().rulebook();
    let mut decides: Vec<(usize, Weight)> = Vec::new();
    // A test that is stopped for the wearer's sake, or failed by a taste, is cut short rightly: what was seen decides, and nothing
    // is held against it.
    let is_cut_short = matches!(truth.accepted.as_slice(), [Named::Stopped, ..] | [Named::Fail]);
    // Exercises that are missing are held against a test only where nothing else ended it.
    let is_follow_up = |rule: RuleId| rule == RuleId::FitAll && truth.broken.len() > 1;
    for mark in truth.broken.iter().filter(|mark| !is_cut_short && !is_follow_up(mark.rule)) {
        // The sign at that very moment; else the last act before it that the rule governs; else the last line.
        let before = lines.partition_point(|line| line.at <= mark.at);
        let at_once = |line: &Line| line.at == mark.at && matches!(line.shown, Shown::Entry(What::Sign(_)));
        let governed = |line: &Line| {
            let governs = |code: &str| book.rule(mark.rule).is_some_and(|rule| rule.governs.contains(&code));
            match line.shown {
                Shown::Entry(What::Act(act)) => governs(act.code().0),
                Shown::Squeezes(_) => governs("squeeze"),
                Shown::Prepared | Shown::ByTheBook(..) | Shown::Over | Shown::Entry(What::Sign(_)) => false,
            }
        };
        let shown = lines.get(..before).unwrap_or_default();
        let place = shown.iter().rposition(at_once).or_else(|| shown.iter().rposition(governed));
        decides.extend(place.or_else(|| before.checked_sub(1)).map(|place| (place, Weight::Broke(mark.rule))));
    }
    // Of a test, the taste of its own screening is none.
    let from = match truth.about {
        About::Test(number) => run.state().tests.get(number).map_or(Ms::ZERO, |test| test.common.from),
        About::Day | About::Screening(_) => Ms::ZERO,
    };
    // A threshold that does not count is decided by what spoilt it, whatever was tasted.
    let is_spoilt = matches!(truth.about, About::Screening(_))
        && !truth.broken.is_empty()
        && truth.accepted.first() == Some(&Named::Invalid);
    let changes_nothing = truth
        .accepted
        .first()
        .is_some_and(|named| matches!(named, Named::Pass | Named::Ten | Named::Twenty | Named::Thirty));
    for (place, line) in lines.iter().enumerate() {
        let Shown::Entry(What::Sign(sign)) = line.shown else { continue };
        let weight = match (is_taste(sign) && line.at >= from, view.is_of_story(sign) && !is_taste(sign)) {
            (true, _) if is_spoilt => continue,
            (true, _) => Weight::Decides,
            (false, true) if changes_nothing => Weight::Harmless,
            (false, true) => Weight::Decides,
            (false, false) => continue,
        };
        decides.push((place, weight));
    }
    let rank = |weight: &Weight| u64::from(!matches!(weight, Weight::Broke(_)));
    ordered::order(&mut decides, |(place, weight)| *place as u64 * 2 + rank(weight));
    decides.dedup_by_key(|(place, _)| *place);
    decides
}

/// Whether a sign tells that the agent is tasted.
const fn is_taste(sign: Sign) -> bool {
    matches!(sign, Sign::Seen(Seen::SignalsTaste | Seen::SaysTaste | Seen::SaysTrace | Seen::SaysTasteLate))
}

#[derive(Clone, Copy)]
struct View<'a> {
    run: &'a Run,
    truth: &'a Truth,
    told: &'a Told,
}

impl<'a> View<'a> {
    const fn new(run: &'a Run, truth: &'a Truth, told: &'a Told) -> Self {
        Self { run, truth, told }
    }

    fn is_of_story(&self, sign: Sign) -> bool {
        self.told.story.events.iter().any(|event| event.kind.entry().shows.contains(&sign.code().0))
    }

    /// Whether a rule was broken within a time; `to` is outside it.
    fn is_broken(&self, from: Ms, to: Ms) -> bool {
        self.truth.broken.iter().any(|mark| mark.at >= from && mark.at < to)
    }

    /// Whether an act is the last one before some broken rule's moment that the rule governs.
    fn is_at_fault(&self, at: Ms, act: Act) -> bool {
        let book = self.run.scenario().rulebook();
        self.truth.broken.iter().filter(|mark| at <= mark.at).any(|mark| {
            let governs = |act: Act| book.rule(mark.rule).is_some_and(|rule| rule.governs.contains(&act.code().0));
            let mut later = self.run.acts().filter(|(when, other)| *when > at && *when <= mark.at && governs(*other));
            governs(act) && later.next().is_none()
        })
    }

    /// What of a time outside attempts, and outside exercises, was not as it should be, or is of the story; and the threshold.
    fn outside(&self, from: Ms, to: Ms, lines: &mut Vec<Line>) {
        for entry in self.run.log().iter().filter(|entry| entry.at >= from && entry.at < to) {
            let shown = match entry.what {
                What::Sign(sign) => self.is_of_story(sign),
                What::Act(Act::NoteThreshold(_)) => self.told.asks == Asks::Result,
                What::Act(Act::Squeeze | Act::Wait(_)) => false,
                What::Act(act) => self.is_at_fault(entry.at, act),
            };
            if shown {
                lines.push(Line { at: entry.at, shown: Shown::Entry(entry.what) });
            }
        }
    }

    fn screening(&self, screening: &Screening, lines: &mut Vec<Line>) {
        let (from, to) = (screening.common.from, screening.common.closed.unwrap_or(self.run.now()));
        let mut row: Option<(Ms, u32)> = None;
        for entry in self.run.log().iter().filter(|entry| entry.at >= from && entry.at <= to) {
            match entry.what {
                What::Act(Act::Squeeze) => row = Some(row.map_or((entry.at, 1), |(at, count)| (at, count + 1))),
                What::Act(Act::Wait(_) | Act::Remind(_)) => {}
                What::Act(_) | What::Sign(_) => {
                    lines.extend(row.take().map(|(at, count)| Line { at, shown: Shown::Squeezes(count) }));
                    lines.push(Line { at: entry.at, shown: Shown::Entry(entry.what) });
                }
            }
        }
        lines.extend(row.map(|(at, count)| Line { at, shown: Shown::Squeezes(count) }));
    }

    fn test(&self, test: &FitTest, seed: u64, lines: &mut Vec<Line>) {
        let now = self.run.now().plus(Ms(1));
        self.stretch(test, test.common.from, test.begun().unwrap_or(now), true, lines);
        let last = test.exercises.len().saturating_sub(1);
        let also = usize::try_from(draw::number(seed, Purpose::DrillShown, 0, 7)).unwrap_or(0);
        let mut folded: Option<(Ms, Exercise, Exercise)> = None;
        for (number, done) in test.exercises.iter().enumerate() {
            let to = test.exercises.get(number + 1).map(|next| next.from).or(done.to).unwrap_or(now);
            let is_drawn = number == also && number != last;
            if done.to.is_some() && !is_drawn && self.is_by_the_book(test, done, to) {
                // Only what follows on one another is folded together: a gap is to be seen.
                let follows = |last: Exercise| done.exercise.place() == last.place().map(|place| place + 1);
                match folded {
                    Some((at, first, last)) if follows(last) => folded = Some((at, first, done.exercise)),
                    before => {
                        lines.extend(before.map(|(at, first, to)| Line { at, shown: Shown::ByTheBook(first, to) }));
                        folded = Some((done.from, done.exercise, done.exercise));
                    }
                }
                continue;
            }
            lines.extend(folded.take().map(|(at, first, to)| Line { at, shown: Shown::ByTheBook(first, to) }));
            self.stretch(test, done.from, to, false, lines);
        }
        lines.extend(folded.map(|(at, first, to)| Line { at, shown: Shown::ByTheBook(first, to) }));
        if let Some(ended) = test.ended() {
            self.outside(ended, now, lines);
            lines.push(Line { at: self.run.now(), shown: Shown::Over });
        }
    }

    /// Whether nothing in an exercise has to be shown.
    fn is_by_the_book(&self, test: &FitTest, done: &Done, to: Ms) -> bool {
        // What was due in its last half minute, or its end, may be found late.
        let late = self.run.scenario().rulebook().numbers.replenish_lost;
        // Whatever was said or seen is told.
        let quiet = !test.common.signs.iter().any(|(at, _)| *at >= done.from && *at < to);
        let acted = test.common.acts.iter().any(|(at, act)| {
            *at > done.from && *at < to && !matches!(act, Act::Begin(_) | Act::End | Act::Wait(_) | Act::Remind(_))
        });
        quiet && !acted && !self.is_broken(done.from, to.plus(late))
    }

    /// Everything from one moment to another: squeezes in rows, what was said and done. Before the first exercise only what
    /// counts.
    fn stretch(&self, test: &FitTest, from: Ms, to: Ms, is_first: bool, lines: &mut Vec<Line>) {
        let gap = self.run.scenario().rulebook().numbers.set_gap;
        // A set belongs to where it begins, also one that runs on into the next exercise: cut in two it would read as short.
        let sets = test.common.squeezes.chunk_by(|one, next| next.at.since(one.at) <= gap);
        let mut found: Vec<Line> = sets
            .filter_map(|set| {
                let at = set.first().map(|squeeze| squeeze.at).filter(|at| *at >= from && *at < to)?;
                Some(Line { at, shown: Shown::Squeezes(u32::try_from(set.len()).ok()?) })
            })
            .collect();
        let is_told = |entry: &&Entry| {
            entry.at >= from
                && entry.at < to
                && match entry.what {
                    What::Sign(sign) => !is_first || self.is_of_story(sign),
                    What::Act(Act::Squeeze | Act::Wait(_) | Act::Remind(_)) => false,
                    What::Act(Act::Begin(_) | Act::HoodOn | Act::Take(Role::Fit | Role::Check)) => true,
                    What::Act(act) => !is_first || self.is_at_fault(entry.at, act),
                }
        };
        found.extend(
            self.run.log().iter().filter(is_told).map(|entry| Line { at: entry.at, shown: Shown::Entry(entry.what) }),
        );
        ordered::order(&mut found, |line| line.at.0.into());
        lines.extend(found);
    }
}
