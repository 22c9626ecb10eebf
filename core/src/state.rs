//! Where a run stands, as far as the conductor could know: the fold of its log.
//!
//! Nothing hidden is in here (what the wearer really tastes is in [`crate::wearer`]), so judging needs no more than this,
//! and an old log can be judged again whatever has become of the model.

use crate::{
    act::{Act, Aim, Exercise, Method, NextStep, Role, Slot, Threshold, Verdict},
    attempt::{Common, Done, Donning, FitTest, Question, Screening, SealCheck, Squeeze},
    log::{Entry, What},
    moments::Moments,
    rulebook::{Agent, Rulebook},
    sign::{Seen, Sign},
    units::Ms,
};
use std::collections::BTreeMap;

/// What a result or a decision was about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// Nothing that had begun: the day.
    Day,
    /// A screening, by its number from 0.
    Screening(usize),
    /// A fit test, by its number from 0.
    Test(usize),
}

/// A facepiece as far as it was looked at and looked after.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Handled {
    /// When it was first handed over.
    pub handed: Option<Ms>,
    /// When it was first inspected.
    pub inspected: Option<Ms>,
    /// A defect found.
    pub defect: Option<Ms>,
    /// Signs of earlier use found.
    pub used: Option<Ms>,
    /// When it was first disinfected.
    pub disinfected_first: Option<Ms>,
    /// When it was last disinfected.
    pub disinfected: Option<Ms>,
    /// Whether only gas cartridges were seen on it.
    pub gas_only: bool,
    /// When particulate filters were first fitted.
    pub filters_fitted: Option<Ms>,
    /// Whether it was seen to be supplied with air.
    pub positive: bool,
    /// When it was set to negative pressure.
    pub negative: Option<Ms>,
    /// When it was restored.
    pub restored: Option<Ms>,
    /// When it was set aside.
    pub aside: Option<Ms>,
}

/// Where the run stands.
///
/// ```
/// use bittersweet_core::{act::{Act, Role}, log::Entry, rulebook::Agent, state::State, units::Ms};
///
/// let log = [Entry::act(Ms::secs(1), Act::HoodOn), Entry::act(Ms::secs(2), Act::Take(Role::Check))];
/// let state = State::of(Agent::Bitter, &log);
/// assert_eq!((state.hood, state.held), (Some(Ms::secs(1)), Some(Role::Check)));
/// assert!(state.screening().is_some(), "the hood over a bare face begins a screening");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// The agent of the day.
    pub agent: Agent,
    /// Time of the last entry.
    pub now: Ms,
    /// Each act done, squeezes apart: first and last time.
    pub acts: Moments<Act>,
    /// Each sign shown: first and last time.
    pub signs: Moments<Sign>,
    /// Facepieces by place.
    pub facepieces: BTreeMap<Slot, Handled>,
    /// The facepiece handed over last, if it was not taken away.
    pub in_hand: Option<Slot>,
    /// Each time one was put on.
    pub donnings: Vec<Donning>,
    /// Since when the hood is on.
    pub hood: Option<Ms>,
    /// Whether the window is too near, as far as could be seen.
    pub hood_near: bool,
    /// The nebulizer in hand.
    pub held: Option<Role>,
    /// Where its nozzle points.
    pub aim: Aim,
    /// The last press of the bulb in hand.
    pub last_squeeze: Option<Ms>,
    /// Screenings in order.
    pub screenings: Vec<Screening>,
    /// Fit tests in order.
    pub tests: Vec<FitTest>,
    /// Results and decisions in order.
    pub verdicts: Vec<(Ms, Verdict, About)>,
    /// Decisions on what comes next.
    pub steps: Vec<(Ms, NextStep, About)>,
    /// When the run ended.
    pub finished: Option<Ms>,
}

impl State {
    /// Before anything.
    #[must_use]
    pub fn new(agent: Agent) -> Self {
        Self {
            agent,
            now: Ms::ZERO,
            acts: Moments::default(),
            signs: Moments::default(),
            facepieces: BTreeMap::new(),
            in_hand: None,
            donnings: Vec::new(),
            hood: None,
            hood_near: false,
            held: None,
            aim: Aim::AtMouth,
            last_squeeze: None,
            screenings: Vec::new(),
            tests: Vec::new(),
            verdicts: Vec::new(),
            steps: Vec::new(),
            finished: None,
        }
    }

