//! Numbers of the published rule, and what follows from them by arithmetic, against the rulebook and the code that uses it.
//!
//! Each value stands here a second time, by hand, with its source beside it. What is no number of the rule (common practice,
//! an assumption, our own tolerance) says so. How an attempt is ruled on is in `rulings`.

use bittersweet_core::{
    act::{Exercise, Field, Fields, Threshold},
    model::Parameters,
    motion::{Air, Motion},
    rulebook::{Agent, Rulebook, Solvent},
    units::{FitFactor, Ms},
};

fn books() -> [&'static Rulebook; 2] {
    [Rulebook::us(Agent::Sweet), Rulebook::us(Agent::Bitter)]
}

fn is_near(value: f64, wanted: f64, within: f64) -> bool {
    (value - wanted).abs() <= within
}

#[test]
fn periods_are_those_of_the_rule() {
    for book in books() {
        let numbers = &book.numbers;
        let rows: &[(&str, Ms, u32)] = &[
            // Nothing but plain water by mouth for 15 min: App. A I.B.3(b)(1), I.B.4(b)(1), read.
            ("nothing by mouth", numbers.nothing_by_mouth, 15 * 60_000),
            // Worn at least 5 min to judge comfort: App. A I.A.5, read.
            ("comfort", numbers.comfort_wear, 5 * 60_000),
            // Worn at least 5 min before the test starts: App. A I.A.12, read.
            ("before the test", numbers.pretest_wear, 5 * 60_000),
            // Each exercise of a qualitative test 60 s: App. A I.A.14(b), read.
            ("exercise", numbers.exercise, 60_000),
            // Half the squeezes every 30 s: App. A I.B.3(b)(9), I.B.4(b)(9), read.
            ("replenishment", numbers.replenish_every, 30_000),
            // Rinse and refill each morning and afternoon, or at least every 4 h: App. A I.B.3(a)(14), I.B.4(a)(14), read.
            ("refill", numbers.refill_within, 4 * 3_600_000),
            // Negative pressure seal check held 10 s: App. B-1, read.
            ("seal check", numbers.seal_hold, 10_000),
        ];
        for (what, period, wanted) in rows {
            assert_eq!(period.0, *wanted, "{what}, {}", book.part);
        }
    }
}

#[test]
fn counts_and_measures_are_those_of_the_rule() {
    for book in books() {
        let numbers = &book.numbers;
        let rows: &[(&str, u32, u32)] = &[
            // Screening in three sets of ten: App. A I.B.3(a)(7)-(9), I.B.4(a)(7)-(9), read.
            ("a set", numbers.set, 10),
            ("sets", numbers.sets, 3),
            // Never fewer than ten initial squeezes: App. A I.B.3(b)(7), read; I.B.4(b)(7), read, has no such sentence.
            ("initial minimum", numbers.initial_minimum, 10),
            // Half of them each time: App. A I.B.3(b)(9), I.B.4(b)(9), read.
            ("replenish part", numbers.replenish_part, 2),
            // About 1 mL in the nebulizer: App. A I.B.3(a)(13), I.B.4(a)(13), read.
            ("fill, mL", numbers.fill_ml, 1),
            // Hood about 12 in across, 14 in tall: App. A I.B.3(a)(1), I.B.4(a)(1), read.
            ("hood across, in", numbers.hood_diameter_in, 12),
            ("hood tall, in", numbers.hood_height_in, 14),
            // Hole of 3/4 in: App. A I.B.3(a)(2), I.B.4(a)(2), read.
            ("hole, sixteenths of an inch", numbers.hood_hole_sixteenths, 12),
            // About 6 in between face and window: common practice, no source.
            ("gap, in", numbers.hood_gap_in, 6),
            // Not above ten times the limit on a qualitative test: 1910.134(f)(6), letter 1999-01-15, read.
            ("times the limit", numbers.limit_times, 10),
            // Full facepiece beyond that: quantitative, 500: 1910.134(f)(7), read.
            ("quantitative, full", numbers.full_quantitative, 500),
            // Assigned protection factors of half and full air-purifying facepieces: 1910.134(d), Table 1, read.
            ("APF half", numbers.apf_half, 10),
            ("APF full", numbers.apf_full, 50),
            // Five fields: 1910.134(m)(2)(i)(A)-(E), read.
            ("record fields", numbers.record_fields, 5),
            // At least annually: 1910.134(f)(2), read.
            ("months to the next", numbers.retest_within_months, 12),
        ];
        for (what, value, wanted) in rows {
            assert_eq!(value, wanted, "{what}, {}", book.part);
        }
    }
    let named = [Field::Wearer, Field::Test, Field::Facepiece, Field::Date, Field::Result];
    let five = named.into_iter().fold(Fields::default(), Fields::toggled);
    assert_eq!(five, Fields::FIVE);
    assert!(!Fields::FIVE.has(Field::Health));
}

