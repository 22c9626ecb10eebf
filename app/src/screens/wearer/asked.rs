//! The questions at the end, one after the other. No answer is kept.

use crate::{
    edge::{language, page},
    hooks::use_digits,
    parts::question::{Draft, Put, QuestionForm},
    screens::questions::{Part, of_the_wearer, texts_of},
    words::{Word, Words},
};
use bittersweet_core::{
    orientation::{Orientation, QUESTIONS},
    question::{
        ask::ask,
        mark::{Marked, mark},
    },
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
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

/// The questions that are asked, as they are put.
fn puts((questions, texts): &Part, story: &Orientation) -> Vec<Put> {
    let asked = story.questions(questions.len());
    let chosen = questions.iter().enumerate().filter(|(place, _)| asked.contains(place));
    chosen
        .filter_map(|(_, question)| {
            let texts = Rc::new(texts_of(texts, question)?.clone());
            let asked = Rc::new(ask(story.seed(), question, story.agent()));
            Some(Put { question: Rc::new(question.clone()), texts, asked })
        })
        .collect()
}

/// The question in turn, and the way on.
#[component]
pub(super) fn Asked(props: &AskedProps) -> Html {
    let AskedProps { words, story, on_end } = props;
    let all = use_state(|| None::<Result<Rc<Vec<Put>>, AttrValue>>);
    let turn = use_state(|| 0_usize);
    let draft = use_state(|| None::<Draft>);
    let marked = use_state(|| None::<Rc<Marked>>);
    let refused = use_state(|| false);
    use_effect_with(words.clone(), {
        let (all, story) = (all.clone(), story.clone());
        move |_| {
            spawn_local(async move {
                let fetched = of_the_wearer(&language::spoken()).await;
                all.set(Some(fetched.map(|part| Rc::new(puts(&part, &story))).map_err(AttrValue::from)));
            });
        }
    });
    use_effect_with(marked.is_some(), |is_marked| {
        if *is_marked {
            page::focus("next-question");
        }
    });
    let put = match &*all {
        Some(Ok(puts)) => puts.get(*turn).cloned(),
        _ => None,
    };
    let now = put.as_ref().map(|put| (*draft).clone().unwrap_or_else(|| Draft::of(put)));
    let on_draft = Callback::from({
        let (draft, refused) = (draft.clone(), refused.clone());
        move |changed: Draft| {
            refused.set(false);
            draft.set(Some(changed));
        }
    });
    use_digits(marked.is_none(), {
        let (put, now, on_draft) = (put.clone(), now.clone(), on_draft.clone());
        Callback::from(move |place: usize| {
            if let (Some(put), Some(mut changed)) = (put.clone(), now.clone()) {
                changed.choose(&put, place);
                on_draft.emit(changed);
                page::focus(&format!("option-{place}"));
            }
        })
    });
    let (Some(put), Some(now)) = (put, now) else {
        let failed = if let Some(Err(error)) = &*all { Some(error) } else { None };
        // Where they cannot be had, the rest can.
        return html! {
            <>
                <p role="status">{ failed.map_or_else(|| words.get(Word::QuestionsFetching), |error| words.fill(Word::QuestionsFailed, &[("error", error)])) }</p>
                if failed.is_some() {
                    <p class="ways"><button type="button" id="go-on" class="main" onclick={on_end.reform(|_: MouseEvent| ())}>{ words.get(Word::WearerGoOn) }</button></p>
                }
            </>
        };
    };
    let onsubmit = {
        let (put, now, marked, refused) = (put.clone(), now.clone(), marked.clone(), refused.clone());
        move |event: SubmitEvent| {
            event.prevent_default();
            match now.answer(&put.question) {
                Some(answer) => marked.set(Some(Rc::new(mark(&put.question, &put.asked, &answer)))),
                None => refused.set(true),
            }
        }
    };
    let on_next = {
        let (turn, draft, marked, on_end) = (turn.clone(), draft.clone(), marked.clone(), on_end.clone());
        let count = match &*all {
            Some(Ok(puts)) => puts.len(),
            _ => 0,
        };
        move |_: MouseEvent| {
            if *turn + 1 < count {
                turn.set(*turn + 1);
                draft.set(None);
                marked.set(None);
                page::focus("question-title");
            } else {
                on_end.emit(());
            }
        }
    };
    let of = [("number", (*turn + 1).to_string()), ("all", QUESTIONS.to_string())];
    let [(number, turn_of), (all_of, count)] = &of;
    html! {
        <form {onsubmit}>
            <h3 id="question-title" tabindex="-1">{ words.fill(Word::WearerQuestion, &[(number, turn_of), (all_of, count)]) }</h3>
            <QuestionForm words={words.clone()} {put} draft={now} marked={(*marked).clone()} sources={false} {on_draft} />
            if *refused {
                <p class="refused" role="alert">{ words.get(Word::QuestionNothing) }</p>
            }
            <p class="ways">
                if marked.is_some() {
                    <button key="next" type="button" id="next-question" class="main" onclick={on_next}>{ words.get(Word::WearerGoOn) }</button>
                } else {
                    <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                }
            </p>
        </form>
    }
}
