//! The question bank, fetched a skill at a time and each part once.

use crate::{
    edge::{language, site},
    parts::question::Put,
    words::Words,
};
use bittersweet_core::{
    question::{Question, Texts, ask::ask, read},
    refresh::{self, Card},
    rulebook::Agent,
    source::Skill,
    wire::answer_v1::{AnswerV1, Asked},
};
use std::{collections::BTreeMap, rc::Rc};
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// Questions with their texts.
#[derive(Debug, Default)]
pub(crate) struct Bank(BTreeMap<Skill, (Vec<Question>, Vec<Texts>)>);

/// What was fetched, and how far that went.
#[derive(Clone)]
pub(crate) enum Loading {
    Fetching,
    Ready(Rc<Bank>),
    Failed,
}

impl Loading {
    /// The bank, where it is there.
    pub(crate) fn ready(&self) -> Option<Rc<Bank>> {
        match self {
            Self::Ready(bank) => Some(Rc::clone(bank)),
            Self::Fetching | Self::Failed => None,
        }
    }
}

impl Bank {
    /// Every question that has its texts.
    pub(crate) fn questions(&self) -> impl Iterator<Item = &Question> {
        self.0.values().flat_map(|(questions, texts)| {
            questions.iter().filter(|question| texts.iter().any(|texts| texts.id == question.id))
        })
    }

    /// What was answered and can still be asked: questions come and go, and change.
    pub(crate) fn cards(&self, answers: &[AnswerV1]) -> Vec<Card> {
        let is_there = |card: &Card| match card.asked {
            Asked::Drill => true,
            Asked::Question => {
                self.questions().any(|question| question.id == card.id && question.revision == card.revision)
            }
        };
        refresh::cards(answers).into_iter().filter(is_there).collect()
    }

    fn texts(&self, question: &Question) -> Option<&Texts> {
        let (_, texts) = self.0.get(&question.skill)?;
        texts.iter().find(|texts| texts.id == question.id)
    }

    /// A question as it is put with this seed, in a test with this agent.
    pub(crate) fn put(&self, question: &Question, seed: u64, agent: Agent) -> Option<Put> {
        let texts = Rc::new(self.texts(question)?.clone());
        Some(Put { question: Rc::new(question.clone()), texts, asked: Rc::new(ask(seed, question, agent)) })
    }

    /// The same question in the words that were fetched now.
    pub(crate) fn reworded(&self, put: &Put) -> Option<Put> {
        Some(Put { texts: Rc::new(self.texts(&put.question)?.clone()), ..put.clone() })
    }
}

/// Fetches the questions of these skills, and their texts again in another language.
#[hook]
pub(crate) fn use_bank(words: &Words, skills: Vec<Skill>) -> Loading {
    use_parts(words, skills.into_iter().map(|skill| (skill, skill.code())).collect())
}

/// The same of parts of the bank by their names, each under a skill.
#[hook]
pub(crate) fn use_parts(words: &Words, parts: Vec<(Skill, &'static str)>) -> Loading {
    let loading = use_state(|| Loading::Fetching);
    let known = loading.ready();
    use_effect_with((words.clone(), parts), {
        let loading = loading.clone();
        let spoken = language::spoken();
        move |(_, parts)| {
            let parts = parts.clone();
            spawn_local(async move {
                loading.set(match fetch(&parts, &spoken, known.as_deref()).await {
                    Ok(bank) => Loading::Ready(Rc::new(bank)),
                    Err(error) => {
                        site::incomplete(&error);
                        Loading::Failed
                    }
                });
            });
        }
    });
    (*loading).clone()
}

/// Fetches what is not there yet. A damaged question is left out; the rest goes on.
async fn fetch(parts: &[(Skill, &str)], tag: &str, known: Option<&Bank>) -> Result<Bank, String> {
    let site = site::list().ok_or("the page does not list its parts")?;
    let list = site::fetch(&site.questions).await.map_err(|error| format!("{}: {error}", site.questions))?;
    let list: site::Questions = serde_json::from_str(&list).map_err(|error| format!("{}: {error}", site.questions))?;
    // A language without questions of its own, such as the one that shows what is not translated, has the English ones.
    let in_language = list.texts.get(tag).or_else(|| list.texts.get("en")).ok_or("no questions are listed")?;
    let mut bank = Bank::default();
    for (skill, name) in parts {
        let (Some(truth), Some(texts)) = (list.truth.get(*name), in_language.get(*name)) else { continue };
        let questions = match known.and_then(|bank| bank.0.get(skill)) {
            Some((questions, _)) => questions.clone(),
            None => {
                let text = site::fetch(truth).await.map_err(|error| format!("{truth}: {error}"))?;
                read::questions(Skill::from_code(name), &text).whole
            }
        };
        let text = site::fetch(texts).await.map_err(|error| format!("{texts}: {error}"))?;
        let texts = read::texts(&text, &questions).whole;
        bank.0.insert(*skill, (questions, texts));
    }
    Ok(bank)
}

#[cfg(test)]
impl Bank {
    /// The whole bank in English.
    pub(crate) fn whole() -> Self {
        use bittersweet_core::questions;
        let texts = |skill: Skill| {
            questions::TEXTS.iter().find(|(tag, of, _)| *tag == "en" && *of == skill.code()).map(|(.., json)| *json)
        };
        let rows = questions::TRUTH.iter().filter_map(|(skill, json)| {
            let skill = Skill::from_code(skill)?;
            let questions = read::questions(Some(skill), json).whole;
            let texts = read::texts(texts(skill)?, &questions).whole;
            Some((skill, (questions, texts)))
        });
        Self(rows.collect())
    }
}
