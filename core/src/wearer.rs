//! The simulated wearer and the room, hidden from the trainee: what the state of a run cannot show.
//!
//! It answers acts at once ([`Wearer::respond`]) and acts unasked as time passes ([`Wearer::unasked`]). Both depend on
//! nothing but the scenario and what was done, so a run replays to the same signs.

mod nebulizer;
mod tongue;

use crate::{
    act::{Act, Exercise, Manner, Reminder, Role, Slot, Topic},
    facepiece::{Class, Condition, Facepiece, Filters, Straps},
    log::{Entry, What},
    rulebook::Rulebook,
    scenario::{Clearance, Face, Scenario},
    sign::{Mouthful, Seen, Sign},
    state::State,
    trouble::{Kind, When},
    units::Ms,
};
use nebulizer::{Clog, Nebulizer};
use tongue::Tongue;

/// What a wearer keeps to themselves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Hides {
    Nothing,
    /// A taste, behind a face that was pulled.
    Taste,
}

/// The person in the hood, and the things around them.
#[derive(Clone, Debug)]
pub struct Wearer {
    tongue: Tongue,
    drop_on_face: bool,
    hood_damp: bool,
    seal_covered: bool,
    agent_on_fingers: bool,
    gloves: bool,
    salty: Option<bool>,
    plastic: bool,
    straps_fixed: bool,
    sitting: bool,
    hides: Hides,
    owned_up: bool,
    check: Nebulizer,
    fit: Nebulizer,
    used: Vec<bool>,
    gas_only: Vec<bool>,
    negative: Vec<bool>,
    /// Which pieces of trouble have come.
    come: Vec<bool>,
}

impl Wearer {
    /// The wearer and the room of a scenario, before anything.
    #[must_use]
    pub fn new(scenario: &Scenario) -> Self {
        let nebulizer = |role: Role| Nebulizer::found(role, &scenario.bench.nebulizer(role));
        Self {
            tongue: Tongue::new(scenario),
            drop_on_face: false,
            hood_damp: scenario.bench.hood_damp,
            seal_covered: matches!(scenario.person.face, Face::TempleBar | Face::Covering),
            agent_on_fingers: false,
            gloves: false,
            salty: None,
            plastic: false,
            straps_fixed: false,
            sitting: false,
            hides: Hides::Nothing,
            owned_up: false,
            check: nebulizer(Role::Check),
            fit: nebulizer(Role::Fit),
            used: scenario.rack.iter().map(|facepiece| facepiece.used).collect(),
            gas_only: scenario.rack.iter().map(|facepiece| facepiece.filters == Filters::GasOnly).collect(),
            negative: scenario.rack.iter().map(|facepiece| !facepiece.class.is_positive()).collect(),
            come: vec![false; scenario.trouble.len()],
        }
    }

    /// The level in the hood at `at`, in squeezes of check solution: for the drawing of mist only.
    #[must_use]
    pub fn level(&self, at: Ms) -> f64 {
        self.tongue.air_at(at).level
    }

    /// Aerosol inside the facepiece, in squeezes of check solution; none where no facepiece is on.
    #[must_use]
    pub fn in_mask(&self, scenario: &Scenario, state: &State, at: Ms) -> f64 {
        match state.worn().and_then(|donning| Some((scenario.facepiece(donning.slot)?, donning.slot))) {
            Some((facepiece, slot)) if state.hood.is_some() => {
                self.tongue.air_at(at).level / self.fit(facepiece, slot, state)
            }
            _ => 0.0,
        }
    }

    /// What each squeeze brought into the hood so far, in squeezes of check solution.
    #[must_use]
    pub fn puffs(&self) -> &[(Ms, f64)] {
        self.tongue.puffs()
    }

