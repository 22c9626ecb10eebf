//! To refresh now: what has faded, the most faded first, ten minutes at a time; it ends by saying when to come back.

use crate::{
    edge::{clock, page},
    hooks::{
        bank::{Loading, use_bank},
        use_answers,
    },
    parts::{one_drill::OneDrill, one_question::OneQuestion},
    screen::Screen,
    shell::Around,
    words::{Word, Words},
};
use bittersweet_core::{
    drill::{Drill, Level, Marked, drill},
    question::Question,
    refresh::{self, Card, Day},
    rulebook::Agent,
    source::Skill,
    units::Ms,
    wire::answer_v1::{AnswerV1, Asked},
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Refresh`].
#[derive(Properties, PartialEq)]
pub(crate) struct RefreshProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// A sitting that has begun.
#[derive(Clone)]
struct Sitting {
    /// What is asked, in order; what was not known comes once more at the end.
    cards: Vec<Card>,
    /// How many of them were due when it began.
    due: usize,
    /// Which one stands there.
    place: usize,
    /// How many were known at once.
    known: usize,
    /// From this each is drawn.
    seed: u64,
}

impl Sitting {
    fn new(cards: Vec<Card>, seed: u64) -> Self {
        Self { due: cards.len(), cards, place: 0, known: 0, seed }
    }

    /// The seed of the one that stands there.
    fn seed(&self) -> u64 {
        self.seed.wrapping_add(self.place as u64)
    }

    fn answered(&mut self, answer: &AnswerV1) {
        if self.place >= self.due {
            return;
        }
        self.known += usize::from(answer.credit.is_whole());
        if answer.credit.got == 0 {
            self.cards.extend(self.cards.get(self.place).cloned());
        }
    }
}

/// What stands there to be answered.
enum Item {
    Question(Box<Question>),
    Drill(Rc<Drill>),
}

/// The screen.
#[component]
pub(crate) fn Refresh(props: &RefreshProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (answers, add) = use_answers(&keeper);
    let loading = use_bank(&words, Skill::ALL.to_vec());
    let sitting = use_state(|| None::<Sitting>);
    let today = clock::today();

    let bank = loading.ready();
    let agent = answers.as_ref().and_then(|answers| answers.last()).map_or(Agent::Sweet, |answer| answer.agent);
    let key = (bank.as_ref().map(Rc::as_ptr), answers.as_ref().map(|answers| answers.len()), today);
    let cards = use_memo(key, |_| match (&bank, &answers) {
        (Some(bank), Some(answers)) => Some(bank.cards(answers)),
        _ => None,
    });
    let place = sitting.as_ref().map(|sitting| (sitting.place, sitting.seed()));
    let item = use_memo((place, bank.as_ref().map(Rc::as_ptr)), |_| {
        let sitting = sitting.as_ref()?;
        let card = sitting.cards.get(sitting.place)?;
        match card.asked {
            Asked::Question => {
                let question = bank.as_ref()?.questions().find(|question| question.id == card.id)?;
                Some(Item::Question(Box::new(question.clone())))
            }
            Asked::Drill => drill(sitting.seed(), agent, Level::from_code(&card.id)?).map(Rc::new).map(Item::Drill),
        }
    });

    let on_begin = {
        let (sitting, cards) = (sitting.clone(), Rc::clone(&cards));
        Callback::from(move |_: MouseEvent| {
            let Some(cards) = &*cards else { return };
            sitting.set(Some(Sitting::new(refresh::sitting(cards, today).cards, clock::new_seed())));
        })
    };
    let on_answer = {
        let sitting = sitting.clone();
        Callback::from(move |answer: AnswerV1| {
            let mut next = (*sitting).clone();
            if let Some(next) = &mut next {
                next.answered(&answer);
            }
            sitting.set(next);
            add.emit(answer);
        })
    };
    let on_next = {
        let sitting = sitting.clone();
        Callback::from(move |()| {
            let mut next = (*sitting).clone();
            if let Some(next) = &mut next {
                next.place += 1;
            }
            sitting.set(next);
        })
    };
    // With the last answer its form goes, and would take the focus with it.
    use_effect_with(sitting.is_some() && item.is_none(), |is_over| {
        if *is_over {
            page::focus("refreshed");
        }
    });
    let inner = match (&loading, &*cards, &*sitting) {
        // What happened stands above the page.
        (Loading::Failed, ..) => Html::default(),
        (_, None, _) => html! { <p role="status">{ words.get(Word::QuestionsFetching) }</p> },
        (_, Some(cards), None) => before(&words, cards, today, &on_begin),
        (_, Some(cards), Some(sitting)) => match &*item {
            Some(item) => {
                let (of, place) = (sitting.cards.len().to_string(), (sitting.place + 1).to_string());
                let put = match (item, &bank) {
                    (Item::Question(question), Some(bank)) => bank.put(question, sitting.seed(), agent),
                    _ => None,
                };
                html! {
                    <>
                        <p id="place">{ words.fill(Word::RefreshPlace, &[("place", &place), ("of", &of)]) }</p>
                        if let Some(put) = put {
                            <OneQuestion key={place.clone()} words={words.clone()} {put} takes_focus={true} on_answer={on_answer.clone()} on_next={on_next.clone()} />
                        }
                        if let Item::Drill(drill) = item {
                            <OneDrill
                                key={place} words={words.clone()} drill={Rc::clone(drill)} {agent} takes_focus={true}
                                on_answer={on_answer.reform(|(answer, _): (AnswerV1, Marked)| answer)} {on_next}
                            />
                        }
                    </>
                }
            }
            None => after(&words, sitting, cards, today, &on_begin),
        },
    };
    html! {
        <article class="practice" data-agent={agent.code()}>
            <h1 id="heading" tabindex="-1">{ words.get(Word::RefreshTitle) }</h1>
            <p>{ words.get(Word::RefreshLead) }</p>
            { inner }
        </article>
    }
}

/// What there is to do, or that there is nothing.
fn before(words: &Words, cards: &[Card], today: Day, on_begin: &Callback<MouseEvent>) -> Html {
    let sitting = refresh::sitting(cards, today);
    if sitting.cards.is_empty() {
        return html! {
            <>
                <p id="nothing-due">{ words.get(if cards.is_empty() { Word::RefreshNothingYet } else { Word::RefreshNothing }) }</p>
                { come_back(words, cards, today) }
                { ways_on(words) }
            </>
        };
    }
    let number = sitting.cards.len().to_string();
    html! {
        <>
            <p id="due">{ words.fill(Word::RefreshDue, &[("number", &number), ("minutes", &minutes(sitting.takes()))]) }</p>
            if sitting.left > 0 {
                <p>{ words.fill(Word::RefreshLeft, &[("number", &sitting.left.to_string())]) }</p>
            }
            <p class="ways"><button type="button" id="begin" class="main" onclick={on_begin}>{ words.get(Word::RefreshBegin) }</button></p>
        </>
    }
}

/// How it went, and when to come back.
fn after(words: &Words, sitting: &Sitting, cards: &[Card], today: Day, on_begin: &Callback<MouseEvent>) -> Html {
    let more = refresh::sitting(cards, today).cards.len();
    let counts = [("number", sitting.due.to_string()), ("known", sitting.known.to_string())];
    html! {
        <>
            <h2 id="refreshed" tabindex="-1">{ words.get(Word::RefreshDone) }</h2>
            <p id="went">{ words.fill(Word::RefreshWent, &counts.each_ref().map(|(name, count)| (*name, count.as_str()))) }</p>
            if more > 0 {
                <p>{ words.fill(Word::RefreshMore, &[("number", &more.to_string())]) }</p>
                <p class="ways"><button type="button" id="begin" onclick={on_begin}>{ words.get(Word::RefreshGoOn) }</button></p>
            } else {
                <p>{ words.get(Word::RefreshNothing) }</p>
            }
            { come_back(words, cards, today) }
            { ways_on(words) }
        </>
    }
}

/// When to come back, if there is anything to come back for.
pub(crate) fn come_back(words: &Words, cards: &[Card], today: Day) -> Html {
    let Some((day, number)) = refresh::next(cards, today) else { return Html::default() };
    let filled = words.fill(Word::RefreshComeBack, &[("date", &clock::date(day)), ("number", &number.to_string())]);
    html! { <p id="come-back">{ filled }</p> }
}

fn ways_on(words: &Words) -> Html {
    html! {
        <p class="ways">
            <a class="way" href={Screen::Questions.link()}>{ words.get(Word::HomeQuestions) }</a>
            <a class="way" href={Screen::Drills.link()}>{ words.get(Word::HomeDrill) }</a>
            <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
        </p>
    }
}

/// Whole minutes, at least one.
pub(crate) fn minutes(time: Ms) -> String {
    time.0.div_ceil(60_000).max(1).to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hooks::bank::Bank;
    use bittersweet_core::question::mark::Credit;

    fn answer(id: &str, got: u8) -> AnswerV1 {
        AnswerV1 {
            asked: Asked::Question,
            id: id.to_owned(),
            revision: 1,
            skill: Skill::Watching,
            agent: Agent::Bitter,
            credit: Credit { got, of: 1 },
            day: 20_000,
        }
    }

    #[test]
    fn what_was_not_known_comes_once_more_and_no_oftener() {
        let cards = refresh::cards(&[answer("one", 1), answer("two", 1)]);
        let mut sitting = Sitting::new(cards, 7);
        sitting.answered(&answer("one", 0));
        sitting.place += 1;
        sitting.answered(&answer("two", 1));
        sitting.place += 1;
        sitting.answered(&answer("one", 0));
        assert_eq!((sitting.cards.len(), sitting.known, sitting.due), (3, 1, 2));
    }

    #[test]
    fn what_the_bank_no_longer_asks_is_left_out() {
        let bank = Bank::whole();
        let there = bank.questions().next().unwrap();
        let answers = [answer(&there.id, 1), answer("gone-long-ago", 1)];
        let answers = answers.map(|answer| AnswerV1 { revision: there.revision, ..answer });
        let ids: Vec<String> = bank.cards(&answers).into_iter().map(|card| card.id).collect();
        assert_eq!(ids, std::slice::from_ref(&there.id));
    }
}
