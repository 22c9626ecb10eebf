//! Compares what was done with the rulebook, rule by rule.
//!
//! A pure function of the scenario's visible facts and the log. It looks at no threshold and no fit factor: a run is judged
//! by what was done and shown, so an old log can be judged again by today's rules.

pub(crate) mod again;
mod briefing;
mod eligibility;
mod facepiece;
mod result;
mod running;
mod screening;
mod solutions;
mod watching;

use crate::{
    act::{Act, Slot, Verdict},
    attempt::{Common, Donning, FitTest, Screening},
    facepiece::Facepiece,
    log::{Entry, What},
    rulebook::{Rule, RuleId, Rulebook},
    scenario::Scenario,
    sign::{Seen, Sign},
    source::{Gravity, Push, Skill},
    state::{About, State},
    units::Ms,
};

/// A rule that came up, and whether it was kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mark {
    /// When it was kept or broken.
    pub at: Ms,
    /// Which rule.
    pub rule: RuleId,
    /// In which attempt.
    pub about: About,
    /// Whether it was kept.
    pub kept: bool,
}

/// What is judged.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Case<'a> {
    pub(crate) scenario: &'a Scenario,
    pub(crate) book: &'a Rulebook,
    pub(crate) log: &'a [Entry],
    pub(crate) state: &'a State,
}

impl<'a> Case<'a> {
    /// When the first screening began.
    fn screening_from(&self) -> Option<Ms> {
        self.screenings().next().map(|(_, screening)| screening.common.from)
    }

    /// When the first fit test began.
    fn test_from(&self) -> Option<Ms> {
        self.tests().next().map(|(_, test)| test.common.from)
    }

    /// When the hood, or a spray, first came near the wearer.
    fn hood_from(&self) -> Option<Ms> {
        self.screening_from().into_iter().chain(self.test_from()).min()
    }

    /// Screenings in which something was sprayed or noted, or that came to a result of their own.
    fn screenings(&self) -> impl Iterator<Item = (About, &'a Screening)> + use<'a> {
        self.state
            .screenings
            .iter()
            .enumerate()
            .filter(|(_, screening)| {
                !screening.common.squeezes.is_empty() || !screening.noted.is_empty() || is_judged(&screening.common)
            })
            .map(|(number, screening)| (About::Screening(number), screening))
    }

    /// Fit tests in which something was sprayed or an exercise begun, or that came to a result of their own.
    fn tests(&self) -> impl Iterator<Item = (About, &'a FitTest)> + use<'a> {
        self.state
            .tests
            .iter()
            .enumerate()
            .filter(|(_, test)| {
                !test.common.squeezes.is_empty() || !test.exercises.is_empty() || is_judged(&test.common)
            })
            .map(|(number, test)| (About::Test(number), test))
    }

    /// Every screening and test, also one in which nothing was done yet.
    fn attempts(&self) -> impl Iterator<Item = (About, &'a Common)> + use<'a> {
        let screenings = self.state.screenings.iter().map(|screening| &screening.common).enumerate();
        let tests = self.state.tests.iter().map(|test| &test.common).enumerate();
        screenings
            .map(|(number, common)| (About::Screening(number), common))
            .chain(tests.map(|(number, common)| (About::Test(number), common)))
    }

    fn donning(&self, test: &FitTest) -> Option<&'a Donning> {
        self.state.donnings.get(test.donning?)
    }

    pub(crate) fn tested(&self, test: &FitTest) -> Option<&'a Facepiece> {
        self.scenario.facepiece(self.donning(test)?.slot)
    }

    /// Every act with its time.
    fn acts(&self) -> impl Iterator<Item = (Ms, Act)> + use<'a> {
        acts(self.log)
    }

    /// What was done while the facepiece of this place was the one at hand.
    fn done_with(&self, slot: Slot) -> Vec<(Ms, Act)> {
        let mut in_hand = None;
        let mut done = Vec::new();
        for (at, act) in self.acts() {
            if let Act::HandOver(handed) = act {
                in_hand = Some(handed);
            }
            if in_hand == Some(slot) {
                done.push((at, act));
            }
        }
        done
    }

