//! Who is ready to be observed on a real test with one agent, and how each skill stands.
//!
//! Knowing and doing are two things here, and nothing adds them up: an answer never raises what was shown in a run. Evidence of
//! one agent is none of the other. The rule is ours, no law: no federal rule names a certificate, and the employer judges
//! ability (29 CFR 1910.134, App. A I.B.1(a)). A simulation shows nothing of a real bulb, a real hood or a real person.
//!
//! **The rule.** Of the latest events that would spoil a result or endanger somebody, so many were caught that the catch rate is
//! at least 0.81, with a confidence of 90 % (one-sided, Clopper and Pearson): 11 with none missed, 20 with one, 27 with two, and
//! so on. They are of 6 kinds, 8 harmless things were let pass beside them, likewise, and all that in 5 whole runs, unaided
//! and at real pace, of the last 12 months.
//!
//! **Why a miss makes the number grow.** Were the count to begin anew after each, whoever is not good enough would come
//! through by trying for long enough: `docs/learners.md` shows how often. Were every miss to count for the whole year, those who
//! began before they were good enough would hardly get rid of it. So the latest 73 events count, with at most 9 missed among
//! them, which costs those who miss none nothing.

use crate::{
    evidence::{Event, Origin},
    interval::{Bounds, Confidence, Counted, Interval},
    knowledge::{Estimate, Guess},
    question::choose::Day,
    review::Tally,
    rulebook::Agent,
    source::Skill,
    trouble::Kind,
    wire::{answer_v1::AnswerV1, outcome_v1::OutcomeV1},
};
use std::collections::BTreeSet;

/// Evidence counts for so many days, the day on which it was made included: 12 months (ours, not law).
pub const LASTS: Day = 365;

/// Whole runs, unaided and at real pace.
pub const RUNS: u32 = 5;

/// Kinds of events that were caught. All mistakes of one's own are one kind, since anybody can make more of them.
pub const KINDS: u32 = 6;

/// How sure the statement is.
pub const SURE: f64 = 0.9;

/// How many events it takes with none, one, two of them missed and so on, to be as sure as with the first number and none missed.
type Needed = [u32; 10];

/// Events that would spoil a result or endanger somebody.
pub const CAUGHT: Needed = [11, 20, 27, 34, 41, 47, 54, 60, 67, 73];

/// Harmless things.
pub const LET_PASS: Needed = [8, 15, 20, 25, 30, 35, 40, 45, 50, 55];

/// The latest events of one sort, oldest first: whether each was met well.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Series {
    well: Vec<bool>,
    needed: Needed,
}

impl Series {
    /// The latest of these; as many as are ever needed.
    fn new(needed: Needed, well: Vec<bool>) -> Self {
        let [.., most] = needed;
        let drop = well.len().saturating_sub(usize::try_from(most).unwrap_or(usize::MAX));
        Self { well: well.into_iter().skip(drop).collect(), needed }
    }

    /// How many count.
    #[must_use]
    pub fn met(&self) -> u32 {
        u32::try_from(self.well.len()).unwrap_or(u32::MAX)
    }

    /// How many of them were met well.
    #[must_use]
    pub fn well(&self) -> u32 {
        u32::try_from(self.well.iter().filter(|well| **well).count()).unwrap_or(u32::MAX)
    }

    /// How many more it takes, were all of them met well from now on.
    #[must_use]
    pub fn missing(&self) -> u32 {
        let suffices = |more: &u32| {
            // As more come, the oldest count no more.
            let [.., most] = self.needed;
            let gone = (self.met() + more).saturating_sub(most);
            let left = self.well.iter().skip(usize::try_from(gone).unwrap_or(usize::MAX));
            let missed = left.filter(|well| !**well).count();
            self.needed.get(missed).is_some_and(|needed| self.met() + more - gone >= *needed)
        };
        let [first, .., most] = self.needed;
        (0..=most).find(suffices).unwrap_or(first)
    }

    /// The share that is met well: at least, with the confidence of the statement; and at most 1. `None` of none.
    #[must_use]
    pub fn at_least(&self) -> Option<Interval> {
        Some(Counted::new(self.well(), self.met())?.exact(Bounds::Lower, Confidence::new(SURE)?))
    }
}

/// What is still missing; not all of it is nought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Missing {
    /// Events to be caught, with none missed from now on.
    pub events: u32,
    /// Kinds among them that were not caught before.
    pub kinds: u32,
    /// Harmless things to be let pass.
    pub harmless: u32,
    /// Whole runs, unaided and at real pace.
    pub runs: u32,
}

