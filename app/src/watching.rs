//! A colleague's run as it is watched: the clock that lets it go on, the marks made beside it, and what has to be kept.
//!
//! Pure: wall time comes in with each action, so all of it is tested natively.

use crate::session::Halt;
use bittersweet_core::{
    observe::{Colleague, Mark, Slip},
    run::Run,
    scenario::Scenario,
    units::Ms,
    wire::{
        run_v1::Pace,
        watch_v1::{self, HeaderV1, LineV1, Restored},
    },
};
use serde::{Deserialize, Serialize};
use std::rc::Rc;
use yew::Reducible;

/// Without a tick for longer than this, nobody is looking: the clock stops.
const AWAY_AFTER_MS: u64 = 1_500;

/// The paces at which a run can be watched.
pub(crate) const PACES: [Pace; 3] = [Pace::Real, Pace::Double, Pace::Fourfold];

/// A colleague's run as it is watched.
#[derive(Clone, Debug)]
pub(crate) struct Watching {
    /// Its id on this device.
    pub(crate) id: String,
    /// When it began, by the wall clock; for people to read.
    pub(crate) started: String,
    /// The marks that stand, in the order in which they were made.
    pub(crate) marks: Vec<Mark>,
    /// What has to be kept, in order.
    pub(crate) ledger: Vec<LineV1>,
    /// How many lines of it came from the store.
    pub(crate) kept_before: usize,
    /// The pace.
    pub(crate) pace: Pace,
    /// Why the clock stands still, if it does.
    pub(crate) halt: Option<Halt>,
    /// The moment that is being given a name; meanwhile the clock stands still too.
    pub(crate) naming: Option<Ms>,
    colleague: Colleague,
    anchor: Ms,
    anchor_wall: u64,
    last_wall: u64,
}

/// A watched run on its way from one screen to another: its marks, what is to be kept of them, and where its clock stands.
/// No file: it is read where it was written, by the same version.
#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct LeftWatch {
    pub(crate) id: String,
    header: String,
    marks: Vec<String>,
    reached: u32,
    lines: Vec<String>,
    kept_before: usize,
    pace: String,
    halt: Option<Halt>,
    naming: Option<u32>,
    anchor: (u32, u64, u64),
}

/// What can happen. `u64` is wall time in milliseconds.
#[derive(Clone, Debug)]
pub(crate) enum Action {
    /// Time has passed.
    Tick(u64),
    /// The clock is to stop.
    Halt(u64),
    /// It is to go on.
    Go(u64),
    /// The pace is to be another.
    SetPace(Pace, u64),
    /// On to what happens next.
    Step(u64),
    /// Something is wrong, now.
    Wrong(u64),
    /// This is what is wrong.
    Name(Slip, u64),
    /// Nothing is, after all.
    NeverMind(u64),
    /// The mark in this place is taken back.
    TakeBack(usize),
}

impl Watching {
    /// A colleague's run from its beginning; the clock waits. `None` where nobody's acts are in the scenario.
    pub(crate) fn begin(id: String, started: String, scenario: Rc<Scenario>, wall: u64) -> Option<Self> {
        let colleague = Colleague::new(scenario)?;
        Some(Self::laid(id, started, colleague, Vec::new(), Halt::Paused, wall))
    }

    /// As it was kept; the clock waits.
    pub(crate) fn resume(id: String, restored: Restored, lines: usize, wall: u64) -> Self {
        let Restored { colleague, marks, started } = restored;
        Self { kept_before: lines, ..Self::laid(id, started, colleague, marks, Halt::Resumed, wall) }
    }

    /// As it is left for another screen.
    pub(crate) fn left(&self) -> Option<LeftWatch> {
        let written = |lines: &mut dyn Iterator<Item = LineV1>| -> Option<Vec<String>> {
            lines.map(|line| serde_json::to_string(&line).ok()).collect()
        };
        Some(LeftWatch {
            id: self.id.clone(),
            header: serde_json::to_string(&HeaderV1::new(self.scenario(), self.started.clone())).ok()?,
            marks: written(&mut self.marks.iter().copied().map(LineV1::from))?,
            reached: self.run().now().0,
            lines: written(&mut self.ledger.iter().cloned())?,
            kept_before: self.kept_before,
            pace: self.pace.code().to_owned(),
            halt: self.halt,
            naming: self.naming.map(|at| at.0),
            anchor: (self.anchor.0, self.anchor_wall, self.last_wall),
        })
    }

    /// A watched run that another screen left.
    pub(crate) fn taken_up(left: LeftWatch) -> Option<Self> {
        let Restored { colleague, marks, started } =
            watch_v1::restore(&left.header, &left.marks, Ms(left.reached)).ok()?;
        let ledger: Result<Vec<LineV1>, _> = left.lines.iter().map(|line| serde_json::from_str(line)).collect();
        let (anchor, anchor_wall, last_wall) = left.anchor;
        Some(Self {
            ledger: ledger.ok()?,
            kept_before: left.kept_before,
            pace: Pace::from_code(&left.pace)?,
            halt: left.halt,
            naming: left.naming.map(Ms),
            anchor: Ms(anchor),
            last_wall,
            ..Self::laid(left.id, started, colleague, marks, Halt::Resumed, anchor_wall)
        })
    }

