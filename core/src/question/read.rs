//! Question files: from JSON to questions and texts, with everything that is wrong in them.
//!
//! One question that is damaged does not take the others with it: it is left out, what is wrong is told with its id and field,
//! and the rest goes on. Each file is read by its fields rather than through types of its own, since it weighs less.

use super::{Agents, Grounds, Kind, Number, OptionTexts, Options, Question, Task, Texts, formula::Formula, picture};
use crate::{
    coded::coded,
    rulebook::{Agent, RuleId},
    source::{Basis, Reading, Skill},
    trouble::{self, Group, Moment},
    wire::{self, Code, Faults},
};
use picture::Picture;
use serde_json::{Map, Value};
use std::{collections::BTreeMap, ops::RangeInclusive};

/// Bytes a question file may have.
pub const MOST_BYTES: usize = 256 * 1024;

/// Questions a file may have.
pub const MOST_QUESTIONS: usize = 200;

/// Letters an id may have.
pub const LONGEST_ID: usize = 64;

/// Letters a situation with its question may have.
pub const LONGEST_ASK: usize = 600;

/// Letters an option may have.
pub const LONGEST_OPTION: usize = 240;

/// Letters a reason may have.
pub const LONGEST_BECAUSE: usize = 400;

/// How many in a hundred may be expected to be wrong.
pub const DIFFICULTIES: RangeInclusive<u32> = 5..=90;

/// Options of a question.
pub const OPTIONS: RangeInclusive<usize> = 3..=5;

/// Options to be put in order.
pub const ORDERED: RangeInclusive<usize> = 3..=6;

/// Values that a figure may be drawn from.
pub const MOST_VALUES: usize = 20;

/// The largest figure, so that what is reckoned with it can be shown.
pub const LARGEST_FIGURE: f64 = 1_000_000.0;

/// The largest tolerance, in per cent.
pub const LARGEST_TOLERANCE: u32 = 20;

/// What could be read, and what was wrong.
#[derive(Clone, Debug)]
pub struct Read<T> {
    /// What is whole.
    pub whole: T,
    /// What was left out, and why.
    pub faults: Faults,
}

/// Reads a file of questions: `{"question": [...]}`, all of one skill, or each with a `skill` of its own. The path of a fault
/// begins with the question's id.
#[must_use]
pub fn questions(skill: Option<Skill>, json: &str) -> Read<Vec<Question>> {
    let mut whole: Vec<Question> = Vec::new();
    let mut faults = Faults::default();
    let file = match wire::read::<Value>(json, MOST_BYTES) {
        Ok(file) => file,
        Err(faults) => return Read { whole, faults },
    };
    let Some(list) = only(&file, "question").and_then(Value::as_array) else {
        return Read { whole, faults: Faults::one("question", Code::WrongShape, kind_of(&file)) };
    };
    if list.len() > MOST_QUESTIONS {
        faults.push("question", Code::TooMany, list.len());
    }
    for (number, entry) in list.iter().take(MOST_QUESTIONS).enumerate() {
        let id = entry.get("id").and_then(Value::as_str).unwrap_or_default();
        let place = if is_id(id) { id.to_owned() } else { format!("question[{number}]") };
        let mut below = Faults::default();
        let read = question(skill, entry, &mut below);
        if whole.iter().any(|other| other.id == id) {
            below.push("id", Code::TooMany, id);
        }
        match read {
            Some(question) if below.is_empty() => whole.push(question),
            _ => faults.extend_below(&place, &below),
        }
    }
    Read { whole, faults }
}