    /// What the conductor is shown on doing `act` at `at`. `state` is the one after the act.
    pub fn respond(&mut self, scenario: &Scenario, state: &State, act: Act, at: Ms) -> Vec<Sign> {
        let mut signs = Vec::new();
        match act {
            Act::AskClearance => signs.push(self.clearance(scenario, state)),
            Act::ReadQuestionnaire => signs.push(Sign::Seen(Seen::ReadsHealth)),
            Act::ReturnQuestionnaire => signs.push(Sign::Seen(Seen::SaysCleared)),
            Act::AskMouth => signs.push(by_mouth(scenario, at)),
            Act::AskWell(company) => signs.push(Sign::Seen(match (company, scenario.person.well) {
                (crate::act::Company::Public, _) => Seen::LooksRound,
                (crate::act::Company::Private, true) => Seen::SaysWell,
                (crate::act::Company::Private, false) => Seen::SaysRatherNot,
            })),
            Act::LookAtFace => signs.push(self.face(scenario)),
            Act::ClearSeal => signs.push(self.clear_seal(scenario)),
            Act::AskGear => signs.extend(gear(scenario)),
            Act::AskWorkFacepiece => signs.push(match scenario.person.at_work {
                Some(slot) => Sign::FacepieceAtWork(slot),
                None => Sign::Seen(Seen::SaysNoFacepiece),
            }),
            Act::CheckUse => signs.push(Sign::ExposureTimes(scenario.exposure_times)),
            Act::CheckNebulizer(role) => {
                self.come_unseen(scenario, state, at);
                signs.extend(self.nebulizer(role).look(at));
            }
            Act::TestSpray(role) => {
                self.come_unseen(scenario, state, at);
                signs.push(Sign::Seen(self.nebulizer(role).test_spray()));
            }
            Act::LabelNebulizer(role) => self.nebulizer(role).marked = true,
            Act::ClearNebulizer(role) => self.nebulizer(role).clogged = None,
            Act::RinseNebulizer(role) => self.nebulizer(role).rinse(),
            Act::CheckBottle(role) => signs.push(Sign::Seen(if self.nebulizer(role).bottle_dated {
                Seen::BottleDated
            } else {
                Seen::BottleUndated
            })),
            Act::FreshBottle(role) => self.nebulizer(role).bottle_dated = true,
            Act::FillNebulizer(role) => {
                self.agent_on_fingers |= !self.gloves;
                self.nebulizer(role).fill(at);
            }
            Act::CheckHood => {
                signs.push(Sign::Seen(if self.hood_damp { Seen::HoodDamp } else { Seen::HoodClean }));
            }
            Act::WipeHood => self.hood_damp = false,
            Act::GlovesOn => self.gloves = true,
            Act::GlovesOff => {
                self.gloves = false;
                self.agent_on_fingers = false;
            }
            Act::Explain(Topic::Procedure) if has(scenario, Kind::RefusesAgent) => {
                signs.push(Sign::Seen(Seen::RefusesAgent));
            }
            Act::Explain(Topic::MaskFails) => signs.extend(self.own_up()),
            Act::HearBack => signs.push(Sign::Seen(hear_back(scenario, state))),
            Act::HoodOn => signs.extend(self.hood_on(scenario, state, at)),
            Act::HoodOff => signs.extend(self.hood_off(scenario, state, at)),
            Act::SetGap => signs.push(Sign::Seen(Seen::HoodRight)),
            Act::Squeeze => signs.extend(self.squeeze(scenario, state, at)),
            Act::Ask(manner) => signs.push(Sign::Seen(self.answer(scenario, manner, at))),
            Act::AnswerSignal => signs.push(Sign::Seen(self.answer(scenario, Manner::Neutral, at))),
            Act::GiveWater => self.rinse(state, at),
            Act::WipeFace => self.drop_on_face = false,
            Act::LetChoose => signs.push(choose(scenario, state)),
            Act::InspectFacepiece => signs.extend(self.inspect(scenario, state)),
            Act::FitFilters => self.at_slot(state, |wearer, place| set(&mut wearer.gas_only, place, false)),
            Act::SetNegative => self.at_slot(state, |wearer, place| set(&mut wearer.negative, place, true)),
            Act::RestoreMode => self.at_slot(state, |wearer, place| set(&mut wearer.negative, place, false)),
            Act::Disinfect => self.at_slot(state, |wearer, place| set(&mut wearer.used, place, false)),
            Act::HandOver(_) => self.drop_on_face |= self.agent_on_fingers && !self.gloves,
            Act::Don(_) => {
                self.straps_fixed = false;
                if self.agent_on_fingers && self.drop_on_face {
                    // What the fingers left on the facepiece is now on the face.
                    signs.push(Sign::Seen(Seen::DropOnFace));
                }
                self.set_share(scenario, state, at);
            }
            Act::Doff => {
                self.at_slot(state, |wearer, place| set(&mut wearer.used, place, true));
                self.set_share(scenario, state, at);
            }
            Act::CheckAdequacy => signs.push(Sign::Seen(self.straps(scenario, state))),
            Act::FixStraps => {
                self.straps_fixed = true;
                signs.push(Sign::Seen(Seen::StrapsEven));
                self.set_share(scenario, state, at);
            }
            Act::SealCheck(method) => signs.push(Sign::Seen(seal_check(scenario, state, method))),
            Act::GearOn => signs.push(Sign::Seen(Seen::GearFetched)),
            Act::ReviewComfort => {
                let fine = worn(scenario, state).is_none_or(|facepiece| facepiece.comfortable);
                signs.push(Sign::Seen(if fine { Seen::SaysComfortable } else { Seen::SaysUncomfortable }));
            }
            Act::Begin(_) | Act::End | Act::Stop | Act::Give(_) | Act::Next(_) => self.set_share(scenario, state, at),
            Act::Remind(reminder) => signs.extend(self.remind(scenario, state, reminder, at)),
            Act::CallHelp => signs.push(Sign::Seen(Seen::HelpComes)),
            Act::CountAsTraining
            | Act::Explain(_)
            | Act::GiveMirror
            | Act::AgreeSignals
            | Act::Take(_)
            | Act::PutDown
            | Act::Aim(_)
            | Act::NoteThreshold(_)
            | Act::HoldToFace
            | Act::NoteRunnerUp
            | Act::SeatMask
            | Act::Note(_)
            | Act::TellResult(_)
            | Act::TellScope
            | Act::Record(_)
            | Act::SignUntested
            | Act::AdmitSecond
            | Act::SetAside
            | Act::Wait(_)
            | Act::Finish => {}
        }
        signs
    }