    fn laid(id: String, started: String, colleague: Colleague, marks: Vec<Mark>, halt: Halt, wall: u64) -> Self {
        Self {
            id,
            started,
            marks,
            ledger: Vec::new(),
            kept_before: 0,
            pace: Pace::Real,
            halt: (!colleague.is_done()).then_some(halt),
            naming: None,
            anchor: colleague.run().now(),
            anchor_wall: wall,
            last_wall: wall,
            colleague,
        }
    }

    /// The run as far as it has gone.
    pub(crate) fn run(&self) -> &Run {
        self.colleague.run()
    }

    /// The scenario.
    pub(crate) fn scenario(&self) -> &Rc<Scenario> {
        self.run().scenario()
    }

    /// Whether the colleague's last act is done.
    pub(crate) fn is_done(&self) -> bool {
        self.colleague.is_done()
    }

    /// Whether time goes on.
    pub(crate) fn is_running(&self) -> bool {
        self.halt.is_none() && self.naming.is_none() && !self.is_done()
    }

    /// How many lines there are to keep, those from the store included.
    pub(crate) fn lines(&self) -> usize {
        self.kept_before + self.ledger.len()
    }

    fn anchor(&mut self, wall: u64) {
        self.anchor = self.run().now();
        self.anchor_wall = wall;
        self.last_wall = wall;
    }

    fn tick(&mut self, wall: u64) {
        if !self.is_running() {
            return;
        }
        if wall.saturating_sub(self.last_wall) > AWAY_AFTER_MS {
            self.halt = Some(Halt::Away);
            return;
        }
        self.last_wall = wall;
        let passed = wall.saturating_sub(self.anchor_wall).saturating_mul(u64::from(self.pace.factor()));
        let to = self.anchor.plus(Ms(u32::try_from(passed).unwrap_or(u32::MAX)));
        self.colleague.advance(to);
        // Where the colleague let time pass, the clock has jumped and goes on from there.
        if self.run().now() > to {
            self.anchor(wall);
        }
    }

    fn name(&mut self, slip: Slip, wall: u64) {
        if let Some(at) = self.naming.take() {
            let mark = Mark { at, slip };
            self.marks.push(mark);
            self.ledger.push(mark.into());
            self.anchor(wall);
        }
    }

    fn take_back(&mut self, place: usize) {
        if place < self.marks.len() {
            self.marks.remove(place);
            self.ledger.push(LineV1::back(place));
        }
    }

    fn act(&mut self, action: Action) {
        match action {
            Action::Tick(wall) => self.tick(wall),
            Action::Halt(wall) => {
                self.tick(wall);
                self.halt = Some(Halt::Paused);
            }
            Action::Go(wall) => {
                self.halt = None;
                self.anchor(wall);
            }
            Action::SetPace(pace, wall) => {
                self.tick(wall);
                self.pace = pace;
                self.anchor(wall);
            }
            Action::Step(wall) => {
                self.naming = None;
                self.colleague.step();
                self.anchor(wall);
            }
            Action::Wrong(wall) => {
                self.tick(wall);
                self.naming = self.naming.or(Some(self.run().now()));
            }
            Action::Name(slip, wall) => self.name(slip, wall),
            Action::NeverMind(wall) => {
                self.naming = None;
                self.anchor(wall);
            }
            Action::TakeBack(place) => self.take_back(place),
        }
    }
}

/// The place from which one watches: at most one run is seen from it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Lookout {
    /// What is watched, if something is.
    pub(crate) watching: Option<Rc<Watching>>,
}

/// What can happen there.
#[derive(Clone, Debug)]
pub(crate) enum LookoutAction {
    /// A run is to be watched.
    Watch(Box<Watching>),
    /// It is watched no more: it is another window's, or another learner practises.
    Clear,
    /// Something happens to it.
    Watching(Action),
}

impl PartialEq for Lookout {
    fn eq(&self, other: &Self) -> bool {
        match (&self.watching, &other.watching) {
            (Some(ours), Some(theirs)) => Rc::ptr_eq(ours, theirs),
            (None, None) => true,
            _ => false,
        }
    }
}

impl Reducible for Lookout {
    type Action = LookoutAction;

