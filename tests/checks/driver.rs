//! Makes whole runs: by the book, or with something done otherwise.
//!
//! The conductor here follows [`guide::next`] and differs from it only where told to. What is skipped is believed to be
//! done, so that the guide goes on as a conductor would who thought so.

use bittersweet_core::{
    act::{Act, Aim, Exercise, Role, Threshold},
    attempt::{Common, Screening, Squeeze},
    guide::{self, Step},
    log::{Entry, What},
    review::{self, Review},
    rulebook::Agent,
    run::{Refusal, Run},
    scenario::Scenario,
    sign::{Seen, Sign},
    state::{About, State},
    units::Ms,
    wire::scenario_v1::{self, ScenarioV1},
};
use std::rc::Rc;

/// How far apart two acts are at least; squeezes are quicker.
const BEAT: Ms = Ms(1_200);
const SQUEEZE: Ms = Ms(700);
const TICK: Ms = Ms(100);

/// More acts than any run by the book has.
pub(crate) const MOST_ACTS: usize = 1_500;

/// A built-in scenario.
pub(crate) fn built_in(id: &str) -> Rc<Scenario> {
    let (_, text) =
        bittersweet_core::scenarios::BUILT_IN.iter().find(|(name, _)| *name == id).expect("a built-in scenario");
    Rc::new(scenario_v1::parse(text).unwrap_or_else(|faults| panic!("{id}: {faults}")))
}

/// A scenario with something changed; what a colleague did in it would not fit any more.
pub(crate) fn changed(scenario: &Scenario, change: impl FnOnce(&mut ScenarioV1)) -> Rc<Scenario> {
    let mut loose = ScenarioV1 { colleague: None, ..scenario_v1::loose(scenario) };
    change(&mut loose);
    Rc::new(scenario_v1::check(&loose).unwrap_or_else(|faults| panic!("{}: {faults}", scenario.id)))
}

/// A wearer who tastes at the seventh squeeze, a good fit, nothing amiss on the bench, and no trouble.
pub(crate) fn plain(agent: Agent, change: impl FnOnce(&mut ScenarioV1)) -> Rc<Scenario> {
    changed(&built_in("grinding-shop"), |loose| {
        loose.agent = agent.code().to_owned();
        loose.trouble.clear();
        loose.wearer.gear.clear();
        loose.wearer.by_mouth = None;
        change(loose);
    })
}

/// A conductor at work on a run.
pub(crate) struct Conductor {
    pub(crate) run: Run,
    /// What the conductor takes to be so.
    believed: State,
    /// How much of the log the belief has taken in.
    heard: usize,
    /// How far the believed clock is ahead, from waits that were skipped.
    ahead: Ms,
    /// How far apart two acts are at least, squeezes apart.
    beat: Ms,
    never: Vec<Act>,
    overlooked: Vec<Seen>,
}

impl Conductor {
    /// Before anything.
    pub(crate) fn new(scenario: &Rc<Scenario>) -> Self {
        Self {
            run: Run::new(Rc::clone(scenario)),
            believed: State::new(scenario.agent),
            heard: 0,
            ahead: Ms::ZERO,
            beat: BEAT,
            never: Vec::new(),
            overlooked: Vec::new(),
        }
    }

    /// Somebody who takes their time, so that others can follow.
    pub(crate) fn unhurried(scenario: &Rc<Scenario>) -> Self {
        Self { beat: Ms::secs(3), ..Self::new(scenario) }
    }

    /// The whole run by the book.
    pub(crate) fn by_the_book(scenario: &Rc<Scenario>) -> Run {
        let mut conductor = Self::new(scenario);
        conductor.finish();
        conductor.run
    }

    /// The review of the run as it stands.
    pub(crate) fn review(&self) -> Review {
        review::review(self.run.scenario(), self.run.log())
    }

    fn listen(&mut self) {
        for entry in self.run.log().get(self.heard..).unwrap_or_default() {
            if self.overlooked.iter().any(|seen| entry.what == What::Sign(Sign::Seen(*seen))) {
                continue;
            }
            self.believed.apply(Entry { at: entry.at.plus(self.ahead), what: entry.what });
        }
        self.heard = self.run.log().len();
    }

    /// What comes next by the book, as far as the conductor knows.
    pub(crate) fn next(&mut self) -> Option<Step> {
        self.listen();
        guide::next(self.run.scenario(), &self.believed, self.run.now().plus(self.ahead))
    }