/// Reads the texts of `questions` in one language: an object by id. Texts of other questions are passed over.
#[must_use]
pub fn texts(json: &str, questions: &[Question]) -> Read<BTreeMap<String, Texts>> {
    let mut whole = BTreeMap::new();
    let mut faults = Faults::default();
    let file = match wire::read::<Value>(json, MOST_BYTES) {
        Ok(file) => file,
        Err(faults) => return Read { whole, faults },
    };
    for question in questions {
        let mut below = Faults::default();
        match texts_of(question, file.get(&question.id).unwrap_or(&Value::Null), &mut below) {
            Some(texts) if below.is_empty() => drop(whole.insert(question.id.clone(), texts)),
            _ => faults.extend_below(&question.id, &below),
        }
    }
    Read { whole, faults }
}

/// The value of an object's only field.
fn only<'a>(value: &'a Value, name: &str) -> Option<&'a Value> {
    value.as_object().filter(|object| object.len() == 1)?.get(name)
}

fn is_id(text: &str) -> bool {
    let is_word = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit());
    text.len() <= LONGEST_ID && text.split('-').all(is_word)
}

/// What a value is, for a fault.
const fn kind_of(value: &Value) -> &'static str {
    match value {
        Value::Null => "nothing",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "a list",
        Value::Object(_) => "a table",
    }
}

/// The fields of an entry, each taken once, so that those left over are known to be none of ours.
struct Fields<'a> {
    of: &'a Map<String, Value>,
    taken: Vec<String>,
    faults: &'a mut Faults,
}

impl<'a> Fields<'a> {
    fn new(value: &'a Value, faults: &'a mut Faults) -> Option<Self> {
        match value.as_object() {
            Some(of) => Some(Self { of, taken: Vec::new(), faults }),
            None => {
                faults.push("", if value.is_null() { Code::Empty } else { Code::WrongShape }, kind_of(value));
                None
            }
        }
    }

    fn get(&mut self, name: &str) -> Option<&'a Value> {
        self.taken.push(name.to_owned());
        self.of.get(name)
    }

    /// A field that must be there; `read` says what it is.
    fn must<T>(&mut self, name: &str, read: impl FnOnce(&'a Value) -> Result<T, Code>) -> Option<T> {
        match self.get(name) {
            None => {
                self.faults.push(name, Code::Empty, "nothing");
                None
            }
            Some(value) => match read(value) {
                Ok(value) => Some(value),
                Err(code) => {
                    self.faults.push(name, code, value);
                    None
                }
            },
        }
    }

    fn may<T>(&mut self, name: &str, read: impl FnOnce(&'a Value) -> Result<T, Code>) -> Option<T> {
        self.of.get(name)?;
        self.must(name, read)
    }

    fn whole(&mut self, name: &str, range: &RangeInclusive<u32>) -> Option<u32> {
        self.must(name, |value| {
            let number = value.as_u64().ok_or(Code::WrongShape)?;
            u32::try_from(number).ok().filter(|number| range.contains(number)).ok_or(Code::OutOfRange)
        })
    }

    fn text(&mut self, name: &str, longest: usize) -> Option<&'a str> {
        self.must(name, |value| text(value, longest))
    }

    fn code<T>(&mut self, name: &str, from: impl FnOnce(&str) -> Option<T>) -> Option<T> {
        self.must(name, coded(from))
    }

    /// Tells of every field that nobody has asked for.
    fn end(self) {
        for name in self.of.keys().filter(|name| !self.taken.contains(name)) {
            self.faults.push(told(name), Code::UnknownCode, name);
        }
    }
}

/// A field's name as it can stand in a path.
fn told(name: &str) -> &str {
    if name.len() <= LONGEST_ID && !name.is_empty() && wire::is_plain(name) { name } else { "?" }
}

fn text(value: &Value, longest: usize) -> Result<&str, Code> {
    let text = value.as_str().ok_or(Code::WrongShape)?;
    let is_fit = !text.trim().is_empty() && text.chars().count() <= longest && wire::is_plain(text);
    if is_fit { Ok(text) } else { Err(Code::NotPlain) }
}

