//! The record of practice, on paper: who practised what and how it went, and beside it a blank checklist for whoever observes.
//!
//! Nothing that the teaching model reckons stands on it, and nothing that could be taken for a certificate.

use crate::{
    edge::{clock, page},
    hooks::{use_answers, use_outcomes},
    parts::{ready, runs::assessments},
    screen::Screen,
    shell::{Around, Keeper},
    words::{Word, Words},
};
use bittersweet_core::{
    question::choose::Day,
    readiness::readiness,
    rulebook::Agent,
    wire::{answer_v1::AnswerV1, outcome_v1::OutcomeV1},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// Under this the name is kept on the device.
const NAME: &str = "name";

/// So many runs stand on the paper, the latest ones.
const RUNS: usize = 12;

/// Properties of [`Record`].
#[derive(Properties, PartialEq)]
pub(crate) struct RecordProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// The name as it was typed, and how to change it. It is kept on this device and goes nowhere else.
#[hook]
fn use_name(keeper: &Keeper) -> (AttrValue, Callback<AttrValue>) {
    let name = use_state(AttrValue::default);
    // What was typed meanwhile is not undone by what is read only then.
    let has_typed = use_mut_ref(|| false);
    use_effect_with(keeper.store().is_some(), {
        let (keeper, name, has_typed) = (keeper.clone(), name.clone(), Rc::clone(&has_typed));
        move |_| {
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    // Whoever has typed none yet may have one on this device.
                    let typed = store.setting(NAME).await.ok().flatten();
                    if !*has_typed.borrow() {
                        name.set(typed.unwrap_or_else(|| store.learner().name.clone()).into());
                    }
                });
            }
        }
    });
    let change = {
        let (keeper, name) = (keeper.clone(), name.clone());
        Callback::from(move |typed: AttrValue| {
            has_typed.replace(true);
            name.set(typed.clone());
            if let Some(store) = keeper.store() {
                spawn_local(async move {
                    // What cannot be kept is typed again next time.
                    let _ = store.put_setting(NAME, &typed).await;
                });
            }
        })
    };
    ((*name).clone(), change)
}

/// The screen.
#[component]
pub(crate) fn Record(props: &RecordProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let outcomes = use_outcomes(&keeper);
    let (answers, _) = use_answers(&keeper);
    let (name, on_name) = use_name(&keeper);
    let oninput = on_name.reform(|event: InputEvent| event.target_unchecked_into::<HtmlInputElement>().value().into());
    let print = |_: MouseEvent| page::print();
    let inner = match (&outcomes, &answers) {
        (Some(outcomes), Some(answers)) if outcomes.is_empty() && answers.is_empty() => {
            html! { <p id="nothing-yet">{ words.get(Word::PaperEmpty) }</p> }
        }
        (Some(outcomes), Some(answers)) => html! {
            <>
                { facts(&words, &name, answers, outcomes) }
                { shows(&words, outcomes, clock::today()) }
                { latest(&words, outcomes) }
            </>
        },
        _ => html! { <p role="status">{ words.get(Word::ProgressReading) }</p> },
    };
    html! {
        <article class="paper">
            <h1 id="heading" tabindex="-1">{ words.get(Word::PaperTitle) }</h1>
            <p class="states">{ words.get(Word::PaperStates) }</p>
            <p class="choices">
                <label>
                    { words.get(Word::PaperName) }
                    <input type="text" id="name" value={name} {oninput} maxlength="80" autocomplete="name" aria-describedby="name-kept" />
                </label>
                <span class="soft" id="name-kept">{ words.get(Word::PaperNameKept) }</span>
            </p>
            <p class="ways">
                <button type="button" id="print" class="main" onclick={print}>{ words.get(Word::PaperPrint) }</button>
                <a class="way" href={Screen::Progress.link()}>{ words.get(Word::PaperProgress) }</a>
            </p>
            { inner }
            { checklist(&words) }
        </article>
    }
}

/// Who, when and how much.
fn facts(words: &Words, name: &AttrValue, answers: &[AnswerV1], outcomes: &[OutcomeV1]) -> Html {
    let days = || outcomes.iter().map(|outcome| outcome.day).chain(answers.iter().map(|answer| answer.day));
    let (Some(from), Some(to)) = (days().min(), days().max()) else { return Html::default() };
    let earnest = outcomes.iter().filter(|outcome| outcome.evidence.is_as_in_earnest()).count();
    let right = answers.iter().filter(|answer| answer.credit.is_whole()).count();
    let (all, right) = (answers.len().to_string(), right.to_string());
    let rows = [
        (Word::PaperWho, name.clone()),
        (Word::PaperMade, clock::date(clock::today()).into()),
        (Word::PaperFrom, clock::date(from).into()),
        (Word::PaperTo, clock::date(to).into()),
        (Word::PaperRuns, outcomes.len().to_string().into()),
        (Word::PaperEarnest, earnest.to_string().into()),
        (Word::PaperAssessments, assessments(outcomes).to_string().into()),
        (Word::PaperAnswers, words.fill(Word::PaperAnswersRight, &[("all", &all), ("right", &right)])),
    ];
    html! {
        <dl class="facts">
            { for rows.into_iter().map(|(word, value)| html! { <div><dt>{ words.get(word) }</dt><dd>{ value }</dd></div> }) }
        </dl>
    }
}