    /// The next thing the wearer does unasked, after `from` and not after `to`.
    #[must_use]
    pub fn unasked(&self, scenario: &Scenario, state: &State, from: Ms, to: Ms) -> Option<Entry> {
        let trouble = self.next_trouble(scenario, state, from, to).map(|(at, number)| {
            let seen = scenario.trouble.get(number).and_then(|trouble| cue(trouble.kind));
            (at, seen)
        });
        let taste = self.next_taste(scenario, state, from, to);
        match (trouble, taste) {
            (Some((at, Some(seen))), Some(taste)) if at <= taste.0 => Some(Entry::sign(at, Sign::Seen(seen))),
            (Some((at, Some(seen))), None) => Some(Entry::sign(at, Sign::Seen(seen))),
            (_, Some((at, seen))) => Some(Entry::sign(at, Sign::Seen(seen))),
            (_, None) => None,
        }
    }

    /// Takes up what was just shown unasked. `state` is the one after it.
    pub fn happened(&mut self, scenario: &Scenario, state: &State, entry: Entry) {
        let What::Sign(Sign::Seen(seen)) = entry.what else { return };
        if matches!(seen, Seen::SignalsTaste | Seen::RaisesHand) {
            self.tongue.says_so();
        }
        if seen == Seen::PullsFace {
            self.hides = Hides::Taste;
        }
        if let Some(number) = self.due(scenario, state, entry.at, |kind| cue(kind) == Some(seen)) {
            set(&mut self.come, number, true);
            if let Some(trouble) = scenario.trouble.get(number) {
                self.suffer(trouble.kind, state);
            }
        }
        if matches!(seen, Seen::TakesHoodOff | Seen::LiftsHood) {
            self.tongue.fresh_air(entry.at);
        }
        self.set_share(scenario, state, entry.at);
    }
}

/// Answers that need nothing hidden.
fn by_mouth(scenario: &Scenario, at: Ms) -> Sign {
    let (what, minutes) = scenario.person.by_mouth;
    let since_start = u8::try_from(at.0 / Ms::mins(1).0).unwrap_or(u8::MAX);
    Sign::ByMouth(what, if what == Mouthful::Nothing { 0 } else { minutes.saturating_add(since_start) })
}

