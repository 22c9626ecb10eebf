//! Which question comes next: laws over drawn histories, and learners who go through a bank.

use bittersweet_core::{
    question::{
        Agents, Grounds, Options, Question, Task,
        choose::{IN_A_ROW, Past, REST, Why, next, open, strength, was_second_go},
        mark::Credit,
    },
    rulebook::RuleId,
    source::Skill,
};
use proptest::prelude::*;
use std::collections::BTreeSet;

/// A bank of so many questions of so many skills.
fn bank(questions: usize, skills: usize) -> Vec<Question> {
    let question = |number: usize| Question {
        id: format!("q-{number}"),
        revision: 1,
        skill: Skill::ALL[number % skills],
        agents: Agents::Both,
        grounds: Grounds::Rule(RuleId::FitHalf),
        now: true,
        difficulty: u8::try_from(5 + number * 7 % 80).expect("small"),
        task: Task::One(Options { letters: vec!['a', 'b', 'c'], right: vec!['a'] }),
    };
    (0..questions).map(question).collect()
}

fn past(question: &Question, right: bool, due: Option<u32>) -> Past {
    let credit = if right { Credit::ALL } else { Credit::NONE };
    Past { id: question.id.clone(), skill: question.skill, credit, due }
}

/// Banks, and histories of answers to their questions, some due and some not.
fn histories() -> impl Strategy<Value = (Vec<Question>, Vec<Past>)> {
    (1_usize..24, 1_usize..8).prop_flat_map(|(questions, skills)| {
        let answer = (0..questions, any::<bool>(), proptest::option::of(90_u32..110));
        proptest::collection::vec(answer, 0..60).prop_map(move |answers| {
            let bank = bank(questions, skills);
            let history = answers.iter().map(|(number, right, due)| past(&bank[*number], *right, *due)).collect();
            (bank, history)
        })
    })
}

/// Answers since a question was last asked.
fn since(history: &[Past], id: &str) -> Option<usize> {
    history.iter().rev().position(|past| past.id == id)
}

const TODAY: u32 = 100;

