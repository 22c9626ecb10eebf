//! A run at the desk: the core's run, the clock that feeds it time, and what has to be kept.
//!
//! Pure: wall time comes in with each action, so all of it is tested natively.

use bittersweet_core::{
    act::Act,
    guide::{self, Step},
    hint::{self, Hint},
    log::Entry,
    rulebook,
    run::{Refusal, Run},
    scenario::Scenario,
    units::Ms,
    wire::{
        ledger_v1::{self, HeaderV1, LineV1, Restored},
        run_v1::{Conditions, Help, Opened, Pace},
    },
};
use serde::{Deserialize, Serialize};
use std::rc::Rc;
use yew::{AttrValue, Reducible};

/// Without a tick for longer than this, nobody is looking: the clock stops.
const AWAY_AFTER_MS: u64 = 1_500;

/// A line of the ledger, as it happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    Act(Ms, Act),
    Pace(Ms, Pace),
    Hint(Hint),
}

impl Line {
    /// As it is written.
    pub(crate) fn written(self) -> LineV1 {
        match self {
            Self::Act(at, act) => LineV1::act(at, act),
            Self::Pace(at, pace) => LineV1::pace(at, pace),
            Self::Hint(hint) => LineV1::hint(hint),
        }
    }
}

/// Why the clock stands still.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Halt {
    /// The trainee stopped it.
    Paused,
    /// The page was not being looked at.
    Away,
    /// It was just opened again.
    Resumed,
}

/// An act that was refused.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Refused {
    /// Which, and why.
    pub(crate) refusal: Refusal,
    /// The change that would have been: the same act refused again is another.
    pub(crate) revision: u32,
    /// How many entries the log had: what came later is news.
    pub(crate) entries: usize,
}

/// A run at the desk.
#[derive(Clone, Debug)]
pub(crate) struct Session {
    /// Its id on this device.
    pub(crate) id: String,
    /// When it began, by the wall clock; for people to read.
    pub(crate) started: String,
    /// The run.
    pub(crate) run: Run,
    /// What was recorded, where today's engine would have shown something else; then there is no going on.
    pub(crate) recorded: Option<Vec<Entry>>,
    /// Help and paces.
    pub(crate) conditions: Conditions,
    /// What has to be kept, in order.
    pub(crate) ledger: Vec<Line>,
    /// How many lines of it came from the store.
    pub(crate) kept_before: usize,
    /// The id of the assessment that it is a part of: then time cannot be stopped, nor its pace changed.
    pub(crate) set: Option<AttrValue>,
    /// The act refused last, until the next one.
    pub(crate) refused: Option<Refused>,
    /// Why the clock stands still, if it does.
    pub(crate) halt: Option<Halt>,
    /// Counts up with every change except the passing of time.
    pub(crate) revision: u32,
    anchor: Ms,
    anchor_wall: u64,
    last_wall: u64,
}

/// A run on its way from one screen to another: its ledger, and where its clock stands. No file: it is read where it was
/// written, by the same version.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct LeftRun {
    pub(crate) id: String,
    header: String,
    lines: Vec<String>,
    reached: u32,
    kept: bool,
    /// Whether there is no going on.
    ended: bool,
    /// Whether today's engine would have shown something else: then it cannot be taken up from this.
    pub(crate) recorded: bool,
    halt: Option<Halt>,
    anchor: (u32, u64, u64),
}

/// What can happen to a session. `u64` is wall time in milliseconds.
#[derive(Clone, Debug)]
pub(crate) enum Action {
    Do(Act, u64),
    Tick(u64),
    Halt(u64),
    Go(u64),
    SetPace(Pace, u64),
    Ask(u64),
}

impl Session {
    /// A new run.
    pub(crate) fn begin(
        id: String,
        started: String,
        scenario: Rc<Scenario>,
        help: Help,
        pace: Pace,
        wall: u64,
    ) -> Self {
        Self {
            id,
            started,
            run: Run::new(scenario),
            recorded: None,
            conditions: Conditions::new(help, pace),
            ledger: vec![Line::Pace(Ms::ZERO, pace)],
            kept_before: 0,
            set: None,
            refused: None,
            halt: None,
            revision: 0,
            anchor: Ms::ZERO,
            anchor_wall: wall,
            last_wall: wall,
        }
    }

