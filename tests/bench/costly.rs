//! A fit test whose figures take longest: nothing is known of the threshold, and much was off.

use crate::Rehearsal;
use bittersweet_core::{
    act::Act,
    cost::{self, Cost},
    review,
    run::Run,
    units::Ms,
};
use std::rc::Rc;

/// The kept rehearsal without its screening's squeezes, without replenishments in five exercises, and the last but one cut.
pub(crate) fn costly(rehearsal: &Rehearsal) -> Cost {
    let begun: Vec<Ms> =
        rehearsal.acts.iter().filter(|(_, act)| matches!(act, Act::Begin(_))).map(|(at, _)| *at).collect();
    let [first, .., cut, last] = begun[..] else { panic!("seven exercises") };
    let mut run = Run::new(Rc::clone(&rehearsal.scenario));
    for (at, act) in rehearsal.acts.iter().copied() {
        let in_screening = at < first.since(Ms::mins(1));
        let in_five = at > first.plus(Ms::secs(40)) && at < cut;
        let left_out = act == Act::Squeeze && (in_screening || in_five);
        let at = if at >= last { at.since(Ms::secs(20)) } else { at };
        if !left_out {
            // What depended on something that was left out is left out with it.
            let _ = run.apply(act, at.max(run.now()));
        }
    }
    let mut costs = cost::of(&run, &review::of_run(&run));
    costs.pop().expect("it was passed")
}
