//! The review: what was given beside what would have been right, what matters most, and how each skill stood.

use crate::{
    edge::{address, clock, file},
    parts::logbook::{Line, class_of, lines},
    screen::Screen,
    session::{DeskAction, Session},
    shell::Around,
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    hint::{self, Depth, Hint},
    log::{Entry, What},
    met,
    observe::Slip,
    review::{Called, Finding, Review, review},
    rulebook::{Rule, RuleId, Rulebook},
    scenario::Scenario,
    source::Skill,
    state::State,
    units::Ms,
    wire::run_v1,
};
use std::rc::Rc;
use yew::prelude::*;

/// How many findings are shown before the rest is folded away.
const FIRST: usize = 3;

/// Properties of [`Sheet`].
#[derive(Properties)]
pub(crate) struct SheetProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The run.
    pub(crate) session: Rc<Session>,
}

impl PartialEq for SheetProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.session, &other.session) && self.around.words == other.around.words
    }
}

/// The sheet.
#[component]
pub(crate) fn Sheet(props: &SheetProps) -> Html {
    let Around { words, desk, .. } = props.around.clone();
    let session = Rc::clone(&props.session);
    let scenario = Rc::clone(session.scenario());
    let reviewed = use_memo((session.id.clone(), session.log().len()), |_| review(&scenario, session.log()));
    let book = scenario.rulebook();
    let again = {
        let (session, desk) = (Rc::clone(&session), desk);
        move |_: MouseEvent| {
            let id = clock::new_id();
            let (help, pace) = (
                session.conditions.help,
                session.conditions.paces.first().map_or(run_v1::Pace::Real, |(_, pace)| *pace),
            );
            let next = Session::begin(
                id.clone(),
                clock::iso_now(),
                Rc::clone(session.scenario()),
                help,
                pace,
                clock::now_ms(),
            );
            desk.dispatch(DeskAction::Lay(Box::new(next)));
            address::go(&Screen::Rehearse(id).address());
        }
    };
    let failed = use_state(|| false);
    let save = {
        let (session, failed) = (Rc::clone(&session), failed.clone());
        move |_: MouseEvent| {
            let saved = match session.recorded {
                Some(_) => run_v1::of_log(session.scenario(), session.log(), &session.conditions),
                None => run_v1::save(&session.run, &session.conditions),
            };
            let text = serde_json::to_string_pretty(&saved).unwrap_or_default();
            failed
                .set(file::save(&format!("bittersweet-{}-{}.json", session.scenario().id, session.id), &text).is_err());
        }
    };
    html! {
        <article class="review" data-agent={scenario.agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.fill(Word::ReviewTitle, &[("wearer", &words.scenario_title(&scenario))]) }</h1>
            if session.recorded.is_some() {
                <p class="notice">{ words.get(Word::ReviewRecorded) }</p>
            }
            if !reviewed.finished {
                <p class="notice">{ words.get(Word::ReviewUnfinished) }</p>
            }
            { results(&words, &reviewed.calls) }
            { findings(&words, &book, &reviewed, &lines(&words, &scenario, session.log(), true)) }
            { noticing(&words, &reviewed) }
            { came_up(&words, &scenario, session.log()) }
            { skills(&words, &book, &reviewed, &session.conditions.hints) }
            if session.conditions.help == run_v1::Help::OnRequest {
                { helped(&words, &session.conditions.hints) }
            }
            <p class="ways">
                <button type="button" id="again" onclick={again}>{ words.get(Word::ReviewAgain) }</button>
                <button type="button" id="save-run" onclick={save}>{ words.get(Word::ReviewSave) }</button>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
            if *failed {
                <p class="refused" role="alert">{ words.get(Word::ReviewSaveFailed) }</p>
            }
            { whole_log(&words, &scenario, session.log(), &reviewed, &[]) }
            <p class="soft">{ words.fill(Word::ReviewRulebook, &[("part", book.part), ("version", &book.version.to_string()), ("hash", book.hash)]) }</p>
        </article>
    }
}

