//! A drill: its lines, its form, and what became of the answer.

use crate::{
    hooks::use_ticker,
    parts::{picture::describe, scene::SceneView},
    words::{Word, Words, clock},
};
use bittersweet_core::{
    act::{Exercise, NextStep},
    drill::{Drill, Line, Marked, Named, Shown, Weight},
    log::What,
    rulebook::RuleId,
    scene::Scene,
    units::Ms,
};
use std::rc::Rc;
use yew::prelude::*;

/// How often a drill that plays moves on, in milliseconds.
const BEAT_MS: u32 = 100;

/// How much faster than life it plays.
const SPEED: u32 = 30;

/// How long before the first line after the preparation it begins to play.
const RUN_UP: Ms = Ms::secs(5);

/// What was named so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Answer {
    /// The threshold or the result.
    pub(crate) named: Option<Named>,
    /// What comes next.
    pub(crate) next: Option<NextStep>,
}

/// Properties of [`DrillLines`].
#[derive(Properties)]
pub(crate) struct DrillLinesProps {
    /// The words.
    pub(crate) words: Words,
    /// The drill.
    pub(crate) drill: Rc<Drill>,
    /// Whether it was answered: then what decided is marked.
    pub(crate) marked: bool,
}

impl PartialEq for DrillLinesProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.drill, &other.drill) && self.marked == other.marked && self.words == other.words
    }
}

/// The log, as lines along time; and, where that is wished, played quickly.
#[component]
pub(crate) fn DrillLines(props: &DrillLinesProps) -> Html {
    let DrillLinesProps { words, drill, marked } = props;
    let end = drill.run.now();
    let begin = drill.lines.get(1).map_or(Ms::ZERO, |line| line.at.since(RUN_UP));
    let at = use_state(|| None::<Ms>);
    let halted = use_state(|| false);
    use_effect_with(Rc::as_ptr(drill), {
        let at = at.clone();
        move |_| at.set(None)
    });
    let playing = !*halted && at.is_some_and(|at| at < end);
    let beat = {
        let at = at.clone();
        Callback::from(move |()| at.set(at.map(|at| at.plus(Ms(BEAT_MS * SPEED)).min(end))))
    };
    use_ticker(playing, BEAT_MS, beat);
    let on_play = {
        let at = at.clone();
        move |_: MouseEvent| {
            halted.set(playing);
            // At its end it begins again.
            at.set(Some(at.filter(|at| *at < end).unwrap_or(begin)));
        }
    };
    let decides = |place: usize| drill.decides.iter().find(|(line, _)| *line == place).map(|(_, weight)| *weight);
    html! {
        <>
            <ol class="drill-lines">
                { for drill.lines.iter().enumerate().map(|(place, line)| {
                    let decided = decides(place).filter(|_| *marked);
                    let now = at.is_some_and(|at| line.at <= at && drill.lines.get(place + 1).is_none_or(|next| next.at > at));
                    html! {
                        <li key={place} class={classes!(shown_class(*line), decided.is_some().then_some("decides"), now.then_some("now"))}>
                            <span class="at">{ clock(line.at) }</span>
                            <span>
                                { line_text(words, drill, *line) }
                                { for decided.map(|weight| {
                                    let (said, rule) = match weight {
                                        Weight::Broke(rule) => (Word::DrillBroke, Some(rule)),
                                        Weight::Decides => (Word::DrillDecides, None),
                                        Weight::Harmless => (Word::DrillHarmless, None),
                                    };
                                    html! {
                                        <span class="because">
                                            <strong>{ words.get(said) }</strong>
                                            { for rule.map(|rule| html! { <>{ " " }{ words.rule_says(rule) }</> }) }
                                        </span>
                                    }
                                }) }
                            </span>
                        </li>
                    }
                }) }
            </ol>
            <p><button type="button" id="play-drill" onclick={on_play}>{ words.get(if playing { Word::PlayerPause } else { Word::DrillPlay }) }</button></p>
            { for at.map(|at| {
                let scene = Rc::new(Scene::of(&drill.run.until(at)));
                let label = AttrValue::from(describe(words, &scene));
                html! {
                    <figure class="asked-scene">
                        <SceneView {scene} {label} />
                        <figcaption class="at">{ clock(at) }</figcaption>
                    </figure>
                }
            }) }
        </>
    }
}