proptest! {
    #![proptest_config(crate::random::config(200))]

    #[test]
    fn it_is_never_the_last_one_again((bank, history) in histories(), seed in any::<u64>()) {
        let (question, _) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
        if bank.len() > 1 {
            prop_assert_ne!(Some(&question.id), history.last().map(|past| &past.id));
        }
        // And it rests as long as there are others to do that have rested.
        let rested = |question: &Question| since(&history, &question.id).is_none_or(|since| since >= REST);
        let waits = |other: &Question| rested(other) && open(std::slice::from_ref(other), &history, TODAY) == 1;
        prop_assert!(rested(question) || !bank.iter().any(waits));
    }

    #[test]
    fn what_is_due_comes_first_and_the_longest_due_before_the_others((bank, history) in histories(), seed in any::<u64>()) {
        let (question, why) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
        let last = |question: &Question| history.iter().rev().find(|past| past.id == question.id);
        let due = |question: &Question| last(question).and_then(|past| past.due).filter(|due| *due <= TODAY);
        let rested = |question: &Question| since(&history, &question.id).is_none_or(|since| since >= REST);
        let waiting: Vec<&Question> = bank.iter().filter(|one| rested(one) && due(one).is_some()).collect();
        prop_assert!(why == Why::Due || waiting.is_empty());
        if why == Why::Due && rested(question) {
            let same = waiting.iter().filter(|one| one.skill == question.skill);
            prop_assert!(same.filter_map(|one| due(one)).all(|other| due(question) <= Some(other)));
        }
    }

    #[test]
    fn what_went_wrong_comes_before_what_is_new((bank, history) in histories(), seed in any::<u64>()) {
        let (_, why) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
        let wrong = |question: &Question| {
            history.iter().rev().find(|past| past.id == question.id).is_some_and(|past| !past.credit.is_whole())
        };
        let waits = bank.iter().any(|one| wrong(one) && since(&history, &one.id).is_some_and(|since| since >= REST));
        // But not twice in a row, where there is something new.
        prop_assert!(!waits || why <= Why::Retry || (why == Why::New && was_second_go(&history)));
    }

    #[test]
    fn of_what_is_new_the_weakest_skill_is_asked_about((bank, history) in histories(), seed in any::<u64>()) {
        let (question, why) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
        if why == Why::New {
            let latest: BTreeSet<Skill> = history.iter().rev().take(IN_A_ROW).map(|past| past.skill).collect();
            let is_tired = |skill: Skill| history.len() >= IN_A_ROW && latest.len() == 1 && latest.contains(&skill);
            let fresh = bank.iter().filter(|one| since(&history, &one.id).is_none());
            let weakest = fresh.filter(|one| !is_tired(one.skill)).map(|one| strength(one.skill, &history)).min();
            prop_assert_eq!(weakest.unwrap_or_else(|| strength(question.skill, &history)), strength(question.skill, &history));
        }
    }

    #[test]
    fn a_skill_gives_way_to_others_that_are_as_urgent((bank, history) in histories(), seed in any::<u64>()) {
        let (question, why) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
        let latest: Vec<Skill> = history.iter().rev().take(IN_A_ROW).map(|past| past.skill).collect();
        if why != Why::Again && latest == [question.skill; IN_A_ROW] {
            let as_urgent = bank.iter().filter(|one| since(&history, &one.id).is_none_or(|since| since >= REST));
            let mut others = as_urgent.filter(|one| one.skill != question.skill);
            prop_assert!(others.all(|one| next(seed, std::slice::from_ref(one), &history, TODAY).map(|(_, why)| why) != Some(why)));
        }
    }

    #[test]
    fn the_same_history_brings_the_same_question((bank, history) in histories(), seed in any::<u64>()) {
        let first = next(seed, &bank, &history, TODAY).map(|(question, why)| (question.id.clone(), why));
        let again = next(seed, &bank, &history, TODAY).map(|(question, why)| (question.id.clone(), why));
        prop_assert_eq!(first, again);
    }

    /// Somebody who gets some wrong at first goes on until nothing is open: each was asked, what went wrong came back soon, and
    /// little was asked that need not have been.
    #[test]
    fn a_learner_goes_through_the_whole_bank(seed in any::<u64>(), wrong in 0_u64..4, questions in 8_usize..40) {
        let bank = bank(questions, 4);
        let mut history: Vec<Past> = Vec::new();
        while open(&bank, &history, TODAY) > 0 {
            prop_assert!(history.len() < 3 * questions, "there is no end to it");
            let (question, _) = next(seed, &bank, &history, TODAY).expect("there is something to ask");
            let first = since(&history, &question.id).is_none();
            let step = u64::try_from(history.len()).expect("it fits");
            history.push(past(question, !first || (seed ^ step) % 4 >= wrong, None));
        }
        for (place, one) in history.iter().enumerate().filter(|(_, one)| !one.credit.is_whole()) {
            let between = history[place + 1..].iter().position(|other| other.id == one.id);
            // Those that went wrong before it come first.
            prop_assert!(between.is_some_and(|between| (1..=2 * REST).contains(&between)), "{:?}", between);
        }
        let wrong = history.iter().filter(|past| !past.credit.is_whole()).count();
        prop_assert!(history.len() <= questions + wrong + 1, "{} for {} and {} again", history.len(), questions, wrong);
    }
}

#[test]
fn an_empty_bank_has_nothing_to_ask() {
    assert!(next(1, &[], &[], TODAY).is_none());
}

#[test]
fn where_nothing_is_due_and_all_was_right_it_is_said_so() {
    let bank = bank(6, 3);
    let history: Vec<Past> = bank.iter().map(|question| past(question, true, Some(TODAY + 1))).collect();
    assert_eq!(next(1, &bank, &history, TODAY).map(|(_, why)| why), Some(Why::Again));
    // A day later they are due.
    assert_eq!(next(1, &bank, &history, TODAY + 1).map(|(_, why)| why), Some(Why::Due));
}

#[test]
fn an_untouched_skill_stands_in_the_middle() {
    let bank = bank(2, 2);
    assert_eq!(strength(Skill::Running, &[]), 500);
    let right: Vec<Past> = (0..8).map(|_| past(&bank[0], true, None)).collect();
    assert_eq!(strength(bank[0].skill, &right), 900);
    assert_eq!(strength(bank[1].skill, &right), 500);
}