/// Ours, and not the rule's: the rule gives no tolerances. They stand here so that a change of one is seen.
#[test]
fn tolerances_are_labelled_as_ours() {
    use bittersweet_core::{rulebook::RuleId, source::Basis};
    for book in books() {
        let numbers = &book.numbers;
        let rows = [
            (RuleId::FitTopUp, numbers.replenish_lost, 15_000),
            (RuleId::FitTopUpPrompt, numbers.replenish_slack, 5_000),
            (RuleId::FitMinute, numbers.exercise_lost, 50_000),
            (RuleId::FitMinuteNear, numbers.exercise_slack, 57_000),
            (RuleId::WatchMouth, numbers.mouth_closed_for, 15_000),
            (RuleId::ScreenRapid, numbers.rapid_set, 30_000),
        ];
        for (rule, value, wanted) in rows {
            assert_eq!(value.0, wanted, "{}", rule.code());
            assert_eq!(book.rule(rule).map(|rule| rule.basis), Some(Basis::Ours), "{}", rule.code());
        }
    }
}

/// The seven exercises of a qualitative test, in order, a minute each: App. A I.A.14(a) and (b), read. The sum is derived.
#[test]
fn seven_exercises_of_a_minute_make_420_seconds() {
    let in_order =
        ["normal-breathing", "deep-breathing", "head-side", "head-up-down", "talking", "bending", "normal-again"];
    assert_eq!(Exercise::SEVEN.map(Exercise::code), in_order);
    // The grimace belongs to quantitative tests: read.
    assert_eq!(Exercise::Grimace.place(), None);
    // Jogging stands for bending where the hood does not allow bending: read.
    assert_eq!(Exercise::Jogging.place(), Some(5));
    for book in books() {
        let whole = book.numbers.exercise.times(u32::try_from(Exercise::SEVEN.len()).unwrap());
        assert_eq!(whole, Ms::secs(420));
    }
}

/// Recipes: App. A I.B.3(a)(5), (b)(5), I.B.4(a)(5), (b)(5), read. The ratios are derived.
#[test]
fn solutions_are_those_of_the_rule() {
    let sweet = Rulebook::us(Agent::Sweet).solution;
    // 0.83 g in 100 mL of water, and 83 g in 100 mL of water.
    assert_eq!((sweet.check_mg, sweet.check_ml, sweet.fit_mg, sweet.fit_ml), (830.0, 100, 83_000.0, 100));
    assert_eq!(sweet.solvent, Solvent::Water);
    let bitter = Rulebook::us(Agent::Bitter).solution;
    // 13.5 mg in 100 mL, and 337.5 mg in 200 mL, of 5 % sodium chloride.
    assert_eq!((bitter.check_mg, bitter.check_ml, bitter.fit_mg, bitter.fit_ml), (13.5, 100, 337.5, 200));
    assert_eq!(bitter.solvent, Solvent::SaltWater);
    // Milligrams to a millilitre, and fit test solution over check solution.
    for (solution, check, fit, ratio) in [(sweet, 8.3, 830.0, 100.0), (bitter, 0.135, 1.6875, 12.5)] {
        let strength = |mg: f64, ml: u32| mg / f64::from(ml);
        let (weak, strong) =
            (strength(solution.check_mg, solution.check_ml), strength(solution.fit_mg, solution.fit_ml));
        assert!(is_near(weak, check, 1e-12) && is_near(strong, fit, 1e-9), "{weak} {strong}");
        assert!(is_near(strong / weak, ratio, 1e-9));
        assert!(is_near(f64::from(solution.strength_milli), ratio * 1_000.0, 1e-9));
    }
}