const fn shown_class(line: Line) -> &'static str {
    match line.shown {
        Shown::Entry(What::Sign(_)) => "saw",
        Shown::Prepared | Shown::ByTheBook(..) | Shown::Over => "folded",
        Shown::Entry(What::Act(_)) | Shown::Squeezes(_) => "did",
    }
}

fn exercise_number(exercise: Exercise) -> String {
    exercise.place().map_or_else(String::new, |place| (place + 1).to_string())
}

fn line_text(words: &Words, drill: &Drill, line: Line) -> AttrValue {
    let scenario = drill.run.scenario();
    match line.shown {
        Shown::Prepared => words.get(Word::DrillPrepared),
        Shown::Over => words.get(Word::DrillOver),
        Shown::Squeezes(count) => words.fill(Word::LogSqueezes, &[("number", &count.to_string())]),
        Shown::ByTheBook(first, last) if first == last => {
            words.fill(Word::DrillByTheBookOne, &[("exercise", &exercise_number(first))])
        }
        Shown::ByTheBook(first, last) => {
            let are_two = first.place().map(|place| place + 1) == last.place();
            words.fill(
                if are_two { Word::DrillByTheBookTwo } else { Word::DrillByTheBook },
                &[("first", &exercise_number(first)), ("last", &exercise_number(last))],
            )
        }
        Shown::Entry(What::Act(act)) => words.act(act, scenario),
        Shown::Entry(What::Sign(sign)) => words.sign(sign, scenario),
    }
}

/// What can be named, and what comes next; `missed` is the id of what says that something of it is not named yet.
pub(crate) fn answer_form(
    words: &Words,
    drill: &Drill,
    answer: Answer,
    done: bool,
    missed: Option<&'static str>,
    choose: &Callback<Answer>,
) -> Html {
    // Figures choose in one list at a time: first what it came to, and then what comes next.
    let first_by_key = !done && takes_name(drill, answer);
    let then_by_key = !done && !first_by_key;
    let named = Named::of(drill.asks).iter().copied().enumerate().map(|(place, one)| {
        let chosen = answer.named == Some(one);
        let choice = Choice {
            group: "named",
            place,
            by_key: first_by_key,
            text: words.of(&format!("named.{}", one.code())),
            chosen,
            fate: done.then(|| fate(drill.accepted.contains(&one), chosen)),
            reason: why_named(words, drill, one),
        };
        option(words, choice, choose.reform(move |_: Event| Answer { named: Some(one), ..answer }))
    });
    let next = drill.offered.iter().copied().enumerate().map(|(place, one)| {
        let (chosen, right) = (answer.next == Some(one), drill.next == Some(one));
        let choice = Choice {
            group: "next",
            place,
            by_key: then_by_key,
            text: next_text(words, one),
            chosen,
            fate: done.then(|| fate(right, chosen)),
            reason: right.then(|| words.of(&format!("next-because.{}", one.code()))).into_iter().collect(),
        };
        option(words, choice, choose.reform(move |_: Event| Answer { next: Some(one), ..answer }))
    });
    html! {
        <>
            if !done {
                <p class="by-key soft">{ words.get(if drill.offered.is_empty() { Word::QuestionByKey } else { Word::DrillByKey }) }</p>
            }
            <div class="drill-answer">
                <fieldset aria-describedby={missed.filter(|_| answer.named.is_none())}>
                    <legend class="soft">{ words.get(Word::DrillName) }</legend>
                    <ul class="options">{ for named }</ul>
                </fieldset>
                if !drill.offered.is_empty() {
                    <fieldset aria-describedby={missed.filter(|_| answer.next.is_none())}>
                        <legend class="soft">{ words.get(Word::DrillThen) }</legend>
                        <ul class="options">{ for next }</ul>
                    </fieldset>
                }
            </div>
        </>
    }
}

/// Whether a figure names what it came to, rather than what comes next.
pub(crate) const fn takes_name(drill: &Drill, answer: Answer) -> bool {
    answer.named.is_none() || drill.offered.is_empty()
}