fn gear(scenario: &Scenario) -> Vec<Sign> {
    if scenario.person.gear.is_empty() {
        return vec![Sign::Seen(Seen::SaysNoGear)];
    }
    scenario.person.gear.iter().copied().map(Sign::WearsAtWork).collect()
}

/// Whether the wearer has this habit, or this comes up at some time.
fn has(scenario: &Scenario, kind: Kind) -> bool {
    scenario.trouble.iter().any(|trouble| trouble.kind == kind)
}

/// Whether the wearer took in what to do: who only nods does so when it is explained once more.
fn has_understood(scenario: &Scenario, state: &State) -> bool {
    let nodded = state.shown(Seen::NodsOnly);
    let again = nodded.is_some() && state.last(Act::Explain(Topic::Duties)) > nodded;
    !has(scenario, Kind::NodsOnly) || again
}

fn hear_back(scenario: &Scenario, state: &State) -> Seen {
    if !has_understood(scenario, state) {
        return Seen::NodsOnly;
    }
    let told = |topic| state.first(Act::Explain(topic)).is_some();
    match (told(Topic::Duties), told(Topic::Procedure)) {
        (true, _) => Seen::SaysDuties,
        (false, true) => Seen::SaysDutiesInPart,
        (false, false) => Seen::SaysDutiesUnknown,
    }
}

fn choose(scenario: &Scenario, state: &State) -> Sign {
    // Who is cleared for powered units only knows it, and chooses among those.
    let may = |slot: Slot| {
        scenario.person.clearance != Clearance::PoweredOnly
            || scenario.facepiece(slot).is_some_and(|piece| piece.class == Class::Powered)
    };
    let left = |slot: &&Slot| may(**slot) && state.handled(**slot).aside.is_none() && !tried_in_vain(state, **slot);
    match scenario.person.choices.iter().find(left) {
        Some(slot) => Sign::Chooses(*slot),
        None => Sign::Seen(Seen::ChoosesNone),
    }
}

/// Whether a facepiece was failed, or found unacceptable, before.
fn tried_in_vain(state: &State, slot: Slot) -> bool {
    let uncomfortable =
        state.donnings.iter().any(|donning| donning.slot == slot && matches!(donning.comfort, Some((_, false))));
    let leaked = state
        .donnings
        .iter()
        .any(|donning| donning.slot == slot && donning.seal_check().is_some_and(|check| !check.holds));
    let failed = state.tests.iter().any(|test| {
        test.taste().is_some()
            && test.donning.and_then(|number| state.donnings.get(number)).is_some_and(|donning| donning.slot == slot)
    });
    uncomfortable || leaked || failed
}

fn worn<'a>(scenario: &'a Scenario, state: &State) -> Option<&'a Facepiece> {
    state.worn().and_then(|donning| scenario.facepiece(donning.slot))
}

fn seal_check(scenario: &Scenario, state: &State, method: crate::act::Method) -> Seen {
    let holds = worn(scenario, state).is_none_or(|facepiece| facepiece.seal_holds);
    // A hand passed across the front finds nothing.
    if holds || method == crate::act::Method::Quick { Seen::SealHolds } else { Seen::SealLeaks }
}

fn set(flags: &mut [bool], place: usize, value: bool) {
    if let Some(flag) = flags.get_mut(place) {
        *flag = value;
    }
}

fn is_set(flags: &[bool], place: usize) -> bool {
    flags.get(place).copied().unwrap_or(false)
}

/// Where a place of the rack stands in the lists.
fn place(slot: Slot) -> usize {
    usize::from(slot.number()) - 1
}

