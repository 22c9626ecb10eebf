//! Assessments: the terms of a new one, set before it begins, and those that were sat here.

use crate::{
    edge::{address, clock, page},
    hooks::use_sittings,
    parts::options::options,
    screen::Screen,
    shell::{Around, Keeping},
    words::{Word, Words},
};
use bittersweet_core::{
    assessment::{BARS, Length, Limit, NUMBERS, Sitting, Step, Terms, result},
    rulebook::Agent,
    wire::run_v1::Pace,
};
use web_sys::HtmlInputElement;
use yew::prelude::*;

/// Properties of [`Assess`].
#[derive(Properties, PartialEq)]
pub(crate) struct AssessProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// The screen.
#[component]
pub(crate) fn Assess(props: &AssessProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (sittings, put) = use_sittings(&keeper);
    let terms = use_state(|| Terms {
        number: drawn_number(),
        agent: Agent::Sweet,
        length: Length::Short,
        pace: Pace::Real,
        limit: Limit::Usual,
        bar: 80,
    });
    let set = |change: fn(&mut Terms, &str)| {
        let terms = terms.clone();
        Callback::from(move |event: Event| {
            let mut changed = *terms;
            change(&mut changed, &page::chosen(&event));
            terms.set(changed);
        })
    };
    let on_number = {
        let terms = terms.clone();
        move |event: InputEvent| {
            let Some(input) = event.target_dyn_into::<HtmlInputElement>() else { return };
            let number = input.value().parse().ok().filter(|number| *number < NUMBERS);
            // What is no number of an assessment stands in the field; with it none begins.
            if let Some(number) = number {
                terms.set(Terms { number, ..*terms });
            }
        }
    };
    let on_begin = {
        let terms = *terms;
        move |event: SubmitEvent| {
            event.prevent_default();
            let id = clock::new_id();
            put.emit(Sitting::begin(id.clone(), terms, clock::epoch_ms(), clock::today()));
            address::go(&Screen::Sitting(id).address());
        }
    };
    let now = clock::epoch_ms();
    let list = |over: bool| -> Vec<Sitting> {
        let all = sittings.as_deref().map(Vec::as_slice).unwrap_or_default();
        all.iter().rev().filter(|sitting| (sitting.step(now) == Step::Over) == over).cloned().collect()
    };
    let (open, over) = (list(false), list(true));
    let Terms { number, agent, length, pace, limit, bar } = *terms;
    let codes = |all: &[&'static str], family: &str, chosen: &str| {
        options(all.iter().map(|code| (*code, words.of(&format!("{family}.{code}")))), chosen)
    };
    html! {
        <article class="assess" data-agent={agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.get(Word::AssessTitle) }</h1>
            <p>{ words.get(Word::AssessLead) }</p>
            if matches!(keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::AssessMemory) }</p>
                <p><a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a></p>
            } else {
                if !open.is_empty() {
                    <h2>{ words.get(Word::AssessOpen) }</h2>
                    <ul class="kept">{ for open.iter().map(|sitting| listed(&words, sitting, None, words.get(Word::AssessGoOn))) }</ul>
                }
                <h2>{ words.get(Word::AssessTerms) }</h2>
                <p>{ words.get(Word::AssessTermsText) }</p>
                <form class="terms" onsubmit={on_begin}>
                    <label>{ words.get(Word::QuestionsAgent) }
                        <select id="agent" onchange={set(|terms, code| terms.agent = Agent::from_code(code).unwrap_or(terms.agent))}>
                            { options(Agent::ALL.iter().map(|one| (one.code(), words.agent(*one))), agent.code()) }
                        </select>
                    </label>
                    <label>{ words.get(Word::AssessLength) }
                        <select id="length" onchange={set(|terms, code| terms.length = Length::from_code(code).unwrap_or(terms.length))}>
                            { codes(&Length::ALL.iter().map(|one| one.code()).collect::<Vec<_>>(), "assess-length", length.code()) }
                        </select>
                    </label>
                    <label>{ words.get(Word::HomePace) }
                        <select id="pace" onchange={set(|terms, code| terms.pace = Pace::from_code(code).unwrap_or(terms.pace))}>
                            { codes(&Pace::ALL.iter().map(|one| one.code()).collect::<Vec<_>>(), "pace", pace.code()) }
                        </select>
                    </label>
                    <label>{ words.get(Word::AssessLimit) }
                        <select id="limit" onchange={set(|terms, code| terms.limit = Limit::from_code(code).unwrap_or(terms.limit))}>
                            { codes(&Limit::ALL.iter().map(|one| one.code()).collect::<Vec<_>>(), "assess-limit", limit.code()) }
                        </select>
                    </label>
                    <label>{ words.get(Word::AssessBar) }
                        <select id="bar" onchange={set(|terms, code| terms.bar = code.parse().unwrap_or(terms.bar))}>
                            { options(BARS.iter().map(|one| (one.to_string(), format!("{one}%"))), &bar.to_string()) }
                        </select>
                    </label>
                    <label>{ words.get(Word::AssessNumber) }
                        <input type="text" inputmode="numeric" id="number" size="8" autocomplete="off" maxlength="6" required={true} pattern="[0-9]{1,6}" aria-describedby="about-number" value={number.to_string()} oninput={on_number} />
                    </label>
                    <p class="soft" id="about-number">{ words.get(Word::AssessNumberText) }</p>
                    <p>{ words.fill_counts(Word::AssessMinutes, &[("runs", length.runs()), ("drills", length.drills()), ("questions", length.questions()), ("minutes", terms.minutes())]) }</p>
                    <p class="ways">
                        <button type="submit" id="begin" class="main" disabled={sittings.is_none()}>{ words.get(Word::AssessBegin) }</button>
                        <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                    </p>
                </form>
                if !over.is_empty() {
                    <h2>{ words.get(Word::AssessSat) }</h2>
                    <ul class="kept">{ for over.iter().map(|sitting| {
                        let passed = result::of(sitting, now).is_some_and(|outcome| outcome.is_passed());
                        let came_to = words.get(if passed { Word::AssessPassed } else { Word::AssessNotPassed });
                        listed(&words, sitting, Some(came_to), words.get(Word::AssessSee))
                    }) }</ul>
                }
            }
        </article>
    }
}

fn drawn_number() -> u32 {
    u32::try_from(clock::new_seed() % u64::from(NUMBERS)).unwrap_or_default()
}

fn listed(words: &Words, sitting: &Sitting, came_to: Option<AttrValue>, said: AttrValue) -> Html {
    let number = sitting.terms.number.to_string();
    let title = words.fill(Word::AssessOne, &[("number", &number), ("date", &clock::date(sitting.day))]);
    let agent = words.agent(sitting.terms.agent);
    html! {
        <li key={sitting.id.clone()}>
            <span><strong>{ title.clone() }</strong>{ " " }<span class="soft">{ agent }</span></span>
            { for came_to.map(|came_to| html! { <strong>{ came_to }</strong> }) }
            <a class="way" href={Screen::Sitting(sitting.id.clone()).link()} aria-label={format!("{said}: {title}")}>{ said.clone() }</a>
        </li>
    }
}
