//! Questions, one after the other: what to do now, in words, figures, logs and pictures.

use crate::{
    edge::{clock, page},
    hooks::{
        bank::{Bank, Loading, use_bank},
        use_answers,
    },
    parts::{one_question::OneQuestion, options::options, question::Put},
    screen::Screen,
    shell::Around,
    words::Word,
};
use bittersweet_core::{
    question::{
        Question,
        choose::{self, Past, Why},
    },
    refresh,
    rulebook::Agent,
    source::Skill,
    wire::answer_v1::{AnswerV1, Asked as Kind},
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Questions`].
#[derive(Properties, PartialEq)]
pub(crate) struct QuestionsProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// On which skill, in tests with which agent, to begin with.
    #[prop_or_default]
    pub(crate) on: Option<(Skill, Agent)>,
}

/// Which questions are wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wanted {
    /// Of all skills.
    All,
    /// Of one skill.
    Of(Skill),
    /// What was not wholly right the last time.
    Wrong,
}

impl Wanted {
    fn code(self) -> &'static str {
        match self {
            Self::All => "all",
            Self::Wrong => "wrong",
            Self::Of(skill) => skill.code(),
        }
    }

    fn from_code(code: &str) -> Self {
        match code {
            "wrong" => Self::Wrong,
            code => Skill::from_code(code).map_or(Self::All, Self::Of),
        }
    }
}

/// The screen.
#[component]
pub(crate) fn Questions(props: &QuestionsProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (answers, add) = use_answers(&keeper);
    let wanted = use_state(|| props.on.map_or(Wanted::All, |(skill, _)| Wanted::Of(skill)));
    let agent = use_state(|| props.on.map_or(Agent::Sweet, |(_, agent)| agent));
    let put = use_state(|| None::<(Put, Why)>);
    let sitting = use_state(|| (0_u32, 0_u32));
    // Only the skills that are wanted are fetched.
    let loading = use_bank(
        &words,
        match *wanted {
            Wanted::Of(skill) => vec![skill],
            Wanted::All | Wanted::Wrong => Skill::ALL.to_vec(),
        },
    );
    let ready = loading.ready();

    // The next question, as soon as there is a bank and what was answered before is known.
    let next = {
        let (put, wanted, agent, answers) = (put.clone(), *wanted, *agent, answers.clone());
        move |bank: &Bank| {
            let Some(answers) = &answers else { return };
            let history = history(answers);
            let seed = clock::new_seed();
            let asked_of = candidates(bank, wanted, &history);
            let chosen = choose::next(seed, &asked_of, &history, clock::today())
                .and_then(|(question, why)| Some((bank.put(question, seed, agent)?, why)));
            put.set(chosen);
        }
    };
    let chosen_for = use_mut_ref(|| None);
    use_effect_with((ready.as_ref().map(Rc::as_ptr), answers.is_some(), wanted.code(), agent.code()), {
        let (ready, next, put) = (ready.clone(), next.clone(), put.clone());
        move |(_, is_known, wanted, agent)| {
            let Some(bank) = ready.filter(|_| *is_known) else { return };
            let still_wanted = chosen_for.replace(Some((*wanted, *agent))) == Some((*wanted, *agent));
            // In another language it is the same question.
            match put.as_ref().filter(|_| still_wanted).and_then(|(put, why)| Some((bank.reworded(put)?, *why))) {
                Some(reworded) => put.set(Some(reworded)),
                None => next(&bank),
            }
        }
    });

    let on_answer = {
        let sitting = sitting.clone();
        Callback::from(move |answer: AnswerV1| {
            let (all, right) = *sitting;
            sitting.set((all + 1, right + u32::from(answer.credit.is_whole())));
            add.emit(answer);
        })
    };
    let on_next = Callback::from(move |()| {
        if let Some(bank) = &ready {
            next(bank);
        }
    });
    let on_wanted = {
        let wanted = wanted.clone();
        move |event: Event| wanted.set(Wanted::from_code(&page::chosen(&event)))
    };
    let on_agent = {
        let agent = agent.clone();
        move |event: Event| agent.set(Agent::from_code(&page::chosen(&event)).unwrap_or(Agent::Sweet))
    };
    let (all, right) = *sitting;
    html! {
        <article class="practice" data-agent={agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.get(Word::QuestionsTitle) }</h1>
            <p>{ words.get(Word::QuestionsLead) }</p>
            <p class="choices">
                <label>
                    { words.get(Word::QuestionsWhich) }
                    <select id="which" onchange={on_wanted}>
                        { options([Wanted::All, Wanted::Wrong].into_iter().chain(Skill::ALL.iter().copied().map(Wanted::Of)).map(|one| {
                            let name = match one {
                                Wanted::All => words.get(Word::QuestionsAll),
                                Wanted::Wrong => words.get(Word::QuestionsWrong),
                                Wanted::Of(skill) => words.of(&format!("skill.{}", skill.code())),
                            };
                            (one.code(), name)
                        }), wanted.code()) }
                    </select>
                </label>
                <label>
                    { words.get(Word::QuestionsAgent) }
                    <select id="agent" onchange={on_agent}>
                        { options(Agent::ALL.iter().map(|one| (one.code(), words.agent(*one))), agent.code()) }
                    </select>
                </label>
            </p>
            { match (&loading, &*put) {
                // What happened stands above the page.
                (Loading::Failed, _) => Html::default(),
                (Loading::Ready(_), Some((put, why))) => html! {
                    <OneQuestion
                        key={put.asked.seed.to_string()} words={words.clone()} put={put.clone()}
                        takes_focus={all > 0} why={words.of(&format!("why.{}", why.code()))} {on_answer} {on_next}
                    />
                },
                (Loading::Ready(_), None) if answers.is_some() => html! {
                    <>
                        <p id="none-left">{ words.get(Word::QuestionsNone) }</p>
                        <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
                    </>
                },
                _ => html! { <p role="status">{ words.get(Word::QuestionsFetching) }</p> },
            } }
            <p class="soft" id="sitting">{ words.fill(Word::QuestionsSitting, &[("all", &all.to_string()), ("right", &right.to_string())]) }</p>
        </article>
    }
}

/// What was answered before, as the choice of the next one needs it, and when each is to be refreshed.
fn history(answers: &[AnswerV1]) -> Vec<Past> {
    let cards = refresh::cards(answers);
    let due =
        |id: &str| cards.iter().rfind(|card| card.asked == Kind::Question && card.id == id).map(refresh::Card::due);
    let questions = answers.iter().filter(|answer| answer.asked == Kind::Question);
    questions
        .map(|answer| Past { id: answer.id.clone(), skill: answer.skill, credit: answer.credit, due: due(&answer.id) })
        .collect()
}

/// The questions from which the next one is chosen.
fn candidates(bank: &Bank, wanted: Wanted, history: &[Past]) -> Vec<Question> {
    let went_wrong = |question: &Question| {
        history.iter().rev().find(|past| past.id == question.id).is_some_and(|past| !past.credit.is_whole())
    };
    bank.questions()
        .filter(|question| !matches!(wanted, Wanted::Of(of) if of != question.skill))
        .filter(|question| wanted != Wanted::Wrong || went_wrong(question))
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::question::mark::Credit;

    #[test]
    fn what_went_wrong_can_be_asked_for_alone() {
        let bank = Bank::whole();
        let questions: Vec<&Question> = bank.questions().filter(|one| one.skill == Skill::Watching).collect();
        let past = |number: usize, got: u8| Past {
            id: questions[number].id.clone(),
            skill: Skill::Watching,
            credit: Credit { got, of: 1 },
            due: None,
        };
        let history = [past(0, 0), past(1, 0), past(1, 1), past(2, 1)];
        let left: Vec<String> = candidates(&bank, Wanted::Wrong, &history).into_iter().map(|one| one.id).collect();
        assert_eq!(left, [questions[0].id.clone()]);
        assert!(candidates(&bank, Wanted::All, &history).len() > 40);
        assert!(candidates(&bank, Wanted::Of(Skill::Result), &history).iter().all(|one| one.skill == Skill::Result));
    }
}
