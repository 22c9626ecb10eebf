//! The whole logbook, with remarks in its margin.

use crate::{
    parts::logbook::{Line, class_of},
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    review::{Finding, Review},
    rulebook::RuleId,
    units::Ms,
};
use yew::prelude::*;

/// The logbook, squeezes in a row folded as in the run, with remarks in the margin, and with those that somebody else made beside it.
pub(crate) fn whole_log(words: &Words, log: &[Line], review: &Review, others: &[(Ms, AttrValue)]) -> Html {
    let of = |findings: &[Finding], put_right: bool| -> Vec<(Ms, RuleId, bool)> {
        findings.iter().flat_map(|finding| finding.times.iter().map(move |at| (*at, finding.rule, put_right))).collect()
    };
    let findings = [of(&review.findings, false), of(&review.put_right, true)].concat();
    // A remark stands beside the last line at or before its moment, and says when where that is later.
    let remarks = |number: usize, line: &Line| -> Vec<AttrValue> {
        let until = log.get(number + 1).map_or(Ms(u32::MAX), |next| next.at);
        let here = |at: Ms| at >= line.at && at < until;
        findings
            .iter()
            .filter(|(at, ..)| here(*at))
            .map(|(at, rule, put_right)| {
                let when = Some(clock_text(*at)).filter(|when| *when != clock_text(line.at));
                let when = when.map(|when| format!("{when} ")).unwrap_or_default();
                let put_right = put_right.then(|| format!("{}: ", words.get(Word::ReviewPutRight))).unwrap_or_default();
                let not_kept = words.fill(Word::ReviewNotKept, &[("says", &words.rule_says(*rule))]);
                AttrValue::from(format!("{when}{put_right}{not_kept}"))
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
