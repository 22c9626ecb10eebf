//! Short drills: read a log, name what it came to, say what comes next.

use crate::{
    edge::{clock, page},
    hooks::use_answers,
    parts::{one_drill::OneDrill, options::options},
    shell::Around,
    words::Word,
};
use bittersweet_core::{
    drill::{Drill, Level, Marked, drill},
    rulebook::Agent,
    wire::answer_v1::AnswerV1,
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
    /// On tests with which agent, to begin with.
    #[prop_or(Agent::Sweet)]
    pub(crate) with: Agent,
}

/// The screen.
#[component]
pub(crate) fn Drills(props: &DrillsProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (_, add) = use_answers(&keeper);
    let agent = use_state(|| props.with);
    let level = use_state(|| Level::One);
    let latest = use_state(Vec::<Marked>::new);
    let sitting = use_state(|| (0_u32, 0_u32));
    let seed = use_state(clock::new_seed);
    let one = use_memo((*seed, agent.code(), level.code()), {
        let (agent, level) = (*agent, *level);
        move |(seed, ..)| drill(*seed, agent, level).map(Rc::new)
    });
    let Some(one) = (*one).clone() else { return Html::default() };

    let on_answer = {
        let (latest, sitting) = (latest.clone(), sitting.clone());
        Callback::from(move |(answer, result): (AnswerV1, Marked)| {
            let (all, right) = *sitting;
            sitting.set((all + 1, right + u32::from(answer.credit.is_whole())));
            latest.set(latest.iter().rev().take(LATEST - 1).rev().copied().chain([result]).collect());
            add.emit(answer);
        })
    };
    let on_next = {
        let (seed, level, latest) = (seed.clone(), level.clone(), latest.clone());
        Callback::from(move |()| {
            let next = Drill::level_after(*level, &latest);
            if next != *level {
                // Counted anew on the new level.
                latest.set(Vec::new());
                level.set(next);
            }
            seed.set(clock::new_seed());
        })
    };
    let on_agent = {
        let agent = agent.clone();
        move |event: Event| agent.set(Agent::from_code(&page::chosen(&event)).unwrap_or(Agent::Sweet))
    };
    let on_level = {
        let level = level.clone();
        move |event: Event| {
            level.set(Level::from_code(&page::chosen(&event)).unwrap_or(Level::One));
            latest.set(Vec::new());
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
                        { options(Agent::ALL.iter().map(|one| (one.code(), words.agent(*one))), agent.code()) }
                    </select>
                </label>
                <label>
                    { words.get(Word::DrillLevel) }
                    <select id="level" onchange={on_level}>
                        { options(Level::ALL.iter().map(|one| (one.code(), words.of(&format!("drill-level.{}", one.code())))), level.code()) }
                    </select>
                </label>
            </p>
            <OneDrill
                key={format!("{}-{}-{}", one.level.code(), agent.code(), one.seed)} words={words.clone()} drill={Rc::clone(&one)}
                agent={*agent} takes_focus={all > 0} {on_answer} {on_next}
            />
            <p class="soft" id="sitting">{ words.fill(Word::QuestionsSitting, &[("all", &all.to_string()), ("right", &right.to_string())]) }</p>
        </article>
    }
}
