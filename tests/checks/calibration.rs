//! The teaching model against the published limits and trials: targets it was set to meet, and figures held out.
//!
//! Sources: the five limits are those of the annex of the national fit test standard by which proposed methods are judged. The less favourable trial is the 2015 study of 25 people and 9 filtering facepieces
//! (HSE RR1029). The fixed leak is the 2000 study of 26 people, normal breathing only (AOEH 15(6):479-484). The bound on fits
//! below 10 is from the 1984 study of the sweet test (AIHA J 45(6):371-376). Constructed tables: derived.

use bittersweet_core::{
    accuracy::{Measures, Table},
    model::{ORIGINS, Parameters, Set},
    population::{self, Trial},
    rulebook::{Agent, Rulebook},
};
use std::{env, fmt::Write as _, fs, path::PathBuf};

/// The fixed leak's fit factors were 22 to 160 about a mean of 67: a lognormal of this median and spread has that mean.
const LEAK: (f64, f64) = (60.0, 1.6);

fn trial(parameters: &Parameters, agent: Agent) -> Trial {
    population::trial(parameters, Rulebook::us(agent))
}

fn measures(parameters: &Parameters, agent: Agent) -> Measures {
    trial(parameters, agent).table.measures().expect("everybody is there")
}

fn leak_noticed(agent: Agent, set: Set, minutes: usize) -> f64 {
    let (median, spread) = LEAK;
    population::fixed_leak(Parameters::of(agent, set), Rulebook::us(agent), median, spread, minutes)
}

/// Whether the set's own target is met with these parameters: for `accepted` all five limits, for `less` (bitter) the
/// sensitivity of the trial, and for sweet the published bound, since no sensitivity of a trial is known for it.
fn meets(agent: Agent, set: Set, parameters: &Parameters) -> bool {
    let found = measures(parameters, agent);
    match (set, agent) {
        (Set::Accepted, _) => found.meets_the_limits(),
        (Set::Less, Agent::Bitter) => (0.81..=0.86).contains(&found.sensitivity),
        (Set::Less, Agent::Sweet) => trial(parameters, agent).passed_below_10 < 0.05,
    }
}

#[test]
fn constructed_tables_have_their_measures() {
    // a, b, c, d; sensitivity, value of a pass, specificity, value of a fail, kappa; whether all five limits are met. Derived.
    let rows = [
        ([48.0, 12.0, 2.0, 88.0], [0.9600, 0.9778, 0.8800, 0.8000, 0.8000], true),
        ([57.0, 10.0, 3.0, 80.0], [0.9500, 0.9639, 0.8889, 0.8507, 0.8229], true),
        ([95.0, 20.0, 5.0, 80.0], [0.9500, 0.9412, 0.8000, 0.8261, 0.7500], false),
        ([38.0, 30.0, 2.0, 30.0], [0.9500, 0.9375, 0.5000, 0.5588, 0.4030], false),
        ([90.0, 6.0, 10.0, 94.0], [0.9000, 0.9038, 0.9400, 0.9375, 0.8400], false),
    ];
    for ([a, b, c, d], wanted, meets) in rows {
        let found = Table { a, b, c, d }.measures().expect("nothing is divided by nought");
        let values = [found.sensitivity, found.pass_value, found.specificity, found.fail_value, found.kappa];
        for (value, wanted) in values.iter().zip(wanted) {
            assert!((value - wanted).abs() < 5e-5, "{value}, not {wanted}");
        }
        assert_eq!(found.meets_the_limits(), meets, "{found:?}");
    }
}

#[test]
fn as_accepted_both_agents_meet_all_five_limits() {
    for agent in Agent::ALL.iter().copied() {
        let found = measures(Parameters::of(agent, Set::Accepted), agent);
        assert!(found.meets_the_limits(), "{agent:?}: {found:?}");
    }
}

#[test]
fn in_the_less_favourable_set_bitter_finds_81_to_86_of_100_poor_fits() {
    let found = measures(Parameters::of(Agent::Bitter, Set::Less), Agent::Bitter).sensitivity;
    assert!((0.81..=0.86).contains(&found), "{found}");
}

/// Held out: nothing was set by it. Of 26 people 17 noticed the sweet agent, with an exact 95 % interval of 0.443 to 0.828.
#[test]
fn held_out_the_sweet_agent_at_a_fixed_leak() {
    let range = [leak_noticed(Agent::Sweet, Set::Less, 7), leak_noticed(Agent::Sweet, Set::Accepted, 7)];
    assert!(range[0] < 17.0 / 26.0 && 17.0 / 26.0 < range[1], "{range:?}");
}

/// Held out: all 26 noticed the bitter agent, with an exact 95 % interval from 0.868. The accepted set reaches into it, and
/// the model card says that neither reaches 26 of 26.
#[test]
fn held_out_the_bitter_agent_at_a_fixed_leak() {
    let accepted = leak_noticed(Agent::Bitter, Set::Accepted, 7);
    assert!((0.868..1.0).contains(&accepted), "{accepted}");
    assert!(leak_noticed(Agent::Bitter, Set::Less, 7) < 0.868);
}

