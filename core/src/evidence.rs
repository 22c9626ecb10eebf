//! What a run is evidence of: how it was made, and how each thing that came up in it was met.
//!
//! Nothing here says what the evidence is enough for, and nothing knows a date.

use crate::{
    act::{Act, Verdict},
    judge::Mark,
    log::{Entry, What},
    met::{self, Met},
    review::{Called, Finding, Review, Tally, Watch},
    rulebook::{Agent, RuleId, Rulebook},
    scenario::Scenario,
    source::{Gravity, Skill},
    state::{About, State},
    trouble::{Group, Kind, Moment},
    units::Ms,
    wire::run_v1::{Conditions, Help, Pace},
};

/// Where an event came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// It came up: a kind of the catalogue.
    Came(Kind),
    /// The conductor's own mistake, which spoilt an attempt or put somebody at risk; the first rule broken by it.
    Made(RuleId),
}

impl Origin {
    /// The code that stands for it in files: a kind's, or a rule's, which has a full stop in it.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Came(kind) => kind.code(),
            Self::Made(rule) => rule.code(),
        }
    }

    /// What stands under this code, if anything does.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Kind::from_code(code).map(Self::Came).or_else(|| RuleId::from_code(code).map(Self::Made))
    }
}

/// Something that had to be met, and was met well or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Event {
    /// Where it came from.
    pub origin: Origin,
    /// What matters: caught. What is harmless: let pass. An own mistake: put right in time.
    pub well: bool,
}

impl Event {
    /// Whether it does not matter to the test, so that the right answer is to go on.
    #[must_use]
    pub fn is_harmless(self) -> bool {
        matches!(self.origin, Origin::Came(kind) if kind.entry().group == Group::Harmless)
    }

    /// Whether overlooking it would spoil a result or put somebody at risk, in a test with this agent.
    #[must_use]
    pub fn is_grave(self, agent: Agent) -> bool {
        let is_top = |rule: &RuleId| Rulebook::us(agent).rule(*rule).is_some_and(|rule| rule.gravity.is_top());
        match self.origin {
            Origin::Came(kind) => !self.is_harmless() && kind.entry().breaks.iter().any(is_top),
            Origin::Made(_) => true,
        }
    }
}

/// So many events are kept of one run, the first ones; no run that anybody makes has as many.
pub const MOST_EVENTS: usize = 100;

/// What a run is evidence of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Evidence {
    /// Of a test with which agent.
    pub agent: Agent,
    /// With how much help.
    pub help: Help,
    /// How many hints were asked for.
    pub hints: u32,
    /// Whether it was made at real pace throughout, and no time was let pass under the hood, where there is something to watch.
    pub real_pace: bool,
    /// Whether it was begun anew, came to a result, and was ended.
    pub whole: bool,
    /// What had to be met: what came up first, then own mistakes.
    pub events: Vec<Event>,
    /// How often each skill's rules came up and were kept, in the order of [`Skill::ALL`].
    pub skills: [Tally; Skill::ALL.len()],
    /// Results given.
    pub given: u32,
    /// Those of them that were right.
    pub right: u32,
    /// The gravest finding that stands, and how grave it was.
    pub gravest: Option<(RuleId, Gravity)>,
    /// What was noticed and what was made too much of.
    pub watch: Watch,
}

impl Evidence {
    /// What this log is evidence of; `None` where a colleague made the acts.
    #[must_use]
    pub fn of(scenario: &Scenario, log: &[Entry], review: &Review, conditions: &Conditions) -> Option<Self> {
        if scenario.colleague.is_some() {
            return None;
        }
        let (state, looked_away) = watched(scenario.agent, log);
        let right = review.calls.iter().filter(|call| call.is_right()).count();
        Some(Self {
            agent: scenario.agent,
            help: conditions.help,
            hints: count(conditions.hints.len()),
            real_pace: !looked_away && is_real(&conditions.paces),
            whole: review.finished && conditions.again_from.is_none() && !review.calls.is_empty(),
            events: events(scenario, &state, review),
            skills: skills(review),
            given: count(review.calls.len()),
            right: count(right),
            gravest: review.findings.first().map(|finding| (finding.rule, finding.gravity)),
            watch: review.watch,
        })
    }