/// Why this would have been right, a line each; nothing where it would not.
fn why_named(words: &Words, drill: &Drill, named: Named) -> Vec<AttrValue> {
    match drill.accepted.iter().position(|other| *other == named) {
        Some(0) => {}
        Some(_) => return vec![words.get(Word::DrillBoth)],
        None => return Vec::new(),
    }
    // What was off the book is why only where it changed something.
    let stands = matches!(named, Named::Pass | Named::Ten | Named::Twenty | Named::Thirty);
    let decided = drill.decides.iter().filter_map(|(place, weight)| {
        let line = drill.lines.get(*place)?;
        let says = match weight {
            Weight::Broke(rule) if !stands => words.fill(Word::ReviewNotKept, &[("says", &cited(words, drill, *rule))]),
            Weight::Decides => line_text(words, drill, *line),
            Weight::Broke(_) | Weight::Harmless => return None,
        };
        Some(AttrValue::from(format!("{} {says}", line.at)))
    });
    let mut why: Vec<AttrValue> = decided.collect();
    if why.is_empty() {
        let broken = drill.decides.iter().any(|(_, weight)| matches!(weight, Weight::Broke(_)));
        why.push(words.get(if broken { Word::DrillNothingChanged } else { Word::DrillNothingDecides }));
    }
    why.extend(named.rule().map(|rule| cited(words, drill, rule)));
    why
}

/// What a rule says, and where it stands.
fn cited(words: &Words, drill: &Drill, rule: RuleId) -> AttrValue {
    let says = words.rule_says(rule);
    match drill.run.scenario().rulebook().rule(rule) {
        Some(rule) => format!("{says} ({})", words.source(rule.source)).into(),
        None => says,
    }
}

fn next_text(words: &Words, step: NextStep) -> AttrValue {
    words.of(&format!("next.{}", step.code()))
}

/// What became of what was neither right nor chosen.
const LEFT: &str = "left";

const fn fate(right: bool, chosen: bool) -> &'static str {
    match (right, chosen) {
        (true, true) => "hit",
        (true, false) => "missed",
        (false, true) => "wrong",
        (false, false) => LEFT,
    }
}

/// One of a list to choose from.
struct Choice {
    group: &'static str,
    place: usize,
    by_key: bool,
    text: AttrValue,
    chosen: bool,
    /// What became of it, once the answer was given.
    fate: Option<&'static str>,
    /// Why, a line each.
    reason: Vec<AttrValue>,
}

fn option(words: &Words, choice: Choice, onchange: Callback<Event>) -> Html {
    let Choice { group, place, by_key, text, chosen, fate, reason } = choice;
    html! {
        <li key={place} data-fate={fate}>
            <label>
                <input type="radio" name={group} id={format!("{group}-{place}")} checked={chosen} disabled={fate.is_some()} {onchange} />
                if fate.is_none() {
                    <kbd aria-hidden="true" class={(!by_key).then_some("idle")}>{ place + 1 }</kbd>
                }
                <span>{ text }</span>
            </label>
            // What was rightly left needs no word where there is no reason to give.
            { for fate.filter(|fate| *fate != LEFT || !reason.is_empty()).map(|fate| html! {
                <p class="because">
                    <strong>{ words.of(&format!("fate.{fate}")) }</strong>
                    { for reason.into_iter().map(|line| html! { <span>{ " " }{ line }</span> }) }
                </p>
            }) }
        </li>
    }
}

/// What the answer was worth, and what was right; why stands with the options.
pub(crate) fn verdict(words: &Words, drill: &Drill, marked: Marked) -> Html {
    let (class, said) = match (marked.named, marked.next) {
        (true, None | Some(true)) => ("right", Word::QuestionRight),
        (true, Some(false)) => ("part", Word::DrillNextWrong),
        (false, _) => ("wrong", Word::QuestionWrong),
    };
    let names: Vec<AttrValue> = drill.accepted.iter().map(|one| words.of(&format!("named.{}", one.code()))).collect();
    let it_was = words.fill(Word::DrillItWas, &[("name", &names.join(&words.get(Word::ReviewOr)))]);
    html! {
        <div class="verdict" id="verdict" tabindex="-1" role="status">
            <p class={class}>{ words.get(said) }</p>
            <p>{ it_was }</p>
            { for drill.next.map(|next| html! { <p>{ words.fill(Word::DrillItFollows, &[("next", &next_text(words, next))]) }</p> }) }
        </div>
    }
}
