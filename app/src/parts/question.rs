//! A question with its form, and what became of the answer.

use crate::{
    edge::page,
    parts::{options::options, picture::describe, scene::SceneView},
    words::{Word, Words},
};
use bittersweet_core::{
    ordered,
    question::{
        Kind, Question, Task, Texts,
        ask::Asked,
        mark::{Answer, Fate, Marked},
        picture::at_that_moment,
        unit::{self, Unit},
    },
    scene::Scene,
};
use std::{iter, rc::Rc};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// A question as it is put, with its words.
#[derive(Clone, Debug)]
pub(crate) struct Put {
    /// The question.
    pub(crate) question: Rc<Question>,
    /// Its words.
    pub(crate) texts: Rc<Texts>,
    /// As it is put.
    pub(crate) asked: Rc<Asked>,
}

impl PartialEq for Put {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.asked, &other.asked) && Rc::ptr_eq(&self.texts, &other.texts)
    }
}

/// What has been put into the form.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Draft {
    /// Letters chosen; for an order all of them as they stand.
    pub(crate) letters: Vec<char>,
    /// A number as it was typed.
    pub(crate) number: String,
    /// Its unit; `None` until it is chosen.
    pub(crate) unit: Option<Unit>,
}

impl Draft {
    /// Before anything was chosen.
    pub(crate) fn of(put: &Put) -> Self {
        let is_order = put.question.task.kind() == Kind::Order;
        let letters = if is_order { put.asked.shown.clone() } else { Vec::new() };
        Self { letters, number: String::new(), unit: None }
    }

    /// The answer, where it is one.
    pub(crate) fn answer(&self, question: &Question) -> Option<Answer> {
        if question.task.kind() == Kind::Number {
            return Some(Answer::Number(unit::number(&self.number)?, self.unit?));
        }
        (!self.letters.is_empty()).then(|| Answer::Letters(self.letters.clone()))
    }

    /// The option in a place of what is shown, chosen or taken back.
    pub(crate) fn choose(&mut self, put: &Put, place: usize) {
        let Some(letter) = put.asked.shown.get(place).copied() else { return };
        match put.question.task.kind() {
            Kind::Order | Kind::Number => {}
            Kind::One | Kind::Many | Kind::Find if takes_one(&put.question) => self.letters = vec![letter],
            Kind::One | Kind::Many | Kind::Find => self.toggle(letter),
        }
    }

    fn toggle(&mut self, letter: char) {
        match self.letters.iter().position(|other| *other == letter) {
            Some(place) => drop(self.letters.remove(place)),
            None => self.letters.push(letter),
        }
    }

    /// Moves the option in a place of an order up or down by one.
    fn shift(&mut self, place: usize, down: bool) {
        let other = if down { place + 1 } else { place.wrapping_sub(1) };
        if place < self.letters.len() && other < self.letters.len() {
            self.letters.swap(place, other);
        }
    }
}

/// Whether one option alone can be chosen.
fn takes_one(question: &Question) -> bool {
    let right = question.task.options().map_or(0, |options| options.right.len());
    match question.task.kind() {
        Kind::One => true,
        Kind::Find => right == 1,
        Kind::Many | Kind::Order | Kind::Number => false,
    }
}

/// Properties of [`QuestionForm`].
#[derive(Properties, PartialEq)]
pub(crate) struct QuestionFormProps {
    /// The words of the page.
    pub(crate) words: Words,
    /// The question.
    pub(crate) put: Put,
    /// What has been put into the form.
    pub(crate) draft: Draft,
    /// What became of the answer, once it was given.
    pub(crate) marked: Option<Rc<Marked>>,
    /// Whether it was to be given and was none: that is said below the form, under `question-nothing`.
    pub(crate) refused: bool,
    /// Whether it is said where the answer comes from.
    #[prop_or(true)]
    pub(crate) sources: bool,
    /// Changes what has been put into the form.
    pub(crate) on_draft: Callback<Draft>,
}

