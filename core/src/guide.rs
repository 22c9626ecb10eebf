//! What a careful conductor would do next, by the book, given what has been done and shown.
//!
//! It knows no more than the state does, so it can show the next act to a trainee, and it can run a whole test by itself,
//! which is what the tests compare departures with.

use crate::{
    act::{
        Act, Aim, Bar, Cause, Company, Exercise, Field, Fields, Hands, Manner, Method, NextStep, Reminder, Role, Slot,
        Threshold, Topic, Verdict,
    },
    attempt::{Common, Donning, FitTest, Screening, Squeeze},
    facepiece::Class,
    judge::AsSeen,
    rulebook::{RuleId, Rulebook},
    scenario::Scenario,
    sign::{Mouthful, Seen, Sign},
    state::{About, State},
    units::Ms,
};

/// What to do next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The act.
    pub act: Act,
    /// The rule it serves.
    pub rule: RuleId,
    /// Not before this moment, where it has one.
    pub not_before: Option<Ms>,
}

impl Step {
    const fn now(act: Act, rule: RuleId) -> Self {
        Self { act, rule, not_before: None }
    }

    const fn at(act: Act, rule: RuleId, at: Ms) -> Self {
        Self { act, rule, not_before: Some(at) }
    }
}

/// The next act by the book at `now`; `None` once the run has ended.
///
/// ```
/// use bittersweet_core::{act::Act, guide, rulebook::RuleId, scenarios, state::State, units::Ms, wire::scenario_v1};
///
/// let (_, text) = scenarios::BUILT_IN[0];
/// let scenario = scenario_v1::parse(text)?;
/// let first = guide::next(&scenario, &State::new(scenario.agent), Ms::ZERO).expect("nothing has been done yet");
/// assert_eq!((first.act, first.rule), (Act::AskClearance, RuleId::ClearBefore));
/// # Ok::<(), bittersweet_core::wire::Faults>(())
/// ```
#[must_use]
pub fn next(scenario: &Scenario, state: &State, now: Ms) -> Option<Step> {
    if state.finished.is_some() {
        return None;
    }
    let guide = Guide { scenario, book: scenario.rulebook(), state, now };
    guide
        .distress()
        .or_else(|| guide.close())
        .or_else(|| guide.go_on())
        .or_else(|| guide.who())
        .or_else(|| guide.bench())
        .or_else(|| guide.briefing())
        .or_else(|| guide.screening())
        .or_else(|| guide.facepiece())
        .or_else(|| guide.test())
        .or(Some(Step::now(Act::Finish, RuleId::ResultGiven)))
        .map(|step| guide.out_of_the_way(step))
}

/// Whether a rule of screening or testing was not kept, as far as could be seen: then it says why to start over.
#[must_use]
pub fn was_broken(scenario: &Scenario, state: &State, rule: RuleId) -> bool {
    AsSeen::of(scenario, &scenario.rulebook(), state).was_broken(rule)
}

struct Guide<'a> {
    scenario: &'a Scenario,
    book: Rulebook,
    state: &'a State,
    now: Ms,
}

/// The first of these whose condition holds.
fn first(steps: &[(bool, Act, RuleId)]) -> Option<Step> {
    steps.iter().find(|(due, ..)| *due).map(|(_, act, rule)| Step::now(*act, *rule))
}

