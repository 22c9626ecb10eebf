//! What a sitting came to: counts with their intervals, what it failed by, and what to practise.
//!
//! Hits and false alarms are counted apart and never made into one figure.

use super::{Sitting, Step, Wall};
use crate::{
    evidence::Event, interval::Counted, ordered, rulebook::RuleId, source::Skill, wire::outcome_v1::OutcomeV1,
};

/// Why a sitting was not passed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// In this run, from 1, an error that was not put right spoilt a result or put somebody at risk.
    Grave(usize, RuleId),
    /// This run, from 1, was ended without a result.
    NoResult(usize),
    /// A test was stopped or called for no reason oftener than may be.
    OverCalled(u32),
    /// Too few drills and questions were wholly right.
    BelowBar,
    /// So many runs, drills and questions were not done.
    Undone(u32),
}

/// So many of so many, possibly of none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// So many.
    pub hits: u32,
    /// Of so many.
    pub of: u32,
}

impl Share {
    fn count(&mut self, hit: bool) {
        self.hits += u32::from(hit);
        self.of += 1;
    }

    /// For an interval; `None` of nothing.
    #[must_use]
    pub const fn counted(self) -> Option<Counted> {
        Counted::new(self.hits, self.of)
    }
}

/// What it came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// Why it was not passed; passed where there is nothing.
    pub reasons: Vec<Reason>,
    /// Drills and questions that were wholly right, of all that were to be answered.
    pub answered: Share,
    /// What could have spoilt a result or put somebody at risk, and was caught or put right.
    pub caught: Share,
    /// Harmless things that were let pass.
    pub let_pass: Share,
    /// Results given that were right.
    pub results: Share,
    /// Tests stopped or called for no reason.
    pub over_called: u32,
    /// What to practise, the weakest skill first; where everything went well there is nothing.
    pub practise: Vec<Skill>,
}

impl Outcome {
    /// Whether it was passed.
    #[must_use]
    pub const fn is_passed(&self) -> bool {
        self.reasons.is_empty()
    }
}

/// So many skills are named to be practised.
const MOST_SKILLS: usize = 3;

/// What a sitting came to, at a moment of the wall clock; `None` while it goes on.
#[must_use]
pub fn of(sitting: &Sitting, now: Wall) -> Option<Outcome> {
    if sitting.step(now) != Step::Over {
        return None;
    }
    let length = sitting.terms.length;
    let mut outcome = Outcome {
        reasons: Vec::new(),
        answered: Share { hits: 0, of: length.drills() + length.questions() },
        caught: Share::default(),
        let_pass: Share::default(),
        results: Share::default(),
        over_called: 0,
        practise: practise(sitting),
    };
    outcome.answered.hits = count(sitting.answers.iter().filter(|answer| answer.credit.is_whole()).count());
    for (number, run) in (1..).zip(&sitting.outcomes) {
        add(&mut outcome, number, run);
    }
    if outcome.over_called > length.most_over_called() {
        outcome.reasons.push(Reason::OverCalled(outcome.over_called));
    }
    if outcome.answered.hits * 100 < outcome.answered.of * u32::from(sitting.terms.bar) {
        outcome.reasons.push(Reason::BelowBar);
    }
    let done = count(sitting.outcomes.len() + sitting.answers.len());
    let undone = (length.runs() + outcome.answered.of).saturating_sub(done);
    if undone > 0 {
        outcome.reasons.push(Reason::Undone(undone));
    }
    Some(outcome)
}

