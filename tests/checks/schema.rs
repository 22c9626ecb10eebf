//! The published schema of scenario files, `docs/scenario-v1.schema.json`: that it is what the code says, and that it and the
//! reader agree on what is a scenario.
//!
//! `UPDATE=1` writes it anew. What hangs on several places of a file at once is the reader's alone; see `docs/scenario-file.md`.

mod made;

use crate::golden::WRONG_SCENARIOS;
use bittersweet_core::{
    act::Act,
    rulebook::Agent,
    scenarios::BUILT_IN,
    trouble::{Kind, Moment},
    unannounced::draw_up,
    wire::{
        Code, Faults,
        scenario_v1::{self, ScenarioV1},
    },
};
use jsonschema::Validator;
use serde_json::{Value, json};
use std::{collections::BTreeSet, env, fs, path::PathBuf};

fn docs(file: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../docs").join(file)
}

fn validator() -> Validator {
    let schema = made::schema();
    jsonschema::draft202012::meta::validate(&schema).unwrap_or_else(|error| panic!("no schema: {error}"));
    jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("no schema: {error}"))
}

#[track_caller]
fn validates(validator: &Validator, file: &Value) {
    let faults: Vec<String> =
        validator.iter_errors(file).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(faults.is_empty(), "{}: {faults:#?}", file["id"]);
}

/// A scenario with every field in it.
fn full() -> Value {
    let nebulizer = json!({ "unmarked": true, "holds": "check", "low": true, "filled_h_ago": 4, "clogged": true, "bottle_undated": true });
    json!({
        "format": "bittersweet-scenario",
        "version": 1,
        "id": "full",
        "title": "Everything at once",
        "level": 3,
        "practises": ["running"],
        "agent": "bitter",
        "house": { "one_refit_after_fail": true, "jogging_for_bending": true },
        "exposure_times": 4,
        "seed": "12",
        "wearer": {
            "name": "Ines",
            "look": [1, 1, 1],
            "tastes_after": 7,
            "attention": "drawn",
            "clearance": "cleared",
            "by_mouth": { "what": "water", "minutes_ago": 3 },
            "face": "moustache",
            "gear": ["glasses"],
            "at_work": 1,
            "well": false,
            "choices": [1],
        },
        "bench": { "check": nebulizer, "fit": nebulizer, "hood_damp": true },
        "rack": [{
            "model": "A", "class": "half", "size": "m", "condition": "valve-missing", "gas_only": true, "used": true,
            "uncomfortable": true, "straps": "tight", "seal_leaks": true, "fit": 300,
        }],
        "trouble": [
            trouble_at(Moment::Start),
            trouble_at(Moment::Screening),
            trouble_at(Moment::Initial),
            trouble_at(Moment::Exercise),
            trouble_at(Moment::Result),
            trouble_at(Moment::Throughout),
        ],
        "colleague": { "acts": [{ "at": 1_000, "act": "take", "with": "check" }] },
    })
}

/// Some kind that may come then.
fn trouble_at(moment: Moment) -> Value {
    let kind = Kind::ALL.iter().find(|kind| made::moments(**kind).contains(&moment)).expect("some kind may").code();
    match moment {
        Moment::Start => json!({ "kind": kind, "start_s": 3 }),
        Moment::Screening => json!({ "kind": kind, "screening": 3 }),
        Moment::Initial => json!({ "kind": kind, "initial": 3 }),
        Moment::Exercise => json!({ "kind": kind, "during": "talking", "after_s": 3 }),
        Moment::Result => json!({ "kind": kind, "after_result": true }),
        Moment::Found | Moment::Doing | Moment::Throughout => json!({ "kind": kind }),
    }
}

fn read(file: &Value) -> Result<(), Faults> {
    scenario_v1::parse(&file.to_string()).map(|_| ())
}

#[test]
fn the_published_schema_is_what_the_code_says() {
    let now = made::schema();
    let file = docs("scenario-v1.schema.json");
    if env::var_os("UPDATE").is_some() {
        fs::write(&file, format!("{now:#}\n")).expect("docs is there");
    }
    let kept: Value = serde_json::from_str(&fs::read_to_string(file).expect("UPDATE=1 writes it")).expect("it is JSON");
    assert!(kept == now, "docs/scenario-v1.schema.json is stale: UPDATE=1 writes it anew");
}

#[test]
fn every_scenario_of_ours_validates() {
    let validator = validator();
    for (_, text) in BUILT_IN {
        validates(&validator, &serde_json::from_str(text).expect("it is JSON"));
    }
    for seed in 0..1_000 {
        for agent in Agent::ALL.iter().copied() {
            let file = scenario_v1::loose(&draw_up(agent, seed));
            validates(&validator, &serde_json::to_value(file).expect("a scenario is JSON"));
        }
    }
}

