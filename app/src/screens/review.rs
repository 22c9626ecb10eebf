//! The review: what was given beside what would have been right, what matters most, where it turned and what it cost, and
//! how each skill stood.

use crate::{
    edge::{clock, file, listener::Listener, page},
    parts::{
        logbook::{Line, lines},
        sheet::{
            Costs, Jump, Player, Told, Ways, before, came_up, findings, first_of, helped, noticing, records, results,
            skills, whole_log,
        },
        timeline::Timeline,
    },
    screen::Screen,
    session::Session,
    shell::Around,
    words::{Word, clock as clock_text},
};
use bittersweet_core::{
    cost,
    review::{Finding, Review, of_run, review},
    rulebook::Agent,
    scenario::Scenario,
    state::State,
    unannounced,
    units::Ms,
    wire::run_v1::{self, Pace},
};
use std::rc::Rc;
use yew::prelude::*;

/// Properties of [`Sheet`].
#[derive(Properties)]
pub(crate) struct SheetProps {
    /// What every screen is handed.
    pub(crate) around: Around,
    /// The run.
    pub(crate) session: Rc<Session>,
    /// Puts another run in its place.
    pub(crate) lay: Callback<Session>,
}

impl PartialEq for SheetProps {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.session, &other.session) && self.around.words == other.around.words
    }
}

/// The finding with which it turned: the first of those that spoil or endanger; where there is none, the first of the gravest.
fn turn(review: &Review) -> Option<(&Finding, Ms)> {
    let gravest = review.findings.first()?.gravity;
    review
        .findings
        .iter()
        .filter(|finding| finding.gravity == gravest || (finding.gravity.is_top() && gravest.is_top()))
        .filter_map(|finding| Some((finding, *finding.times.first()?)))
        .min_by_key(|(_, at)| *at)
}

