//! Words for people, in the language that was fetched.
//!
//! Screens name their own texts by [`Word`]; texts of acts, signs and rules are found by their code. A key without a text
//! shows itself, so that a gap is seen at once; the tests allow none.

pub(crate) use bittersweet_core::words::Word;
use bittersweet_core::{
    act::{Act, Field, Fields, Slot, Verdict},
    observe::Slip,
    rulebook::{Agent, RuleId},
    scenario::Scenario,
    sign::{Mouthful, Sign},
    source::{Basis, Reading},
    state::About,
    units::Ms,
    wire::{Fault, Faults, listed_v1::ListedV1},
};
use std::{cell::LazyCell, collections::BTreeMap, rc::Rc};
use yew::AttrValue;

/// How citations begin that say themselves on what they rest.
const OURS: &str = "our reading";

/// All words of one language.
#[derive(Clone, Debug)]
pub(crate) struct Words {
    texts: Rc<BTreeMap<String, AttrValue>>,
    decimal: Rc<LazyCell<char>>,
}

impl PartialEq for Words {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.texts, &other.texts)
    }
}

impl Words {
    /// Reads language files as the site serves them; what stands in one of them stands in no other.
    pub(crate) fn parse<T: AsRef<str>>(files: &[T]) -> Option<Self> {
        let mut texts = BTreeMap::new();
        for json in files {
            let read: BTreeMap<String, String> = serde_json::from_str(json.as_ref()).ok()?;
            // One by one: to collect a map is to sort it again.
            texts.extend(read.into_iter().map(|(key, text)| (key, AttrValue::from(text))));
        }
        Some(Self { texts: Rc::new(texts), decimal: Rc::new(LazyCell::new(|| '.')) })
    }

    /// The same words, with figures written with the decimal mark that this says. It is asked when the first figure is
    /// written, since that may take a while.
    pub(crate) fn with_decimal(self, decimal: fn() -> char) -> Self {
        Self { decimal: Rc::new(LazyCell::new(decimal)), ..self }
    }

    /// A figure as it is written here, from how the program writes it: `8.5`.
    pub(crate) fn figure(&self, written: &str) -> String {
        written.replace('.', &self.decimal.to_string())
    }

    /// The text of a screen.
    pub(crate) fn get(&self, word: Word) -> AttrValue {
        self.of(word.key())
    }

    /// A text of a screen with its placeholders filled.
    pub(crate) fn fill(&self, word: Word, values: &[(&str, &str)]) -> AttrValue {
        filled(&self.get(word), values).into()
    }

    /// The same with counts.
    pub(crate) fn fill_counts(&self, word: Word, counts: &[(&str, u32)]) -> AttrValue {
        let written: Vec<(&str, String)> = counts.iter().map(|(name, count)| (*name, count.to_string())).collect();
        let values: Vec<(&str, &str)> = written.iter().map(|(name, count)| (*name, count.as_str())).collect();
        self.fill(word, &values)
    }

    /// The text under a key made from a code.
    pub(crate) fn of(&self, key: &str) -> AttrValue {
        self.texts.get(key).cloned().unwrap_or_else(|| AttrValue::from(key.to_owned()))
    }

    /// The text under a key made from a code, with its placeholders filled.
    pub(crate) fn of_filled(&self, key: &str, values: &[(&str, &str)]) -> AttrValue {
        filled(&self.of(key), values).into()
    }

    /// What an act is called, on its button and in the logbook.
    #[expect(clippy::wildcard_enum_match_arm, reason = "all but these are found by their code alone")]
    pub(crate) fn act(&self, act: Act, scenario: &Scenario) -> AttrValue {
        match act {
            Act::HandOver(slot) => self.of_filled("act.hand-over", &[("facepiece", &self.facepiece(slot, scenario))]),
            Act::Wait(length) => self.of_filled("act.wait", &[("time", &length.to_string())]),
            Act::Record(fields) => self.of_filled("act.record", &[("fields", &self.fields(fields))]),
            other => self.of(&act_key("act", other)),
        }
    }

    /// What a decision is called under a heading that says what is decided; nothing for what is no decision.
    pub(crate) fn decided(&self, act: Act) -> Option<AttrValue> {
        act.is_decision().then(|| self.of(&act_key("decided", act)))
    }

