//! Every code that can come before people has its words, and no words stand there for nothing.
//!
//! Whether all languages have the same keys and placeholders is found when the crate is built, and is not tested here.
//! The texts that screens name themselves (`ui.`) are held to by their generated constants.

use bittersweet_core::{
    act::{Act, Aim, Exercise, Field, NextStep, Phase, Role, Slot, Threshold, Verdict},
    facepiece::{Class, Size},
    observe::Slip,
    orientation::{Ending, Pace as Telling, Reply, Said, Taste, Told},
    rulebook::{Agent, RuleId, Rulebook, Solvent},
    run::Reason,
    scenario::Face,
    scenarios::BUILT_IN,
    scene::{Around, Hand, Head, Ill, Mouth, Object, Off, Tag},
    sign::{Gear, Mouthful, Seen, Sign},
    source::{Basis, Gravity, Push, Reading, Skill},
    trouble::Kind,
    unannounced,
    wire::{
        Code,
        run_v1::{Help, Pace},
    },
    words::LANGUAGES,
};
use std::collections::{BTreeMap, BTreeSet};

type Texts = BTreeMap<String, String>;

/// Keys, each with the placeholders that its text may have and those that it must have.
type Wanted = BTreeMap<String, (Vec<&'static str>, Vec<&'static str>)>;

fn languages() -> Vec<(&'static str, Texts)> {
    LANGUAGES
        .iter()
        .map(|(tag, json)| (*tag, serde_json::from_str(json).expect("a language is a map of texts")))
        .collect()
}

/// The placeholders of a text.
fn placeholders(text: &str) -> BTreeSet<&str> {
    text.split('{').skip(1).filter_map(|rest| rest.split_once('}')).map(|(name, _)| name).collect()
}

/// Adds `family.<code>` for each code.
macro_rules! coded_keys {
    ($wanted:expr, $($family:literal: $name:ty),+ $(,)?) => {
        $(for value in <$name>::ALL {
            $wanted.insert(format!("{}.{}", $family, value.code()), (vec![], vec![]));
        })+
    };
}

fn act_key(act: Act) -> (String, Vec<&'static str>) {
    match act.code() {
        ("hand-over", _) => ("act.hand-over".to_owned(), vec!["facepiece"]),
        ("wait", _) => ("act.wait".to_owned(), vec!["time"]),
        ("record", _) => ("act.record".to_owned(), vec!["fields"]),
        (code, Some(with)) => (format!("act.{code}.{}", with.replace(':', ".")), vec![]),
        (code, None) => (format!("act.{code}"), vec![]),
    }
}

