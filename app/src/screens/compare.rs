//! How the marks compare with the review of the run that was watched: what was found, what was not, which marks were no
//! fault, and the whole review.

use crate::{
    edge::{address, clock, left},
    parts::{
        logbook::lines,
        sheet::{Told, findings, noticing, one_finding, results, skills, whole_log},
    },
    screen::Screen,
    session::Session,
    shell::Around,
    watching::Watching,
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    observe::{Asked, Beside, Compared, Named, Slip, compare},
    review::{Review, of_run},
    scenario::Scenario,
    sign::{Seen, Sign},
    units::Ms,
    wire::run_v1::{Help, Pace},
};
use std::rc::Rc;
use yew::prelude::*;

/// The sheet.
pub(crate) fn comparison(around: &Around, watching: &Rc<Watching>, watch: &Callback<Watching>) -> Html {
    let words = around.words.clone();
    let review = of_run(watching.run());
    let compared = compare(watching.run(), &review, &watching.marks);
    let (scenario, log) = (watching.scenario(), watching.run().log());
    let lines = lines(&words, scenario, log, true);
    let told = Told {
        words: &words,
        scenario,
        book: &scenario.rulebook(),
        state: watching.run().state(),
        log: &lines,
        ways: None,
    };
    let page = Page { words: &words, scenario, told };
    let watch_again = {
        let (scenario, watch) = (Rc::clone(scenario), watch.clone());
        move |_: MouseEvent| {
            let again = Watching::begin(clock::new_id(), clock::iso_now(), Rc::clone(&scenario), clock::now_ms());
            again.into_iter().for_each(|again| watch.emit(again));
        }
    };
    let run_it = {
        let scenario = Rc::clone(scenario);
        move |_: MouseEvent| {
            let id = clock::new_id();
            let own = Rc::new(Scenario { colleague: None, ..(*scenario).clone() });
            let session = Session::begin(id.clone(), clock::iso_now(), own, Help::Guided, Pace::Real, clock::now_ms());
            left::put_json(left::DESK, &session.left(false));
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
                <p class="ways"><a class="way main" id="watch-on" href={Screen::Watch(watching.id.clone()).link()}>{ words.get(Word::CompareWatchOn) }</a></p>
            }
            <p class="lead" id="sum">{ sum(&words, &compared) }</p>
            { page.found(&compared) }
            { page.missed(&compared) }
            { page.beside(&compared, "no-fault", (Word::CompareNoFault, Word::CompareNoFaultLead), is_no_fault) }
            { page.beside(&compared, "as-well", (Word::CompareAsWell, Word::CompareAsWellLead), |beside| !is_no_fault(beside)) }
            <p class="ways">
                <button type="button" id="watch-again" onclick={watch_again}>{ words.get(Word::CompareAgain) }</button>
                <button type="button" id="run-it" class={watching.is_done().then_some("main")} onclick={run_it}>{ words.get(Word::CompareRunIt) }</button>
                <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
            </p>
            { page.whole_review(&review) }
            { whole_log(&page.told, &review, &marks) }
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
    told: Told<'a>,
}

impl Page<'_> {
    fn found(&self, compared: &Compared) -> Html {
        let words = self.words;
        let found = compared.found().map(|(asked, found)| {
            let named = match found.named {
                Named::Rightly => Word::CompareRightly,
                Named::Nearly => Word::CompareNearly,
            };
            let time = found.mark.at.to_string();
            let (slip, right) = (words.slip(found.mark.slip), words.slip(asked.slip));
            let named = words.fill(named, &[("time", &time), ("slip", &slip), ("right", &right)]);
            let rule = html! {
                <details>
                    <summary>{ words.get(Word::CompareRule) }</summary>
                    { self.findings(asked) }
                </details>
            };
            self.entry(asked.at(), asked.slip, Some(named), rule)
        });
        self.part("found", (Word::CompareFound, None), found.collect())
    }

    fn missed(&self, compared: &Compared) -> Html {
        let missed = compared.missed().map(|asked| self.entry(asked.at(), asked.slip, None, self.findings(asked)));
        self.part("missed", (Word::CompareMissed, None), missed.collect())
    }

    /// The other marks of a kind.
    fn beside(
        &self,
        compared: &Compared,
        id: &'static str,
        (title, lead): (Word, Word),
        is_of_them: fn(&Beside) -> bool,
    ) -> Html {
        let marks = compared.beside.iter().filter(|(_, beside)| is_of_them(beside));
        let marks =
            marks.map(|(mark, beside)| self.entry(mark.at, mark.slip, Some(self.became(beside)), Html::default()));
        self.part(id, (title, Some(lead)), marks.collect())
    }

    /// A part of the sheet; none where nothing is in it.
    fn part(&self, id: &'static str, (title, lead): (Word, Option<Word>), entries: Vec<Html>) -> Html {
        if entries.is_empty() {
            return Html::default();
        }
        let heading = format!("{id}-title");
        html! {
            <section aria-labelledby={heading.clone()} {id}>
                <h2 id={heading}>{ self.words.get(title) }</h2>
                { for lead.map(|lead| html! { <p>{ self.words.get(lead) }</p> }) }
                <ol class="findings">{ entries }</ol>
            </section>
        }
    }

    /// One thing in a part: when, what, what is said of it, and more.
    fn entry(&self, at: Ms, slip: Slip, said: Option<AttrValue>, more: Html) -> Html {
        html! {
            <li>
                <h3>{ clock_text(at) }{ " " }{ self.words.slip(slip) }</h3>
                { for said.map(|said| html! { <p>{ said }</p> }) }
                { more }
            </li>
        }
    }

    fn findings(&self, asked: &Asked) -> Html {
        let all = asked.findings.iter().map(|finding| one_finding(&self.told, finding));
        html! { <ul class="findings">{ for all }</ul> }
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
                <div>
                    <p>{ words.get(Word::CompareReviewLead) }</p>
                    { results(words, &review.calls) }
                    { findings(&self.told, review) }
                    { noticing(words, review) }
                    { skills(words, self.told.book, review, &[]) }
                </div>
            </details>
        }
    }
}
