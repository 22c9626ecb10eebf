//! The whole logbook, with remarks in its margin.

use crate::{
    parts::logbook::class_of,
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    log::{Entry, What},
    review::Review,
    rulebook::RuleId,
    scenario::Scenario,
    units::Ms,
};
use yew::prelude::*;

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
