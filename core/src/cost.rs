//! What a run's fit tests cost: poor fits missed and good fits failed, as ranges over both sets of parameters, and each
//! departure's own share.
//!
//! For the review only: such a figure stands on no record, in no assessment, and in nothing that leaves the page. It is about
//! invented crowds and predicts nobody's fit.

use crate::{
    act::Verdict,
    attempt::FitTest,
    course::Course,
    departure::{Beside, Departure},
    facepiece::Condition,
    model::{Parameters, Set},
    review::Review,
    risk::{self, Tested},
    rulebook::{Agent, RuleId, Rulebook},
    run::Run,
    source::{Gravity, Skill},
    state::{About, State},
    units::Ms,
};

/// Two chances nearer to each other than this, in both sets, are told apart by nobody: one in a hundred.
pub const APART: f64 = 0.01;

/// From the lesser to the greater of what the two sets say.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Range {
    /// The lesser.
    pub low: f64,
    /// The greater.
    pub high: f64,
}

/// One chance, as it was run and by the book.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Chance {
    /// For the acts made.
    pub ran: Range,
    /// For the acts by the book.
    pub book: Range,
    /// Whether the model can tell the two apart in one set or the other.
    pub apart: bool,
}

/// The two figures, which are never shown apart.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Figures {
    /// Poor fits that are never heard.
    pub poor_missed: Chance,
    /// Good fits that are failed.
    pub good_failed: Chance,
}

/// Why nothing follows from a test, whatever the figures say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Void {
    /// Something spoilt it.
    Invalid,
    /// It was not over.
    Unfinished,
    /// It should have been stopped for the wearer's sake.
    Stopped,
}

/// A fit test on which a result was given.
#[derive(Clone, Debug, PartialEq)]
pub struct Cost {
    /// Its number, from 0.
    pub number: usize,
    /// The result given.
    pub verdict: Verdict,
    /// What was off, as far as the model feels it.
    pub departures: Vec<Departure>,
    /// Why nothing follows from it; `None` where the result may stand on it.
    pub void: Option<Void>,
    /// Whether the facepiece was faulty: a leak through a fault is no poor fit.
    pub faulty: bool,
    tested: Tested,
    agent: Agent,
    /// The same with one departure put right each, in their order.
    put_right: Vec<Tested>,
}

/// The fit tests of a run that ended in a pass or a fail, in order.
#[must_use]
pub fn of(run: &Run, review: &Review) -> Vec<Cost> {
    let state = run.state();
    state.tests.iter().enumerate().filter_map(|(number, test)| one(run, state, review, number, test)).collect()
}

fn one(run: &Run, state: &State, review: &Review, number: usize, test: &FitTest) -> Option<Cost> {
    let (_, verdict) = test.common.call().filter(|(_, verdict)| matches!(verdict, Verdict::Pass | Verdict::Fail))?;
    test.begun()?;
    let scenario = run.scenario();
    let book = &scenario.rulebook();
    let about = About::Test(number);
    let screening = test.screening.and_then(|number| state.screenings.get(number));
    // What was noted of it spoils the test that is counted from that, and not what the screening showed.
    let sound = test.screening.is_some_and(|number| {
        !is_spoilt_by(book, review, About::Screening(number), |rule| rule != RuleId::ScreenClass)
    });
    // Nothing was counted from: then from what the first squeezes amount to.
    let threshold = state
        .counted_from(book, test)
        .filter(|threshold| book.initial(*threshold).is_some())
        .unwrap_or_else(|| book.class_at(before_the_first(test).max(1)));
    let threshold = if book.initial(threshold).is_some() { threshold } else { crate::act::Threshold::Thirty };
    let mut course = Course::of(book, test, &puffs_of(test, run.puffs(), state.now), state.now);
    if verdict == Verdict::Fail {
        // A taste ended it; what was not reached is no departure.
        course = course.gone_on(&Course::by_the_book(book, threshold)?);
    }
    let is_spoilt = |about: About| is_spoilt_by(book, review, about, |_| true);
    let class = screening.filter(|_| sound).and_then(|screening| screening.class(book));
    let tested = Tested::new(course, class.filter(|class| book.initial(*class).is_some()), &test.common);
    let broken: Vec<_> =
        review.marks.iter().filter(|mark| mark.about == about && !mark.kept).map(|mark| (mark.rule, mark.at)).collect();
    let beside = Beside::new(book, &tested, threshold)?;
    let departures = beside.departures(test, &broken);
    let put_right = departures.iter().map(|departure| beside.put_right(*departure)).collect();
    let facepiece = test
        .donning
        .and_then(|donning| state.donnings.get(donning))
        .and_then(|donning| scenario.facepiece(donning.slot));
    Some(Cost {
        number,
        verdict,
        departures,
        void: void(
            review,
            about,
            is_spoilt(about) || test.screening.is_none_or(|number| is_spoilt(About::Screening(number))),
        ),
        faulty: facepiece.is_some_and(|piece| piece.condition != Condition::Sound),
        tested,
        agent: scenario.agent,
        put_right,
    })
}

