//! Learners who make runs until they are called ready, and how good they truly are then.

use super::{Chance, in_100, median};
use bittersweet_core::{
    evidence::{Event, Evidence, Origin},
    met::met,
    question::choose::Day,
    readiness::{self, CAUGHT},
    review::{Tally, Watch},
    rulebook::{Agent, RuleId},
    source::Skill,
    state::State,
    trouble::Kind,
    unannounced,
    wire::{outcome_v1::OutcomeV1, run_v1::Help},
};
use std::fmt::Write as _;

/// What readiness states of the share that is caught.
const BAR: f64 = 0.81;

/// A share that is not far below it.
const NEAR: f64 = 0.75;

const LEARNERS: usize = 400;

/// How long a series of events may be was chosen with those before this number.
const HELD_OUT: u64 = 10_000;

const MOST_RUNS: u32 = 150;

/// Own mistakes that could stand in a run, as a kind of their own.
const OWN: usize = Kind::ALL.len();

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sort {
    Steady,
    Learning,
    Forgetting,
    Uneven,
    Linked,
}

const SORTS: [(Sort, &str); 5] = [
    (Sort::Steady, "steady"),
    (Sort::Learning, "learning"),
    (Sort::Forgetting, "forgetting"),
    (Sort::Uneven, "uneven"),
    (Sort::Linked, "linked"),
];

/// What comes up in drawn runs: kinds by place, [`OWN`] among them.
struct Runs(Vec<Vec<usize>>);

impl Runs {
    fn drawn(agent: Agent) -> Self {
        let kinds = |seed| {
            let scenario = unannounced::draw_up(agent, seed);
            let found = met(&scenario, &State::new(agent)).into_iter().map(|met| met.kind as usize);
            found.chain(scenario.trouble.iter().map(|trouble| trouble.kind as usize)).collect()
        };
        Self((0..1_000).map(kinds).collect())
    }
}

fn event(kind: usize, well: bool) -> Event {
    let origin = Kind::ALL.get(kind).map_or(Origin::Made(RuleId::FitMinute), |kind| Origin::Came(*kind));
    Event { origin, well }
}

/// Somebody, with the chance to miss each kind.
struct Learner {
    sort: Sort,
    misses: Vec<f64>,
    /// Those that they began with.
    began: Vec<f64>,
    /// Which stay hard.
    hard: Vec<bool>,
    /// What is left of a chance to miss after something was met, and after it was missed.
    learns: (f64, f64),
    /// How much of what was learned fades in a day.
    fades: f64,
    /// How often something is caught by luck.
    luck: f64,
    /// How often they make a mistake of their own in a run.
    blunders: f64,
}

impl Learner {
    fn drawn(sort: Sort, chance: &mut Chance) -> Self {
        let count = OWN + 1;
        let steady = chance.between(0.0, 0.5);
        let (least, most) = (chance.between(0.0, 0.3), chance.between(0.3, 0.9));
        let mut misses: Vec<f64> = (0..count).map(|_| chance.between(least, most)).collect();
        if sort == Sort::Steady {
            misses = vec![steady; count];
        }
        let hard = (0..count).map(|_| sort == Sort::Uneven && chance.happens(0.2)).collect();
        let slow = chance.between(0.5, 0.95);
        Self {
            sort,
            began: misses.clone(),
            misses,
            hard,
            learns: (slow, slow * chance.between(0.4, 0.9)),
            fades: if sort == Sort::Forgetting { chance.between(0.001, 0.01) } else { 0.0 },
            luck: if sort == Sort::Uneven { chance.between(0.0, 0.3) } else { 0.0 },
            blunders: chance.between(0.05, 0.4),
        }
    }

    fn caught(&self, kind: usize) -> f64 {
        1.0 - self.misses[kind] * (1.0 - self.luck)
    }

    /// The true share that is caught, over kinds as often as they come up.
    fn share(&self, kinds: &[usize]) -> f64 {
        kinds.iter().map(|kind| self.caught(*kind)).sum::<f64>() / kinds.len() as f64
    }

    /// Something came up; whether it was met well, and what that leaves.
    fn meets(&mut self, kind: usize, chance: &mut Chance) -> bool {
        let well = chance.happens(self.caught(kind));
        let left = if well { self.learns.0 } else { self.learns.1 };
        if self.sort == Sort::Steady {
            return well;
        }
        if self.sort == Sort::Linked {
            // A tenth of what helps with this kind helps with each other one.
            self.misses.iter_mut().for_each(|miss| *miss *= 1.0 - (1.0 - left) / 10.0);
        }
        if !self.hard[kind] {
            self.misses[kind] *= left;
        }
        well
    }

    fn rests(&mut self, days: Day) {
        for _ in 0..days {
            for (miss, began) in self.misses.iter_mut().zip(&self.began) {
                *miss += (began - *miss) * self.fades;
            }
        }
    }
}

/// Somebody who was called ready.
pub(super) struct Called {
    /// The true share at that moment.
    share: f64,
    /// After so many runs.
    runs: u32,
    /// And so many events that would have spoilt a result or endangered somebody.
    events: u32,
}

fn outcome(day: Day, events: Vec<Event>) -> OutcomeV1 {
    OutcomeV1 {
        run: "run".to_owned(),
        scenario: unannounced::ID.to_owned(),
        day,
        minutes: 30,
        set: None,
        engine: 0,
        book: "us".to_owned(),
        rules: 0,
        evidence: Evidence {
            agent: Agent::Sweet,
            help: Help::Unaided,
            hints: 0,
            real_pace: true,
            whole: true,
            events,
            skills: [Tally::default(); Skill::ALL.len()],
            given: 1,
            right: 1,
            gravest: None,
            watch: Watch::default(),
        },
    }
}