/// How a kind of trouble shows, where it shows by itself.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "habits, what is found and what shows by nothing have no cue of their own"
)]
const fn cue(kind: Kind) -> Option<Seen> {
    Some(match kind {
        Kind::TouchesMask => Seen::TouchesMask,
        Kind::AdjustsMask => Seen::AdjustsMask,
        Kind::MaskSlips => Seen::MaskSlips,
        Kind::LiftsHood => Seen::LiftsHood,
        Kind::TakesHoodOff => Seen::TakesHoodOff,
        Kind::HoodSlidesNear => Seen::HoodSlidesNear,
        Kind::SitsDown => Seen::SitsDown,
        Kind::Rushes => Seen::RushesMoves,
        Kind::Whispers => Seen::Whispers,
        Kind::MouthShuts => Seen::MouthShuts,
        Kind::Clogs => Seen::SprayFails,
        Kind::DropOnFace => Seen::DropOnFace,
        Kind::TastesBefore => Seen::SaysTasteBefore,
        Kind::Salty | Kind::SaltyStays => Seen::SaysSalty,
        Kind::Plastic => Seen::SaysPlastic,
        Kind::Breathless => Seen::Breathless,
        Kind::ChestPain => Seen::ChestPain,
        Kind::Wheezes => Seen::Wheezes,
        Kind::WantsToStop => Seen::SaysStop,
        Kind::Scratches => Seen::ScratchesForehead,
        Kind::Coughs => Seen::Coughs,
        Kind::Asks => Seen::AsksQuestion,
        Kind::HoodBrushes => Seen::HoodBrushes,
        Kind::WindowFogs => Seen::WindowFogs,
        Kind::SipsWater => Seen::SipsWater,
        Kind::Pressed => Seen::PressedForPass,
        Kind::HelperTightens => Seen::HelperAtStraps,
        Kind::InventsTaste => Seen::SignalsTaste,
        Kind::PutTen => Seen::AsksForTen,
        Kind::SignForYesterday => Seen::AsksForSignature,
        Kind::TryOtherAgent => Seen::AsksForOtherAgent,
        Kind::Queue => Seen::QueueGrows,
        Kind::TwoAtOnce => Seen::SecondWearer,
        Kind::PhoneRings => Seen::PhoneRings,
        Kind::FireAlarm => Seen::FireAlarm,
        _ => return None,
    })
}

impl Wearer {
    fn clearance(&self, scenario: &Scenario, state: &State) -> Sign {
        Sign::Seen(match scenario.person.clearance {
            Clearance::Cleared => Seen::SaysCleared,
            Clearance::ClearedLongAgo => Seen::SaysClearedLongAgo,
            Clearance::NotCleared => Seen::SaysNotCleared,
            Clearance::PoweredOnly => Seen::SaysPoweredOnly,
            Clearance::Questionnaire if state.first(Act::ReturnQuestionnaire).is_some() => Seen::SaysCleared,
            Clearance::Questionnaire => Seen::OffersQuestionnaire,
        })
    }

    fn face(&self, scenario: &Scenario) -> Sign {
        Sign::Seen(match scenario.person.face {
            Face::Clear => Seen::FaceClear,
            Face::Moustache => Seen::FaceMoustache,
            Face::Stubble => Seen::FaceStubble,
            Face::Beard => Seen::FaceBeard,
            Face::TempleBar if self.seal_covered => Seen::FaceTempleBar,
            Face::Covering if self.seal_covered => Seen::FaceCovering,
            Face::TempleBar | Face::Covering => Seen::FaceClear,
        })
    }

    fn clear_seal(&mut self, scenario: &Scenario) -> Sign {
        let movable = matches!(scenario.person.face, Face::TempleBar | Face::Covering);
        self.seal_covered = false;
        Sign::Seen(if movable { Seen::SealCleared } else { Seen::SealStays })
    }

    const fn nebulizer(&mut self, role: Role) -> &mut Nebulizer {
        match role {
            Role::Check => &mut self.check,
            Role::Fit => &mut self.fit,
        }
    }

    fn hood_on(&mut self, scenario: &Scenario, state: &State, at: Ms) -> Vec<Sign> {
        self.tongue.under_the_hood(at);
        self.hides = Hides::Nothing;
        self.set_share(scenario, state, at);
        vec![Sign::Seen(Seen::HoodRight)]
    }

    fn hood_off(&mut self, scenario: &Scenario, state: &State, at: Ms) -> Option<Sign> {
        self.tongue.out_of_the_hood(at);
        let tells_late = has(scenario, Kind::TellsLate);
        let in_a_test = state.worn().is_some() && !self.tongue.has_said_so();
        (tells_late && in_a_test && self.tongue.has_noticed()).then_some(Sign::Seen(Seen::SaysTasteLate))
    }

