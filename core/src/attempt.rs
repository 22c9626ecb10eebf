//! What happened in one screening or one fit test, as far as could be seen.

use crate::{
    act::{Act, Aim, Exercise, Manner, NextStep, Role, Slot, Threshold, Verdict},
    rulebook::Rulebook,
    sign::Seen,
    units::Ms,
};

/// One press of the bulb.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Squeeze {
    /// When.
    pub at: Ms,
    /// Of which nebulizer.
    pub role: Role,
    /// Whether the bulb had filled again before.
    pub full: bool,
    /// Whether anything came out, as far as could be seen.
    pub sprayed: bool,
    /// Where the nozzle pointed.
    pub aim: Aim,
    /// Whether the hood was on.
    pub hood: bool,
    /// Whether a facepiece was on.
    pub masked: bool,
}

impl Squeeze {
    /// Whether it counts as a whole squeeze.
    #[must_use]
    pub const fn counts(self) -> bool {
        self.full && self.sprayed
    }
}

/// One question about the taste.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Question {
    /// When.
    pub at: Ms,
    /// How it was put.
    pub manner: Manner,
    /// Squeezes given in this attempt before it.
    pub after: usize,
}

/// What both kinds of attempt have in common.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Common {
    /// When it began.
    pub from: Ms,
    /// When it was closed by a result, a new start or the end.
    pub closed: Option<Ms>,
    /// Every press of the bulb.
    pub squeezes: Vec<Squeeze>,
    /// Every question about the taste.
    pub questions: Vec<Question>,
    /// What was shown meanwhile.
    pub signs: Vec<(Ms, Seen)>,
    /// What was done meanwhile, squeezes apart.
    pub acts: Vec<(Ms, Act)>,
    /// The result given on it.
    pub verdict: Option<(Ms, Verdict)>,
    /// What was decided next.
    pub next: Option<(Ms, NextStep)>,
}

impl Common {
    /// The result given on it or, where the conductor went straight to what follows one, what that implies.
    #[must_use]
    pub fn call(&self) -> Option<(Ms, Verdict)> {
        let implied = self.next.and_then(|(at, step)| {
            let verdict = if step == NextStep::Cleared { Verdict::Pass } else { Verdict::Invalid };
            (step == NextStep::Cleared || step.is_again()).then_some((at, verdict))
        });
        self.verdict.or(implied)
    }

    /// When it was passed, in so many words or by clearing the wearer.
    #[must_use]
    pub fn passed(&self) -> Option<Ms> {
        self.call().filter(|(_, verdict)| *verdict == Verdict::Pass).map(|(at, _)| at)
    }

    /// Whether it is still going on.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.closed.is_none()
    }

    /// When `seen` was shown first.
    #[must_use]
    pub fn shown(&self, seen: Seen) -> Option<Ms> {
        self.signs.iter().find(|(_, sign)| *sign == seen).map(|(at, _)| *at)
    }

    /// When one of `seen` was shown first.
    #[must_use]
    pub fn shown_any(&self, seen: &[Seen]) -> Option<Ms> {
        self.signs.iter().find(|(_, sign)| seen.contains(sign)).map(|(at, _)| *at)
    }

    /// When one of `seen` was shown last.
    #[must_use]
    pub fn shown_last(&self, seen: &[Seen]) -> Option<Ms> {
        self.signs.iter().rev().find(|(_, sign)| seen.contains(sign)).map(|(at, _)| *at)
    }

    /// When a look at the nebulizer of the fit test, or a test spray of it, first showed at `from` or later that it does not
    /// spray as it should.
    #[must_use]
    pub fn found_clogged(&self, from: Ms) -> Option<Ms> {
        let looks = |at: Ms| {
            let look = |act: Act| matches!(act, Act::CheckNebulizer(Role::Fit) | Act::TestSpray(Role::Fit));
            self.acts.iter().any(|(when, act)| *when == at && look(*act))
        };
        let bad = |seen: Seen| matches!(seen, Seen::NebulizerTipCrusted | Seen::SpraysNothing);
        self.signs.iter().find(|(at, seen)| *at >= from && bad(*seen) && looks(*at)).map(|(at, _)| *at)
    }

    /// When an act like this was done first, at `from` or later.
    #[must_use]
    pub fn acted(&self, from: Ms, like: impl Fn(Act) -> bool) -> Option<Ms> {
        self.acts.iter().find(|(at, act)| *at >= from && like(*act)).map(|(at, _)| *at)
    }
}

/// One taste screening.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Screening {
    /// What it shares with a test.
    pub common: Common,
    /// Every threshold noted.
    pub noted: Vec<(Ms, Threshold)>,
}

impl Screening {
    /// The threshold that stands: the last noted.
    #[must_use]
    pub fn threshold(&self) -> Option<Threshold> {
        self.noted.last().map(|(_, threshold)| *threshold)
    }

    /// The threshold that stood at a moment: what was noted later helps no test that had begun before.
    #[must_use]
    pub fn threshold_at(&self, moment: Ms) -> Option<Threshold> {
        self.noted.iter().rev().find(|(at, _)| *at <= moment).map(|(_, threshold)| *threshold)
    }

    /// Whether a threshold was noted and nothing sprayed to find it: then there was no screening.
    #[must_use]
    pub fn is_only_noted(&self) -> bool {
        self.common.squeezes.is_empty() && self.noted.first().is_some_and(|(at, _)| *at == self.common.from)
    }