    /// The same as a part of an assessment.
    pub(crate) fn of_set(self, set: AttrValue) -> Self {
        Self { set: Some(set), ..self }
    }

    /// A run as it was kept, `away` milliseconds of wall time later; its clock waits for the trainee. That of an assessment
    /// went on.
    pub(crate) fn resume(id: String, restored: Restored, away: u64, wall: u64) -> Self {
        let Restored { run, conditions, started, set } = restored;
        let lines = run.acts().count() + conditions.paces.len() + conditions.hints.len();
        let mut session = Self { kept_before: lines, ..Self::laid(id, started, run, None, conditions, wall) };
        if let Some(set) = set {
            session = Self { halt: None, ..session.of_set(set.into()) };
            let passed = away.saturating_mul(u64::from(session.pace().factor()));
            let to = session.run.now().plus(Ms(u32::try_from(passed).unwrap_or(u32::MAX)));
            session.run.advance(to);
            session.anchor(wall);
        }
        session
    }

    /// A run gone on with from an earlier moment of this one, new to this device; its clock waits for the trainee.
    pub(crate) fn again_from(&self, moment: Ms, id: String, started: String, wall: u64) -> Self {
        Self::laid(id, started, self.run.until(moment), None, self.conditions.until(moment), wall)
    }

    /// A run from a file, new to this device.
    pub(crate) fn open(id: String, started: String, opened: Opened, wall: u64) -> Self {
        let Opened { scenario, mut conditions, log, run } = opened;
        match run {
            Some(run) => {
                // Whoever goes on with it here may not have begun it.
                if run.state().finished.is_none() {
                    conditions.again_from = conditions.again_from.or(Some(run.now()));
                }
                Self::laid(id, started, run, None, conditions, wall)
            }
            None => Self::laid(id, started, Run::new(scenario), Some(log), conditions, wall),
        }
    }

    /// As it is left for another screen; `kept` where all of it was handed to the store.
    pub(crate) fn left(&self, kept: bool) -> Option<LeftRun> {
        Some(LeftRun {
            id: self.id.clone(),
            header: serde_json::to_string(&self.header()).ok()?,
            lines: self.lines(0)?,
            reached: self.run.now().0,
            kept,
            ended: self.is_finished() || self.recorded.is_some(),
            recorded: self.recorded.is_some(),
            halt: self.halt,
            anchor: (self.anchor.0, self.anchor_wall, self.last_wall),
        })
    }

    /// A run that another screen left. One that has not begun yet begins now.
    pub(crate) fn taken_up(left: LeftRun, wall: u64) -> Option<Self> {
        let LeftRun { id, header, lines, reached, kept, recorded, halt, anchor, .. } = left;
        if recorded {
            return None;
        }
        let Restored { run, conditions, started, set } = ledger_v1::restore(&header, &lines, Ms(reached)).ok()?;
        let laid = Self { set: set.map(AttrValue::from), halt, ..Self::laid(id, started, run, None, conditions, wall) };
        let kept_before = if kept { laid.ledger.len() } else { 0 };
        if laid.run.now() == Ms::ZERO && halt.is_none() {
            return Some(Self { kept_before, ..laid });
        }
        let (anchor, anchor_wall, last_wall) = anchor;
        Some(Self { kept_before, anchor: Ms(anchor), anchor_wall, last_wall, ..laid })
    }

    /// The header of its ledger.
    pub(crate) fn header(&self) -> HeaderV1 {
        HeaderV1 {
            set: self.set.as_ref().map(ToString::to_string),
            ..HeaderV1::new(self.scenario(), &self.conditions, self.started.clone())
        }
    }

    /// The lines of its ledger from number `from` on, as they are written.
    pub(crate) fn lines(&self, from: usize) -> Option<Vec<String>> {
        let lines = self.ledger.get(from..).unwrap_or_default();
        lines.iter().map(|line| serde_json::to_string(&line.written()).ok()).collect()
    }