    /// Lets time pass.
    pub(crate) fn wait(&mut self, length: Ms) -> &mut Self {
        let to = self.run.now().plus(length);
        self.run.advance(to);
        self
    }

    /// Does an act, a beat after the last.
    pub(crate) fn act(&mut self, act: Act) -> &mut Self {
        let beat = if act == Act::Squeeze { SQUEEZE } else { self.beat };
        let at = self.run.now().plus(beat);
        self.run.apply(act, at).unwrap_or_else(|refusal| panic!("{refusal} at {at}"));
        self
    }

    /// Does several.
    pub(crate) fn acts(&mut self, acts: impl IntoIterator<Item = Act>) -> &mut Self {
        for act in acts {
            self.act(act);
        }
        self
    }

    /// Does an act if it can be.
    pub(crate) fn try_act(&mut self, act: Act, after: Ms) -> Result<(), Refusal> {
        let at = self.run.now().plus(after);
        self.run.apply(act, at).map(|_| ())
    }

    /// Presses the bulb so many times.
    pub(crate) fn squeezes(&mut self, count: usize) -> &mut Self {
        self.acts(std::iter::repeat_n(Act::Squeeze, count))
    }

    /// Does without this act, each time that it would be next, and takes it for done.
    pub(crate) fn never(&mut self, act: Act) -> &mut Self {
        self.never.push(act);
        self
    }

    /// Does not see or hear such a sign whenever it is shown.
    pub(crate) fn overlook(&mut self, seen: Seen) -> &mut Self {
        self.overlooked.push(seen);
        self
    }

    /// Takes something for seen that was not shown.
    pub(crate) fn believe(&mut self, sign: Sign) -> &mut Self {
        self.listen();
        let at = self.run.now().plus(self.ahead);
        self.believed.apply(Entry::sign(at, sign));
        self
    }

    /// Does an act without being aware of it, or of what it shows.
    pub(crate) fn unaware(&mut self, act: Act) -> &mut Self {
        self.listen();
        self.act(act);
        self.heard = self.run.log().len();
        self
    }

    /// Does one act in the belief of doing another.
    pub(crate) fn mistake(&mut self, meant: Act, done: Act) -> &mut Self {
        self.unaware(done).pretend(meant)
    }

    /// Takes the wearer for screened, by the book, with this threshold.
    pub(crate) fn takes_for_screened(&mut self, threshold: Threshold) -> &mut Self {
        self.listen();
        let at = self.run.now().plus(self.ahead);
        let whole =
            Squeeze { at, role: Role::Check, full: true, sprayed: true, aim: Aim::Away, hood: true, masked: false };
        let count = self.run.scenario().rulebook().initial(threshold).expect("a threshold to test from");
        let squeezes = vec![whole; usize::try_from(count).expect("thirty at most")];
        let common = Common { from: at, squeezes, signs: vec![(at, Seen::SaysTaste)], ..Common::default() };
        self.believed.screenings.push(Screening { common, noted: vec![(at, threshold)] });
        self
    }

    /// Lets the next replenishment go by, and takes so many of its squeezes for given.
    pub(crate) fn miss_squeezes(&mut self, count: usize) -> &mut Self {
        let step = self.next().expect("a replenishment to miss");
        assert_eq!(step.act, Act::Squeeze);
        self.wait(self.due(step).since(self.run.now()));
        for _ in 0..count {
            self.pretend(Act::Squeeze);
        }
        self
    }

    /// Takes an act for done that is not.
    pub(crate) fn pretend(&mut self, act: Act) -> &mut Self {
        self.listen();
        if let Act::Wait(length) = act {
            self.ahead = self.ahead.plus(length);
            self.believed.now = self.believed.now.plus(length);
        } else {
            let at = self.run.now().plus(self.ahead);
            self.believed.apply(Entry::act(at, act));
        }
        self
    }

    /// When a step is due, by the clock of the run.
    pub(crate) fn due(&self, step: Step) -> Ms {
        step.not_before.map_or(Ms::ZERO, |at| at.since(self.ahead))
    }

    /// Sees how things really stand.
    pub(crate) fn see(&mut self) -> &mut Self {
        self.ahead = Ms::ZERO;
        self.believed = self.run.state().clone();
        self.heard = self.run.log().len();
        self
    }