/// All but one: which places the rack has stands elsewhere in the file, so only place 0 is wrong by itself.
#[test]
fn what_the_reader_refuses_by_itself_the_schema_refuses() {
    let validator = validator();
    let text = crate::golden::scenario_without_blanks();
    for (from, to, ..) in WRONG_SCENARIOS {
        let file: Value = serde_json::from_str(&text.replacen(from, to, 1)).expect("each row is JSON");
        assert!(!validator.is_valid(&file), "{to} passes");
    }
    let beyond: Value = serde_json::from_str(&text.replacen("[2,3]", "[2,9]", 1)).expect("it is JSON");
    assert!(validator.is_valid(&beyond) && read(&beyond).is_err(), "a place beyond this rack is the reader's alone");
}

/// A place in a file as a list of steps, and what the schema says of it.
type Place = (Vec<Value>, Value);

/// Every place of a file that the schema describes.
fn places(schema: &Value, file: &Value, path: &[Value], found: &mut Vec<Place>) {
    found.push((path.to_vec(), schema.clone()));
    let below = |step: Value| path.iter().cloned().chain([step]).collect::<Vec<_>>();
    for (name, inner) in schema["properties"].as_object().into_iter().flatten() {
        if let Some(value) = file.get(name) {
            places(inner, value, &below(json!(name)), found);
        }
    }
    for (number, value) in file.as_array().into_iter().flatten().enumerate() {
        let inner = schema["prefixItems"].get(number).unwrap_or(&schema["items"]);
        places(inner, value, &below(json!(number)), found);
    }
}

fn at<'a>(file: &'a mut Value, path: &[Value]) -> &'a mut Value {
    path.iter().fold(file, |place, step| match step.as_str() {
        Some(name) => &mut place[name],
        None => &mut place[usize::try_from(step.as_u64().expect("a number")).expect("it fits")],
    })
}

fn all_places() -> Vec<Place> {
    let mut found = Vec::new();
    places(&made::schema(), &full(), &[], &mut found);
    found
}

#[test]
fn names_and_what_must_be_there_are_the_readers() {
    assert_eq!(read(&full()), Ok(()));
    validates(&validator(), &full());
    let mut objects = 0;
    for (path, schema) in all_places().iter().filter(|(_, schema)| schema["type"] == "object") {
        objects += 1;
        let mut more = full();
        at(&mut more, path)["no such"] = json!(1);
        // The reader names what it would have taken.
        let said = serde_json::from_value::<ScenarioV1>(more).expect_err("an unknown name").to_string();
        let names: BTreeSet<&str> = said.split('`').skip(3).step_by(2).collect();
        let ours: BTreeSet<&str> =
            schema["properties"].as_object().into_iter().flatten().map(|(name, _)| name.as_str()).collect();
        assert_eq!(names, ours, "{path:?}: {said}");
        assert_eq!(schema["additionalProperties"], false, "{path:?}");
        for name in ours {
            let mut less = full();
            at(&mut less, path).as_object_mut().expect("an object").remove(name);
            let is_missed = read(&less).is_err_and(|faults| faults.to_string().contains("missing field"));
            let required = schema["required"].as_array().is_some_and(|names| names.contains(&json!(name)));
            assert_eq!(is_missed, required, "{path:?}: {name}");
        }
    }
    assert_eq!(objects, 10 + 6, "the scenario, its parts, and six pieces of trouble");
}

/// Whether the reader finds fault with the shape or a bound; what hangs on other places is let pass.
fn is_out_of_bounds(file: &Value) -> bool {
    let by_itself = [
        Code::WrongShape,
        Code::OutOfRange,
        Code::TooMany,
        Code::Empty,
        Code::NotPlain,
        Code::UnknownCode,
        Code::NewerVersion,
    ];
    read(file).is_err_and(|faults| faults.list().iter().any(|fault| by_itself.contains(&fault.code)))
}

