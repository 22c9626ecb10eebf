//! Scenario files, version 1: the loose form of [`crate::scenario::Scenario`].

use super::{Code, Faults, MOST_SCENARIO_BYTES, check_kind, is_plain, read, run_v1};
use crate::{
    act::{Act, Exercise, Slot},
    facepiece::{Class, Condition, Facepiece, Filters, Size, Straps},
    rulebook::{Agent, House, Rulebook},
    run::{MOST_ENTRIES, Run},
    scenario::{Attention, Bench, Clearance, Contents, Face, Level, Look, Nebulizer, Person, Scenario},
    sign::{Gear, Mouthful},
    source::Skill,
    trouble::{Kind, Moment, Trouble, When},
    units::{FitFactor, Ms},
};
use run_v1::ActV1;
use serde::{Deserialize, Serialize};
use std::{ops::RangeInclusive, rc::Rc};

/// What `format` must say.
pub const FORMAT: &str = "bittersweet-scenario";

/// The newest version that can be read.
pub const VERSION: u32 = 1;

/// Letters an id may have.
pub const LONGEST_ID: usize = 64;

/// Letters a title may have.
pub const LONGEST_TITLE: usize = 80;

/// Letters a wearer's name may have.
pub const LONGEST_NAME: usize = 40;

/// From plain to hard.
pub const LEVELS: RangeInclusive<u8> = 1..=3;

/// How many times the exposure limit a use may be.
pub const MOST_TIMES: u16 = 10_000;

/// The last of the skins, of the hair and of the shapes, each counted from 0.
pub const LAST_LOOK: [u8; 3] = [5, 5, 3];

/// The squeezes of a usual screening.
pub const SQUEEZES: RangeInclusive<u8> = 1..=30;

/// Fit factors.
pub const FITS: RangeInclusive<u32> = 1..=1_000_000;

/// Pieces of trouble a scenario may have.
pub const MOST_TROUBLE: usize = 40;

/// The latest that trouble comes after the run began, in seconds.
pub const LATEST_START_S: u16 = 3_600;

/// The latest that trouble comes in an exercise, in seconds.
pub const LATEST_IN_EXERCISE_S: u16 = 600;

/// A scenario as it stands in a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ScenarioV1 {
    /// [`FORMAT`].
    pub format: String,
    /// [`VERSION`].
    pub version: u32,
    /// 1 to 64 small letters, digits and hyphens.
    pub id: String,
    /// At most 80 letters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// How hard it is, from 1 (plain) to 3 (hard).
    #[serde(default = "plain", skip_serializing_if = "is_plain_level")]
    pub level: u8,
    /// Codes of the skills it practises most.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub practises: Vec<String>,
    /// `sweet` or `bitter`.
    pub agent: String,
    /// Switches of the house; the text's where left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub house: Option<HouseV1>,
    /// How many times the exposure limit, 0 to 10 000.
    pub exposure_times: u16,
    /// Seed of everything drawn, as text, since JSON numbers do not hold it.
    #[serde(default = "nought")]
    pub seed: String,
    /// The wearer.
    pub wearer: WearerV1,
    /// The bench.
    #[serde(default)]
    pub bench: BenchV1,
    /// 1 to 12 facepieces.
    pub rack: Vec<FacepieceV1>,
    /// At most 40 pieces of trouble.
    #[serde(default)]
    pub trouble: Vec<TroubleV1>,
    /// What a colleague did here, where the run is to be watched; they may have gone wrong.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colleague: Option<ColleagueV1>,
}

/// A colleague's run.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ColleagueV1 {
    /// What they did, in order; at least one act, and each can be done when its turn comes.
    pub acts: Vec<ActV1>,
}