    /// Whether nothing told the conductor what to do.
    #[must_use]
    pub fn is_unaided(&self) -> bool {
        self.help == Help::Unaided && self.hints == 0
    }

    /// Whether it shows what somebody does in a test as it is: whole, unaided, at real pace.
    #[must_use]
    pub fn is_as_in_earnest(&self) -> bool {
        self.whole && self.is_unaided() && self.real_pace
    }

    /// Whether a result was spoilt or somebody put at risk, and it stands.
    #[must_use]
    pub fn is_spoilt(&self) -> bool {
        self.gravest.is_some_and(|(_, gravity)| gravity.is_top())
    }
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// The state after the log, and whether time was let pass under the hood.
fn watched(agent: Agent, log: &[Entry]) -> (State, bool) {
    let mut state = State::new(agent);
    let mut looked_away = false;
    for entry in log {
        looked_away |= state.hood.is_some() && matches!(entry.what, What::Act(Act::Wait(_)));
        state.apply(*entry);
    }
    (state, looked_away)
}

/// Whether the pace was real from the beginning on. One that was changed again at the same moment was never in force.
fn is_real(paces: &[(Ms, Pace)]) -> bool {
    let next = paces.iter().skip(1).map(|(at, _)| Some(*at)).chain([None]);
    let in_force = paces.iter().zip(next).filter(|((at, _), next)| next.is_none_or(|next| next > *at));
    paces.first().is_some_and(|(at, _)| *at == Ms::ZERO)
        && in_force.into_iter().all(|((_, pace), _)| *pace == Pace::Real)
}

fn skills(review: &Review) -> [Tally; Skill::ALL.len()] {
    let mut tallies = [Tally::default(); Skill::ALL.len()];
    for (tally, skill) in tallies.iter_mut().zip(Skill::ALL) {
        *tally = review.skills.get(skill).copied().unwrap_or_default();
    }
    tallies
}

fn events(scenario: &Scenario, state: &State, review: &Review) -> Vec<Event> {
    let mut events = Vec::new();
    // What is told already by what came up: rules that were put right, and attempts that were spoilt by it.
    let mut explained: Vec<RuleId> = Vec::new();
    let mut abouts: Vec<About> = Vec::new();
    for met in met::met(scenario, state) {
        let harmless = met.kind.entry().group == Group::Harmless;
        let met_well = if harmless { let_pass(met, review) } else { caught(met, review) };
        if let Some(well) = met_well {
            events.push(Event { origin: Origin::Came(met.kind), well });
            if !harmless {
                let rules = met.kind.entry().breaks;
                explained.extend(rules);
                abouts.extend(standing(review, rules, met.at.unwrap_or(Ms::ZERO)).map(|finding| finding.about));
            }
        }
    }
    // One event an attempt, however many rules a mistake breaks in it: what stands before what was put right.
    let book = scenario.rulebook();
    let left = review.findings.iter().filter(|finding| finding.gravity.is_top()).map(|finding| (finding, false));
    let was_grave = |rule: RuleId| book.rule(rule).is_some_and(|rule| rule.gravity.is_top());
    let is_told = |rule: RuleId| explained.contains(&rule);
    let put_right = review.put_right.iter().filter(|finding| was_grave(finding.rule) && !is_told(finding.rule));
    for (finding, well) in left.chain(put_right.map(|finding| (finding, true))) {
        if !abouts.contains(&finding.about) {
            abouts.push(finding.about);
            events.push(Event { origin: Origin::Made(finding.rule), well });
        }
    }
    events.truncate(MOST_EVENTS);
    events
}

/// Where one of these rules was broken, for good, at `from` or later.
fn standing<'a>(review: &'a Review, rules: &'a [RuleId], from: Ms) -> impl Iterator<Item = &'a Finding> {
    let of_these =
        move |finding: &&Finding| rules.contains(&finding.rule) && finding.times.iter().any(|at| *at >= from);
    review.findings.iter().filter(of_these)
}

/// Whether something that matters was caught; `None` where nothing hung on it. What never showed can only be missed: whoever
/// did right there did not know it.
fn caught(met: Met, review: &Review) -> Option<bool> {
    let rules = met.kind.entry().breaks;
    if standing(review, rules, met.at.unwrap_or(Ms::ZERO)).next().is_some() {
        return Some(false);
    }
    let at = met.at?;
    let kept = review.marks.iter().any(|mark| mark.at >= at && rules.contains(&mark.rule));
    // Some of them leave no mark where the test was rightly not made, or ended, over them.
    let ends = |call: &Called| call.at >= at && call.is_right() && !matches!(call.given, Verdict::Pass | Verdict::Fail);
    // What others want once there is a result is refused by ending the run without it.
    let refused = review.finished && met.kind.entry().arises.contains(&Moment::Result);
    (kept || refused || review.calls.iter().any(ends)).then_some(true)
}

/// Whether something harmless was let pass; `None` where nothing came of it either way.
fn let_pass(met: Met, review: &Review) -> Option<bool> {
    const WITHOUT_NEED: [RuleId; 3] = [RuleId::WatchOvercall, RuleId::ResultInvalid, RuleId::ResultUntasted];
    let at = met.at?;
    // The mark of what was let pass stands at the moment at which it showed.
    let passed = |mark: &Mark| mark.kept && mark.rule == RuleId::WatchOvercall && mark.at == at;
    if review.marks.iter().any(passed) {
        return Some(true);
    }
    standing(review, &WITHOUT_NEED, at).next().map(|_| false)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        act::Bar,
        hint::{Depth, Hint},
        sign::{Seen, Sign},
        unannounced,
    };

