//! What the run's departures did to its fit tests: the pair of figures, always together, and each departure's share.
//!
//! The pair stands there at once; the shares follow one by one, so that the page stays ready meanwhile.

use crate::words::{Word, Words};
use bittersweet_core::{
    cost::{Chance, Cost, Figures, Range, Void},
    departure::Departure,
    state::About,
};
use gloo_timers::callback::Timeout;
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Costs`].
#[derive(Properties, PartialEq)]
pub(crate) struct CostsProps {
    /// The words.
    pub(crate) words: Words,
    /// The run's fit tests that came to a pass or a fail.
    pub(crate) costs: Rc<Vec<Cost>>,
}

/// All of them.
#[component]
pub(crate) fn Costs(props: &CostsProps) -> Html {
    let CostsProps { words, costs } = props;
    html! {
        <section aria-labelledby="cost-title" class="cost">
            <h2 id="cost-title">{ words.get(Word::CostTitle) }</h2>
            <p class="soft">{ words.get(Word::CostModel) }</p>
            if costs.is_empty() {
                <p>{ words.get(Word::CostNone) }</p>
            } else {
                { for costs.iter().enumerate().map(|(place, cost)| html! { <One key={cost.number} words={words.clone()} costs={Rc::clone(costs)} {place} /> }) }
                <details>
                    <summary>{ words.get(Word::CostHow) }</summary>
                    <p>{ words.get(Word::CostHowSays) }</p>
                </details>
            }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct OneProps {
    words: Words,
    costs: Rc<Vec<Cost>>,
    place: usize,
}

/// One fit test.
#[component]
fn One(props: &OneProps) -> Html {
    let OneProps { words, costs, place } = props;
    let place = *place;
    let figures = use_memo((Rc::clone(costs), place), |(costs, place)| costs.get(*place).map(Cost::figures));
    let shares = use_state(Vec::<Figures>::new);
    // One share at a time, each in a turn of its own.
    use_effect_with((Rc::clone(costs), shares.len()), {
        let shares = shares.clone();
        move |(costs, done)| {
            let done = *done;
            let next = costs.get(place).filter(|cost| done < cost.departures.len()).map(|_| {
                let costs = Rc::clone(costs);
                Timeout::new(0, move || {
                    if let Some(figures) = costs.get(place).and_then(|cost| cost.if_put_right(done)) {
                        shares.set(shares.iter().copied().chain([figures]).collect());
                    }
                })
            });
            move || drop(next)
        }
    });
    let (Some(cost), Some(figures)) = (costs.get(place), *figures) else { return Html::default() };
    let title = words.fill(
        Word::CostTest,
        &[("test", &words.about(About::Test(cost.number))), ("verdict", &words.verdict(cost.verdict))],
    );
    html! {
        <div class="of-test" data-test={cost.number.to_string()}>
            <h3>{ title }</h3>
            { for cost.void.map(|void| html! { <p class="invalid">{ words.get(void_word(void)) }</p> }) }
            <p class="poor">{ sentence(words, figures.poor_missed, Word::CostPoor, Word::CostPoorSame) }</p>
            <p class="good">{ sentence(words, figures.good_failed, Word::CostGood, Word::CostGoodSame) }</p>
            if cost.faulty {
                <p>{ words.get(Word::CostFaulty) }</p>
            }
            if cost.verdict == bittersweet_core::act::Verdict::Fail {
                <p class="soft">{ words.get(Word::CostEnded) }</p>
            }
            { shares_of(words, cost, figures, &shares) }
        </div>
    }
}

const fn void_word(void: Void) -> Word {
    match void {
        Void::Invalid => Word::CostInvalid,
        Void::Unfinished => Word::CostUnfinished,
        Void::Stopped => Word::CostStopped,
    }
}

fn shares_of(words: &Words, cost: &Cost, figures: Figures, shares: &[Figures]) -> Html {
    if cost.departures.is_empty() {
        return html! { <p class="soft">{ words.get(Word::CostNoShare) }</p> };
    }
    let row = |name: AttrValue, poor: Range, good: Range| {
        html! { <><th scope="row">{ name }</th><td>{ of_100(words, poor) }</td><td>{ of_100(words, good) }</td></> }
    };
    html! {
        <details class="shares">
            <summary>{ words.get(Word::CostShares) }</summary>
            <p>{ words.get(Word::CostSharesLead) }</p>
            <div class="wide" tabindex="0" role="group" aria-label={words.get(Word::CostShares)}>
                <table>
                    <thead>
                        <tr>
                            <th scope="col">{ words.get(Word::CostDeparture) }</th>
                            <th scope="col">{ words.get(Word::CostPoorColumn) }</th>
                            <th scope="col">{ words.get(Word::CostGoodColumn) }</th>
                        </tr>
                    </thead>
                    <tbody>
                        <tr>{ row(words.get(Word::CostAsRun), figures.poor_missed.ran, figures.good_failed.ran) }</tr>
                        { for cost.departures.iter().enumerate().map(|(place, departure)| {
                            let name = departure_name(words, *departure);
                            match shares.get(place) {
                                Some(share) => html! { <tr key={place} data-departure={departure.code().0}>{ row(name, share.poor_missed.ran, share.good_failed.ran) }</tr> },
                                None => html! { <tr key={place}><th scope="row">{ name }</th><td colspan="2">{ words.get(Word::CostWorking) }</td></tr> },
                            }
                        }) }
                        <tr>{ row(words.get(Word::CostByBook), figures.poor_missed.book, figures.good_failed.book) }</tr>
                    </tbody>
                </table>
            </div>
        </details>
    }
}

fn departure_name(words: &Words, departure: Departure) -> AttrValue {
    let (code, exercise) = departure.code();
    let exercise = exercise.map(|exercise| words.of(&format!("exercise.{}.name", exercise.code())));
    words.of_filled(&format!("departure.{code}"), &[("exercise", exercise.as_deref().unwrap_or_default())])
}

fn sentence(words: &Words, chance: Chance, apart: Word, same: Word) -> AttrValue {
    let (ran, book) = (of_100(words, chance.ran), of_100(words, chance.book));
    words.fill(if chance.apart { apart } else { same }, &[("ran", &ran), ("book", &book)])
}

/// A range of chances as so many of a hundred.
fn of_100(words: &Words, range: Range) -> AttrValue {
    let whole = |chance: f64| format!("{:.0}", chance * 100.0);
    let (low, high) = (whole(range.low), whole(range.high));
    if range.high < 0.01 {
        words.get(Word::CostFewer)
    } else if low == high {
        words.fill(Word::CostAbout, &[("number", &low)])
    } else {
        words.fill(Word::CostBetween, &[("low", &low), ("high", &high)])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::words::LANGUAGES;

    #[test]
    fn chances_are_told_as_so_many_of_a_hundred() {
        let (_, json) = LANGUAGES.iter().find(|(tag, _)| *tag == "en").unwrap();
        let words = Words::parse(&[json]).unwrap();
        let say = |low: f64, high: f64| of_100(&words, Range { low, high }).to_string();
        assert_eq!(say(0.031, 0.082), "3 to 8");
        assert_eq!(say(0.051, 0.053), "about 5");
        assert_eq!(say(0.001, 0.009), "fewer than 1");
        assert_eq!(say(0.004, 0.02), "0 to 2");
    }
}