const fn plain() -> u8 {
    1
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
const fn is_plain_level(level: &u8) -> bool {
    *level == 1
}

fn nought() -> String {
    "0".to_owned()
}

/// Switches of the house.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(missing_docs, reason = "named and explained in data/rulebook/us/house.toml")]
pub struct HouseV1 {
    #[serde(default)]
    pub one_refit_after_fail: bool,
    #[serde(default)]
    pub jogging_for_bending: bool,
}

/// The wearer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WearerV1 {
    /// An invented first name, at most 40 letters.
    pub name: String,
    /// Skin 0 to 5, hair 0 to 5, shape 0 to 3.
    #[serde(default)]
    pub look: [u8; 3],
    /// The squeeze of a usual screening at which they begin to taste it, 1 to 30; left out: not within thirty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tastes_after: Option<u8>,
    /// A code of [`Attention`]; left out: `even`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub attention: Option<String>,
    /// A code of [`Clearance`].
    #[serde(default = "cleared")]
    pub clearance: String,
    /// What they had by mouth.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by_mouth: Option<ByMouthV1>,
    /// A code of [`Face`].
    #[serde(default = "clear")]
    pub face: String,
    /// Codes of [`Gear`].
    #[serde(default)]
    pub gear: Vec<String>,
    /// Place on the rack of the facepiece they will wear at work, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at_work: Option<u8>,
    /// Whether they feel well enough.
    #[serde(default = "yes")]
    pub well: bool,
    /// Places on the rack they find acceptable, best first.
    #[serde(default)]
    pub choices: Vec<u8>,
}

fn cleared() -> String {
    Clearance::Cleared.code().to_owned()
}

fn clear() -> String {
    Face::Clear.code().to_owned()
}

const fn yes() -> bool {
    true
}

/// What somebody had by mouth.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ByMouthV1 {
    /// A code of [`Mouthful`].
    pub what: String,
    /// Minutes before the run began, 0 to 255.
    pub minutes_ago: u8,
}

/// The bench.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct BenchV1 {
    /// The nebulizer for screening.
    pub check: NebulizerV1,
    /// The nebulizer for the fit test.
    pub fit: NebulizerV1,
    /// Whether the hood is damp from the last test.
    pub hood_damp: bool,
}

/// A nebulizer; what is left out is as it should be.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct NebulizerV1 {
    /// It bears no mark.
    pub unmarked: bool,
    /// A code of [`Contents`], where it holds something else than it should.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub holds: Option<String>,
    /// It is nearly dry.
    pub low: bool,
    /// Hours since it was rinsed and filled.
    pub filled_h_ago: u8,
    /// Its tip is clogged.
    pub clogged: bool,
    /// The bottle it is filled from bears no date.
    pub bottle_undated: bool,
}

/// A facepiece; what is left out is as it should be.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FacepieceV1 {
    /// A capital letter, our own.
    pub model: char,
    /// A code of [`Class`].
    pub class: String,
    /// A code of [`Size`].
    pub size: String,
    /// A code of [`Condition`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<String>,
    /// Gas cartridges only.
    #[serde(default, skip_serializing_if = "is_false")]
    pub gas_only: bool,
    /// Worn by somebody and not disinfected.
    #[serde(default, skip_serializing_if = "is_false")]
    pub used: bool,
    /// The wearer finds it unacceptable.
    #[serde(default, skip_serializing_if = "is_false")]
    pub uncomfortable: bool,
    /// A code of [`Straps`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub straps: Option<String>,
    /// The user seal check does not hold.
    #[serde(default, skip_serializing_if = "is_false")]
    pub seal_leaks: bool,
    /// Fit factor, 1 to 1 000 000: one for all exercises, or seven in order.
    pub fit: FitV1,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde asks for a reference")]
const fn is_false(flag: &bool) -> bool {
    !*flag
}

/// One fit factor, or one an exercise.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum FitV1 {
    /// The same in all exercises.
    One(u32),
    /// One for each of the seven.
    Seven([u32; 7]),
}

/// One piece of trouble. One of `start_s`, `screening`, `initial`, `during` and `after_result` says when, and none for a habit.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TroubleV1 {
    /// A code of [`Kind`].
    pub kind: String,
    /// So many seconds after the run began, before any hood is on, 0 to 3600.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start_s: Option<u16>,
    /// In screening, after so many squeezes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub screening: Option<u8>,
    /// At the initial squeezes, after so many of them.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub initial: Option<u8>,
    /// In this exercise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub during: Option<String>,
    /// So many seconds into it, 0 to 600.
    #[serde(default)]
    pub after_s: u16,
    /// Once a result was given.
    #[serde(default, skip_serializing_if = "is_false")]
    pub after_result: bool,
}