/// As many initial squeezes as the class: App. A I.B.3(b)(7), I.B.4(b)(7), read. Half of them, 5, 10 and 15: (b)(9), read.
/// Totals over 420 s (a replenishment at 30, 60 ... 390 s, thirteen in all) are derived.
#[test]
fn a_class_makes_the_squeezes_of_the_test() {
    for book in books() {
        let whole = book.numbers.exercise.times(7);
        let times: Vec<Ms> =
            (1..).map(|n| book.numbers.replenish_every.times(n)).take_while(|at| *at < whole).collect();
        assert_eq!((times.len(), times.last()), (13, Some(&Ms::secs(390))));
        for (class, initial, half, total) in
            [(Threshold::Ten, 10, 5, 75), (Threshold::Twenty, 20, 10, 150), (Threshold::Thirty, 30, 15, 225)]
        {
            assert_eq!((book.initial(class), book.replenishment(class)), (Some(initial), Some(half)));
            assert_eq!(initial + half * 13, total);
        }
        // Not tasted at thirty: not by this agent. App. A I.B.3(a)(11), I.B.4(a)(11), read.
        assert_eq!((book.initial(Threshold::NotTasted), book.replenishment(Threshold::NotTasted)), (None, None));
    }
}

/// Within the first, second or third ten, whatever the count: App. A I.B.3(a)(7)-(9), I.B.4(a)(7)-(9), letter 1999-08-27.
/// The fit factor at which a linear dose just reaches the taster's own threshold is the ratio of the solutions times class
/// over count: derived.
#[test]
fn the_class_is_that_of_the_set() {
    let rows = [
        (1, 10, 1_000.0, 125.0),
        (3, 10, 333.333, 41.667),
        (5, 10, 200.0, 25.0),
        (10, 10, 100.0, 12.5),
        (11, 20, 181.818, 22.727),
        (20, 20, 100.0, 12.5),
        (21, 30, 142.857, 17.857),
        (30, 30, 100.0, 12.5),
    ];
    for (count, class, sweet, bitter) in rows {
        for (book, wanted) in books().into_iter().zip([sweet, bitter]) {
            let initial = book.initial(book.class_at(count)).expect("a class to test from");
            assert_eq!(initial, class, "squeeze {count}, {}", book.part);
            let strength = f64::from(book.solution.strength_milli) / 1_000.0;
            let found = strength * f64::from(initial) / f64::from(count);
            assert!(is_near(found, wanted, 1e-3), "squeeze {count}, {}: {found}", book.part);
        }
    }
    for book in books() {
        assert_eq!(book.class_at(31), Threshold::NotTasted);
    }
}

/// Overall fit factor: the number of exercises over the sum of the penetrations, App. A I.C.2(b)(8)(iii)(D), read; at
/// least 100 for a half mask and 500 for a full facepiece, 1910.134(f)(7), read. The vectors are derived.
#[test]
fn the_overall_fit_factor_is_the_harmonic_mean() {
    let rows: [([u32; 7], f64, f64); 6] = [
        ([200; 7], 200.0, 200.0),
        ([1000, 1000, 1000, 1000, 1000, 1000, 20], 125.0, 860.0),
        ([100, 200, 400, 800, 1600, 3200, 50], 176.378, 907.143),
        ([150, 120, 90, 200, 80, 60, 300], 110.044, 142.857),
        ([120, 95, 130, 88, 140, 105, 110], 109.936, 112.571),
        ([5000, 4000, 3000, 250, 6000, 350, 5000], 874.219, 3371.429),
    ];
    for (factors, wanted, arithmetic) in rows {
        let factors = factors.map(|factor| FitFactor::new(factor).expect("at least 1"));
        let overall = FitFactor::overall(&factors);
        assert!(is_near(overall, wanted, 5e-4), "{overall}, not {wanted}");
        let plain = factors.iter().map(|factor| f64::from(factor.get())).sum::<f64>() / 7.0;
        assert!(is_near(plain, arithmetic, 5e-4), "{plain}, not {arithmetic}");
        assert!(overall >= 100.0);
    }
}