#[test]
fn bounds_are_where_the_reader_has_them() {
    let validator = validator();
    let mut bounds = 0;
    let mut try_both = |path: &[Value], value: Value, fits: bool| {
        let mut file = full();
        *at(&mut file, path) = value;
        assert_eq!(validator.is_valid(&file), fits, "the schema at {path:?}");
        assert_eq!(!is_out_of_bounds(&file), fits, "the reader at {path:?}: {:?}", read(&file));
        bounds += 1;
    };
    for (path, schema) in all_places() {
        // A place on the rack hangs on how long the rack is.
        if path.iter().any(|step| step == "at_work" || step == "choices") {
            continue;
        }
        let integer = if schema["oneOf"][0]["type"] == "integer" { &schema["oneOf"][0] } else { &schema };
        if let (Some(least), Some(most)) = (integer["minimum"].as_i64(), integer["maximum"].as_i64()) {
            for (number, fits) in [(least, true), (most, true), (least - 1, false), (most + 1, false)] {
                try_both(&path, json!(number), fits);
            }
        }
        if let Some(most) = schema["maxLength"].as_u64() {
            let letters = |count: u64| {
                let letter = if path == [json!("id")] { "a" } else { "A" };
                json!(letter.repeat(usize::try_from(count).expect("it fits")))
            };
            for (count, fits) in [(1, true), (most, true), (0, false), (most + 1, false)] {
                try_both(&path, letters(count), fits);
            }
        }
        if let (Some(most), Some(first)) = (schema["maxItems"].as_u64(), at(&mut full(), &path).get(0)) {
            let items = |count: u64| json!(vec![first.clone(); usize::try_from(count).expect("it fits")]);
            let least = schema["minItems"].as_u64().unwrap_or(0);
            for (count, fits) in [(least, true), (most, true), (most + 1, false)] {
                try_both(&path, items(count), fits);
            }
            if least > 0 {
                try_both(&path, items(least - 1), false);
            }
        }
        // A piece of trouble and an act hang together; which codes go with which is tried elsewhere.
        let is_apart = !path.iter().any(|step| step == "trouble" || step == "colleague");
        if let Some(codes) = schema["enum"].as_array().filter(|_| is_apart) {
            try_both(&path, json!("no-such"), false);
            for code in codes {
                try_both(&path, code.clone(), true);
            }
        }
    }
    assert!(bounds > 150, "{bounds} bounds were tried");
}

#[test]
fn each_kind_may_come_when_the_reader_lets_it() {
    let validator = validator();
    for kind in Kind::ALL.iter().copied() {
        for moment in
            [Moment::Start, Moment::Screening, Moment::Initial, Moment::Exercise, Moment::Result, Moment::Throughout]
        {
            let mut file = full();
            let mut trouble = trouble_at(moment);
            trouble["kind"] = json!(kind.code());
            file["trouble"] = json!([trouble]);
            // The reader passes over when a habit comes; a file that says so is not right all the same.
            let is_habit = made::moments(kind) == [Moment::Throughout];
            let fits = if is_habit { moment == Moment::Throughout } else { read(&file).is_ok() };
            assert_eq!(validator.is_valid(&file), fits, "{trouble}");
        }
    }
}

#[test]
fn each_act_is_done_with_what_the_reader_lets_it() {
    let colleague = &made::schema()["properties"]["colleague"];
    let validator = jsonschema::draft202012::new(colleague).unwrap_or_else(|error| panic!("no schema: {error}"));
    let is_valid = |act: &str, with: Option<&str>| {
        let mut one = json!({ "at": 0, "act": act });
        if let Some(with) = with {
            one["with"] = json!(with);
        }
        validator.is_valid(&json!({ "acts": [one] }))
    };
    let acts: Vec<(&str, Option<String>)> = Act::all().into_iter().map(Act::code).collect();
    let mut withs: BTreeSet<&str> = acts.iter().filter_map(|(_, with)| with.as_deref()).collect();
    withs.extend(["", "0", "13", "date", "date,result", "date;result", "-1", "no-such"]);
    for act in acts.iter().map(|(act, _)| *act).collect::<BTreeSet<_>>() {
        assert_eq!(is_valid(act, None), Act::from_code(act, None).is_some(), "{act}");
        for with in &withs {
            assert_eq!(is_valid(act, Some(with)), Act::from_code(act, Some(with)).is_some(), "{act} with {with}");
        }
    }
}

/// What stands between the fences of `docs/scenario-file.md`.
#[test]
fn the_example_in_the_description_is_a_scenario() {
    let page = fs::read_to_string(docs("scenario-file.md")).expect("the description is there");
    let example = page.split("```json\n").nth(1).and_then(|rest| rest.split("```").next()).expect("an example");
    let scenario = scenario_v1::parse(example).unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!((scenario.rack.len(), scenario.trouble.len()), (3, 2), "the text counts them");
    validates(&validator(), &serde_json::from_str(example).expect("it is JSON"));
    // Every name and every kind is explained.
    for name in names(&made::schema()) {
        assert!(page.contains(&format!("`{name}`")), "`{name}` is not explained");
    }
    for kind in Kind::ALL.iter().copied().filter(|kind| !made::moments(*kind).is_empty()) {
        let fields: Vec<String> = made::moments(kind)
            .into_iter()
            .map(|moment| made::field_of(moment).map_or("none: a habit".to_owned(), |field| format!("`{field}`")))
            .collect();
        let row = format!("| `{}` | {} | {} |", kind.code(), made::name_of(kind), fields.join(", "));
        assert!(page.contains(&row), "missing: {row}");
    }
}

fn names(schema: &Value) -> BTreeSet<String> {
    let properties = schema["properties"].as_object().into_iter().flatten();
    let own = properties.clone().map(|(name, _)| name.clone());
    let below = properties.map(|(_, inner)| inner).chain(schema.get("items")).flat_map(names);
    own.chain(below).collect()
}
