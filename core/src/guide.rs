//! What a careful conductor would do next, by the book, given what has been done and shown.
//!
//! It knows no more than the state does, so it can show the next act to a trainee, and it can run a whole test by itself,
//! which is what the tests compare departures with.

use crate::{
    act::{
        Act, Aim, Bar, Cause, Company, Exercise, Fields, Hands, Manner, Method, NextStep, Reminder, Role, Slot, Threshold,
        Topic, Verdict,
    },
    attempt::{FitTest, Screening},
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

/// The next act by the book; `None` once the run has ended.
#[must_use]
pub fn next(scenario: &Scenario, state: &State) -> Option<Step> {
    if state.finished.is_some() {
        return None;
    }
    let guide = Guide { scenario, book: scenario.rulebook(), state };
    guide
        .distress()
        .or_else(|| guide.close())
        .or_else(|| guide.who())
        .or_else(|| guide.bench())
        .or_else(|| guide.briefing())
        .or_else(|| guide.screening())
        .or_else(|| guide.facepiece())
        .or_else(|| guide.test())
        .or(Some(Step::now(Act::Finish, RuleId::ResultGiven)))
}

struct Guide<'a> {
    scenario: &'a Scenario,
    book: Rulebook,
    state: &'a State,
}

/// The first of these whose condition holds.
fn first(steps: &[(bool, Act, RuleId)]) -> Option<Step> {
    steps.iter().find(|(due, ..)| *due).map(|(_, act, rule)| Step::now(*act, *rule))
}

