//! The whole logbook, with remarks in its margin.

use super::{Told, remark};
use crate::{
    parts::logbook::{Line, class_of},
    words::{Word, clock as clock_text},
};
use bittersweet_core::{review::Review, units::Ms};
use yew::prelude::*;

/// The logbook, squeezes in a row folded as in the run, with remarks in the margin, and with those that somebody else made beside it.
pub(crate) fn whole_log(told: &Told<'_>, review: &Review, others: &[(Ms, AttrValue)]) -> Html {
    let Told { words, log, .. } = told;
    let credit = format!("{}: ", words.get(Word::ReviewPutRight));
    let standing = review.findings.iter().map(|finding| (finding, ""));
    let put_right = review.put_right.iter().map(|finding| (finding, credit.as_str()));
    let mut findings: Vec<(Ms, AttrValue)> = Vec::new();
    for (finding, credit) in standing.chain(put_right) {
        let says = |at| format!("{credit}{}", remark(words, told.scenario, told.state, finding, at)).into();
        findings.extend(finding.times.iter().map(|at| (*at, says(*at))));
    }
    // A remark stands beside the last line at or before its moment, and says when where that is later.
    let remarks = |number: usize, line: &Line| -> Vec<AttrValue> {
        let until = log.get(number + 1).map_or(Ms(u32::MAX), |next| next.at);
        let here = |at: Ms| at >= line.at && at < until;
        findings
            .iter()
            .filter(|(at, _)| here(*at))
            .map(|(at, says)| {
                let when = Some(clock_text(*at)).filter(|when| *when != clock_text(line.at));
                when.map_or_else(|| says.clone(), |when| format!("{when} {says}").into())
            })
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
                        { for log.iter().enumerate().map(|(number, line)| html! {
                            <tr key={number} class={class_of(line.what)}>
                                <td class="at">{ clock_text(line.at) }</td>
                                <td>{ line.text.clone() }</td>
                                <td>{ for remarks(number, line).into_iter().map(|remark| html! { <p>{ remark }</p> }) }</td>
                            </tr>
                        }) }
                    </tbody>
                </table>
            </div>
        </details>
    }
}