    /// The state after a whole log.
    #[must_use]
    pub fn of(agent: Agent, log: &[Entry]) -> Self {
        let mut state = Self::new(agent);
        for entry in log {
            state.apply(*entry);
        }
        state
    }

    /// When `act` was done first.
    #[must_use]
    pub fn first(&self, act: Act) -> Option<Ms> {
        self.acts.get(act).map(|(first, _)| first)
    }

    /// When `act` was done last.
    #[must_use]
    pub fn last(&self, act: Act) -> Option<Ms> {
        self.acts.get(act).map(|(_, last)| last)
    }

    /// When an act like this was done first.
    #[must_use]
    pub fn first_like(&self, like: impl Fn(Act) -> bool) -> Option<Ms> {
        self.acts.iter().filter(|(act, _)| like(**act)).map(|(_, (first, _))| *first).min()
    }

    /// When an act like this was done last.
    #[must_use]
    pub fn last_like(&self, like: impl Fn(Act) -> bool) -> Option<Ms> {
        self.acts.iter().filter(|(act, _)| like(**act)).map(|(_, (_, last))| *last).max()
    }

    /// When `seen` was shown first.
    #[must_use]
    pub fn shown(&self, seen: Seen) -> Option<Ms> {
        self.signs.get(Sign::Seen(seen)).map(|(first, _)| first)
    }

    /// When `seen` was shown last.
    #[must_use]
    pub fn shown_last(&self, seen: Seen) -> Option<Ms> {
        self.signs.get(Sign::Seen(seen)).map(|(_, last)| last)
    }

    /// The facepiece on the face.
    #[must_use]
    pub fn worn(&self) -> Option<&Donning> {
        self.donnings.last().filter(|donning| donning.off.is_none())
    }

    /// What is known of the facepiece in a place.
    #[must_use]
    pub fn handled(&self, slot: Slot) -> Handled {
        self.facepieces.get(&slot).copied().unwrap_or_default()
    }

    /// The screening going on.
    #[must_use]
    pub fn screening(&self) -> Option<&Screening> {
        self.screenings.last().filter(|screening| screening.common.is_open())
    }

    /// The fit test going on.
    #[must_use]
    pub fn test(&self) -> Option<&FitTest> {
        self.tests.last().filter(|test| test.common.is_open())
    }

    /// The exercise going on.
    #[must_use]
    pub fn exercise(&self) -> Option<Exercise> {
        self.test().and_then(FitTest::going_on).map(|done| done.exercise)
    }

    /// What an attempt has in common with every other; nothing for the day.
    #[must_use]
    pub fn common(&self, about: About) -> Option<&Common> {
        match about {
            About::Day => None,
            About::Screening(number) => self.screenings.get(number).map(|screening| &screening.common),
            About::Test(number) => self.tests.get(number).map(|test| &test.common),
        }
    }

    /// The threshold that stands for the next test: of the last screening, unless it has to be done again.
    #[must_use]
    pub fn threshold(&self) -> Option<Threshold> {
        if self.must_screen() { None } else { self.screenings.last().and_then(Screening::threshold) }
    }

    /// The threshold from which the squeezes of `test` are counted: the one that stood when its exercises began (noted later
    /// it helps the next test only) or, where none was noted, the one that its screening showed.
    #[must_use]
    pub fn counted_from(&self, book: &Rulebook, test: &FitTest) -> Option<Threshold> {
        let screening = self.screenings.get(test.screening?)?;
        screening.threshold_at(test.begun().unwrap_or(test.common.from)).or_else(|| screening.class(book))
    }

    /// Whether the last decision asks for a screening that has not begun yet.
    #[must_use]
    pub fn must_screen(&self) -> bool {
        let asked = self
            .steps
            .iter()
            .rev()
            .find(|(_, step, _)| matches!(step, NextStep::OtherFacepiece | NextStep::ScreenAgain));
        asked.is_some_and(|(at, ..)| self.screenings.last().is_none_or(|screening| screening.common.from < *at))
    }

