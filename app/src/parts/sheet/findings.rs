//! What was found: the three that matter first, the rest folded, and what was caught in time.

use crate::{
    parts::logbook::Line,
    words::{Word, Words, clock},
};
use bittersweet_core::{
    act::{Exercise, Threshold},
    happened::{Happened, happened, since},
    log::What,
    review::{Finding, Review},
    rulebook::{Rule, RuleId, Rulebook},
    scenario::Scenario,
    sign::Sign,
    state::State,
    units::Ms,
};
use std::slice;
use yew::prelude::*;

/// How many findings are shown before the rest is folded away.
const FIRST: usize = 3;

/// How long before a moment one begins again: time to do otherwise.
const RUN_UP: Ms = Ms::secs(10);

/// The moment from which somebody goes on who would do it otherwise: before all that the finding is about, and not only
/// before it was found.
pub(crate) fn before(scenario: &Scenario, state: &State, finding: &Finding) -> Ms {
    since(scenario, state, finding).since(RUN_UP)
}

/// What can be done about a moment.
#[derive(Clone)]
pub(crate) struct Ways {
    /// Shows the wearer at it.
    pub(crate) see: Callback<Ms>,
    /// Goes on anew from a moment.
    pub(crate) again: Callback<Ms>,
    /// Before it turned: the way back to there stands by itself, above the findings.
    pub(crate) turn: Option<Ms>,
}

/// The run that findings are told of.
pub(crate) struct Told<'a> {
    /// The words.
    pub(crate) words: &'a Words,
    /// The scenario.
    pub(crate) scenario: &'a Scenario,
    /// Its rules.
    pub(crate) book: &'a Rulebook,
    /// Where it stood in the end.
    pub(crate) state: &'a State,
    /// Its logbook.
    pub(crate) log: &'a [Line],
    /// What can be done about a moment; nothing where the run cannot be gone on with.
    pub(crate) ways: Option<&'a Ways>,
}