fn coded<T>(from: impl FnOnce(&str) -> Option<T>) -> impl FnOnce(&Value) -> Result<T, Code> {
    |value| from(value.as_str().ok_or(Code::WrongShape)?).ok_or(Code::UnknownCode)
}

fn flag(value: &Value) -> Result<bool, Code> {
    value.as_bool().ok_or(Code::WrongShape)
}

coded! {
    /// What shows the fault that is to be found.
    Shows {
        /// A log.
        Log = "log",
        /// A picture.
        Picture = "picture",
    }
}

fn question(skill: Option<Skill>, entry: &Value, faults: &mut Faults) -> Option<Question> {
    let mut fields = Fields::new(entry, faults)?;
    let id = fields.must("id", |value| {
        value.as_str().ok_or(Code::WrongShape).and_then(|id| if is_id(id) { Ok(id) } else { Err(Code::NotPlain) })
    });
    let skill = skill.or_else(|| fields.code("skill", Skill::from_code));
    let revision = fields.whole("revision", &(1..=9_999));
    let kind = fields.code("kind", Kind::from_code);
    let agents = fields.code("agents", Agents::from_code);
    let grounds = grounds(&mut fields);
    let now = fields.must("now", flag);
    let difficulty = fields.whole("difficulty", &DIFFICULTIES);
    let task = kind.and_then(|kind| task(&mut fields, kind, agents.unwrap_or(Agents::Both)));
    // Without a kind it is not known which fields are its own.
    if kind.is_some() {
        fields.end();
    }
    Some(Question {
        id: id?.to_owned(),
        revision: revision?,
        skill: skill?,
        agents: agents?,
        grounds: grounds?,
        now: now?,
        difficulty: u8::try_from(difficulty?).ok()?,
        task: task?,
    })
}

fn grounds(fields: &mut Fields<'_>) -> Option<Grounds> {
    let by_code = |code: &str| RuleId::ALL.iter().copied().find(|rule| rule.code() == code);
    if fields.of.contains_key("rule") {
        return fields.code("rule", by_code).map(Grounds::Rule);
    }
    let source = fields.text("source", LONGEST_BECAUSE);
    let basis = fields.code("basis", Basis::from_code);
    let reading = fields.code("reading", Reading::from_code);
    Some(Grounds::Other { source: source?.to_owned(), basis: basis?, reading: reading? })
}

fn task(fields: &mut Fields<'_>, kind: Kind, agents: Agents) -> Option<Task> {
    match kind {
        Kind::Number => number(fields, agents).map(Task::Number),
        Kind::One => options(fields, &OPTIONS, |right, _| right == 1).map(Task::One),
        Kind::Many => options(fields, &OPTIONS, |right, all| right > 0 && right < all).map(Task::Many),
        Kind::Order => options(fields, &ORDERED, |right, all| right == all).map(Task::Order),
        Kind::Find => {
            let shows = fields.code("shows", Shows::from_code);
            let options = options(fields, &OPTIONS, |right, all| right > 0 && right < all);
            match shows? {
                Shows::Log => options.map(Task::Log),
                Shows::Picture => {
                    let picture = picture(fields, options.as_ref());
                    Some(Task::Picture(options?, picture?))
                }
            }
        }
    }
}

/// A list of letters, each once.
fn letters(value: &Value) -> Result<Vec<char>, Code> {
    let mut letters = Vec::new();
    for value in value.as_array().ok_or(Code::WrongShape)? {
        let mut text = value.as_str().ok_or(Code::WrongShape)?.chars();
        match (text.next(), text.next()) {
            (Some(letter @ 'a'..='z'), None) if letters.contains(&letter) => return Err(Code::TooMany),
            (Some(letter @ 'a'..='z'), None) => letters.push(letter),
            _ => return Err(Code::UnknownCode),
        }
    }
    Ok(letters)
}