/// Held out: of fits below 10 fewer than 5 in 100 pass, sweet, in either set.
#[test]
fn held_out_gross_leaks_are_found() {
    for set in Set::ALL.iter().copied() {
        let passed = trial(Parameters::of(Agent::Sweet, set), Agent::Sweet).passed_below_10;
        assert!(passed < 0.05, "{set:?}: {passed}");
    }
}

/// How far a parameter can be moved, as a factor of its value, before the set's target is missed; `None` where it is not missed
/// within what makes sense.
fn room(agent: Agent, set: Set, name: &str, upwards: bool) -> Option<f64> {
    let base = *Parameters::of(agent, set);
    let origin = ORIGINS.iter().find(|origin| origin.name == name).expect("a parameter");
    let value = *base.clone().named(name).expect("a parameter");
    let moved_to = |to: f64| {
        let mut moved = base;
        *moved.named(name).expect("a parameter") = to;
        meets(agent, set, &moved)
    };
    let end = if upwards { origin.most } else { origin.least };
    if value == 0.0 || moved_to(end) {
        return None;
    }
    let (mut holds, mut breaks) = (value, end);
    for _ in 0..14 {
        let middle = f64::midpoint(holds, breaks);
        if moved_to(middle) { holds = middle } else { breaks = middle }
    }
    Some(holds)
}

/// Where the section begins that takes a thousand trials to make.
const ROOM: &str = "\n## How far each parameter can move";

/// Where it ends.
const SUMS: &str = "\n## How the sums are made";

fn rows_of_room() -> String {
    let mut rows = String::new();
    for origin in ORIGINS {
        let cell = |agent, set| {
            let side =
                |upwards| room(agent, set, origin.name, upwards).map_or("free".to_owned(), |to| format!("{to:.3}"));
            format!("{} to {}", side(false), side(true))
        };
        let _ = writeln!(
            rows,
            "| `{}` | {} | {} | {} |",
            origin.name,
            cell(Agent::Sweet, Set::Accepted),
            cell(Agent::Bitter, Set::Accepted),
            cell(Agent::Bitter, Set::Less)
        );
    }
    rows
}