/// The three that matter first, the rest folded, and what was caught in time.
pub(crate) fn findings(told: &Told<'_>, review: &Review) -> Html {
    let words = told.words;
    let list = |findings: &[Finding]| findings.iter().map(|finding| one_finding(told, finding)).collect::<Html>();
    let (first, rest) = review.findings.split_at(review.findings.len().min(FIRST));
    html! {
        <section aria-labelledby="findings-title">
            <h2 id="findings-title">{ words.get(Word::ReviewFindings) }</h2>
            if first.is_empty() {
                <p>{ words.get(if review.put_right.is_empty() { Word::ReviewNothingFound } else { Word::ReviewNothingStands }) }</p>
            }
            <ol class="findings">{ list(first) }</ol>
            if !rest.is_empty() {
                <details>
                    <summary>{ words.fill(Word::ReviewRest, &[("number", &rest.len().to_string())]) }</summary>
                    <ol class="findings" start={(FIRST + 1).to_string()}>{ list(rest) }</ol>
                </details>
                // On paper nothing unfolds, and the timeline shows their numbers.
                <ol class="only-print rest" start={(FIRST + 1).to_string()}>
                    { for rest.iter().map(|finding| html! { <li>{ words.rule_says(finding.rule) }{ " (" }{ times(finding) }{ ")" }</li> }) }
                </ol>
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

/// The first line of a finding: what happened first, with its moment.
struct Head {
    at: Ms,
    says: AttrValue,
    whence: Whence,
}

/// What a finding is told from.
enum Whence {
    /// Figures and things that the logbook does not show.
    Figures,
    /// The act in the logbook that broke the rule.
    Log,
    /// The rule itself, since what happened is that it was not kept.
    Rule,
}

fn head(told: &Told<'_>, rule: &Rule, finding: &Finding) -> Head {
    let Told { words, scenario, .. } = told;
    let at_its_moment = |at: &Ms| Some((*at, happened(scenario, told.state, finding, *at)?));
    if let Some((at, one)) = finding.times.iter().find_map(at_its_moment) {
        return Head { at, says: in_words(words, scenario, &one), whence: Whence::Figures };
    }
    let at = finding.times.first().copied().unwrap_or(Ms::ZERO);
    // Of what stands at the same moment, the act that the rule governs says most.
    let governed = |line: &&Line| matches!(line.what, What::Act(act) if rule.governs.contains(&act.code().0));
    match last_lines(told, at).find(governed) {
        Some(line) => Head { at, says: line.text.clone(), whence: Whence::Log },
        None => Head { at, says: not_kept(words, rule.id), whence: Whence::Rule },
    }
}

/// The lines below it.
fn below(told: &Told<'_>, finding: &Finding, head: &Head) -> Vec<(Ms, AttrValue)> {
    let Told { words, scenario, .. } = told;
    match head.whence {
        // What happened again in the same way is said once.
        Whence::Figures => {
            let mut lines = vec![(head.at, head.says.clone())];
            for at in finding.times.iter().copied() {
                let says = happened(scenario, told.state, finding, at).map(|one| in_words(words, scenario, &one));
                lines.extend(says.filter(|says| lines.iter().all(|(_, other)| other != says)).map(|says| (at, says)));
            }
            lines.split_off(1)
        }
        Whence::Log => Vec::new(),
        // What was done then says more than what it was answered with.
        Whence::Rule => {
            let lines = last_lines(told, head.at);
            let done = lines.clone().rfind(|line| matches!(line.what, What::Act(_))).or(lines.last());
            done.map(|line| (line.at, words.fill(Word::ReviewLogThen, &[("line", &line.text)]))).into_iter().collect()
        }
    }
}

/// What stands in the logbook at the last moment up to then.
fn last_lines<'a>(told: &Told<'a>, at: Ms) -> slice::Iter<'a, Line> {
    let upto = told.log.get(..told.log.partition_point(|line| line.at <= at)).unwrap_or_default();
    let from = upto.iter().position(|line| upto.last().is_some_and(|last| line.at == last.at));
    upto.get(from.unwrap_or(0)..).unwrap_or_default().iter()
}

/// What happened first in a finding.
pub(crate) fn first_of(told: &Told<'_>, finding: &Finding) -> Option<AttrValue> {
    Some(head(told, told.book.rule(finding.rule)?, finding).says)
}

/// A finding at one of its moments, in a line that stands beside what the logbook shows: what happened, in the words that head
/// the finding, or else the rule.
pub(crate) fn remark(words: &Words, scenario: &Scenario, state: &State, finding: &Finding, at: Ms) -> AttrValue {
    happened(scenario, state, finding, at)
        .map_or_else(|| not_kept(words, finding.rule), |one| in_words(words, scenario, &one))
}

fn not_kept(words: &Words, rule: RuleId) -> AttrValue {
    words.fill(Word::ReviewNotKept, &[("says", &words.rule_says(rule))])
}

fn in_words(words: &Words, scenario: &Scenario, happened: &Happened) -> AttrValue {
    let threshold = |noted: &Threshold| words.of(&format!("threshold.{}", noted.code()));
    let exercise = |exercise: &Exercise| words.of(&format!("exercise.{}.name", exercise.code()));
    let say = |code: &str, values: &[(&str, &str)]| words.of_filled(&format!("happened.{code}"), values);
    match happened {
        Happened::Sprayed(role) => say("sprayed", &[("nebulizer", &words.of(&format!("role.{}", role.code())))]),
        Happened::Lasted(one, length) => {
            say("lasted", &[("exercise", &exercise(one)), ("length", &length.to_string())])
        }
        Happened::LeftOut(all) => {
            say("left-out", &[("exercise", &all.iter().map(exercise).collect::<Vec<_>>().join("; "))])
        }
        Happened::Worn(length) => say("worn", &[("length", &length.to_string())]),
        Happened::Squeezed(given, asked) => {
            say("squeezed", &[("given", &given.to_string()), ("asked", &asked.to_string())])
        }
        Happened::Missed(due) => say("missed", &[("due", &due.to_string())]),
        Happened::Begun(due, at) => say("begun", &[("due", &due.to_string()), ("length", &at.since(*due).to_string())]),
        Happened::Waited(length) => say("waited", &[("length", &length.to_string())]),
        Happened::Tasted(None, noted) => say("untasted", &[("threshold", &threshold(noted))]),
        Happened::Tasted(Some(count), noted) => {
            say("tasted", &[("count", &count.to_string()), ("threshold", &threshold(noted))])
        }
        Happened::Unanswered(seen) => say("unanswered", &[("sign", &words.sign(Sign::Seen(*seen), scenario))]),
        Happened::Reported(at, seen) => {
            say("reported", &[("time", &at.to_string()), ("sign", &words.sign(Sign::Seen(*seen), scenario))])
        }
        Happened::ByMouth(what, length) => {
            let what = words.of(&format!("mouthful.{}", what.code()));
            say("by-mouth", &[("what", &what), ("length", &length.to_string())])
        }
        Happened::OnlyNoted(noted) => say("only-noted", &[("threshold", &threshold(noted))]),
        Happened::NotScreened => say("not-screened", &[]),
    }
}

/// One finding: what happened and when, the rule that asks otherwise, why, and the rest small.
pub(crate) fn one_finding(told: &Told<'_>, finding: &Finding) -> Html {
    let (words, ways) = (told.words, told.ways);
    let Some(rule) = told.book.rule(finding.rule) else { return Html::default() };
    let head = head(told, rule, finding);
    let below = below(told, finding, &head);
    let with_time =
        |at: Ms, says: &AttrValue| html! { <><span class="at">{ clock(at) }</span>{ " " }{ says.clone() }</> };
    html! {
        <li key={format!("{}-{:?}", rule.id.code(), finding.about)} class="finding" data-gravity={finding.gravity.code()} data-rule={rule.id.code()}>
            <h3 class="says">
                <span class="gravity"><span class="sign" aria-hidden="true"></span>{ words.of(&format!("gravity.{}", finding.gravity.code())) }</span>
                { with_time(head.at, &head.says) }
            </h3>
            { for below.iter().map(|(at, says)| html! { <p>{ with_time(*at, says) }</p> }) }
            if !matches!(head.whence, Whence::Rule) {
                <p class="asks">{ words.fill(Word::ReviewAsks, &[("says", &words.rule_says(finding.rule))]) }</p>
            }
            <p>{ words.rule_why(finding.rule) }</p>
            <dl>
                <dt>{ words.get(Word::ReviewWhen) }</dt>
                <dd>{ words.about(finding.about) }{ ", " }{ times(finding) }</dd>
                <dt>{ words.get(Word::ReviewSource) }</dt>
                <dd>{ words.whence(rule.source, rule.basis, rule.reading) }</dd>
                <dt>{ words.get(Word::ReviewPush) }</dt>
                <dd>{ words.of(&format!("push.{}", rule.push.code())) }</dd>
                if let Some(practice) = practice(finding.rule) {
                    <dt>{ words.get(Word::ReviewPractice) }</dt>
                    <dd>{ words.get(practice) }</dd>
                }
            </dl>
            { for ways.map(|ways| to_the_moment(told, ways, finding)) }
        </li>
    }
}

/// Each of its moments.
fn times(finding: &Finding) -> String {
    finding.times.iter().map(Ms::to_string).collect::<Vec<_>>().join(", ")
}

/// The ways on from a finding.
fn to_the_moment(told: &Told<'_>, ways: &Ways, finding: &Finding) -> Html {
    let Told { words, scenario, state, .. } = told;
    let Ways { see, again, turn } = ways.clone();
    let (since, before) = (since(scenario, state, finding), before(scenario, state, finding));
    html! {
        <p class="ways">
            <button type="button" class="see" onclick={move |_: MouseEvent| see.emit(since)}>{ words.fill(Word::PlayerSee, &[("time", &clock(since))]) }</button>
            if turn != Some(before) {
                <button type="button" class="again" onclick={move |_: MouseEvent| again.emit(before)}>{ words.fill(Word::PlayerFromBefore, &[("time", &clock(before))]) }</button>
            }
        </p>
    }
}

/// Where many programmes do otherwise than the text, the review says so.
fn practice(rule: RuleId) -> Option<Word> {
    const ELSEWHERE: [(RuleId, Word); 2] =
        [(RuleId::NextDifferent, Word::PracticeRefit), (RuleId::FitJog, Word::PracticeJog)];
    ELSEWHERE.iter().find(|(other, _)| *other == rule).map(|(_, word)| *word)
}