/// Results given beside the right ones.
pub(crate) fn results(words: &Words, calls: &[Called]) -> Html {
    html! {
        <section aria-labelledby="results-title">
            <h2 id="results-title">{ words.get(Word::ReviewResults) }</h2>
            if calls.is_empty() {
                <p>{ words.get(Word::ReviewNoResult) }</p>
            } else {
                <div class="wide" tabindex="0" role="group" aria-labelledby="results-title">
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">{ words.get(Word::ReviewOn) }</th>
                                <th scope="col">{ words.get(Word::ReviewGiven) }</th>
                                <th scope="col">{ words.get(Word::ReviewRight) }</th>
                                <th scope="col">{ words.get(Word::ReviewVerdict) }</th>
                            </tr>
                        </thead>
                        <tbody>
                            { for calls.iter().enumerate().map(|(number, call)| {
                                let right: Vec<AttrValue> = call.accepted.iter().map(|verdict| words.verdict(*verdict)).collect();
                                let right = if right.is_empty() { words.get(Word::ReviewNothingYet) } else { right.join(&words.get(Word::ReviewOr)).into() };
                                html! {
                                    <tr key={number}>
                                        <th scope="row">{ words.about(call.about) }{ " " }<span class="soft">{ clock_text(call.at) }</span></th>
                                        <td>{ words.verdict(call.given) }</td>
                                        <td>{ right }</td>
                                        <td class={if call.is_right() { "right" } else { "wrong" }}>
                                            { words.get(if call.is_right() { Word::ReviewIsRight } else { Word::ReviewIsWrong }) }
                                        </td>
                                    </tr>
                                }
                            }) }
                        </tbody>
                    </table>
                </div>
            }
        </section>
    }
}

/// The three that matter first, the rest folded, and what was caught in time.
pub(crate) fn findings(words: &Words, book: &Rulebook, review: &Review, log: &[Line]) -> Html {
    let list =
        |findings: &[Finding]| findings.iter().map(|finding| one_finding(words, book, finding, log)).collect::<Html>();
    let (first, rest) = review.findings.split_at(review.findings.len().min(FIRST));
    html! {
        <section aria-labelledby="findings-title">
            <h2 id="findings-title">{ words.get(Word::ReviewFindings) }</h2>
            if first.is_empty() {
                <p>{ words.get(Word::ReviewNothingFound) }</p>
            }
            <ol class="findings">{ list(first) }</ol>
            if !rest.is_empty() {
                <details>
                    <summary>{ words.fill(Word::ReviewRest, &[("number", &rest.len().to_string())]) }</summary>
                    <ol class="findings" start={(FIRST + 1).to_string()}>{ list(rest) }</ol>
                </details>
            }
            if !review.put_right.is_empty() {
                <h2>{ words.get(Word::ReviewPutRight) }</h2>
                <p>{ words.get(Word::ReviewPutRightText) }</p>
                <details>
                    <summary>{ words.fill(Word::ReviewPutRightList, &[("number", &review.put_right.len().to_string())]) }</summary>
                    <ul class="findings">{ list(&review.put_right) }</ul>
                </details>
            }
        </section>
    }
}

/// What stood in the logbook when a rule was broken: the act that broke it or, where it was left undone, what was done
/// instead.
fn happened(words: &Words, rule: &Rule, finding: &Finding, log: &[Line]) -> AttrValue {
    let at = finding.times.first().copied().unwrap_or(Ms::ZERO);
    let until = log.partition_point(|line| line.at <= at);
    let Some(line) = log.get(until.saturating_sub(1)) else { return words.get(Word::LogEmpty) };
    // Of what stands at the same moment, the act that the rule governs says most.
    let governed = |line: &&Line| matches!(line.what, What::Act(act) if rule.governs.contains(&act.code().0));
    let same_moment = log.iter().take(until).rev().take_while(|other| other.at == line.at);
    match same_moment.filter(governed).last() {
        Some(line) => line.text.clone(),
        None => words.fill(Word::ReviewNotBy, &[("time", &at.to_string()), ("line", &line.text)]),
    }
}