    /// The last spray before a moment.
    fn sprayed_before(&self, moment: Ms) -> Option<Ms> {
        let sprays = self.attempts().flat_map(|(_, common)| &common.squeezes).map(|squeeze| squeeze.at);
        sprays.filter(|at| *at < moment).max()
    }

    /// Every act done at `from` or later, with its time.
    fn acts_from(&self, from: Ms) -> impl Iterator<Item = (Ms, Act)> + use<'a> {
        let earlier = self.log.partition_point(|entry| entry.at < from);
        acts(self.log.get(earlier..).unwrap_or_default())
    }

    /// When an act like this was done first, at `from` or later.
    fn acted_from(&self, from: Ms, like: impl Fn(Act) -> bool) -> Option<Ms> {
        self.acts_from(from).find(|(_, act)| like(*act)).map(|(at, _)| at)
    }

    /// When an act like this was done first after a sign was shown: the one that it answers comes before it.
    fn acted_after(&self, at: Ms, seen: Seen, like: impl Fn(Act) -> bool) -> Option<Ms> {
        let from = self.log.partition_point(|entry| entry.at < at);
        let mut later = self.log.get(from..).unwrap_or_default().iter();
        later.find(|entry| entry.what == What::Sign(Sign::Seen(seen)))?;
        acts(later.as_slice()).find(|(_, act)| like(*act)).map(|(at, _)| at)
    }
}

fn acts(log: &[Entry]) -> impl Iterator<Item = (Ms, Act)> {
    log.iter().filter_map(|entry| match entry.what {
        What::Act(act) => Some((entry.at, act)),
        What::Sign(_) => None,
    })
}

/// Whether a result that speaks of a screening or a test was given on it.
fn is_judged(common: &Common) -> bool {
    common.verdict.is_some_and(|(_, verdict)| verdict.is_of_an_attempt())
}

/// The marks made so far. What was broken is asked about again and again, and is little: it lies apart.
#[derive(Debug, Default)]
pub(crate) struct Docket {
    kept: Vec<Mark>,
    broken: Vec<Mark>,
}

impl Docket {
    /// A docket to ask what was broken in these marks.
    pub(crate) fn of(marks: &[Mark]) -> Self {
        Self { broken: marks.iter().filter(|mark| !mark.kept).copied().collect(), ..Self::default() }
    }

    /// The rule came up, and was kept or not.
    fn mark(&mut self, rule: RuleId, at: Ms, about: About, kept: bool) {
        let list = if kept { &mut self.kept } else { &mut self.broken };
        list.push(Mark { at, rule, about, kept });
    }

    fn kept(&mut self, rule: RuleId, at: Ms, about: About) {
        self.mark(rule, at, about, true);
    }

    fn broke(&mut self, rule: RuleId, at: Ms, about: About) {
        self.mark(rule, at, about, false);
    }

    /// Something had to be done before a moment. If that moment never came, doing it counts and leaving it does not.
    fn before(&mut self, rule: RuleId, done: Option<Ms>, deadline: Option<Ms>, about: About) {
        match (done, deadline) {
            (Some(at), Some(deadline)) => {
                self.mark(rule, if at <= deadline { at } else { deadline }, about, at <= deadline);
            }
            (Some(at), None) => self.kept(rule, at, about),
            (None, Some(deadline)) => self.broke(rule, deadline, about),
            (None, None) => {}
        }
    }

    fn has_broken(&self, rule: RuleId, about: About) -> bool {
        self.broken.iter().any(|mark| mark.rule == rule && mark.about == about)
    }

    /// Whether a rule whose breach spoils the result was broken in this attempt.
    pub(crate) fn is_spoilt(&self, book: &Rulebook, about: About) -> bool {
        // A wrong call on an attempt spoils that call, not what was done in it; and what is not begun yet spoils nothing: where
        // it was passed over, that is a gap.
        let spoils = |rule: &Rule| rule.gravity.is_top() && rule.skill != Skill::Result && rule.id != RuleId::FitAll;
        self.first_broken(about, |rule| book.rule(rule).is_some_and(spoils)).is_some()
    }

