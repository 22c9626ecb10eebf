//! What reaches the tongue, when it is noticed, and what has been said of it.

use crate::{
    act::Exercise,
    course::EXERCISES,
    draw::{self, Purpose},
    model::Parameters,
    motion::{Air, Motion},
    noticing,
    rulebook::Rulebook,
    scenario::{Attention, Scenario},
    state::State,
    taste,
    units::Ms,
};

/// Breaths come on a fixed beat from the first one, so that they do not depend on how time was passed.
const BREATH: Ms = Ms::secs(3);

/// How much of a taste a rinse with water leaves: an assumption of the teaching model.
const LEFT_BY_A_RINSE: f64 = 0.3;

/// The tongue and the air about it.
#[derive(Clone, Debug)]
pub(super) struct Tongue {
    parameters: &'static Parameters,
    motion: Motion,
    /// This sitting's, in squeeze-seconds; `None` where the agent is not tasted at all.
    threshold: Option<f64>,
    first_breath: Ms,
    air: Air,
    anchor: Ms,
    share: f64,
    /// What it takes to be noticed in this stretch.
    asked_for: f64,
    pub(super) mouth_open: bool,
    /// Whether the agent was noticed since the hood went on, said or unsaid.
    noticed: bool,
    said: bool,
    puffs: Vec<(Ms, f64)>,
}

impl Tongue {
    pub(super) fn new(scenario: &Scenario) -> Self {
        let parameters = Parameters::live(scenario.agent);
        let threshold = scenario.person.tastes_after.map(|squeeze| taste::threshold(squeeze, scenario.agent));
        Self {
            parameters,
            motion: parameters.motion(),
            threshold,
            first_breath: Ms(draw::number(scenario.seed, Purpose::FirstBreath, 0, BREATH.0)),
            air: Air::default(),
            anchor: Ms::ZERO,
            share: 0.0,
            asked_for: threshold.unwrap_or(f64::INFINITY),
            mouth_open: true,
            noticed: false,
            said: false,
            puffs: Vec::new(),
        }
    }

    pub(super) fn air_at(&self, at: Ms) -> Air {
        self.motion.after(self.air, self.share, at.since(self.anchor).as_secs())
    }

    /// Whether the agent is tasted at `at`.
    pub(super) fn tastes(&self, at: Ms) -> bool {
        self.air_at(at).gathered >= self.asked_for
    }

    pub(super) const fn has_noticed(&self) -> bool {
        self.noticed
    }

    pub(super) const fn has_said_so(&self) -> bool {
        self.said
    }

    pub(super) const fn says_so(&mut self) {
        self.said = true;
    }

    /// What each squeeze brought into the hood.
    pub(super) fn puffs(&self) -> &[(Ms, f64)] {
        &self.puffs
    }

    /// A squeeze that adds `level` to the hood.
    pub(super) fn puff(&mut self, at: Ms, level: f64) {
        self.anchor_at(at);
        self.air.level += level;
        self.puffs.push((at, level));
    }

    /// The hood opened for a moment, or exchanged: no aerosol in it.
    pub(super) fn fresh_air(&mut self, at: Ms) {
        self.anchor_at(at);
        self.air.level = 0.0;
    }

    /// The hood goes on.
    pub(super) fn under_the_hood(&mut self, at: Ms) {
        self.fresh_air(at);
        self.mouth_open = true;
        self.noticed = false;
        self.said = false;
    }

    /// The hood comes off.
    pub(super) fn out_of_the_hood(&mut self, at: Ms) {
        self.fresh_air(at);
        self.share = 0.0;
    }

    /// A rinse with water.
    pub(super) fn rinse(&mut self, at: Ms) {
        self.anchor_at(at);
        self.air.gathered *= LEFT_BY_A_RINSE;
    }

    /// Takes up what the state has become: how much of the hood's level reaches the tongue, and what it takes to be noticed.
    /// `fit_factor` is that of the facepiece on, if one is.
    pub(super) fn set(&mut self, scenario: &Scenario, state: &State, fit_factor: Option<f64>, at: Ms) {
        self.anchor_at(at);
        let breathed = if state.hood.is_some() && self.mouth_open { 1.0 } else { 0.0 };
        self.share = breathed * fit_factor.map_or(1.0, |fit| self.parameters.reach / fit);
        self.asked_for = self.threshold.map_or(f64::INFINITY, |threshold| threshold * self.times(scenario, state));
    }