/// Reads a scenario file.
///
/// # Errors
/// All faults, with where and why.
pub fn parse(text: &str) -> Result<Scenario, Faults> {
    check(&read(text, MOST_SCENARIO_BYTES)?)
}

/// The strict form of a loose scenario.
///
/// # Errors
/// All faults, with where and why.
pub fn check(loose: &ScenarioV1) -> Result<Scenario, Faults> {
    let mut faults = Faults::default();
    check_kind(&loose.format, loose.version, FORMAT, VERSION, &mut faults);
    if !faults.is_empty() {
        return Err(faults);
    }
    let id_is_fit = (1..=LONGEST_ID).contains(&loose.id.len())
        && loose.id.chars().all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '-');
    if !id_is_fit {
        faults.push("id", Code::NotPlain, &loose.id);
    }
    if let Some(title) = &loose.title {
        check_text("title", title, LONGEST_TITLE, &mut faults);
    }
    let agent = coded("agent", &loose.agent, Agent::from_code, Agent::Sweet, &mut faults);
    if loose.exposure_times > MOST_TIMES {
        faults.push("exposure_times", Code::OutOfRange, loose.exposure_times);
    }
    if !LEVELS.contains(&loose.level) {
        faults.push("level", Code::OutOfRange, loose.level);
    }
    if loose.practises.len() > Skill::ALL.len() {
        faults.push("practises", Code::TooMany, loose.practises.len());
    }
    let practises = loose
        .practises
        .iter()
        .take(Skill::ALL.len())
        .enumerate()
        .map(|(number, code)| {
            coded(&format!("practises[{number}]"), code, Skill::from_code, Skill::Running, &mut faults)
        })
        .collect();
    let seed = loose.seed.parse().unwrap_or_else(|_| {
        faults.push("seed", Code::OutOfRange, &loose.seed);
        0
    });
    if loose.rack.is_empty() {
        faults.push("rack", Code::Empty, 0);
    } else if loose.rack.len() > usize::from(Slot::MOST) {
        faults.push("rack", Code::TooMany, loose.rack.len());
    }
    if loose.trouble.len() > MOST_TROUBLE {
        faults.push("trouble", Code::TooMany, loose.trouble.len());
    }
    let rack: Vec<Facepiece> = loose
        .rack
        .iter()
        .take(usize::from(Slot::MOST))
        .enumerate()
        .map(|(number, piece)| facepiece(number, piece, &mut faults))
        .collect();
    let person = person(&loose.wearer, rack.len(), &mut faults);
    let bench = Bench {
        check: nebulizer("bench.check", &loose.bench.check, Contents::Check, &mut faults),
        fit: nebulizer("bench.fit", &loose.bench.fit, Contents::Fit, &mut faults),
        hood_damp: loose.bench.hood_damp,
    };
    let trouble = loose
        .trouble
        .iter()
        .take(MOST_TROUBLE)
        .enumerate()
        .filter_map(|(number, one)| trouble(number, one, &mut faults))
        .collect();
    let house = loose.house.map_or(Rulebook::us(agent).house, |house| House {
        one_refit_after_fail: house.one_refit_after_fail,
        jogging_for_bending: house.jogging_for_bending,
    });
    let colleague = loose.colleague.as_ref().map(|colleague| colleagues_acts(colleague, &mut faults));
    let scenario = faults.or(Scenario {
        id: loose.id.clone(),
        title: loose.title.clone(),
        level: loose.level,
        practises,
        agent,
        house,
        exposure_times: loose.exposure_times,
        seed,
        person,
        bench,
        rack,
        trouble,
        colleague,
    })?;
    match first_impossible(&scenario) {
        Some(fault) => Err(fault),
        None => Ok(scenario),
    }
}

