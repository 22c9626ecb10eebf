//! Question files: from JSON to questions and texts, with everything that is wrong in them.
//!
//! One question that is damaged does not take the others with it: it is left out, what is wrong is told with its id and field,
//! and the rest goes on. Each file is read by its fields rather than through types of its own, since it weighs less.

use super::{
    Agents, Grounds, Kind, Number, OptionTexts, Options, Question, Task, Texts,
    formula::{Formula, as_whole},
    picture,
};
use crate::{
    coded::coded,
    rulebook::{Agent, RuleId},
    source::{Basis, Reading, Skill},
    trouble::{self, Group, Moment},
    wire::{self, Code, Faults, tree::Tree},
};
use picture::Picture;
use std::ops::RangeInclusive;

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

/// Figures that a question may have.
pub const MOST_FIGURES: usize = 3;

/// The largest figure, so that what is reckoned with it can be shown.
pub const LARGEST_FIGURE: f64 = 1_000_000.0;

/// The largest tolerance, in per cent.
pub const LARGEST_TOLERANCE: u32 = 20;

/// What could be read, and what was wrong.
#[derive(Clone, Debug)]
pub struct Read<T> {
    /// What is whole.
    pub whole: Vec<T>,
    /// What was left out, and why.
    pub faults: Faults,
}

/// Reads a file of questions: `{"question": [...]}`, all of one skill, or each with a `skill` of its own. The path of a fault
/// begins with the question's id.
#[must_use]
pub fn questions(skill: Option<Skill>, json: &str) -> Read<Question> {
    let mut whole: Vec<Question> = Vec::new();
    let mut faults = Faults::default();
    let file = match wire::read::<Tree>(json, MOST_BYTES) {
        Ok(file) => file,
        Err(faults) => return Read { whole, faults },
    };
    let Some(list) = file.get("question").list() else {
        return Read { whole, faults: Faults::one("question", Code::WrongShape, file.get("question")) };
    };
    if let Tree::Table(rows) = &file {
        for (name, _) in rows.iter().filter(|(name, _)| name != "question") {
            faults.push(told(name), Code::UnknownCode, name);
        }
    }
    if list.len() > MOST_QUESTIONS {
        faults.push("question", Code::TooMany, list.len());
    }
    for (number, entry) in list.iter().take(MOST_QUESTIONS).enumerate() {
        let id = entry.get("id").text().unwrap_or_default();
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

/// Reads the texts of `questions` in one language: a table by id. Texts of other questions are passed over.
#[must_use]
pub fn texts(json: &str, questions: &[Question]) -> Read<Texts> {
    let mut whole = Vec::new();
    let mut faults = Faults::default();
    let file = match wire::read::<Tree>(json, MOST_BYTES) {
        Ok(file) => file,
        Err(faults) => return Read { whole, faults },
    };
    for question in questions {
        let mut below = Faults::default();
        match texts_of(question, file.get(&question.id), &mut below) {
            Some(texts) if below.is_empty() => whole.push(texts),
            _ => faults.extend_below(&question.id, &below),
        }
    }
    Read { whole, faults }
}

fn is_id(text: &str) -> bool {
    let is_word = |word: &str| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit());
    text.len() <= LONGEST_ID && text.split('-').all(is_word)
}

/// The fields of an entry. Those that are asked for are noted, so that what is left over is known to be none of ours.
struct Fields<'a> {
    of: &'a [(String, Tree)],
    taken: Vec<String>,
    faults: &'a mut Faults,
}

impl<'a> Fields<'a> {
    fn new(entry: &'a Tree, faults: &'a mut Faults) -> Option<Self> {
        match entry {
            Tree::Table(of) => Some(Self { of, taken: Vec::new(), faults }),
            Tree::Nothing => {
                faults.push("", Code::Empty, entry);
                None
            }
            Tree::Flag(_) | Tree::Number(_) | Tree::Text(_) | Tree::List(_) => {
                faults.push("", Code::WrongShape, entry);
                None
            }
        }
    }

    fn has(&self, name: &str) -> bool {
        self.of.iter().any(|(known, _)| known == name)
    }