/// One finding: what it is, when, what happened, and by which rule.
pub(crate) fn one_finding(words: &Words, book: &Rulebook, finding: &Finding, log: &[Line]) -> Html {
    let Some(rule) = book.rule(finding.rule) else { return Html::default() };
    let times: Vec<AttrValue> = finding.times.iter().map(|at| clock_text(*at)).collect();
    html! {
        <li key={format!("{}-{:?}", rule.id.code(), finding.about)} class="finding" data-gravity={finding.gravity.code()} data-rule={rule.id.code()}>
            <p class="gravity"><span class="sign" aria-hidden="true"></span>{ words.of(&format!("gravity.{}", finding.gravity.code())) }</p>
            <p class="says">{ words.rule_says(finding.rule) }</p>
            <p>{ words.rule_why(finding.rule) }</p>
            <dl>
                <dt>{ words.get(Word::ReviewWhen) }</dt>
                <dd>{ words.about(finding.about) }{ ", " }{ times.join(", ") }</dd>
                <dt>{ words.get(Word::ReviewHappened) }</dt>
                <dd>{ happened(words, rule, finding, log) }</dd>
                <dt>{ words.get(Word::ReviewSource) }</dt>
                <dd>
                    { words.source(rule.source) }{ "; " }{ words.of(&format!("basis.{}", rule.basis.code())) }{ "; " }
                    { words.of(&format!("reading.{}", rule.reading.code())) }
                </dd>
                <dt>{ words.get(Word::ReviewPush) }</dt>
                <dd>{ words.of(&format!("push.{}", rule.push.code())) }</dd>
                if let Some(practice) = practice(finding.rule) {
                    <dt>{ words.get(Word::ReviewPractice) }</dt>
                    <dd>{ words.get(practice) }</dd>
                }
            </dl>
        </li>
    }
}

/// Where many programmes do otherwise than the text, the review says so.
fn practice(rule: RuleId) -> Option<Word> {
    const ELSEWHERE: [(RuleId, Word); 2] =
        [(RuleId::NextDifferent, Word::PracticeRefit), (RuleId::FitJog, Word::PracticeJog)];
    ELSEWHERE.iter().find(|(other, _)| *other == rule).map(|(_, word)| *word)
}

/// Four counts, kept apart.
pub(crate) fn noticing(words: &Words, review: &Review) -> Html {
    let watch = review.watch;
    let row =
        |word: Word, number: u32| html! { <div key={word.key()}><dt>{ words.get(word) }</dt><dd>{ number }</dd></div> };
    html! {
        <section aria-labelledby="watch-title">
            <h2 id="watch-title">{ words.get(Word::WatchTitle) }</h2>
            <dl class="counts">
                { row(Word::WatchCaught, watch.caught) }
                { row(Word::WatchMissed, watch.missed) }
                { row(Word::WatchLetPass, watch.let_pass) }
                { row(Word::WatchOverCalled, watch.over_called) }
            </dl>
        </section>
    }
}

/// The eight skills.
pub(crate) fn skills(words: &Words, book: &Rulebook, review: &Review, hints: &[Hint]) -> Html {
    let cost = hint::cost(book, hints);
    html! {
        <section aria-labelledby="skills-title">
            <h2 id="skills-title">{ words.get(Word::SkillsTitle) }</h2>
            <table>
                <thead>
                    <tr><th scope="col">{ words.get(Word::SkillsSkill) }</th><th scope="col">{ words.get(Word::SkillsKept) }</th></tr>
                </thead>
                <tbody>
                    { for Skill::ALL.iter().map(|skill| {
                        let tally = review.skills.get(skill).copied().unwrap_or_default();
                        let kept = if tally.came_up == 0 {
                            words.get(Word::SkillsNone)
                        } else {
                            words.fill(Word::SkillsOf, &[("kept", &tally.kept.to_string()), ("all", &tally.came_up.to_string())])
                        };
                        let less = cost.get(skill).map(|halves| words.fill(Word::HintSkillCost, &[("halves", &in_halves(*halves))]));
                        html! { <tr key={skill.code()}><th scope="row">{ words.of(&format!("skill.{}", skill.code())) }</th><td>{ kept }{ for less }</td></tr> }
                    }) }
                </tbody>
            </table>
        </section>
    }
}

/// `1`, `1½`, `½`.
fn in_halves(halves: u32) -> String {
    match (halves / 2, halves % 2) {
        (0, 1) => "½".to_owned(),
        (whole, 0) => whole.to_string(),
        (whole, _) => format!("{whole}½"),
    }
}