fn colleagues_acts(loose: &ColleagueV1, faults: &mut Faults) -> Vec<(Ms, Act)> {
    match loose.acts.len() {
        0 => faults.push("colleague.acts", Code::Empty, 0),
        1..=MOST_ENTRIES => {}
        many => {
            faults.push("colleague.acts", Code::TooMany, many);
            return Vec::new();
        }
    }
    let mut below = Faults::default();
    let acts = run_v1::acts(&loose.acts, &mut below);
    faults.extend_below("colleague", &below);
    acts
}

/// The first act of the colleague that cannot be done when its turn comes.
fn first_impossible(scenario: &Scenario) -> Option<Faults> {
    let acts = scenario.colleague.as_ref()?;
    let mut run = Run::new(Rc::new(scenario.clone()));
    acts.iter().enumerate().find_map(|(number, (at, act))| {
        let refusal = run.apply(*act, *at).err()?;
        Some(Faults::one(&format!("colleague.acts[{number}]"), Code::Impossible, refusal))
    })
}

fn check_text(path: &str, text: &str, longest: usize, faults: &mut Faults) {
    if text.trim().is_empty() || text.chars().count() > longest || !is_plain(text) {
        faults.push(path, Code::NotPlain, text);
    }
}

fn coded<T>(path: &str, code: &str, from: impl Fn(&str) -> Option<T>, otherwise: T, faults: &mut Faults) -> T {
    from(code).unwrap_or_else(|| {
        faults.push(path, Code::UnknownCode, code);
        otherwise
    })
}

fn place(path: &str, number: u8, rack: usize, faults: &mut Faults) -> Option<Slot> {
    let slot = Slot::new(number).filter(|slot| usize::from(slot.number()) <= rack);
    if slot.is_none() {
        faults.push(path, Code::NoSuchPlace, number);
    }
    slot
}

fn person(loose: &WearerV1, rack: usize, faults: &mut Faults) -> Person {
    check_text("wearer.name", &loose.name, LONGEST_NAME, faults);
    let [skin, hair, shape] = loose.look;
    if loose.look.iter().zip(LAST_LOOK).any(|(number, last)| *number > last) {
        faults.push("wearer.look", Code::OutOfRange, format!("{skin}, {hair}, {shape}"));
    }
    if let Some(squeeze) = loose.tastes_after
        && !SQUEEZES.contains(&squeeze)
    {
        faults.push("wearer.tastes_after", Code::OutOfRange, squeeze);
    }
    if loose.gear.len() > Gear::ALL.len() {
        faults.push("wearer.gear", Code::TooMany, loose.gear.len());
    }
    if loose.choices.len() > usize::from(Slot::MOST) {
        faults.push("wearer.choices", Code::TooMany, loose.choices.len());
    }
    let by_mouth = loose.by_mouth.as_ref().map_or((Mouthful::Nothing, 0), |had| {
        (coded("wearer.by_mouth.what", &had.what, Mouthful::from_code, Mouthful::Nothing, faults), had.minutes_ago)
    });
    Person {
        name: loose.name.clone(),
        look: Look { skin, hair, shape },
        tastes_after: loose.tastes_after,
        attention: loose.attention.as_ref().map_or(Attention::Even, |code| {
            coded("wearer.attention", code, Attention::from_code, Attention::Even, faults)
        }),
        clearance: coded("wearer.clearance", &loose.clearance, Clearance::from_code, Clearance::Cleared, faults),
        by_mouth,
        face: coded("wearer.face", &loose.face, Face::from_code, Face::Clear, faults),
        gear: loose
            .gear
            .iter()
            .take(Gear::ALL.len())
            .enumerate()
            .map(|(number, code)| {
                coded(&format!("wearer.gear[{number}]"), code, Gear::from_code, Gear::Glasses, faults)
            })
            .collect(),
        at_work: loose.at_work.and_then(|number| place("wearer.at_work", number, rack, faults)),
        well: loose.well,
        choices: loose
            .choices
            .iter()
            .take(usize::from(Slot::MOST))
            .enumerate()
            .filter_map(|(number, choice)| place(&format!("wearer.choices[{number}]"), *choice, rack, faults))
            .collect(),
    }
}