    /// A field that must be there.
    fn there(&mut self, name: &str) -> Option<&'a Tree> {
        self.taken.push(name.to_owned());
        let value = self.of.iter().find(|(known, _)| known == name).map(|(_, value)| value);
        if value.is_none() {
            self.faults.push(name, Code::Empty, Tree::Nothing);
        }
        value
    }

    /// The same; `read` says what it is, or why it is not.
    fn must<T>(&mut self, name: &str, read: impl FnOnce(&'a Tree) -> Result<T, Code>) -> Option<T> {
        let value = self.there(name)?;
        read(value).map_err(|code| self.faults.push(name, code, value)).ok()
    }

    fn whole(&mut self, name: &str, range: &RangeInclusive<u32>) -> Option<u32> {
        self.must(name, |value| {
            as_whole(value.number().ok_or(Code::WrongShape)?)
                .filter(|number| range.contains(number))
                .ok_or(Code::OutOfRange)
        })
    }

    fn text(&mut self, name: &str, longest: usize) -> Option<String> {
        self.must(name, |value| {
            let text = value.text().ok_or(Code::WrongShape)?;
            let is_fit = !text.trim().is_empty() && text.chars().count() <= longest && wire::is_plain(text);
            if is_fit { Ok(text.to_owned()) } else { Err(Code::NotPlain) }
        })
    }

    fn code<T>(&mut self, name: &str, from: impl FnOnce(&str) -> Option<T>) -> Option<T> {
        self.must(name, |value| from(value.text().ok_or(Code::WrongShape)?).ok_or(Code::UnknownCode))
    }

    /// Tells of every field that nobody has asked for, or that stands there twice.
    fn end(self) {
        for (number, (name, _)) in self.of.iter().enumerate() {
            if !self.taken.contains(name) {
                self.faults.push(told(name), Code::UnknownCode, name);
            } else if self.of.iter().take(number).any(|(other, _)| other == name) {
                self.faults.push(told(name), Code::TooMany, name);
            }
        }
    }
}

