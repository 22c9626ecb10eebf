//! Questions, one after the other: what to do now, in words, figures, logs and pictures.

use crate::{
    edge::{clock, language, page, site},
    hooks::{use_answers, use_digits},
    parts::question::{Draft, Put, QuestionForm},
    screen::Screen,
    shell::Around,
    words::Word,
};
use bittersweet_core::{
    question::{
        Question, Texts,
        ask::ask,
        choose::{self, Past, Why},
        mark::{Marked, mark},
        read,
    },
    rulebook::Agent,
    source::Skill,
    wire::answer_v1::{AnswerV1, Asked as Kind},
};
use std::{collections::BTreeMap, rc::Rc};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Properties of [`Questions`].
#[derive(Properties, PartialEq)]
pub(crate) struct QuestionsProps {
    /// What every screen is handed.
    pub(crate) around: Around,
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

/// Questions, and texts of them.
pub(crate) type Part = (Vec<Question>, Vec<Texts>);

/// Those of each skill.
type Bank = BTreeMap<Skill, Part>;

/// What was fetched, and how far that went.
#[derive(Clone)]
enum Loading {
    Fetching,
    Ready(Rc<Bank>),
    Failed(AttrValue),
}

/// The screen.
#[component]
pub(crate) fn Questions(props: &QuestionsProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (answers, add) = use_answers(&keeper);
    let wanted = use_state(|| Wanted::All);
    let agent = use_state(|| Agent::Sweet);
    let loading = use_state(|| Loading::Fetching);
    let put = use_state(|| None::<(Put, Why)>);
    let draft = use_state(|| None::<Draft>);
    let marked = use_state(|| None::<Rc<Marked>>);
    let sitting = use_state(|| (0_u32, 0_u32));
    let refused = use_state(|| false);

    // Only the skills that are wanted are fetched, and each once.
    let skills = match *wanted {
        Wanted::Of(skill) => vec![skill],
        Wanted::All | Wanted::Wrong => Skill::ALL.to_vec(),
    };
    use_effect_with((words.clone(), wanted.code()), {
        let loading = loading.clone();
        let known = match &*loading {
            Loading::Ready(bank) => Some(Rc::clone(bank)),
            Loading::Fetching | Loading::Failed(_) => None,
        };
        let spoken = language::spoken();
        move |_| {
            spawn_local(async move {
                loading.set(match fetch(&skills, &spoken, known.as_deref()).await {
                    Ok(bank) => Loading::Ready(Rc::new(bank)),
                    Err(error) => Loading::Failed(error.into()),
                });
            });
        }
    });

    // The next question, as soon as there is a bank and what was answered before is known.
    let next = {
        let (put, draft, marked, refused) = (put.clone(), draft.clone(), marked.clone(), refused.clone());
        let (wanted, agent, answers) = (*wanted, *agent, answers.clone());
        move |bank: &Bank| {
            let Some(answers) = &answers else { return };
            let history = history(answers);
            let seed = clock::new_seed();
            let asked_of = candidates(bank, wanted, &history);
            let chosen = choose::next(seed, &asked_of, &history, clock::today()).and_then(|(question, why)| {
                let (_, texts) = bank.get(&question.skill)?;
                let texts = Rc::new(texts_of(texts, question)?.clone());
                let asked = Rc::new(ask(seed, question, agent));
                Some((Put { question: Rc::new(question.clone()), texts, asked }, why))
            });
            draft.set(chosen.as_ref().map(|(put, _)| Draft::of(put)));
            put.set(chosen);
            marked.set(None);
            refused.set(false);
        }
    };
    let ready = match &*loading {
        Loading::Ready(bank) => Some(Rc::clone(bank)),
        Loading::Fetching | Loading::Failed(_) => None,
    };
    let chosen_for = use_mut_ref(|| None);
    use_effect_with((ready.as_ref().map(Rc::as_ptr), answers.is_some(), wanted.code(), agent.code()), {
        let (ready, next, put) = (ready.clone(), next.clone(), put.clone());
        move |(_, is_known, wanted, agent)| {
            let Some(bank) = ready.filter(|_| *is_known) else { return };
            let still_wanted = chosen_for.replace(Some((*wanted, *agent))) == Some((*wanted, *agent));
            // In another language it is the same question.
            match put.as_ref().filter(|_| still_wanted).and_then(|(put, why)| Some((reworded(put, &bank)?, *why))) {
                Some(reworded) => put.set(Some(reworded)),
                None => next(&bank),
            }
        }
    });

    let on_draft = Callback::from({
        let (draft, refused) = (draft.clone(), refused.clone());
        move |changed: Draft| {
            refused.set(false);
            draft.set(Some(changed));
        }
    });
    let give = {
        let (put, draft, marked, sitting, refused, add) =
            (put.clone(), draft.clone(), marked.clone(), sitting.clone(), refused.clone(), add);
        move || {
            let (Some((put, _)), Some(draft), None) = (&*put, &*draft, &*marked) else { return };
            let Some(answer) = draft.answer(&put.question) else {
                refused.set(true);
                return;
            };
            let result = mark(&put.question, &put.asked, &answer);
            let (all, right) = *sitting;
            sitting.set((all + 1, right + u32::from(result.credit.is_whole())));
            add.emit(AnswerV1 {
                asked: Kind::Question,
                id: put.question.id.clone(),
                revision: put.question.revision,
                skill: put.question.skill,
                agent: put.asked.agent,
                credit: result.credit,
                day: clock::today(),
            });
            marked.set(Some(Rc::new(result)));
        }
    };
    // Once it was answered, the way on has the focus: Enter answers, and Enter goes on.
    use_effect_with(marked.is_some(), |is_marked| {
        if *is_marked {
            page::focus("next-question");
        }
    });
    let digits = {
        let (put, draft, marked, on_draft) = (put.clone(), draft.clone(), marked.clone(), on_draft.clone());
        Callback::from(move |place: usize| {
            if let (Some((put, _)), Some(draft), None) = (&*put, &*draft, &*marked) {
                let mut changed = draft.clone();
                changed.choose(put, place);
                on_draft.emit(changed);
                page::focus(&format!("option-{place}"));
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
    let on_next = {
        let ready = ready.clone();
        move |_: MouseEvent| {
            if let Some(bank) = &ready {
                next(bank);
            }
            page::focus("question-title");
        }
    };
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
                        { for [Wanted::All, Wanted::Wrong].into_iter().chain(Skill::ALL.iter().copied().map(Wanted::Of)).map(|one| {
                            let name = match one {
                                Wanted::All => words.get(Word::QuestionsAll),
                                Wanted::Wrong => words.get(Word::QuestionsWrong),
                                Wanted::Of(skill) => words.of(&format!("skill.{}", skill.code())),
                            };
                            html! { <option value={one.code()} selected={one == *wanted}>{ name }</option> }
                        }) }
                    </select>
                </label>
                <label>
                    { words.get(Word::QuestionsAgent) }
                    <select id="agent" onchange={on_agent}>
                        { for Agent::ALL.iter().copied().map(|one| html! {
                            <option value={one.code()} selected={one == *agent}>{ words.of(&format!("agent.{}.name", one.code())) }</option>
                        }) }
                    </select>
                </label>
            </p>
            { match (&*loading, &*put, &*draft) {
                (Loading::Failed(error), ..) => html! { <p class="refused" role="alert">{ words.fill(Word::QuestionsFailed, &[("error", error)]) }</p> },
                (Loading::Ready(_), Some((put, why)), Some(draft)) => html! {
                    <form onsubmit={on_submit}>
                        <h2 id="question-title" tabindex="-1">
                            { words.of(&format!("skill.{}", put.question.skill.code())) }
                            <span class="soft">{ " " }{ words.of(&format!("why.{}", why.code())) }</span>
                        </h2>
                        <QuestionForm words={words.clone()} put={put.clone()} draft={draft.clone()} marked={(*marked).clone()} sources={true} {on_draft} />
                        if *refused {
                            <p class="refused" role="alert">{ words.get(Word::QuestionNothing) }</p>
                        }
                        // Two buttons and never one: the press that goes on must not answer what comes next.
                        <p class="ways">
                            if marked.is_some() {
                                <button key="next" type="button" id="next-question" class="main" onclick={on_next}>{ words.get(Word::QuestionNext) }</button>
                            } else {
                                <button key="give" type="submit" id="give" class="main">{ words.get(Word::QuestionGive) }</button>
                            }
                            <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                        </p>
                    </form>
                },
                (Loading::Ready(_), None, _) if answers.is_some() => html! {
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

pub(crate) fn texts_of<'a>(texts: &'a [Texts], question: &Question) -> Option<&'a Texts> {
    texts.iter().find(|texts| texts.id == question.id)
}

/// The same question in the words that were fetched now.
fn reworded(put: &Put, bank: &Bank) -> Option<Put> {
    let (_, texts) = bank.get(&put.question.skill)?;
    Some(Put { texts: Rc::new(texts_of(texts, &put.question)?.clone()), ..put.clone() })
}

/// What was answered before, as the choice of the next one needs it.
fn history(answers: &[AnswerV1]) -> Vec<Past> {
    let questions = answers.iter().filter(|answer| answer.asked == Kind::Question);
    questions
        .map(|answer| Past { id: answer.id.clone(), skill: answer.skill, credit: answer.credit, due: None })
        .collect()
}

/// The questions from which the next one is chosen.
fn candidates(bank: &Bank, wanted: Wanted, history: &[Past]) -> Vec<Question> {
    let went_wrong = |question: &Question| {
        history.iter().rev().find(|past| past.id == question.id).is_some_and(|past| !past.credit.is_whole())
    };
    bank.iter()
        .filter(|(skill, _)| !matches!(wanted, Wanted::Of(of) if of != **skill))
        .flat_map(|(_, (questions, texts))| questions.iter().filter(|question| texts_of(texts, question).is_some()))
        .filter(|question| wanted != Wanted::Wrong || went_wrong(question))
        .cloned()
        .collect()
}

/// Fetches what is not there yet. A damaged question is left out; the rest goes on.
async fn fetch(skills: &[Skill], tag: &str, known: Option<&Bank>) -> Result<Bank, String> {
    let list = list().await?;
    let mut bank = Bank::new();
    for skill in skills {
        let known = known.and_then(|bank| bank.get(skill)).map(|(questions, _)| questions.clone());
        if let Some(part) = part(&list, tag, skill.code(), known).await? {
            bank.insert(*skill, part);
        }
    }
    Ok(bank)
}

/// The questions for whoever is tested, with their texts.
pub(crate) async fn of_the_wearer(tag: &str) -> Result<Part, String> {
    Ok(part(&list().await?, tag, "wearer", None).await?.unwrap_or_default())
}

async fn list() -> Result<site::Questions, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let list = site::fetch(&site.questions).await.map_err(|error| format!("{}: {error}", site.questions))?;
    serde_json::from_str(&list).map_err(|error| format!("{}: {error}", site.questions))
}

/// The part of the bank with this name; only its texts are fetched where the questions are known.
async fn part(
    list: &site::Questions,
    tag: &str,
    name: &str,
    known: Option<Vec<Question>>,
) -> Result<Option<Part>, String> {
    // A language without questions of its own, such as the one that shows what is not translated, has the English ones.
    let in_language = list.texts.get(tag).or_else(|| list.texts.get("en")).ok_or("no questions are listed")?;
    let (Some(truth), Some(texts)) = (list.truth.get(name), in_language.get(name)) else { return Ok(None) };
    let questions = match known {
        Some(questions) => questions,
        None => {
            let text = site::fetch(truth).await.map_err(|error| format!("{truth}: {error}"))?;
            read::questions(Skill::from_code(name), &text).whole
        }
    };
    let text = site::fetch(texts).await.map_err(|error| format!("{texts}: {error}"))?;
    let texts = read::texts(&text, &questions).whole;
    Ok(Some((questions, texts)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{question::mark::Credit, questions};

    fn bank() -> Bank {
        let texts = |skill: Skill| {
            questions::TEXTS.iter().find(|(tag, of, _)| *tag == "en" && *of == skill.code()).map(|(.., json)| *json)
        };
        questions::TRUTH
            .iter()
            .filter_map(|(skill, json)| {
                let skill = Skill::from_code(skill)?;
                let questions = read::questions(Some(skill), json).whole;
                let texts = read::texts(texts(skill)?, &questions).whole;
                Some((skill, (questions, texts)))
            })
            .collect()
    }

    #[test]
    fn what_went_wrong_can_be_asked_for_alone() {
        let bank = bank();
        let (questions, _) = bank.get(&Skill::Watching).unwrap();
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
