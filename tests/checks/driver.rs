//! Makes whole runs: by the book, or with one thing done otherwise.

use bittersweet_core::{
    act::Act,
    guide,
    run::Run,
    scenario::Scenario,
    units::Ms,
    wire::scenario_v1::{self, ScenarioV1},
};
use std::rc::Rc;

/// How far apart two acts are at least; squeezes are quicker.
const BEAT: Ms = Ms(1_200);
const SQUEEZE: Ms = Ms(700);
const TICK: Ms = Ms(100);

/// A built-in scenario.
pub(crate) fn built_in(id: &str) -> Rc<Scenario> {
    let (_, text) = bittersweet_core::scenarios::BUILT_IN.iter().find(|(name, _)| *name == id).expect("a built-in scenario");
    Rc::new(scenario_v1::parse(text).unwrap_or_else(|faults| panic!("{id}: {faults}")))
}

/// A built-in scenario with something changed.
pub(crate) fn changed(id: &str, change: impl FnOnce(&mut ScenarioV1)) -> Rc<Scenario> {
    let mut loose = scenario_v1::loose(&built_in(id));
    change(&mut loose);
    Rc::new(scenario_v1::check(&loose).unwrap_or_else(|faults| panic!("{id}: {faults}")))
}

/// Goes on by the book until `until` says so, or the run ends.
pub(crate) fn go_on(run: &mut Run, until: impl Fn(&Run, Act) -> bool) {
    for _ in 0..2_000 {
        let Some(step) = guide::next(run.scenario(), run.state()) else { return };
        if until(run, step.act) {
            return;
        }
        let beat = if step.act == Act::Squeeze { SQUEEZE } else { BEAT };
        let at = run.now().plus(beat).max(step.not_before.unwrap_or(Ms::ZERO));
        // What the wearer does meanwhile may change what comes next.
        let known = run.log().len();
        while run.now() < at && run.log().len() == known {
            let tick = run.now().plus(TICK).min(at);
            run.advance(tick);
        }
        if run.log().len() > known {
            continue;
        }
        run.apply(step.act, at).unwrap_or_else(|refusal| panic!("by the book, but {refusal} at {at}"));
    }
    panic!("no end after 2000 acts; last: {:?}", run.log().last());
}

/// The whole run by the book.
pub(crate) fn by_the_book(scenario: &Rc<Scenario>) -> Run {
    let mut run = Run::new(Rc::clone(scenario));
    go_on(&mut run, |_, _| false);
    run
}
