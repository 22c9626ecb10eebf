//! The guide: the next act by the book, why, and by which rule.

use crate::{
    parts::bench::no_repeat,
    session::Session,
    words::{Word, Words},
};
use bittersweet_core::{act::Act, guide, units::Ms};
use yew::prelude::*;

/// What to do next. `on_show` is told which act the trainee wants to be shown, `on_act` lets time pass.
pub(crate) fn guide(words: &Words, session: &Session, on_show: &Callback<Act>, on_act: &Callback<Act>) -> Html {
    let scenario = session.scenario();
    let now = session.run.now();
    let Some(step) = guide::next(scenario, session.run.state(), now) else { return Html::default() };
    let left = step.not_before.unwrap_or(Ms::ZERO).since(now);
    let length = if let Act::Wait(length) = step.act { length } else { left };
    let waiting = (length > Ms::ZERO).then_some(length);
    let source = scenario.rulebook().rule(step.rule).map(|rule| rule.source);
    let label = if let Act::Wait(_) = step.act { words.get(Word::GuideWait) } else { words.act(step.act, scenario) };
    html! {
        <section class="guide" aria-labelledby="guide-title">
            <h2 id="guide-title">{ words.get(Word::GuideTitle) }</h2>
            <p class="next">{ label }</p>
            if let Act::Begin(exercise) = step.act {
                <p>{ words.of(&format!("exercise.{}.how", exercise.code())) }</p>
            }
            <p class="why">{ words.rule_why(step.rule) }</p>
            <p class="soft">{ for source }</p>
            { match waiting {
                Some(length) => {
                    // Whole seconds, so that the button does not change under the hand.
                    let length = Ms::secs(length.0.div_ceil(1_000));
                    let onclick = on_act.reform(move |_: MouseEvent| Act::Wait(length));
                    html! {
                        <button type="button" id="guide-act" onkeydown={no_repeat} {onclick}>{ words.act(Act::Wait(length), scenario) }</button>
                    }
                }
                None => {
                    let onclick = on_show.reform(move |_: MouseEvent| step.act);
                    html! { <button type="button" id="guide-act" {onclick}>{ words.get(Word::GuideShow) }</button> }
                }
            } }
        </section>
    }
}
