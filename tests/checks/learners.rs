//! Simulated learners, by seed: whether readiness says what it states, and what the order of practice is worth.
//!
//! They are drawn from other models than the ones that are used, and they are no people: nothing here was measured on anybody.
//! The figures stand in `docs/learners.md`; `UPDATE=1` writes them anew.

mod doing;
mod knowing;

use rand::RngExt as _;
use rand_pcg::Pcg32;
use std::{env, fs, path::PathBuf};

/// Chance, by seed: no learner's hangs on another's.
pub(crate) struct Chance(Pcg32);

impl Chance {
    fn of(learner: u64, stream: u64) -> Self {
        Self(Pcg32::new(learner, stream))
    }

    /// Evenly between two numbers.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * f64::from(self.0.random::<u32>()) / 4_294_967_296.0
    }

    fn happens(&mut self, share: f64) -> bool {
        self.between(0.0, 1.0) < share
    }

    fn below(&mut self, count: usize) -> usize {
        self.0.random::<u32>() as usize % count
    }
}

/// The middle one.
fn median(mut counts: Vec<u32>) -> u32 {
    counts.sort_unstable();
    counts.get(counts.len() / 2).copied().unwrap_or_default()
}

fn in_100(part: usize, of: usize) -> f64 {
    100.0 * part as f64 / of.max(1) as f64
}

const HEAD: &str = "# Simulated learners\n\n\
    Made by `UPDATE=1 cargo test -p bittersweet-checks learners`; do not edit.\n\n\
    These are simulated learners, drawn by seed from models that we made up, and other ones than those the product reckons with. \
    They show whether the arithmetic holds what it states. They show nothing about people: no learner was measured, and how fast \
    anybody learns here is invented.\n";

const RULE: &str = "\n## Is who is called ready as good as is stated?\n\n\
    *Ready to be observed on a real test* states, with a confidence of 90 %, that at least 0.81 of the events that would spoil a \
    result or endanger somebody are caught. Looked at is the moment at which somebody is called ready for the first time: is the true \
    share then, over all kinds as they come up in drawn runs, at least 0.81? Stated is 90 of 100, and wanted are 85 to 95.\n\n\
    - **steady**: nobody learns anything; the share that is caught lies evenly between 0.5 and 1;\n\
    - **learning**: each kind is missed less often after it was met, more so after it was missed, and helps with no other;\n\
    - **forgetting**: the same, but between two runs lie up to three weeks, and what was learned fades;\n\
    - **uneven**: a fifth of the kinds stays hard whatever is practised, and some are caught by luck;\n\
    - **linked**: what is learned of one kind helps with all others.\n\n\
    Everybody makes up to 150 runs drawn as the product draws them, with mistakes of their own now and then, and the rule is asked \
    after each. Anybody who stays a little below the bar for long enough is looked at so often that chance may call them ready. That the latest 73 events \
    count was chosen with other learners of the same sorts.\n\n\
    **By the rule** (11 with none missed, 20 with one, 27 with two and so on, of the latest 73):\n\n";

const ANEW: &str = "\n**Were the count to begin anew after each that is missed** (11 in a row), for comparison:\n\n";

const STEADY: &str = "\nSomebody who stays as good as they are, by the rule:\n\n";

const VERDICT: &str = "\nAll together are within what is wanted. The rule is stricter than it says for those who learn nothing and \
    for those whose learning carries over. It misses the target for those who forget from run to run: they hover below the bar. \
    Most of those called ready too early are not far below it, as the column *at least 0.75* shows. The rule asks for many runs, \
    since half of those that are drawn are quiet.\n";

const ORDER: &str = "\n## What is the order worth?\n\n\
    Everybody answers the questions of the bank until each of the eight skills counts as known (0.95 by knowledge tracing): in \
    random order; as the questions alone are chosen (what went wrong, then the weakest skill); and with the skill that is known \
    least surely first, of which the question is chosen. Wanted is at most 60 of 100 of the questions that random order needs \
    (medians).\n\n\
    - **as reckoned**: as knowledge tracing supposes, with other numbers for each skill and learner;\n\
    - **forgetting**: what is known is lost now and then while other things are asked;\n\
    - **uneven**: slips from 2 to 25 of 100, and guesses up to twice as good as chance;\n\
    - **linked**: what is learned in one skill is sometimes learned in the next one too;\n\
    - **gradual**: nothing is known at once; every answer adds a part of what is still missing.\n\n";

const KNOWN: &str = "\nThe last column is why this counts for practice only: of those who learn gradually or forget, knowledge \
    tracing believes more than is so. What stays known is asked again by the spacing of questions, which is left out here.\n";

#[test]
fn the_figures_are_what_comes_out_and_meet_what_is_wanted() {
    let world = doing::World::new();
    let (ours, anew) = (world.called(doing::Rule::Ours), world.called(doing::Rule::Anew));
    let needs = knowing::Needs::all();
    let made = [
        HEAD,
        RULE,
        &doing::table(&ours),
        VERDICT,
        STEADY,
        &world.steady(),
        ANEW,
        &doing::table(&anew),
        ORDER,
        &knowing::table(&needs),
        KNOWN,
    ]
    .concat();
    let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs/learners.md");
    if env::var_os("UPDATE").is_some() {
        fs::write(&file, &made).expect("the docs folder is there");
    }
    let kept = fs::read_to_string(&file).unwrap_or_default();
    assert!(kept == made, "docs/learners.md is stale: UPDATE=1 writes it anew");

    // What the words of the document say of its figures.
    let of_all = doing::as_stated(ours.iter().flatten());
    assert!((85.0..=95.0).contains(&of_all), "{of_all}");
    let [steady, learning, forgetting, uneven, linked] = ours.each_ref().map(|called| doing::as_stated(called.iter()));
    assert!(steady > 95.0 && linked > 95.0 && forgetting < 85.0, "{steady}, {linked}, {forgetting}");
    assert!(learning >= 85.0 && uneven >= 85.0, "{learning}, {uneven}");
    assert!(doing::as_stated(anew.iter().flatten()) < of_all - 5.0, "the other rule would do as well");
    assert!(needs.iter().all(|need| need.part() <= 60.0), "the order is not worth what is wanted");
}