/// The level in the hood, one squeeze's worth at a time, with replenishments at these multiples of 30 s left out.
fn level_at(motion: &Motion, moment: Ms, class: f64, left_out: &[u32]) -> f64 {
    let mut level = class;
    let mut at = Ms::ZERO;
    for number in 1.. {
        let due = Ms::secs(30).times(number);
        if due > moment {
            break;
        }
        level = faded(motion, level, due.since(at));
        at = due;
        if !left_out.contains(&number) {
            level += class / 2.0;
        }
    }
    faded(motion, level, moment.since(at))
}

fn faded(motion: &Motion, level: f64, length: Ms) -> f64 {
    motion.after(Air { level, gathered: 0.0 }, 0.0, length.as_secs()).level
}

fn hood() -> Motion {
    Parameters::live(Agent::Sweet).motion()
}

/// With a half-life of 30 s, an assumption about the procedure's intent: half before each replenishment, whole after it, and a
/// quarter and an eighth when one and two are missed. Derived.
#[test]
fn half_every_thirty_seconds_holds_the_level() {
    assert!(is_near(hood().fade_per_s, 0.023_1, 5e-5));
    for class in [10.0, 20.0, 30.0] {
        for number in 1..=13 {
            let due = Ms::secs(30).times(number);
            let before = level_at(&hood(), due.since(Ms(1)), class, &[]);
            assert!(is_near(before / class, 0.5, 1e-4), "before {due}: {before}");
            assert!(is_near(level_at(&hood(), due, class, &[]) / class, 1.0, 1e-9), "after {due}");
        }
        assert!(is_near(level_at(&hood(), Ms::secs(60), class, &[1, 2]) / class, 0.25, 1e-9));
        assert!(is_near(level_at(&hood(), Ms::secs(90), class, &[1, 2, 3]) / class, 0.125, 1e-9));
    }
}

/// The time mean is 1 / (2 ln 2) of the class, 0.7213: derived; here by the trapezium rule over the code's own curve.
#[test]
fn the_mean_level_is_seven_tenths_of_the_class() {
    let step = Ms(10);
    // The two sides of each replenishment differ, so each half minute is summed by itself.
    let piece = |from: Ms| {
        let start = level_at(&hood(), from, 10.0, &[]);
        let values: Vec<f64> = (0..=3_000).map(|n| faded(&hood(), start, step.times(n))).collect();
        let ends = (values[0] + values[3_000]) / 2.0;
        (values[1..3_000].iter().sum::<f64>() + ends) * step.as_secs()
    };
    let area: f64 = (0..14).map(|n| piece(Ms::secs(30).times(n))).sum();
    let mean = area / 420.0 / 10.0;
    assert!(is_near(mean, 0.721_3, 5e-5), "{mean}");
}

/// What holds the level at one half-life lets it rise or fall at another: the steady peak is (1/2) / (1 - r), r being what half
/// a minute leaves. Derived.
#[test]
fn another_half_life_settles_at_another_level() {
    for (half_life_s, peak) in [(15.0, 0.6667), (20.0, 0.7735), (30.0, 1.0), (45.0, 1.3512), (60.0, 1.7071)] {
        let motion = Motion { fade_per_s: core::f64::consts::LN_2 / half_life_s, gathers_s: 1.0 };
        let settled = level_at(&motion, Ms::secs(30).times(60), 10.0, &[]) / 10.0;
        assert!(is_near(settled, peak, 5e-5), "{half_life_s} s: {settled}");
    }
}
