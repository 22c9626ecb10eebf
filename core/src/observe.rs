//! A colleague at work, to be watched: somebody else makes the acts, and may go wrong.
//!
//! Time comes in as an argument. What went wrong is the review's to say; what the one who watched made of it stands in
//! [`mod@compare`], in the words of [`slip`].

pub mod compare;
pub mod slip;

pub use compare::{Asked, Beside, Compared, Found, Mark, Named, compare};
pub use slip::Slip;

use crate::{act::Act, log::What, run::Run, scenario::Scenario, units::Ms};
use std::rc::Rc;

/// A colleague's run as it goes on.
///
/// ```
/// use bittersweet_core::{observe::Colleague, scenarios, units::Ms, wire::scenario_v1};
/// use std::rc::Rc;
///
/// let scenarios = scenarios::BUILT_IN.iter().filter_map(|(_, text)| scenario_v1::parse(text).ok());
/// let to_watch = scenarios.into_iter().find(|scenario| scenario.colleague.is_some()).expect("there is one");
/// let mut colleague = Colleague::new(Rc::new(to_watch)).expect("a colleague's acts are in it");
/// colleague.advance(Ms::mins(1));
/// assert!(colleague.run().acts().count() > 0);
/// assert!(!colleague.is_done());
/// ```
#[derive(Clone, Debug)]
pub struct Colleague {
    run: Run,
    done: usize,
}

impl Colleague {
    /// Before the first act; `None` where nobody's acts are in the scenario.
    #[must_use]
    pub fn new(scenario: Rc<Scenario>) -> Option<Self> {
        scenario.colleague.is_some().then(|| Self { run: Run::new(scenario), done: 0 })
    }

    /// The run as far as it has gone.
    #[must_use]
    pub const fn run(&self) -> &Run {
        &self.run
    }

    /// Whether the last act is done; time does not go on after it.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.next().is_none()
    }

    /// The act that comes next, and when.
    fn next(&self) -> Option<(Ms, Act)> {
        self.run.scenario().colleague.as_ref()?.get(self.done).copied()
    }

    fn act(&mut self, at: Ms, act: Act) {
        // Each act was tried when the scenario was checked; one that cannot be all the same leaves no trace.
        let _ = self.run.apply(act, at);
        self.done += 1;
    }

    /// Lets time pass up to `to`, and the colleague act. In pieces it is the same as at once.
    pub fn advance(&mut self, to: Ms) {
        while let Some((at, act)) = self.next().filter(|(at, _)| *at <= to) {
            self.act(at, act);
        }
        if !self.is_done() {
            self.run.advance(to);
        }
    }

    /// Goes on to what happens next: an act of the colleague, or what the wearer does before it. Squeezes that follow one
    /// another are one.
    pub fn step(&mut self) {
        let Some((at, act)) = self.next() else { return };
        if !self.comes_to(at) {
            return;
        }
        self.act(at, act);
        let gap = self.run.scenario().rulebook().numbers.set_gap;
        let squeezes_on = |(next, act): &(Ms, Act), now: Ms| *act == Act::Squeeze && next.since(now) <= gap;
        while act == Act::Squeeze
            && self.run.log().last().is_some_and(|entry| entry.what == What::Act(Act::Squeeze))
            && let Some((at, act)) = self.next().filter(|next| squeezes_on(next, self.run.now()))
            && self.comes_to(at)
        {
            self.act(at, act);
        }
    }

    /// Lets time pass up to `at`, or until the wearer does something. Whether nothing came between.
    fn comes_to(&mut self, at: Ms) -> bool {
        let known = self.run.log().len();
        self.run.wait(at);
        self.run.log().len() == known
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{scenarios::BUILT_IN, wire::scenario_v1};

    fn to_watch() -> impl Iterator<Item = Rc<Scenario>> {
        let built_in = BUILT_IN.iter().map(|(_, text)| Rc::new(scenario_v1::parse(text).unwrap()));
        built_in.filter(|scenario| scenario.colleague.is_some())
    }

    fn watched_out(scenario: &Rc<Scenario>) -> Colleague {
        let mut colleague = Colleague::new(Rc::clone(scenario)).unwrap();
        colleague.advance(Ms(u32::MAX));
        colleague
    }

    #[test]
    fn nobody_is_watched_where_nobody_acts() {
        let (_, text) = BUILT_IN.first().unwrap();
        assert!(Colleague::new(Rc::new(scenario_v1::parse(text).unwrap())).is_none());
    }

    #[test]
    fn every_act_is_made_and_the_clock_stops_after_the_last() {
        for scenario in to_watch() {
            let colleague = watched_out(&scenario);
            let acts = scenario.colleague.clone().unwrap();
            assert!(colleague.is_done());
            assert_eq!(colleague.run().acts().collect::<Vec<_>>(), acts, "{}", scenario.id);
            assert_eq!(colleague.run().now(), acts.last().unwrap().0, "{}", scenario.id);
        }
    }

    #[test]
    fn watched_in_pieces_it_is_the_same_run() {
        for scenario in to_watch() {
            let mut pieces = Colleague::new(Rc::clone(&scenario)).unwrap();
            while !pieces.is_done() {
                pieces.advance(pieces.run().now().plus(Ms(730)));
            }
            assert_eq!(pieces.run().log(), watched_out(&scenario).run().log(), "{}", scenario.id);
        }
    }

    #[test]
    fn watched_step_by_step_it_is_the_same_run_and_nothing_is_passed_over() {
        for scenario in to_watch() {
            let mut steps = Colleague::new(Rc::clone(&scenario)).unwrap();
            while !steps.is_done() {
                let known = steps.run().log().len();
                steps.step();
                let new = steps.run().log().get(known..).unwrap();
                assert!(!new.is_empty(), "{}", scenario.id);
                let acts = new.iter().filter(|entry| matches!(entry.what, What::Act(act) if act != Act::Squeeze));
                assert!(acts.count() <= 1, "{}: {new:?}", scenario.id);
            }
            assert_eq!(steps.run().log(), watched_out(&scenario).run().log(), "{}", scenario.id);
        }
    }
}