    fn squeeze(&mut self, scenario: &Scenario, state: &State, at: Ms) -> Option<Sign> {
        let role = state.held?;
        let numbers = Rulebook::us(scenario.agent).numbers;
        self.come_unseen(scenario, state, at);
        let nebulizer = *self.nebulizer(role);
        if nebulizer.is_seen_to_fail() {
            return Some(Sign::Seen(Seen::SpraysNothing));
        }
        // `state` is after the press, so the press before it is looked up in the attempt.
        let before = state
            .tests
            .iter()
            .map(|test| &test.common)
            .chain(state.screenings.iter().map(|screening| &screening.common))
            .flat_map(|common| common.squeezes.iter().rev().take(2))
            .filter(|squeeze| squeeze.at < at && squeeze.role == role)
            .map(|squeeze| squeeze.at)
            .max();
        let filled = before.map_or(1.0, |before| {
            let share = at.since(before).as_secs() / numbers.full_squeeze.as_secs();
            if share < 1.0 { share } else { 1.0 }
        });
        let delivered = if nebulizer.clogged == Some(Clog::Unseen) { 0.0 } else { filled };
        if state.hood.is_some() {
            let strength = f64::from(scenario.strength_milli(nebulizer.holds)) / 1_000.0;
            self.tongue.puff(at, delivered * strength);
            self.set_share(scenario, state, at);
        }
        (filled < 1.0).then_some(Sign::Seen(Seen::SpraysShort))
    }

    /// Brings trouble that shows by nothing.
    fn come_unseen(&mut self, scenario: &Scenario, state: &State, at: Ms) {
        while let Some(number) = self.due(scenario, state, at, |kind| kind == Kind::ClogsUnseen) {
            set(&mut self.come, number, true);
            self.suffer(Kind::ClogsUnseen, state);
        }
    }

    /// What the trouble does to hidden things.
    #[expect(clippy::wildcard_enum_match_arm, reason = "most trouble is only seen and changes nothing hidden")]
    fn suffer(&mut self, kind: Kind, state: &State) {
        match kind {
            Kind::MouthShuts => self.tongue.mouth_open = false,
            Kind::DropOnFace => self.drop_on_face = true,
            Kind::Salty => self.salty = Some(false),
            Kind::SaltyStays => self.salty = Some(true),
            Kind::Plastic => self.plastic = true,
            Kind::SitsDown => self.sitting = true,
            Kind::Clogs | Kind::ClogsUnseen => {
                if let Some(role) = state.held {
                    let clog = if kind == Kind::Clogs { Clog::Seen } else { Clog::Unseen };
                    self.nebulizer(role).clogged = Some(clog);
                }
            }
            _ => {}
        }
    }

    fn answer(&mut self, scenario: &Scenario, manner: Manner, at: Ms) -> Seen {
        let pleases = has(scenario, Kind::Pleases);
        if pleases && manner == Manner::TowardsYes {
            return Seen::SaysYesToPlease;
        }
        if let Some(stays) = self.salty {
            if !stays {
                self.salty = None;
                return Seen::SaysSaltGone;
            }
            return Seen::SaysSalty;
        }
        if self.hides == Hides::Nothing && (self.tongue.tastes(at) || self.tongue.has_said_so()) {
            self.tongue.says_so();
            if pleases && manner == Manner::TowardsNo {
                return Seen::SaysNothing;
            }
            let half = has(scenario, Kind::HalfGesture);
            return if half { Seen::SaysTrace } else { Seen::SaysTaste };
        }
        if self.drop_on_face {
            return Seen::SaysTaste;
        }
        if self.plastic {
            self.plastic = false;
            return Seen::SaysPlastic;
        }
        Seen::SaysNothing
    }

    fn rinse(&mut self, state: &State, at: Ms) {
        self.tongue.rinse(at);
        if state.hood.is_none() {
            self.drop_on_face = false;
            self.salty = None;
        }
    }

    /// Who hides a taste says it once they hear that only the facepiece can fail, or are told again to say any taste.
    fn own_up(&mut self) -> Option<Sign> {
        if self.hides == Hides::Nothing {
            return None;
        }
        self.hides = Hides::Nothing;
        self.owned_up = true;
        self.tongue.says_so();
        Some(Sign::Seen(Seen::SaysTaste))
    }

