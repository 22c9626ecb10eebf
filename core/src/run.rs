//! A run: the conductor's acts meet the wearer, and the log grows.
//!
//! Time comes in with each act; nothing here reads a clock. What a trainee may do wrongly is done and judged later; only
//! what cannot be is refused, and a refused act changes nothing.

use crate::{
    act::Act,
    coded::coded,
    log::{Entry, What},
    scenario::Scenario,
    sign::Seen,
    state::State,
    units::Ms,
    wearer::Wearer,
};
use std::{fmt, rc::Rc};

coded! {
    /// Why an act cannot be.
    Reason {
        /// Its time is before that of the last entry.
        TimeRunsBack = "time-runs-back",
        /// The run has ended.
        Ended = "ended",
        /// The hood is on already.
        HoodIsOn = "hood-is-on",
        /// The hood is not on.
        HoodIsOff = "hood-is-off",
        /// The hood is in the way.
        HoodInTheWay = "hood-in-the-way",
        /// Nothing is held.
        NothingHeld = "nothing-held",
        /// That one is held already.
        HeldAlready = "held-already",
        /// No facepiece was handed over.
        NoFacepiece = "no-facepiece",
        /// The rack has no such place.
        NoSuchPlace = "no-such-place",
        /// A facepiece is on.
        FacepieceIsOn = "facepiece-is-on",
        /// No facepiece is on.
        FacepieceIsOff = "facepiece-is-off",
        /// No exercise is going on.
        NoExercise = "no-exercise",
        /// Nobody has held out a questionnaire.
        NoQuestionnaire = "no-questionnaire",
        /// There is nothing to convert on it.
        NothingToConvert = "nothing-to-convert",
        /// The wearer has nothing of the kind here.
        NoGear = "no-gear",
        /// Gloves are on already, or off already.
        GlovesAreSo = "gloves-are-so",
        /// The log is full.
        LogFull = "log-full",
    }
}

/// An act that cannot be, and why. The run is unchanged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// The act.
    pub act: Act,
    /// Why it cannot be.
    pub reason: Reason,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "act `{}` cannot be: {}", self.act.code().0, self.reason.code())
    }
}

impl std::error::Error for Refusal {}

/// How many entries a log can have; a whole test with everything in it has about four hundred.
pub const MOST_ENTRIES: usize = 5_000;

/// Room kept at the end of a log: more than any act is answered with.
const MOST_ANSWERS: usize = 20;

/// A run going on.
///
/// ```
/// use bittersweet_core::{act::Act, run::Run, scenarios, sign::Seen, units::Ms, wire::scenario_v1};
/// use std::rc::Rc;
///
/// let (_, text) = scenarios::BUILT_IN[0];
/// let mut run = Run::new(Rc::new(scenario_v1::parse(text)?));
/// run.apply(Act::AskClearance, Ms::secs(2)).expect("one can always ask");
/// assert!(run.state().shown(Seen::SaysCleared).is_some());
/// // Nothing is in hand yet, so this cannot be, and it leaves no trace.
/// assert!(run.apply(Act::Squeeze, Ms::secs(3)).is_err());
/// assert_eq!(run.acts().count(), 1);
/// # Ok::<(), bittersweet_core::wire::Faults>(())
/// ```
#[derive(Clone, Debug)]
pub struct Run {
    scenario: Rc<Scenario>,
    state: State,
    wearer: Wearer,
    log: Vec<Entry>,
    now: Ms,
}

impl Run {
    /// A run of `scenario`, before anything.
    #[must_use]
    pub fn new(scenario: Rc<Scenario>) -> Self {
        let state = State::new(scenario.agent);
        let wearer = Wearer::new(&scenario);
        Self { scenario, state, wearer, log: Vec::new(), now: Ms::ZERO }
    }

    /// The run that these acts make.
    ///
    /// # Errors
    /// The first act that cannot be.
    pub fn replay(scenario: Rc<Scenario>, acts: &[(Ms, Act)]) -> Result<Self, Refusal> {
        let mut run = Self::new(scenario);
        for (at, act) in acts {
            run.apply(*act, *at)?;
        }
        Ok(run)
    }

    /// The scenario.
    #[must_use]
    pub const fn scenario(&self) -> &Rc<Scenario> {
        &self.scenario
    }