    #[test]
    fn a_pace_that_was_never_in_force_does_no_harm() {
        let at = Ms::secs;
        let (real, fast) = (Pace::Real, Pace::Double);
        assert!(is_real(&[(at(0), real)]));
        assert!(is_real(&[(at(0), fast), (at(0), real)]));
        assert!(is_real(&[(at(0), real), (at(9), fast), (at(9), real)]));
        assert!(!is_real(&[(at(0), real), (at(9), fast), (at(10), real)]));
        assert!(!is_real(&[(at(0), real), (at(9), Pace::Stepped)]));
        assert!(!is_real(&[(at(0), fast)]));
        // Nobody knows how it began.
        assert!(!is_real(&[]) && !is_real(&[(at(1), real)]));
    }

    #[test]
    fn every_origin_has_a_code_of_its_own() {
        let kinds = Kind::ALL.iter().copied().map(Origin::Came);
        for origin in kinds.chain(RuleId::ALL.iter().copied().map(Origin::Made)) {
            assert_eq!(Origin::from_code(origin.code()), Some(origin));
        }
        assert_eq!(Origin::from_code("yawns"), None);
    }

    #[test]
    fn what_spoils_or_endangers_is_grave_and_what_is_harmless_is_not() {
        let event = |kind| Event { origin: Origin::Came(kind), well: true };
        for agent in Agent::ALL.iter().copied() {
            assert!(event(Kind::AdjustsMask).is_grave(agent) && event(Kind::ChestPain).is_grave(agent));
            assert!(!event(Kind::Undated).is_grave(agent) && !event(Kind::Coughs).is_grave(agent));
            assert!(Event { origin: Origin::Made(RuleId::FitMinute), well: false }.is_grave(agent));
        }
    }

    #[test]
    fn only_a_whole_run_without_help_at_real_pace_is_as_in_earnest() {
        let as_made = |change: &dyn Fn(&mut Conditions)| {
            let scenario = unannounced::draw_up(Agent::Sweet, 7);
            let log = [Entry::act(Ms::secs(1), Act::Give(Verdict::Invalid)), Entry::act(Ms::secs(2), Act::Finish)];
            let mut conditions = Conditions::new(Help::Unaided, Pace::Real);
            change(&mut conditions);
            let review = crate::review::review(&scenario, &log);
            Evidence::of(&scenario, &log, &review, &conditions).unwrap()
        };
        assert!(as_made(&|_| {}).is_as_in_earnest());
        let hint = Hint { at: Ms(1), depth: Depth::Think, rule: RuleId::SealLook };
        assert!(!as_made(&|conditions| conditions.hints.push(hint)).is_as_in_earnest());
        assert!(!as_made(&|conditions| conditions.help = Help::OnRequest).is_as_in_earnest());
        assert!(!as_made(&|conditions| conditions.paces.push((Ms(5), Pace::Fourfold))).is_as_in_earnest());
        assert!(!as_made(&|conditions| conditions.again_from = Some(Ms(1))).is_as_in_earnest());
    }