/// The help that was asked for.
fn helped(words: &Words, hints: &[Hint]) -> Html {
    html! {
        <section aria-labelledby="helped-title" class="helped">
            <h2 id="helped-title">{ words.get(Word::HintReview) }</h2>
            if hints.is_empty() {
                <p>{ words.get(Word::HintReviewNone) }</p>
            }
            <ol>
                { for hints.iter().enumerate().map(|(number, hint)| {
                    let said = match hint.depth {
                        Depth::Think => words.of(&format!("think.{}", Slip::of(hint.rule).code())),
                        Depth::Act => words.get(Word::HintReviewAct),
                    };
                    html! { <li key={number}>{ words.fill(Word::HintReviewLine, &[("time", &clock_text(hint.at)), ("question", &said)]) }</li> }
                }) }
            </ol>
        </section>
    }
}

/// What came up, harmless things included, with what a good conductor does about it and what poor answers lead to.
pub(crate) fn came_up(words: &Words, scenario: &Scenario, log: &[Entry]) -> Html {
    let met = met::met(scenario, &State::of(scenario.agent, log));
    html! {
        <section aria-labelledby="met-title" class="met">
            <h2 id="met-title">{ words.get(Word::MetTitle) }</h2>
            if met.is_empty() {
                <p>{ words.get(Word::MetNothing) }</p>
            } else {
                <details>
                    <summary>{ words.fill(Word::MetCount, &[("number", &met.len().to_string())]) }</summary>
                    <dl>
                        { for met.iter().map(|one| {
                            let code = one.kind.code();
                            let when = one.at.map_or_else(|| words.get(Word::MetUnseen), clock_text);
                            html! {
                                <div key={code} data-group={one.kind.entry().group.code()}>
                                    <dt>{ words.of(&format!("kind.{code}")) }{ " " }<span class="soft">{ when }</span></dt>
                                    <dd>{ words.of(&format!("trouble.{code}.good")) }</dd>
                                    <dd class="soft">{ words.get(Word::MetPoor) }{ " " }{ words.of(&format!("trouble.{code}.poor")) }</dd>
                                </div>
                            }
                        }) }
                    </dl>
                </details>
            }
        </section>
    }
}

/// The logbook with remarks in the margin, and with those that somebody else made beside it.
pub(crate) fn whole_log(
    words: &Words,
    scenario: &Scenario,
    log: &[Entry],
    review: &Review,
    others: &[(Ms, AttrValue)],
) -> Html {
    let findings: Vec<(Ms, RuleId)> = review
        .findings
        .iter()
        .chain(&review.put_right)
        .flat_map(|finding| finding.times.iter().map(|at| (*at, finding.rule)))
        .collect();
    // A remark stands beside the last entry at or before its moment.
    let remarks = |number: usize, entry: &Entry| -> Vec<AttrValue> {
        let until = log.get(number + 1).map_or(Ms(u32::MAX), |next| next.at);
        let here = |at: Ms| at >= entry.at && at < until;
        findings
            .iter()
            .filter(|(at, _)| here(*at))
            .map(|(_, rule)| words.rule_says(*rule))
            .chain(others.iter().filter(|(at, _)| here(*at)).map(|(_, text)| text.clone()))
            .collect()
    };
    html! {
        <details class="whole-log">
            <summary>{ words.get(Word::ReviewLog) }</summary>
            <div class="wide" tabindex="0" role="group" aria-label={words.get(Word::ReviewLog)}>
                <table>
                    <thead>
                        <tr><th scope="col">{ words.get(Word::ReviewTime) }</th><th scope="col">{ words.get(Word::ReviewWhat) }</th><th scope="col">{ words.get(Word::ReviewRemark) }</th></tr>
                    </thead>
                    <tbody>
                        { for log.iter().enumerate().map(|(number, entry)| {
                            let text = match entry.what {
                                What::Act(act) => words.act(act, scenario),
                                What::Sign(sign) => words.sign(sign, scenario),
                            };
                            html! {
                                <tr key={number} class={class_of(entry.what)}>
                                    <td class="at">{ clock_text(entry.at) }</td>
                                    <td>{ text }</td>
                                    <td>{ for remarks(number, entry).into_iter().map(|remark| html! { <p>{ remark }</p> }) }</td>
                                </tr>
                            }
                        }) }
                    </tbody>
                </table>
            </div>
        </details>
    }
}
