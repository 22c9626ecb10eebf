//! One drill: it is read, named once, and explained, unless that has to wait.

use crate::{
    edge::{clock, page},
    hooks::use_digits,
    parts::drill::{Answer, DrillLines, answer_form, takes_name, verdict},
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::{
    drill::{Drill, Marked, Named},
    rulebook::Agent,
    wire::answer_v1::{AnswerV1, Asked},
};
use std::rc::Rc;
use yew::prelude::*;

/// Where it is said that something has not been named yet.
const NOTHING: &str = "drill-nothing";

/// Properties of [`OneDrill`]. Another drill wants another key.
#[derive(Properties)]
pub(crate) struct OneDrillProps {
    /// The words.
    pub(crate) words: Words,
    /// The drill.
    pub(crate) drill: Rc<Drill>,
    /// With which agent.
    pub(crate) agent: Agent,
    /// Whether nothing is said of the answer: then the next one follows at once.
    #[prop_or_default]
    pub(crate) is_quiet: bool,
    /// Whether it takes the focus when it comes: the one before it had it.
    #[prop_or_default]
    pub(crate) takes_focus: bool,
    /// Takes the answer.
    pub(crate) on_answer: Callback<(AnswerV1, Marked)>,
    /// Goes on.
    pub(crate) on_next: Callback<()>,
}

impl PartialEq for OneDrillProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.drill, &other.drill)
            && self.words == other.words
            && self.on_answer == other.on_answer
            && self.takes_focus == other.takes_focus
            && self.on_next == other.on_next
    }
}

/// The drill.
#[component]
pub(crate) fn OneDrill(props: &OneDrillProps) -> Html {
    let OneDrillProps { words, drill, agent, is_quiet, .. } = props;
    let answer = use_state(Answer::default);
    let marked = use_state(|| None::<Marked>);
    let refused = use_state(|| false);
    use_effect_with(props.takes_focus, |takes_focus| {
        if *takes_focus {
            page::focus("drill-title");
        }
    });

    use_effect_with(marked.is_some(), |is_marked| {
        if *is_marked {
            page::focus("next-drill");
        }
    });
    let choose = {
        let (answer, refused) = (answer.clone(), refused.clone());
        Callback::from(move |chosen: Answer| {
            refused.set(false);
            answer.set(chosen);
        })
    };
    let digits = {
        let (drill, answer, is_open, choose) = (Rc::clone(drill), *answer, marked.is_none(), choose.clone());
        Callback::from(move |place: usize| {
            if !is_open {
            } else if takes_name(&drill, answer) {
                let named = Named::of(drill.asks).get(place).copied();
                choose.emit(Answer { named: named.or(answer.named), ..answer });
            } else {
                choose.emit(Answer { next: drill.offered.get(place).copied().or(answer.next), ..answer });
            }
        })
    };
    use_digits(true, digits);
    let on_submit = {
        let (drill, answer, marked, refused) = (Rc::clone(drill), *answer, marked.clone(), refused.clone());
        let (on_answer, on_next, is_quiet, agent) = (props.on_answer.clone(), props.on_next.clone(), *is_quiet, *agent);
        move |event: SubmitEvent| {
            event.prevent_default();
            if marked.is_some() {
                return;
            }
            let Some(named) = answer.named.filter(|_| drill.offered.is_empty() || answer.next.is_some()) else {
                refused.set(true);
                return;
            };
            let result = drill.mark(named, answer.next);
            let kept = AnswerV1 {
                asked: Asked::Drill,
                id: format!("{}-{}", drill.level.code(), drill.seed),
                revision: 1,
                skill: drill.skill(),
                agent,
                credit: result.credit(),
                day: clock::today(),
            };
            on_answer.emit((kept, result));
            if is_quiet {
                on_next.emit(());
            } else {
                marked.set(Some(result));
            }
        }
    };
    let on_next = props.on_next.reform(|_: MouseEvent| ());
    html! {
        <form onsubmit={on_submit} data-asks={drill.asks.code()} data-level={drill.level.code()} data-seed={drill.seed.to_string()}>
            <h2 id="drill-title" tabindex="-1" aria-describedby={is_quiet.then_some("step")}>{ words.of(&format!("drill-asks.{}", drill.asks.code())) }</h2>
            <DrillLines words={words.clone()} drill={Rc::clone(drill)} marked={marked.is_some()} />
            { answer_form(words, drill, *answer, marked.is_some(), refused.then_some(NOTHING), &choose) }
            if *refused {
                <p class="refused" role="alert" id={NOTHING}>{ words.get(Word::DrillNothing) }</p>
            }
            { for marked.as_ref().map(|marked| verdict(words, drill, *marked)) }
            <p class="ways">
                if marked.is_some() {
                    <button key="next" type="button" id="next-drill" class="main" aria-describedby="verdict" onclick={on_next}>{ words.get(Word::DrillNext) }</button>
                } else {
                    <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                }
                if !is_quiet {
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                }
            </p>
        </form>
    }
}