fn options(
    fields: &mut Fields<'_>,
    range: &RangeInclusive<usize>,
    so_many: impl FnOnce(usize, usize) -> bool,
) -> Option<Options> {
    let all = fields.must("options", |value| {
        letters(value).and_then(|all| if range.contains(&all.len()) { Ok(all) } else { Err(Code::OutOfRange) })
    });
    let right = fields.must("right", letters);
    let (all, right) = (all?, right?);
    let shown: String = right.iter().collect();
    if right.iter().any(|letter| !all.contains(letter)) {
        fields.faults.push("right", Code::NoSuchPlace, shown);
        return None;
    }
    if !so_many(right.len(), all.len()) {
        fields.faults.push("right", Code::OutOfRange, shown);
        return None;
    }
    Some(Options { letters: all, right })
}

fn picture(fields: &mut Fields<'_>, options: Option<&Options>) -> Option<Picture> {
    let trouble = fields.code("trouble", trouble::Kind::from_code);
    let moment = fields.may("moment", coded(Moment::from_code));
    let kinds = fields.must("kinds", |value| {
        let kind = |value: &Value| match value.as_str().ok_or(Code::WrongShape)? {
            "none" => Ok(None),
            code => trouble::Kind::from_code(code).map(Some).ok_or(Code::UnknownCode),
        };
        value.as_array().ok_or(Code::WrongShape)?.iter().map(kind).collect::<Result<Vec<_>, Code>>()
    });
    let (trouble, kinds, options) = (trouble?, kinds?, options?);
    let entry = trouble.entry();
    if moment.is_some_and(|moment| !entry.arises.contains(&moment)) {
        fields.faults.push("moment", Code::NotThen, moment.map_or("", Moment::code));
    }
    if kinds.len() != options.letters.len() {
        fields.faults.push("kinds", Code::OutOfRange, kinds.len());
    }
    for (letter, kind) in options.letters.iter().zip(&kinds) {
        let is_it = *kind == Some(trouble) || (kind.is_none() && entry.group == Group::Harmless);
        if is_it != options.right.contains(letter) {
            fields.faults.push("right", Code::NoSuchPlace, format!("{letter} for {}", trouble.code()));
        }
    }
    Some(Picture { trouble, moment, kinds })
}

fn number(fields: &mut Fields<'_>, agents: Agents) -> Option<Number> {
    let formula = fields.code("answer", Formula::from_code);
    let unit = fields.code("unit", super::unit::Unit::from_code);
    let tolerance = fields.whole("tolerance", &(0..=LARGEST_TOLERANCE));
    let drawn = if fields.of.contains_key("drawn") { fields.must("drawn", drawn) } else { Some(BTreeMap::new()) };
    let (formula, unit, drawn) = (formula?, unit?, drawn?);
    let number = Number { formula, unit, tolerance: u8::try_from(tolerance?).ok()?, drawn };
    if formula.unit().in_units_of(1.0, unit).is_none() {
        fields.faults.push("unit", Code::OutOfRange, unit.code());
    }
    for name in formula.figures().iter().filter(|name| !number.drawn.contains_key(**name)) {
        fields.faults.push(&format!("drawn.{name}"), Code::Empty, "nothing");
    }
    for name in number.drawn.keys().filter(|name| !formula.figures().contains(&name.as_str())) {
        fields.faults.push(&format!("drawn.{}", told(name)), Code::UnknownCode, name);
    }
    if fields.faults.is_empty()
        && let Some(figures) = without_answer(&number, agents)
    {
        fields.faults.push("drawn", Code::OutOfRange, figures);
    }
    Some(number)
}

fn drawn(value: &Value) -> Result<BTreeMap<String, Vec<f64>>, Code> {
    let mut drawn = BTreeMap::new();
    for (name, values) in value.as_object().ok_or(Code::WrongShape)? {
        let list = values.as_array().ok_or(Code::WrongShape)?;
        if !(1..=MOST_VALUES).contains(&list.len()) {
            return Err(Code::OutOfRange);
        }
        let values: Option<Vec<f64>> = list.iter().map(Value::as_f64).collect();
        let values = values.ok_or(Code::WrongShape)?;
        if values.iter().any(|value| !(0.0..=LARGEST_FIGURE).contains(value)) {
            return Err(Code::OutOfRange);
        }
        drop(drawn.insert(name.clone(), values));
    }
    Ok(drawn)
}