/// The model card, from the parameters and what comes out of them, with these rows of room.
fn card(room: &str) -> String {
    let mut card = String::from(
        "# The teaching model's card\n\n\
         Made by `UPDATE=1 cargo test -p bittersweet-checks calibration`; do not edit.\n\n\
         **What it is.** A small exact model of what a wearer experiences under the hood, so that what a trainee does has \
         consequences in the right direction and of roughly the right size.\n\n\
         **What it must not be used for.** It predicts nobody's fit, it judges no facepiece, no method and no conductor, and it \
         is no evidence that a departure from the protocol is harmless: a spoilt test is invalid whatever its figures say. Its \
         parameters are no measurements and are never asked about.\n\n\
         **Motion.** `s' = -k s` for the level in the hood, `u' = a s - u / tau` for what the tongue has gathered; a squeeze adds \
         one (check solution), 100 (sweet) or 12.5 (bitter). `a` is 1 bare-faced, `reach / fit factor` in a facepiece, 0 with the \
         mouth shut. Both have closed forms between events, so there are no steps.\n\n\
         **Noticing.** `F(x) = 1 - 2^(-x^slope)` of the strongest impression of a stretch over the threshold; one draw an \
         exercise, not one a breath. Lapses and false reports are by sitting.\n\n\
         **Simulated wearers** use the accepted set. Those of written scenarios attend evenly (they notice at the threshold), so \
         that a scenario comes out as written; drawn ones attend by chance.\n\n\
         ## Parameters\n\nTwo sets: *accepted*, as the method was accepted; *less*, as in the less favourable trials.\n\n\
         | parameter | unit | sweet: accepted, less | bitter: accepted, less | origin | why |\n|---|---|---|---|---|---|\n",
    );
    let value = |agent, set, name: &str| *(*Parameters::of(agent, set)).clone().named(name).expect("a parameter");
    for origin in ORIGINS {
        let both =
            |agent| format!("{}, {}", value(agent, Set::Accepted, origin.name), value(agent, Set::Less, origin.name));
        let _ = writeln!(
            card,
            "| `{}` | {} | {} | {} | {} | {} |",
            origin.name,
            origin.unit,
            both(Agent::Sweet),
            both(Agent::Bitter),
            origin.origin,
            origin.why
        );
    }
    card.push_str(
        "\nLeaks: 55 of 100 are the same throughout, 10 open with the head up, 20 in talking, 15 in bending, four times as wide \
         there and half as wide elsewhere (assumption; talking is published to be hard on the fit).\n\n\
         ## Targets (what it was set to meet)\n\n\
         | set | agent | sensitivity | value of a pass | specificity | value of a fail | kappa | target |\n|---|---|---|---|---|---|---|---|\n",
    );
    for set in Set::ALL.iter().copied() {
        for agent in Agent::ALL.iter().copied() {
            let found = measures(Parameters::of(agent, set), agent);
            let target = match (set, agent) {
                (Set::Accepted, _) => "all five limits: at least 0.95, 0.95, above 0.50, 0.50, 0.70",
                (Set::Less, Agent::Bitter) => "sensitivity 0.81 to 0.86",
                (Set::Less, Agent::Sweet) => "none published; moved as bitter was",
            };
            let _ = writeln!(
                card,
                "| {} | {} | {:.3} | {:.3} | {:.3} | {:.3} | {:.3} | {target} |",
                set.code(),
                agent.code(),
                found.sensitivity,
                found.pass_value,
                found.specificity,
                found.fail_value,
                found.kappa
            );
        }
    }
    card.push_str(
        "\n## Held out (nothing was set by these)\n\n\
         | figure | published | less | accepted | verdict |\n|---|---|---|---|---|\n",
    );
    let leak = |agent, set, minutes| leak_noticed(agent, set, minutes);
    let _ = writeln!(
        card,
        "| sweet noticed at a fixed leak, seven minutes | 17 of 26 (0.443 to 0.828) | {:.3} | {:.3} | inside |",
        leak(Agent::Sweet, Set::Less, 7),
        leak(Agent::Sweet, Set::Accepted, 7)
    );
    let _ = writeln!(
        card,
        "| bitter noticed at a fixed leak, seven minutes | 26 of 26 (0.868 to 1) | {:.3} | {:.3} | outside by {:.3}; the accepted \
         set is within the interval |",
        leak(Agent::Bitter, Set::Less, 7),
        leak(Agent::Bitter, Set::Accepted, 7),
        1.0 - leak(Agent::Bitter, Set::Accepted, 7)
    );
    let _ = writeln!(
        card,
        "| the same, one minute only (how long the leak lasted was not read) | | sweet {:.3}, bitter {:.3} | sweet {:.3}, bitter {:.3} | |",
        leak(Agent::Sweet, Set::Less, 1),
        leak(Agent::Bitter, Set::Less, 1),
        leak(Agent::Sweet, Set::Accepted, 1),
        leak(Agent::Bitter, Set::Accepted, 1)
    );
    let below = |set| trial(Parameters::of(Agent::Sweet, set), Agent::Sweet).passed_below_10;
    let _ = writeln!(
        card,
        "| sweet: passed with a fit below 10 | 0 (bound 0.05) | {:.3} | {:.3} | under the bound |",
        below(Set::Less),
        below(Set::Accepted)
    );
    let split = |agent, set| {
        let [ten, twenty, thirty, none] = trial(Parameters::of(agent, set), agent).split.map(|share| 100.0 * share);
        format!("{ten:.0}, {twenty:.0}, {thirty:.0}, {none:.0}")
    };
    let _ = writeln!(
        card,
        "| of 100 people, noted 10, 20, 30, none | not published | sweet {}; bitter {} | sweet {}; bitter {} | |",
        split(Agent::Sweet, Set::Less),
        split(Agent::Bitter, Set::Less),
        split(Agent::Sweet, Set::Accepted),
        split(Agent::Bitter, Set::Accepted)
    );
    card.push_str(
        "\n## How far each parameter can move before its set's target is missed\n\nOne at a time, down to and up to; *free* where \
         the target holds over the whole range that makes sense.\n\n\
         | parameter | sweet accepted | bitter accepted | bitter less |\n|---|---|---|---|\n",
    );
    card.push_str(room);
    card.push_str(
        "\n## How the sums are made\n\n41 thresholds and 161 fit factors, evenly spaced on the logarithm from -4 to 4 standard \
         deviations, by 3 classes and 4 kinds of leak: no sampling, so the figures are the same everywhere.\n\n\
         ## What a run's two figures leave out\n\nFor poor fits no more aerosol is counted than the book gives at any moment of an \
         exercise: spraying more earns nothing, and a departure never looks like a gain. For good fits all of it counts. A \
         facepiece that was touched, a residue and a wet hood are outside the model.\n",
    );
    card
}

#[test]
fn the_model_card_is_what_comes_out() {
    let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs/model-card.md");
    let update = env::var_os("UPDATE").is_some();
    if update {
        fs::write(&file, card(&rows_of_room())).expect("the docs folder is there");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    // The rows of room take a thousand trials each time, so they are made anew only where everything is asked for.
    let rows = if env::var_os("BITTERSWEET_ALL").is_some() {
        rows_of_room()
    } else {
        let section = kept.find(ROOM).zip(kept.find(SUMS)).map(|(from, to)| &kept[from..to]).unwrap_or_default();
        let rows: Vec<&str> = section.lines().filter(|line| line.starts_with("| `")).collect();
        assert_eq!(rows.len(), ORIGINS.len(), "a row for each parameter");
        rows.iter().fold(String::new(), |all, row| all + row + "\n")
    };
    assert!(kept == card(&rows), "docs/model-card.md is stale: UPDATE=1 writes it anew");
}
