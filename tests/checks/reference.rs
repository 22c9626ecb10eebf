//! The teaching model's arithmetic against general scientific libraries.
//!
//! The vectors in `tests/reference/vectors` are made by the scripts beside them with `SciPy` and scikit-learn; nothing here
//! knows how. Spacing is compared with the package `fsrs`, and its vectors with a second one. Where `BITTERSWEET_REFERENCE` names a folder with larger sets, those are compared too.

use bittersweet_core::{
    accuracy::Table,
    interval::{Bounds, Confidence, Counted},
    knowledge::{Guess, Learner},
    model::{Parameters, Set},
    motion::{Air, Motion},
    normal, noticing, population,
    rulebook::{Agent, Rulebook},
    spacing::{Grade, Memory},
    units::FitFactor,
};
use serde_json::Value;
use std::{
    env,
    fs::{self, OpenOptions},
    io::Write as _,
    path::{Path, PathBuf},
};

/// A numerical solution of the motion is good to this part of the value.
const SOLVED: f64 = 1e-9;

/// Maxima that were searched for, and sums over people and fits.
const SUMMED: f64 = 1e-6;

/// What has a closed form on both sides.
const EXACT: f64 = 1e-12;

fn committed() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference/vectors")
}

fn vectors(folder: &Path, name: &str) -> Value {
    let path = folder.join(name).with_extension("json");
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// The rows of numbers under a name.
fn rows<const N: usize>(of: &Value, name: &str) -> Vec<[f64; N]> {
    let row = |row: &Value| -> [f64; N] {
        let numbers: Vec<f64> = list(row).iter().map(|number| number.as_f64().expect("a number")).collect();
        numbers.try_into().unwrap_or_else(|row| panic!("{name}: {row:?}, not {N} numbers"))
    };
    list(&of[name]).iter().map(row).collect()
}

fn list(value: &Value) -> &[Value] {
    value.as_array().expect("a list")
}

/// The largest error seen, and where.
#[derive(Debug, Default)]
struct Worst {
    error: f64,
    at: String,
    compared: usize,
}

impl Worst {
    fn see(&mut self, error: f64, at: impl FnOnce() -> String) {
        self.compared += 1;
        // An error that is no number is larger than any.
        if error > self.error || error.is_nan() {
            self.error = if error.is_nan() { f64::INFINITY } else { error };
            self.at = at();
        }
    }

    /// As a part of the value; nought must be nought.
    fn relative(&mut self, ours: f64, theirs: f64, at: impl FnOnce() -> String) {
        let off = (ours - theirs).abs();
        let error = if theirs == 0.0 && off > 0.0 { f64::INFINITY } else { off / theirs.abs().max(f64::MIN_POSITIVE) };
        self.see(error, || format!("{}: {ours}, not {theirs}", at()));
    }

    fn absolute(&mut self, ours: f64, theirs: f64, at: impl FnOnce() -> String) {
        self.see((ours - theirs).abs(), || format!("{}: {ours}, not {theirs}", at()));
    }

    #[track_caller]
    fn is_below(&self, most: f64, numbers: usize) {
        assert_eq!(self.compared, numbers, "so many numbers were to be compared");
        assert!(self.error < most, "worst error {:e}, not below {most:e}, of {}", self.error, self.at);
    }
}

fn segments(folder: &Path, count: usize) -> Worst {
    let mut worst = Worst::default();
    for row in rows::<9>(&vectors(folder, "motion"), "segments") {
        let [level, gathered, share, fade_per_s, gathers_s, seconds, left, tasted, strongest] = row;
        let (motion, air) = (Motion { fade_per_s, gathers_s }, Air { level, gathered });
        let after = motion.after(air, share, seconds);
        worst.relative(after.level, left, || format!("level after {row:?}"));
        worst.relative(after.gathered, tasted, || format!("gathered after {row:?}"));
        worst.relative(motion.strongest(air, share, seconds), strongest, || format!("the most in {row:?}"));
    }
    worst.is_below(SOLVED, 3 * count);
    worst
}

/// Each schedule is gone through from its beginning, so that an error would add up.
fn schedules(folder: &Path, count: usize) -> Worst {
    let mut worst = Worst::default();
    let all = vectors(folder, "motion");
    let all = list(&all["schedules"]);
    let mut pieces = 0;
    for (number, schedule) in all.iter().enumerate() {
        let rate = |name: &str| schedule[name].as_f64().expect("a rate");
        let motion = Motion { fade_per_s: rate("fade_per_s"), gathers_s: rate("gathers_s") };
        let mut air = Air::default();
        for (at, [adds, share, seconds, level, gathered]) in rows::<5>(schedule, "pieces").into_iter().enumerate() {
            air.level += adds;
            air = motion.after(air, share, seconds);
            worst.relative(air.level, level, || format!("level, piece {at} of schedule {number}"));
            worst.relative(air.gathered, gathered, || format!("gathered, piece {at} of schedule {number}"));
            pieces += 1;
        }
    }
    assert_eq!(all.len(), count);
    // Ten squeezes and thirteen times five are the least, with two looks at each of fourteen half minutes.
    assert!(pieces >= count * 103, "{pieces}");
    worst.is_below(SOLVED, 2 * pieces);
    worst
}

#[test]
fn between_events_level_and_taste_are_as_solved_numerically() {
    segments(&committed(), 500);
}

#[test]
fn over_a_whole_test_level_and_taste_are_as_solved_numerically() {
    schedules(&committed(), 20);
}

/// The large sets are made by `cargo xtask test --all` alone.
#[test]
fn large_sets_are_as_solved_numerically() {
    let Some(folder) = env::var_os("BITTERSWEET_REFERENCE").map(PathBuf::from) else { return };
    let (segments, schedules) = (segments(&folder, 10_000), schedules(&folder, 200));
    let spacing = histories(&folder, 10_000);
    if let Some(figures) = env::var_os("BITTERSWEET_FIGURES") {
        let mut file = OpenOptions::new().append(true).create(true).open(figures).expect("figures can be noted");
        for (what, worst) in [("10 000 stretches", segments), ("200 whole tests", schedules)] {
            writeln!(file, "worst relative error of level and taste against SciPy, {what}: {:.1e}", worst.error)
                .expect("figures can be noted");
        }
        writeln!(file, "worst relative error of spacing against fsrs, 10 000 histories: {:.1e}", spacing.error)
            .expect("figures can be noted");
    }
}

/// Each history is gone through from its beginning, so that an error would add up.
fn histories(folder: &Path, count: usize) -> Worst {
    let mut worst = Worst::default();
    let all = vectors(folder, "spacing");
    let all = list(&all["histories"]);
    let mut asked = 0;
    for (number, history) in all.iter().enumerate() {
        let mut memory: Option<Memory> = None;
        for row in list(history) {
            let whole =
                |at: usize| row[at].as_u64().and_then(|whole| u32::try_from(whole).ok()).expect("a whole number");
            let wanted = |at: usize| row[at].as_f64().expect("a number");
            let grade = [Grade::Again, Grade::Hard, Grade::Good, Grade::Easy][whole(1) as usize - 1];
            let known = memory.map_or(0.0, |memory| memory.known_after(whole(0)));
            let now = memory.map_or_else(|| Memory::first(grade), |memory| memory.again(grade, whole(0)));
            for (at, ours) in [(2, known), (3, now.stability), (4, now.difficulty)] {
                worst.relative(ours, wanted(at), || format!("number {at} of {row}, history {number}"));
            }
            assert_eq!(now.due_in(), whole(5), "{row}, history {number}");
            memory = Some(now);
            asked += 1;
        }
    }
    assert_eq!(all.len(), count);
    assert!(asked > 7 * count, "{asked}");
    worst.is_below(SOLVED, 3 * asked);
    worst
}

#[test]
fn something_is_asked_again_when_fsrs_says() {
    histories(&committed(), 200);
}

/// Theirs sums over every way that learning could have gone; ours goes from answer to answer.
#[test]
fn what_is_known_is_what_every_way_of_learning_makes_of_it() {
    let mut worst = Worst::default();
    let all = vectors(&committed(), "knowledge");
    let mut answered = 0;
    for case in list(&all["cases"]) {
        let of = |at: usize| case["parameters"][at].as_f64().expect("a chance");
        let learner = Learner { before: of(0), learns: of(1), slips: of(2) };
        let mut known = learner.before;
        for row in list(&case["answers"]) {
            let whole = |at: usize| u32::try_from(row[at].as_u64().expect("a count")).expect("a count that fits");
            known = learner.after(known, whole(0) == 1, Guess::one_of(whole(1)));
            worst.absolute(known, row[2].as_f64().expect("a chance"), || format!("{row} of {case}"));
            answered += 1;
        }
    }
    assert!(answered > 200, "{answered}");
    worst.is_below(EXACT, answered);
}

#[test]
fn the_measures_of_a_table_are_those_counted_person_by_person() {
    let mut worst = Worst::default();
    for [a, b, c, d, wanted @ ..] in rows::<9>(&vectors(&committed(), "agreement"), "tables") {
        let found = Table { a, b, c, d }.measures().expect("nothing is divided by nought");
        let found = [found.sensitivity, found.pass_value, found.specificity, found.fail_value, found.kappa];
        let wanted: [f64; 5] = wanted;
        for (at, (found, wanted)) in found.into_iter().zip(wanted).enumerate() {
            worst.absolute(found, wanted, || format!("measure {at} of {a}, {b}, {c}, {d}"));
        }
    }
    worst.is_below(EXACT, 5 * 65);
}

#[test]
fn the_overall_fit_factor_is_the_harmonic_mean() {
    let mut worst = Worst::default();
    for row in list(&vectors(&committed(), "harmonic")["sets"]) {
        let (overall, exercises) = list(row).split_last().expect("a row");
        let exercises: Vec<FitFactor> = exercises
            .iter()
            .map(|factor| factor.as_u64().and_then(|factor| FitFactor::new(u32::try_from(factor).ok()?)))
            .collect::<Option<_>>()
            .expect("whole fit factors");
        assert_eq!(exercises.len(), 7);
        let overall = overall.as_f64().expect("a number");
        worst.relative(FitFactor::overall(&exercises), overall, || format!("{exercises:?}"));
    }
    worst.is_below(EXACT, 66);
}

#[test]
fn the_chance_of_noticing_is_a_weibull_curve() {
    let mut worst = Worst::default();
    for [times, slope, chance] in rows::<3>(&vectors(&committed(), "noticing"), "points") {
        worst.relative(noticing::chance(times, slope), chance, || format!("{times} times at slope {slope}"));
    }
    worst.is_below(EXACT, 200);
}

/// The nodes are the same on both sides; taste, maxima and chances are worked out in another way.
#[test]
fn the_trial_of_the_method_comes_to_the_same() {
    let mut worst = Worst::default();
    let all = vectors(&committed(), "population");
    for trial in list(&all["trials"]) {
        let code = |name: &str| trial[name].as_str().expect("a code");
        let numbers = |name: &str| list(&trial[name]).iter().map(|number| number.as_f64().expect("a number"));
        let agent = Agent::from_code(code("agent")).expect("an agent");
        let set = Set::from_code(code("set")).expect("a set");
        let found = population::trial(Parameters::of(agent, set), Rulebook::us(agent));
        let Table { a, b, c, d } = found.table;
        let ours = [found.split, [a, b, c, d]].concat();
        let theirs: Vec<f64> = numbers("split").chain(numbers("table")).collect();
        assert_eq!(ours.len(), theirs.len());
        for (at, (ours, theirs)) in ours.into_iter().zip(theirs).enumerate() {
            worst.absolute(ours, theirs, || format!("share {at} for {agent:?}, {set:?}"));
        }
        let gross = trial["passed_below_10"].as_f64().expect("a number");
        worst.absolute(found.passed_below_10, gross, || format!("gross leaks passed for {agent:?}, {set:?}"));
    }
    worst.is_below(SUMMED, 4 * 9);
}

#[test]
fn intervals_of_counts_are_those_of_scipy() {
    let all = vectors(&committed(), "intervals");
    let mut worst = Worst::default();
    for (name, bounds) in [("both", Bounds::Both), ("lower", Bounds::Lower), ("upper", Bounds::Upper)] {
        for row in list(&all[name]) {
            let whole = |at: usize| u32::try_from(row[at].as_u64().expect("a count")).expect("a count that fits");
            let number = |at: usize| row[at].as_f64().expect("a number");
            let counted = Counted::new(whole(0), whole(1)).expect("some of some");
            let confidence = Confidence::new(number(2)).expect("between 0 and 1");
            let (wilson, exact) = (counted.wilson(bounds, confidence), counted.exact(bounds, confidence));
            let ours = [wilson.low, wilson.high, exact.low, exact.high];
            for (at, ours) in (3..).zip(ours) {
                worst.absolute(ours, number(at), || format!("number {at} of {name}, {row}"));
            }
        }
    }
    worst.is_below(EXACT, 3 * 100 * 4);
}

#[test]
fn shares_of_the_normal_distribution_are_those_of_scipy() {
    let mut worst = Worst::default();
    for [z, share] in rows::<2>(&vectors(&committed(), "normal"), "shares") {
        worst.relative(normal::share_below(z), share, || format!("below {z}"));
    }
    worst.is_below(EXACT, 181);
}

#[test]
fn quantiles_of_the_normal_distribution_are_those_of_scipy() {
    let mut worst = Worst::default();
    for [share, z] in rows::<2>(&vectors(&committed(), "normal"), "quantiles") {
        worst.absolute(normal::quantile(share), z, || format!("quantile of {share}"));
    }
    worst.is_below(EXACT, 135);
}