fn nebulizer(path: &str, loose: &NebulizerV1, own: Contents, faults: &mut Faults) -> Nebulizer {
    Nebulizer {
        marked: !loose.unmarked,
        holds: loose
            .holds
            .as_ref()
            .map_or(own, |code| coded(&format!("{path}.holds"), code, Contents::from_code, own, faults)),
        level: if loose.low { Level::Low } else { Level::Right },
        filled_h_ago: loose.filled_h_ago,
        clogged: loose.clogged,
        bottle_dated: !loose.bottle_undated,
    }
}

fn facepiece(number: usize, loose: &FacepieceV1, faults: &mut Faults) -> Facepiece {
    let path = |field: &str| format!("rack[{number}].{field}");
    if !loose.model.is_ascii_uppercase() {
        faults.push(&path("model"), Code::NotPlain, loose.model);
    }
    let fit = match loose.fit {
        FitV1::One(value) => [value; 7],
        FitV1::Seven(values) => values,
    };
    let fit = fit.map(|value| {
        FitFactor::new(value).filter(|_| FITS.contains(&value)).unwrap_or_else(|| {
            faults.push(&path("fit"), Code::OutOfRange, value);
            FitFactor::NONE
        })
    });
    let condition = loose.condition.as_ref();
    let straps = loose.straps.as_ref();
    Facepiece {
        model: loose.model,
        class: coded(&path("class"), &loose.class, Class::from_code, Class::Half, faults),
        size: coded(&path("size"), &loose.size, Size::from_code, Size::Medium, faults),
        condition: condition.map_or(Condition::Sound, |code| {
            coded(&path("condition"), code, Condition::from_code, Condition::Sound, faults)
        }),
        filters: if loose.gas_only { Filters::GasOnly } else { Filters::Particulate },
        used: loose.used,
        comfortable: !loose.uncomfortable,
        straps: straps
            .map_or(Straps::Even, |code| coded(&path("straps"), code, Straps::from_code, Straps::Even, faults)),
        seal_holds: !loose.seal_leaks,
        fit,
    }
}

fn trouble(number: usize, loose: &TroubleV1, faults: &mut Faults) -> Option<Trouble> {
    let path = |field: &str| format!("trouble[{number}].{field}");
    let kind = coded(&path("kind"), &loose.kind, Kind::from_code, Kind::Coughs, faults);
    if loose.after_s > LATEST_IN_EXERCISE_S {
        faults.push(&path("after_s"), Code::OutOfRange, loose.after_s);
    }
    let start = loose.start_s.map(|seconds| {
        if seconds > LATEST_START_S {
            faults.push(&path("start_s"), Code::OutOfRange, seconds);
        }
        Ms::secs(u32::from(seconds))
    });
    let when = match (start, loose.screening, loose.initial, &loose.during, loose.after_result) {
        _ if kind.entry().arises.contains(&Moment::Throughout) => When::Throughout,
        (Some(after), None, None, None, false) => When::Start(after),
        (None, Some(squeezes), None, None, false) => When::Screening(squeezes),
        (None, None, Some(squeezes), None, false) => When::Initial(squeezes),
        (None, None, None, None, true) => When::Result,
        (None, None, None, Some(code), false) => {
            let exercise = coded(&path("during"), code, Exercise::from_code, Exercise::NormalBreathing, faults);
            When::During(exercise, Ms::secs(u32::from(loose.after_s)))
        }
        _ => {
            faults.push(
                &path("during"),
                Code::Empty,
                "none or several of start_s, screening, initial, during, after_result",
            );
            return None;
        }
    };
    if !kind.may_arise(when) {
        faults.push(&path("kind"), Code::NotThen, format!("{} at {}", kind.code(), when.moment().code()));
    }
    Some(Trouble { kind, when })
}

