//! The guide: the next act by the book, why, and by which rule. It fades, and on request it asks before it tells.

use crate::{
    hooks::Fade,
    parts::bench::{at_hand_id, no_repeat},
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::{
    act::Act,
    guide::{self, Step, was_broken},
    hint::Depth,
    observe::Slip,
    rulebook::RuleId,
    units::Ms,
    wire::run_v1::Help,
};
use yew::prelude::*;

/// What the guide can be told to do.
pub(crate) struct Ways<'a> {
    /// Shows where an act lies.
    pub(crate) on_show: &'a Callback<Act>,
    /// Lets time pass.
    pub(crate) on_act: &'a Callback<Act>,
    /// Asks for a hint.
    pub(crate) on_ask: Callback<MouseEvent>,
    /// Shows the act whatever was practised.
    pub(crate) on_reveal: Callback<MouseEvent>,
}

/// What comes next by the book in a guided run.
#[derive(Clone, Copy)]
pub(crate) struct Next {
    step: Step,
    /// Whether it was practised before, and is asked for first.
    asked: bool,
}

impl Next {
    /// What comes next; nothing where nobody guides, or the run is over. `revealed` says whether it is shown after all.
    pub(crate) fn of(session: &Session, fade: &Fade, revealed: bool) -> Option<Self> {
        if session.conditions.help != Help::Guided {
            return None;
        }
        let step = guide::next(session.scenario(), session.run.state(), session.run.now())?;
        Some(Self { step, asked: fade.practised.knows(step.act) && !fade.always && !revealed })
    }

    /// The act, where it is shown.
    pub(crate) fn shown(self) -> Option<Act> {
        (!self.asked).then_some(self.step.act)
    }
}

/// The next act, shown; or, where it was practised before, the question first.
pub(crate) fn guided(words: &Words, session: &Session, fade: &Fade, next: Next, ways: &Ways<'_>) -> Html {
    let Next { step, asked } = next;
    let toggle = fade.toggle.reform(|_: Event| ());
    panel(
        words,
        Word::GuideTitle,
        html! {
            <>
                if asked {
                    { question(words, step.rule) }
                    <button type="button" id="guide-act" onkeydown={no_repeat} onclick={ways.on_reveal.clone()}>{ words.get(Word::GuideReveal) }</button>
                } else {
                    { shown(words, session, step, ways) }
                }
                if fade.practised.knows(step.act) {
                    <label class="setting">
                        <input type="checkbox" id="always" checked={fade.always} onchange={toggle} />
                        { words.get(Word::GuideAlways) }
                    </label>
                }
            </>
        },
    )
}

/// Help on request: a button, and what was asked for last as long as it is still so.
pub(crate) fn on_request(words: &Words, session: &Session, ways: &Ways<'_>) -> Html {
    let hint = session.hint();
    let depth = hint.map(|(hint, _)| hint.depth);
    panel(
        words,
        Word::HintTitle,
        html! {
            <>
                // Said when it is asked for; that it goes with the next act is not.
                <div role="status">
                    { for hint.map(|(hint, step)| html! {
                        <>
                            { question(words, hint.rule) }
                            if hint.depth == Depth::Act { { what_and_why(words, session, step) } }
                        </>
                    }) }
                </div>
                if hint.is_none() {
                    <p class="soft">{ words.get(Word::HintCost) }</p>
                }
                if let (Some(Depth::Act), Some((_, step))) = (depth, hint) {
                    { button(words, session, step, ways) }
                } else {
                    <button type="button" id="ask-hint" onkeydown={no_repeat} onclick={ways.on_ask.clone()}>
                        { words.get(if depth.is_some() { Word::HintAct } else { Word::HintThink }) }
                    </button>
                }
            </>
        },
    )
}

fn panel(words: &Words, title: Word, body: Html) -> Html {
    html! {
        <section class="guide" aria-labelledby="guide-title">
            <h2 id="guide-title">{ words.get(title) }</h2>
            { body }
        </section>
    }
}

/// What to think about before an act that serves this rule.
pub(crate) fn question(words: &Words, rule: RuleId) -> Html {
    html! { <p class="next">{ words.of(&format!("think.{}", Slip::of(rule).code())) }</p> }
}

fn shown(words: &Words, session: &Session, step: Step, ways: &Ways<'_>) -> Html {
    html! { <>{ what_and_why(words, session, step) }{ button(words, session, step, ways) }</> }
}

fn what_and_why(words: &Words, session: &Session, step: Step) -> Html {
    let scenario = session.scenario();
    let source = scenario.rulebook().rule(step.rule).map(|rule| words.source(rule.source));
    // The heading says already that it comes next.
    let under_heading = words.decided(step.act).filter(|_| matches!(step.act, Act::Next(_)));
    let label = if let Act::Wait(_) = step.act { words.get(Word::GuideWait) } else { words.act(step.act, scenario) };
    let label = under_heading.unwrap_or(label);
    html! {
        <>
            <p class="next" id="guide-next">{ label }</p>
            if let Act::Begin(exercise) = step.act {
                <p>{ words.of(&format!("exercise.{}.how", exercise.code())) }</p>
            }
            // What was not kept, since nothing in such an act tells.
            if matches!(step.act, Act::Give(_) | Act::Next(_) | Act::Stop) {
                <p>{ words.fill(if was_broken(scenario, session.run.state(), step.rule) { Word::ReviewNotKept } else { Word::ReviewAsks }, &[("says", &words.rule_says(step.rule))]) }</p>
            }
            <p class="why">{ words.rule_why(step.rule) }</p>
            <p class="soft">{ for source }</p>
        </>
    }
}

fn button(words: &Words, session: &Session, step: Step, ways: &Ways<'_>) -> Html {
    let left = step.not_before.unwrap_or(Ms::ZERO).since(session.run.now());
    let length = if let Act::Wait(length) = step.act { length } else { left };
    if length == Ms::ZERO {
        let onclick = ways.on_show.reform(move |_: MouseEvent| step.act);
        // The act itself is the loud one where it lies at hand.
        let class = at_hand_id(step.act).is_none().then_some("main");
        return html! { <button type="button" id="guide-act" {class} aria-describedby="guide-next" {onclick}>{ words.get(Word::GuideShow) }</button> };
    }
    // Whole seconds, so that the button does not change under the hand.
    let length = Ms::secs(length.0.div_ceil(1_000));
    let onclick = ways.on_act.reform(move |_: MouseEvent| Act::Wait(length));
    html! {
        <button type="button" id="guide-act" class="main" onkeydown={no_repeat} {onclick}>{ words.act(Act::Wait(length), session.scenario()) }</button>
    }
}