    /// What a sign says.
    pub(crate) fn sign(&self, sign: Sign, scenario: &Scenario) -> AttrValue {
        match sign {
            Sign::ByMouth(Mouthful::Nothing, _) => self.of("sign.by-mouth-nothing"),
            Sign::ByMouth(what, minutes) => {
                let what = self.of(&format!("mouthful.{}", what.code()));
                self.of_filled("sign.by-mouth", &[("what", &what), ("minutes", &minutes.to_string())])
            }
            Sign::WearsAtWork(gear) => {
                self.of_filled("sign.wears-at-work", &[("gear", &self.of(&format!("gear.{}", gear.code())))])
            }
            Sign::FacepieceAtWork(slot) => {
                self.of_filled("sign.facepiece-at-work", &[("facepiece", &self.facepiece(slot, scenario))])
            }
            Sign::Chooses(slot) => self.of_filled("sign.chooses", &[("facepiece", &self.facepiece(slot, scenario))]),
            Sign::ExposureTimes(times) => self.of_filled("sign.exposure-times", &[("times", &times.to_string())]),
            Sign::FilledAgo(hours) => self.of_filled("sign.filled-ago", &[("hours", &hours.to_string())]),
            Sign::Seen(seen) => {
                let taste = self.taste(scenario.agent);
                self.of_filled(&format!("sign.{}", seen.code()), &[("taste", &taste), ("name", &scenario.person.name)])
            }
        }
    }

    /// `sweet` or `bitter`, as it is spoken.
    pub(crate) fn taste(&self, agent: Agent) -> AttrValue {
        self.of(&format!("agent.{}.taste", agent.code()))
    }

    /// An agent by its name, with the substance.
    pub(crate) fn agent(&self, agent: Agent) -> AttrValue {
        self.of(&format!("agent.{}.name", agent.code()))
    }

    /// A facepiece by model, kind and size.
    pub(crate) fn facepiece(&self, slot: Slot, scenario: &Scenario) -> AttrValue {
        let Some(piece) = scenario.facepiece(slot) else { return AttrValue::from(slot.number().to_string()) };
        let class = self.of(&format!("class.{}", piece.class.code()));
        let size = self.of(&format!("size.{}", piece.size.code()));
        self.of_filled("facepiece", &[("model", &piece.model.to_string()), ("class", &class), ("size", &size)])
    }

    fn fields(&self, fields: Fields) -> String {
        let names: Vec<AttrValue> =
            Field::ALL.iter().filter(|field| fields.has(**field)).map(|field| self.field(*field)).collect();
        if names.is_empty() { self.of("field.none").to_string() } else { names.join(", ") }
    }

    /// A field of the record.
    pub(crate) fn field(&self, field: Field) -> AttrValue {
        self.of(&format!("field.{}", field.code()))
    }

    /// A result.
    pub(crate) fn verdict(&self, verdict: Verdict) -> AttrValue {
        self.of(&format!("verdict.{}", dotted(verdict)))
    }

    /// What an attempt is called.
    pub(crate) fn about(&self, about: About) -> AttrValue {
        match about {
            About::Day => self.of("about.day"),
            About::Screening(number) => self.of_filled("about.screening", &[("number", &(number + 1).to_string())]),
            About::Test(number) => self.of_filled("about.test", &[("number", &(number + 1).to_string())]),
        }
    }

    /// What a slip is called.
    pub(crate) fn slip(&self, slip: Slip) -> AttrValue {
        self.of(&format!("slip.{}", slip.code()))
    }

    /// What a rule asks.
    pub(crate) fn rule_says(&self, rule: RuleId) -> AttrValue {
        self.of(&format!("rule.{}.says", rule.code()))
    }

    /// Why it matters.
    pub(crate) fn rule_why(&self, rule: RuleId) -> AttrValue {
        self.of(&format!("rule.{}.why", rule.code()))
    }

    /// Where a rule comes from: a citation, with what is not part of its name in this language.
    pub(crate) fn source(&self, citation: &str) -> AttrValue {
        let phrases = self
            .texts
            .range("source.".to_owned()..)
            .filter_map(|(key, text)| Some((key.strip_prefix("source.")?, text)));
        phrases.fold(citation.to_owned(), |said, (phrase, text)| said.replace(phrase, text)).into()
    }