/// The loose form of a scenario, for writing.
#[must_use]
pub fn loose(scenario: &Scenario) -> ScenarioV1 {
    let person = &scenario.person;
    let code = |code: &str| code.to_owned();
    let nebulizer = |found: Nebulizer, own: Contents| NebulizerV1 {
        unmarked: !found.marked,
        holds: (found.holds != own).then(|| code(found.holds.code())),
        low: found.level == Level::Low,
        filled_h_ago: found.filled_h_ago,
        clogged: found.clogged,
        bottle_undated: !found.bottle_dated,
    };
    ScenarioV1 {
        format: code(FORMAT),
        version: VERSION,
        id: scenario.id.clone(),
        title: scenario.title.clone(),
        level: scenario.level,
        practises: scenario.practises.iter().map(|skill| code(skill.code())).collect(),
        agent: code(scenario.agent.code()),
        house: (scenario.house != Rulebook::us(scenario.agent).house).then_some(HouseV1 {
            one_refit_after_fail: scenario.house.one_refit_after_fail,
            jogging_for_bending: scenario.house.jogging_for_bending,
        }),
        exposure_times: scenario.exposure_times,
        seed: scenario.seed.to_string(),
        wearer: WearerV1 {
            name: person.name.clone(),
            look: [person.look.skin, person.look.hair, person.look.shape],
            tastes_after: person.tastes_after,
            attention: (person.attention != Attention::Even).then(|| code(person.attention.code())),
            clearance: code(person.clearance.code()),
            by_mouth: (person.by_mouth.0 != Mouthful::Nothing)
                .then(|| ByMouthV1 { what: code(person.by_mouth.0.code()), minutes_ago: person.by_mouth.1 }),
            face: code(person.face.code()),
            gear: person.gear.iter().map(|gear| code(gear.code())).collect(),
            at_work: person.at_work.map(Slot::number),
            well: person.well,
            choices: person.choices.iter().copied().map(Slot::number).collect(),
        },
        bench: BenchV1 {
            check: nebulizer(scenario.bench.check, Contents::Check),
            fit: nebulizer(scenario.bench.fit, Contents::Fit),
            hood_damp: scenario.bench.hood_damp,
        },
        rack: scenario.rack.iter().map(loose_facepiece).collect(),
        trouble: scenario.trouble.iter().map(loose_trouble).collect(),
        colleague: scenario
            .colleague
            .as_ref()
            .map(|acts| ColleagueV1 { acts: acts.iter().copied().map(ActV1::from).collect() }),
    }
}

fn loose_facepiece(piece: &Facepiece) -> FacepieceV1 {
    let fit = piece.fit.map(FitFactor::get);
    let [first, ..] = fit;
    FacepieceV1 {
        model: piece.model,
        class: piece.class.code().to_owned(),
        size: piece.size.code().to_owned(),
        condition: (piece.condition != Condition::Sound).then(|| piece.condition.code().to_owned()),
        gas_only: piece.filters == Filters::GasOnly,
        used: piece.used,
        uncomfortable: !piece.comfortable,
        straps: (piece.straps != Straps::Even).then(|| piece.straps.code().to_owned()),
        seal_leaks: !piece.seal_holds,
        fit: if fit == [first; 7] { FitV1::One(first) } else { FitV1::Seven(fit) },
    }
}

fn loose_trouble(trouble: &Trouble) -> TroubleV1 {
    let kind = trouble.kind.code().to_owned();
    match trouble.when {
        When::Throughout => TroubleV1 { kind, ..TroubleV1::default() },
        When::Result => TroubleV1 { kind, after_result: true, ..TroubleV1::default() },
        When::Start(after) => TroubleV1 {
            kind,
            start_s: Some(u16::try_from(after.0 / 1_000).unwrap_or(u16::MAX)),
            ..TroubleV1::default()
        },
        When::Screening(squeezes) => TroubleV1 { kind, screening: Some(squeezes), ..TroubleV1::default() },
        When::Initial(squeezes) => TroubleV1 { kind, initial: Some(squeezes), ..TroubleV1::default() },
        When::During(exercise, after) => TroubleV1 {
            kind,
            during: Some(exercise.code().to_owned()),
            after_s: u16::try_from(after.0 / 1_000).unwrap_or(u16::MAX),
            ..TroubleV1::default()
        },
    }
}
