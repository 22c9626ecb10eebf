//! What a review shows in figures beside the same worked out from the saved run in Python (`tests/reference/review.py`): sets,
//! lengths, levels, the pair of figures and the departures' shares, in a dozen runs.

use bittersweet_core::{
    act::Act,
    cost::{self, Figures, Range},
    departure::Departure,
    review::of_run,
    run::Run,
    state::About,
    timeline,
    units::Ms,
    wire::run_v1::{self, ActV1, RunV1},
};
use serde_json::Value;
use std::{fs, path::Path, rc::Rc};

/// Maxima on a grid of hundredths of a second.
const GRID: f64 = 2e-6;

/// From one squeeze to the next where they are given rapidly, as in `population.py`.
const RAPID: Ms = Ms(700);

fn read(path: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

fn whole(value: &Value) -> u32 {
    value.as_u64().and_then(|number| u32::try_from(number).ok()).unwrap_or_else(|| panic!("a whole number: {value}"))
}

/// A kept run with what `runs.json` says was changed in it.
fn changed(change: &Value) -> Run {
    let golden = change["golden"].as_str().expect("a kept run");
    let file: RunV1 = serde_json::from_value(read(&format!("golden/{golden}.json"))).expect("a run file");
    let mut acts = file.acts.clone();
    for one in list(&change["drop"]) {
        let (what, from, to) = (one[0].as_str().expect("an act"), whole(&one[1]), whole(&one[2]));
        acts.retain(|act| !(act.at >= from && act.at < to && (what == "*" || what == act.act)));
    }
    for one in list(&change["shift"]) {
        let (from, to, by) = (whole(&one[0]), whole(&one[1]), one[2].as_i64().expect("milliseconds"));
        for act in acts.iter_mut().filter(|act| act.at >= from && act.at < to) {
            act.at = u32::try_from(i64::from(act.at) + by).expect("a moment");
        }
    }
    for one in list(&change["add"]) {
        let (act, with) = (one[1].as_str().expect("an act").to_owned(), one[2].as_str().map(str::to_owned));
        acts.push(ActV1 { at: whole(&one[0]), act, with });
    }
    acts.sort_by_key(|act| act.at);
    let opened = run_v1::open(&file).expect("a kept run opens");
    let mut run = Run::new(Rc::clone(&opened.scenario));
    for ActV1 { at, act, with } in &acts {
        let act = Act::from_code(act, with.as_deref()).unwrap_or_else(|| panic!("{act}"));
        run.apply(act, Ms(*at)).unwrap_or_else(|refusal| panic!("{golden}: {refusal} at {at}"));
    }
    run
}

/// The lesser and the greater of what the two sets of parameters give, by place in the row.
fn range(rows: &Value, place: usize) -> Range {
    let of = |set: usize| rows[set][place].as_f64().expect("a chance");
    Range { low: of(0).min(of(1)), high: of(0).max(of(1)) }
}

fn alike(figures: &Figures, rows: &Value, what: &str) {
    let ours = [figures.poor_missed.ran, figures.good_failed.ran, figures.poor_missed.book, figures.good_failed.book];
    for (place, ours) in ours.iter().enumerate() {
        let theirs = range(rows, place);
        let gap = (ours.low - theirs.low).abs().max((ours.high - theirs.high).abs());
        assert!(gap < GRID, "{what}, figure {place}: {ours:?} and {theirs:?}");
    }
}

#[test]
fn every_figure_of_a_review_is_what_was_worked_out_elsewhere() {
    let changes = read("reference/runs.json");
    let vectors = read("reference/vectors/review.json");
    let (changes, vectors) = (list(&changes["runs"]), list(&vectors["runs"]));
    assert_eq!((changes.len(), vectors.len()), (12, 12));
    let mut shares = 0;
    for (change, vector) in changes.iter().zip(vectors) {
        let name = vector["name"].as_str().expect("a name");
        assert_eq!(change["name"], vector["name"]);
        let run = changed(change);
        let stretches = timeline::of(run.scenario(), run.state());
        let test = stretches.iter().find(|stretch| matches!(stretch.about, About::Test(_))).expect("a fit test");

        // Each set that was given or lost; one whose time was not up stands in no review.
        let asked = |place: usize| whole(&vector["asked"][usize::from(place > 0)]);
        for (place, set) in test.sets.iter().enumerate() {
            let theirs = &vector["sets"][place];
            // The initial squeezes are shown where they had to be begun; there the first exercise is named, on which they end.
            let rapid = set.asked.filter(|_| place == 0).map_or(Ms::ZERO, |asked| RAPID.times(asked));
            assert_eq!(set.due.plus(rapid).0, whole(&theirs[0]), "{name}, set {place}");
            assert_eq!(set.from.map(|at| at.0), theirs[1].as_u64().and_then(|at| u32::try_from(at).ok()), "{name}");
            assert_eq!(set.given, whole(&theirs[2]), "{name}, set {place}");
            // Without a threshold noted, the review says nothing of how many.
            assert!(set.asked.is_none_or(|ours| ours == asked(place)), "{name}, set {place}: {set:?}");
        }
        assert!(list(&vector["sets"]).len() - test.sets.len() <= 1, "{name}");
        for (bar, theirs) in test.exercises.iter().zip(list(&vector["lengths"])) {
            assert_eq!(Some(bar.exercise.code()), theirs[0].as_str(), "{name}");
            assert_eq!(bar.to.since(bar.from).0, whole(&theirs[1]), "{name}: {bar:?}");
        }
        assert_eq!(test.exercises.len(), list(&vector["lengths"]).len(), "{name}");

        // The level just before each half minute.
        let levels = timeline::levels(&run, test, Ms::secs(2));
        let begun = test.exercises[0].from;
        for (number, theirs) in (0..).zip(list(&vector["levels"])) {
            let at = begun.plus(Ms::secs(30).times(number));
            let fade = 0.5_f64;
            let last = levels.iter().rfind(|level| level.at < at).expect("a level before");
            let ours = last.hood * fade.powf(at.since(last.at).as_secs() / 30.0);
            let theirs = theirs.as_f64().expect("a level");
            assert!((ours - theirs).abs() <= 1e-9 * theirs.max(1.0), "{name} at {at}: {ours} and {theirs}");
        }

        let costs = cost::of(&run, &of_run(&run));
        let [cost] = &costs[..] else { panic!("{name}: one test came to a result") };
        alike(&cost.figures(), &vector["figures"], name);
        for share in list(&vector["shares"]) {
            let is_it = |departure: &Departure| {
                let (code, exercise) = departure.code();
                share["of"][0] == code && share["of"][1] == exercise.map_or("", |exercise| exercise.code())
            };
            let place = cost.departures.iter().position(is_it);
            let place = place.unwrap_or_else(|| panic!("{name}: {} is none of {:?}", share["of"], cost.departures));
            alike(&cost.if_put_right(place).expect("just found"), &share["figures"], name);
            shares += 1;
        }
    }
    assert_eq!(shares, 4);
}