/// The sheet.
#[component]
pub(crate) fn Sheet(props: &SheetProps) -> Html {
    let words = props.around.words.clone();
    let session = Rc::clone(&props.session);
    let scenario = Rc::clone(session.scenario());
    // Where today's engine shows something else, there is the record alone.
    let can_replay = session.recorded.is_none();
    let key = (session.id.clone(), session.log().len());
    let reviewed = use_memo(key.clone(), |_| match session.recorded {
        Some(_) => review(&scenario, session.log()),
        None => of_run(&session.run),
    });
    let state = use_memo(key.clone(), |_| State::of(scenario.agent, session.log()));
    let of_words = (key, words.clone());
    let timeline = use_memo(of_words.clone(), |_| {
        Timeline::of(&words, &scenario, session.log(), can_replay.then_some(&session.run), &reviewed)
    });
    let log: Rc<Vec<Line>> = use_memo(of_words.clone(), |_| lines(&words, &scenario, session.log(), true));
    let costs = use_memo(of_words, |_| if can_replay { cost::of(&session.run, &reviewed) } else { Vec::new() });
    let turned = turn(&reviewed);
    let jump = use_state(|| Jump { to: turned.map_or(Ms::ZERO, |(_, at)| at), wish: 0 });
    let book = scenario.rulebook();

    let anew = {
        let (session, lay) = (Rc::clone(&session), props.lay.clone());
        move |scenario: Rc<Scenario>| {
            let pace = session.conditions.paces.first().map_or(Pace::Real, |(_, pace)| *pace);
            let help = session.conditions.help;
            lay.emit(Session::begin(clock::new_id(), clock::iso_now(), scenario, help, pace, clock::now_ms()));
        }
    };
    let same = {
        let (anew, scenario) = (anew.clone(), Rc::clone(&scenario));
        move |_: MouseEvent| anew(Rc::clone(&scenario))
    };
    let other = {
        let agent: Agent = scenario.agent;
        move |_: MouseEvent| anew(Rc::new(unannounced::draw_up(agent, clock::new_seed())))
    };
    let again_from = {
        let (session, lay) = (Rc::clone(&session), props.lay.clone());
        Callback::from(move |moment: Ms| {
            lay.emit(session.again_from(moment, clock::new_id(), clock::iso_now(), clock::now_ms()));
        })
    };
    let ways = can_replay.then(|| Ways {
        see: Callback::from({
            let jump = jump.clone();
            move |to: Ms| {
                jump.set(Jump { to, wish: jump.wish + 1 });
                page::focus("moment");
            }
        }),
        again: again_from.clone(),
        turn: turned.map(|(finding, _)| before(&scenario, &state, finding)),
    });
    let told = Told { words: &words, scenario: &scenario, book: &book, state: &state, log: &log, ways: ways.as_ref() };
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
    // The samples are printed alone: they are no part of the review's own page.
    let alone = use_state(|| false);
    use_effect_with(*alone, {
        let alone = alone.clone();
        move |is| {
            let printed = is.then(|| Listener::new("afterprint", move || alone.set(false)));
            if *is {
                page::print();
            }
            move || drop(printed)
        }
    });
    let print_samples = Callback::from({
        let alone = alone.clone();
        move |_: MouseEvent| alone.set(true)
    });
    let on_failed = Callback::from({
        let failed = failed.clone();
        move |is: bool| failed.set(is)
    });
    let print = |_: MouseEvent| page::print();
    html! {
        <article class="review" data-agent={scenario.agent.code()} data-prints={alone.then_some("samples")}>
            <h1 id="heading" tabindex="-1">{ words.fill(Word::ReviewTitle, &[("wearer", &words.scenario_title(&scenario))]) }</h1>
            <p class="only-print">{ words.get(Word::ReviewPrinted) }</p>
            if !can_replay {
                <p class="notice">{ words.get(Word::ReviewRecorded) }</p>
            }
            if !reviewed.finished {
                <p class="notice">{ words.get(Word::ReviewUnfinished) }</p>
            }
            if let Some(from) = session.conditions.again_from {
                <p class="notice" id="from-moment">{ words.fill(Word::AgainFrom, &[("time", &clock_text(from))]) }</p>
            }
            { results(&words, &reviewed.calls) }
            { turning(&told, turned, !reviewed.put_right.is_empty()) }
            { findings(&told, &reviewed) }
            <Player
                words={words.clone()} session={Rc::clone(&session)} timeline={timeline} lines={Rc::clone(&log)}
                jump={*jump} again={can_replay.then(|| again_from.clone())}
            />
            if can_replay {
                <Costs words={words.clone()} {costs} />
            }
            { noticing(&words, &reviewed) }
            { came_up(&words, &scenario, session.log()) }
            { skills(&words, &book, &reviewed, &session.conditions.hints) }
            { records(&words, &book, &session, &on_failed, &print_samples) }
            if session.conditions.help == run_v1::Help::OnRequest {
                { helped(&words, &session.conditions.hints) }
            }
            <section aria-labelledby="again-title" class="no-print">
                <h2 id="again-title">{ words.get(Word::AgainTitle) }</h2>
                <p class="ways">
                    <button type="button" id="again" onclick={same}>{ words.get(Word::AgainSame) }</button>
                    <button type="button" id="again-other" onclick={other}>{ words.get(Word::AgainOther) }</button>
                    <button type="button" id="save-run" onclick={save}>{ words.get(Word::ReviewSave) }</button>
                    <button type="button" id="print" onclick={print}>{ words.get(Word::ReviewPrint) }</button>
                    <a class="way" href={Screen::Home.link()}>{ words.get(Word::NavHome) }</a>
                </p>
            </section>
            if *failed {
                <p class="refused" role="alert">{ words.get(Word::ReviewSaveFailed) }</p>
            }
            { whole_log(&told, &reviewed, &[]) }
            <p class="soft">{ words.fill(Word::ReviewRulebook, &[("part", book.part), ("version", &book.version.to_string()), ("hash", book.hash)]) }</p>
        </article>
    }
}

/// Where it turned, and the way back to just before.
fn turning(told: &Told<'_>, turned: Option<(&Finding, Ms)>, put_right: bool) -> Html {
    let words = told.words;
    let Some((finding, at)) = turned else {
        let says = if put_right { Word::PlayerTurnedPutRight } else { Word::PlayerTurnedClean };
        return html! { <p class="turned" id="turned">{ words.get(says) }</p> };
    };
    let (word, from) = if finding.gravity.is_top() {
        (Word::PlayerTurned, Word::PlayerFromTurn)
    } else {
        (Word::PlayerFirstOff, Word::PlayerFromBefore)
    };
    let before = before(told.scenario, told.state, finding);
    html! {
        <div class="turned" id="turned">
            <p>
                { words.fill(word, &[("time", &clock_text(at))]) }
                { for first_of(told, finding).map(|says| html! { <strong>{ says }</strong> }) }
            </p>
            { for told.ways.cloned().map(|ways| html! {
                <p class="ways">
                    <button type="button" id="turn-again" class="main" onclick={move |_: MouseEvent| ways.again.emit(before)}>{ words.fill(from, &[("time", &clock_text(before))]) }</button>
                </p>
            }) }
        </div>
    }
}
