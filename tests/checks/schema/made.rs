//! Makes the schema of scenario files from the code: codes from their lists, bounds from the reader's constants.
//!
//! The words are for whoever writes a scenario by hand. That names, bounds and what must be there are the reader's own is
//! checked in `schema`.

use bittersweet_core::{
    act::{Act, Exercise, Field, Slot},
    facepiece::{Class, Condition, Size, Straps},
    rulebook::Agent,
    run::MOST_ENTRIES,
    scenario::{Attention, Clearance, Contents, Face},
    sign::{Gear, Mouthful},
    source::Skill,
    trouble::{Kind, Moment},
    wire::{NOT_PLAIN, scenario_v1 as reader},
    words::LANGUAGES,
};
use serde_json::{Map, Value, json};
use std::{collections::BTreeMap, fmt::Write as _, ops::RangeInclusive, sync::LazyLock};

/// The whole schema.
pub(super) fn schema() -> Value {
    let mut schema = scenario();
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["title"] = json!("Bittersweet scenario, version 1");
    schema
}

/// A property: its name, whether it must be there, and what may stand in it.
type Property = (&'static str, bool, Value);

fn must(name: &'static str, description: &str, of: Value) -> Property {
    (name, true, described(description, of))
}

fn may(name: &'static str, description: &str, of: Value) -> Property {
    (name, false, described(description, of))
}

fn described(description: &str, mut of: Value) -> Value {
    of["description"] = json!(description);
    of
}

fn object<const COUNT: usize>(fields: [Property; COUNT]) -> Value {
    let required: Vec<&str> = fields.iter().filter(|(_, must, _)| *must).map(|(name, ..)| *name).collect();
    let properties: Map<String, Value> = fields.into_iter().map(|(name, _, of)| (name.to_owned(), of)).collect();
    let mut object = json!({ "type": "object", "properties": properties, "additionalProperties": false });
    if !required.is_empty() {
        object["required"] = json!(required);
    }
    object
}

fn integer<T: Copy + Into<u64>>(range: RangeInclusive<T>) -> Value {
    json!({ "type": "integer", "minimum": (*range.start()).into(), "maximum": (*range.end()).into() })
}

fn list(of: Value, most: usize) -> Value {
    json!({ "type": "array", "items": of, "maxItems": most })
}

fn flag() -> Value {
    json!({ "type": "boolean", "default": false })
}

fn codes<T: Copy>(all: &[T], code: impl Fn(T) -> &'static str) -> Value {
    json!({ "type": "string", "enum": all.iter().map(|one| code(*one)).collect::<Vec<_>>() })
}

fn with_default(mut of: Value, default: impl Into<Value>) -> Value {
    of["default"] = default.into();
    of
}

/// Text without what is not plain, and not only blanks.
fn text(longest: usize) -> Value {
    let mut barred = String::new();
    for range in NOT_PLAIN {
        let _ = write!(barred, "\\u{:04x}-\\u{:04x}", u32::from(*range.start()), u32::from(*range.end()));
    }
    let pattern = format!("^[^{barred}]*[^\\s{barred}][^{barred}]*$");
    json!({ "type": "string", "minLength": 1, "maxLength": longest, "pattern": pattern })
}

fn scenario() -> Value {
    object([
        must("format", "What kind of file this is; always the same word.", json!({ "const": reader::FORMAT })),
        must("version", "The version of this form.", integer(1..=reader::VERSION)),
        must(
            "id",
            "A short name for files and links: small letters, digits and hyphens.",
            json!({ "type": "string", "pattern": format!("^[a-z0-9-]{{1,{}}}$", reader::LONGEST_ID), "maxLength": reader::LONGEST_ID }),
        ),
        may("title", "The title that is shown. Left out: the id.", text(reader::LONGEST_TITLE)),
        may("level", "How hard it is: 1 plain, 2 middling, 3 hard.", with_default(integer(reader::LEVELS), 1)),
        may("practises", "The skills it practises most.", list(codes(Skill::ALL, Skill::code), Skill::ALL.len())),
        must("agent", "The test agent of the day.", codes(Agent::ALL, Agent::code)),
        may("house", "Where the house departs from the protocol as it stands. Left out: it does not.", house()),
        must(
            "exposure_times",
            "How many times the exposure limit the wearer's work is; this test is good for up to ten times.",
            integer(0..=reader::MOST_TIMES),
        ),
        may(
            "seed",
            "A number, as text, from which everything left to chance is drawn: the same number, the same chance. At \
             most 18446744073709551615.",
            with_default(json!({ "type": "string", "pattern": "^[0-9]{1,20}$" }), "0"),
        ),
        must("wearer", "The person who is fit tested. Use an invented name.", wearer()),
        may("bench", "The nebulizers and the hood as they are found. Left out: all as it should be.", bench()),
        must("rack", "The facepieces on hand. The first one is place 1.", {
            let mut rack = list(facepiece(), usize::from(Slot::MOST));
            rack["minItems"] = json!(1);
            rack
        }),
        may("trouble", "What comes up while the run goes on, harmless things included.", {
            list(trouble(), reader::MOST_TROUBLE)
        }),
        may(
            "colleague",
            "A colleague's run to be watched and judged. Left out: the trainee runs the test.",
            colleague(),
        ),
    ])
}

fn house() -> Value {
    object([
        may(
            "one_refit_after_fail",
            "After a fail the house lets the same facepiece be put on and tested once more.",
            flag(),
        ),
        may("jogging_for_bending", "The house lets jogging in place stand for bending over.", flag()),
    ])
}

fn wearer() -> Value {
    let slot = || integer(1..=Slot::MOST);
    let [skin, hair, shape] = reader::LAST_LOOK;
    let look: Vec<Value> = [skin, hair, shape].map(|last| integer(0..=last)).to_vec();
    object([
        must("name", "An invented first name.", text(reader::LONGEST_NAME)),
        may(
            "look",
            "Three numbers for the picture only: skin, hair, shape of the face. They have no bearing on anything else.",
            with_default(
                json!({ "type": "array", "prefixItems": look, "items": false, "minItems": 3 }),
                json!([0, 0, 0]),
            ),
        ),
        may(
            "tastes_after",
            "At which squeeze of a usual screening they begin to taste it. Left out: not within thirty.",
            integer(reader::SQUEEZES),
        ),
        may(
            "attention",
            "Whether they notice every taste that reaches them (`even`) or by chance, as people do (`drawn`).",
            with_default(codes(Attention::ALL, Attention::code), Attention::Even.code()),
        ),
        may(
            "clearance",
            "What their medical clearance says.",
            with_default(codes(Clearance::ALL, Clearance::code), Clearance::Cleared.code()),
        ),
        may("by_mouth", "What they ate, drank, chewed or smoked before. Left out: nothing.", {
            object([
                must("what", "What it was.", codes(Mouthful::ALL, Mouthful::code)),
                must("minutes_ago", "How many minutes before the run began.", integer(0..=u8::MAX)),
            ])
        }),
        may(
            "face",
            "What is on the face where the seal will lie.",
            with_default(codes(Face::ALL, Face::code), Face::Clear.code()),
        ),
        may(
            "gear",
            "What else they wear at work that could disturb the fit.",
            list(codes(Gear::ALL, Gear::code), Gear::ALL.len()),
        ),
        may("at_work", "The place on the rack of the facepiece of their job, if that is settled.", slot()),
        may(
            "well",
            "Whether they feel well enough to be tested today.",
            with_default(json!({ "type": "boolean" }), true),
        ),
        may(
            "choices",
            "The places on the rack whose facepieces they find acceptable, best first.",
            list(slot(), usize::from(Slot::MOST)),
        ),
    ])
}

fn bench() -> Value {
    object([
        may("check", "The nebulizer for the taste screening.", nebulizer()),
        may("fit", "The nebulizer for the fit test.", nebulizer()),
        may("hood_damp", "The hood is damp from the test before.", flag()),
    ])
}

fn nebulizer() -> Value {
    object([
        may("unmarked", "It bears no mark that says what is in it.", flag()),
        may("holds", "What it really holds. Left out: the solution it is for.", codes(Contents::ALL, Contents::code)),
        may("low", "It is nearly dry.", flag()),
        may("filled_h_ago", "How many hours ago it was rinsed and filled.", with_default(integer(0..=u8::MAX), 0)),
        may("clogged", "Its tip is clogged.", flag()),
        may("bottle_undated", "The bottle it is filled from bears no date.", flag()),
    ])
}

fn facepiece() -> Value {
    let fit = || integer(reader::FITS);
    object([
        must(
            "model",
            "A capital letter for the model. Facepieces with one letter are of one model.",
            json!({ "type": "string", "pattern": "^[A-Z]$", "maxLength": 1 }),
        ),
        must("class", "What kind of facepiece it is.", codes(Class::ALL, Class::code)),
        must("size", "Its size.", codes(Size::ALL, Size::code)),
        may(
            "condition",
            "What is wrong with it, if anything.",
            with_default(codes(Condition::ALL, Condition::code), Condition::Sound.code()),
        ),
        may("gas_only", "It has gas cartridges and no particulate filter.", flag()),
        may("used", "Somebody wore it and it was not disinfected.", flag()),
        may("uncomfortable", "The wearer finds it unacceptable.", flag()),
        may(
            "straps",
            "How the wearer puts it on if nobody helps.",
            with_default(codes(Straps::ALL, Straps::code), Straps::Even.code()),
        ),
        may("seal_leaks", "The user seal check does not hold.", flag()),
        must(
            "fit",
            "How well it fits this wearer, as a fit factor: one number for all exercises, or seven in the order of the \
             exercises. Below 100 it leaks enough to be tasted in the test.",
            json!({ "oneOf": [
                fit(),
                {
                    "type": "array",
                    "items": fit(),
                    "minItems": Exercise::SEVEN.len(),
                    "maxItems": Exercise::SEVEN.len(),
                },
            ] }),
        ),
    ])
}

/// The field that says when, for each moment that has one.
pub(super) fn field_of(moment: Moment) -> Option<&'static str> {
    match moment {
        Moment::Start => Some("start_s"),
        Moment::Screening => Some("screening"),
        Moment::Initial => Some("initial"),
        Moment::Exercise => Some("during"),
        Moment::Result => Some("after_result"),
        Moment::Found | Moment::Doing | Moment::Throughout => None,
    }
}