    /// Takes the next entry of the log. Entries come in order of time; what cannot be is ignored, since the run refused it.
    pub fn apply(&mut self, entry: Entry) {
        self.now = entry.at;
        match entry.what {
            What::Act(act) => self.apply_act(act, entry.at),
            What::Sign(sign) => self.apply_sign(sign, entry.at),
        }
    }

    fn apply_act(&mut self, act: Act, at: Ms) {
        if act == Act::Squeeze {
            self.squeeze(at);
            return;
        }
        self.acts.note(act, at);
        self.note_in_attempt(act, at);
        match act {
            Act::HandOver(slot) => {
                self.in_hand = Some(slot);
                self.facepieces.entry(slot).or_default().handed.get_or_insert(at);
            }
            Act::InspectFacepiece => self.handle(|handled| handled.inspected = handled.inspected.or(Some(at))),
            Act::FitFilters => self.handle(|handled| handled.filters_fitted = handled.filters_fitted.or(Some(at))),
            Act::SetNegative => self.handle(|handled| handled.negative = Some(at)),
            Act::RestoreMode => self.handle(|handled| handled.restored = Some(at)),
            Act::Disinfect => self.handle(|handled| {
                handled.disinfected_first = handled.disinfected_first.or(Some(at));
                handled.disinfected = Some(at);
            }),
            Act::SetAside => {
                self.handle(|handled| handled.aside = Some(at));
                self.in_hand = None;
            }
            Act::Don(hands) => self.don(hands == crate::act::Hands::Helped, at),
            Act::Doff => self.doff(at),
            Act::CheckAdequacy => self.wear(|donning| donning.adequacy = Some(at)),
            Act::FixStraps => self.wear(|donning| donning.fixed = Some(at)),
            Act::SeatMask => self.wear(|donning| donning.seated = Some(at)),
            Act::SealCheck(method) => self.wear(|donning| {
                let seated = donning.seated.is_some();
                donning.seal_checks.push(SealCheck { at, full_method: method != Method::Quick, holds: true, seated });
            }),
            Act::GearOn => self.wear(|donning| donning.gear = Some(at)),
            Act::ReviewComfort => self.wear(|donning| {
                donning.comfort = donning.comfort.or(Some((at, true)));
                donning.comfort_last = Some((at, true));
            }),
            Act::HoodOn => self.hood_on(at),
            Act::HoodOff => {
                // Taken off by the conductor, it ends the exercise that went on; whether that had its time is judged.
                self.end(at);
                self.hood_off(at);
            }
            Act::SetGap => self.hood_near = false,
            Act::Take(role) => {
                self.held = Some(role);
                self.aim = Aim::AtMouth;
                self.last_squeeze = None;
            }
            Act::PutDown => self.held = None,
            Act::Aim(aim) => self.aim = aim,
            Act::NoteThreshold(threshold) => self.note_threshold(threshold, at),
            Act::Begin(exercise) => self.begin(exercise, at),
            Act::End | Act::Stop => self.end(at),
            Act::Give(verdict) => self.give(verdict, at),
            Act::Next(step) => self.next(step, at),
            Act::Finish => {
                self.end(at);
                self.close_attempts(at);
                self.finished = Some(at);
            }
            Act::Squeeze
            | Act::AskClearance
            | Act::ReadQuestionnaire
            | Act::ReturnQuestionnaire
            | Act::AskMouth
            | Act::AskWell(_)
            | Act::LookAtFace
            | Act::ClearSeal
            | Act::AskGear
            | Act::AskWorkFacepiece
            | Act::CheckUse
            | Act::CheckNebulizer(_)
            | Act::LabelNebulizer(_)
            | Act::RinseNebulizer(_)
            | Act::CheckBottle(_)
            | Act::FreshBottle(_)
            | Act::FillNebulizer(_)
            | Act::TestSpray(_)
            | Act::ClearNebulizer(_)
            | Act::CheckHood
            | Act::WipeHood
            | Act::GlovesOn
            | Act::GlovesOff
            | Act::Explain(_)
            | Act::GiveMirror
            | Act::HearBack
            | Act::AgreeSignals
            | Act::CountAsTraining
            | Act::Ask(_)
            | Act::AnswerSignal
            | Act::GiveWater
            | Act::WipeFace
            | Act::LetChoose
            | Act::HoldToFace
            | Act::NoteRunnerUp
            | Act::Remind(_)
            | Act::Note(_)
            | Act::CallHelp
            | Act::TellResult(_)
            | Act::TellScope
            | Act::Record(_)
            | Act::SignUntested
            | Act::AdmitSecond
            | Act::Wait(_) => {}
        }
    }