    fn laid(
        id: String,
        started: String,
        run: Run,
        recorded: Option<Vec<Entry>>,
        conditions: Conditions,
        wall: u64,
    ) -> Self {
        let mut ledger: Vec<Line> = conditions.paces.iter().map(|(at, pace)| Line::Pace(*at, *pace)).collect();
        ledger.extend(run.acts().map(|(at, act)| Line::Act(at, act)));
        ledger.extend(conditions.hints.iter().copied().map(Line::Hint));
        let finished = run.state().finished.is_some();
        Self {
            id,
            started,
            anchor: run.now(),
            kept_before: 0,
            ledger,
            run,
            recorded,
            conditions,
            set: None,
            refused: None,
            halt: (!finished).then_some(Halt::Resumed),
            revision: 0,
            anchor_wall: wall,
            last_wall: wall,
        }
    }

    /// The scenario.
    pub(crate) fn scenario(&self) -> &Rc<Scenario> {
        self.run.scenario()
    }

    /// What was done and shown.
    pub(crate) fn log(&self) -> &[Entry] {
        self.recorded.as_deref().unwrap_or_else(|| self.run.log())
    }

    /// The pace in force.
    pub(crate) fn pace(&self) -> Pace {
        self.conditions.paces.last().map_or(Pace::Real, |(_, pace)| *pace)
    }

    /// Whether the run was ended.
    pub(crate) fn is_finished(&self) -> bool {
        self.run.state().finished.is_some()
    }

    /// Simulated time at a moment of wall time.
    fn time(&self, wall: u64) -> Ms {
        if self.halt.is_some() {
            return self.run.now();
        }
        let passed = wall.saturating_sub(self.anchor_wall).saturating_mul(u64::from(self.pace().factor()));
        let time = self.anchor.plus(Ms(u32::try_from(passed).unwrap_or(u32::MAX)));
        time.max(self.run.now())
    }

    fn anchor(&mut self, wall: u64) {
        self.anchor = self.run.now();
        self.anchor_wall = wall;
        self.last_wall = wall;
    }

    fn perform(&mut self, act: Act, wall: u64) {
        self.refused = None;
        self.revision += 1;
        let at = self.time(wall);
        // Whoever acts is there.
        self.halt = None;
        match self.run.apply(act, at) {
            Ok(_) => {
                self.ledger.push(Line::Act(at, act));
                let takes_time = self.pace() == Pace::Stepped && !matches!(act, Act::Wait(_) | Act::Finish);
                if takes_time {
                    self.run.wait(at.plus(rulebook::nominal(act.code().0)));
                }
            }
            Err(refusal) => {
                self.refused = Some(Refused { refusal, revision: self.revision, entries: self.run.log().len() });
            }
        }
        self.anchor(wall);
    }

    fn tick(&mut self, wall: u64) {
        if self.halt.is_some() || self.is_finished() {
            return;
        }
        if self.set.is_none() && wall.saturating_sub(self.last_wall) > AWAY_AFTER_MS {
            self.halt = Some(Halt::Away);
            self.revision += 1;
            return;
        }
        self.last_wall = wall;
        let to = self.time(wall);
        self.run.advance(to);
    }

    fn set_pace(&mut self, pace: Pace, wall: u64) {
        // Stepped, nothing ticks: a long thought there is no absence.
        if self.pace() != Pace::Stepped {
            self.tick(wall);
        }
        let at = self.run.now();
        self.conditions.paces.push((at, pace));
        self.ledger.push(Line::Pace(at, pace));
        self.revision += 1;
        self.anchor(wall);
    }
}

impl Session {
    /// What the book would do next, and which hint stands for it: what was asked for last, as long as it is still so.
    pub(crate) fn hint(&self) -> Option<(Hint, Step)> {
        let step = guide::next(self.scenario(), self.run.state(), self.run.now())?;
        let last = self.conditions.hints.last().copied()?;
        // Stepped, an act is done at the very moment at which the hint was asked for.
        let acted = self.run.acts().last().is_some_and(|(at, _)| at >= last.at);
        (last.rule == step.rule && !acted).then_some((last, step))
    }

    /// Asks for a hint: first what to think about, then the act.
    fn ask(&mut self, wall: u64) {
        if self.pace() != Pace::Stepped {
            self.tick(wall);
        }
        let Some(step) = guide::next(self.scenario(), self.run.state(), self.run.now()) else { return };
        // Asked again where the act stands already, it says no more and costs no more.
        let Some(depth) = hint::next(self.hint().map(|(hint, _)| hint.depth)) else { return };
        let hint = Hint { at: self.run.now(), depth, rule: step.rule };
        self.conditions.hints.push(hint);
        self.ledger.push(Line::Hint(hint));
        self.revision += 1;
    }
}

