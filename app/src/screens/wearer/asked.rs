//! The questions at the end, one after the other. No answer is kept.

use crate::{
    edge::{language, page},
    hooks::use_digits,
    parts::question::{Draft, Put, QuestionForm},
    screens::questions::{Part, of_the_wearer, texts_of},
    words::{Word, Words},
};
use bittersweet_core::{
    orientation::Orientation,
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
fn puts((questions, texts): &Part, story: &Orientation) -> Rc<[Put]> {
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

/// How far it has come with the question in turn.
#[derive(Clone, Default, PartialEq)]
struct Turn {
    place: usize,
    draft: Option<Draft>,
    marked: Option<Rc<Marked>>,
    refused: bool,
}

/// The question in turn, and the way on.
#[component]
pub(super) fn Asked(props: &AskedProps) -> Html {
    let AskedProps { words, story, on_end } = props;
    let all = use_state(|| Ok(Rc::<[Put]>::default()));
    let turn = use_state(Turn::default);
    use_effect_with(words.clone(), {
        let (all, story) = (all.setter(), story.clone());
        move |_| {
            spawn_local(async move {
                all.set(of_the_wearer(&language::spoken()).await.map(|part| puts(&part, &story)));
            });
        }
    });
    use_effect_with(turn.marked.is_some(), |is_marked| {
        if *is_marked {
            page::focus("next-question");
        }
    });
    let puts = (*all).clone().unwrap_or_default();
    let put = puts.get(turn.place).cloned();
    let now = put.as_ref().map(|put| turn.draft.clone().unwrap_or_else(|| Draft::of(put)));
    let on_draft = Callback::from({
        let turn = turn.clone();
        move |changed: Draft| turn.set(Turn { draft: Some(changed), refused: false, ..(*turn).clone() })
    });
    use_digits(turn.marked.is_none(), {
        let (put, now, on_draft) = (put.clone(), now.clone(), on_draft.clone());
        Callback::from(move |place: usize| {
            if let (Some(put), Some(mut changed)) = (&put, now.clone()) {
                changed.choose(put, place);
                on_draft.emit(changed);
                page::focus(&format!("option-{place}"));
            }
        })
    });
    let (Some(put), Some(now)) = (put, now) else {
        // Where they cannot be had, the rest can.
        let error = all.as_ref().err();
        return html! {
            <>
                <p role="status">{ error.map_or_else(|| words.get(Word::QuestionsFetching), |error| words.fill(Word::QuestionsFailed, &[("error", error)])) }</p>
                if error.is_some() {
                    <p class="ways"><button type="button" id="go-on" class="main" onclick={on_end.reform(|_: MouseEvent| ())}>{ words.get(Word::WearerGoOn) }</button></p>
                }
            </>
        };
    };
    let onsubmit = {
        let (put, now, turn) = (put.clone(), now.clone(), turn.clone());
        move |event: SubmitEvent| {
            event.prevent_default();
            let answer = now.answer(&put.question);
            let marked = answer.as_ref().map(|answer| Rc::new(mark(&put.question, &put.asked, answer)));
            turn.set(Turn { refused: marked.is_none(), marked, ..(*turn).clone() });
        }
    };
    let on_next = {
        let (turn, on_end, count) = (turn.clone(), on_end.clone(), puts.len());
        move |_: MouseEvent| {
            let place = turn.place + 1;
            if place < count {
                turn.set(Turn { place, ..Turn::default() });
                page::focus("question-title");
            } else {
                on_end.emit(());
            }
        }
    };
    let (number, count) = ((turn.place + 1).to_string(), puts.len().to_string());
    html! {
        <form {onsubmit}>
            <h3 id="question-title" tabindex="-1">{ words.fill(Word::WearerQuestion, &[("number", &number), ("all", &count)]) }</h3>
            <QuestionForm words={words.clone()} {put} draft={now} marked={turn.marked.clone()} sources={false} {on_draft} />
            if turn.refused {
                <p class="refused" role="alert">{ words.get(Word::QuestionNothing) }</p>
            }
            <p class="ways">
                if turn.marked.is_some() {
                    <button key="next" type="button" id="next-question" class="main" onclick={on_next}>{ words.get(Word::WearerGoOn) }</button>
                } else {
                    <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                }
            </p>
        </form>
    }
}