    /// How many squeezes had been given when the agent was first reported; `None` if it was not.
    #[must_use]
    pub fn tasted_after(&self) -> Option<usize> {
        let at = self.common.shown_any(&[Seen::SignalsTaste, Seen::SaysTaste, Seen::SaysTrace])?;
        Some(self.common.squeezes.iter().filter(|squeeze| squeeze.at <= at).count())
    }

    /// The squeezes given since the question before, up to the one after which the agent was first reported; none if it was not.
    #[must_use]
    pub fn tasted_set(&self) -> &[Squeeze] {
        let after = self.tasted_after().unwrap_or(0);
        let asked = self.common.questions.iter().rev().map(|question| question.after).find(|asked| *asked < after);
        self.common.squeezes.get(asked.unwrap_or(0)..after).unwrap_or_default()
    }

    /// The threshold that was shown, whatever was noted; `None` where nothing was tasted.
    #[must_use]
    pub fn class(&self, book: &Rulebook) -> Option<Threshold> {
        let count = u32::try_from(self.tasted_after()?.max(1)).ok()?;
        Some(book.class_at(count))
    }
}

/// One exercise as it was done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Done {
    /// Which.
    pub exercise: Exercise,
    /// When it began.
    pub from: Ms,
    /// When it ended; `None` while it goes on.
    pub to: Option<Ms>,
}

impl Done {
    /// How long it went on, up to `now` if it has not ended.
    #[must_use]
    pub const fn length(&self, now: Ms) -> Ms {
        match self.to {
            Some(to) => to.since(self.from),
            None => now.since(self.from),
        }
    }
}

/// One fit test.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FitTest {
    /// What it shares with a screening.
    pub common: Common,
    /// Which donning was tested; an index into the state's donnings.
    pub donning: Option<usize>,
    /// Which screening it was counted from; an index into the state's screenings.
    pub screening: Option<usize>,
    /// The exercises in the order done.
    pub exercises: Vec<Done>,
    /// When the hood came off after the first exercise had begun.
    pub hood_off: Option<Ms>,
    /// Whether the hood was on when it began.
    pub hooded: bool,
    /// When exercises went on after that.
    pub resumed: Option<Ms>,
}

impl FitTest {
    /// When the first exercise began.
    #[must_use]
    pub fn begun(&self) -> Option<Ms> {
        self.exercises.first().map(|done| done.from)
    }

    /// Whether each of the seven exercises was begun, jogging standing for bending.
    #[must_use]
    pub fn has_all_seven(&self) -> bool {
        Exercise::SEVEN
            .iter()
            .all(|one| self.exercises.iter().any(|done| done.exercise.as_one_of_seven() == Some(*one)))
    }

    /// When an exercise was begun before which another is still left out. One that only the end of the test is missing is
    /// not left out yet.
    #[must_use]
    pub fn gap(&self) -> Option<Ms> {
        let seven: Vec<(usize, Ms)> =
            self.exercises.iter().filter_map(|done| Some((done.exercise.place()?, done.from))).collect();
        let left_out = (0..Exercise::SEVEN.len()).find(|place| seven.iter().all(|(done, _)| done != place))?;
        seven.into_iter().find(|(place, _)| *place > left_out).map(|(_, at)| at)
    }

    /// Whether the last of the seven was begun: what comes after the exercises is due only then.
    #[must_use]
    pub fn reached_the_last(&self) -> bool {
        self.exercises.iter().any(|done| done.exercise == Exercise::NormalAgain)
    }

    /// When the last exercise ended; `None` before, or while one goes on.
    #[must_use]
    pub fn ended(&self) -> Option<Ms> {
        self.exercises.last().and_then(|done| done.to)
    }

    /// The exercise going on.
    #[must_use]
    pub fn going_on(&self) -> Option<&Done> {
        self.exercises.last().filter(|done| done.to.is_none())
    }

    /// When the agent was first reported, in whatever way.
    #[must_use]
    pub fn taste(&self) -> Option<Ms> {
        self.common.shown_any(&[Seen::SignalsTaste, Seen::SaysTaste, Seen::SaysTrace, Seen::SaysTasteLate])
    }
}

/// One time a facepiece was put on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Donning {
    /// From which place of the rack.
    pub slot: Slot,
    /// When.
    pub at: Ms,
    /// Whether a helper did it.
    pub helped: bool,
    /// When it came off.
    pub off: Option<Ms>,
    /// When it was seated.
    pub seated: Option<Ms>,
    /// User seal checks, in order.
    pub seal_checks: Vec<SealCheck>,
    /// A fault seen in how it sits.
    pub fault: Option<(Ms, Seen)>,
    /// When that was put right.
    pub fixed: Option<Ms>,
    /// When the fit was gone through.
    pub adequacy: Option<Ms>,
    /// When comfort was gone through first, and whether it was acceptable.
    pub comfort: Option<(Ms, bool)>,
    /// When comfort was gone through last, and whether it was acceptable.
    pub comfort_last: Option<(Ms, bool)>,
    /// When the gear of work was put on with it.
    pub gear: Option<Ms>,
}

impl Donning {
    /// The last user seal check.
    #[must_use]
    pub fn seal_check(&self) -> Option<SealCheck> {
        self.seal_checks.last().copied()
    }
}

/// One user seal check.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SealCheck {
    /// When.
    pub at: Ms,
    /// Whether it was done by a method of App. B-1.
    pub full_method: bool,
    /// Whether it held.
    pub holds: bool,
    /// Whether the facepiece had been seated before.
    pub seated: bool,
}
