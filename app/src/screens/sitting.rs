//! An assessment that is sat: what comes next in it, and in the end what it came to.

use crate::{
    edge::{address, clock, file, page},
    hooks::{
        append,
        bank::{Loading, use_bank},
        use_answers, use_outcomes, use_sittings, use_ticker,
    },
    parts::{assessed::assessed, one_drill::OneDrill, one_question::OneQuestion},
    screen::Screen,
    screens::desk::leave,
    session::Session,
    shell::{Around, Keeping},
    words::{Word, Words, clock as clock_text},
};
use bittersweet_core::{
    assessment::{Sitting, Step, result},
    drill::{Marked, drill},
    source::Skill,
    wire::{answer_v1::AnswerV1, run_v1::Help, sitting_v1},
};
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// How often the time that is left is looked at, in milliseconds.
const BEAT_MS: u32 = 1_000;

/// Properties of [`Sat`].
#[derive(Properties, PartialEq)]
pub(crate) struct SatProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The id of the sitting.
    pub(crate) id: AttrValue,
}

/// The screen.
#[component]
pub(crate) fn Sat(props: &SatProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let (sittings, put) = use_sittings(&keeper);
    let outcomes = use_outcomes(&keeper);
    let (_, add) = use_answers(&keeper);
    let loading = use_bank(&words, Skill::ALL.to_vec());
    let now = use_state(clock::epoch_ms);
    let closing = use_state(|| false);
    let sitting = sittings.as_deref().and_then(|all| all.iter().find(|sitting| *sitting.id == *props.id)).cloned();

    let step = sitting.as_ref().map(|sitting| sitting.step(*now));
    let is_timed = sitting.as_ref().is_some_and(|sitting| sitting.left(*now).is_some()) && step != Some(Step::Over);
    let beat = {
        let now = now.setter();
        use_callback((), move |(), ()| now.set(clock::epoch_ms()))
    };
    use_ticker(is_timed, BEAT_MS, beat);

    // What became of a run is taken over as soon as it is known; one that was
    // forgotten meanwhile ends the assessment, since it is kept before anything of it is seen.
    use_effect_with((sitting.clone(), outcomes.clone()), {
        let (put, keeper) = (put.clone(), keeper.clone());
        move |(sitting, outcomes)| {
            let (Some(sitting), Some(outcomes)) = (sitting.clone(), outcomes.clone()) else { return };
            let mut taken = sitting.clone();
            outcomes.iter().for_each(|outcome| taken.take(outcome.clone()));
            if taken != sitting {
                put.emit(taken);
                return;
            }
            let (Step::GoOn(run), Some(store)) = (sitting.step(clock::epoch_ms()), keeper.store()) else { return };
            spawn_local(async move {
                if matches!(store.run(&run).await, Ok(None)) {
                    taken.closed = true;
                    put.emit(taken);
                }
            });
        }
    });
    let is_over = step == Some(Step::Over);
    use_effect_with(is_over, |is_over| {
        if *is_over {
            page::focus("heading");
        }
    });

    // The button that was pressed goes; who presses once more by mistake loses nothing.
    let was_closing = use_mut_ref(|| false);
    use_effect_with(*closing, move |closing| {
        let was_closing = was_closing.replace(*closing);
        if *closing {
            page::focus("close-not");
        } else if was_closing {
            page::focus("close");
        }
    });

    let Some((sitting, step)) = sitting.zip(step) else {
        let said = if sittings.is_none() { Word::RunLooking } else { Word::AssessNotHere };
        return html! {
            <>
                <h1 id="heading" tabindex="-1">{ words.get(Word::AssessTitle) }</h1>
                <p role="status">{ words.get(said) }</p>
                <p><a class="way" href={Screen::Assess.link()}>{ words.get(Word::AssessTitle) }</a></p>
            </>
        };
    };
    let change = {
        let (put, sitting) = (put.clone(), sitting.clone());
        Callback::from(move |change: fn(&mut Sitting)| {
            let mut changed = sitting.clone();
            change(&mut changed);
            put.emit(changed);
        })
    };
    let on_answer = {
        let sitting = sitting.clone();
        Callback::from(move |answer: AnswerV1| {
            let mut next = sitting.clone();
            next.answers.push(answer.clone());
            put.emit(next);
            add.emit(answer);
        })
    };
    let on_run = {
        let (sitting, keeper) = (sitting.clone(), keeper);
        Callback::from(move |place: usize| {
            let Some(scenario) = sitting.terms.runs().into_iter().nth(place) else { return };
            let id = clock::new_id();
            let pace = sitting.terms.pace;
            let started = clock::iso_now();
            let session = Session::begin(id.clone(), started, Rc::new(scenario), Help::Unaided, pace, clock::now_ms());
            let mut session = session.of_set(sitting.id.clone().into());
            let mut next = sitting.clone();
            next.begun.push(id.clone());
            let keeper = keeper.clone();
            spawn_local(async move {
                // Kept, and known to be begun, before it is seen.
                let Some(store) = keeper.store() else { return };
                let is_kept = append(&store, &session, 0, None).await.is_ok()
                    && store.put_sitting(&next.id, &sitting_v1::written(&next)).await.is_ok();
                if !is_kept {
                    keeper.failed();
                    return;
                }
                session.kept_before = session.ledger.len();
                leave(&Rc::new(session), false);
                address::go(&Screen::Rehearse(id).address());
            });
        })
    };
    let terms = sitting.terms;
    let (drills, questions) = (terms.length.drills(), terms.length.questions());
    let on_next = Callback::from(|()| ());
    // Between its parts nothing runs.
    let waits = matches!(step, Step::Begin(_)) || matches!(step, Step::Drill(_)) && sitting.asked_from.is_none();
    let inner = match step {
        Step::Over => match result::of(&sitting, *now) {
            Some(outcome) => {
                let save = {
                    let (name, text) =
                        (format!("bittersweet-assessment-{}.json", sitting.id), sitting_v1::written(&sitting));
                    Callback::from(move |_: MouseEvent| {
                        // What is shown stays, whether it could be saved or not.
                        let _ = file::save(&name, &text);
                    })
                };
                assessed(&words, &sitting, &outcome, &save)
            }
            None => Html::default(),
        },
        Step::Begin(place) => {
            html! {
                <>
                    <p id="step">{ which_of(&words, Word::AssessRun, place + 1, terms.length.runs()) }</p>
                    <p>{ words.get(Word::AssessRunText) }</p>
                    <p class="ways"><button type="button" id="begin-run" class="main" onclick={on_run.reform(move |_: MouseEvent| place)}>{ words.get(Word::AssessRunBegin) }</button></p>
                </>
            }
        }
        Step::GoOn(run) => html! {
            <>
                <p id="step">{ which_of(&words, Word::AssessRunOpen, sitting.begun.len(), terms.length.runs()) }</p>
                <p class="ways"><a class="way main" id="go-on" href={Screen::Rehearse(run).link()}>{ words.get(Word::AssessGoOn) }</a></p>
            </>
        },
        Step::Drill(_) if sitting.asked_from.is_none() => {
            let counts = [("drills", drills.to_string()), ("questions", questions.to_string())];
            let counts = counts.each_ref().map(|(name, count)| (*name, count.as_str()));
            let on_start = change
                .reform(|_: MouseEvent| -> fn(&mut Sitting) { |sitting| sitting.asked_from = Some(clock::epoch_ms()) });
            html! {
                <>
                    <p id="step">{ words.fill(Word::AssessAsked, &counts) }</p>
                    <p>{ match terms.time() {
                        Some(time) => words.fill(Word::AssessTime, &[("time", &clock_text(time))]),
                        None => words.get(Word::AssessNoTime),
                    } }</p>
                    <p class="ways"><button type="button" id="begin-asked" class="main" onclick={on_start}>{ words.get(Word::AssessAskedBegin) }</button></p>
                </>
            }
        }
        Step::Drill(place) => {
            let one = terms.drills().into_iter().nth(place).and_then(|(level, seed)| drill(seed, terms.agent, level));
            html! {
                <>
                    { where_it_stands(&words, &sitting, *now, which_of(&words, Word::AssessDrill, place + 1, drills)) }
                    { for one.map(|one| html! {
                        <OneDrill
                            key={format!("drill-{place}")} words={words.clone()} drill={Rc::new(one)} agent={terms.agent} is_quiet={true} takes_focus={true}
                            on_answer={on_answer.reform(|(answer, _): (AnswerV1, Marked)| answer)} on_next={on_next.clone()}
                        />
                    }) }
                </>
            }
        }
        Step::Question(place) => {
            let put = loading.ready().and_then(|bank| {
                let question = terms.questions(bank.questions()).into_iter().nth(place).cloned()?;
                bank.put(&question, terms.question_seed(place), terms.agent)
            });
            html! {
                <>
                    { where_it_stands(&words, &sitting, *now, which_of(&words, Word::AssessQuestion, place + 1, questions)) }
                    { match (put, &loading) {
                        (Some(put), _) => html! {
                            <OneQuestion
                                key={format!("question-{place}")} words={words.clone()} {put} is_quiet={true} takes_focus={true}
                                {on_answer} on_next={on_next.clone()}
                            />
                        },
                        // What happened stands above the page.
                        (None, Loading::Failed) => Html::default(),
                        (None, _) => html! { <p role="status">{ words.get(Word::QuestionsFetching) }</p> },
                    } }
                </>
            }
        }
    };
    let number = terms.number.to_string();
    html! {
        <article class="assess practice" data-agent={terms.agent.code()}>
            // Who comes to it hears at once how it ended.
            <h1 id="heading" tabindex="-1" aria-describedby={is_over.then_some("result")}>{ words.fill(Word::AssessOne, &[("number", &number), ("date", &clock::date(sitting.day))]) }</h1>
            if matches!(props.around.keeper.keeping, Keeping::Memory) {
                <p class="notice">{ words.get(Word::AssessMemory) }</p>
            }
            { inner }
            if !is_over {
                { close(&words, waits, *closing, &closing.setter(), &change) }
            }
        </article>
    }
}

