//! What was practised here and what it shows: who is ready, what to practise next, what has faded, how each skill went.

use crate::{
    begin::{Begin, Which},
    edge::{address, clock, page},
    hooks::{bank::use_bank, use_answers, use_outcomes},
    parts::{
        course,
        options::options,
        ready,
        runs::{Runs, assessments},
    },
    screen::Screen,
    screens::refresh::{come_back, minutes},
    shell::{Around, Keeping},
    words::{Word, Words},
};
use bittersweet_core::{
    interval::Interval,
    next::{How, Next, next},
    progress::{self, Course},
    readiness::{Overview, Readiness, Standing},
    refresh::{self, Card, Day},
    rulebook::Agent,
    source::Skill,
    wire::{
        answer_v1::AnswerV1,
        outcome_v1::OutcomeV1,
        run_v1::{Help, Pace},
    },
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Progress`].
#[derive(Properties, PartialEq)]
pub(crate) struct ProgressProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// How it stands with one agent.
struct WithAgent {
    readiness: Readiness,
    standings: Vec<Standing>,
    next: Option<Next>,
    course: Course,
}

fn reckon(agent: Agent, answers: &[AnswerV1], outcomes: &[OutcomeV1], today: Day) -> WithAgent {
    let overview = Overview::of(agent, answers, outcomes, today);
    let next = next(&overview, progress::last(agent, answers, outcomes));
    let Overview { readiness, skills: standings, .. } = overview;
    WithAgent { readiness, standings, next, course: progress::course(agent, answers, outcomes, today) }
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}

/// The agent that was practised with last.
fn latest(answers: &[AnswerV1], outcomes: &[OutcomeV1]) -> Agent {
    let run = outcomes.last().map(|outcome| (outcome.day, outcome.evidence.agent));
    let answer = answers.last().map(|answer| (answer.day, answer.agent));
    run.max(answer).map_or(Agent::Sweet, |(_, agent)| agent)
}

/// The screen.
#[component]
pub(crate) fn Progress(props: &ProgressProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let outcomes = use_outcomes(&keeper);
    let (answers, _) = use_answers(&keeper);
    let loading = use_bank(&words, Skill::ALL.to_vec());
    let chosen = use_state(|| None::<Agent>);
    let today = clock::today();
    let kept = outcomes.zip(answers);
    let reckoned = use_memo((kept.is_some(), today), |_| {
        let (outcomes, answers) = kept.as_ref()?;
        let all: Vec<WithAgent> = Agent::ALL.iter().map(|agent| reckon(*agent, answers, outcomes, today)).collect();
        Some(all)
    });
    let bank = loading.ready();
    let cards = use_memo((kept.is_some(), bank.as_ref().map(Rc::as_ptr)), |_| {
        let (_, answers) = kept.as_ref()?;
        Some(bank.as_ref()?.cards(answers))
    });

    let begin = Callback::from(move |agent: Agent| {
        let id = clock::new_id();
        let how = (Help::Unaided.code().to_owned(), Pace::Real.code().to_owned());
        Begin { id: id.clone(), which: Which::Drawn(agent.code().to_owned()), how }.leave();
        address::go(&Screen::Rehearse(id).address());
    });
    let on_agent = {
        let chosen = chosen.clone();
        Callback::from(move |event: Event| chosen.set(Agent::from_code(&page::chosen(&event))))
    };
    let inner = match (&kept, &*reckoned) {
        (Some((outcomes, answers)), Some(all)) if !(outcomes.is_empty() && answers.is_empty()) => {
            let agent = chosen.unwrap_or_else(|| latest(answers, outcomes));
            let counts = [
                ("runs", count(outcomes.len())),
                ("assessments", count(assessments(outcomes))),
                ("answers", count(answers.len())),
            ];
            html! {
                <>
                    <p id="practised">{ words.fill_counts(Word::RunsCount, &counts) }</p>
                    <section aria-labelledby="ready-title" class="ready">
                        <h2 id="ready-title">{ words.get(Word::ReadyTitle) }</h2>
                        <div class="agents">{ for all.iter().map(|one| with_agent(&words, one, &begin)) }</div>
                        { ready::explained(&words) }
                    </section>
                    { due(&words, cards.as_deref(), today) }
                    { for all.iter().find(|one| one.readiness.agent == agent).map(|one| over_time(&words, one, &on_agent)) }
                    <section aria-labelledby="runs-title">
                        <h2 id="runs-title">{ words.get(Word::RunsTitle) }</h2>
                        <Runs words={words.clone()} outcomes={Rc::clone(outcomes)} />
                    </section>
                    <p class="ways">
                        <a class="way" id="to-record" href={Screen::Record.link()}>{ words.get(Word::ProgressRecord) }</a>
                        <a class="way" href={Screen::Assess.link()}>{ words.get(Word::RunsAssess) }</a>
                        <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                    </p>
                </>
            }
        }
        (Some(_), _) => html! {
            <>
                <p id="nothing-yet">{ words.get(Word::ProgressEmpty) }</p>
                <p class="ways">
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::ProgressRehearse) }</a>
                    <a class="way" href={Screen::Questions.link()}>{ words.get(Word::HomeQuestions) }</a>
                    <a class="way" href={Screen::Drills.link()}>{ words.get(Word::HomeDrill) }</a>
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                </p>
            </>
        },
        (None, _) => html! { <p role="status">{ words.get(Word::ProgressReading) }</p> },
    };
    html! {
        <article class="progress">
            <h1 id="heading" tabindex="-1">{ words.get(Word::ProgressTitle) }</h1>
            <p>{ words.get(Word::ProgressLead) }</p>
            if matches!(keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::KeepMemory) }</p>
            }
            { inner }
        </article>
    }
}

/// Whether somebody is ready with an agent, on what that rests, and what comes next.
fn with_agent(words: &Words, one: &WithAgent, begin: &Callback<Agent>) -> Html {
    let readiness = &one.readiness;
    let agent = readiness.agent;
    html! {
        <section class="with-agent" data-agent={agent.code()} aria-labelledby={format!("ready-{}", agent.code())}>
            <h3 id={format!("ready-{}", agent.code())}>{ words.agent(agent) }</h3>
            <p class={if readiness.missing.is_none() { "verdict-line right" } else { "verdict-line" }}>{ ready::verdict(words, readiness) }</p>
            <p>{ ready::rests_on(words, readiness) }</p>
            { for ready::until(words, readiness).map(|until| html! { <p class="until">{ until }</p> }) }
            { for readiness.missing.as_ref().map(|missing| ready::missing(words, missing)) }
            { what_next(words, agent, one.next, begin) }
        </section>
    }
}

/// What to practise next, with the way to begin it.
fn what_next(words: &Words, agent: Agent, next: Option<Next>, begin: &Callback<Agent>) -> Html {
    let says = |word: Word, skill: Skill| words.fill(word, &[("skill", &words.of(&format!("skill.{}", skill.code())))]);
    let id = format!("next-{}", agent.code());
    let link = |screen: Screen, word: Word| {
        html! { <a class="way" id={id.clone()} href={screen.link()}>{ words.get(word) }</a> }
    };
    let (text, way) = match next {
        None => (words.get(Word::NextNothing), Html::default()),
        Some(Next { skill, how: How::Rehearsal }) => {
            let onclick = begin.reform(move |_: MouseEvent| agent);
            let button = html! { <button type="button" id={id.clone()} {onclick}>{ words.get(Word::NextBeginRehearsal) }</button> };
            (says(Word::NextRehearsal, skill), button)
        }
        Some(Next { skill, how: How::Questions }) => {
            (says(Word::NextQuestions, skill), link(Screen::QuestionsOn(skill, agent), Word::NextBeginQuestions))
        }
        Some(Next { skill, how: How::Drills }) => {
            (says(Word::NextDrills, skill), link(Screen::DrillsWith(agent), Word::NextBeginDrills))
        }
    };
    html! {
        <>
            <h4>{ words.get(Word::NextTitle) }</h4>
            <p>{ text }</p>
            <p class="ways">{ way }</p>
        </>
    }
}

/// What has faded; the bank says what of it can still be asked.
fn due(words: &Words, cards: Option<&[Card]>, today: Day) -> Html {
    let inner = cards.map_or_else(
        || html! { <p role="status">{ words.get(Word::QuestionsFetching) }</p> },
        |cards| {
            let sitting = refresh::sitting(cards, today);
            let number = (sitting.cards.len() + sitting.left).to_string();
            match sitting.cards.len() {
                0 => html! {
                    <>
                        <p id="due">{ words.get(if cards.is_empty() { Word::RefreshNothingYet } else { Word::RefreshNothing }) }</p>
                        { come_back(words, cards, today) }
                    </>
                },
                _ => html! {
                    <>
                        <p id="due">{ words.fill(Word::RefreshDue, &[("number", &number), ("minutes", &minutes(sitting.takes()))]) }</p>
                        <p class="ways"><a class="way" id="to-refresh" href={Screen::Refresh.link()}>{ words.get(Word::ProgressRefresh) }</a></p>
                    </>
                },
            }
        },
    );
    html! {
        <section aria-labelledby="due-title">
            <h2 id="due-title">{ words.get(Word::RefreshTitle) }</h2>
            { inner }
        </section>
    }
}

/// The eight skills with one agent.
fn over_time(words: &Words, one: &WithAgent, on_agent: &Callback<Event>) -> Html {
    let agent = one.readiness.agent;
    let Course { step, starts, skills } = &one.course;
    let periods = course::periods(*step, starts);
    html! {
        <section aria-labelledby="time-title" data-agent={agent.code()}>
            <h2 id="time-title">{ words.get(Word::ProgressOverTime) }</h2>
            <p class="choices">
                <label>
                    { words.get(Word::ProgressAgent) }
                    <select id="agent" onchange={on_agent.clone()}>
                        { options(Agent::ALL.iter().map(|one| (one.code(), words.agent(*one))), agent.code()) }
                    </select>
                </label>
            </p>
            <ul class="course-key">
                <li><svg class="runs" viewBox="-8 -8 16 16" width="16" height="16" aria-hidden="true"><rect x="-4" y="-4" width="8" height="8" /></svg>{ words.get(Word::ProgressKeyRuns) }</li>
                <li><svg viewBox="-8 -8 16 16" width="16" height="16" aria-hidden="true"><circle class="answers" r="4.5" /></svg>{ words.get(Word::ProgressKeyAnswers) }</li>
            </ul>
            <div class="courses">
                { for skills.iter().zip(&one.standings).map(|((skill, points), standing)| html! {
                    <section key={skill.code()} data-skill={skill.code()} aria-labelledby={format!("skill-{}", skill.code())}>
                        <h3 id={format!("skill-{}", skill.code())}>{ words.of(&format!("skill.{}", skill.code())) }</h3>
                        <p class="shown">{ shown(words, standing) }</p>
                        <p class="known">{ known(words, standing) }</p>
                        { course::course(words, *skill, *step, &periods, points) }
                    </section>
                }) }
            </div>
        </section>
    }
}

fn shown(words: &Words, standing: &Standing) -> AttrValue {
    let Some(kept) = standing.kept() else { return words.get(Word::ProgressShownNone) };
    let figures = [
        ("kept", standing.shown.kept),
        ("all", standing.shown.came_up),
        ("sure", ready::sure()),
        ("low", kept.low_percent()),
        ("high", kept.high_percent()),
    ];
    words.fill_counts(Word::ProgressShown, &figures)
}

fn known(words: &Words, standing: &Standing) -> AttrValue {
    if standing.answers == 0 {
        return words.get(Word::ProgressKnownNone);
    }
    let known = standing.known;
    let range = Interval { low: known.low, high: known.high };
    let figures = [
        ("number", standing.answers),
        ("likely", Interval { low: known.likely, high: known.likely }.low_percent()),
        ("low", range.low_percent()),
        ("high", range.high_percent()),
    ];
    words.fill_counts(Word::ProgressKnown, &figures)
}