    #[expect(clippy::wildcard_enum_match_arm, reason = "most of a hundred signs are kept and change nothing else")]
    fn apply_sign(&mut self, sign: Sign, at: Ms) {
        self.signs.note(sign, at);
        let Sign::Seen(seen) = sign else { return };
        if let Some(common) = self.attempt() {
            common.signs.push((at, seen));
        }
        match seen {
            Seen::SpraysShort => self.press_of(at, |squeeze| squeeze.full = false),
            Seen::SpraysNothing => self.press_of(at, |squeeze| squeeze.sprayed = false),
            Seen::HoodNear | Seen::HoodSlidesNear => self.hood_near = true,
            Seen::HoodRight => self.hood_near = false,
            Seen::TakesHoodOff | Seen::LiftsHood => self.hood_off(at),
            Seen::StrapTwisted | Seen::StrapsTight | Seen::NosepieceFlat => {
                self.wear(|donning| donning.fault = donning.fault.or(Some((at, seen))));
            }
            Seen::SealLeaks => self.wear(|donning| {
                if let Some(check) = donning.seal_checks.last_mut() {
                    check.holds = false;
                }
            }),
            Seen::SaysUncomfortable => self.wear(|donning| {
                donning.comfort_last = Some((at, false));
                if let Some((first, fine)) = &mut donning.comfort
                    && *first == at
                {
                    *fine = false;
                }
            }),
            Seen::ValveMissing | Seen::FilterAskew | Seen::StrapCracked => {
                self.handle(|handled| handled.defect = handled.defect.or(Some(at)));
            }
            Seen::FacepieceUsed => self.handle(|handled| handled.used = handled.used.or(Some(at))),
            Seen::FiltersGasOnly => self.handle(|handled| handled.gas_only = true),
            Seen::AirSupplied => self.handle(|handled| handled.positive = true),
            _ => {}
        }
    }

    /// The attempt going on: the fit test if there is one, else the screening.
    fn attempt(&mut self) -> Option<&mut Common> {
        if let Some(test) = self.tests.last_mut().filter(|test| test.common.is_open()) {
            return Some(&mut test.common);
        }
        self.screenings.last_mut().map(|screening| &mut screening.common).filter(|common| common.is_open())
    }

    /// What a result or a decision made now is about.
    #[must_use]
    pub fn about(&self) -> About {
        if self.test().is_some() {
            About::Test(self.tests.len() - 1)
        } else if self.screening().is_some() {
            About::Screening(self.screenings.len() - 1)
        } else {
            About::Day
        }
    }

    fn note_in_attempt(&mut self, act: Act, at: Ms) {
        if let Act::Ask(manner) = act
            && let Some(common) = self.attempt()
        {
            let after = common.squeezes.len();
            common.questions.push(Question { at, manner, after });
        }
        if let Some(common) = self.attempt() {
            common.acts.push((at, act));
        }
    }

    fn handle(&mut self, change: impl FnOnce(&mut Handled)) {
        if let Some(slot) = self.in_hand {
            change(self.facepieces.entry(slot).or_default());
        }
    }

    fn wear(&mut self, change: impl FnOnce(&mut Donning)) {
        if let Some(donning) = self.donnings.last_mut().filter(|donning| donning.off.is_none()) {
            change(donning);
        }
    }