/// When a kind can be written to come up. A habit is never anything else; what is found on the bench, on the rack or in the
/// wearer is written there, and what the conductor's own doing makes is not written at all.
pub(super) fn moments(kind: Kind) -> Vec<Moment> {
    let arises = kind.entry().arises;
    if arises.contains(&Moment::Throughout) {
        return vec![Moment::Throughout];
    }
    arises.iter().copied().filter(|moment| field_of(*moment).is_some()).collect()
}

fn trouble() -> Value {
    let mut trouble = object([
        must("kind", "What comes up.", kinds()),
        may(
            "start_s",
            "When: so many seconds after the run began, as long as no hood is on.",
            integer(0..=reader::LATEST_START_S),
        ),
        may("screening", "When: in the taste screening, after so many squeezes.", integer(0..=u8::MAX)),
        may("initial", "When: at the first squeezes of the fit test, after so many of them.", integer(0..=u8::MAX)),
        may("during", "When: in this exercise.", codes(Exercise::ALL, Exercise::code)),
        may(
            "after_s",
            "With `during`: so many seconds into the exercise.",
            with_default(integer(0..=reader::LATEST_IN_EXERCISE_S), 0),
        ),
        may("after_result", "When: once a result was given.", flag()),
    ]);
    trouble["oneOf"] = Moment::ALL.iter().copied().filter_map(branch).collect();
    trouble
}

