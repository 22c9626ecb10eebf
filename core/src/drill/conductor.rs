//! Whoever makes the run of a drill: by the book, apart from the story's slip and from what they overlook.
//!
//! They believe what they meant to do to be done, so the guide goes on as somebody would who thought so. They stop where
//! a result, or a threshold, is to be named, and name none.

use super::{
    Asks,
    story::{Slip, Told},
};
use crate::{
    act::{Act, Aim, Exercise, Manner, Role, Threshold},
    guide::{self, Step},
    log::{Entry, What},
    rulebook::RuleId,
    run::Run,
    scenario::Scenario,
    sign::Seen,
    state::State,
    units::Ms,
};
use std::rc::Rc;

/// How far apart two acts are; squeezes are quicker, and hasty ones quicker than the bulb fills.
const BEAT: Ms = Ms(1_200);
const SQUEEZE: Ms = Ms(700);
const HASTY: Ms = Ms(250);

/// How long into an exercise somebody asks or straightens something.
const MIDWAY: Ms = Ms::secs(22);

/// More steps than any such run has.
const MOST_STEPS: usize = 400;

/// The run of a story up to where something is to be named; `None` where the conductor wants to do what cannot be done.
pub(super) fn run(scenario: &Rc<Scenario>, told: &Told) -> Option<Run> {
    let believed = State::new(scenario.agent);
    let mut conductor = Conductor { run: Run::new(Rc::clone(scenario)), told, believed, slipped: false };
    for _ in 0..MOST_STEPS {
        let step = guide::next(scenario, &conductor.believed, conductor.run.now())?;
        if conductor.is_to_be_named(step) {
            return Some(conductor.run);
        }
        conductor.take(step)?;
    }
    None
}

/// Whether with this act something is named: a result, a threshold, or that it is begun anew.
pub(super) fn names(act: Act) -> bool {
    matches!(act, Act::Stop | Act::Give(_) | Act::Next(_) | Act::NoteThreshold(Threshold::NotTasted))
}

/// Whether a rule is kept by ending what goes on for the wearer's sake.
const fn is_of_distress(rule: RuleId) -> bool {
    matches!(rule, RuleId::DistressEmergency | RuleId::DistressBreathing | RuleId::DistressWish | RuleId::DistressAlarm)
}

struct Conductor<'a> {
    run: Run,
    told: &'a Told,
    /// What the conductor takes to be so.
    believed: State,
    /// Whether the slip was made, where it is made once.
    slipped: bool,
}