    /// The press that was answered just now; a test spray into the air is none.
    fn press_of(&mut self, at: Ms, change: impl FnOnce(&mut Squeeze)) {
        let last = self.attempt().and_then(|common| common.squeezes.last_mut());
        if let Some(squeeze) = last.filter(|squeeze| squeeze.at == at) {
            change(squeeze);
        }
    }

    fn don(&mut self, helped: bool, at: Ms) {
        let Some(slot) = self.in_hand else { return };
        self.donnings.push(Donning {
            slot,
            at,
            helped,
            off: None,
            seated: None,
            seal_checks: Vec::new(),
            fault: None,
            fixed: None,
            adequacy: None,
            comfort: None,
            comfort_last: None,
            gear: None,
        });
        // A screening ends where the facepiece goes on, so what follows is not laid to it.
        if let Some(screening) = self.screenings.last_mut().filter(|screening| !screening.noted.is_empty()) {
            screening.common.closed.get_or_insert(at);
        }
    }

    fn doff(&mut self, at: Ms) {
        self.wear(|donning| donning.off = Some(at));
        self.end(at);
    }

    fn hood_on(&mut self, at: Ms) {
        self.hood = Some(at);
        self.hood_near = false;
        if self.worn().is_some() {
            if !self.goes_on() {
                self.close_open_test(at);
                self.open_test(at, true);
            }
        } else {
            self.open_screening(at);
        }
    }

    /// Whether the open test is in the middle of its exercises, with the facepiece it was begun with, so that the hood
    /// going on again is its going on. In the middle it is, too, where the hood came off in the last one.
    fn goes_on(&self) -> bool {
        let worn = self.worn().and(self.donnings.len().checked_sub(1));
        self.test().is_some_and(|test| {
            let midway = !test.exercises.is_empty() && (test.hood_off.is_some() || !test.has_all_seven());
            test.common.verdict.is_none() && midway && test.donning == worn
        })
    }

    fn hood_off(&mut self, at: Ms) {
        self.hood = None;
        if let Some(test) = self.tests.last_mut().filter(|test| test.common.is_open()) {
            let all_done = test.has_all_seven() && test.ended().is_some();
            if !test.exercises.is_empty() && !all_done {
                test.hood_off.get_or_insert(at);
            }
        }
        self.end(at);
    }

    fn open_screening(&mut self, at: Ms) {
        self.close_attempts(at);
        self.screenings.push(Screening { common: Common { from: at, ..Common::default() }, noted: Vec::new() });
    }

    fn open_test(&mut self, at: Ms, hooded: bool) {
        let screening = if self.must_screen() { None } else { self.screenings.len().checked_sub(1) };
        if let Some(screening) = self.screenings.last_mut() {
            screening.common.closed.get_or_insert(at);
        }
        let donning = self.worn().and(self.donnings.len().checked_sub(1));
        self.tests.push(FitTest {
            common: Common { from: at, ..Common::default() },
            donning,
            screening,
            hooded,
            ..FitTest::default()
        });
    }

    fn close_open_test(&mut self, at: Ms) {
        if let Some(test) = self.tests.last_mut() {
            test.common.closed.get_or_insert(at);
        }
    }

    fn close_attempts(&mut self, at: Ms) {
        self.close_open_test(at);
        if let Some(screening) = self.screenings.last_mut() {
            screening.common.closed.get_or_insert(at);
        }
    }

    /// A press belongs to the test where the face is masked and there is a threshold to test from, or the fit test
    /// nebulizer is in hand; otherwise to a screening.
    fn squeeze(&mut self, at: Ms) {
        let Some(role) = self.held else { return };
        let masked = self.worn().is_some();
        let for_test = masked && (role == Role::Fit || self.threshold().is_some());
        if for_test && self.test().is_none() {
            self.open_test(at, self.hood.is_some());
        }
        if !for_test && self.screening().is_none() {
            self.open_screening(at);
        }
        let squeeze = Squeeze { at, role, full: true, sprayed: true, aim: self.aim, hood: self.hood.is_some(), masked };
        self.last_squeeze = Some(at);
        if let Some(common) = self.attempt() {
            common.squeezes.push(squeeze);
        }
    }