impl Guide<'_> {
    fn done(&self, act: Act) -> bool {
        self.state.first(act).is_some()
    }

    fn done_since(&self, from: Ms, act: Act) -> bool {
        self.state.last(act).is_some_and(|at| at >= from)
    }

    fn seen(&self, seen: Seen) -> bool {
        self.state.shown(seen).is_some()
    }

    /// Waits until a moment, as an act, unless it is past.
    fn wait_until(&self, moment: Ms, rule: RuleId) -> Option<Step> {
        let left = moment.since(self.state.now);
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
        } else if self.seen(Seen::SaysStop) {
            Cause::Wish
        } else {
            return None;
        };
        let rule = match cause {
            Cause::Emergency => RuleId::DistressEmergency,
            Cause::Breathing => RuleId::DistressBreathing,
            Cause::Wish => RuleId::DistressWish,
        };
        let at = emergency.or(shown(Seen::Breathless)).or(shown(Seen::SaysStop)).unwrap_or(Ms::ZERO);
        let urgent = cause == Cause::Emergency;
        let step = if cause == Cause::Wish { NextStep::AnotherDay } else { NextStep::Refer };
        let given = state.verdicts.iter().any(|(_, verdict, _)| *verdict == Verdict::Stopped(cause));
        first(&[
            (!urgent && !given && !self.done_since(at, Act::Stop), Act::Stop, rule),
            (state.hood.is_some(), Act::HoodOff, rule),
            (state.worn().is_some(), Act::Doff, rule),
            (urgent && !self.done(Act::CallHelp), Act::CallHelp, rule),
            (!given, Act::Give(Verdict::Stopped(cause)), rule),
            (!state.steps.iter().any(|(_, taken, _)| *taken == step), Act::Next(step), RuleId::NextRefer),
            (!urgent && !self.done(Act::TellResult(Company::Private)), Act::TellResult(Company::Private), RuleId::ResultTell),
        ])
        .or_else(|| self.leave())
    }

    /// After a result: what comes next, telling, recording.
    fn close(&self) -> Option<Step> {
        let (at, verdict, about) = self.state.verdicts.last().copied()?;
        let decided = self.state.steps.iter().find(|(when, _, on)| *when >= at && *on == about).map(|(_, step, _)| *step);
        if decided.is_some_and(NextStep::is_again) {
            // Everything about that attempt is over, except telling what it was.
            return self.tell(at, verdict, about);
        }
        let step = match verdict {
            Verdict::Pass => NextStep::Cleared,
            Verdict::Fail if self.another_is_left() => NextStep::OtherFacepiece,
            Verdict::Fail => NextStep::AnotherDay,
            Verdict::Invalid => self.again(),
            Verdict::CannotTaste => NextStep::OtherAgent,
            Verdict::NotTested(Bar::Clearance | Bar::Seal | Bar::Mouth) => NextStep::PutRight,
            Verdict::NotTested(Bar::Use) => NextStep::Quantitative,
            Verdict::NotTested(Bar::Facepiece | Bar::Wish) => NextStep::AnotherDay,
            Verdict::Stopped(_) => NextStep::Refer,
        };
        if self.state.hood.is_some() {
            return Some(Step::now(Act::HoodOff, RuleId::ResultGiven));
        }
        self.tell(at, verdict, about)
            .or_else(|| first(&[(decided.is_none(), Act::Next(step), RuleId::NextStep)]))
            .or_else(|| self.leave())
    }

    fn tell(&self, at: Ms, verdict: Verdict, about: About) -> Option<Step> {
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
        let at_hand = failed.is_some_and(|donning| self.state.in_hand == Some(donning.slot));
        let private = Act::TellResult(Company::Private);
        first(&[
            (!self.done_since(at, private), private, RuleId::ResultTell),
            (verdict == Verdict::Pass && !self.done_since(at, Act::TellScope), Act::TellScope, RuleId::ResultScope),
            (recorded && !self.done_since(at, Act::Record(Fields::FIVE)), Act::Record(Fields::FIVE), RuleId::RecordFields),
            (still_on, Act::Doff, RuleId::RecordAside),
            (at_hand, Act::SetAside, RuleId::RecordAside),
        ])
    }

    /// What a spoilt attempt asks for.
    fn again(&self) -> NextStep {
        match self.state.verdicts.last() {
            Some((.., About::Screening(_))) => NextStep::ScreenAgain,
            _ => NextStep::TestAgain,
        }
    }

    fn another_is_left(&self) -> bool {
        let left = |slot: Slot| {
            self.state.handled(slot).aside.is_none() && !self.state.donnings.iter().any(|donning| donning.slot == slot)
        };
        self.scenario.slots().any(left)
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
        let in_hand = state.in_hand.map(|slot| state.handled(slot)).unwrap_or_default();
        let converted = in_hand.negative.is_some() && in_hand.restored < in_hand.negative;
        let was_worn = state.in_hand.is_some_and(|slot| state.donnings.iter().any(|donning| donning.slot == slot));
        let off = state.donnings.last().and_then(|donning| donning.off);
        let dirty = was_worn && in_hand.disinfected < off;
        let filtering = state
            .in_hand
            .and_then(|slot| self.scenario.facepiece(slot))
            .is_some_and(|piece| piece.class == crate::facepiece::Class::Filtering);
        first(&[
            (state.hood.is_some(), Act::HoodOff, RuleId::AfterBench),
            (state.worn().is_some(), Act::Doff, RuleId::FacepieceAfter),
            (converted, Act::RestoreMode, RuleId::UseRestore),
            (dirty && filtering, Act::SetAside, RuleId::FacepieceAfter),
            (dirty, Act::Disinfect, RuleId::FacepieceAfter),
            (state.held.is_some(), Act::PutDown, RuleId::AfterBench),
            (last.is_some_and(|at| !self.done_since(at, Act::WipeHood)), Act::WipeHood, RuleId::AfterBench),
            (rinse(Role::Check), Act::RinseNebulizer(Role::Check), RuleId::AfterBench),
            (rinse(Role::Fit), Act::RinseNebulizer(Role::Fit), RuleId::AfterBench),
            (true, Act::Finish, RuleId::ResultGiven),
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
            (self.is_beyond_use(), Act::Give(Verdict::NotTested(Bar::Use)), RuleId::UseLimit),
            (!self.done(Act::AskMouth), Act::AskMouth, RuleId::MouthAsk),
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

    /// Whether the use is beyond this test, for the facepiece of the job or for all on the rack.
    fn is_beyond_use(&self) -> bool {
        let times = self.state.signs.keys().find_map(|sign| match sign {
            Sign::ExposureTimes(times) => Some(u32::from(*times)),
            _ => None,
        });
        let positive = |slot: Slot| self.scenario.facepiece(slot).is_some_and(|piece| piece.class.is_positive());
        let any_positive = match self.scenario.person.at_work {
            Some(slot) => positive(slot),
            None => self.scenario.slots().any(positive),
        };
        times.is_some_and(|times| times > self.book.numbers.limit_times) && !any_positive
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

    /// Puts right what was seen wrong with a nebulizer before anything was sprayed from it. What was seen is not told
    /// apart by nebulizer, so where one is in doubt both are refilled.
    fn nebulizer(&self, role: Role) -> Option<Step> {
        let overdue = self.state.signs.keys().any(|sign| match sign {
            Sign::FilledAgo(hours) => Ms::mins(60).times(u32::from(*hours)) > self.book.numbers.refill_within,
            _ => false,
        });
        let wrong = [Seen::NebulizerSwapped, Seen::NebulizerOtherAgent, Seen::NebulizerLow, Seen::NebulizerTipCrusted];
        let begun = !self.state.screenings.is_empty() || !self.state.tests.is_empty();
        let refill = !begun && (overdue || wrong.iter().any(|seen| self.seen(*seen)));
        let filled = self.done(Act::FillNebulizer(role));
        let unmarked = self.seen(Seen::NebulizerUnmarked) && !self.done(Act::LabelNebulizer(role));
        first(&[
            (refill && !filled && !self.gloves_are_on(), Act::GlovesOn, RuleId::HandsGloves),
            (refill && !filled && !self.done(Act::CheckBottle(role)), Act::CheckBottle(role), RuleId::NebBottle),
            (
                refill && !filled && self.seen(Seen::BottleUndated) && !self.done(Act::FreshBottle(role)),
                Act::FreshBottle(role),
                RuleId::NebBottle,
            ),
            (refill && !filled && !self.done(Act::RinseNebulizer(role)), Act::RinseNebulizer(role), RuleId::NebRinse),
            (refill && !filled, Act::FillNebulizer(role), RuleId::NebFill),
            (unmarked && !begun, Act::LabelNebulizer(role), RuleId::NebMarked),
            (!self.done(Act::TestSpray(role)), Act::TestSpray(role), RuleId::NebSpray),
        ])
    }

    fn briefing(&self) -> Option<Step> {
        let explain = |topic: Topic, rule: RuleId| (!self.done(Act::Explain(topic)), Act::Explain(topic), rule);
        first(&[
            explain(Topic::Procedure, RuleId::BriefProcedure),
            explain(Topic::Duties, RuleId::BriefDuties),
            explain(Topic::MaskFails, RuleId::BriefMaskFails),
            (!self.done(Act::AgreeSignals), Act::AgreeSignals, RuleId::BriefSignals),
            (!self.done(Act::HearBack), Act::HearBack, RuleId::BriefBack),
        ])
    }

    fn screening(&self) -> Option<Step> {
        let state = self.state;
        match state.screenings.last() {
            Some(screening) if !state.must_screen() => match screening.threshold() {
                Some(Threshold::NotTasted) => self.leave_hood().or(Some(Step::now(Act::Give(Verdict::CannotTaste), RuleId::ScreenNone))),
                Some(_) => self.after_screening(screening),
                None => self.screen(screening),
            },
            _ => self.begin_screening(),
        }
    }

    fn leave_hood(&self) -> Option<Step> {
        first(&[(self.state.hood.is_some(), Act::HoodOff, RuleId::ScreenClear)])
    }

    fn begin_screening(&self) -> Option<Step> {
        let state = self.state;
        let last = self.last_spray();
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
        self.state.signs.iter().find_map(|(sign, (at, _))| match sign {
            Sign::ByMouth(what, minutes) if !matches!(what, Mouthful::Nothing | Mouthful::Water) => {
                let left = self.book.numbers.nothing_by_mouth.since(Ms::mins(u32::from(*minutes)));
                (left > Ms::ZERO).then(|| at.plus(left))
            }
            _ => None,
        })
    }

    fn last_spray(&self) -> Option<Ms> {
        let screenings = self.state.screenings.iter().map(|screening| &screening.common);
        screenings
            .chain(self.state.tests.iter().map(|test| &test.common))
            .filter_map(|common| common.squeezes.last())
            .map(|squeeze| squeeze.at)
            .max()
    }

    fn screen(&self, screening: &Screening) -> Option<Step> {
        let (state, common) = (self.state, &screening.common);
        let set = usize::try_from(self.book.numbers.set).unwrap_or(usize::MAX);
        let most = set * usize::try_from(self.book.numbers.sets).unwrap_or(1);
        let whole = common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
        let asked = common.questions.iter().any(|question| question.after == common.squeezes.len() && whole > 0);
        let told = self.done_since(common.from, Act::Remind(Reminder::Breathing));
        let shut = common.shown(Seen::MouthShuts) > common.shown(Seen::MouthOpens);
        let tasted = screening.tasted_after().filter(|after| *after > 0);
        let near = common.shown_any(&[Seen::HoodNear, Seen::HoodSlidesNear]).is_some_and(|at| !self.done_since(at, Act::SetGap));
        let failing = common.shown_any(&[Seen::SprayFails, Seen::SpraysNothing]).is_some();
        if common.shown(Seen::SaysTasteBefore).is_some() {
            return Some(Step::now(Act::Next(NextStep::ScreenAgain), RuleId::ScreenUntrue));
        }
        if let Some(after) = tasted {
            let given = common.squeezes.iter().take(after).filter(|squeeze| squeeze.counts()).count();
            let class = self.book.class_at(u32::try_from(given).unwrap_or(u32::MAX));
            return Some(Step::now(Act::NoteThreshold(class), RuleId::ScreenClass));
        }
        let raised = common.shown(Seen::RaisesHand).is_some() && common.questions.is_empty();
        first(&[
            (state.hood.is_none(), Act::HoodOn, RuleId::ScreenHood),
            (near, Act::SetGap, RuleId::ScreenGap),
            (state.held != Some(Role::Check), Act::Take(Role::Check), RuleId::NebScreen),
            (state.aim != Aim::Away, Act::Aim(Aim::Away), RuleId::ScreenNozzle),
            (!told || shut, Act::Remind(Reminder::Breathing), RuleId::BriefTongue),
            (failing && !self.done_since(common.from, Act::ClearNebulizer(Role::Check)), Act::ClearNebulizer(Role::Check), RuleId::NebSpray),
            (raised, Act::Ask(Manner::Neutral), RuleId::AskLeading),
            (whole >= most && asked, Act::NoteThreshold(Threshold::NotTasted), RuleId::ScreenNone),
            (whole > 0 && whole.is_multiple_of(set) && !asked, Act::Ask(Manner::Neutral), RuleId::ScreenCount),
            (true, Act::Squeeze, RuleId::ScreenCount),
        ])
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
            (!self.done_since(from, Act::Explain(Topic::Remember)), Act::Explain(Topic::Remember), RuleId::BriefRemember),
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
        if told.is_some() {
            return told;
        }
        let given_up = |slot: Slot| {
            state.handled(slot).aside.is_some() || state.donnings.iter().any(|donning| donning.slot == slot && donning.off.is_some())
        };
        // Only a pair of hands that put it down keeps it: one that came off for a new screening goes back on.
        let in_hand = state.in_hand.filter(|slot| !given_up(*slot) || self.may_go_back_on(*slot));
        match in_hand {
            Some(slot) => self.prepare(slot),
            None => self.hand_over(&given_up),
        }
    }

    /// A facepiece taken off only for a new screening is tested again.
    fn may_go_back_on(&self, slot: Slot) -> bool {
        let known = self.state.handled(slot);
        let decided = self.state.steps.last().map(|(_, step, _)| *step);
        known.aside.is_none() && matches!(decided, Some(NextStep::ScreenAgain | NextStep::TestAgain | NextStep::RefitSame))
    }

    fn hand_over(&self, given_up: &impl Fn(Slot) -> bool) -> Option<Step> {
        let state = self.state;
        let at_work = state.signs.keys().find_map(|sign| match sign {
            Sign::FacepieceAtWork(slot) => Some(*slot),
            _ => None,
        });
        if let Some(slot) = at_work.filter(|slot| !given_up(*slot)) {
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
        let chosen = state.signs.iter().filter_map(|(sign, (_, last))| match sign {
            Sign::Chooses(slot) => Some((*last, *slot)),
            _ => None,
        });
        match chosen.max().filter(|(at, _)| asked.is_some_and(|asked| *at >= asked)) {
            Some((_, slot)) => Some(Step::now(Act::HandOver(slot), RuleId::ChooseWearer)),
            None => Some(Step::now(Act::Give(Verdict::NotTested(Bar::Facepiece)), RuleId::ComfortOther)),
        }
    }

    fn last_aside(&self) -> Option<Ms> {
        self.state.facepieces.values().filter_map(|handled| handled.aside).max()
    }

    fn prepare(&self, slot: Slot) -> Option<Step> {
        let known = self.state.handled(slot);
        let filtering = self.scenario.facepiece(slot).is_some_and(|piece| piece.class == crate::facepiece::Class::Filtering);
        let unclean = known.used.is_some() && known.disinfected < known.used;
        first(&[
            (known.inspected.is_none(), Act::InspectFacepiece, RuleId::FacepieceInspect),
            (known.defect.is_some(), Act::SetAside, RuleId::FacepieceDefect),
            (unclean && filtering, Act::SetAside, RuleId::FacepiecePassedOn),
            (unclean, Act::Disinfect, RuleId::FacepieceShared),
            (known.gas_only && known.filters_fitted.is_none(), Act::FitFilters, RuleId::UseFilter),
            (known.positive && known.negative.is_none(), Act::SetNegative, RuleId::UseNegative),
            (true, Act::Don(Hands::Own), RuleId::DonUnaided),
        ])
    }

    fn fit(&self) -> Option<Step> {
        let state = self.state;
        let donning = state.worn()?;
        if state.test().is_some() {
            return None;
        }
        let gear = state.signs.keys().any(|sign| matches!(sign, Sign::WearsAtWork(_)));
        let leaks = donning.seal_check().is_some_and(|check| !check.holds);
        let stale = donning.seal_check().is_some_and(|check| {
            let moved = state.shown_last(Seen::AdjustsMask).max(state.shown_last(Seen::TouchesMask)).max(donning.fixed);
            moved.is_some_and(|moved| moved > check.at)
        });
        let unseated = donning.seated.is_none();
        let refused = donning.comfort_last.is_some_and(|(_, fine)| !fine);
        first(&[
            (state.hood.is_some(), Act::HoodOff, RuleId::FitHood),
            (leaks || refused, Act::Doff, RuleId::SealCheckFailed),
            (donning.adequacy.is_none(), Act::CheckAdequacy, RuleId::ComfortAdequacy),
            (donning.fault.is_some() && donning.fixed.is_none(), Act::FixStraps, RuleId::StrapsFault),
            (unseated, Act::SeatMask, RuleId::SealCheckSeated),
            (donning.seal_checks.is_empty() || stale, Act::SealCheck(Method::Both), RuleId::SealCheckEach),
            (gear && donning.gear.is_none(), Act::GearOn, RuleId::GearOn),
        ])
        .or_else(|| self.wait_until(donning.at.plus(self.book.numbers.pretest_wear), RuleId::WearFive))
        .or_else(|| {
            let explain = |topic: Topic, rule: RuleId| (!self.done(Act::Explain(topic)), Act::Explain(topic), rule);
            first(&[
                (donning.comfort.is_none(), Act::ReviewComfort, RuleId::ComfortReview),
                (!self.done(Act::NoteRunnerUp), Act::NoteRunnerUp, RuleId::ChooseRunnerUp),
                explain(Topic::Exercises, RuleId::BriefExercises),
            ])
        })
        .or_else(|| self.last_spray().and_then(|at| self.wait_until(at.plus(self.book.numbers.clear_wait), RuleId::ScreenClear)))
        .or_else(|| self.mouth_is_clear_at().and_then(|at| self.wait_until(at, RuleId::MouthFifteen)))
        .or_else(|| {
            let wiped = self.last_spray().is_none_or(|at| self.done_since(at, Act::WipeHood));
            let clean = self.last_spray().is_none_or(|at| self.done_since(at, Act::WipeFace));
            first(&[
                (!wiped, Act::WipeHood, RuleId::HoodClean),
                (!clean, Act::WipeFace, RuleId::WatchSuspect),
                (true, Act::HoodOn, RuleId::FitHood),
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
        let begun = test.begun();
        let in_exercise = |seen: Seen| common.signs.iter().any(|(at, sign)| *sign == seen && begun.is_some_and(|begun| *at >= begun));
        let residue = common.shown_any(&[Seen::DropOnFace, Seen::SaysTasteBefore]).is_some();
        let crusted = common.signs.iter().any(|(at, seen)| *seen == Seen::NebulizerTipCrusted && begun.is_some_and(|begun| *at >= begun));
        let unclear = common.shown(Seen::SaysSalty).is_some();
        let asked_of_salt = unclear && common.questions.iter().any(|question| Some(question.at) > common.shown(Seen::SaysSalty));
        let salt_stays = common.signs.iter().rev().find(|(_, seen)| matches!(seen, Seen::SaysSalty | Seen::SaysSaltGone)).is_some_and(|(_, seen)| *seen == Seen::SaysSalty);
        let hinted = common.shown_any(&[Seen::RaisesHand, Seen::SaysPlastic]);
        let asked_of_hint = hinted.is_some_and(|at| common.questions.iter().any(|question| question.at >= at));
        let verdict = if residue {
            Some((Verdict::Invalid, RuleId::WatchSuspect))
        } else if test.taste().is_some() {
            Some((Verdict::Fail, RuleId::WatchTaste))
        } else if in_exercise(Seen::AdjustsMask) {
            Some((Verdict::Invalid, RuleId::FitAdjusted))
        } else if in_exercise(Seen::TouchesMask) {
            Some((Verdict::Invalid, RuleId::FitTouched))
        } else if test.hood_off.is_some() {
            Some((Verdict::Invalid, RuleId::FitResumed))
        } else if crusted {
            Some((Verdict::Invalid, RuleId::NebClogEnd))
        } else if asked_of_salt && salt_stays {
            Some((Verdict::Invalid, RuleId::WatchSalty))
        } else {
            None
        };
        let ask = (unclear && !asked_of_salt) || (hinted.is_some() && !asked_of_hint);
        match verdict {
            Some((_, rule)) if test.going_on().is_some() => Some(Step::now(Act::Stop, rule)),
            Some((verdict, rule)) => Some(Step::now(Act::Give(verdict), rule)),
            None if ask => Some(Step::now(Act::Ask(Manner::Neutral), RuleId::AskLeading)),
            None => None,
        }
    }

    /// What can be put right by a word while the test goes on.
    fn put_right(&self, test: &FitTest) -> Option<Step> {
        let common = &test.common;
        let open = |seen: Seen, answer: Act| {
            let last = common.signs.iter().rev().find(|(_, sign)| *sign == seen).map(|(at, _)| *at);
            last.is_some_and(|at| !self.done_since(at, answer))
        };
        let say = |seen: Seen, reminder: Reminder, rule: RuleId| (open(seen, Act::Remind(reminder)), Act::Remind(reminder), rule);
        let clear = Act::ClearNebulizer(Role::Fit);
        first(&[
            say(Seen::MouthShuts, Reminder::Breathing, RuleId::WatchMouth),
            say(Seen::SitsDown, Reminder::Stand, RuleId::FitStanding),
            say(Seen::RushesMoves, Reminder::Slowly, RuleId::FitEnds),
            say(Seen::Whispers, Reminder::Louder, RuleId::FitAloud),
            (open(Seen::HoodSlidesNear, Act::SetGap), Act::SetGap, RuleId::ScreenGap),
            (open(Seen::SprayFails, clear) || open(Seen::SpraysNothing, clear), clear, RuleId::NebClogLook),
        ])
    }

    fn initial(&self, test: &FitTest) -> Option<Step> {
        let state = self.state;
        let told = self.done_since(test.common.from, Act::Remind(Reminder::Breathing));
        let whole = test.common.squeezes.iter().filter(|squeeze| squeeze.counts()).count();
        let due = state.threshold().and_then(|threshold| self.book.initial(threshold)).unwrap_or(self.book.numbers.initial_minimum);
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
        let Some(done) = test.going_on().copied() else { return self.after_exercises(test) };
        let next_due = self.next_replenishment(test, begun);
        let over = done.from.plus(numbers.exercise);
        match next_due {
            // A replenishment due at a change of exercise comes first; the clock keeps running.
            Some(due) if due <= over => Some(Step::at(Act::Squeeze, RuleId::FitHalf, due)),
            _ => {
                let place = Exercise::SEVEN.iter().position(|one| *one == done.exercise).unwrap_or(Exercise::SEVEN.len());
                let next = Exercise::SEVEN.get(place + 1).copied();
                let act = next.map_or(Act::End, Act::Begin);
                Some(Step::at(act, RuleId::FitMinute, over))
            }
        }
    }

    /// When the next squeeze of a replenishment is due; `None` once no more are.
    fn next_replenishment(&self, test: &FitTest, begun: Ms) -> Option<Ms> {
        let numbers = &self.book.numbers;
        let half = self.state.threshold().and_then(|threshold| self.book.replenishment(threshold))?;
        let mut due = begun.plus(numbers.replenish_every);
        let last = begun.plus(numbers.exercise.times(u32::try_from(Exercise::SEVEN.len()).unwrap_or(u32::MAX)));
        while due < last {
            let (from, to) = (due.since(numbers.replenish_lost), due.plus(numbers.replenish_lost));
            let given = test.common.squeezes.iter().filter(|squeeze| squeeze.at >= from && squeeze.at < to && squeeze.counts()).count();
            let given = u32::try_from(given).unwrap_or(u32::MAX);
            if given < half && self.state.now < to {
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