impl Conductor<'_> {
    fn is_to_be_named(&self, step: Step) -> bool {
        let threshold = self.told.asks == Asks::Threshold && matches!(step.act, Act::NoteThreshold(_));
        let asked = self.told.asks_on() && matches!(step.act, Act::CheckNebulizer(_));
        names(step.act) || is_of_distress(step.rule) || threshold || asked
    }

    /// Takes in what the log has grown by. Acts that were not meant as they were done are no part of the belief.
    fn hear(&mut self, known: usize, meant: bool) {
        let mut hood_back = false;
        for entry in self.run.log().get(known..).unwrap_or_default() {
            match entry.what {
                What::Act(_) if !meant => {}
                What::Sign(sign) if self.told.overlooks(sign.code().0) => {
                    hood_back |= sign.is(Seen::LiftsHood) || sign.is(Seen::TakesHoodOff);
                }
                What::Act(_) | What::Sign(_) => self.believed.apply(*entry),
            }
        }
        if hood_back {
            // Somebody puts it back, and nothing is made of it.
            let at = self.run.now().plus(BEAT);
            let _ = self.run.apply(Act::HoodOn, at);
        }
    }

    /// Lets time pass. Whether nothing came between.
    fn wait(&mut self, until: Ms) -> bool {
        let known = self.run.log().len();
        self.run.wait(until);
        self.hear(known, true);
        self.run.log().len() == known
    }

    fn act(&mut self, act: Act, at: Ms, meant: bool) -> Option<()> {
        let known = self.run.log().len();
        self.run.apply(act, at.max(self.run.now())).ok()?;
        self.hear(known, meant);
        Some(())
    }

    /// Does one act in the belief of doing another.
    fn mistake(&mut self, meant: Act, done: Act, at: Ms) -> Option<()> {
        self.act(done, at, false)?;
        self.believe(meant);
        Some(())
    }

    fn believe(&mut self, act: Act) {
        self.believed.apply(Entry::act(self.run.now(), act));
    }

    /// Does the next step of the book when it is due, or the story's slip, or neither where something comes before.
    fn take(&mut self, step: Step) -> Option<()> {
        let beat = if step.act == Act::Squeeze { SQUEEZE } else { BEAT };
        let due = self.run.now().plus(beat).max(step.not_before.unwrap_or(Ms::ZERO));
        match self.slip(step, due) {
            Some(done) => done,
            None if self.wait(due) => self.act(step.act, due, true),
            None => Some(()),
        }
    }

    /// What the story has done here instead of the step; `None` where it has nothing else.
    fn slip(&mut self, step: Step, due: Ms) -> Option<Option<()>> {
        match self.told.story.slip {
            Slip::None => None,
            Slip::Set { halves, late_s } => self.set_number(step).filter(|number| *number == self.told.set).map(|_| {
                let late = self.told.seconds(late_s);
                self.set(due, halves, late)
            }),
            Slip::HalfSets => self.set_number(step).map(|_| self.set(due, 1, Ms::ZERO)),
            Slip::FewInitial => {
                let given = self.run.state().test().map_or(0, |test| test.common.squeezes.len());
                let ten = usize::try_from(self.run.scenario().rulebook().numbers.set).ok()?;
                (step.rule == RuleId::FitInitial && given >= ten).then(|| {
                    self.believe(Act::Squeeze);
                    Some(())
                })
            }
            Slip::Length(from, to) => self.length(step, due, self.told.seconds((from, to))),
            Slip::Skip => {
                let other = after(self.told.exercise)?;
                (step.act == Act::Begin(self.told.exercise))
                    .then(|| self.mistake_when(due, step.act, Act::Begin(other)))
            }
            Slip::Swap => {
                let (one, other) = (self.told.exercise, after(self.told.exercise)?);
                let done = if step.act == Act::Begin(one) { other } else { one };
                [one, other].contains(&begun(step.act)?).then(|| self.mistake_when(due, step.act, Act::Begin(done)))
            }
            Slip::OtherNebulizer => {
                let (meant, taken) = match self.told.asks {
                    Asks::Result => (Role::Fit, Role::Check),
                    Asks::Threshold => (Role::Check, Role::Fit),
                };
                (step.act == Act::Take(meant)).then(|| self.mistake(step.act, Act::Take(taken), due))
            }
            Slip::Leads => self.midway(due, Act::Ask(Manner::TowardsNo)),
            Slip::Straps => self.midway(due, Act::FixStraps),
            Slip::NotesLess => (step.act == Act::NoteThreshold(Threshold::Twenty)).then(|| self.notes_less(due)),
            Slip::Nozzle => {
                (step.act == Act::Aim(Aim::Away)).then(|| self.mistake(step.act, Act::Aim(Aim::AtMouth), due))
            }
            Slip::Twelve => (matches!(step.act, Act::Ask(_)) && !self.slipped).then(|| self.two_more()),
            Slip::Hasty => (step.rule == RuleId::ScreenCount && step.act == Act::Squeeze).then(|| self.hasty()),
        }
    }

    fn mistake_when(&mut self, due: Ms, meant: Act, done: Act) -> Option<()> {
        if self.wait(due) { self.mistake(meant, done, due) } else { Some(()) }
    }

    /// Which replenishment a step belongs to, from 1.
    fn set_number(&self, step: Step) -> Option<u32> {
        let due = step.not_before.filter(|_| step.rule == RuleId::FitHalf)?;
        let begun = self.believed.test()?.begun()?;
        due.since(begun).0.checked_div(self.run.scenario().rulebook().numbers.replenish_every.0)
    }

    /// Gives so many halves of a replenishment, so late, and takes it for given as it should be.
    fn set(&mut self, due: Ms, halves: u32, late: Ms) -> Option<()> {
        if !self.wait(due) {
            return Some(());
        }
        let book = self.run.scenario().rulebook();
        let whole = self.run.state().screenings.last()?.threshold().and_then(|noted| book.replenishment(noted))?;
        for _ in 0..whole {
            self.believe(Act::Squeeze);
        }
        let mut at = due.plus(late);
        for _ in 0..whole * halves / 2 {
            self.act(Act::Squeeze, at, false)?;
            at = self.run.now().plus(SQUEEZE);
        }
        Some(())
    }

    /// Ends the exercise after so long, and takes it for a minute.
    fn length(&mut self, step: Step, due: Ms, length: Ms) -> Option<Option<()>> {
        let done = *self.believed.test()?.going_on().filter(|done| done.exercise == self.told.exercise)?;
        let end = done.from.plus(length);
        let begins = Act::Begin(after(done.exercise)?);
        let cut = length < self.run.scenario().rulebook().numbers.exercise;
        if (cut && due >= end) || (!cut && step.act == begins) {
            if self.wait(end) {
                let ended = self.act(begins, end, true);
                self.take_for_a_minute(done.exercise);
                return Some(ended);
            }
            return Some(Some(()));
        }
        None
    }

    fn take_for_a_minute(&mut self, exercise: Exercise) {
        let minute = self.run.scenario().rulebook().numbers.exercise;
        let goes = self.believed.tests.last_mut().map(|test| &mut test.exercises);
        if let Some(done) = goes.and_then(|goes| goes.iter_mut().find(|done| done.exercise == exercise)) {
            done.from = done.to.unwrap_or(done.from).since(minute);
        }
    }

    /// Does something once, in the middle of the exercise, and thinks nothing of it.
    fn midway(&mut self, due: Ms, act: Act) -> Option<Option<()>> {
        let done = self.believed.test()?.going_on().filter(|done| done.exercise == self.told.exercise)?;
        let at = done.from.plus(MIDWAY);
        if self.slipped || due < at {
            return None;
        }
        if !self.wait(at) {
            return Some(Some(()));
        }
        self.slipped = true;
        Some(self.act(act, at, false))
    }

    /// Notes ten, as if the taste had come within them.
    fn notes_less(&mut self, due: Ms) -> Option<()> {
        self.act(Act::NoteThreshold(Threshold::Ten), due, true)?;
        let ten = usize::try_from(self.run.scenario().rulebook().numbers.set).ok()?;
        if let Some(screening) = self.believed.screenings.last_mut() {
            screening.common.squeezes.truncate(ten);
        }
        Some(())
    }

    /// Two squeezes more than are due before the question, in the same beat.
    fn two_more(&mut self) -> Option<()> {
        self.slipped = true;
        self.act(Act::Squeeze, self.run.now().plus(SQUEEZE), false)?;
        self.act(Act::Squeeze, self.run.now().plus(SQUEEZE), false)
    }

    /// The third and the fourth press of each set come too soon.
    fn hasty(&mut self) -> Option<()> {
        let given = self.believed.screening().map_or(0, |screening| screening.common.squeezes.len());
        let beat = if matches!(given % 10, 3 | 4) { HASTY } else { SQUEEZE };
        let at = self.run.now().plus(beat);
        if self.wait(at) { self.act(Act::Squeeze, at, true) } else { Some(()) }
    }
}

/// The exercise that an act begins.
const fn begun(act: Act) -> Option<Exercise> {
    if let Act::Begin(exercise) = act { Some(exercise) } else { None }
}

/// The exercise that follows.
fn after(exercise: Exercise) -> Option<Exercise> {
    Exercise::SEVEN.get(exercise.place()? + 1).copied()
}