/// A field's name as it can stand in a path.
fn told(name: &str) -> &str {
    if name.len() <= LONGEST_ID && !name.is_empty() && wire::is_plain(name) { name } else { "?" }
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

fn question(skill: Option<Skill>, entry: &Tree, faults: &mut Faults) -> Option<Question> {
    let mut fields = Fields::new(entry, faults)?;
    let id = fields.must("id", |value| {
        value.text().ok_or(Code::WrongShape).and_then(|id| if is_id(id) { Ok(id) } else { Err(Code::NotPlain) })
    });
    let skill = skill.or_else(|| fields.code("skill", Skill::from_code));
    let revision = fields.whole("revision", &(1..=9_999));
    let kind = fields.code("kind", Kind::from_code);
    let agents = fields.code("agents", Agents::from_code);
    let grounds = grounds(&mut fields);
    let now = fields.must("now", |value| match value {
        Tree::Flag(flag) => Ok(*flag),
        Tree::Nothing | Tree::Number(_) | Tree::Text(_) | Tree::List(_) | Tree::Table(_) => Err(Code::WrongShape),
    });
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
    if fields.has("rule") {
        return fields.code("rule", RuleId::from_code).map(Grounds::Rule);
    }
    let source = fields.text("source", LONGEST_BECAUSE);
    let basis = fields.code("basis", Basis::from_code);
    let reading = fields.code("reading", Reading::from_code);
    Some(Grounds::Other { source: source?, basis: basis?, reading: reading? })
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
fn letters(value: &Tree) -> Result<Vec<char>, Code> {
    let mut letters = Vec::new();
    for value in value.list().ok_or(Code::WrongShape)? {
        match value.text().ok_or(Code::WrongShape)?.as_bytes() {
            [letter @ b'a'..=b'z'] if letters.contains(&char::from(*letter)) => return Err(Code::TooMany),
            [letter @ b'a'..=b'z'] => letters.push(char::from(*letter)),
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
    let moment = if fields.has("moment") { fields.code("moment", Moment::from_code) } else { None };
    let kinds = fields.must("kinds", |value| {
        let kind = |value: &Tree| match value.text().ok_or(Code::WrongShape)? {
            "none" => Ok(None),
            code => trouble::Kind::from_code(code).map(Some).ok_or(Code::UnknownCode),
        };
        value.list().ok_or(Code::WrongShape)?.iter().map(kind).collect::<Result<Vec<_>, Code>>()
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
    let drawn = if fields.has("drawn") { fields.must("drawn", drawn) } else { Some(Vec::new()) };
    let (formula, unit, drawn) = (formula?, unit?, drawn?);
    let number = Number { formula, unit, tolerance: u8::try_from(tolerance?).ok()?, drawn };
    if formula.unit().in_units_of(1.0, unit).is_none() {
        fields.faults.push("unit", Code::OutOfRange, unit.code());
    }
    for name in formula.figures().iter().filter(|name| number.drawn.iter().all(|(known, _)| known != **name)) {
        fields.faults.push(&format!("drawn.{name}"), Code::Empty, Tree::Nothing);
    }
    for (name, _) in number.drawn.iter().filter(|(name, _)| !formula.figures().contains(&name.as_str())) {
        fields.faults.push(&format!("drawn.{}", told(name)), Code::UnknownCode, name);
    }
    if fields.faults.is_empty()
        && let Some(figures) = without_answer(&number, agents)
    {
        fields.faults.push("drawn", Code::OutOfRange, figures);
    }
    Some(number)
}

fn drawn(value: &Tree) -> Result<Vec<(String, Vec<f64>)>, Code> {
    let Tree::Table(rows) = value else { return Err(Code::WrongShape) };
    let mut drawn: Vec<(String, Vec<f64>)> = Vec::new();
    for (name, values) in rows {
        let list = values.list().ok_or(Code::WrongShape)?;
        if !(1..=MOST_VALUES).contains(&list.len()) || drawn.len() >= MOST_FIGURES {
            return Err(Code::OutOfRange);
        }
        let mut figures = Vec::new();
        for value in list {
            let value = value.number().ok_or(Code::WrongShape)?;
            if !(0.0..=LARGEST_FIGURE).contains(&value) {
                return Err(Code::OutOfRange);
            }
            figures.push(value);
        }
        drawn.push((name.clone(), figures));
    }
    Ok(drawn)
}

/// The first figures, of all that can be drawn, for which there is no answer.
fn without_answer(number: &Number, agents: Agents) -> Option<String> {
    for which in 0..number.combinations() {
        let figures = number.figures(which);
        for agent in Agent::ALL.iter().copied().filter(|agent| agents.has(*agent)) {
            if number.right(agent, &figures).is_none() {
                let told = |(name, value): &(String, f64)| format!("{name} {}", super::unit::shown(*value));
                return Some(figures.iter().map(told).collect::<Vec<_>>().join(", "));
            }
        }
    }
    None
}

fn texts_of(question: &Question, entry: &Tree, faults: &mut Faults) -> Option<Texts> {
    let mut fields = Fields::new(entry, faults)?;
    let ask = fields.text("ask", LONGEST_ASK);
    let because = fields.text("because", LONGEST_BECAUSE);
    let (figures, answer): (&[(String, Vec<f64>)], &str) = match &question.task {
        Task::Number(number) => (&number.drawn, "answer"),
        Task::One(_) | Task::Many(_) | Task::Order(_) | Task::Log(_) | Task::Picture(..) => (&[], ""),
    };
    let is_figure = |name: &str| figures.iter().any(|(known, _)| known == name);
    let mut options = Vec::new();
    for letter in question.task.options().map_or(&[][..], |options| &options.letters) {
        let [name, reason] = [letter.to_string(), format!("{letter}_because")];
        let text = fields.text(&name, LONGEST_OPTION);
        let because = fields.text(&reason, LONGEST_BECAUSE);
        for (name, text) in [(&name, &text), (&reason, &because)] {
            check_names(fields.faults, name, text, |_| false);
        }
        if let (Some(text), Some(because)) = (text, because) {
            options.push(OptionTexts { letter: *letter, text, because });
        }
    }
    check_names(fields.faults, "ask", &ask, is_figure);
    check_names(fields.faults, "because", &because, |name| is_figure(name) || (!name.is_empty() && name == answer));
    for (name, _) in figures {
        if ask.as_ref().is_some_and(|ask| placeholders(ask).all(|other| other != name)) {
            fields.faults.push("ask", Code::Empty, format!("no {{{name}}}"));
        }
    }
    fields.end();
    Some(Texts { id: question.id.clone(), ask: ask?, because: because?, options })
}

/// Tells of every name in braces that stands for nothing.
fn check_names(faults: &mut Faults, field: &str, text: &Option<String>, is_known: impl Fn(&str) -> bool) {
    for name in text.iter().flat_map(|text| placeholders(text)).filter(|name| !is_known(name)) {
        faults.push(field, Code::UnknownCode, format!("{{{name}}}"));
    }
}

/// The names in braces.
fn placeholders(text: &str) -> impl Iterator<Item = &str> {
    text.split('{').skip(1).map(|rest| rest.split_once('}').map_or("", |(name, _)| name))
}