/// How it stands with one agent on one day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Readiness {
    /// Of tests with which agent.
    pub agent: Agent,
    /// Runs that count.
    pub runs: u32,
    /// Kinds of events that were caught in them.
    pub kinds: u32,
    /// Events that would spoil a result or endanger somebody.
    pub caught: Series,
    /// Harmless things.
    pub let_pass: Series,
    /// The first day on which it would not stand any more without new evidence; `None` where it does not stand.
    pub until: Option<Day>,
    /// What is missing; `None` where somebody is ready to be observed.
    pub missing: Option<Missing>,
}

/// Everything about one agent on one day: nothing outside can put it together from two.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Overview {
    /// Of tests with which agent.
    pub agent: Agent,
    /// Who is ready.
    pub readiness: Readiness,
    /// The eight skills, in the order of [`Skill::ALL`].
    pub skills: Vec<Standing>,
}

impl Overview {
    /// Of `agent` on the day `today`. Answers come oldest first.
    #[must_use]
    pub fn of(agent: Agent, answers: &[AnswerV1], outcomes: &[OutcomeV1], today: Day) -> Self {
        let readiness = readiness(agent, outcomes, today);
        Self { agent, readiness, skills: standings(agent, answers, outcomes, today) }
    }
}

/// How it stands with `agent` on the day `today`. Outcomes come in any order; of one day, the order in which they come counts.
#[must_use]
pub fn readiness(agent: Agent, outcomes: &[OutcomeV1], today: Day) -> Readiness {
    let mut counting: Vec<&OutcomeV1> = outcomes
        .iter()
        .filter(|outcome| outcome.evidence.agent == agent && counts(outcome, today))
        .filter(|outcome| outcome.evidence.is_as_in_earnest())
        .collect();
    counting.sort_by_key(|outcome| outcome.day);
    let mut readiness = assess(agent, &counting);
    if readiness.missing.is_none() {
        let mut ends: Vec<Day> = counting.iter().map(|outcome| outcome.day.saturating_add(LASTS)).collect();
        ends.dedup();
        let left = |day: &Day| -> Vec<&OutcomeV1> {
            counting.iter().copied().filter(|outcome| counts(outcome, *day)).collect()
        };
        readiness.until = ends.into_iter().find(|day| assess(agent, &left(day)).missing.is_some());
    }
    readiness
}

/// Whether it is not of the future, and not too old.
fn counts(outcome: &OutcomeV1, today: Day) -> bool {
    today.checked_sub(outcome.day).is_some_and(|age| age < LASTS)
}

/// How it stands by these runs, oldest first; how long it lasts is not looked at.
fn assess(agent: Agent, counting: &[&OutcomeV1]) -> Readiness {
    let events = || counting.iter().flat_map(|outcome| outcome.evidence.events.iter().copied());
    let grave = || events().filter(|event| event.is_grave(agent));
    let well = |event: Event| event.well;
    let kinds: BTreeSet<Option<Kind>> = grave().filter(|event| event.well).map(|event| kind(event.origin)).collect();
    let caught = Series::new(CAUGHT, grave().map(well).collect());
    let let_pass = Series::new(LET_PASS, events().filter(|event| event.is_harmless()).map(well).collect());
    let count = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
    let (runs, kinds) = (count(counting.len()), count(kinds.len()));
    let new_kinds = KINDS.saturating_sub(kinds);
    let missing = Missing {
        // A kind that is new takes an event.
        events: caught.missing().max(new_kinds),
        kinds: new_kinds,
        harmless: let_pass.missing(),
        runs: RUNS.saturating_sub(runs),
    };
    let missing = (missing != Missing::default()).then_some(missing);
    Readiness { agent, runs, kinds, caught, let_pass, until: None, missing }
}

const fn kind(origin: Origin) -> Option<Kind> {
    match origin {
        Origin::Came(kind) => Some(kind),
        Origin::Made(_) => None,
    }
}

/// How one skill stands with one agent. What is known and what was shown are never added up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// Of tests with which agent.
    pub agent: Agent,
    /// Which skill.
    pub skill: Skill,
    /// By answers to questions and drills: how likely it is known.
    pub known: Estimate,
    /// How many answers that rests on.
    pub answers: u32,
    /// In runs: how often its rules came up, and were kept.
    pub shown: Tally,
    /// How many runs that rests on.
    pub runs: u32,
}

impl Standing {
    /// The share of rules kept, from at least to at most, 90 % sure (Wilson). `None` where none came up.
    #[must_use]
    pub fn kept(&self) -> Option<Interval> {
        Some(Counted::new(self.shown.kept, self.shown.came_up)?.wilson(Bounds::Both, Confidence::new(SURE)?))
    }
}