impl Guide<'_> {
    /// First the hood off, or the facepiece, where it is in the way of an act.
    fn out_of_the_way(&self, step: Step) -> Step {
        let under_the_hood = matches!(
            step.act,
            Act::ClearSeal
                | Act::WipeHood
                | Act::GiveWater
                | Act::WipeFace
                | Act::LetChoose
                | Act::HoldToFace
                | Act::Don(_)
                | Act::Doff
                | Act::SeatMask
                | Act::SealCheck(_)
                | Act::GearOn
        );
        let with_a_bare_face =
            matches!(step.act, Act::HandOver(_) | Act::Disinfect | Act::Don(_) | Act::LetChoose | Act::HoldToFace);
        let masked = with_a_bare_face && self.state.worn().is_some();
        if self.state.hood.is_some() && (under_the_hood || masked) {
            Step::now(Act::HoodOff, step.rule)
        } else if masked {
            Step::now(Act::Doff, step.rule)
        } else {
            step
        }
    }

    fn done(&self, act: Act) -> bool {
        self.state.first(act).is_some()
    }

    fn done_since(&self, from: Ms, act: Act) -> bool {
        self.state.last(act).is_some_and(|at| at >= from)
    }

    /// Whether a record was written with all five fields, and none on health; more does no harm.
    fn recorded_since(&self, from: Ms) -> bool {
        let is_good = |act| matches!(act, Act::Record(fields) if fields.has_the_five() && !fields.has(Field::Health));
        self.state.last_like(is_good).is_some_and(|at| at >= from)
    }

    fn seen(&self, seen: Seen) -> bool {
        self.state.shown(seen).is_some()
    }

    /// Waits until a moment, as an act, unless it is past.
    fn wait_until(&self, moment: Ms, rule: RuleId) -> Option<Step> {
        let left = moment.since(self.now);
        (left > Ms::ZERO).then(|| Step::now(Act::Wait(left), rule))
    }

    /// The wearer's safety and wish come before everything.
    fn distress(&self) -> Option<Step> {
        let state = self.state;
        let shown = |seen: Seen| state.shown_last(seen);
        let emergency = shown(Seen::ChestPain).max(shown(Seen::Wheezes));
        let cause = if emergency.is_some() {
            Cause::Emergency
        } else if self.seen(Seen::Breathless) {
            Cause::Breathing
        } else if self.seen(Seen::FireAlarm) {
            Cause::Alarm
        } else if self.seen(Seen::SaysStop) {
            Cause::Wish
        } else {
            return None;
        };
        let rule = match cause {
            Cause::Emergency => RuleId::DistressEmergency,
            Cause::Breathing => RuleId::DistressBreathing,
            Cause::Alarm => RuleId::DistressAlarm,
            Cause::Wish => RuleId::DistressWish,
        };
        let at = emergency
            .or(shown(Seen::Breathless))
            .or(shown(Seen::FireAlarm))
            .or(shown(Seen::SaysStop))
            .unwrap_or(Ms::ZERO);
        let urgent = cause == Cause::Emergency;
        let step = match cause {
            Cause::Wish | Cause::Alarm => NextStep::AnotherDay,
            Cause::Emergency | Cause::Breathing => NextStep::Refer,
        };
        let given = state.verdicts.iter().any(|(_, verdict, _)| *verdict == Verdict::Stopped(cause));
        first(&[
            (!urgent && !given && !self.done_since(at, Act::Stop), Act::Stop, rule),
            (state.hood.is_some(), Act::HoodOff, rule),
            (state.worn().is_some(), Act::Doff, rule),
            (urgent && !self.done(Act::CallHelp), Act::CallHelp, rule),
            (!given, Act::Give(Verdict::Stopped(cause)), rule),
            (!state.steps.iter().any(|(_, taken, _)| *taken == step), Act::Next(step), RuleId::NextRefer),
            (
                !urgent && cause != Cause::Alarm && !self.done(Act::TellResult(Company::Private)),
                Act::TellResult(Company::Private),
                RuleId::ResultTell,
            ),
        ])
        .or_else(|| self.leave())
    }

    /// What is under way is not left for something forgotten before it.
    fn go_on(&self) -> Option<Step> {
        let state = self.state;
        // But nobody is tested on of whom it is not known whether they may be.
        if !self.done(Act::AskClearance) {
            return None;
        }
        if let Some(test) = state.test().filter(|test| test.common.verdict.is_none()) {
            if test.begun().is_some() {
                return self.test();
            }
            // A taste at the initial squeezes is one in the test.
            let called = self.call(test);
            if called.is_some() {
                return called;
            }
        }
        let under_way =
            state.hood.is_some() && state.worn().is_none() && !state.must_screen() && state.test().is_none();
        let screening = state
            .screening()
            .filter(|screening| under_way && !screening.common.squeezes.is_empty() && screening.noted.is_empty());
        screening.and_then(|screening| self.screen(screening))
    }

    fn as_seen(&self) -> AsSeen<'_> {
        AsSeen::of(self.scenario, &self.book, self.state)
    }

    /// After a result: what comes next, telling, recording.
    fn close(&self) -> Option<Step> {
        let (at, verdict, about) = self.state.verdicts.last().copied()?;
        let attempts = self.state.screening().map(|screening| screening.common.from).into_iter();
        if attempts.chain(self.state.test().map(|test| test.common.from)).any(|from| from > at) {
            // Something new has begun since.
            return None;
        }
        let told_late = self.state.test().and_then(FitTest::taste).is_some_and(|taste| taste >= at);
        if verdict == Verdict::Pass && told_late {
            return Some(Step::now(Act::Give(Verdict::Fail), RuleId::WatchTaste));
        }
        let decided =
            self.state.steps.iter().rfind(|(when, _, on)| *when >= at && *on == about).map(|(_, step, _)| *step);
        if decided.is_some_and(NextStep::is_again) {
            // Everything about that attempt is over, except telling what it was.
            return self.tell(at, verdict, about, decided);
        }
        let step = match verdict {
            Verdict::Pass => NextStep::Cleared,
            Verdict::Fail => self.another(),
            Verdict::Invalid => self.again(about),
            Verdict::CannotTaste => NextStep::OtherAgent,
            Verdict::NotTested(Bar::Wish) if self.seen(Seen::RefusesAgent) => NextStep::OtherAgent,
            Verdict::NotTested(Bar::Clearance | Bar::Seal | Bar::Mouth) => NextStep::PutRight,
            Verdict::NotTested(Bar::Use) => NextStep::Quantitative,
            Verdict::NotTested(Bar::Facepiece | Bar::Wish) => NextStep::AnotherDay,
            Verdict::Stopped(_) => NextStep::Refer,
        };
        if self.state.hood.is_some() {
            return Some(Step::now(Act::HoodOff, RuleId::ResultGiven));
        }
        self.tell(at, verdict, about, decided)
            .or_else(|| first(&[(decided.is_none(), Act::Next(step), RuleId::NextStep)]))
            .or_else(|| self.leave())
    }

    fn tell(&self, at: Ms, verdict: Verdict, about: About, decided: Option<NextStep>) -> Option<Step> {
        if verdict == Verdict::Invalid {
            return None;
        }
        let recorded = matches!(verdict, Verdict::Pass | Verdict::Fail);
        let donning = match about {
            About::Test(number) => self.state.tests.get(number).and_then(|test| test.donning),
            About::Day | About::Screening(_) => None,
        };
        let failed = donning.filter(|_| verdict == Verdict::Fail).and_then(|number| self.state.donnings.get(number));
        let still_on = failed.is_some_and(|donning| donning.off.is_none());
        let refit = decided == Some(NextStep::RefitSame) && self.book.house.one_refit_after_fail;
        let at_hand = !refit && failed.is_some_and(|donning| self.state.in_hand == Some(donning.slot));
        let private = Act::TellResult(Company::Private);
        first(&[
            (!self.done_since(at, private), private, RuleId::ResultTell),
            (verdict == Verdict::Pass && !self.done_since(at, Act::TellScope), Act::TellScope, RuleId::ResultScope),
            (recorded && !self.recorded_since(at), Act::Record(Fields::FIVE), RuleId::RecordFields),
            (still_on && self.state.hood.is_some(), Act::HoodOff, RuleId::RecordAside),
            (still_on, Act::Doff, RuleId::RecordAside),
            (at_hand && self.is_converted(), Act::RestoreMode, RuleId::UseRestore),
            (at_hand, Act::SetAside, RuleId::RecordAside),
        ])
    }

    /// What a spoilt attempt asks for.
    fn again(&self, about: About) -> NextStep {
        match self.as_seen().spoilt(about) {
            _ if matches!(about, About::Screening(_)) => NextStep::ScreenAgain,
            Some((_, About::Screening(_)) | (RuleId::ScreenDone | RuleId::NextWhole, _)) => NextStep::ScreenAgain,
            Some((RuleId::NextDifferent, _)) => self.another(),
            Some(_) | None => NextStep::TestAgain,
        }
    }

    /// A different facepiece, if there is one.
    fn another(&self) -> NextStep {
        let seen = self.as_seen();
        let left =
            |slot: Slot| self.state.handled(slot).aside.is_none() && !seen.is_given_up(slot) && self.is_allowed(slot);
        if self.scenario.slots().any(left) { NextStep::OtherFacepiece } else { NextStep::AnotherDay }
    }

    /// Whether a facepiece keeps to the clearance and to the exposure, as far as they were asked about.
    fn is_allowed(&self, slot: Slot) -> bool {
        let Some(piece) = self.scenario.facepiece(slot) else { return false };
        let powered_only = self.seen(Seen::SaysPoweredOnly);
        (!powered_only || piece.class == Class::Powered) && (!self.is_beyond_limit() || piece.class.is_positive())
    }

    fn is_converted(&self) -> bool {
        let in_hand = self.state.in_hand.map(|slot| self.state.handled(slot)).unwrap_or_default();
        in_hand.negative.is_some() && in_hand.restored < in_hand.negative
    }

    /// Leaves the room as it should be, and ends.
    fn leave(&self) -> Option<Step> {
        let state = self.state;
        let used = |role: Role| {
            let screenings = state.screenings.iter().map(|screening| &screening.common);
            screenings
                .chain(state.tests.iter().map(|test| &test.common))
                .flat_map(|common| &common.squeezes)
                .filter(|squeeze| squeeze.role == role)
                .map(|squeeze| squeeze.at)
                .max()
        };
        let last = used(Role::Check).max(used(Role::Fit));
        let rinse = |role: Role| used(role).is_some_and(|at| !self.done_since(at, Act::RinseNebulizer(role)));
        first(&[
            (state.hood.is_some(), Act::HoodOff, RuleId::AfterBench),
            (state.worn().is_some(), Act::Doff, RuleId::FacepieceAfter),
        ])
        .or_else(|| state.facepieces.keys().find_map(|slot| self.leave_facepiece(*slot)))
        .or_else(|| {
            first(&[
                (state.held.is_some(), Act::PutDown, RuleId::AfterBench),
                (last.is_some_and(|at| !self.done_since(at, Act::WipeHood)), Act::WipeHood, RuleId::AfterBench),
                (rinse(Role::Check), Act::RinseNebulizer(Role::Check), RuleId::AfterBench),
                (rinse(Role::Fit), Act::RinseNebulizer(Role::Fit), RuleId::AfterBench),
                (true, Act::Finish, RuleId::ResultGiven),
            ])
        })
    }

    /// Leaves a facepiece as the next wearer should find it.
    fn leave_facepiece(&self, slot: Slot) -> Option<Step> {
        let known = self.state.handled(slot);
        let off = self.state.donnings.iter().rfind(|donning| donning.slot == slot).and_then(|donning| donning.off);
        let dirty = off.is_some() && known.disinfected.max(known.aside) < off;
        let converted = known.negative.is_some() && known.restored < known.negative;
        let filtering = self.scenario.facepiece(slot).is_some_and(|piece| piece.class == Class::Filtering);
        let at_hand = self.state.in_hand == Some(slot);
        first(&[
            ((dirty || converted) && !at_hand, Act::HandOver(slot), RuleId::FacepieceAfter),
            (converted, Act::RestoreMode, RuleId::UseRestore),
            (dirty && filtering, Act::SetAside, RuleId::FacepieceAfter),
            (dirty, Act::Disinfect, RuleId::FacepieceAfter),
        ])
    }

    fn who(&self) -> Option<Step> {
        let questionnaire = self.seen(Seen::OffersQuestionnaire) && !self.done(Act::ReturnQuestionnaire);
        let covered = self.seen(Seen::FaceTempleBar) || self.seen(Seen::FaceCovering);
        first(&[
            (!self.done(Act::AskClearance), Act::AskClearance, RuleId::ClearBefore),
            (questionnaire, Act::ReturnQuestionnaire, RuleId::ClearQuestionnaire),
            (self.seen(Seen::SaysNotCleared), Act::Give(Verdict::NotTested(Bar::Clearance)), RuleId::ClearBefore),
            (!self.done(Act::AskWell(Company::Private)), Act::AskWell(Company::Private), RuleId::ClearToday),
            (self.seen(Seen::SaysRatherNot), Act::Give(Verdict::NotTested(Bar::Wish)), RuleId::ClearToday),
            (!self.done(Act::CheckUse), Act::CheckUse, RuleId::UseCheck),
            (!self.done(Act::AskWorkFacepiece), Act::AskWorkFacepiece, RuleId::UseSame),
            (
                self.is_beyond_limit() && self.scenario.is_beyond_this_test(),
                Act::Give(Verdict::NotTested(Bar::Use)),
                RuleId::UseLimit,
            ),
            (!self.done(Act::AskMouth), Act::AskMouth, RuleId::MouthAsk),
            (self.is_numb(), Act::Give(Verdict::NotTested(Bar::Mouth)), RuleId::MouthNumb),
            (!self.done(Act::LookAtFace), Act::LookAtFace, RuleId::SealLook),
            (
                self.seen(Seen::FaceStubble) || self.seen(Seen::FaceBeard),
                Act::Give(Verdict::NotTested(Bar::Seal)),
                RuleId::SealHair,
            ),
            (covered && !self.done(Act::ClearSeal), Act::ClearSeal, RuleId::SealUnder),
            (!self.done(Act::AskGear), Act::AskGear, RuleId::GearAsk),
        ])
    }

    fn is_numb(&self) -> bool {
        self.state.signs.keys().any(|sign| matches!(sign, Sign::ByMouth(Mouthful::Numb, _)))
    }

    /// Whether the exposure was seen to be beyond what this test can show for a negative-pressure facepiece.
    fn is_beyond_limit(&self) -> bool {
        let times = self
            .state
            .signs
            .keys()
            .find_map(|sign| if let Sign::ExposureTimes(times) = sign { Some(u32::from(*times)) } else { None });
        times.is_some_and(|times| times > self.book.numbers.limit_times)
    }

    fn bench(&self) -> Option<Step> {
        for role in Role::ALL.iter().copied() {
            if !self.done(Act::CheckNebulizer(role)) {
                return Some(Step::now(Act::CheckNebulizer(role), RuleId::NebCheck));
            }
        }
        for role in Role::ALL.iter().copied() {
            if let Some(step) = self.nebulizer(role) {
                return Some(step);
            }
        }
        first(&[
            (self.gloves_are_on(), Act::GlovesOff, RuleId::HandsGloves),
            (!self.done(Act::CheckHood), Act::CheckHood, RuleId::HoodCheck),
            (self.seen(Seen::HoodDamp) && !self.done(Act::WipeHood), Act::WipeHood, RuleId::HoodClean),
        ])
    }

    fn gloves_are_on(&self) -> bool {
        self.state.last(Act::GlovesOn) > self.state.last(Act::GlovesOff)
    }

    /// Puts right what was seen wrong with a nebulizer. What was seen is not told apart by nebulizer, so where one is in
    /// doubt both are refilled.
    fn nebulizer(&self, role: Role) -> Option<Step> {
        let state = self.state;
        let overdue = state.signs.iter().filter_map(|(sign, (_, last))| {
            let Sign::FilledAgo(hours) = sign else { return None };
            (Ms::mins(60).times(u32::from(*hours)) > self.book.numbers.refill_within).then_some(*last)
        });
        let wrong = [
            Seen::NebulizerSwapped,
            Seen::NebulizerOtherAgent,
            Seen::NebulizerLow,
            Seen::NebulizerTipCrusted,
            Seen::SpraysNothing,
        ];
        let seen = wrong.into_iter().filter_map(|seen| state.shown_last(seen)).chain(overdue).max();
        let fill = Act::FillNebulizer(role);
        let refill = seen.filter(|seen| !self.done_since(*seen, fill));
        let since = refill.unwrap_or(Ms::ZERO);
        let refill = refill.is_some();
        let undated = self.seen(Seen::BottleUndated) && !self.done(Act::FreshBottle(role));
        let unmarked = self.seen(Seen::NebulizerUnmarked) && !self.done(Act::LabelNebulizer(role));
        first(&[
            (refill && !self.gloves_are_on(), Act::GlovesOn, RuleId::HandsGloves),
            (refill && !self.done(Act::CheckBottle(role)), Act::CheckBottle(role), RuleId::NebBottle),
            (refill && undated, Act::FreshBottle(role), RuleId::NebBottle),
            (refill && !self.done_since(since, Act::RinseNebulizer(role)), Act::RinseNebulizer(role), RuleId::NebRinse),
            (refill, fill, RuleId::NebFill),
            (unmarked, Act::LabelNebulizer(role), RuleId::NebMarked),
            (!self.done(Act::TestSpray(role)), Act::TestSpray(role), RuleId::NebSpray),
        ])
    }

    /// Frees a nebulizer that sprayed nothing, and fills it where it sprays nothing once more.
    fn unclog(&self, common: &Common, role: Role) -> Option<Step> {
        let (clear, fill) = (Act::ClearNebulizer(role), Act::FillNebulizer(role));
        let filled = self.state.last(fill);
        let failed = common.signs.iter().filter(|(at, seen)| {
            matches!(seen, Seen::SprayFails | Seen::SpraysNothing) && filled.is_none_or(|filled| *at > filled)
        });
        let last = failed.clone().next_back().map(|(at, _)| *at)?;
        let dry = failed.filter(|(_, seen)| *seen == Seen::SpraysNothing).count() > 1;
        first(&[(dry, fill, RuleId::NebFill), (!self.done_since(last, clear), clear, RuleId::NebClogLook)])
    }

    fn briefing(&self) -> Option<Step> {
        let explain = |topic: Topic, rule: RuleId| (!self.done(Act::Explain(topic)), Act::Explain(topic), rule);
        let nodded = self.state.shown_last(Seen::NodsOnly);
        let explained_since = nodded.is_none_or(|at| self.state.last(Act::Explain(Topic::Duties)) > Some(at));
        let heard_since = nodded.is_none_or(|at| self.state.last(Act::HearBack) > Some(at));
        first(&[
            explain(Topic::Procedure, RuleId::BriefProcedure),
            (self.seen(Seen::RefusesAgent), Act::Give(Verdict::NotTested(Bar::Wish)), RuleId::DistressWish),
            explain(Topic::Duties, RuleId::BriefDuties),
            explain(Topic::MaskFails, RuleId::BriefMaskFails),
            (!self.done(Act::AgreeSignals), Act::AgreeSignals, RuleId::BriefSignals),
            (!self.done(Act::HearBack), Act::HearBack, RuleId::BriefBack),
            (!explained_since, Act::Explain(Topic::Duties), RuleId::BriefBack),
            (!heard_since, Act::HearBack, RuleId::BriefBack),
        ])
    }

    fn screening(&self) -> Option<Step> {
        let state = self.state;
        let Some(screening) = state.screenings.last().filter(|_| !state.must_screen()) else {
            return self.begin_screening();
        };
        let spoilt = self.as_seen().spoilt(About::Screening(state.screenings.len() - 1));
        match screening.threshold() {
            None if screening.common.is_open() && state.worn().is_none() => self.screen(screening),
            None => self.begin_screening(),
            // The record can be put right as long as nothing rests on it.
            Some(noted) if self.class_shown(screening).is_some_and(|class| class != noted) => {
                self.class_shown(screening).map(|class| Step::now(Act::NoteThreshold(class), RuleId::ScreenClass))
            }
            Some(_) if spoilt.is_some() => spoilt.map(|(rule, _)| Step::now(Act::Next(NextStep::ScreenAgain), rule)),
            Some(Threshold::NotTasted) => {
                self.leave_hood().or(Some(Step::now(Act::Give(Verdict::CannotTaste), RuleId::ScreenNone)))
            }
            Some(_) => self.after_screening(screening),
        }
    }

    /// The class in which the agent was tasted, if it was.
    fn class_shown(&self, screening: &Screening) -> Option<Threshold> {
        let after = screening.tasted_after().filter(|after| *after > 0)?;
        let given = screening.common.squeezes.iter().take(after).filter(|squeeze| squeeze.counts()).count();
        Some(self.book.class_at(u32::try_from(given).unwrap_or(u32::MAX)))
    }

    fn leave_hood(&self) -> Option<Step> {
        first(&[(self.state.hood.is_some(), Act::HoodOff, RuleId::ScreenClear)])
    }

    fn begin_screening(&self) -> Option<Step> {
        let state = self.state;
        // Those of a test that is given up for a new screening as well.
        let last = self.last_spray_of_those_before(Ms(u32::MAX));
        let again = last.is_some();
        let from = last.unwrap_or(Ms::ZERO);
        first(&[
            (state.hood.is_some(), Act::HoodOff, RuleId::ScreenBare),
            (state.worn().is_some(), Act::Doff, RuleId::ScreenBare),
            (again && !self.done_since(from, Act::GiveWater), Act::GiveWater, RuleId::ScreenClear),
            (again && !self.done_since(from, Act::WipeFace), Act::WipeFace, RuleId::ScreenClear),
            (again && !self.done_since(from, Act::WipeHood), Act::WipeHood, RuleId::HoodClean),
        ])
        .or_else(|| last.and_then(|at| self.wait_until(at.plus(self.book.numbers.clear_wait), RuleId::ScreenClear)))
        .or_else(|| self.mouth_is_clear_at().and_then(|at| self.wait_until(at, RuleId::MouthScreening)))
        .or(Some(Step::now(Act::HoodOn, RuleId::ScreenHood)))
    }

    /// From when nothing but water has been in the mouth for long enough.
    fn mouth_is_clear_at(&self) -> Option<Ms> {
        self.state.signs.iter().find_map(|(sign, (at, _))| {
            let Sign::ByMouth(what, minutes) = sign else { return None };
            let left = self.book.numbers.nothing_by_mouth.since(Ms::mins(u32::from(*minutes)));
            let clear = matches!(what, Mouthful::Nothing | Mouthful::Water | Mouthful::Numb) || left == Ms::ZERO;
            (!clear).then(|| at.plus(left))
        })
    }

    /// The last spray, those of a test that has not come to its exercises left out.
    fn last_spray(&self) -> Option<Ms> {
        self.last_spray_of_those_before(self.state.test().map_or(Ms(u32::MAX), |test| test.common.from))
    }

    /// The last spray of the attempts that began before a moment.
    fn last_spray_of_those_before(&self, from: Ms) -> Option<Ms> {
        let screenings = self.state.screenings.iter().map(|screening| &screening.common);
        screenings
            .chain(self.state.tests.iter().map(|test| &test.common))
            .filter(|common| common.from < from)
            .filter_map(|common| common.squeezes.last())
            .map(|squeeze| squeeze.at)
            .max()
    }

    fn screen(&self, screening: &Screening) -> Option<Step> {
        let (state, common) = (self.state, &screening.common);
        let set = usize::try_from(self.book.numbers.set).unwrap_or(usize::MAX);
        let most = set * usize::try_from(self.book.numbers.sets).unwrap_or(1);
        let whole = common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
        let asked = common.questions.last().map_or(0, |question| {
            common.squeezes.iter().take(question.after).filter(|squeeze| squeeze.counts()).count()
        });
        let told = self.done_since(common.from, Act::Remind(Reminder::Breathing));
        let shut = common.shown(Seen::MouthShuts) > common.shown(Seen::MouthOpens);
        let near = common
            .shown_any(&[Seen::HoodNear, Seen::HoodSlidesNear])
            .is_some_and(|at| !self.done_since(at, Act::SetGap));
        if common.shown(Seen::SaysTasteBefore).is_some() {
            return Some(Step::now(Act::Next(NextStep::ScreenAgain), RuleId::ScreenUntrue));
        }
        if let Some((rule, _)) = self.as_seen().spoilt(About::Screening(state.screenings.len().saturating_sub(1))) {
            return Some(Step::now(Act::Next(NextStep::ScreenAgain), rule));
        }
        if let Some(class) = self.class_shown(screening) {
            return Some(Step::now(Act::NoteThreshold(class), RuleId::ScreenClass));
        }
        let odd = common.shown_last(&[Seen::RaisesHand, Seen::SaysPlastic, Seen::SaysSalty]);
        let unasked = odd.is_some_and(|at| !common.questions.iter().any(|question| question.at >= at));
        first(&[
            (state.hood.is_none(), Act::HoodOn, RuleId::ScreenHood),
            (near, Act::SetGap, RuleId::ScreenGap),
            (state.held != Some(Role::Check), Act::Take(Role::Check), RuleId::NebScreen),
            (state.aim != Aim::Away, Act::Aim(Aim::Away), RuleId::ScreenNozzle),
            (!told || shut, Act::Remind(Reminder::Breathing), RuleId::BriefTongue),
        ])
        .or_else(|| self.unclog(common, Role::Check))
        .or_else(|| {
            first(&[
                (unasked, Act::Ask(Manner::Neutral), RuleId::AskLeading),
                // Each ten that is full is asked about before the next.
                (whole / set > asked / set, Act::Ask(Manner::Neutral), RuleId::ScreenCount),
                (whole >= most, Act::NoteThreshold(Threshold::NotTasted), RuleId::ScreenNone),
                (true, Act::Squeeze, RuleId::ScreenCount),
            ])
        })
    }

    fn after_screening(&self, screening: &Screening) -> Option<Step> {
        let from = screening.common.from;
        // A new fit test of the same screening has this behind it.
        if self.state.test().is_some() || self.state.worn().is_some() {
            return None;
        }
        first(&[
            (self.state.hood.is_some(), Act::HoodOff, RuleId::ScreenClear),
            (self.state.held.is_some(), Act::PutDown, RuleId::ScreenClear),
            (
                !self.done_since(from, Act::Explain(Topic::Remember)),
                Act::Explain(Topic::Remember),
                RuleId::BriefRemember,
            ),
            (!self.done_since(from, Act::GiveWater), Act::GiveWater, RuleId::ScreenClear),
            (!self.done_since(from, Act::WipeFace), Act::WipeFace, RuleId::ScreenClear),
            (!self.done_since(from, Act::WipeHood), Act::WipeHood, RuleId::HoodClean),
        ])
    }

    fn facepiece(&self) -> Option<Step> {
        if self.state.worn().is_some() { self.fit() } else { self.choose() }
    }

    fn choose(&self) -> Option<Step> {
        let state = self.state;
        let explain = |topic: Topic, rule: RuleId| (!self.done(Act::Explain(topic)), Act::Explain(topic), rule);
        let told = first(&[
            explain(Topic::Aim, RuleId::BriefAim),
            explain(Topic::Donning, RuleId::BriefDonning),
            (!self.done(Act::GiveMirror), Act::GiveMirror, RuleId::BriefMirror),
        ]);
        if state.hood.is_some() {
            return Some(Step::now(Act::HoodOff, RuleId::FitHood));
        }
        if told.is_some() {
            return told;
        }
        match state.in_hand {
            Some(slot) if self.is_given_up(slot) => first(&[
                (self.is_converted(), Act::RestoreMode, RuleId::UseRestore),
                (true, Act::SetAside, RuleId::RecordAside),
            ]),
            Some(slot) if self.is_wanted(slot) => self.prepare(slot),
            Some(_) | None => self.hand_over(),
        }
    }

    /// The facepiece of the job, as long as it is not given up.
    fn of_the_job(&self) -> Option<Slot> {
        let at_work = self
            .state
            .signs
            .keys()
            .find_map(|sign| if let Sign::FacepieceAtWork(slot) = sign { Some(*slot) } else { None });
        at_work.filter(|slot| !self.is_given_up(*slot))
    }

    /// Whether a facepiece is the one of the job or, where that is open, one the wearer chose.
    fn is_wanted(&self, slot: Slot) -> bool {
        let chosen = self.state.signs.contains_key(&Sign::Chooses(slot));
        self.of_the_job().map_or(chosen, |wanted| wanted == slot)
    }

    /// Whether a facepiece is out of the question for this wearer today.
    fn is_given_up(&self, slot: Slot) -> bool {
        let decided = self.state.steps.last().map(|(_, step, _)| *step);
        let refit = decided == Some(NextStep::RefitSame) && self.book.house.one_refit_after_fail;
        !self.is_allowed(slot) || (!refit && self.as_seen().is_given_up(slot))
    }

    fn hand_over(&self) -> Option<Step> {
        let state = self.state;
        if let Some(slot) = self.of_the_job() {
            return Some(Step::now(Act::HandOver(slot), RuleId::UseSame));
        }
        let asked = state.last(Act::LetChoose);
        let since = state.donnings.last().and_then(|donning| donning.off).max(self.last_aside());
        if asked.is_none_or(|asked| since.is_some_and(|since| asked < since)) {
            return Some(Step::now(Act::LetChoose, RuleId::ChooseWearer));
        }
        if !self.done(Act::HoldToFace) {
            return Some(Step::now(Act::HoldToFace, RuleId::ChooseHold));
        }
        let chosen = state
            .signs
            .iter()
            .filter_map(|(sign, (_, last))| if let Sign::Chooses(slot) = sign { Some((*last, *slot)) } else { None });
        let none = if self.seen(Seen::SaysPoweredOnly) { Bar::Clearance } else { Bar::Facepiece };
        match chosen.max().filter(|(at, _)| asked.is_some_and(|asked| *at >= asked)) {
            Some((_, slot)) => Some(Step::now(Act::HandOver(slot), RuleId::ChooseWearer)),
            None => Some(Step::now(Act::Give(Verdict::NotTested(none)), RuleId::ComfortOther)),
        }
    }

    fn last_aside(&self) -> Option<Ms> {
        self.state.facepieces.values().filter_map(|handled| handled.aside).max()
    }

    fn prepare(&self, slot: Slot) -> Option<Step> {
        let known = self.state.handled(slot);
        let filtering = self.scenario.facepiece(slot).is_some_and(|piece| piece.class == Class::Filtering);
        let unclean = known.used.is_some() && known.disinfected < known.used;
        self.ready(slot).or_else(|| {
            first(&[
                (unclean && filtering, Act::SetAside, RuleId::FacepiecePassedOn),
                (unclean, Act::Disinfect, RuleId::FacepieceShared),
                (true, Act::Don(Hands::Own), RuleId::DonUnaided),
            ])
        })
    }

    /// The facepiece itself, before the test.
    fn ready(&self, slot: Slot) -> Option<Step> {
        let known = self.state.handled(slot);
        let at_hand = self.state.in_hand == Some(slot);
        first(&[
            (at_hand && known.inspected.is_none(), Act::InspectFacepiece, RuleId::FacepieceInspect),
            (at_hand && known.gas_only && known.filters_fitted.is_none(), Act::FitFilters, RuleId::UseFilter),
            (
                at_hand && known.positive && (known.negative.is_none() || known.restored > known.negative),
                Act::SetNegative,
                RuleId::UseNegative,
            ),
        ])
    }

    fn fit(&self) -> Option<Step> {
        let state = self.state;
        let donning = state.worn()?;
        if state.test().is_some_and(|test| test.begun().is_some()) {
            return None;
        }
        let hooded = state.hood.is_some();
        match self.fitting(donning) {
            Some(_) if hooded => Some(Step::now(Act::HoodOff, RuleId::FitHood)),
            None if hooded && state.test().is_none() => Some(Step::now(Act::HoodOff, RuleId::FitHood)),
            None if hooded => None,
            None => Some(Step::now(Act::HoodOn, RuleId::FitHood)),
            step => step,
        }
    }

    /// What is to be done with the facepiece on, before the hood.
    fn fitting(&self, donning: &Donning) -> Option<Step> {
        let state = self.state;
        let gear = state.signs.keys().any(|sign| matches!(sign, Sign::WearsAtWork(_)));
        let stale = donning.seal_check().is_some_and(|check| {
            let moved = [Seen::AdjustsMask, Seen::HelperAtStraps, Seen::TouchesMask]
                .into_iter()
                .filter_map(|seen| state.shown_last(seen))
                .max()
                .max(donning.fixed);
            moved.is_some_and(|moved| moved > check.at)
        });
        let explain = |topic: Topic, rule: RuleId| (!self.done(Act::Explain(topic)), Act::Explain(topic), rule);
        let another = self.of_the_job().is_some_and(|wanted| wanted != donning.slot);
        first(&[
            (self.is_given_up(donning.slot), Act::Doff, RuleId::SealCheckFailed),
            (another, Act::Doff, RuleId::UseSame),
        ])
        .or_else(|| self.ready(donning.slot))
        .or_else(|| {
            first(&[
                (donning.adequacy.is_none(), Act::CheckAdequacy, RuleId::ComfortAdequacy),
                (donning.fault.is_some() && donning.fixed.is_none(), Act::FixStraps, RuleId::StrapsFault),
                (donning.seated.is_none(), Act::SeatMask, RuleId::SealCheckSeated),
                (donning.seal_checks.is_empty() || stale, Act::SealCheck(Method::Both), RuleId::SealCheckEach),
                (gear && donning.gear.is_none(), Act::GearOn, RuleId::GearOn),
            ])
        })
        .or_else(|| self.wait_until(donning.at.plus(self.book.numbers.pretest_wear), RuleId::WearFive))
        .or_else(|| {
            first(&[
                (donning.comfort.is_none(), Act::ReviewComfort, RuleId::ComfortReview),
                (!self.done(Act::NoteRunnerUp), Act::NoteRunnerUp, RuleId::ChooseRunnerUp),
                explain(Topic::Exercises, RuleId::BriefExercises),
            ])
        })
        .or_else(|| {
            let clear = self.last_spray().map(|at| at.plus(self.book.numbers.clear_wait));
            clear.and_then(|at| self.wait_until(at, RuleId::ScreenClear))
        })
        .or_else(|| self.mouth_is_clear_at().and_then(|at| self.wait_until(at, RuleId::MouthFifteen)))
        .or_else(|| {
            let since_spray = |act: Act| self.last_spray().is_none_or(|at| self.done_since(at, act));
            first(&[
                (!since_spray(Act::GiveWater), Act::GiveWater, RuleId::ScreenClear),
                (!since_spray(Act::WipeHood), Act::WipeHood, RuleId::HoodClean),
                (!since_spray(Act::WipeFace), Act::WipeFace, RuleId::WatchSuspect),
            ])
        })
    }

    fn test(&self) -> Option<Step> {
        let test = self.state.test()?;
        self.call(test).or_else(|| self.put_right(test)).or_else(|| match test.begun() {
            None => self.initial(test),
            Some(begun) => self.exercises(test, begun),
        })
    }

    /// A taste, or something that spoils the test: stop and say so.
    fn call(&self, test: &FitTest) -> Option<Step> {
        let common = &test.common;
        let since = test.begun().unwrap_or(Ms(u32::MAX));
        let in_exercise = |wanted: Seen| common.signs.iter().any(|(at, seen)| *seen == wanted && *at >= since);
        let residue = common.shown_any(&[Seen::DropOnFace, Seen::SaysTasteBefore]).is_some();
        let mut salts = common.signs.iter().filter(|(_, seen)| matches!(seen, Seen::SaysSalty | Seen::SaysSaltGone));
        let salty = salts.next_back().filter(|(_, seen)| *seen == Seen::SaysSalty).map(|(at, _)| *at);
        let salt_stays = salty.is_some() && common.questions.iter().any(|question| Some(question.at) == salty);
        let odd = common.shown_last(&[Seen::RaisesHand, Seen::SaysPlastic]).max(salty);
        let unasked = odd.is_some_and(|at| !common.questions.iter().any(|question| question.at >= at));
        let about = About::Test(self.state.tests.len().saturating_sub(1));
        let noted = test.screening.and_then(|number| self.state.screenings.get(number)).and_then(Screening::threshold);
        let verdict = if residue {
            Some((Verdict::Invalid, RuleId::WatchSuspect))
        } else if test.taste().is_some() {
            Some((Verdict::Fail, RuleId::WatchTaste))
        } else if in_exercise(Seen::AdjustsMask) || in_exercise(Seen::HelperAtStraps) {
            Some((Verdict::Invalid, RuleId::FitAdjusted))
        } else if in_exercise(Seen::TouchesMask) {
            Some((Verdict::Invalid, RuleId::FitTouched))
        } else if test.hood_off.is_some() {
            Some((Verdict::Invalid, RuleId::FitResumed))
        } else if test.begun().and_then(|begun| common.found_clogged(begun)).is_some() {
            Some((Verdict::Invalid, RuleId::NebClogEnd))
        } else if salt_stays {
            Some((if self.was_salty_before() { Verdict::Fail } else { Verdict::Invalid }, RuleId::WatchSalty))
        } else if noted == Some(Threshold::NotTasted) {
            Some((Verdict::CannotTaste, RuleId::ScreenNone))
        } else if common.questions.iter().any(|question| question.manner != Manner::Neutral) {
            Some((Verdict::Invalid, RuleId::AskLeadingPass))
        } else if test.begun().and_then(|begun| common.acted(begun, |act| act == Act::FixStraps)).is_some() {
            Some((Verdict::Invalid, RuleId::FitAdjusted))
        } else {
            self.as_seen().spoilt(about).map(|(rule, _)| (Verdict::Invalid, rule))
        };
        match verdict {
            Some((_, rule)) if test.going_on().is_some() => Some(Step::now(Act::Stop, rule)),
            Some((verdict, rule)) => Some(Step::now(Act::Give(verdict), rule)),
            None if unasked => Some(Step::now(Act::Ask(Manner::Neutral), RuleId::AskLeading)),
            None => None,
        }
    }

    fn was_salty_before(&self) -> bool {
        let before = self.state.tests.len().saturating_sub(1);
        self.state.tests.iter().take(before).any(|test| test.common.shown(Seen::SaysSalty).is_some())
    }

    /// What can be put right by a word while the test goes on.
    fn put_right(&self, test: &FitTest) -> Option<Step> {
        let common = &test.common;
        let open = |seen: Seen, answer: Act| {
            let last = common.signs.iter().rev().find(|(_, sign)| *sign == seen).map(|(at, _)| *at);
            last.is_some_and(|at| !self.done_since(at, answer))
        };
        let say = |seen: Seen, reminder: Reminder, rule: RuleId| {
            (open(seen, Act::Remind(reminder)), Act::Remind(reminder), rule)
        };
        first(&[
            say(Seen::PullsFace, Reminder::SayTaste, RuleId::WatchNote),
            say(Seen::MouthShuts, Reminder::Breathing, RuleId::WatchMouth),
            say(Seen::SitsDown, Reminder::Stand, RuleId::FitStanding),
            say(Seen::RushesMoves, Reminder::Slowly, RuleId::FitEnds),
            say(Seen::Whispers, Reminder::Louder, RuleId::FitAloud),
            (self.state.hood.is_some() && open(Seen::HoodSlidesNear, Act::SetGap), Act::SetGap, RuleId::ScreenGap),
        ])
        .or_else(|| self.unclog(common, Role::Fit))
    }

    fn initial(&self, test: &FitTest) -> Option<Step> {
        let state = self.state;
        let told = self.done_since(test.common.from, Act::Remind(Reminder::Breathing));
        let whole = test.common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
        let due = state
            .threshold()
            .and_then(|threshold| self.book.initial(threshold))
            .unwrap_or(self.book.numbers.initial_minimum);
        let sprayed = whole >= usize::try_from(due).unwrap_or(usize::MAX);
        first(&[
            (state.hood.is_none(), Act::HoodOn, RuleId::FitHood),
            (state.held != Some(Role::Fit), Act::Take(Role::Fit), RuleId::NebTest),
            (!told, Act::Remind(Reminder::Breathing), RuleId::BriefTongue),
            (!sprayed, Act::Squeeze, RuleId::FitInitial),
            (true, Act::Begin(Exercise::NormalBreathing), RuleId::FitAll),
        ])
    }

    fn exercises(&self, test: &FitTest, begun: Ms) -> Option<Step> {
        let numbers = &self.book.numbers;
        let furthest = test.exercises.iter().filter_map(|done| done.exercise.place()).max();
        let next = Exercise::SEVEN.get(furthest.map_or(0, |place| place + 1)).copied();
        let Some(done) = test.going_on().copied() else {
            let last = test.exercises.last()?;
            // Ended before its time, it is begun anew.
            let cut = last.length(self.now) < numbers.exercise_slack && last.exercise.place().is_some();
            let due = if cut { Some(last.exercise) } else { next };
            return due
                .map(|exercise| Step::now(Act::Begin(exercise), RuleId::FitAll))
                .or_else(|| self.after_exercises(test));
        };
        let over = done.from.plus(numbers.exercise);
        // A replenishment due at a change of exercise comes first, and the clock keeps running; shortly before the end none
        // is needed any more.
        let end = over.plus(Ms(1));
        let last = if next.is_some() { end } else { end.since(numbers.replenish_lost) };
        if self.state.held != Some(Role::Fit) {
            return Some(Step::now(Act::Take(Role::Fit), RuleId::NebTest));
        }
        Some(match self.next_replenishment(test, begun, last) {
            Some(due) => Step::at(Act::Squeeze, RuleId::FitHalf, due),
            None => Step::at(next.map_or(Act::End, Act::Begin), RuleId::FitMinute, over),
        })
    }

    /// When the next squeeze of a replenishment is due; `None` where no more are before `last`.
    fn next_replenishment(&self, test: &FitTest, begun: Ms, last: Ms) -> Option<Ms> {
        let numbers = &self.book.numbers;
        let threshold = self.state.screenings.get(test.screening?)?.threshold_at(begun)?;
        let half = self.book.replenishment(threshold)?;
        let mut due = begun.plus(numbers.replenish_every);
        while due < last {
            let (from, to) = (due.since(numbers.replenish_lost), due.plus(numbers.replenish_lost));
            let window = |squeeze: &&Squeeze| squeeze.at >= from && squeeze.at < to && squeeze.counts();
            let given = u32::try_from(test.common.squeezes.iter().filter(window).count()).unwrap_or(u32::MAX);
            if given < half && self.now < to {
                return Some(due);
            }
            due = due.plus(numbers.replenish_every);
        }
        None
    }

    fn after_exercises(&self, test: &FitTest) -> Option<Step> {
        let ended = test.ended()?;
        let look = Act::CheckNebulizer(Role::Fit);
        first(&[
            (!self.done_since(ended, look), look, RuleId::NebClogLook),
            (!self.done_since(ended, Act::ReviewComfort), Act::ReviewComfort, RuleId::FitComfort),
            (self.state.held.is_some(), Act::PutDown, RuleId::FitHood),
            (self.state.hood.is_some(), Act::HoodOff, RuleId::WatchTaste),
            (true, Act::Give(Verdict::Pass), RuleId::ResultComplete),
        ])
    }
}
