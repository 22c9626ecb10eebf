//! How the marks compare with the review of the run that was watched: what was found, what was not, which marks were no
//! fault, and the whole review.

use crate::{
    edge::{address, clock},
    parts::logbook::{Line, lines},
    screen::Screen,
    screens::review::{findings, noticing, one_finding, results, skills, whole_log},
    session::{DeskAction, Session},
    shell::Around,
    watching::{LookoutAction, Watching},
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    observe::{Asked, Beside, Compared, Found, Mark, Named, compare},
    review::{Finding, Review, of_run},
    rulebook::Rulebook,
    scenario::Scenario,
    sign::{Seen, Sign},
    units::Ms,
    wire::run_v1::{Help, Pace},
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Comparison`].
#[derive(Properties)]
pub(crate) struct ComparisonProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// What was watched.
    pub(crate) watching: Rc<Watching>,
}

impl PartialEq for ComparisonProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.watching, &other.watching)
    }
}

/// The sheet.
#[component]
pub(crate) fn Comparison(props: &ComparisonProps) -> Html {
    let Around { words, desk, lookout, .. } = props.around.clone();
    let watching = Rc::clone(&props.watching);
    let compared = use_memo((watching.id.clone(), watching.lines(), watching.run().log().len()), |_| {
        let review = of_run(watching.run());
        let compared = compare(watching.run(), &review, &watching.marks);
        (review, compared)
    });
    let (review, compared) = (&compared.0, &compared.1);
    let (scenario, log) = (watching.scenario(), watching.run().log());
    let page = Page { words: &words, scenario, book: &scenario.rulebook(), log: &lines(&words, scenario, log, true) };
    let watch_again = {
        let scenario = Rc::clone(scenario);
        move |_: MouseEvent| {
            let id = clock::new_id();
            let again = Watching::begin(id.clone(), clock::iso_now(), Rc::clone(&scenario), clock::now_ms());
            if let Some(again) = again {
                lookout.dispatch(LookoutAction::Watch(Box::new(again)));
                address::go(&Screen::Watch(id).address());
            }
        }
    };
    let run_it = {
        let scenario = Rc::clone(scenario);
        move |_: MouseEvent| {
            let id = clock::new_id();
            let own = Rc::new(Scenario { colleague: None, ..(*scenario).clone() });
            let session = Session::begin(id.clone(), clock::iso_now(), own, Help::Guided, Pace::Real, clock::now_ms());
            desk.dispatch(DeskAction::Lay(Box::new(session)));
            address::go(&Screen::Rehearse(id).address());
        }
    };
    let marks: Vec<(Ms, AttrValue)> = watching
        .marks
        .iter()
        .map(|mark| (mark.at, words.fill(Word::CompareYouMarked, &[("slip", &words.slip(mark.slip))])))
        .collect();
    html! {
        <article class="review" data-agent={scenario.agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.fill(Word::CompareTitle, &[("wearer", &words.scenario_title(scenario))]) }</h1>
            if !watching.is_done() {
                <p class="notice">{ words.get(Word::CompareNotDone) }</p>
            }
            <p class="lead" id="sum">{ sum(&words, compared) }</p>
            { page.found(compared) }
            { page.missed(compared) }
            { page.beside(compared) }
            <p class="ways">
                <button type="button" id="watch-again" onclick={watch_again}>{ words.get(Word::CompareAgain) }</button>
                <button type="button" id="run-it" onclick={run_it}>{ words.get(Word::CompareRunIt) }</button>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
            { page.whole_review(review) }
            { whole_log(&words, scenario, log, review, &marks) }
        </article>
    }
}

/// How much was found, in a sentence.
fn sum(words: &Words, compared: &Compared) -> AttrValue {
    let all = compared.asked.len();
    let no_fault = compared.beside.iter().filter(|(_, beside)| is_no_fault(beside)).count();
    match (all, no_fault) {
        (0, 0) => words.get(Word::CompareSumClean),
        (0, _) => words.get(Word::CompareSumOver),
        _ => {
            let found = compared.found().count().to_string();
            words.fill(Word::CompareSum, &[("found", &found), ("all", &all.to_string())])
        }
    }
}

/// Whether a mark was laid to something that was as it should be.
const fn is_no_fault(beside: &Beside) -> bool {
    matches!(beside, Beside::Harmless(_) | Beside::Kept(_) | Beside::Nothing)
}

/// What all parts of the sheet are made from.
struct Page<'a> {
    words: &'a Words,
    scenario: &'a Scenario,
    book: &'a Rulebook,
    log: &'a [Line],
}

impl Page<'_> {
    fn finding(&self, finding: &Finding) -> Html {
        one_finding(self.words, self.book, finding, self.log)
    }

    fn found(&self, compared: &Compared) -> Html {
        let all: Vec<(&Asked, Found)> = compared.found().collect();
        if all.is_empty() {
            return Html::default();
        }
        let words = self.words;
        html! {
            <section aria-labelledby="found-title" id="found">
                <h2 id="found-title">{ words.get(Word::CompareFound) }</h2>
                <ol class="findings">
                    { for all.into_iter().map(|(asked, found)| {
                        let named = match found.named {
                            Named::Rightly => Word::CompareRightly,
                            Named::Nearly => Word::CompareNearly,
                        };
                        let values = [
                            ("time", found.mark.at.to_string()),
                            ("slip", words.slip(found.mark.slip).to_string()),
                            ("right", words.slip(asked.slip).to_string()),
                        ];
                        let values = values.each_ref().map(|(name, value)| (*name, value.as_str()));
                        html! {
                            <li key={format!("{}-{:?}", asked.slip.code(), asked.about)}>
                                <h3>{ clock_text(asked.at()) }{ " " }{ words.slip(asked.slip) }</h3>
                                <p class="right">{ words.fill(named, &values) }</p>
                                <details>
                                    <summary>{ words.get(Word::CompareRule) }</summary>
                                    <ul class="findings">{ for asked.findings.iter().map(|finding| self.finding(finding)) }</ul>
                                </details>
                            </li>
                        }
                    }) }
                </ol>
            </section>
        }
    }

    fn missed(&self, compared: &Compared) -> Html {
        let all: Vec<&Asked> = compared.missed().collect();
        if all.is_empty() {
            return Html::default();
        }
        let words = self.words;
        html! {
            <section aria-labelledby="missed-title" id="missed">
                <h2 id="missed-title">{ words.get(Word::CompareMissed) }</h2>
                <ol class="findings">
                    { for all.into_iter().map(|asked| html! {
                        <li key={format!("{}-{:?}", asked.slip.code(), asked.about)}>
                            <h3>{ clock_text(asked.at()) }{ " " }{ words.slip(asked.slip) }</h3>
                            <ul class="findings">{ for asked.findings.iter().map(|finding| self.finding(finding)) }</ul>
                        </li>
                    }) }
                </ol>
            </section>
        }
    }

    /// The other marks: first those that were no fault, then those that were right and not asked for.
    fn beside(&self, compared: &Compared) -> Html {
        let part = |id: &'static str, title: Word, lead: Word, no_fault: bool| {
            let marks: Vec<&(Mark, Beside)> =
                compared.beside.iter().filter(|(_, beside)| is_no_fault(beside) == no_fault).collect();
            if marks.is_empty() {
                return Html::default();
            }
            html! {
                <section aria-labelledby={format!("{id}-title")} {id}>
                    <h2 id={format!("{id}-title")}>{ self.words.get(title) }</h2>
                    <p>{ self.words.get(lead) }</p>
                    <ul class="findings">
                        { for marks.into_iter().enumerate().map(|(place, (mark, beside))| html! {
                            <li key={place}>
                                <h3>{ clock_text(mark.at) }{ " " }{ self.words.slip(mark.slip) }</h3>
                                <p>{ self.became(beside) }</p>
                            </li>
                        }) }
                    </ul>
                </section>
            }
        };
        html! {
            <>
                { part("no-fault", Word::CompareNoFault, Word::CompareNoFaultLead, true) }
                { part("as-well", Word::CompareAsWell, Word::CompareAsWellLead, false) }
            </>
        }
    }

    fn became(&self, beside: &Beside) -> AttrValue {
        let words = self.words;
        let seen = |seen: Seen| words.sign(Sign::Seen(seen), self.scenario);
        match beside {
            Beside::Again => words.get(Word::CompareBecameAgain),
            Beside::GoodPractice(finding) => {
                words.fill(Word::CompareBecameGood, &[("rule", &words.rule_says(finding.rule))])
            }
            Beside::PutRight(finding) => {
                words.fill(Word::CompareBecamePutRight, &[("rule", &words.rule_says(finding.rule))])
            }
            Beside::Harmless(harmless) => words.fill(Word::CompareBecameHarmless, &[("sign", &seen(*harmless))]),
            Beside::Kept(rule) => words.fill(Word::CompareBecameKept, &[("rule", &words.rule_says(*rule))]),
            Beside::Nothing => words.get(Word::CompareBecameNothing),
        }
    }

    fn whole_review(&self, review: &Review) -> Html {
        let words = self.words;
        html! {
            <details class="whole-review">
                <summary>{ words.get(Word::CompareReview) }</summary>
                { results(words, &review.calls) }
                { findings(words, self.book, review, self.log) }
                { noticing(words, review) }
                { skills(words, review) }
            </details>
        }
    }
}
