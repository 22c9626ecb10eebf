//! The rulebook: TOML in, Rust tables out.

use crate::{faults::Faults, names::camel};
use serde::Deserialize;
use std::{collections::BTreeMap, fmt::Write as _, fs, path::Path};
use toml::Value;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Common {
    rule: Vec<Rule>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AgentFile {
    agent: String,
    part: String,
    solution: Solution,
    #[serde(default)]
    rule: Vec<Rule>,
    #[serde(default, rename = "override")]
    overrides: Vec<Override>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Solution {
    solvent: String,
    check_mg: f64,
    check_ml: u32,
    fit_mg: f64,
    fit_ml: u32,
    strength_milli: u32,
    agent_name: String,
}

#[derive(Deserialize, Clone)]
#[serde(deny_unknown_fields)]
struct Rule {
    id: String,
    source: String,
    skill: String,
    gravity: String,
    push: String,
    basis: String,
    reading: String,
    governs: Vec<String>,
    #[serde(default)]
    numbers: BTreeMap<String, Value>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Override {
    id: String,
    source: Option<String>,
    gravity: Option<String>,
    basis: Option<String>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct House {
    id: String,
    version: u32,
    house: BTreeMap<String, bool>,
    nominal: BTreeMap<String, String>,
}

const SKILLS: &[&str] =
    &["solutions", "eligibility", "briefing", "facepiece", "screening", "running", "watching", "result"];
const GRAVITIES: &[&str] = &["endangers", "spoils", "departure", "good"];
const PUSHES: &[&str] = &["fp", "ff", "none"];
const BASES: &[&str] = &["text", "letter", "ours"];
const READINGS: &[&str] = &["read", "memory", "practice"];

/// Generates `RuleId`, `Numbers`, the two agents' rulebooks and the nominal durations.
pub(crate) fn generate(folder: &Path, faults: &mut Faults) -> String {
    let mut hash = Fnv::default();
    let Some(common) = read::<Common>(folder, "common.toml", &mut hash, faults) else { return String::new() };
    let Some(house) = read::<House>(folder, "house.toml", &mut hash, faults) else { return String::new() };
    let agents: Vec<AgentFile> =
        ["sweet.toml", "bitter.toml"].into_iter().filter_map(|name| read(folder, name, &mut hash, faults)).collect();

    let mut ids: Vec<String> = Vec::new();
    let mut numbers: Vec<(String, Value, String)> = Vec::new();
    for rule in common.rule.iter().chain(agents.iter().flat_map(|agent| &agent.rule)) {
        check(rule, faults);
        if !ids.contains(&rule.id) {
            ids.push(rule.id.clone());
        } else if common.rule.iter().filter(|other| other.id == rule.id).count() > 1 {
            faults.push(&format!("common.toml: {}", rule.id), "id is used twice");
        }
        for (name, value) in &rule.numbers {
            if numbers.iter().any(|(known, ..)| known == name) {
                faults.push(&rule.id, &format!("number `{name}` stands in another rule already"));
            }
            let what = format!("Rule `{}`, {} ({}).", rule.id, rule.source, rule.basis);
            numbers.push((name.clone(), value.clone(), what));
        }
    }

    let mut out = String::new();
    rule_ids(&mut out, &ids);
    numbers_struct(&mut out, &numbers, faults);
    for agent in &agents {
        agent_tables(&mut out, agent, &common, &ids, faults);
        let _ = write!(
            out,
            "/// The rulebook for the {agent} agent.\npub(crate) static {upper}: Rulebook = Rulebook {{ id: {id:?}, \
             version: {version}, hash: \"{hash:016x}\", part: {part:?}, solution: {upper}_SOLUTION, rules: \
             {upper}_RULES, places: {upper}_PLACES, numbers: NUMBERS, house: HOUSE }};\n",
            agent = agent.agent,
            upper = agent.agent.to_uppercase(),
            id = house.id,
            version = house.version,
            hash = hash.0,
            part = agent.part,
        );
    }
    house_tables(&mut out, &house, faults);
    out
}

fn read<T: for<'a> Deserialize<'a>>(folder: &Path, name: &str, hash: &mut Fnv, faults: &mut Faults) -> Option<T> {
    let path = folder.join(name);
    let text = match fs::read_to_string(&path) {
        Ok(text) => text,
        Err(error) => {
            faults.push(&path.display().to_string(), &error.to_string());
            return None;
        }
    };
    hash.eat(text.as_bytes());
    toml::from_str(&text).map_err(|error| faults.push(name, &error.to_string().replace('\n', " "))).ok()
}

fn check(rule: &Rule, faults: &mut Faults) {
    let mut one_of = |field: &str, value: &str, allowed: &[&str]| {
        if !allowed.contains(&value) {
            faults.push(&rule.id, &format!("`{field}` is {value:?}, expected one of {allowed:?}"));
        }
    };
    one_of("skill", &rule.skill, SKILLS);
    one_of("gravity", &rule.gravity, GRAVITIES);
    one_of("push", &rule.push, PUSHES);
    one_of("basis", &rule.basis, BASES);
    one_of("reading", &rule.reading, READINGS);
    let id_is_plain = rule.id.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '.' || c == '_');
    if !id_is_plain || !rule.id.contains('.') {
        faults.push(&rule.id, "an id is `topic.name` in small letters, digits, dots and underscores");
    }
    if rule.source.trim().is_empty() {
        faults.push(&rule.id, "`source` is empty: name a paragraph, a letter, or \"common practice\"");
    }
    if rule.governs.is_empty() {
        faults.push(&rule.id, "`governs` is empty: no act could keep or break it");
    }
}

fn rule_ids(out: &mut String, ids: &[String]) {
    let list = ids.iter().map(|id| format!("/// `{id}`\n{},", camel(id))).collect::<String>();
    let all = ids.iter().map(|id| format!("Self::{},", camel(id))).collect::<String>();
    let codes = ids.iter().map(|id| format!("Self::{} => {id:?},", camel(id))).collect::<String>();
    let _ = write!(
        out,
        "/// The rules by topic. An id is never renamed and never used again.\n#[derive(Clone, Copy, Debug, PartialEq, \
         Eq, PartialOrd, Ord, Hash)]\npub enum RuleId {{ {list} }}\nimpl RuleId {{ /// All rules of all \
         agents, in the order of the procedure.\npub const ALL: &'static [Self] = &[{all}]; /// The id as it stands \
         in files.\n#[must_use] pub const fn code(self) -> &'static str {{ match self {{ {codes} }} }} }}\n"
    );
}

fn numbers_struct(out: &mut String, numbers: &[(String, Value, String)], faults: &mut Faults) {
    let mut fields = String::new();
    let mut values = String::new();
    for (name, value, doc) in numbers {
        let (kind, value) = match value {
            Value::Integer(whole) => ("u32", whole.to_string()),
            Value::String(text) => match milliseconds(text) {
                Some(ms) => ("Ms", format!("Ms({ms})")),
                None => {
                    faults.push(name, &format!("{text:?} is no duration such as \"30 s\""));
                    continue;
                }
            },
            other @ (Value::Float(_) | Value::Boolean(_) | Value::Datetime(_) | Value::Array(_) | Value::Table(_)) => {
                faults.push(name, &format!("{other} is neither a duration nor a whole number"));
                continue;
            }
        };
        let _ = write!(fields, "/// {doc}\npub {name}: {kind},");
        let _ = write!(values, "{name}: {value},");
    }
    let _ = write!(
        out,
        "/// Every number of the rulebook, once.\n#[derive(Clone, Copy, Debug, PartialEq, Eq)]\npub struct Numbers {{ \
         {fields} }}\nconst NUMBERS: Numbers = Numbers {{ {values} }};\n"
    );
}

fn agent_tables(out: &mut String, agent: &AgentFile, common: &Common, ids: &[String], faults: &mut Faults) {
    let upper = agent.agent.to_uppercase();
    for change in &agent.overrides {
        if !common.rule.iter().any(|rule| rule.id == change.id) {
            faults.push(&format!("{}.toml: {}", agent.agent, change.id), "overrides a rule that does not exist");
        }
    }
    let mut rules: Vec<Rule> = common.rule.iter().chain(&agent.rule).cloned().collect();
    rules.sort_by_key(|rule| ids.iter().position(|id| *id == rule.id));
    let places: Vec<_> = ids.iter().map(|id| rules.iter().position(|rule| rule.id == *id)).collect();
    let mut rows = String::new();
    for mut rule in rules {
        if let Some(change) = agent.overrides.iter().find(|change| change.id == rule.id) {
            rule.source = change.source.clone().unwrap_or(rule.source);
            rule.gravity = change.gravity.clone().unwrap_or(rule.gravity);
            rule.basis = change.basis.clone().unwrap_or(rule.basis);
        }
        let _ = write!(
            rows,
            "Rule {{ id: RuleId::{}, source: {:?}, skill: Skill::{}, gravity: Gravity::{}, push: Push::{}, basis: \
             Basis::{}, reading: Reading::{}, governs: &{:?} }},",
            camel(&rule.id),
            rule.source.replace("{part}", &agent.part),
            camel(&rule.skill),
            camel(&rule.gravity),
            match rule.push.as_str() {
                "fp" => "FalsePass",
                "ff" => "FalseFail",
                _ => "Neither",
            },
            camel(&rule.basis),
            camel(&rule.reading),
            rule.governs,
        );
    }
    let solution = &agent.solution;
    let ratio = (solution.fit_mg / f64::from(solution.fit_ml)) / (solution.check_mg / f64::from(solution.check_ml));
    if (ratio * 1000.0 - f64::from(solution.strength_milli)).abs() > 0.5 {
        faults.push(
            &format!("{}.toml: solution", agent.agent),
            &format!("strength_milli is {}, the recipes give {}", solution.strength_milli, ratio * 1000.0),
        );
    }
    let _ = write!(
        out,
        "static {upper}_RULES: &[Rule] = &[{rows}];\nstatic {upper}_PLACES: &[Option<u8>] = &{places:?};\nconst {upper}_SOLUTION: Solution = Solution {{ solvent: \
         Solvent::{}, check_mg: {:?}, check_ml: {}, fit_mg: {:?}, fit_ml: {}, strength_milli: {}, name: {:?} }};\n",
        camel(&solution.solvent),
        solution.check_mg,
        solution.check_ml,
        solution.fit_mg,
        solution.fit_ml,
        solution.strength_milli,
        solution.agent_name,
    );
}

fn house_tables(out: &mut String, house: &House, faults: &mut Faults) {
    let fields = house.house.iter().map(|(name, on)| format!("{name}: {on},")).collect::<String>();
    let _ = write!(out, "/// The switches as the text has them.\nconst HOUSE: House = House {{ {fields} }};\n");
    let mut rows = String::new();
    for (act, text) in &house.nominal {
        match milliseconds(text) {
            Some(ms) => {
                let _ = write!(rows, "({act:?}, Ms({ms})),");
            }
            None => faults.push(&format!("house.toml: nominal.{act}"), &format!("{text:?} is no duration")),
        }
    }
    let _ = write!(
        out,
        "/// How long each act takes when the clock stands still, by act code.\npub(crate) static NOMINAL: \
         &[(&str, Ms)] = &[{rows}];\n"
    );
}

/// `"30 s"` to 30 000; `None` where the text is no duration.
fn milliseconds(text: &str) -> Option<u32> {
    let (number, unit) = text.split_once(' ')?;
    let factor = match unit {
        "ms" => 1,
        "s" => 1_000,
        "min" => 60_000,
        "h" => 3_600_000,
        _ => return None,
    };
    number.parse::<u32>().ok()?.checked_mul(factor)
}

/// FNV-1a, 64 bits: tells one text of the rulebook from another; no protection against intent.
struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Fnv {
    fn eat(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.0 = (self.0 ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
}