fn add(outcome: &mut Outcome, number: usize, run: &OutcomeV1) {
    let evidence = &run.evidence;
    if let Some((rule, _)) = evidence.gravest.filter(|(_, gravity)| gravity.is_top()) {
        outcome.reasons.push(Reason::Grave(number, rule));
    }
    if evidence.given == 0 {
        outcome.reasons.push(Reason::NoResult(number));
    }
    for event in &evidence.events {
        match event {
            Event { well, .. } if event.is_harmless() => outcome.let_pass.count(*well),
            Event { well, .. } if event.is_grave(evidence.agent) => outcome.caught.count(*well),
            Event { .. } => {}
        }
    }
    outcome.results.hits += evidence.right;
    outcome.results.of += evidence.given;
    outcome.over_called += evidence.watch.over_called;
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// Skills by how much of what came up in them went wrong: in runs rules broken, else answers that were not wholly right.
fn practise(sitting: &Sitting) -> Vec<Skill> {
    let mut weak: Vec<(u32, Skill)> = Vec::new();
    for (place, skill) in Skill::ALL.iter().copied().enumerate() {
        let mut went_well = Share::default();
        for answer in sitting.answers.iter().filter(|answer| answer.skill == skill) {
            went_well.count(answer.credit.is_whole());
        }
        for tally in sitting.outcomes.iter().filter_map(|run| run.evidence.skills.get(place)) {
            went_well.hits += tally.kept;
            went_well.of += tally.came_up;
        }
        let wrong = went_well.of.saturating_sub(went_well.hits);
        if wrong > 0 {
            weak.push((wrong * 1_000 / went_well.of.max(1), skill));
        }
    }
    ordered::order(&mut weak, |(share, _)| u64::MAX - u64::from(*share));
    weak.into_iter().take(MOST_SKILLS).map(|(_, skill)| skill).collect()
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::{
        assessment::{Length, Limit, Terms},
        evidence::{Evidence, Origin},
        interval::{Bounds, Confidence},
        question::mark::Credit,
        review::Tally,
        rulebook::Agent,
        source::Gravity,
        trouble::Kind,
        wire::{
            answer_v1::{AnswerV1, Asked},
            run_v1::Pace,
        },
    };

    /// A run of the sitting "a1" that went well, with these events.
    pub(crate) fn outcome(run: &str, events: &[(Kind, bool)]) -> OutcomeV1 {
        let events = events.iter().map(|(kind, well)| Event { origin: Origin::Came(*kind), well: *well }).collect();
        let made_up = OutcomeV1::made_up(Agent::Sweet, 20_000, events);
        // What the answers say of a skill is not mixed with what the runs show of it.
        let evidence = Evidence { skills: [Tally::default(); Skill::ALL.len()], ..made_up.evidence };
        OutcomeV1 { run: run.to_owned(), set: Some("a1".to_owned()), evidence, ..made_up }
    }

    fn answers(right: usize, of: usize) -> Vec<AnswerV1> {
        (0..of)
            .map(|place| AnswerV1 {
                asked: Asked::Question,
                id: format!("q-{place}"),
                revision: 1,
                skill: if place < right { Skill::Watching } else { Skill::Screening },
                agent: Agent::Sweet,
                credit: Credit { got: u8::from(place < right), of: 1 },
                day: 20_000,
            })
            .collect()
    }

    fn sitting(right: usize) -> Sitting {
        let terms = Terms {
            number: 17,
            agent: Agent::Sweet,
            length: Length::Short,
            pace: Pace::Real,
            limit: Limit::Off,
            bar: 80,
        };
        let mut sitting = Sitting::begin("a1".to_owned(), terms, 0, 20_000);
        sitting.begun.extend(["r1", "r2", "r3"].map(str::to_owned));
        sitting.outcomes.extend([
            outcome("r1", &[(Kind::AdjustsMask, true)]),
            outcome("r2", &[(Kind::Coughs, true), (Kind::DrankWater, true)]),
            outcome("r3", &[(Kind::ChestPain, true)]),
        ]);
        sitting.answers = answers(right, 18);
        sitting
    }

    #[test]
    fn while_it_goes_on_it_has_come_to_nothing() {
        let mut unfinished = sitting(18);
        unfinished.answers.pop();
        assert_eq!(of(&unfinished, 1), None);
    }

    #[test]
    fn hits_and_false_alarms_are_counted_apart() {
        let outcome = of(&sitting(18), 1).unwrap();
        assert!(outcome.is_passed(), "{outcome:?}");
        assert_eq!((outcome.caught, outcome.let_pass), (Share { hits: 2, of: 2 }, Share { hits: 2, of: 2 }));
        assert_eq!((outcome.results, outcome.over_called), (Share { hits: 3, of: 3 }, 0));
        assert_eq!(outcome.practise, []);
    }

    /// The bar is met at 15 of 18 (0.833) and not at 14 (0.778).
    #[test]
    fn the_bar_is_met_or_not() {
        assert!(of(&sitting(15), 1).unwrap().is_passed());
        let below = of(&sitting(14), 1).unwrap();
        assert_eq!(below.reasons, [Reason::BelowBar]);
        assert_eq!(below.practise, [Skill::Screening]);
    }

    #[test]
    fn an_error_that_spoils_and_stands_fails_it_whatever_the_score() {
        let mut spoilt = sitting(18);
        spoilt.outcomes[1].evidence.gravest = Some((RuleId::FitAdjusted, Gravity::Spoils));
        assert_eq!(of(&spoilt, 1).unwrap().reasons, [Reason::Grave(2, RuleId::FitAdjusted)]);
        spoilt.outcomes[1].evidence.gravest = Some((RuleId::FitMinuteNear, Gravity::Departure));
        assert!(of(&spoilt, 1).unwrap().is_passed());
    }

    #[test]
    fn one_false_alarm_in_three_runs_is_let_pass_and_no_more() {
        let mut over = sitting(18);
        over.outcomes[0].evidence.watch.over_called = 1;
        assert!(of(&over, 1).unwrap().is_passed());
        over.outcomes[2].evidence.watch.over_called = 1;
        assert_eq!(of(&over, 1).unwrap().reasons, [Reason::OverCalled(2)]);
    }

    #[test]
    fn what_was_not_done_fails_it() {
        let mut without = sitting(18);
        without.outcomes[0].evidence.given = 0;
        assert_eq!(of(&without, 1).unwrap().reasons, [Reason::NoResult(1)]);
        let mut closed = sitting(18);
        closed.answers.pop();
        closed.closed = true;
        assert_eq!(of(&closed, 1).unwrap().reasons, [Reason::Undone(1)]);
    }

    /// Wilson 1927; R, `SciPy` and statsmodels all give 0.699 to 0.972 for 18 of 20 (from memory).
    #[test]
    fn a_share_has_its_interval() {
        let sure = Share { hits: 18, of: 20 }.counted().unwrap().wilson(Bounds::Both, Confidence::USUAL);
        assert!((sure.low - 0.70).abs() < 5e-3 && (sure.high - 0.97).abs() < 5e-3);
        assert_eq!(Share::default().counted(), None);
    }
}