/// What the practice shows with each agent.
fn shows(words: &Words, outcomes: &[OutcomeV1], today: Day) -> Html {
    html! {
        <section aria-labelledby="shows-title">
            <h2 id="shows-title">{ words.get(Word::PaperReady) }</h2>
            { for Agent::ALL.iter().map(|agent| {
                let readiness = readiness(*agent, outcomes, today);
                html! {
                    <div key={agent.code()} class="shows" data-agent={agent.code()}>
                        <h3>{ words.agent(*agent) }</h3>
                        <p>{ ready::verdict(words, &readiness) }{ " " }{ ready::rests_on(words, &readiness) }{ " " }{ for ready::until(words, &readiness) }</p>
                    </div>
                }
            }) }
            <p class="soft">{ words.get(Word::CautionJudges) }</p>
        </section>
    }
}

/// The latest runs, one a row.
fn latest(words: &Words, outcomes: &[OutcomeV1]) -> Html {
    if outcomes.is_empty() {
        return Html::default();
    }
    let shown = outcomes.len().min(RUNS);
    let heads = [
        Word::PaperDay,
        Word::PaperWearer,
        Word::PaperAgent,
        Word::PaperHelp,
        Word::PaperPace,
        Word::PaperResult,
        Word::PaperStands,
    ];
    html! {
        <section aria-labelledby="latest-title">
            <h2 id="latest-title">{ words.get(Word::PaperLatest) }</h2>
            <p class="soft">{ words.fill(Word::PaperLatestOf, &[("shown", &shown.to_string()), ("all", &outcomes.len().to_string())]) }</p>
            <div class="wide latest" tabindex="0" role="group" aria-labelledby="latest-title">
                <table>
                    <thead><tr>{ for heads.into_iter().map(|head| html! { <th scope="col">{ words.get(head) }</th> }) }</tr></thead>
                    <tbody>{ for outcomes.iter().rev().take(RUNS).map(|outcome| row(words, outcome)) }</tbody>
                </table>
            </div>
        </section>
    }
}

fn row(words: &Words, outcome: &OutcomeV1) -> Html {
    let evidence = &outcome.evidence;
    let stands = evidence.gravest.map(|(_, gravity)| words.of(&format!("gravity.{}", gravity.code())));
    let mut help = words.of(&format!("help.{}", evidence.help.code())).to_string();
    if evidence.hints > 0 {
        help = format!("{help}, {}", words.fill_counts(Word::RunsHints, &[("number", evidence.hints)]));
    }
    if outcome.set.is_some() {
        help = format!("{help}, {}", words.get(Word::RunsSet));
    }
    html! {
        <tr key={outcome.run.clone()}>
            <td><time datetime={clock::iso_date(outcome.day)}>{ clock::short_date(outcome.day) }</time></td>
            <th scope="row">{ words.scenario_named(&outcome.scenario) }</th>
            <td>{ words.taste(evidence.agent) }</td>
            <td>{ help }</td>
            <td>{ words.get(if evidence.real_pace { Word::RunsReal } else { Word::RunsNotReal }) }</td>
            <td data-name={words.get(Word::PaperResult)}>{ words.fill_counts(Word::PaperResultOf, &[("right", evidence.right), ("given", evidence.given)]) }</td>
            <td data-name={words.get(Word::PaperStands)}>{ stands.unwrap_or_else(|| words.get(Word::PaperStandsNone)) }</td>
        </tr>
    }
}

/// Where a line of the checklist comes from; nowhere, where it is common practice.
const ABLE: Option<&str> = Some("App. A I.B.1(a)");
const TOLD: Option<&str> = Some("App. A I.A.12");
const CLEAN: Option<&str> = Some("App. A I.B.1(b); 1910.134(h)(1)(iv)");

/// What a qualified observer looks at, and what asks for it.
const CHECKS: [(Word, Option<&str>); 16] = [
    (Word::ChecklistMix, ABLE),
    (Word::ChecklistFill, ABLE),
    (Word::ChecklistSqueeze, ABLE),
    (Word::ChecklistSpray, None),
    (Word::ChecklistClog, ABLE),
    (Word::ChecklistBrief, TOLD),
    (Word::ChecklistHood, ABLE),
    (Word::ChecklistScreen, ABLE),
    (Word::ChecklistSeal, ABLE),
    (Word::ChecklistTest, ABLE),
    (Word::ChecklistInvalid, ABLE),
    (Word::ChecklistStop, None),
    (Word::ChecklistClean, CLEAN),
    (Word::ChecklistFirst, None),
    (Word::ChecklistSecond, None),
    (Word::ChecklistThird, None),
];

/// The checklist, blank.
fn checklist(words: &Words) -> Html {
    let heads =
        [Word::ChecklistDone, Word::ChecklistWhat, Word::ChecklistBasis, Word::ChecklistBy, Word::ChecklistDate];
    html! {
        <section class="checklist" aria-labelledby="checklist-title">
            <h2 id="checklist-title">{ words.get(Word::ChecklistTitle) }</h2>
            <p>{ words.get(Word::ChecklistLead) }</p>
            <div class="wide" tabindex="0" role="group" aria-labelledby="checklist-title">
                <table>
                    <thead><tr>{ for heads.into_iter().map(|head| html! { <th scope="col">{ words.get(head) }</th> }) }</tr></thead>
                    <tbody>
                        { for CHECKS.into_iter().map(|(what, source)| html! {
                            <tr>
                                <td><span class="box" /></td>
                                <th scope="row">{ words.get(what) }</th>
                                <td>{ source.map_or_else(|| words.get(Word::ChecklistPractice), |source| words.source(source)) }</td>
                                <td class="fill" />
                                <td class="fill" />
                            </tr>
                        }) }
                    </tbody>
                </table>
            </div>
            <p class="soft">{ words.get(Word::ChecklistFoot) }</p>
        </section>
    }
}