/// The name of a kind in plain English.
pub(super) fn name_of(kind: Kind) -> &'static str {
    static WORDS: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
        let (_, english) = LANGUAGES.iter().find(|(tag, _)| *tag == "en").expect("English is there");
        serde_json::from_str(english).expect("words are texts")
    });
    &WORDS[&format!("kind.{}", kind.code())]
}

/// Each kind with its name.
fn kinds() -> Value {
    let named: Vec<Value> = Kind::ALL
        .iter()
        .filter(|kind| !moments(**kind).is_empty())
        .map(|kind| json!({ "const": kind.code(), "title": name_of(*kind) }))
        .collect();
    json!({ "oneOf": named })
}

/// Which kinds may come at a moment, and that this is said by its field and by no other. None where no kind can.
fn branch(moment: Moment) -> Option<Value> {
    let kinds: Vec<Kind> = Kind::ALL.iter().copied().filter(|kind| moments(*kind).contains(&moment)).collect();
    if kinds.is_empty() {
        return None;
    }
    let own = field_of(moment);
    let mut properties = Map::from_iter([("kind".to_owned(), codes(&kinds, Kind::code))]);
    for other in Moment::ALL.iter().copied().filter_map(field_of).filter(|field| Some(*field) != own) {
        // A flag that is down says nothing.
        properties
            .insert(other.to_owned(), if other == "after_result" { json!({ "const": false }) } else { json!(false) });
    }
    let mut branch = json!({ "title": moment.code(), "properties": properties });
    if let Some(own) = own {
        branch["required"] = json!([own]);
    }
    if moment == Moment::Result {
        branch["properties"]["after_result"] = json!({ "const": true });
    }
    Some(branch)
}