    /// Whether something off the procedure made a false pass of this attempt likelier before a moment.
    pub(crate) fn is_weakened(&self, book: &Rulebook, about: About, before: Ms) -> bool {
        let weakens = |rule: &Rule| rule.gravity == Gravity::Departure && rule.push == Push::FalsePass;
        self.broken
            .iter()
            .filter(|mark| mark.about == about && mark.at < before)
            .any(|mark| book.rule(mark.rule).is_some_and(weakens))
    }

    fn first_broken(&self, about: About, like: impl Fn(RuleId) -> bool) -> Option<RuleId> {
        self.broken.iter().filter(|mark| mark.about == about && like(mark.rule)).min().map(|mark| mark.rule)
    }
}

/// What could be seen by whoever runs the test: for [`crate::guide`], which starts over where the judge would.
#[derive(Debug)]
pub(crate) struct AsSeen<'a> {
    case: Case<'a>,
    docket: Docket,
}

impl<'a> AsSeen<'a> {
    /// Judges screening and running, which takes no hidden fact and no log.
    pub(crate) fn of(scenario: &'a Scenario, book: &'a Rulebook, state: &'a State) -> Self {
        let case = Case { scenario, book, log: &[], state };
        let mut docket = Docket::default();
        screening::judge(&case, &mut docket);
        running::judge(&case, &mut docket);
        Self { case, docket }
    }

    /// What has spoilt an attempt, or the screening it rests on, and where it was broken.
    pub(crate) fn spoilt(&self, about: About) -> Option<(RuleId, About)> {
        let Case { book, state, .. } = self.case;
        let number = if let About::Test(number) = about { Some(number) } else { None };
        let test = number.and_then(|number| state.tests.get(number));
        let rests_on = test.and_then(|test| test.screening).map(About::Screening);
        let spoils = |rule: RuleId| book.rule(rule).is_some_and(|rule| rule.gravity.is_top());
        rests_on
            .into_iter()
            .chain([about])
            .find_map(|about| Some((self.docket.first_broken(about, spoils)?, about)))
            .or_else(|| Some((again::breach(&self.case, &self.docket, number?)?, about)))
    }

    /// Whether a rule was broken, in whichever attempt.
    pub(crate) fn was_broken(&self, rule: RuleId) -> bool {
        self.docket.broken.iter().any(|mark| mark.rule == rule)
    }

    /// Whether a facepiece failed, leaked, was faulty, or was not acceptable.
    pub(crate) fn is_given_up(&self, slot: Slot) -> bool {
        again::is_given_up(&self.case, &self.docket, slot, Ms(u32::MAX))
    }
}

/// Every rule that came up, in order of time.
#[must_use]
pub fn judge(scenario: &Scenario, log: &[Entry]) -> Vec<Mark> {
    let state = State::of(scenario.agent, log);
    let book = scenario.rulebook();
    marks(&Case { scenario, book: &book, log, state: &state })
}

/// The last call on each attempt, and those on the day: when, what, on which attempt.
pub(crate) fn calls(case: &Case<'_>) -> Vec<(Ms, Verdict, About)> {
    watching::calls(case).into_iter().map(|call| (call.at, call.verdict, call.about)).collect()
}

pub(crate) fn marks(case: &Case<'_>) -> Vec<Mark> {
    let mut docket = Docket::default();
    solutions::judge(case, &mut docket);
    briefing::judge(case, &mut docket);
    screening::judge(case, &mut docket);
    running::judge(case, &mut docket);
    facepiece::judge(case, &mut docket);
    eligibility::judge(case, &mut docket);
    // What a result should have been depends on what was broken, so these come last.
    watching::judge(case, &mut docket);
    result::judge(case, &mut docket);
    again::judge(case, &mut docket);
    let Docket { kept: mut marks, broken } = docket;
    marks.extend(broken);
    marks.retain(|mark| case.book.rule(mark.rule).is_some());
    marks.sort_unstable();
    marks
}