    fn inspect(&self, scenario: &Scenario, state: &State) -> Vec<Sign> {
        let Some(slot) = state.in_hand else { return Vec::new() };
        let Some(facepiece) = scenario.facepiece(slot) else { return Vec::new() };
        let mut signs = vec![Sign::Seen(match facepiece.condition {
            Condition::Sound => Seen::FacepieceSound,
            Condition::ValveMissing => Seen::ValveMissing,
            Condition::FilterAskew => Seen::FilterAskew,
            Condition::StrapCracked => Seen::StrapCracked,
        })];
        if is_set(&self.used, place(slot)) {
            signs.push(Sign::Seen(Seen::FacepieceUsed));
        }
        let gas_only = is_set(&self.gas_only, place(slot));
        signs.push(Sign::Seen(if gas_only { Seen::FiltersGasOnly } else { Seen::FiltersParticulate }));
        if !is_set(&self.negative, place(slot)) {
            signs.push(Sign::Seen(Seen::AirSupplied));
        }
        signs
    }

    fn at_slot(&mut self, state: &State, change: impl FnOnce(&mut Self, usize)) {
        if let Some(slot) = state.in_hand {
            change(self, place(slot));
        }
    }

    fn straps(&self, scenario: &Scenario, state: &State) -> Seen {
        let straps = worn(scenario, state).filter(|_| !self.straps_fixed).map(|facepiece| facepiece.straps);
        match straps {
            Some(Straps::Twisted) => Seen::StrapTwisted,
            Some(Straps::Tight) => Seen::StrapsTight,
            Some(Straps::NosepieceFlat) => Seen::NosepieceFlat,
            Some(Straps::Even) | None => Seen::StrapsEven,
        }
    }

    fn remind(&mut self, scenario: &Scenario, state: &State, reminder: Reminder, at: Ms) -> Option<Sign> {
        let seen = match reminder {
            Reminder::Breathing => {
                let was_shut = !self.tongue.mouth_open;
                self.tongue.mouth_open = true;
                self.set_share(scenario, state, at);
                was_shut.then_some(Seen::MouthOpens)
            }
            Reminder::Slowly => Some(Seen::SlowsMoves).filter(|_| moves(state)),
            Reminder::Louder => Some(Seen::SpeaksUp).filter(|_| state.exercise() == Some(Exercise::Talking)),
            Reminder::Stand => {
                let sat = self.sitting;
                self.sitting = false;
                sat.then_some(Seen::StandsUp)
            }
            Reminder::SayTaste => return self.own_up(),
            Reminder::HandsOff => None,
        };
        seen.map(Sign::Seen)
    }

    /// How much of the hood's level reaches the tongue now.
    fn set_share(&mut self, scenario: &Scenario, state: &State, at: Ms) {
        let fit_factor = state.worn().and_then(|donning| {
            scenario.facepiece(donning.slot).map(|facepiece| self.fit(facepiece, donning.slot, state))
        });
        self.tongue.set(scenario, state, fit_factor, at);
    }

    fn fit(&self, facepiece: &Facepiece, slot: Slot, state: &State) -> f64 {
        let mut fit = f64::from(facepiece.fit_in(state.exercise()).get());
        // How much each of these takes away is an assumption of the teaching model.
        if facepiece.straps != Straps::Even && !self.straps_fixed {
            fit /= 10.0;
        }
        if self.seal_covered || matches!(facepiece.condition, Condition::ValveMissing | Condition::FilterAskew) {
            fit /= 50.0;
        }
        if is_set(&self.gas_only, place(slot)) {
            fit = 1.0;
        }
        if !is_set(&self.negative, place(slot)) {
            fit *= 1_000.0;
        }
        if fit < 1.0 { 1.0 } else { fit }
    }

