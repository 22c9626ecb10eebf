//! The teaching model against the published limits and trials: targets it was set to meet, and figures held out.
//!
//! Sources, as in the project's fact sheet: the five limits are those of the national standard's annex for judging a fit
//! test method; the less favourable trial is a 2015 study of 25 people and 9 filtering facepieces; the fixed leak is a
//! study of 26 people in 2000; the bound on fits below 10 is a sweet-agent study of 1984.

use bittersweet_core::{
    model::{Parameters, Set},
    population::{self, Trial},
    rulebook::{Agent, Rulebook},
};

fn trial(agent: Agent, set: Set) -> Trial {
    population::trial(Parameters::of(agent, set), Rulebook::us(agent))
}
#[test]
fn show() {
    for agent in [Agent::Sweet, Agent::Bitter] {
        for set in [Set::Accepted, Set::Less] {
            let t = trial(agent, set);
            let [a, b, c, d] = t.shares;
            let po = a + d;
            let pe = (a + b) * (a + c) + (c + d) * (b + d);
            let leak =
                |minutes| population::fixed_leak(Parameters::of(agent, set), Rulebook::us(agent), 60.0, 1.6, minutes);
            println!(
                "{agent:?} {set:?} split {:?} sens {:.3} pvp {:.3} spec {:.3} pvf {:.3} kappa {:.3} below10 {:.3} leak {:.3} {:.3}",
                t.split,
                a / (a + c),
                d / (c + d),
                d / (b + d),
                a / (a + b),
                (po - pe) / (1.0 - pe),
                t.passed_below_10,
                leak(1),
                leak(7)
            );
        }
    }
}