/// The question with what can be answered; after the answer, each option with its reason.
#[component]
pub(crate) fn QuestionForm(props: &QuestionFormProps) -> Html {
    let QuestionFormProps { words, put, marked, .. } = props;
    let ask = put.asked.fill(&put.texts.ask);
    let picture = use_memo(Rc::clone(&put.asked), {
        let question = Rc::clone(&put.question);
        move |asked: &Rc<Asked>| {
            let Task::Picture(_, picture) = &question.task else { return None };
            at_that_moment(asked.seed, asked.agent, picture).map(|run| Rc::new(Scene::of(&run)))
        }
    });
    let by_key = matches!(put.question.task.kind(), Kind::One | Kind::Many);
    let hint = match put.question.task.kind() {
        Kind::One => Word::QuestionPickOne,
        Kind::Many => Word::QuestionPickMany,
        Kind::Order => Word::QuestionOrder,
        Kind::Number => Word::QuestionNumber,
        Kind::Find => Word::QuestionFind,
    };
    html! {
        <div class="question" data-kind={put.question.task.kind().code()} data-question={put.question.id.clone()}>
            <p class="ask" id="ask">{ ask }</p>
            { for picture.as_ref().clone().map(|scene| {
                let label = AttrValue::from(describe(words, &scene));
                html! {
                    <figure class="asked-scene">
                        <SceneView {scene} label={label.clone()} />
                        <details class="described"><summary>{ words.get(Word::PictureInWords) }</summary><p>{ label }</p></details>
                    </figure>
                }
            }) }
            <fieldset aria-describedby={if props.refused { "ask question-nothing" } else { "ask" }}>
                <legend class="soft">
                    { words.get(hint) }
                    if by_key && marked.is_none() { <span class="by-key">{ " " }{ words.get(Word::QuestionByKey) }</span> }
                </legend>
                { match &put.question.task {
                    Task::Number(number) => number_field(props, number.unit),
                    Task::Order(_) => order(props),
                    Task::One(_) | Task::Many(_) | Task::Log(_) | Task::Picture(..) => offered(props),
                } }
            </fieldset>
            { for marked.as_ref().map(|marked| verdict(words, put, marked, props.sources)) }
        </div>
    }
}

fn text(put: &Put, letter: char) -> (&str, &str) {
    put.texts.option(letter).map_or(("", ""), |option| (&option.text, &option.because))
}

fn fate(marked: Option<&Marked>, letter: char) -> Option<Fate> {
    marked.and_then(|marked| marked.options.iter().find(|(other, _)| *other == letter)).map(|(_, fate)| *fate)
}

/// What became of an option, and why it is right or wrong.
fn reason(props: &QuestionFormProps, letter: char) -> Html {
    let Some(fate) = fate(props.marked.as_deref(), letter) else { return Html::default() };
    let (_, because) = text(&props.put, letter);
    html! {
        <p class="because"><strong>{ props.words.of(&format!("fate.{}", fate.code())) }</strong>{ " " }{ because.to_owned() }</p>
    }
}

fn offered(props: &QuestionFormProps) -> Html {
    let QuestionFormProps { put, draft, marked, on_draft, .. } = props;
    let one = takes_one(&put.question);
    let is_log = matches!(put.question.task, Task::Log(_));
    let done = marked.is_some();
    html! {
        <ul class={classes!("options", is_log.then_some("log"))}>
            { for put.asked.shown.iter().copied().enumerate().map(|(place, letter)| {
                let (says, _) = text(put, letter);
                let (on_draft, changed) = (on_draft.clone(), { let mut next = draft.clone(); next.choose(put, place); next });
                let fate = fate(marked.as_deref(), letter).map(Fate::code);
                html! {
                    <li key={letter.to_string()} data-fate={fate} data-letter={letter.to_string()}>
                        <label>
                            <input
                                type={if one { "radio" } else { "checkbox" }} name="option" id={format!("option-{place}")}
                                checked={draft.letters.contains(&letter)} disabled={done}
                                onchange={move |_: Event| on_draft.emit(changed.clone())}
                            />
                            if !done { <kbd aria-hidden="true">{ place + 1 }</kbd> }
                            <span>{ says.to_owned() }</span>
                        </label>
                        { reason(props, letter) }
                    </li>
                }
            }) }
        </ul>
    }
}

fn order(props: &QuestionFormProps) -> Html {
    let QuestionFormProps { words, put, draft, marked, on_draft, .. } = props;
    let done = marked.is_some();
    let right = put.question.task.options().map(|options| options.right.clone()).unwrap_or_default();
    html! {
        <ol class="options ordered">
            { for draft.letters.iter().copied().enumerate().map(|(place, letter)| {
                let (says, _) = text(put, letter);
                let shift = |down: bool, word: Word| {
                    let mut next = draft.clone();
                    next.shift(place, down);
                    let on_draft = on_draft.clone();
                    let at_end = if down { place + 1 == draft.letters.len() } else { place == 0 };
                    let id = format!("{}-{letter}", if down { "down" } else { "up" });
                    html! {
                        <button type="button" {id} aria-disabled={at_end.to_string()} aria-label={words.fill(word, &[("option", says)])}
                            onclick={move |_: MouseEvent| on_draft.emit(next.clone())}>{ if down { "↓" } else { "↑" } }</button>
                    }
                };
                let its_place = right.iter().position(|other| *other == letter).map(|place| (place + 1).to_string());
                html! {
                    <li key={letter.to_string()} data-fate={fate(marked.as_deref(), letter).map(Fate::code)} data-letter={letter.to_string()}>
                        <div class="row">
                            <span>{ says.to_owned() }</span>
                            if !done {
                                <span class="moves">{ shift(false, Word::QuestionUp) }{ shift(true, Word::QuestionDown) }</span>
                            }
                        </div>
                        if done {
                            { for its_place.map(|place| html! { <p class="because"><strong>{ words.fill(Word::QuestionItsPlace, &[("place", &place)]) }</strong>{ " " }{ text(put, letter).1.to_owned() }</p> }) }
                        }
                    </li>
                }
            }) }
        </ol>
    }
}