/// The first figures, of all that can be drawn, for which there is no answer.
fn without_answer(number: &Number, agents: Agents) -> Option<String> {
    let agents = || Agent::ALL.iter().copied().filter(|agent| agents.has(*agent));
    let has_answer = |figures: &Vec<(String, f64)>| agents().all(|agent| number.right(agent, figures).is_some());
    let figures = number.combinations().into_iter().find(|figures| !has_answer(figures))?;
    Some(
        figures
            .iter()
            .map(|(name, value)| format!("{name} {}", super::unit::shown(*value)))
            .collect::<Vec<_>>()
            .join(", "),
    )
}

impl Number {
    /// All figures that can be drawn together, by name.
    #[must_use]
    pub fn combinations(&self) -> Vec<Vec<(String, f64)>> {
        let mut all = vec![Vec::new()];
        for (name, values) in &self.drawn {
            let with = |figures: &Vec<(String, f64)>| {
                let more = |value: &f64| figures.iter().cloned().chain([(name.clone(), *value)]).collect();
                values.iter().map(more).collect::<Vec<_>>()
            };
            all = all.iter().flat_map(with).collect();
        }
        all
    }
}

fn texts_of(question: &Question, entry: &Value, faults: &mut Faults) -> Option<Texts> {
    let mut fields = Fields::new(entry, faults)?;
    let ask = fields.text("ask", LONGEST_ASK);
    let because = fields.text("because", LONGEST_BECAUSE);
    let letters = question.task.options().map_or(&[][..], |options| &options.letters);
    let mut options = BTreeMap::new();
    for letter in letters {
        let mut buffer = [0; 4];
        let text = fields.text(letter.encode_utf8(&mut buffer), LONGEST_OPTION);
        let because = fields.text(&format!("{letter}_because"), LONGEST_BECAUSE);
        if let (Some(text), Some(because)) = (text, because) {
            options.insert(*letter, OptionTexts { text: text.to_owned(), because: because.to_owned() });
        }
    }
    let figures: Vec<&str> = match &question.task {
        Task::Number(number) => number.drawn.keys().map(String::as_str).collect(),
        Task::One(_) | Task::Many(_) | Task::Order(_) | Task::Log(_) | Task::Picture(..) => Vec::new(),
    };
    let Some((ask, because)) = ask.zip(because) else {
        fields.end();
        return None;
    };
    let answer = matches!(question.task, Task::Number(_)).then_some("answer");
    for name in placeholders(ask).filter(|name| !figures.contains(name)) {
        fields.faults.push("ask", Code::UnknownCode, format!("{{{name}}}"));
    }
    for name in placeholders(because).filter(|name| !figures.contains(name) && Some(*name) != answer) {
        fields.faults.push("because", Code::UnknownCode, format!("{{{name}}}"));
    }
    for name in figures.iter().filter(|name| placeholders(ask).all(|other| other != **name)) {
        fields.faults.push("ask", Code::Empty, format!("no {{{name}}}"));
    }
    for (letter, option) in &options {
        for name in placeholders(&option.text).chain(placeholders(&option.because)) {
            fields.faults.push(&letter.to_string(), Code::UnknownCode, format!("{{{name}}}"));
        }
    }
    fields.end();
    Some(Texts { ask: ask.to_owned(), because: because.to_owned(), options })
}

/// The names in braces.
pub(super) fn placeholders(text: &str) -> impl Iterator<Item = &str> {
    text.split('{').skip(1).map(|rest| rest.split_once('}').map_or("", |(name, _)| name))
}