    /// How many times the threshold it takes in the stretch that goes on.
    fn times(&self, scenario: &Scenario, state: &State) -> f64 {
        if scenario.person.attention == Attention::Even {
            return 1.0;
        }
        let slope = self.parameters.slope;
        let drawn = |purpose: Purpose, index: u32| draw::unit(scenario.seed, purpose, index);
        if state.worn().is_none() {
            let squeezes = state.screening().map_or(0, |screening| screening.common.squeezes.len());
            let ten = usize::try_from(Rulebook::us(scenario.agent).numbers.set).unwrap_or(1).max(1);
            let set = squeezes.saturating_sub(1) / ten;
            return noticing::asked_for(drawn(Purpose::NoticesInSet, index(state.screenings.len(), set)), slope);
        }
        let attempt = state.tests.len();
        if drawn(Purpose::Lapses, index(attempt, 0)) < self.parameters.lapse {
            return f64::INFINITY;
        }
        let place = state
            .test()
            .and_then(|test| test.exercises.iter().rev().find_map(|done| done.exercise.place()))
            .unwrap_or_default();
        let tired = 1.0 + self.parameters.tiring * f64::from(u32::try_from(place).unwrap_or_default());
        tired * noticing::asked_for(drawn(Purpose::NoticesInExercise, index(attempt, place)), slope)
    }

    /// Whether, and when in which exercise, an honest wearer reports a taste in this test although there is none.
    pub(super) fn false_report(&self, scenario: &Scenario, state: &State) -> Option<(Exercise, Ms)> {
        let attempt = state.tests.len();
        let is_even = scenario.person.attention == Attention::Even;
        if is_even
            || draw::unit(scenario.seed, Purpose::ReportsFalsely, index(attempt, 0)) >= self.parameters.false_report
        {
            return None;
        }
        let seven = u32::try_from(EXERCISES).unwrap_or_default();
        let place = draw::number(scenario.seed, Purpose::ReportsFalsely, index(attempt, 1), seven);
        let after = draw::number(scenario.seed, Purpose::ReportsFalsely, index(attempt, 2), Ms::secs(50).0);
        Some((Exercise::SEVEN.get(usize::try_from(place).ok()?).copied()?, Ms(after)))
    }

    /// The next breath, after `from` and not after `to`, at which the agent is tasted and has not been said yet.
    ///
    /// Between events the taste rises to one maximum and then falls, so few breaths have to be looked at.
    pub(super) fn next(&self, from: Ms, to: Ms) -> Option<Ms> {
        if self.said || self.share == 0.0 || !self.asked_for.is_finite() {
            return None;
        }
        let most_gained = self.share * self.air.level * to.since(self.anchor).as_secs();
        if self.air.gathered + most_gained < self.asked_for {
            return None;
        }
        let breaths = |until: Ms| until.plus(BREATH).since(self.first_breath).0 / BREATH.0;
        let breath = |number: u32| self.first_breath.plus(BREATH.times(number));
        let tastes = |number: u32| self.tastes(breath(number));
        let (first, end) = (breaths(from), breaths(to.max(from)));
        let rises_s = self.motion.strongest_after(self.air, self.share, f64::MAX);
        // Breaths up to the maximum; the one after it is looked at by itself.
        let rising = if rises_s >= to.since(self.anchor).as_secs() {
            end
        } else {
            breaths(self.anchor.plus(ms(rises_s))).max(first).min(end)
        };
        if rising > first && tastes(rising - 1) {
            let (mut not_yet, mut tasted) = (first, rising - 1);
            while not_yet < tasted {
                let middle = not_yet.midpoint(tasted);
                if tastes(middle) {
                    tasted = middle;
                } else {
                    not_yet = middle + 1;
                }
            }
            return Some(breath(tasted));
        }
        (rising < end && tastes(rising)).then(|| breath(rising))
    }

    /// Moves the reference point of the closed forms. Done only where something changes, never because time was looked
    /// at, so that passing time in pieces changes no bit.
    fn anchor_at(&mut self, at: Ms) {
        let seconds = at.since(self.anchor).as_secs();
        let may = self.air.gathered + self.share * self.air.level * seconds >= self.asked_for;
        self.noticed |= may && self.motion.strongest(self.air, self.share, seconds) >= self.asked_for;
        self.air = self.motion.after(self.air, self.share, seconds);
        self.anchor = at;
    }
}

/// One index for an attempt, counted from 1, and a place in it.
fn index(attempt: usize, place: usize) -> u32 {
    let part = |count: usize| u32::try_from(count).unwrap_or_default() & 0xff;
    part(attempt) << 8 | part(place)
}

/// Whole milliseconds, downwards.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a float becomes the nearest whole number in range"
)]
const fn ms(seconds: f64) -> Ms {
    Ms((seconds * 1_000.0) as u32)
}