/// Why nothing follows from a test on which a wrong result was given. A defect rescues no taste: where a fail stands or should
/// have been given, the taste counts.
fn void(review: &Review, about: About, spoilt: bool) -> Option<Void> {
    let call = review.calls.iter().find(|call| call.about == about && !call.is_right())?;
    if call.accepted.iter().any(|right| matches!(right, Verdict::Stopped(_))) {
        Some(Void::Stopped)
    } else if call.unfinished {
        Some(Void::Unfinished)
    } else {
        (spoilt && !call.accepted.contains(&Verdict::Fail)).then_some(Void::Invalid)
    }
}

/// The puffs of one attempt.
fn puffs_of(test: &FitTest, puffs: &[(Ms, f64)], now: Ms) -> Vec<(Ms, f64)> {
    let (from, to) = (test.common.from, test.common.closed.unwrap_or(now));
    puffs.iter().copied().filter(|(at, _)| *at >= from && *at <= to).collect()
}

fn before_the_first(test: &FitTest) -> u32 {
    let begun = test.begun().unwrap_or(test.common.from);
    crate::rounds::count(test.common.squeezes.iter().filter(|squeeze| squeeze.at <= begun).count())
}

/// Whether what was done in an attempt broke a rule that spoils it. A wrong call on it spoils that call, not the attempt.
fn is_spoilt_by(book: &Rulebook, review: &Review, about: About, like: impl Fn(RuleId) -> bool) -> bool {
    review.marks.iter().filter(|mark| mark.about == about && !mark.kept && like(mark.rule)).any(|mark| {
        book.rule(mark.rule).is_some_and(|rule| {
            matches!(rule.gravity, Gravity::Endangers | Gravity::Spoils) && rule.skill != Skill::Result
        })
    })
}

impl Cost {
    /// The two figures.
    #[must_use]
    pub fn figures(&self) -> Figures {
        figures(self.agent, &self.tested)
    }

    /// The two figures if only this departure, by its place among [`Cost::departures`], were put right; `None` where there is
    /// none there. Shares do not add up.
    #[must_use]
    pub fn if_put_right(&self, place: usize) -> Option<Figures> {
        self.put_right.get(place).map(|tested| figures(self.agent, tested))
    }
}

fn figures(agent: Agent, tested: &Tested) -> Figures {
    let book = Rulebook::us(agent);
    let both = [Set::Accepted, Set::Less].map(|set| risk::compare(Parameters::of(agent, set), book, tested));
    let chance = |of: fn(&risk::Chances) -> f64| {
        let [one, other] = &both;
        let range = |one: f64, other: f64| Range { low: one.min(other), high: one.max(other) };
        Chance {
            ran: range(of(&one.ran), of(&other.ran)),
            book: range(of(&one.book), of(&other.book)),
            apart: both.iter().any(|set| (of(&set.ran) - of(&set.book)).abs() >= APART),
        }
    };
    Figures { poor_missed: chance(|chances| chances.poor_missed), good_failed: chance(|chances| chances.good_failed) }
}