fn colleague() -> Value {
    let mut acts = list(act(), MOST_ENTRIES);
    acts["minItems"] = json!(1);
    object([must("acts", "What they did, in order of time. Each act must be possible when its turn comes.", acts)])
}

fn act() -> Value {
    // Under each code what it can be done with; nothing for those that stand alone.
    let mut by_code: BTreeMap<&str, Vec<String>> = BTreeMap::new();
    for act in Act::all() {
        let (code, with) = act.code();
        by_code.entry(code).or_default().extend(with);
    }
    let alone: Vec<&str> = by_code.iter().filter(|(_, with)| with.is_empty()).map(|(code, _)| *code).collect();
    let mut forms = vec![json!({ "properties": { "act": { "enum": alone }, "with": false } })];
    for (code, with) in by_code.iter().filter(|(_, with)| !with.is_empty()) {
        let with = match *code {
            "record" => json!({ "pattern": fields() }),
            "wait" => json!({ "pattern": "^[0-9]{1,7}$" }),
            _ => json!({ "enum": with }),
        };
        forms.push(json!({ "properties": { "act": { "const": code }, "with": with }, "required": ["with"] }));
    }
    let codes: Vec<&str> = by_code.keys().copied().collect();
    let mut act = object([
        must("at", "When, in milliseconds since the run began; never before the act before it.", integer(0..=u32::MAX)),
        must("act", "What was done.", json!({ "type": "string", "enum": codes })),
        may(
            "with",
            "What it was done with, for acts that need it: which nebulizer, which exercise, which result. For `record` \
             the fields joined by commas, for `wait` milliseconds, an hour at most.",
            json!({ "type": "string" }),
        ),
    ]);
    act["oneOf"] = json!(forms);
    act
}

/// Fields of the record joined by commas, or none.
fn fields() -> String {
    let one = Field::ALL.iter().map(|field| field.code()).collect::<Vec<_>>().join("|");
    format!("^(({one})(,({one}))*)?$")
}