    /// A review in which nothing came up.
    fn blank() -> Review {
        Review {
            findings: Vec::new(),
            put_right: Vec::new(),
            calls: Vec::new(),
            skills: std::collections::BTreeMap::new(),
            watch: Watch::default(),
            marks: Vec::new(),
            finished: true,
        }
    }

    fn finding(rule: RuleId, at: Ms) -> Finding {
        Finding { rule, about: About::Test(0), times: vec![at], gravity: Gravity::Spoils }
    }

    fn kept(rule: RuleId, at: Ms) -> Mark {
        Mark { at, rule, about: About::Test(0), kept: true }
    }

    /// Stubble that was seen after nine seconds, and what a review makes of it.
    fn with_stubble(review: &Review) -> Vec<(Origin, bool)> {
        let scenario = unannounced::with(Agent::Sweet, 3, Kind::Stubble).unwrap();
        let log = [Entry::act(Ms::secs(9), Act::LookAtFace), Entry::sign(Ms::secs(9), Sign::Seen(Seen::FaceStubble))];
        let events = events(&scenario, &State::of(Agent::Sweet, &log), review);
        events.into_iter().map(|event| (event.origin, event.well)).collect()
    }

    const STUBBLE: Origin = Origin::Came(Kind::Stubble);

    #[test]
    fn what_was_broken_before_something_showed_was_not_broken_by_missing_it() {
        let own = finding(RuleId::SealHair, Ms::secs(8));
        let review = Review { findings: vec![own], marks: vec![kept(RuleId::SealLook, Ms::secs(9))], ..blank() };
        assert_eq!(with_stubble(&review), [(STUBBLE, true), (Origin::Made(RuleId::SealHair), false)]);
        let review = Review { findings: vec![finding(RuleId::SealHair, Ms::secs(9))], ..blank() };
        assert_eq!(with_stubble(&review), [(STUBBLE, false)]);
    }

    #[test]
    fn what_was_called_before_something_showed_was_not_called_over_it() {
        let barred = Verdict::NotTested(Bar::Seal);
        let called = |at| Called { about: About::Day, at, given: barred, accepted: vec![barred], unfinished: false };
        let after = |at| with_stubble(&Review { calls: vec![called(at)], ..blank() });
        assert_eq!(after(Ms::secs(8)), []);
        assert_eq!(after(Ms::secs(9)), [(STUBBLE, true)]);
    }

    #[test]
    fn what_was_put_right_is_told_once_and_only_where_it_was_grave() {
        let put_right = |rule| {
            let (put_right, marks) = (vec![finding(rule, Ms::secs(20))], vec![kept(RuleId::SealLook, Ms::secs(9))]);
            with_stubble(&Review { put_right, marks, ..blank() })
        };
        assert_eq!(put_right(RuleId::SealHair), [(STUBBLE, true)]);
        assert_eq!(put_right(RuleId::FitMinute), [(STUBBLE, true), (Origin::Made(RuleId::FitMinute), true)]);
        let departure = RuleId::WatchOvercall;
        assert_eq!(put_right(departure), [(STUBBLE, true)]);
    }

    #[test]
    fn an_attempt_that_was_spoilt_is_one_event_whatever_else_was_put_right_in_it() {
        let at = Ms::secs(5);
        let review = Review {
            findings: vec![finding(RuleId::FitMinute, at), finding(RuleId::FitTopUp, at)],
            put_right: vec![finding(RuleId::FitHalf, at)],
            ..blank()
        };
        assert_eq!(with_stubble(&review), [(Origin::Made(RuleId::FitMinute), false)]);
    }
}
