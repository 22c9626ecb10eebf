//! One question: it is put, answered once, and explained, unless that has to wait.

use crate::{
    edge::{clock, page},
    hooks::use_digits,
    parts::question::{Draft, Put, QuestionForm},
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::{
    question::{
        Task,
        mark::{Marked, mark},
    },
    wire::answer_v1::{AnswerV1, Asked as Kind},
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`OneQuestion`]. Another question wants another key.
#[derive(Properties, PartialEq)]
pub(crate) struct OneQuestionProps {
    /// The words.
    pub(crate) words: Words,
    /// The question.
    pub(crate) put: Put,
    /// Why it is asked now.
    #[prop_or_default]
    pub(crate) why: AttrValue,
    /// Whether nothing is said of the answer: then the next one follows at once.
    #[prop_or_default]
    pub(crate) is_quiet: bool,
    /// Whether it takes the focus when it comes: the one before it had it.
    #[prop_or_default]
    pub(crate) takes_focus: bool,
    /// Whether it is put to a worker, whom neither its skill nor its source helps.
    #[prop_or_default]
    pub(crate) is_plain: bool,
    /// Takes the answer.
    pub(crate) on_answer: Callback<AnswerV1>,
    /// Goes on.
    pub(crate) on_next: Callback<()>,
}

/// The question.
#[component]
pub(crate) fn OneQuestion(props: &OneQuestionProps) -> Html {
    let OneQuestionProps { words, put, is_quiet, is_plain, .. } = props;
    let draft = use_state(|| Draft::of(put));
    let marked = use_state(|| None::<Rc<Marked>>);
    let refused = use_state(|| false);
    use_effect_with(props.takes_focus, |takes_focus| {
        if *takes_focus {
            page::focus("question-title");
        }
    });

    let on_draft = {
        let (draft, refused) = (draft.clone(), refused.clone());
        Callback::from(move |changed: Draft| {
            refused.set(false);
            draft.set(changed);
        })
    };
    let on_submit = {
        let (put, draft, marked, refused) = (put.clone(), draft.clone(), marked.clone(), refused.clone());
        let (on_answer, on_next, is_quiet) = (props.on_answer.clone(), props.on_next.clone(), *is_quiet);
        move |event: SubmitEvent| {
            event.prevent_default();
            let Some(answer) = draft.answer(&put.question).filter(|_| marked.is_none()) else {
                refused.set(marked.is_none());
                return;
            };
            let result = mark(&put.question, &put.asked, &answer);
            on_answer.emit(AnswerV1 {
                asked: Kind::Question,
                id: put.question.id.clone(),
                revision: put.question.revision,
                skill: put.question.skill,
                agent: put.asked.agent,
                credit: result.credit,
                day: clock::today(),
            });
            if is_quiet {
                on_next.emit(());
            } else {
                marked.set(Some(Rc::new(result)));
            }
        }
    };
    // Once it was answered, the way on has the focus: Enter answers, and Enter goes on.
    use_effect_with(marked.is_some(), |is_marked| {
        if *is_marked {
            page::focus("next-question");
        }
    });
    let digits = {
        let (put, draft, is_open, on_draft) = (put.clone(), (*draft).clone(), marked.is_none(), on_draft.clone());
        Callback::from(move |place: usize| {
            if is_open {
                let mut changed = draft.clone();
                changed.choose(&put, place);
                on_draft.emit(changed);
                page::focus(&format!("option-{place}"));
            }
        })
    };
    use_digits(true, digits);
    let on_next = props.on_next.reform(|_: MouseEvent| ());
    html! {
        <form onsubmit={on_submit}>
            if !is_plain {
                <h2 id="question-title" tabindex="-1" aria-describedby={if *is_quiet { "step ask" } else { "ask" }}>
                    { words.of(&format!("skill.{}", put.question.skill.code())) }
                    <span class="soft">{ " " }{ props.why.clone() }</span>
                </h2>
            }
            <QuestionForm words={words.clone()} put={put.clone()} draft={(*draft).clone()} marked={(*marked).clone()} refused={*refused} sources={!is_plain} {on_draft} />
            if *refused {
                <p class="refused" role="alert" id="question-nothing">{ words.get(if matches!(put.question.task, Task::Number(_)) { Word::QuestionNoFigure } else { Word::QuestionNothing }) }</p>
            }
            // Two buttons and never one: the press that goes on must not answer what comes next.
            <p class="ways">
                if marked.is_some() {
                    <button key="next" type="button" id="next-question" class="main" aria-describedby="verdict" onclick={on_next}>{ words.get(if *is_plain { Word::WearerGoOn } else { Word::QuestionNext }) }</button>
                } else {
                    <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                }
                if !is_quiet && !is_plain {
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                }
            </p>
        </form>
    }
}
