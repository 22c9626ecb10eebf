//! What is right at the end of a log, asked of the judge and the guide: each answer is given, and the judge says what
//! comes of it. Nothing here knows the story.

use super::{Answer, Asks, Grade, conductor};
use crate::{
    act::{Act, Cause, Hands, NextStep, Threshold, Verdict},
    guide::{self, Step},
    judge::{self, Case, Docket, Mark},
    log::{Entry, What},
    rulebook::{RuleId, Rulebook},
    ruling::{self, Ruling},
    run::Run,
    source::{Gravity, Push, Skill},
    state::{About, State},
    units::Ms,
};

/// How long after the last line something is named, and between one thing named and the next.
const BEAT: Ms = Ms(1_200);

/// More acts than lie between any result and what is decided on it.
const MOST_STEPS: usize = 24;

/// A log that stops where something is to be named.
pub(super) struct Cut<'a> {
    pub(super) run: &'a Run,
    pub(super) book: &'a Rulebook,
    pub(super) about: About,
    pub(super) asks: Asks,
    /// A moment that looks odd, whatever comes of it, and the rule it might break.
    pub(super) odd: Option<(Ms, RuleId)>,
}

/// The log with something named, as the judge sees it.
struct Named {
    marks: Vec<Mark>,
    ruling: Ruling,
}

impl Named {
    fn broken(&self) -> impl Iterator<Item = &Mark> {
        self.marks.iter().filter(|mark| !mark.kept)
    }

    /// What is broken here and was not `before`.
    fn newly_broken<'a>(&'a self, before: &'a Self) -> impl Iterator<Item = RuleId> + 'a {
        self.broken().filter(|mark| !before.marks.contains(mark)).map(|mark| mark.rule)
    }
}

/// A right answer.
#[derive(Clone, Copy)]
pub(super) struct Right {
    pub(super) answer: Answer,
    /// The rule it rests on.
    pub(super) rule: RuleId,
    /// With which act it is named.
    act: Act,
}

/// What is right.
pub(super) struct Truth {
    /// Every answer that is right, the guide's own first.
    pub(super) right: Vec<Right>,
    /// Answers that stand although nothing in the log calls for them.
    pub(super) allowed: Vec<Answer>,
    /// The moments that decide, and the rule that each brings up.
    pub(super) moments: Vec<(Ms, RuleId)>,
    /// Those, and every other moment at which something was off the book.
    pub(super) odd: Vec<(Ms, RuleId)>,
    /// Every step that can be decided on next, and how good it is.
    pub(super) next: Vec<(Act, Grade)>,
}