/// Which of how many, of runs, drills or questions.
fn which_of(words: &Words, what: Word, place: usize, of: u32) -> AttrValue {
    words.fill(what, &[("place", &place.to_string()), ("of", &of.to_string())])
}

/// Which of how many stands there, and how long there still is.
fn where_it_stands(words: &Words, sitting: &Sitting, now: u64, which: AttrValue) -> Html {
    let left = sitting.left(now).map(clock_text);
    html! {
        <p id="step">
            { which }
            { for left.map(|left| html! { <>{ " · " }{ words.get(Word::AssessLeft) }{ " " }<span role="timer">{ left }</span></> }) }
        </p>
    }
}

/// The way out before its end, in two steps: what was not done counts as not done. And the way away from it, where it `waits`.
fn close(
    words: &Words,
    waits: bool,
    closing: bool,
    set: &UseStateSetter<bool>,
    change: &Callback<fn(&mut Sitting)>,
) -> Html {
    let turn = |to: bool| {
        let set = set.clone();
        move |_: MouseEvent| set.set(to)
    };
    html! {
        <div class="close">
            if closing {
                <p role="alert">{ words.get(Word::AssessCloseSure) }</p>
                <p class="ways">
                    <button type="button" id="close-sure" onclick={change.reform(|_: MouseEvent| -> fn(&mut Sitting) { |sitting| sitting.closed = true })}>{ words.get(Word::AssessClose) }</button>
                    <button type="button" id="close-not" onclick={turn(false)}>{ words.get(Word::AssessCloseNot) }</button>
                </p>
            } else {
                if waits {
                    <p class="soft">{ words.get(Word::AssessWaits) }</p>
                }
                <p class="ways">
                    if waits {
                        <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                    }
                    <button type="button" id="close" onclick={turn(true)}>{ words.get(Word::AssessClose) }</button>
                </p>
            }
        </div>
    }
}