    fn note_threshold(&mut self, threshold: Threshold, at: Ms) {
        if self.test().is_none() && (self.screenings.is_empty() || self.must_screen()) {
            self.open_screening(at);
        }
        if let Some(screening) = self.screenings.last_mut() {
            screening.noted.push((at, threshold));
        }
    }

    fn begin(&mut self, exercise: Exercise, at: Ms) {
        self.end(at);
        if self.test().is_none() {
            self.open_test(at, self.hood.is_some());
        } else if exercise == Exercise::NormalBreathing {
            self.start_over(at);
        }
        if let Some(test) = self.tests.last_mut() {
            if test.hood_off.is_some() {
                test.resumed.get_or_insert(at);
            }
            test.exercises.push(Done { exercise, from: at, to: None });
        }
    }

    /// After the hood came off in the middle, the first exercise is a new start and no going on: what was sprayed since the
    /// hood went on again belongs to it.
    fn start_over(&mut self, at: Ms) {
        let Some(test) = self.tests.last_mut().filter(|test| test.hood_off.is_some() && test.resumed.is_none()) else {
            return;
        };
        let from = self.hood.unwrap_or(at);
        let common = &mut test.common;
        common.closed = Some(from);
        let squeezes = common.squeezes.extract_if(.., |squeeze| squeeze.at >= from).collect();
        let questions = common.questions.extract_if(.., |question| question.at >= from).collect();
        let signs = common.signs.extract_if(.., |(at, _)| *at >= from).collect();
        let acts = common.acts.extract_if(.., |(at, _)| *at >= from).collect();
        self.open_test(from, self.hood.is_some());
        if let Some(test) = self.tests.last_mut() {
            test.common = Common { squeezes, questions, signs, acts, ..std::mem::take(&mut test.common) };
        }
    }

    fn end(&mut self, at: Ms) {
        if let Some(done) = self.tests.last_mut().and_then(|test| test.exercises.last_mut()) {
            done.to.get_or_insert(at);
        }
    }

    fn give(&mut self, verdict: Verdict, at: Ms) {
        let about = match self.about() {
            // Thought better of it: the result of the last attempt is given anew.
            About::Day if verdict.is_of_an_attempt() => self.last_attempt(),
            about @ (About::Day | About::Screening(_) | About::Test(_)) => about,
        };
        self.end(at);
        self.verdicts.push((at, verdict, about));
        if let Some(common) = self.common_mut(about) {
            common.verdict = Some((at, verdict));
        }
        // A pass waits for the hood to come off: a taste told then still counts.
        if verdict != Verdict::Pass || self.hood.is_none() {
            self.close_attempts(at);
        }
    }

    /// The attempt that was closed last, unless it was decided to test again.
    fn last_attempt(&self) -> About {
        let tests = self.tests.iter().enumerate().map(|(number, test)| (&test.common, About::Test(number)));
        let screenings =
            self.screenings.iter().enumerate().map(|(number, screening)| (&screening.common, About::Screening(number)));
        tests
            .chain(screenings)
            .max_by_key(|(common, about)| (common.from, *about))
            .filter(|(common, _)| common.next.is_none_or(|(_, step)| !step.is_again()))
            .map_or(About::Day, |(_, about)| about)
    }

    fn common_mut(&mut self, about: About) -> Option<&mut Common> {
        match about {
            About::Day => None,
            About::Screening(number) => self.screenings.get_mut(number).map(|screening| &mut screening.common),
            About::Test(number) => self.tests.get_mut(number).map(|test| &mut test.common),
        }
    }

    fn next(&mut self, step: NextStep, at: Ms) {
        let about = match self.about() {
            About::Day => self.verdicts.last().map_or(About::Day, |(.., about)| *about),
            about @ (About::Screening(_) | About::Test(_)) => about,
        };
        self.end(at);
        if let Some(common) = self.common_mut(about) {
            common.next = Some((at, step));
        }
        self.steps.push((at, step, about));
        if step.is_again() {
            self.close_attempts(at);
        }
    }
}