fn number_field(props: &QuestionFormProps, right: Unit) -> Html {
    let QuestionFormProps { words, draft, marked, on_draft, .. } = props;
    let done = marked.is_some();
    let on_number = {
        let (draft, on_draft) = (draft.clone(), on_draft.clone());
        move |event: InputEvent| {
            if let Some(input) = event.target_dyn_into::<HtmlInputElement>() {
                on_draft.emit(Draft { number: input.value(), ..draft.clone() });
            }
        }
    };
    let on_unit = {
        let (draft, on_draft) = (draft.clone(), on_draft.clone());
        move |event: Event| on_draft.emit(Draft { unit: Unit::from_code(&page::chosen(&event)), ..draft.clone() })
    };
    html! {
        <div class="number">
            <label>
                { words.get(Word::QuestionFigure) }
                <input type="text" inputmode="decimal" id="figure" size="10" autocomplete="off" value={draft.number.clone()} readonly={done} oninput={on_number} />
            </label>
            <label>
                { words.get(Word::QuestionUnit) }
                <select id="unit" onchange={on_unit} disabled={done}>
                    { options(
                        iter::once(("", words.get(Word::QuestionChooseUnit)))
                            .chain(units(right).into_iter().map(|unit| (unit.code(), words.of(&format!("unit.{}", unit_key(unit)))))),
                        draft.unit.map_or("", |unit| unit.code()),
                    ) }
                </select>
            </label>
        </div>
    }
}

/// The units to choose from: those that measure the same, and two that measure something else, so that none gives itself away.
fn units(right: Unit) -> Vec<Unit> {
    let mut units: Vec<Unit> = right.alike().collect();
    let others = Unit::ALL.iter().copied().filter(|unit| !right.alike().any(|alike| alike == *unit));
    units.extend(others.take(4_usize.saturating_sub(units.len()).max(2)));
    ordered::order(&mut units, |unit| Unit::ALL.iter().position(|other| other == unit).unwrap_or_default() as u64);
    units
}

/// A unit's code as it stands in keys.
fn unit_key(unit: Unit) -> String {
    unit.code().replace('/', "-per-")
}

/// What the answer is worth, why the right one is right, and where that comes from.
fn verdict(words: &Words, put: &Put, marked: &Marked, sources: bool) -> Html {
    let credit = marked.credit;
    let (class, said) = if credit.is_whole() {
        ("right", words.get(Word::QuestionRight))
    } else if credit.got == 0 {
        ("wrong", words.get(Word::QuestionWrong))
    } else {
        ("part", words.fill(Word::QuestionPart, &[("got", &credit.got.to_string()), ("of", &credit.of.to_string())]))
    };
    let how = (!credit.is_whole() && marked.credit.of > 1).then(|| words.of(&format!("marked.{}", marked.how.code())));
    let slip = marked.slip.map(|slip| words.of(&format!("slip-of.{}", slip.code())));
    let unit = if let Task::Number(number) = &put.question.task { Some(number.unit) } else { None };
    let answer = put.asked.number.zip(unit);
    let cited = put.question.cited(put.asked.agent).filter(|_| sources);
    html! {
        <div class="verdict" id="verdict" tabindex="-1" role="status">
            <p class={class}>{ said }</p>
            { for slip.map(|slip| html! { <p>{ slip }</p> }) }
            { for answer.map(|(value, unit)| {
                let figure = words.figure(&unit::shown(value));
                let unit = words.of(&format!("unit.{}", unit_key(unit)));
                html! { <p>{ words.fill(Word::QuestionItIs, &[("figure", &figure), ("unit", &unit)]) }</p> }
            }) }
            <p>{ put.asked.fill(&put.texts.because) }</p>
            { for how.map(|how| html! { <p class="soft">{ how }</p> }) }
            { for cited.map(|cited| html! {
                <p class="soft">
                    { words.get(Word::ReviewSource) }{ ": " }{ words.whence(cited.source, cited.basis, cited.reading) }
                </p>
            }) }
        </div>
    }
}