    /// Where a rule or an answer comes from, on what that rests, and how it reached us.
    pub(crate) fn whence(&self, citation: &str, basis: Basis, reading: Reading) -> String {
        let mut parts = vec![self.source(citation)];
        // That no text spells it out is the other way to say so.
        if !citation.starts_with(OURS) && reading != Reading::Practice {
            parts.push(self.of(&format!("basis.{}", basis.code())));
        }
        parts.push(self.of(&format!("reading.{}", reading.code())));
        parts.join("; ")
    }

    /// What is wrong with a file, in one text.
    pub(crate) fn faults(&self, faults: &Faults) -> String {
        let said = faults.list().iter().map(|fault| {
            let what = self.of(&format!("fault.{}", fault.code.code()));
            let got = self.fill(Word::OpenGot, &[("got", &fault.got)]);
            if fault.path.is_empty() { format!("{what} {got}") } else { format!("{}: {what} {got}", self.place(fault)) }
        });
        said.collect::<Vec<_>>().join(" ")
    }

    /// Where in a file something is wrong. Names of fields are the same in every language; a line and a column are not.
    pub(crate) fn place(&self, fault: &Fault) -> AttrValue {
        match fault.in_text() {
            Some((below, line, column)) => {
                format!("{below}{}", self.fill(Word::OpenPlace, &[("line", line), ("column", column)])).into()
            }
            None => fault.path.clone().into(),
        }
    }

    /// A scenario's title, its own where the language has none.
    pub(crate) fn scenario_title(&self, scenario: &Scenario) -> AttrValue {
        self.title(&scenario.id, scenario.title.as_deref(), &scenario.person.name)
    }

    /// Its title in a list.
    pub(crate) fn listed_title(&self, listed: &ListedV1) -> AttrValue {
        self.title(&listed.id, listed.title.as_deref(), &listed.wearer.name)
    }

    fn title(&self, id: &str, own: Option<&str>, name: &str) -> AttrValue {
        let known = self.texts.get(&format!("scenario.{id}.title")).cloned();
        known.unwrap_or_else(|| own.unwrap_or(name).to_owned().into())
    }

    /// The title of a scenario of which only the id is known; the id itself where the language has none.
    pub(crate) fn scenario_named(&self, id: &str) -> AttrValue {
        self.texts.get(&format!("scenario.{id}.title")).cloned().unwrap_or_else(|| AttrValue::from(id.to_owned()))
    }

    /// What a scenario is about; empty where the language has nothing on it.
    pub(crate) fn scenario_about(&self, id: &str) -> AttrValue {
        self.texts.get(&format!("scenario.{id}.about")).cloned().unwrap_or_default()
    }
}

/// The key of an act in a family of texts, as keys are written.
fn act_key(family: &str, act: Act) -> String {
    match act.code() {
        (code, Some(with)) => format!("{family}.{code}.{}", with.replace(':', ".")),
        (code, None) => format!("{family}.{code}"),
    }
}

/// `not-tested:seal` to `not-tested.seal`, as keys are written.
fn dotted(verdict: Verdict) -> String {
    verdict.code().replace(':', ".")
}

/// Puts values in the place of `{name}`.
fn filled(text: &str, values: &[(&str, &str)]) -> String {
    values.iter().fold(text.to_owned(), |text, (name, value)| text.replace(&format!("{{{name}}}"), value))
}

/// A time as minutes and seconds; a comparison by value, so that it can be a property.
pub(crate) fn clock(time: Ms) -> AttrValue {
    AttrValue::from(time.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn placeholders_are_filled_and_others_stay() {
        assert_eq!(filled("{n} of {m}", &[("n", "3")]), "3 of {m}");
    }

    #[test]
    fn a_figure_has_the_decimal_mark_of_its_place() {
        let words = Words::parse(&["{}"]).unwrap();
        assert_eq!(words.figure("8.5"), "8.5");
        assert_eq!(words.with_decimal(|| ',').figure("8.5"), "8,5");
    }

    #[test]
    fn a_gap_shows_itself() {
        let words = Words::parse(&["{}"]).unwrap();
        assert_eq!(words.of("act.squeeze"), "act.squeeze");
    }
}
