//! Short drills: read a log, name what it came to, say what comes next.

use crate::{
    edge::{clock, page},
    hooks::{use_answers, use_digits},
    parts::drill::{DrillLines, answer_form, verdict},
    screen::Screen,
    shell::Around,
    words::Word,
};
use bittersweet_core::{
    act::NextStep,
    drill::{Drill, Level, Marked, Named, drill},
    rulebook::Agent,
    wire::answer_v1::{AnswerV1, Asked},
};
use std::rc::Rc;
use yew::prelude::*;

/// How many answers say how well it goes.
const LATEST: usize = 2;

/// Properties of [`Drills`].
#[derive(Properties, PartialEq)]
pub(crate) struct DrillsProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// What was named so far.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Answer {
    /// The threshold or the result.
    pub(crate) named: Option<Named>,
    /// What comes next.
    pub(crate) next: Option<NextStep>,
}

/// The screen.
#[component]
pub(crate) fn Drills(props: &DrillsProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (_, add) = use_answers(&keeper);
    let agent = use_state(|| Agent::Sweet);
    let level = use_state(|| Level::One);
    let answer = use_state(Answer::default);
    let marked = use_state(|| None::<Marked>);
    let latest = use_state(Vec::<Marked>::new);
    let sitting = use_state(|| (0_u32, 0_u32));
    let refused = use_state(|| false);
    let seed = use_state(clock::new_seed);
    let one = use_memo((*seed, agent.code(), level.code()), {
        let (agent, level) = (*agent, *level);
        move |(seed, ..)| drill(*seed, agent, level).map(Rc::new)
    });
    let Some(one) = (*one).clone() else { return Html::default() };

    let give = {
        let (one, answer, marked, latest, sitting, refused, agent) =
            (Rc::clone(&one), *answer, marked.clone(), latest.clone(), sitting.clone(), refused.clone(), *agent);
        move || {
            let Some(named) = answer.named.filter(|_| one.offered.is_empty() || answer.next.is_some()) else {
                refused.set(true);
                return;
            };
            if marked.is_some() {
                return;
            }
            let result = one.mark(named, answer.next);
            let (all, right) = *sitting;
            sitting.set((all + 1, right + u32::from(result.credit().is_whole())));
            latest.set(latest.iter().rev().take(LATEST - 1).rev().copied().chain([result]).collect());
            add.emit(AnswerV1 {
                asked: Asked::Drill,
                id: format!("{}-{}", one.level.code(), one.seed),
                revision: 1,
                skill: one.skill(),
                agent,
                credit: result.credit(),
                day: clock::today(),
            });
            marked.set(Some(result));
        }
    };
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
        let (one, answer, marked, choose) = (Rc::clone(&one), *answer, *marked, choose.clone());
        Callback::from(move |place: usize| {
            if marked.is_some() {
                return;
            }
            // First what it came to, and then what comes next.
            if answer.named.is_none() || one.offered.is_empty() {
                let named = Named::of(one.asks).get(place).copied();
                choose.emit(Answer { named: named.or(answer.named), ..answer });
            } else {
                choose.emit(Answer { next: one.offered.get(place).copied().or(answer.next), ..answer });
            }
        })
    };
    use_digits(true, digits);
    let on_submit = {
        let give = give.clone();
        move |event: SubmitEvent| {
            event.prevent_default();
            give();
        }
    };
    let fresh = {
        let (answer, marked, refused) = (answer.clone(), marked.clone(), refused.clone());
        move || {
            answer.set(Answer::default());
            marked.set(None);
            refused.set(false);
        }
    };
    let on_next = {
        let (seed, level, latest, fresh) = (seed.clone(), level.clone(), latest.clone(), fresh.clone());
        move |_: MouseEvent| {
            let next = Drill::level_after(*level, &latest);
            if next != *level {
                // Counted anew on the new level.
                latest.set(Vec::new());
                level.set(next);
            }
            seed.set(clock::new_seed());
            fresh();
            page::focus("drill-title");
        }
    };
    let on_agent = {
        let (agent, fresh) = (agent.clone(), fresh.clone());
        move |event: Event| {
            agent.set(Agent::from_code(&page::chosen(&event)).unwrap_or(Agent::Sweet));
            fresh();
        }
    };
    let on_level = {
        let (level, latest) = (level.clone(), latest.clone());
        move |event: Event| {
            level.set(Level::from_code(&page::chosen(&event)).unwrap_or(Level::One));
            latest.set(Vec::new());
            fresh();
        }
    };
    let (all, right) = *sitting;
    html! {
        <article class="practice" data-agent={agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.get(Word::DrillTitle) }</h1>
            <p>{ words.get(Word::DrillLead) }</p>
            <p class="choices">
                <label>
                    { words.get(Word::QuestionsAgent) }
                    <select id="agent" onchange={on_agent}>
                        { for Agent::ALL.iter().copied().map(|one| html! {
                            <option value={one.code()} selected={one == *agent}>{ words.of(&format!("agent.{}.name", one.code())) }</option>
                        }) }
                    </select>
                </label>
                <label>
                    { words.get(Word::DrillLevel) }
                    <select id="level" onchange={on_level}>
                        { for Level::ALL.iter().copied().map(|one| html! {
                            <option value={one.code()} selected={one == *level}>{ words.of(&format!("drill-level.{}", one.code())) }</option>
                        }) }
                    </select>
                </label>
            </p>
            <form onsubmit={on_submit} data-asks={one.asks.code()} data-level={one.level.code()} data-seed={one.seed.to_string()}>
                <h2 id="drill-title" tabindex="-1">{ words.of(&format!("drill-asks.{}", one.asks.code())) }</h2>
                <DrillLines words={words.clone()} drill={Rc::clone(&one)} marked={marked.is_some()} />
                { answer_form(&words, &one, *answer, marked.is_some(), &choose) }
                if *refused {
                    <p class="refused" role="alert">{ words.get(Word::DrillNothing) }</p>
                }
                { for marked.as_ref().map(|marked| verdict(&words, &one, *marked)) }
                <p class="ways">
                    if marked.is_some() {
                        <button key="next" type="button" id="next-drill" class="main" onclick={on_next}>{ words.get(Word::DrillNext) }</button>
                    } else {
                        <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                    }
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                </p>
            </form>
            <p class="soft" id="sitting">{ words.fill(Word::QuestionsSitting, &[("all", &all.to_string()), ("right", &right.to_string())]) }</p>
        </article>
    }
}
