//! The questions at the end, one after the other. No answer is kept.

use crate::{
    edge::page,
    hooks::bank::{Loading, use_parts},
    parts::one_question::OneQuestion,
    words::{Word, Words},
};
use bittersweet_core::{orientation::Orientation, source::Skill, wire::answer_v1::AnswerV1};
use yew::prelude::*;

/// Properties of [`Asked`].
#[derive(Properties, PartialEq)]
pub(super) struct AskedProps {
    /// The words of the page.
    pub(super) words: Words,
    /// Whose story it was.
    pub(super) story: Orientation,
    /// After the last.
    pub(super) on_end: Callback<()>,
}

/// The question in turn, and the way on.
#[component]
pub(super) fn Asked(props: &AskedProps) -> Html {
    let AskedProps { words, story, on_end } = props;
    // All of them are about what a wearer is to be told.
    let loading = use_parts(words, vec![(Skill::Briefing, "wearer")]);
    let turn = use_state(|| 0_usize);
    let bank = loading.ready().unwrap_or_default();
    let all = bank.questions().count();
    let asked = story.questions(all);
    let put = asked
        .get(*turn)
        .and_then(|place| bank.questions().nth(*place))
        .and_then(|question| bank.put(question, story.seed(), story.agent()));
    let Some(put) = put else {
        return html! {
            <>
                if matches!(loading, Loading::Fetching) {
                    <p role="status">{ words.get(Word::QuestionsFetching) }</p>
                } else {
                    // Where they cannot be had, which stands above the page then, the rest can.
                    <p class="ways"><button type="button" id="go-on" class="main" onclick={on_end.reform(|_: MouseEvent| ())}>{ words.get(Word::WearerGoOn) }</button></p>
                }
            </>
        };
    };
    let next = *turn + 1;
    let on_next = {
        let (turn, on_end, count) = (turn.clone(), on_end.clone(), asked.len());
        Callback::from(move |()| {
            if next < count {
                turn.set(next);
                page::focus("place");
            } else {
                on_end.emit(());
            }
        })
    };
    let (number, count) = (next.to_string(), asked.len().to_string());
    html! {
        <>
            <p id="place" tabindex="-1">{ words.fill(Word::WearerQuestion, &[("number", &number), ("all", &count)]) }</p>
            <OneQuestion key={number} words={words.clone()} {put} is_plain={true} on_answer={Callback::<AnswerV1>::noop()} {on_next} />
        </>
    }
}
