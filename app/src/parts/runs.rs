//! The runs that were ended here, latest first, some at a time.

use crate::{
    edge::{clock, page},
    screen::Screen,
    words::{Word, Words},
};
use bittersweet_core::wire::outcome_v1::OutcomeV1;
use std::rc::Rc;
use yew::prelude::*;

/// So many at a time.
const AT_A_TIME: usize = 20;

/// Properties of [`Runs`].
#[derive(Properties)]
pub(crate) struct RunsProps {
    /// The words.
    pub(crate) words: Words,
    /// Oldest first.
    pub(crate) outcomes: Rc<Vec<OutcomeV1>>,
}

impl PartialEq for RunsProps {
    fn eq(&self, other: &Self) -> bool {
        self.words == other.words && Rc::ptr_eq(&self.outcomes, &other.outcomes)
    }
}

/// The list.
#[component]
pub(crate) fn Runs(props: &RunsProps) -> Html {
    let RunsProps { words, outcomes } = props;
    let most = use_state(|| AT_A_TIME);
    let all = outcomes.len();
    let shown = all.min(*most);
    // What is new begins here, and has the focus that the button had.
    use_effect_with(*most, |most| {
        if *most > AT_A_TIME {
            page::focus(&format!("ended-{}", most - AT_A_TIME));
        }
    });
    let more = {
        let most = most.clone();
        move |_: MouseEvent| most.set(*most + AT_A_TIME)
    };
    if all == 0 {
        return html! { <p>{ words.get(Word::RunsNone) }</p> };
    }
    html! {
        <>
            <ol class="ended">
                { for outcomes.iter().rev().take(shown).enumerate().map(|(number, outcome)| one(words, number, outcome)) }
            </ol>
            <p class="soft" id="listed">{ words.fill(Word::RunsListed, &[("shown", &shown.to_string()), ("all", &all.to_string())]) }</p>
            if shown < all {
                <p class="ways"><button type="button" id="more-runs" onclick={more}>{ words.get(Word::RunsMore) }</button></p>
            }
        </>
    }
}

/// How many assessments runs belong to.
pub(crate) fn assessments(outcomes: &[OutcomeV1]) -> usize {
    let mut sets: Vec<&str> = Vec::new();
    for set in outcomes.iter().filter_map(|outcome| outcome.set.as_deref()) {
        // Runs of one follow each other closely, so it is found near the end. A tree would weigh more than it saves.
        if !sets.iter().rev().any(|other| *other == set) {
            sets.push(set);
        }
    }
    sets.len()
}

/// How a run was made, in a row.
fn manner(words: &Words, outcome: &OutcomeV1) -> String {
    let evidence = &outcome.evidence;
    let mut how = vec![words.of(&format!("help.{}", evidence.help.code()))];
    if evidence.hints > 0 {
        how.push(words.fill_counts(Word::RunsHints, &[("number", evidence.hints)]));
    }
    how.push(words.get(if evidence.real_pace { Word::RunsReal } else { Word::RunsNotReal }));
    if !evidence.whole {
        how.push(words.get(Word::RunsNotWhole));
    }
    if outcome.set.is_some() {
        how.push(words.get(Word::RunsSet));
    }
    let agent = words.agent(evidence.agent);
    let minutes = words.fill_counts(Word::RunsMinutes, &[("number", outcome.minutes)]);
    format!("{agent} · {} · {minutes}", how.join(", "))
}

fn one(words: &Words, number: usize, outcome: &OutcomeV1) -> Html {
    let evidence = &outcome.evidence;
    let title = words.scenario_named(&outcome.scenario);
    let date = clock::date(outcome.day);
    let stands = evidence.gravest.map(|(rule, gravity)| {
        let gravity = words.of(&format!("gravity.{}", gravity.code()));
        words.fill(Word::RunsStands, &[("says", &words.rule_says(rule)), ("gravity", &gravity)])
    });
    let watch = [
        ("caught", evidence.watch.caught),
        ("missed", evidence.watch.missed),
        ("passed", evidence.watch.let_pass),
        ("over", evidence.watch.over_called),
    ];
    html! {
        <li key={outcome.run.clone()}>
            <p><strong>{ title.clone() }</strong>{ " " }<time class="soft" datetime={clock::iso_date(outcome.day)}>{ date.clone() }</time></p>
            <p class="soft">{ manner(words, outcome) }</p>
            <p>{ words.fill_counts(Word::RunsResults, &[("right", evidence.right), ("given", evidence.given)]) }{ " " }{ words.fill_counts(Word::RunsWatch, &watch) }</p>
            <p class={if evidence.is_spoilt() { "wrong" } else { "" }}>{ stands.unwrap_or_else(|| words.get(Word::RunsStandsNone)) }</p>
            <p><a
                class="way" id={format!("ended-{number}")} href={Screen::Review(outcome.run.clone()).link()}
                aria-label={format!("{}: {title}, {date}", words.get(Word::RunsReview))}
            >{ words.get(Word::RunsReview) }</a></p>
        </li>
    }
}