impl Cut<'_> {
    /// Asks for everything.
    pub(super) fn truth(&self) -> Truth {
        let passed = self.named(&[Act::Give(Verdict::Pass)]);
        let (mut right, allowed) = match self.asks {
            Asks::Threshold => self.thresholds(),
            Asks::Result => self.results(&passed),
        };
        let own = self.own(self.run.state().clone());
        // The guide's own comes first.
        if let Some(place) = right.iter().position(|right| Some(right.act) == own) {
            right.swap(0, place);
        }
        let mut calls = if self.about == About::Day { self.bars(own) } else { self.calls() };
        calls.retain(|(_, step)| !is_note(step.act) || right.iter().any(|right| right.act == step.act));
        let moments = self.moments(&calls, &passed, &right);
        for right in &mut right {
            // What spoilt or stopped it says more than that it was.
            let called = calls.last().map(|(_, step)| step.rule);
            let spoils = moments.iter().map(|(_, rule)| *rule).find(|rule| self.spoils_or_weakens(*rule));
            if right.rule == RuleId::ResultGiven {
                right.rule = called.or(spoils).unwrap_or(right.rule);
            } else if right.rule == RuleId::ResultInvalid {
                right.rule = spoils.or(called).unwrap_or(right.rule);
            }
        }
        let next = match (self.asks, right.first()) {
            (Asks::Threshold, right) => self.after_a_threshold(right),
            (Asks::Result, Some(right)) => self.after_a_result(right),
            (Asks::Result, None) => Vec::new(),
        };
        let mut odd = self.off_the_book(&passed, |_| true);
        odd.extend(moments.iter().copied().chain(self.odd));
        Truth { right, allowed, moments, odd, next }
    }

    /// These acts, one after the other, after the last of the log.
    fn entries<'a>(&self, acts: &'a [Act]) -> impl Iterator<Item = Entry> + use<'a> {
        let now = self.run.now();
        (1..).zip(acts).map(move |(beats, act)| Entry::act(now.plus(BEAT.times(beats)), *act))
    }

    fn named(&self, acts: &[Act]) -> Named {
        let mut state = self.run.state().clone();
        let mut log = self.run.log().to_vec();
        for entry in self.entries(acts) {
            state.apply(entry);
            log.push(entry);
        }
        let case = Case { scenario: self.run.scenario(), book: self.book, log: &log, state: &state };
        let marks = judge::marks(&case);
        let at = self.run.now().plus(BEAT);
        let ruling = ruling::of(&case, &Docket::of(&marks), self.about, at);
        Named { marks, ruling }
    }

    /// Each result is given; it is right where the judge then finds it so. In the order of precedence.
    fn results(&self, passed: &Named) -> (Vec<Right>, Vec<Answer>) {
        let mut right: Vec<Right> = Vec::new();
        let mut allowed = Vec::new();
        let others = [Verdict::Fail, Verdict::Invalid, Verdict::CannotTaste, Verdict::Stopped(Cause::Wish)];
        let rulings = others.map(|given| (given, self.named(&[Act::Give(given)]).ruling));
        let all =
            || [(Verdict::Pass, &passed.ruling)].into_iter().chain(rulings.iter().map(|(given, one)| (*given, one)));
        // Which reason is given for not testing, or for stopping, makes no difference to what would have been right.
        let has_reason = |verdict: Verdict| matches!(verdict, Verdict::NotTested(_) | Verdict::Stopped(_));
        for verdict in all().flat_map(|(_, ruling)| ruling.accepted.iter().copied()) {
            let answer = Answer::of(verdict);
            let alike = |given: Verdict| given == verdict || (has_reason(given) && has_reason(verdict));
            let given = all().find(|(given, ruling)| alike(*given) && ruling.accepts(verdict));
            let Some((_, ruling)) = given.filter(|_| right.iter().all(|right| right.answer != answer)) else {
                continue;
            };
            // Screening once more than the text asks is never marked down.
            let needless = matches!(self.about, About::Screening(_)) && verdict == Verdict::Invalid;
            if needless && !ruling.spoilt && !self.is_weakened(passed) {
                allowed = vec![answer];
            } else {
                right.push(Right { answer, rule: ruling.kept_by(verdict), act: Act::Give(verdict) });
            }
        }
        (right, allowed)
    }

    /// Each threshold is noted; it is right where that breaks nothing.
    fn thresholds(&self) -> (Vec<Right>, Vec<Answer>) {
        let before = self.named(&[]);
        let mut right = Vec::new();
        let mut in_doubt = false;
        for noted in Threshold::ALL.iter().copied().filter(|_| !before.ruling.spoilt) {
            let act = Act::NoteThreshold(noted);
            let named = self.named(&[act]);
            let broken: Vec<RuleId> = named.newly_broken(&before).collect();
            // A set that had too many: the class before it can neither be noted nor quite ruled out.
            in_doubt |= broken.contains(&RuleId::ScreenCount) && noted != Threshold::NotTasted;
            if broken.is_empty() {
                let rule = if noted == Threshold::NotTasted { RuleId::ScreenNone } else { RuleId::ScreenClass };
                right.push(Right { answer: Answer::of_threshold(noted), rule, act });
            }
        }
        if right.is_empty() || in_doubt || self.is_weakened(&before) {
            let rule = if in_doubt { RuleId::ScreenCount } else { RuleId::ResultInvalid };
            right.push(Right { answer: Answer::Invalid, rule, act: Act::Next(NextStep::ScreenAgain) });
            return (right, Vec::new());
        }
        // Screening once more than the text asks is never marked down.
        (right, vec![Answer::Invalid])
    }

    fn is_weakened(&self, named: &Named) -> bool {
        Docket::of(&named.marks).is_weakened(self.book, self.about)
    }

    /// With which act whoever saw all this would name what is asked, if the guide comes to it.
    fn own(&self, mut state: State) -> Option<Act> {
        let noted = |act: Act| self.asks == Asks::Threshold && is_note(act);
        self.walk(&mut state, |act| matches!(act, Act::Give(_) | Act::Next(_)) || noted(act))
    }

    /// Goes on by the book up to an act like this, which is not done.
    fn walk(&self, state: &mut State, like: impl Fn(Act) -> bool) -> Option<Act> {
        for _ in 0..MOST_STEPS {
            let step = guide::next(self.run.scenario(), state, state.now)?;
            if like(step.act) {
                return Some(step.act);
            }
            let at = state.now.plus(BEAT).max(step.not_before.unwrap_or(Ms::ZERO));
            state.apply(Entry::act(at, step.act));
        }
        None
    }

    /// Where whoever sees everything would have named something, or named something else than before, as the log grew.
    fn calls(&self) -> Vec<(Ms, Step)> {
        let scenario = self.run.scenario();
        let mut state = State::new(scenario.agent);
        let mut calls: Vec<(Ms, Step)> = Vec::new();
        for entry in self.run.log() {
            state.apply(*entry);
            if !matches!(entry.what, What::Sign(_)) {
                continue;
            }
            let step = guide::next(scenario, &state, entry.at)
                .filter(|step| conductor::names(step.act) || conductor::is_of_distress(step.rule) || is_note(step.act));
            match (step, calls.last()) {
                (Some(step), Some((_, last))) if last.rule == step.rule => {}
                (Some(step), _) if self.asks == Asks::Threshold || !is_class(step.act) => calls.push((entry.at, step)),
                (Some(_), _) => {}
                // What has been cleared up decides nothing.
                (None, _) => calls.clear(),
            }
        }
        calls
    }

    /// The answers without which the guide would not name what it names: for what is asked in an order of its own.
    fn bars(&self, own: Option<Act>) -> Vec<(Ms, Step)> {
        let (scenario, log) = (self.run.scenario(), self.run.log());
        let step = guide::next(scenario, self.run.state(), self.run.now()).filter(|step| Some(step.act) == own);
        let Some(step) = step else { return Vec::new() };
        let matters = |entry: &&Entry| {
            let others: Vec<Entry> = log.iter().copied().filter(|other| other != *entry).collect();
            let state = State::of(scenario.agent, &others);
            matches!(entry.what, What::Sign(_)) && guide::next(scenario, &state, self.run.now()) != Some(step)
        };
        log.iter().filter(matters).map(|entry| (entry.at, step)).collect()
    }

    /// Whether breaking this rule spoils an attempt, or makes a false pass of it likelier.
    fn spoils_or_weakens(&self, rule: RuleId) -> bool {
        self.book.rule(rule).is_some_and(|rule| {
            let spoils = rule.gravity.is_top() && rule.skill != Skill::Result;
            spoils || (rule.gravity == Gravity::Departure && rule.push == Push::FalsePass)
        })
    }

    fn moments(&self, calls: &[(Ms, Step)], passed: &Named, right: &[Right]) -> Vec<(Ms, RuleId)> {
        let mut moments = self.off_the_book(passed, |rule| self.spoils_or_weakens(rule));
        for (at, step) in calls {
            // Whoever sees everything can see it sooner than the judge lays it to, or later; the first to see it says when.
            let judged = moments.iter().filter(|(_, rule)| *rule == step.rule).map(|(at, _)| *at).min();
            if judged.is_none_or(|judged| *at < judged) {
                moments.retain(|(_, rule)| *rule != step.rule);
                moments.push((*at, step.rule));
            }
        }
        if moments.is_empty() {
            // What might mislead, and does not count.
            moments.extend(self.misleading(passed));
            moments.extend(self.odd);
        }
        if moments.is_empty() {
            moments.extend(right.first().map(|right| (self.run.now(), right.rule)));
        }
        // Few as they are, a general sort would weigh more than all the rest of this.
        let mut in_order = Vec::new();
        for moment in moments {
            insert(&mut in_order, moment);
        }
        in_order
    }

    /// When rules like this were broken in what is named.
    fn off_the_book(&self, passed: &Named, like: impl Fn(RuleId) -> bool) -> Vec<(Ms, RuleId)> {
        let broken = passed.broken().filter(|mark| self.concerns(mark.about) && like(mark.rule));
        broken.filter_map(|mark| Some((self.moment(mark)?, mark.rule))).collect()
    }

    /// Whether something is about what is named, or about the screening that it rests on.
    fn concerns(&self, about: About) -> bool {
        let screening = match self.about {
            About::Test(number) => self.run.state().tests.get(number).and_then(|test| test.screening),
            About::Day | About::Screening(_) => None,
        };
        about == self.about || screening.map(About::Screening) == Some(about)
    }

    /// What was noticed as it should be, or rightly let pass.
    fn misleading(&self, passed: &Named) -> Vec<(Ms, RuleId)> {
        let state = self.run.state();
        let signs = match self.about {
            About::Test(number) => state.tests.get(number).map(|test| &test.common.signs),
            About::Day | About::Screening(_) => None,
        };
        let noted = |at: Ms| {
            let mut marks = passed.marks.iter().filter(|mark| mark.kept && mark.at == at && self.concerns(mark.about));
            marks.clone().find(|mark| mark.rule != RuleId::WatchNote).or(marks.next()).map(|mark| (at, mark.rule))
        };
        let odd = signs.into_iter().flatten().filter(|(_, seen)| seen.observation().is_some());
        odd.filter_map(|(at, _)| noted(*at)).collect()
    }

    /// When a rule was broken, as the eye finds it; `None` where it is broken by the result only.
    fn moment(&self, mark: &Mark) -> Option<Ms> {
        let numbers = &self.book.numbers;
        match (mark.rule, self.about) {
            // What was missed is missed where it was due.
            (RuleId::FitTopUp, _) => Some(mark.at.since(numbers.replenish_lost)),
            (RuleId::FitAll, About::Test(number)) => {
                let exercises = &self.run.state().tests.get(number)?.exercises;
                // What was left out shows at what came in its place; a test that was cut lacks nothing by that.
                exercises.windows(2).find_map(|pair| match pair {
                    [one, next] if next.exercise.place()? > one.exercise.place()? + 1 => Some(next.from),
                    _ => None,
                })
            }
            _ => Some(mark.at).filter(|at| *at <= self.run.now()),
        }
    }

    /// Every step after a result: the guide's, those that the judge lets stand, and those that it does not.
    fn after_a_result(&self, right: &Right) -> Vec<(Act, Grade)> {
        let given = right.act;
        let before = self.named(&[given]);
        let mut state = self.run.state().clone();
        for entry in self.entries(&[given]) {
            state.apply(entry);
        }
        let by_guide = self.walk(&mut state, |act| matches!(act, Act::Next(_)));
        let steps = NextStep::ALL.iter().copied().map(Act::Next);
        steps
            .map(|next| {
                let stands = self.named(&[given, next]).newly_broken(&before).next().is_none();
                let grade = match (by_guide == Some(next), stands) {
                    (true, _) => Grade::Right,
                    (false, true) => Grade::Allowed,
                    (false, false) => Grade::Wrong,
                };
                (next, grade)
            })
            .collect()
    }

    /// What may come after a threshold is named: the first of these that the guide comes to before it hands over a
    /// facepiece, or decides.
    fn after_a_threshold(&self, right: Option<&Right>) -> Vec<(Act, Grade)> {
        let again = Act::Next(NextStep::ScreenAgain);
        let other = Act::Next(NextStep::OtherAgent);
        let offered = [Act::Squeeze, Act::GiveWater, Act::Don(Hands::Own), again, other];
        let mut state = self.run.state().clone();
        if let Some(right) = right {
            self.entries(&[right.act]).for_each(|entry| state.apply(entry));
        }
        let decided = right.map(|right| right.act).filter(|act| *act == again);
        let by_guide = decided.or_else(|| self.walk(&mut state, |act| offered.contains(&act)));
        let grade = |act: Act| {
            if by_guide == Some(act) {
                Grade::Right
            } else if act == again {
                Grade::Allowed
            } else {
                Grade::Wrong
            }
        };
        offered.into_iter().map(|act| (act, grade(act))).collect()
    }
}

/// Puts something in its place, once.
pub(super) fn insert<T: Ord>(in_order: &mut Vec<T>, one: T) {
    if let Err(place) = in_order.binary_search(&one) {
        in_order.insert(place, one);
    }
}

const fn is_note(act: Act) -> bool {
    matches!(act, Act::NoteThreshold(_))
}

/// Whether a class is noted, which is no result.
fn is_class(act: Act) -> bool {
    is_note(act) && act != Act::NoteThreshold(Threshold::NotTasted)
}