    /// The next breath at which the wearer notices the agent and says so.
    fn next_taste(&self, scenario: &Scenario, state: &State, from: Ms, to: Ms) -> Option<(Ms, Seen)> {
        state.hood?;
        let falsely = self
            .tongue
            .false_report(scenario, state)
            .filter(|_| !self.tongue.has_said_so())
            .and_then(|(exercise, after)| moment(state, When::During(exercise, after), true))
            .filter(|at| *at > from && *at <= to);
        let at = match (self.tongue.next(from, to), falsely) {
            (Some(one), Some(other)) => one.min(other),
            (one, other) => one.or(other)?,
        };
        let told = [Act::Explain(Topic::Duties), Act::Explain(Topic::Procedure)];
        let briefed = told.iter().any(|act| state.first(*act).is_some()) && has_understood(scenario, state);
        let speaks = briefed || state.first(Act::Remind(Reminder::SayTaste)).is_some();
        let is = |kind: Kind| state.worn().is_some() && has(scenario, kind);
        if !speaks || is(Kind::TellsLate) || self.hides == Hides::Taste {
            return None;
        }
        Some(if is(Kind::HidesTaste) && self.hides == Hides::Nothing && !self.owned_up {
            (at, Seen::PullsFace)
        } else if is(Kind::HalfGesture) {
            (at, Seen::RaisesHand)
        } else {
            (at, Seen::SignalsTaste)
        })
    }

    /// The next piece of trouble that shows, in `(from, to]`.
    fn next_trouble(&self, scenario: &Scenario, state: &State, from: Ms, to: Ms) -> Option<(Ms, usize)> {
        scenario
            .trouble
            .iter()
            .enumerate()
            .filter(|(number, trouble)| !is_set(&self.come, *number) && cue(trouble.kind).is_some())
            // Nobody asks for the other agent unless this one was tasted.
            .filter(|(_, trouble)| trouble.kind != Kind::TryOtherAgent || has_failed(state))
            .filter_map(|(number, trouble)| Some((moment(state, trouble.when, true)?, number)))
            .map(|(at, number)| (if at > from { at } else { Ms(from.0 + 1) }, number))
            .filter(|(at, _)| *at <= to)
            .min()
    }

    /// Trouble of such a kind whose moment has come and that has not come yet.
    fn due(&self, scenario: &Scenario, state: &State, at: Ms, kind: impl Fn(Kind) -> bool) -> Option<usize> {
        scenario
            .trouble
            .iter()
            .enumerate()
            .filter(|(number, trouble)| !is_set(&self.come, *number) && kind(trouble.kind))
            .find(|(_, trouble)| moment(state, trouble.when, false).is_some_and(|due| due <= at))
            .map(|(number, _)| number)
    }
}

/// Whether the last result was a fail.
fn has_failed(state: &State) -> bool {
    state.verdicts.last().is_some_and(|(_, verdict, _)| *verdict == crate::act::Verdict::Fail)
}

/// Whether the head is being moved.
fn moves(state: &State) -> bool {
    matches!(state.exercise(), Some(Exercise::HeadSide | Exercise::HeadUpDown))
}

/// When the moment of a trouble comes or came, if that can be told by now. While it is still `to_come`, the hood has to be
/// on, and the exercise going on; what the wearer then does may have ended both.
fn moment(state: &State, when: When, to_come: bool) -> Option<Ms> {
    const A_BEAT: Ms = Ms(1_500);
    let hooded = state.hood.is_some() || !to_come;
    match when {
        When::Throughout => None,
        // Nobody interrupts under the hood with what was for before it.
        When::Start(after) => (state.hood.is_none() && state.screenings.is_empty()).then_some(after),
        When::Result => {
            let (at, _, about) = state.verdicts.last()?;
            (*about != crate::state::About::Day).then(|| at.plus(A_BEAT))
        }
        When::Screening(squeezes) => {
            let screening = state.screening().filter(|_| hooded && state.worn().is_none())?;
            reached(screening.common.from.plus(A_BEAT), &screening.common.squeezes, squeezes)
        }
        When::Initial(squeezes) => {
            let test = state.test().filter(|test| hooded && test.exercises.is_empty())?;
            reached(test.common.from.plus(A_BEAT), &test.common.squeezes, squeezes)
        }
        When::During(exercise, after) => {
            let done = state.test()?.exercises.last().filter(|done| done.exercise == exercise)?;
            (hooded && (done.to.is_none() || !to_come)).then(|| done.from.plus(after))
        }
    }
}

fn reached(from: Ms, squeezes: &[crate::attempt::Squeeze], count: u8) -> Option<Ms> {
    match usize::from(count).checked_sub(1) {
        None => Some(from),
        Some(last) => squeezes.get(last).map(|squeeze| squeeze.at.plus(Ms(300))),
    }
}