    /// Where it stands.
    #[must_use]
    pub const fn state(&self) -> &State {
        &self.state
    }

    /// What was done and shown.
    #[must_use]
    pub fn log(&self) -> &[Entry] {
        &self.log
    }

    /// The acts alone, with their times.
    pub fn acts(&self) -> impl Iterator<Item = (Ms, Act)> + '_ {
        self.log.iter().filter_map(|entry| match entry.what {
            What::Act(act) => Some((entry.at, act)),
            What::Sign(_) => None,
        })
    }

    /// The time up to which everything has happened.
    #[must_use]
    pub const fn now(&self) -> Ms {
        self.now
    }

    /// Aerosol in the hood, in squeezes of check solution: for drawing the mist.
    #[must_use]
    pub fn mist(&self) -> f64 {
        if self.state.hood.is_some() { self.wearer.level(self.now) } else { 0.0 }
    }

    /// Aerosol inside the facepiece, in squeezes of check solution, as the teaching model has it: for the review.
    #[must_use]
    pub fn in_mask(&self) -> f64 {
        self.wearer.in_mask(&self.scenario, &self.state, self.now)
    }

    /// The run as it stood at an earlier moment, with what was done up to then. A wait that went beyond is left out, and the
    /// time passed all the same.
    #[must_use]
    pub fn until(&self, moment: Ms) -> Self {
        let mut earlier = Self::new(Rc::clone(&self.scenario));
        for (at, act) in self.acts().take_while(|(at, _)| *at <= moment) {
            if !matches!(act, Act::Wait(length) if at.plus(length) > moment) {
                // What could be done then can be done again.
                let _ = earlier.apply(act, at);
            }
        }
        earlier.advance(moment);
        earlier
    }

    /// What each squeeze brought into the hood, in squeezes of check solution: hidden while the run goes on, and for the
    /// teaching model's figures after it.
    #[must_use]
    pub fn puffs(&self) -> &[(Ms, f64)] {
        self.wearer.puffs()
    }

    /// Does `act` at `at`: first everything that comes before it, then the act and its answer.
    ///
    /// # Errors
    /// If the act cannot be: it leaves no trace, though time has passed up to `at` (unless it runs back).
    pub fn apply(&mut self, act: Act, at: Ms) -> Result<&[Entry], Refusal> {
        if at < self.now {
            return Err(Refusal { act, reason: Reason::TimeRunsBack });
        }
        let known = self.log.len();
        self.advance(at);
        // What happened meanwhile can make the act impossible, so it is looked at only now.
        if let Some(reason) = self.hindrance(act) {
            return Err(Refusal { act, reason });
        }
        self.push(Entry::act(at, act));
        for sign in self.wearer.respond(&self.scenario, &self.state, act, at) {
            self.push(Entry::sign(at, sign));
        }
        if let Act::Wait(length) = act {
            self.wait(at.plus(length));
        }
        Ok(self.log.get(known..).unwrap_or_default())
    }

    /// Lets time pass up to `to`, or until the wearer does something: nobody looks away from that.
    pub fn wait(&mut self, to: Ms) {
        match self.wearer.unasked(&self.scenario, &self.state, self.now, to) {
            Some(entry) => self.advance(entry.at),
            None => self.advance(to),
        };
    }

    /// Lets time pass up to `to`; what the wearer does unasked joins the log. In pieces it is the same as at once.
    pub fn advance(&mut self, to: Ms) -> &[Entry] {
        let known = self.log.len();
        // Time that has passed does not pass again.
        let to = to.max(self.now);
        while self.state.finished.is_none() && self.log.len() + 1 < MOST_ENTRIES {
            let Some(entry) = self.wearer.unasked(&self.scenario, &self.state, self.now, to) else { break };
            self.now = entry.at;
            self.push(entry);
            self.wearer.happened(&self.scenario, &self.state, entry);
        }
        if to > self.now {
            self.now = to;
        }
        self.log.get(known..).unwrap_or_default()
    }

    fn push(&mut self, entry: Entry) {
        self.log.push(entry);
        self.state.apply(entry);
    }

    /// Why `act` cannot be now; `None` if it can.
    #[must_use]
    pub fn hindrance(&self, act: Act) -> Option<Reason> {
        let state = &self.state;
        if state.finished.is_some() {
            return Some(Reason::Ended);
        }
        // Room is kept for the answers of this act and for the last one, so that a full log can still be ended.
        if self.log.len() + MOST_ANSWERS > MOST_ENTRIES && act != Act::Finish {
            return Some(Reason::LogFull);
        }
        let unless = |met: bool, reason: Reason| (!met).then_some(reason);
        let masked = state.worn().is_some();
        let hooded = state.hood.is_some();
        match act {
            Act::HoodOn => unless(!hooded, Reason::HoodIsOn),
            Act::HoodOff | Act::SetGap => unless(hooded, Reason::HoodIsOff),
            Act::Take(role) => unless(state.held != Some(role), Reason::HeldAlready),
            Act::PutDown | Act::Aim(_) | Act::Squeeze => unless(state.held.is_some(), Reason::NothingHeld),
            Act::HandOver(slot) => unless(self.scenario.facepiece(slot).is_some(), Reason::NoSuchPlace)
                .or_else(|| unless(!masked, Reason::FacepieceIsOn)),
            Act::InspectFacepiece | Act::FitFilters | Act::SetAside => {
                unless(state.in_hand.is_some(), Reason::NoFacepiece)
            }
            Act::Disinfect => {
                unless(state.in_hand.is_some(), Reason::NoFacepiece).or_else(|| unless(!masked, Reason::FacepieceIsOn))
            }
            Act::SetNegative | Act::RestoreMode => {
                let convertible =
                    state.in_hand.and_then(|slot| self.scenario.facepiece(slot)).map(|piece| piece.class.is_positive());
                match convertible {
                    None => Some(Reason::NoFacepiece),
                    Some(false) => Some(Reason::NothingToConvert),
                    Some(true) => None,
                }
            }
            Act::Don(_) => unless(state.in_hand.is_some(), Reason::NoFacepiece)
                .or_else(|| unless(!masked, Reason::FacepieceIsOn))
                .or_else(|| unless(!hooded, Reason::HoodInTheWay)),
            Act::Doff | Act::SeatMask | Act::SealCheck(_) => {
                unless(masked, Reason::FacepieceIsOff).or_else(|| unless(!hooded, Reason::HoodInTheWay))
            }
            Act::GearOn => unless(!self.scenario.person.gear.is_empty(), Reason::NoGear)
                .or_else(|| unless(masked, Reason::FacepieceIsOff))
                .or_else(|| unless(!hooded, Reason::HoodInTheWay)),
            Act::HoldToFace | Act::LetChoose => {
                unless(!masked, Reason::FacepieceIsOn).or_else(|| unless(!hooded, Reason::HoodInTheWay))
            }
            Act::CheckAdequacy | Act::FixStraps => unless(masked, Reason::FacepieceIsOff),
            Act::ReviewComfort => unless(!state.donnings.is_empty(), Reason::NoFacepiece),
            Act::GiveWater | Act::WipeFace | Act::ClearSeal => unless(!hooded, Reason::HoodInTheWay),
            Act::WipeHood => unless(!hooded, Reason::HoodIsOn),
            Act::End => unless(state.exercise().is_some(), Reason::NoExercise),
            Act::ReadQuestionnaire | Act::ReturnQuestionnaire => {
                unless(state.shown(Seen::OffersQuestionnaire).is_some(), Reason::NoQuestionnaire)
            }
            Act::GlovesOn | Act::GlovesOff => {
                let on = state.last(Act::GlovesOn) > state.last(Act::GlovesOff);
                unless(on == (act == Act::GlovesOff), Reason::GlovesAreSo)
            }
            Act::AskClearance
            | Act::AskMouth
            | Act::AskWell(_)
            | Act::LookAtFace
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
            | Act::Explain(_)
            | Act::GiveMirror
            | Act::HearBack
            | Act::AgreeSignals
            | Act::CountAsTraining
            | Act::Ask(_)
            | Act::AnswerSignal
            | Act::NoteThreshold(_)
            | Act::NoteRunnerUp
            | Act::Begin(_)
            | Act::Remind(_)
            | Act::Note(_)
            | Act::Stop
            | Act::CallHelp
            | Act::Give(_)
            | Act::Next(_)
            | Act::TellResult(_)
            | Act::TellScope
            | Act::Record(_)
            | Act::SignUntested
            | Act::AdmitSecond
            | Act::Wait(_)
            | Act::Finish => None,
        }
    }
}