/// By which rule somebody is called ready.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Rule {
    /// The product's.
    Ours,
    /// The same, but the count of events begins anew after each that was missed.
    Anew,
}

fn is_ready(rule: Rule, outcomes: &[OutcomeV1], today: Day) -> bool {
    let readiness = readiness::readiness(Agent::Sweet, outcomes, today);
    let Some(missing) = readiness.missing else { return true };
    if rule == Rule::Ours || missing.runs + missing.kinds + missing.harmless > 0 {
        return false;
    }
    let events = outcomes.iter().rev().flat_map(|outcome| outcome.evidence.events.iter().rev());
    let grave = events.filter(|event| event.is_grave(Agent::Sweet));
    grave.take_while(|event| event.well).count() >= CAUGHT[0] as usize
}

/// What does not change from learner to learner.
pub(super) struct World {
    runs: Runs,
    /// Each kind that matters, as often as it comes up.
    grave: Vec<usize>,
}

impl World {
    pub(super) fn new() -> Self {
        let runs = Runs::drawn(Agent::Sweet);
        let grave = runs.0.iter().flatten().copied().filter(|kind| event(*kind, true).is_grave(Agent::Sweet)).collect();
        Self { runs, grave }
    }

    /// Somebody makes runs until they are called ready; `None` where they never are.
    fn practises(&self, mut learner: Learner, mut chance: Chance, rule: Rule) -> Option<Called> {
        let (mut outcomes, mut events, mut day) = (Vec::new(), 0, 20_000);
        for run in 1..=MOST_RUNS {
            let mut kinds = self.runs.0[chance.below(self.runs.0.len())].clone();
            if chance.happens(learner.blunders) {
                kinds.push(OWN);
            }
            let met: Vec<Event> = kinds.iter().map(|kind| event(*kind, learner.meets(*kind, &mut chance))).collect();
            events += met.iter().filter(|event| event.is_grave(Agent::Sweet)).map(|_| 1).sum::<u32>();
            outcomes.push(outcome(day, met));
            if is_ready(rule, &outcomes, day) {
                return Some(Called { share: learner.share(&self.grave), runs: run, events });
            }
            let most = if learner.sort == Sort::Forgetting { 21 } else { 3 };
            let days = 1 + Day::try_from(chance.below(most)).expect("few");
            learner.rests(days);
            day += days;
        }
        None
    }

    /// Those of each sort who are called ready.
    pub(super) fn called(&self, rule: Rule) -> [Vec<Called>; SORTS.len()] {
        SORTS.map(|(sort, _)| {
            let practises = |number| {
                let mut chance = Chance::of(number, sort as u64);
                self.practises(Learner::drawn(sort, &mut chance), chance, rule)
            };
            (HELD_OUT..).take(LEARNERS).filter_map(practises).collect()
        })
    }

    /// Those who are called ready although, or because, they catch this share and learn nothing.
    fn called_at(&self, share: f64) -> Vec<Called> {
        let practises = |number| {
            let mut chance = Chance::of(number, 50);
            let mut learner = Learner::drawn(Sort::Steady, &mut chance);
            learner.misses.fill(1.0 - share);
            self.practises(learner, chance, Rule::Ours)
        };
        (HELD_OUT..).take(LEARNERS).filter_map(practises).collect()
    }

    /// How likely somebody is called ready who stays as good as they are.
    pub(super) fn steady(&self) -> String {
        let mut table =
            "| share caught | called ready within 150 runs, of 100 | runs until then (median) |\n|---|---|---|\n"
                .to_owned();
        for share in [0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 1.0] {
            let called = self.called_at(share);
            let runs = median(called.iter().map(|one| one.runs).collect());
            let runs = if called.is_empty() { "-".to_owned() } else { runs.to_string() };
            let _ = writeln!(table, "| {share:.2} | {:.0} | {runs} |", in_100(called.len(), LEARNERS));
        }
        table
    }
}

/// Of 100 who are called ready, those who truly are.
pub(super) fn as_stated<'a>(called: impl Iterator<Item = &'a Called> + Clone) -> f64 {
    in_100(called.clone().filter(|one| one.share >= BAR).count(), called.count())
}

fn row(name: &str, of: usize, called: &[&Called]) -> String {
    let near = called.iter().filter(|one| one.share >= NEAR).count();
    let share = called.iter().map(|one| one.share).sum::<f64>() / called.len().max(1) as f64;
    let runs = median(called.iter().map(|one| one.runs).collect());
    let events = median(called.iter().map(|one| one.events).collect());
    let (ready, near) = (in_100(called.len(), of), in_100(near, called.len()));
    let as_stated = as_stated(called.iter().copied());
    format!("| {name} | {ready:.0} | **{as_stated:.0}** | {near:.0} | {share:.2} | {runs} | {events} |\n")
}

pub(super) fn table(called: &[Vec<Called>; SORTS.len()]) -> String {
    let mut table =
        "| learners | called ready, of 100 | of those at least 0.81, of 100 | at least 0.75 | true share on average | \
         runs until then (median) | events that matter (median) |\n|---|---|---|---|---|---|---|\n"
            .to_owned();
    for ((_, name), called) in SORTS.iter().zip(called) {
        table.push_str(&row(name, LEARNERS, &called.iter().collect::<Vec<_>>()));
    }
    let all: Vec<&Called> = called.iter().flatten().collect();
    table.push_str(&row("all", SORTS.len() * LEARNERS, &all));
    table
}