    /// Does the next step of the book when it is due, or stops where something happens before.
    pub(crate) fn try_step(&mut self, step: Step) -> Result<(), Refusal> {
        let beat = if step.act == Act::Squeeze { SQUEEZE } else { self.beat };
        let at = self.run.now().plus(beat).max(self.due(step));
        let known = self.run.log().len();
        while self.run.now() < at && self.run.log().len() == known {
            let tick = self.run.now().plus(TICK).min(at);
            self.run.advance(tick);
        }
        if self.run.log().len() > known {
            // What the wearer did may change what comes next.
            return Ok(());
        }
        self.run.apply(step.act, at).map(|_| ())
    }

    /// Goes on by the book until an act that fits would be next, and leaves it undone.
    #[track_caller]
    pub(crate) fn until_like(&mut self, fits: impl Fn(&Run, Act) -> bool) -> &mut Self {
        for _ in 0..MOST_ACTS {
            let Some(step) = self.next() else { panic!("the run ended before") };
            if fits(&self.run, step.act) {
                return self;
            }
            self.do_or_skip(step);
        }
        panic!("not within {MOST_ACTS} acts; last: {:?}", self.run.log().last());
    }

    fn do_or_skip(&mut self, step: Step) {
        if self.never.contains(&step.act) {
            self.pretend(step.act);
        } else {
            self.try_step(step).unwrap_or_else(|refusal| panic!("by the book, but {refusal} at {}", self.run.now()));
        }
    }

    /// Goes on by the book until this act would be next.
    #[track_caller]
    pub(crate) fn until(&mut self, act: Act) -> &mut Self {
        self.until_like(|_, next| next == act)
    }

    /// Goes on until this exercise has gone on for so long.
    #[track_caller]
    pub(crate) fn into(&mut self, exercise: Exercise, for_so_long: Ms) -> &mut Self {
        self.until_like(|run, _| run.state().exercise() == Some(exercise));
        let to = self.run.now().plus(for_so_long);
        while let Some(step) = self.next() {
            let due = self.due(step).max(self.run.now().plus(SQUEEZE));
            if due > to {
                break;
            }
            self.do_or_skip(step);
        }
        self.wait(to.since(self.run.now()))
    }

    /// Leaves out the next act, takes it for done, and goes on.
    pub(crate) fn skip(&mut self) -> &mut Self {
        let act = self.next().map(|step| step.act).expect("something to leave out");
        self.pretend(act)
    }

    /// Does the next act of the book so much later than it was due.
    pub(crate) fn late(&mut self, by: Ms) -> &mut Self {
        let step = self.next().expect("something to delay");
        let due = self.run.now().plus(self.beat).max(self.due(step));
        self.run.apply(step.act, due.plus(by)).unwrap_or_else(|refusal| panic!("{refusal}"));
        self
    }

    /// Goes on by the book to the end of the run.
    #[track_caller]
    pub(crate) fn finish(&mut self) -> &mut Self {
        for _ in 0..MOST_ACTS {
            let Some(step) = self.next() else { return self };
            self.do_or_skip(step);
        }
        panic!("no end within {MOST_ACTS} acts; last: {:?}", self.run.log().last());
    }
}

/// `day`, `screening-1`, `test-2`.
pub(crate) fn on(about: About) -> String {
    match about {
        About::Day => "day".to_owned(),
        About::Screening(number) => format!("screening-{}", number + 1),
        About::Test(number) => format!("test-{}", number + 1),
    }
}

/// The findings of a review, each as `rule on attempt: gravity`.
pub(crate) fn findings(review: &Review) -> Vec<String> {
    let written = |finding: &review::Finding| {
        format!("{} on {}: {}", finding.rule.code(), on(finding.about), finding.gravity.code())
    };
    let mut findings: Vec<String> = review.findings.iter().map(written).collect();
    findings.extend(review.put_right.iter().map(|finding| format!("({})", written(finding))));
    findings.sort();
    findings
}

/// The results of a review, each as `attempt: given`, with what would have been right where that differs.
pub(crate) fn calls(review: &Review) -> Vec<String> {
    let written = |call: &review::Called| {
        let nothing_yet = call.unfinished.then_some("nothing yet");
        let right: Vec<&str> =
            nothing_yet.into_iter().chain(call.accepted.iter().map(|verdict| verdict.code())).collect();
        let beside =
            if call.is_right() && right.len() == 1 { String::new() } else { format!(" [{}]", right.join(", ")) };
        format!("{}: {}{beside}", on(call.about), call.given.code())
    };
    review.calls.iter().map(written).collect()
}