/// Whether a skill can only be shown while time runs as it does.
#[must_use]
pub const fn needs_real_pace(skill: Skill) -> bool {
    matches!(skill, Skill::Running | Skill::Watching)
}

/// How the eight skills stand with `agent` on the day `today`, in the order of [`Skill::ALL`]. Answers come oldest first, and
/// all count; of the runs, those without help count that are not too old, and where time matters those at real pace alone.
#[must_use]
pub fn standings(agent: Agent, answers: &[AnswerV1], outcomes: &[OutcomeV1], today: Day) -> Vec<Standing> {
    let runs = || {
        let of_agent = outcomes.iter().filter(move |outcome| outcome.evidence.agent == agent && counts(outcome, today));
        of_agent.map(|outcome| &outcome.evidence).filter(|evidence| evidence.whole && evidence.is_unaided())
    };
    let standing = |(place, skill): (usize, &Skill)| {
        let mut standing =
            Standing { agent, skill: *skill, known: Estimate::FIRST, answers: 0, shown: Tally::default(), runs: 0 };
        for answer in answers.iter().filter(|answer| answer.agent == agent && answer.skill == *skill) {
            standing.known = standing.known.after(answer.credit.is_whole(), Guess::of_answer(answer));
            standing.answers += 1;
        }
        for evidence in runs().filter(|evidence| evidence.real_pace || !needs_real_pace(*skill)) {
            let Some(tally) = evidence.skills.get(place).filter(|tally| tally.came_up > 0) else { continue };
            standing.shown.kept = standing.shown.kept.saturating_add(tally.kept);
            standing.shown.came_up = standing.shown.came_up.saturating_add(tally.came_up);
            standing.runs += 1;
        }
        standing
    };
    Skill::ALL.iter().enumerate().map(standing).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        draw::{Purpose, number},
        evidence::Evidence,
        question::mark::Credit,
        rulebook::RuleId,
        wire::{answer_v1::Asked, run_v1::Help},
    };

    const GRAVE: [Kind; 6] =
        [Kind::Stubble, Kind::Swapped, Kind::AdjustsMask, Kind::ChestPain, Kind::TellsLate, Kind::NoClearance];

    const TODAY: Day = 20_800;

    fn came(kind: Kind, well: bool) -> Event {
        Event { origin: Origin::Came(kind), well }
    }

    /// Five runs on five days that end today, with just enough in them.
    fn enough() -> Vec<OutcomeV1> {
        let events = |run: usize| {
            let grave = (0..11).filter(move |event| event % 5 == run).map(|event| came(GRAVE[event % 6], true));
            let harmless = (0..8).filter(move |event| event % 5 == run).map(|_| came(Kind::Coughs, true));
            grave.chain(harmless).collect()
        };
        (0..5).zip(TODAY - 4..).map(|(run, day)| OutcomeV1::made_up(Agent::Sweet, day, events(run))).collect()
    }

    fn of(outcomes: &[OutcomeV1]) -> Readiness {
        readiness(Agent::Sweet, outcomes, TODAY)
    }

    fn missing(change: impl FnOnce(&mut Vec<OutcomeV1>)) -> Missing {
        let mut outcomes = enough();
        change(&mut outcomes);
        of(&outcomes).missing.unwrap_or_default()
    }

    #[test]
    fn just_enough_is_ready_and_a_year_later_it_is_not() {
        let ready = of(&enough());
        assert_eq!((ready.missing, ready.runs, ready.kinds), (None, 5, 6));
        assert_eq!((ready.caught.met(), ready.let_pass.met()), (11, 8));
        let until = ready.until.unwrap();
        assert_eq!(until, TODAY - 4 + LASTS);
        assert!(readiness(Agent::Sweet, &enough(), until - 1).missing.is_none());
        assert!(readiness(Agent::Sweet, &enough(), until).missing.is_some());
    }

    #[test]
    fn what_is_more_than_needed_lasts_longer() {
        let mut outcomes = enough();
        let again = enough().into_iter().map(|one| OutcomeV1 { day: one.day - 100, ..one });
        outcomes.splice(0..0, again);
        assert_eq!(of(&outcomes).until, Some(TODAY - 4 + LASTS));
    }

    #[test]
    fn one_too_few_of_anything_is_named() {
        let none = Missing::default();
        assert_eq!(missing(|_| {}), none);
        let one_event = |outcomes: &mut Vec<OutcomeV1>| {
            outcomes[0].evidence.events.remove(0);
        };
        assert_eq!(missing(one_event), Missing { events: 1, ..none });
        let one_harmless = |outcomes: &mut Vec<OutcomeV1>| {
            outcomes[0].evidence.events.pop();
        };
        assert_eq!(missing(one_harmless), Missing { harmless: 1, ..none });
        let one_run = |outcomes: &mut Vec<OutcomeV1>| {
            let events = outcomes[0].evidence.events.clone();
            outcomes[1].evidence.events.extend(events);
            outcomes.remove(0);
        };
        assert_eq!(missing(one_run), Missing { runs: 1, ..none });
        let one_kind = |outcomes: &mut Vec<OutcomeV1>| {
            for event in outcomes.iter_mut().flat_map(|outcome| &mut outcome.evidence.events) {
                if event.origin == Origin::Came(Kind::ChestPain) {
                    event.origin = Origin::Came(Kind::Stubble);
                }
            }
        };
        assert_eq!(missing(one_kind), Missing { events: 1, kinds: 1, ..none });
        assert_eq!(of(&[]).missing, Some(Missing { events: 11, kinds: 6, harmless: 8, runs: 5 }));
    }

    #[test]
    fn own_mistakes_put_right_are_one_kind() {
        let missing = missing(|outcomes| {
            let own = [RuleId::FitMinute, RuleId::FitHalf, RuleId::FitOrder, RuleId::FitTopUp, RuleId::ScreenCount];
            let mut own = own.into_iter().cycle();
            for event in outcomes.iter_mut().flat_map(|outcome| &mut outcome.evidence.events) {
                if event.origin != Origin::Came(Kind::Coughs) && event.origin != Origin::Came(Kind::Stubble) {
                    event.origin = Origin::Made(own.next().unwrap());
                }
            }
        });
        assert_eq!(missing, Missing { events: 4, kinds: 4, harmless: 0, runs: 0 });
    }

    /// The first of the two sides counts, and the other does not.
    #[test]
    fn only_what_is_of_this_agent_in_earnest_and_not_too_old_counts() {
        let first_without = |change: fn(&mut OutcomeV1)| missing(|outcomes| change(&mut outcomes[0]));
        assert_ne!(first_without(|one| one.evidence.agent = Agent::Bitter), Missing::default());
        assert_ne!(first_without(|one| one.evidence.real_pace = false), Missing::default());
        assert_ne!(first_without(|one| one.evidence.hints = 1), Missing::default());
        assert_ne!(first_without(|one| one.evidence.help = Help::OnRequest), Missing::default());
        assert_ne!(first_without(|one| one.evidence.whole = false), Missing::default());
        assert_ne!(first_without(|one| one.day = TODAY - LASTS), Missing::default());
        assert_ne!(first_without(|one| one.day = TODAY + 1), Missing::default());
        assert_eq!(first_without(|one| one.day = TODAY - LASTS + 1), Missing::default());
        assert_eq!(readiness(Agent::Bitter, &enough(), TODAY).runs, 0);
    }

    #[test]
    fn a_miss_takes_readiness_away_until_twenty_were_met() {
        let missed = |after: usize| {
            let mut events = vec![came(Kind::Stubble, false)];
            events.extend(vec![came(Kind::Swapped, true); after]);
            missing(|outcomes| outcomes.push(OutcomeV1::made_up(Agent::Sweet, TODAY, events)))
        };
        assert_eq!(missed(0), Missing { events: 8, ..Missing::default() });
        assert_eq!(missed(7), Missing { events: 1, ..Missing::default() });
        assert_eq!(missed(8), Missing::default());
        let over_called = missing(|outcomes| outcomes[4].evidence.events.push(came(Kind::Asks, false)));
        assert_eq!(over_called, Missing { harmless: 6, ..Missing::default() });
    }

    /// The numbers are the fewest with which the exact bound is where it is with the first of them.
    #[test]
    fn each_number_is_the_smallest_that_is_as_sure() {
        for (needed, bar) in [(CAUGHT, 0.81), (LET_PASS, 0.749)] {
            let low = |missed: u32, of: u32| {
                let counted = Counted::new(of - missed, of).unwrap();
                counted.exact(Bounds::Lower, Confidence::new(SURE).unwrap()).low
            };
            let sure = low(0, needed[0]);
            assert!(sure >= bar && low(0, needed[0] - 1) < sure, "{sure}");
            for (missed, of) in (0..).zip(needed) {
                assert!(low(missed, of) >= sure, "{missed} of {of}");
                assert!(low(missed, of - 1) < sure, "{missed} of {}", of - 1);
            }
        }
    }

    #[test]
    fn what_is_missing_is_exactly_enough_and_more_caught_never_harms_nor_does_a_miss_help() {
        for seed in 0..400 {
            let length = number(seed, Purpose::DrillStory, 0, 100);
            let share = number(seed, Purpose::DrillStory, 1, 10);
            let well = |place| number(seed, Purpose::DrillMoment, place, 10) < share.max(5);
            let events: Vec<bool> = (0..length).map(well).collect();
            for needed in [CAUGHT, LET_PASS] {
                let then = |more: &[bool]| Series::new(needed, [&events[..], more].concat()).missing();
                let missing = then(&[]);
                assert_eq!(then(&vec![true; missing as usize]), 0, "{events:?}");
                assert!(missing == 0 || then(&vec![true; missing as usize - 1]) > 0, "{events:?}");
                assert!(then(&[true]) <= missing, "{events:?}");
                assert!(then(&[false]) >= missing, "{events:?}");
            }
        }
    }

    #[test]
    fn of_all_that_was_met_the_latest_count() {
        let mut well = vec![false; 10];
        well.extend([true; 64]);
        let series = Series::new(CAUGHT, well);
        // Of 74 the oldest, which was missed, counts no more.
        assert_eq!((series.met(), series.well(), series.missing()), (73, 64, 0));
        assert!(series.at_least().unwrap().low > 0.81);
        assert_eq!(Series::new(CAUGHT, Vec::new()).at_least(), None);
    }

    fn answer(skill: Skill, agent: Agent, got: u8) -> AnswerV1 {
        AnswerV1 {
            asked: Asked::Question,
            id: "one".to_owned(),
            revision: 1,
            skill,
            agent,
            credit: Credit { got, of: 2 },
            day: TODAY,
        }
    }

    fn standing(skill: Skill, answers: &[AnswerV1], outcomes: &[OutcomeV1]) -> Standing {
        standings(Agent::Sweet, answers, outcomes, TODAY)[skill as usize]
    }

    #[test]
    fn an_answer_raises_what_is_known_of_its_skill_and_agent_and_nothing_that_was_shown() {
        let before = standing(Skill::Running, &[], &enough());
        let answered = vec![answer(Skill::Running, Agent::Sweet, 2); 20];
        let after = standing(Skill::Running, &answered, &enough());
        assert!(after.known.is_known() && !before.known.is_known());
        assert_eq!((after.shown, after.runs, after.kept()), (before.shown, before.runs, before.kept()));
        assert_eq!(standing(Skill::Result, &answered, &[]).known, Estimate::FIRST);
        let other = vec![answer(Skill::Running, Agent::Bitter, 2); 20];
        assert_eq!(standing(Skill::Running, &other, &[]).answers, 0);
        // Half of it is not known yet.
        let half = standing(Skill::Running, &[answer(Skill::Running, Agent::Sweet, 1)], &[]);
        assert!(half.known.likely < Estimate::FIRST.likely);
    }

    #[test]
    fn a_hurried_run_shows_nothing_of_what_needs_time_and_a_helped_one_nothing_at_all() {
        for skill in Skill::ALL.iter().copied() {
            let with = |change: fn(&mut Evidence)| {
                let mut one = OutcomeV1::made_up(Agent::Sweet, TODAY, Vec::new());
                change(&mut one.evidence);
                standing(skill, &[], &[one]).runs
            };
            assert_eq!(with(|_| {}), 1);
            let needs_time = matches!(skill, Skill::Running | Skill::Watching);
            assert_eq!(with(|evidence| evidence.real_pace = false), u32::from(!needs_time), "{skill:?}");
            assert_eq!(with(|evidence| evidence.hints = 1), 0);
            assert_eq!(with(|evidence| evidence.help = Help::Guided), 0);
            assert_eq!(with(|evidence| evidence.whole = false), 0);
            assert_eq!(with(|evidence| evidence.agent = Agent::Bitter), 0);
            assert_eq!(with(|evidence| evidence.skills = Default::default()), 0);
        }
    }

    #[test]
    fn what_runs_showed_is_added_up() {
        let shown = standing(Skill::Facepiece, &[], &enough());
        assert_eq!((shown.shown, shown.runs), (Tally { kept: 15, came_up: 20 }, 5));
        let kept = shown.kept().unwrap();
        assert!(kept.low < 0.75 && 0.75 < kept.high);
        assert_eq!(standing(Skill::Facepiece, &[], &[]).kept(), None);
    }
}