    fn reduce(self: Rc<Self>, action: Self::Action) -> Rc<Self> {
        match action {
            LookoutAction::Watch(watching) => Rc::new(Self { watching: Some(Rc::new(*watching)) }),
            LookoutAction::Clear => Rc::default(),
            LookoutAction::Watching(action) => {
                let Some(watching) = &self.watching else { return self };
                if matches!(action, Action::Tick(_)) && !watching.is_running() {
                    return self;
                }
                let mut next = (**watching).clone();
                next.act(action);
                Rc::new(Self { watching: Some(Rc::new(next)) })
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{
        log::What,
        scenarios::BUILT_IN,
        wire::{scenario_v1, watch_v1},
    };

    fn watching() -> Watching {
        let (_, text) = BUILT_IN.iter().find(|(id, _)| *id == "watch-joinery").unwrap();
        let scenario = Rc::new(scenario_v1::parse(text).unwrap());
        let mut watching = Watching::begin("one".to_owned(), String::new(), scenario, 1_000).unwrap();
        watching.act(Action::Go(1_000));
        watching
    }

    #[test]
    fn it_waits_until_it_is_let_run() {
        let (_, text) = BUILT_IN.iter().find(|(id, _)| *id == "watch-joinery").unwrap();
        let scenario = Rc::new(scenario_v1::parse(text).unwrap());
        let mut watching = Watching::begin("one".to_owned(), String::new(), scenario, 1_000).unwrap();
        watching.act(Action::Tick(2_000));
        assert_eq!((watching.run().now(), watching.halt), (Ms::ZERO, Some(Halt::Paused)));
    }

    #[test]
    fn the_colleague_acts_as_time_passes_at_its_pace() {
        let mut watching = watching();
        watching.act(Action::SetPace(Pace::Fourfold, 1_000));
        watching.act(Action::Tick(2_000));
        assert_eq!(watching.run().now(), Ms::secs(4));
        assert_eq!(watching.run().acts().count(), 1);
    }

    #[test]
    fn while_something_is_named_the_clock_stands_still_and_then_goes_on() {
        let mut watching = watching();
        watching.act(Action::Tick(2_000));
        watching.act(Action::Wrong(2_500));
        watching.act(Action::Tick(60_000));
        watching.act(Action::Name(Slip::Clearance, 61_000));
        assert_eq!(watching.marks, [Mark { at: Ms(1_500), slip: Slip::Clearance }]);
        watching.act(Action::Tick(61_500));
        assert_eq!((watching.run().now(), watching.halt), (Ms(2_000), None));
    }

    #[test]
    fn a_moment_that_was_nothing_leaves_no_mark() {
        let mut watching = watching();
        watching.act(Action::Wrong(1_500));
        watching.act(Action::NeverMind(9_000));
        assert_eq!((watching.marks.len(), watching.lines(), watching.is_running()), (0, 0, true));
    }

    #[test]
    fn after_a_wait_of_the_colleague_the_clock_goes_on_from_there() {
        let mut watching = watching();
        let waits = |watching: &Watching| {
            let entry = watching.run().log().last().copied();
            entry.is_some_and(|entry| matches!(entry.what, What::Act(bittersweet_core::act::Act::Wait(_))))
        };
        while !waits(&watching) {
            watching.act(Action::Step(2_000));
        }
        let after = watching.run().now();
        watching.act(Action::Tick(2_400));
        assert_eq!(watching.run().now(), after.plus(Ms(400)));
    }

    #[test]
    fn a_page_nobody_looks_at_stands_still() {
        let mut watching = watching();
        watching.act(Action::Tick(1_100));
        watching.act(Action::Tick(60_000));
        assert_eq!((watching.run().now(), watching.halt), (Ms(100), Some(Halt::Away)));
    }

    #[test]
    fn what_was_kept_comes_back_as_it_was() {
        let mut before = watching();
        before.act(Action::Wrong(1_400));
        before.act(Action::Name(Slip::Mouth, 2_000));
        before.act(Action::Wrong(2_400));
        before.act(Action::Name(Slip::Gear, 3_000));
        before.act(Action::TakeBack(0));
        let header = HeaderV1::new(before.scenario(), String::new());
        let lines: Vec<String> = before.ledger.iter().map(|line| serde_json::to_string(line).unwrap()).collect();
        let header = serde_json::to_string(&header).unwrap();
        let restored = watch_v1::restore(&header, &lines, before.run().now()).unwrap();
        let after = Watching::resume("one".to_owned(), restored, lines.len(), 9);
        assert_eq!(after.marks, before.marks);
        assert_eq!(after.run().log(), before.run().log());
        assert_eq!((after.run().now(), after.halt), (before.run().now(), Some(Halt::Resumed)));
        assert_eq!(after.lines(), 3);
    }

    #[test]
    fn what_is_left_for_another_screen_is_taken_up_as_it_was() {
        let mut before = watching();
        before.act(Action::Wrong(1_400));
        before.act(Action::Name(Slip::Mouth, 2_000));
        before.kept_before = 1;
        before.ledger.clear();
        before.act(Action::SetPace(Pace::Fourfold, 2_200));
        before.act(Action::TakeBack(0));
        before.act(Action::Wrong(2_400));
        let text = serde_json::to_string(&before.left().unwrap()).unwrap();
        let mut after = Watching::taken_up(serde_json::from_str(&text).unwrap()).unwrap();
        assert_eq!((after.run().log(), after.run().now()), (before.run().log(), before.run().now()));
        assert_eq!((&after.id, after.pace, after.halt, after.naming), ((&before.id), before.pace, None, before.naming));
        assert_eq!((&after.marks, after.lines(), &after.ledger), (&before.marks, 2, &before.ledger));
        for watching in [&mut before, &mut after] {
            watching.act(Action::Name(Slip::Gear, 3_000));
            watching.act(Action::Tick(3_500));
        }
        assert_eq!((&after.marks, after.run().now()), (&before.marks, before.run().now()));
    }
}