/// What lies on the desk: at most one run.
#[derive(Clone, Debug, Default)]
pub(crate) struct Desk {
    /// The run, if there is one.
    pub(crate) session: Option<Rc<Session>>,
}

/// What can happen to the desk.
#[derive(Clone, Debug)]
pub(crate) enum DeskAction {
    /// A run is laid on it.
    Lay(Box<Session>),
    /// It is cleared: the run is another window's, or another learner practises.
    Clear,
    /// Something happens to that run.
    Session(Action),
}

impl PartialEq for Desk {
    fn eq(&self, other: &Self) -> bool {
        match (&self.session, &other.session) {
            (Some(ours), Some(theirs)) => Rc::ptr_eq(ours, theirs),
            (None, None) => true,
            _ => false,
        }
    }
}

impl Reducible for Desk {
    type Action = DeskAction;

    fn reduce(self: Rc<Self>, action: Self::Action) -> Rc<Self> {
        match action {
            DeskAction::Lay(session) => Rc::new(Self { session: Some(Rc::new(*session)) }),
            DeskAction::Clear => Rc::default(),
            DeskAction::Session(action) => {
                let Some(session) = &self.session else { return self };
                let mut next = (**session).clone();
                let is_set = next.set.is_some();
                match action {
                    Action::Do(act, wall) => next.perform(act, wall),
                    Action::Tick(wall) => {
                        if next.halt.is_some() || next.is_finished() {
                            return self;
                        }
                        next.tick(wall);
                    }
                    // In an assessment time runs on, at the pace that was chosen before, and nobody helps.
                    Action::Halt(_) | Action::SetPace(..) | Action::Ask(_) if is_set => return self,
                    Action::Halt(wall) => {
                        next.tick(wall);
                        next.halt = Some(Halt::Paused);
                        next.revision += 1;
                    }
                    Action::Go(wall) => {
                        next.halt = None;
                        next.revision += 1;
                        next.anchor(wall);
                    }
                    Action::SetPace(pace, wall) => next.set_pace(pace, wall),
                    Action::Ask(wall) => next.ask(wall),
                }
                Rc::new(Self { session: Some(Rc::new(next)) })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{
        act::{Role, Topic},
        hint::Depth,
        rulebook::Agent,
        scenarios::BUILT_IN,
        trouble::{Kind, When},
        unannounced,
        wire::{ledger_v1, scenario_v1},
    };

    fn session(pace: Pace) -> Session {
        let (_, text) = BUILT_IN.first().unwrap();
        let scenario = Rc::new(scenario_v1::parse(text).unwrap());
        Session::begin("one".to_owned(), String::new(), scenario, Help::Unaided, pace, 1_000)
    }

    #[test]
    fn time_runs_at_its_pace() {
        let mut double = session(Pace::Double);
        double.tick(1_400);
        assert_eq!(double.run.now(), Ms(800));
        let mut stepped = session(Pace::Stepped);
        stepped.tick(2_000);
        assert_eq!(stepped.run.now(), Ms::ZERO);
    }

    #[test]
    fn a_change_of_pace_does_not_jump() {
        let mut session = session(Pace::Real);
        session.set_pace(Pace::Fourfold, 1_500);
        assert_eq!(session.run.now(), Ms(500));
        session.tick(1_600);
        assert_eq!(session.run.now(), Ms(900));
    }

    #[test]
    fn stepped_acts_take_their_nominal_time() {
        let mut session = session(Pace::Stepped);
        session.perform(Act::AskClearance, 5_000);
        assert_eq!(session.run.now(), rulebook::nominal("ask-clearance"));
    }

    #[test]
    fn a_stepped_act_ends_where_something_happens() {
        let comes = |seed| {
            let scenario = unannounced::with(Agent::Sweet, seed, Kind::Queue)?;
            let When::Start(at) = scenario.trouble.first()?.when else { return None };
            Some((scenario, at))
        };
        let (scenario, at) = (0..100).find_map(comes).unwrap();
        let (id, started, scenario) = ("one".to_owned(), String::new(), Rc::new(scenario));
        let mut session = Session::begin(id, started, scenario, Help::Unaided, Pace::Stepped, 1_000);
        assert!(at < rulebook::nominal("explain"));
        session.perform(Act::Explain(Topic::Duties), 5_000);
        assert_eq!(session.run.now(), at);
    }

    #[test]
    fn a_page_nobody_looks_at_stands_still() {
        let mut session = session(Pace::Real);
        session.tick(1_100);
        session.tick(60_000);
        assert_eq!((session.run.now(), session.halt), (Ms(100), Some(Halt::Away)));
    }

    #[test]
    fn a_long_thought_in_stepped_mode_is_no_absence() {
        let mut session = session(Pace::Stepped);
        session.set_pace(Pace::Real, 60_000);
        assert_eq!((session.run.now(), session.halt), (Ms::ZERO, None));
    }

    #[test]
    fn a_wait_moves_the_clock_on() {
        let mut session = session(Pace::Real);
        session.perform(Act::Wait(Ms::mins(5)), 1_200);
        session.tick(1_300);
        assert_eq!(session.run.now(), Ms::mins(5).plus(Ms(300)));
    }

    #[test]
    fn a_hint_names_what_to_think_about_before_the_act_and_is_kept() {
        let mut session = session(Pace::Real);
        session.ask(1_100);
        session.ask(1_200);
        session.ask(1_300);
        let depths: Vec<Depth> = session.conditions.hints.iter().map(|hint| hint.depth).collect();
        assert_eq!(depths, [Depth::Think, Depth::Act]);
        assert_eq!(session.hint().map(|(hint, step)| (hint.depth, step.act)), Some((Depth::Act, Act::AskClearance)));
        session.perform(Act::AskClearance, 2_000);
        assert!(session.hint().is_none(), "another step, another question");
        assert_eq!(session.ledger.iter().filter(|line| matches!(line, Line::Hint(_))).count(), 2);
    }

    /// Both nebulizers are looked at for the sake of one rule: two steps, each with its own question.
    #[test]
    fn a_rule_that_comes_round_again_is_asked_about_again() {
        let next = |session: &Session| guide::next(session.scenario(), session.run.state(), session.run.now()).unwrap();
        let depth = |session: &Session| session.hint().map(|(hint, _)| hint.depth);
        for pace in [Pace::Real, Pace::Stepped] {
            let mut session = session(pace);
            let mut wall = 1_000;
            while next(&session).act != Act::CheckNebulizer(Role::Check) {
                wall += 1_000;
                session.perform(next(&session).act, wall);
            }
            let rule = next(&session).rule;
            session.ask(wall + 100);
            session.ask(wall + 200);
            assert_eq!(depth(&session), Some(Depth::Act), "{pace:?}");
            session.perform(Act::CheckNebulizer(Role::Check), wall + 300);
            assert_eq!((next(&session).rule, next(&session).act), (rule, Act::CheckNebulizer(Role::Fit)));
            assert_eq!(depth(&session), None, "{pace:?}: nothing is shown unasked");
            session.ask(wall + 400);
            assert_eq!(depth(&session), Some(Depth::Think), "{pace:?}: the question comes first again");
        }
    }

    #[test]
    fn what_cannot_be_is_said_and_not_kept() {
        let mut session = session(Pace::Real);
        let lines = session.ledger.len();
        session.perform(Act::Squeeze, 1_100);
        let first = session.refused.map(|refused| refused.revision);
        assert!(first.is_some());
        assert_eq!(session.ledger.len(), lines);
        session.perform(Act::Squeeze, 1_150);
        assert_ne!(session.refused.map(|refused| refused.revision), first, "the same again is said again");
        session.perform(Act::Take(Role::Check), 1_200);
        assert!(session.refused.is_none());
    }

    #[test]
    fn a_kept_session_comes_back_as_it_was() {
        let mut before = session(Pace::Double);
        before.perform(Act::AskClearance, 2_000);
        before.perform(Act::Take(Role::Check), 2_600);
        before.tick(3_000);
        let header = HeaderV1::new(before.scenario(), &before.conditions, String::new());
        let lines: Vec<String> =
            before.ledger.iter().map(|line| serde_json::to_string(&line.written()).unwrap()).collect();
        let header = serde_json::to_string(&header).unwrap();
        let restored = ledger_v1::restore(&header, &lines, before.run.now()).unwrap();
        let after = Session::resume("one".to_owned(), restored, 60_000, 9);
        assert_eq!(after.run.log(), before.run.log());
        assert_eq!(after.run.now(), before.run.now());
        assert_eq!((after.pace(), after.halt), (Pace::Double, Some(Halt::Resumed)));
    }

    #[test]
    fn in_an_assessment_time_cannot_be_stopped_and_nobody_helps() {
        let desk = Rc::new(Desk { session: Some(Rc::new(session(Pace::Real).of_set("a1".into()))) });
        let then = |desk: Rc<Desk>, action| desk.reduce(DeskAction::Session(action));
        let desk = then(desk, Action::Halt(1_100));
        let desk = then(desk, Action::SetPace(Pace::Fourfold, 1_200));
        let desk = then(desk, Action::Ask(1_300));
        // Nobody looks at the page for a minute.
        let desk = then(desk, Action::Tick(61_300));
        let session = desk.session.as_ref().unwrap();
        assert_eq!((session.run.now(), session.halt), (Ms(60_300), None));
        assert!(session.conditions.hints.is_empty() && session.conditions.paces.len() == 1);
    }

    #[test]
    fn after_a_crash_no_time_is_gained_in_an_assessment() {
        let mut before = session(Pace::Double).of_set("a1".into());
        before.perform(Act::AskClearance, 2_000);
        before.tick(3_000);
        let header = HeaderV1 {
            set: Some("a1".to_owned()),
            ..HeaderV1::new(before.scenario(), &before.conditions, String::new())
        };
        let lines: Vec<String> =
            before.ledger.iter().map(|line| serde_json::to_string(&line.written()).unwrap()).collect();
        let header = serde_json::to_string(&header).unwrap();
        let restored = ledger_v1::restore(&header, &lines, before.run.now()).unwrap();
        let after = Session::resume("one".to_owned(), restored, 30_000, 9);
        assert_eq!((after.run.now(), after.halt), (before.run.now().plus(Ms::mins(1)), None));
        assert_eq!(after.set.as_deref(), Some("a1"));
    }

    /// As text and back, as it goes from one module to another.
    fn handed_over(session: &Session, kept: bool, wall: u64) -> Option<Session> {
        let text = serde_json::to_string(&session.left(kept).unwrap()).unwrap();
        Session::taken_up(serde_json::from_str(&text).unwrap(), wall)
    }

    #[test]
    fn a_session_left_for_another_screen_is_taken_up_as_it_was() {
        let mut before = session(Pace::Real).of_set("a1".into());
        before.ask(1_200);
        before.perform(Act::AskClearance, 2_000);
        before.tick(3_000);
        let after = handed_over(&before, true, 4_000).unwrap();
        assert_eq!((after.run.log(), after.run.now()), (before.run.log(), before.run.now()));
        assert_eq!((&after.id, &after.set, &after.conditions), (&before.id, &before.set, &before.conditions));
        assert_eq!((after.halt, after.kept_before), (None, after.ledger.len()), "nothing is kept twice");
        let mut later = after;
        later.tick(4_000);
        before.tick(4_000);
        assert_eq!(later.run.now(), before.run.now(), "time went on meanwhile");
    }

    #[test]
    fn what_was_not_kept_yet_is_kept_after_it_was_handed_over() {
        let mut before = session(Pace::Real);
        before.perform(Act::AskClearance, 2_000);
        let after = handed_over(&before, false, 3_000).unwrap();
        assert_eq!((after.kept_before, after.ledger.len()), (0, 2));
        assert_eq!(after.lines(0), before.lines(0));
    }

    #[test]
    fn a_run_that_has_not_begun_begins_where_it_arrives() {
        let mut after = handed_over(&session(Pace::Real), false, 60_000).unwrap();
        after.tick(60_400);
        assert_eq!((after.run.now(), after.halt), (Ms(400), None));
    }

    #[test]
    fn a_record_is_taken_up_from_no_text() {
        let mut record = session(Pace::Real);
        record.recorded = Some(Vec::new());
        assert!(handed_over(&record, false, 2_000).is_none());
    }
}