/// The signs with figures, by an example each.
fn figures() -> [(Sign, Vec<&'static str>); 6] {
    let slot = Slot::new(1).expect("one is a place");
    [
        (Sign::ByMouth(Mouthful::Coffee, 5), vec!["what", "minutes"]),
        (Sign::WearsAtWork(Gear::Glasses), vec!["gear"]),
        (Sign::FacepieceAtWork(slot), vec!["facepiece"]),
        (Sign::Chooses(slot), vec!["facepiece"]),
        (Sign::ExposureTimes(4), vec!["times"]),
        (Sign::FilledAgo(2), vec!["hours"]),
    ]
}

/// The faults that can be seen in how a facepiece sits.
const SITTING: [Seen; 3] = [Seen::StrapTwisted, Seen::StrapsTight, Seen::NosepieceFlat];

/// Pieces of the picture that are there or not.
const SCENE: [&str; 18] = [
    "standing",
    "seated",
    "bare",
    "slipped",
    "rushed",
    "drop",
    "whispers",
    "pressed",
    "failing",
    "hood.on",
    "hood.off",
    "hood.near",
    "hood.right",
    "hood.fogged",
    "hood.swings",
    "held.none",
    "held.check",
    "held.fit",
];

/// The densest mist of a scene.
const DENSEST: u8 = 5;

fn scene_keys() -> BTreeSet<String> {
    let mut keys: BTreeSet<String> = SCENE.iter().map(|piece| format!("scene.{piece}")).collect();
    keys.extend(SITTING.iter().map(|seen| format!("scene.fault.{}", seen.code())));
    keys.extend((0..=DENSEST).map(|level| format!("scene.mist.{level}")));
    for role in Role::ALL {
        keys.extend(["low", "nothing", "crusted"].map(|found| format!("scene.bench.{}.{found}", role.code())));
        keys.extend(Tag::ALL.iter().map(|tag| format!("scene.bench.{}.{}", role.code(), tag.code())));
    }
    keys.extend(Off::ALL.iter().map(|off| format!("scene.hood.{}", off.code())));
    let objects = [
        Object::Nebulizer(Role::Fit),
        Object::Spray(Role::Fit),
        Object::Bottle,
        Object::Hood,
        Object::Facepiece(Class::Half),
    ];
    keys.extend(objects.map(|object| format!("scene.close.{}", object.code())));
    keys
}

/// What a worker reads before their own test.
fn worker_keys() -> BTreeSet<String> {
    let single = ["screening.title", "screening.squeezes", "screening.asks", "test.title", "test.first"];
    let beside = ["beside.touched", "beside.untasted", "card.next", "cue.smell", "cue.itch"];
    let view = ["view.tester", "view.hood", "view.bare", "view.mask", "view.spray"];
    let mut keys: BTreeSet<String> =
        single.iter().chain(&beside).chain(&view).map(|key| format!("worker.{key}")).collect();
    for part in ["title", "text"] {
        keys.extend(Told::ALL.iter().map(|told| format!("worker.told.{}.{part}", told.code())));
        keys.extend(Ending::ALL.iter().map(|ending| format!("worker.after.{}.{part}", ending.code())));
        keys.extend(["asked", "questions", "card"].map(|place| format!("worker.{place}.{part}")));
    }
    keys.extend(Exercise::SEVEN.map(|exercise| format!("worker.do.{}", exercise.code())));
    for taste in Taste::ALL {
        match taste {
            Taste::Nothing | Taste::Perhaps => drop(keys.insert(format!("worker.cue.{}", taste.code()))),
            Taste::Little | Taste::Clear => {
                keys.extend(Agent::ALL.iter().map(|agent| format!("worker.cue.{}.{}", taste.code(), agent.code())));
            }
        }
    }
    keys
}

/// Every key that must be there. What is not among them and belongs to one of their families must not.
fn wanted() -> Wanted {
    let mut wanted = Wanted::new();
    for act in Act::all() {
        let (key, figures) = act_key(act);
        if act.is_decision() {
            wanted.insert(key.replacen("act.", "decided.", 1), (vec![], vec![]));
        }
        wanted.insert(key, (figures.clone(), figures));
    }
    for seen in Seen::ALL {
        wanted.insert(format!("sign.{}", seen.code()), (vec!["taste", "name"], vec![]));
    }
    for (sign, figures) in figures() {
        wanted.insert(format!("sign.{}", sign.code().0), (figures.clone(), figures));
    }
    wanted.insert("sign.by-mouth-nothing".to_owned(), (vec![], vec![]));
    let facepiece = vec!["model", "class", "size"];
    wanted.insert("facepiece".to_owned(), (facepiece.clone(), facepiece));
    for verdict in Verdict::all() {
        wanted.insert(format!("verdict.{}", verdict.code().replace(':', ".")), (vec![], vec![]));
    }
    for exercise in Exercise::ALL {
        for part in ["name", "how"] {
            wanted.insert(format!("exercise.{}.{part}", exercise.code()), (vec![], vec![]));
        }
    }
    for agent in Agent::ALL {
        for part in ["name", "taste"] {
            wanted.insert(format!("agent.{}.{part}", agent.code()), (vec![], vec![]));
        }
    }
    coded_keys!(
        wanted,
        "phase": Phase,
        "threshold": Threshold,
        "step": NextStep,
        "field": Field,
        "skill": Skill,
        "slip": Slip,
        "think": Slip,
        "gravity": Gravity,
        "push": Push,
        "basis": Basis,
        "reading": Reading,
        "class": Class,
        "size": Size,
        "mouthful": Mouthful,
        "gear": Gear,
        "reason": Reason,
        "fault": Code,
        "help": Help,
        "pace": Pace,
        "role": Role,
        "solvent": Solvent,
        "kind": Kind,
        "scene.face": Face,
        "scene.class": Class,
        "scene.size": Size,
        "scene.gear": Gear,
        "scene.exercise": Exercise,
        "scene.aim": Aim,
        "scene.hand": Hand,
        "scene.head": Head,
        "scene.mouth": Mouth,
        "scene.ill": Ill,
        "scene.around": Around,
        "worker.reply": Reply,
        "worker.said": Said,
        "worker.pace": Telling,
        "worker.spray": Agent,
    );
    wanted.extend(worker_keys().into_iter().map(|key| (key, (vec![], vec![]))));
    for (key, filled) in [("lies", vec!["pieces"]), ("piece", vec!["class", "size"]), ("empty", vec![])] {
        wanted.insert(format!("scene.rack.{key}"), (filled.clone(), filled));
    }
    for key in scene_keys() {
        wanted.insert(key, (vec![], vec![]));
    }
    for (about, figures) in [("day", vec![]), ("screening", vec!["number"]), ("test", vec!["number"])] {
        wanted.insert(format!("about.{about}"), (figures.clone(), figures));
    }
    for part in ["title", "text"] {
        wanted.insert(format!("passage.{part}"), (vec![], vec![]));
    }
    // What stands in the place of fields where a record has none.
    wanted.insert("field.none".to_owned(), (vec![], vec![]));
    for rule in RuleId::ALL {
        for part in ["says", "why"] {
            wanted.insert(format!("rule.{}.{part}", rule.code()), (vec![], vec![]));
        }
    }
    for kind in Kind::ALL {
        for part in ["good", "poor"] {
            wanted.insert(format!("trouble.{}.{part}", kind.code()), (vec![], vec![]));
        }
    }
    for id in BUILT_IN.iter().map(|(id, _)| *id).chain([unannounced::ID]) {
        for part in ["title", "about"] {
            wanted.insert(format!("scenario.{id}.{part}"), (vec![], vec![]));
        }
    }
    wanted
}

/// The first part of a key.
fn family(key: &str) -> &str {
    key.split('.').next().unwrap_or(key)
}

#[test]
fn every_code_has_its_words() {
    for (tag, texts) in languages() {
        let missing: Vec<String> = wanted().into_keys().filter(|key| !texts.contains_key(key)).collect();
        assert!(missing.is_empty(), "{tag} has no words for {missing:#?}");
    }
}

#[test]
fn no_words_stand_for_nothing() {
    let wanted = wanted();
    let families: BTreeSet<&str> = wanted.keys().map(|key| family(key)).collect();
    for (tag, texts) in languages() {
        let idle: Vec<&String> =
            texts.keys().filter(|key| families.contains(family(key)) && !wanted.contains_key(*key)).collect();
        assert!(idle.is_empty(), "{tag} has words that nothing stands for: {idle:#?}");
    }
}

#[test]
fn a_text_has_the_placeholders_that_are_filled() {
    for (tag, texts) in languages() {
        for (key, (may, must)) in wanted() {
            let Some(text) = texts.get(&key) else { continue };
            let found = placeholders(text);
            assert!(found.iter().all(|name| may.contains(name)), "{tag}: `{key}` has {found:?}, filled are {may:?}");
            assert!(must.iter().all(|name| found.contains(name)), "{tag}: `{key}` has {found:?}, needed are {must:?}");
        }
    }
}

#[test]
fn no_two_acts_have_the_same_label() {
    for (tag, texts) in languages() {
        let mut labels: BTreeMap<&str, &str> = BTreeMap::new();
        for (key, text) in texts.iter().filter(|(key, _)| family(key) == "act") {
            if let Some(other) = labels.insert(text, key) {
                panic!("{tag}: `{other}` and `{key}` are both called \"{text}\"");
            }
        }
    }
}

#[test]
fn a_decision_has_a_short_name_that_stands_alone() {
    for (tag, texts) in languages() {
        for act in Act::all().into_iter().filter(|act| act.is_decision()) {
            let (key, _) = act_key(act);
            let (whole, short) = (&texts[&key], &texts[&key.replacen("act.", "decided.", 1)]);
            assert!(short.len() < whole.len(), "{tag}: {short} is no shorter than {whole}");
            assert!(!short.starts_with(char::is_lowercase), "{tag}: {short} begins with a small letter");
        }
    }
}

#[test]
fn no_two_sights_are_told_alike() {
    for (tag, texts) in languages() {
        let mut told: BTreeMap<&str, &str> = BTreeMap::new();
        for (key, text) in texts.iter().filter(|(key, _)| family(key) == "sign") {
            if let Some(other) = told.insert(text, key) {
                panic!("{tag}: `{other}` and `{key}` both say \"{text}\"");
            }
        }
    }
}

#[test]
fn no_sight_says_what_to_make_of_it() {
    const ENGLISH: &[&str] = &[
        "invalid",
        "void",
        "spoil",
        "leak",
        "harmless",
        "clog",
        "fault",
        "wrong",
        "error",
        "residue",
        "defect",
        "unsafe",
        "departure",
    ];
    const SPANISH: &[&str] = &[
        "inválid",
        "no válid",
        "nula",
        "anula",
        "fuga",
        "se filtr",
        "inofensiv",
        "sin importancia",
        "obstru",
        "tapad",
        "falla",
        "equivocad",
        "error",
        "resto",
        "residuo",
        "defect",
        "insegur",
    ];
    for (tag, texts) in languages() {
        let labels = match tag {
            "en" => ENGLISH,
            "es" => SPANISH,
            other => panic!("say here what a sight must not be called in `{other}`"),
        };
        for (key, text) in texts.iter().filter(|(key, _)| matches!(family(key), "sign" | "scene")) {
            let said = text.to_lowercase();
            let label = labels.iter().find(|label| said.contains(*label));
            assert_eq!(label, None, "{tag}: `{key}`: {text}");
        }
    }
}

/// What a citation says besides names, numbers and dates: every word of it must be among the phrases that are translated.
#[test]
fn every_phrase_in_a_citation_has_its_words() {
    for (tag, texts) in languages() {
        let phrases: Vec<&str> = texts.keys().filter_map(|key| key.strip_prefix("source.")).collect();
        for rule in Agent::ALL.iter().flat_map(|agent| Rulebook::us(*agent).rules.iter()) {
            let rest = phrases.iter().fold(rule.source.to_owned(), |rest, phrase| rest.replace(phrase, ""));
            let word = rest.split(|letter: char| !letter.is_alphabetic()).find(|word| {
                // What is left are numbers of parts and paragraphs: `I.B.3(a)`, `iv`.
                word.len() > 1 && !word.chars().all(|letter| "iv".contains(letter))
            });
            assert_eq!(word, None, "{tag}: {}", rule.source);
        }
    }
}

#[test]
fn nothing_is_shouted() {
    for (tag, texts) in languages() {
        for (key, text) in &texts {
            assert!(!text.contains('!'), "{tag}: `{key}`: {text}");
        }
    }
}

#[test]
fn the_passage_takes_about_a_minute_to_read_aloud() {
    for (tag, texts) in languages() {
        let words = texts.get("passage.text").map_or(0, |text| text.split_whitespace().count());
        assert!((100..=150).contains(&words), "{tag}: {words} words");
    }
}
