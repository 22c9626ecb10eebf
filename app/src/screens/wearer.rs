//! What a worker goes through before their own test, step by step, seen from inside the hood.
//!
//! The story and what each choice means are the core's; what is pressed is kept nowhere, only the day on which it ended.

mod asked;
mod card;

use crate::{
    edge::{clock, page},
    hooks::use_ticker,
    parts::{
        options::options,
        scene::inside::{View, inside},
    },
    shell::Around,
    words::{Word, Words},
};
use asked::Asked;
use bittersweet_core::{
    act::Exercise,
    orientation::{Ending, Orientation, Pace, Place, STEPS, Said, Senses, Taste, Told},
    rulebook::Agent,
    units::Ms,
};
use card::card;
use std::rc::Rc;
use wasm_bindgen_futures::spawn_local;
use yew::prelude::*;

/// The setting that holds the day on which it was gone through, in days since 1 January 1970.
const COMPLETED: &str = "orientation";

/// How often time is let pass, and the most that passes at once: who looks away misses nothing.
const BEAT_MS: u32 = 250;
const MOST_MS: u64 = 1_000;

/// The number of the step that tells what it meant.
const AFTER: usize = STEPS - 2;

/// How much of the passage is read in the short time.
const SENTENCES: usize = 3;

/// The worker on their way, and how fast it goes.
#[derive(Clone, PartialEq)]
struct Journey {
    story: Orientation,
    pace: Pace,
}

/// What can happen to it.
#[derive(Clone, Copy)]
enum Step {
    Begin(Agent),
    Again,
    GoOn,
    Say(Said),
    Pass(Ms),
    Let,
    Pace(Pace),
}

impl Reducible for Journey {
    type Action = Step;

    fn reduce(self: Rc<Self>, step: Step) -> Rc<Self> {
        let mut next = (*self).clone();
        match step {
            Step::Begin(agent) => next.story = next.story.with(agent),
            Step::Again => next.story = next.story.again(),
            Step::GoOn => next.story.go_on(),
            Step::Say(said) => next.story.say(said),
            Step::Pass(length) => next.story.pass(length, next.pace),
            Step::Let => next.story.step(),
            Step::Pace(pace) => next.pace = pace,
        }
        Rc::new(next)
    }
}

/// A press of a button.
fn press(step: &Callback<Step>, what: Step) -> Callback<MouseEvent> {
    step.reform(move |_| what)
}

/// Properties of [`Wearer`].
#[derive(Properties, PartialEq)]
pub(crate) struct WearerProps {
    /// What every screen is handed.
    pub(crate) around: Around,
}

/// The screen.
#[component]
pub(crate) fn Wearer(props: &WearerProps) -> Html {
    let Around { words, keeper, .. } = props.around.clone();
    let journey =
        use_reducer(|| Journey { story: Orientation::begin(Agent::Sweet, clock::new_seed()), pace: Pace::Short });
    let Journey { story, pace } = &*journey;
    let step = {
        let dispatcher = journey.dispatcher();
        Callback::from(move |step: Step| dispatcher.dispatch(step))
    };

    let last = use_mut_ref(|| 0);
    let beat = use_callback((), {
        let dispatcher = journey.dispatcher();
        move |(), ()| {
            let now = clock::now_ms();
            let passed = now.saturating_sub(last.replace(now)).min(MOST_MS);
            dispatcher.dispatch(Step::Pass(Ms(u32::try_from(passed).unwrap_or_default())));
        }
    });
    use_ticker(story.goes_on() && pace.minute_s().is_some(), BEAT_MS, beat);

    // Each step has the focus at its title, so that it is read out from there; the first leaves it at the page's own.
    let number = story.step_number();
    let set = if let Place::Screening(screening) = story.place() { screening.set } else { 0 };
    let shown = use_mut_ref(|| (number, set));
    use_effect_with((number, set), move |now| {
        if shown.replace(*now) != *now {
            page::focus("step-title");
        }
    });
    use_effect_with((number == STEPS, keeper.store().is_some()), move |(over, _)| {
        if let Some(store) = keeper.store().filter(|_| *over) {
            spawn_local(async move {
                if store.put_setting(COMPLETED, &clock::today().to_string()).await.is_err() {
                    keeper.failed();
                }
            });
        }
    });

    let place = story.place();
    let key = match place {
        Place::Told(told) => format!("told.{}", told.code()),
        Place::Screening(_) => "screening".to_owned(),
        Place::Test(_) => "test".to_owned(),
        Place::Asked(_) => "asked".to_owned(),
        Place::After(ending) => format!("after.{}", ending.code()),
        Place::Questions => "questions".to_owned(),
        Place::Card => "card".to_owned(),
    };
    let is_first = matches!(place, Place::Told(Told::Welcome));
    let in_time = matches!(place, Place::Screening(_) | Place::Test(_));
    let may_say = story.may_say();
    let waits = matches!(place, Place::Told(_) | Place::After(_));
    let step_of = words.fill(Word::WearerStep, &[("number", &number.to_string()), ("all", &STEPS.to_string())]);
    html! {
        <article class="worker" data-agent={story.agent().code()} data-step={key.clone()}>
            <h1 id="heading" tabindex="-1">{ words.get(Word::WearerTitle) }</h1>
            <section aria-labelledby="step-title">
                <p class="soft">{ step_of }</p>
                <h2 id="step-title" tabindex="-1">{ words.of(&format!("worker.{key}.title")) }</h2>
                if !is_first && number < AFTER {
                    { picture(&words, story) }
                }
                if in_time {
                    { notices(&words, story) }
                } else {
                    { paragraphs(&words.of(&format!("worker.{key}.text"))) }
                }
                if let Place::Asked(_) = place {
                    <div role="status">{ reply(&words, story) }</div>
                }
                if is_first {
                    { spray(&words, story.agent(), &step) }
                }
                if let Place::After(ending) = place {
                    { beside(&words, story, *ending) }
                }
                if let Place::Questions = place {
                    <Asked words={words.clone()} story={story.clone()} on_end={step.reform(|()| Step::GoOn)} />
                }
                if let Place::Card = place {
                    { card(&words, story.agent()) }
                }
                if waits {
                    <p class="ways">
                        { button("go-on".to_owned(), "main", words.get(Word::WearerGoOn), press(&step, Step::GoOn)) }
                        if number == AFTER {
                            { button("again".to_owned(), "", words.get(Word::WearerAgain), press(&step, Step::Again)) }
                        }
                    </p>
                }
                // Before what can be said, which comes and goes: somebody who presses it again and again presses nothing else.
                if in_time && *pace == Pace::Steps && may_say.contains(&Said::Stop) {
                    <p class="ways">
                        <button type="button" id="let-pass" aria-disabled={(!story.goes_on()).to_string()} onclick={press(&step, Step::Let)}>
                            { words.get(Word::WearerPass) }
                        </button>
                    </p>
                }
                <div class="say">
                    { for may_say.iter().map(|said| {
                        let said = *said;
                        let word = words.of(&format!("worker.said.{}", said.code()));
                        button(format!("say-{}", said.code()), "", word, press(&step, Step::Say(said)))
                    }) }
                </div>
                if may_say.contains(&Said::Stop) {
                    <div class="ways">
                        { paces(&words, *pace, &step) }
                    </div>
                }
            </section>
        </article>
    }
}

/// A text, a paragraph a line.
fn paragraphs(text: &str) -> Html {
    text.lines().map(|line| html! { <p>{ line.to_owned() }</p> }).collect()
}

/// Which spray they use.
fn spray(words: &Words, chosen: Agent, step: &Callback<Step>) -> Html {
    let onchange =
        step.reform(|event: Event| Step::Begin(Agent::from_code(&page::chosen(&event)).unwrap_or(Agent::Sweet)));
    list(
        words,
        Word::WearerSpray,
        "spray",
        &Agent::ALL.iter().map(|agent| agent.code()).collect::<Vec<_>>(),
        chosen.code(),
        onchange,
    )
}

/// How fast it goes; a press at a time is one way.
fn paces(words: &Words, chosen: Pace, step: &Callback<Step>) -> Html {
    let onchange =
        step.reform(|event: Event| Step::Pace(Pace::from_code(&page::chosen(&event)).unwrap_or(Pace::Steps)));
    list(
        words,
        Word::WearerPace,
        "pace",
        &Pace::ALL.iter().map(|pace| pace.code()).collect::<Vec<_>>(),
        chosen.code(),
        onchange,
    )
}

fn list(
    words: &Words,
    name: Word,
    id: &'static str,
    codes: &[&'static str],
    chosen: &str,
    onchange: Callback<Event>,
) -> Html {
    html! {
        <label class="choice">
            { words.get(name) }
            <select {id} {onchange}>
                { options(codes.iter().map(|code| (*code, words.of(&format!("worker.{id}.{code}")))), chosen) }
            </select>
        </label>
    }
}

/// What the worker sees, with the passage where it is to be read.
fn picture(words: &Words, story: &Orientation) -> Html {
    let (hood, mask) = match story.place() {
        Place::Told(Told::Hood) | Place::Screening(_) => (true, false),
        Place::Told(Told::Ready) | Place::Test(_) => (true, true),
        Place::Asked(_) => (false, true),
        Place::Told(_) | Place::After(_) | Place::Questions | Place::Card => (false, false),
    };
    let exercise = story.exercise();
    let view = View { agent: story.agent(), hood, mask, mist: story.mist(), sprays: story.sprays(), exercise };
    let mut said = vec![words.of(if hood { "worker.view.hood" } else { "worker.view.tester" })];
    said.push(words.of(if mask { "worker.view.mask" } else { "worker.view.bare" }));
    if hood {
        said.push(words.of(&format!("scene.mist.{}", view.mist)));
    }
    if view.sprays {
        said.push(words.of("worker.view.spray"));
    }
    html! {
        <figure class="from-inside">
            { inside(view, said.join(" ").into()) }
            if exercise == Some(Exercise::Talking) {
                <p class="passage">{ words.of("passage.text").split_inclusive(". ").take(SENTENCES).collect::<String>() }</p>
            }
        </figure>
    }
}

/// What the tester asks for, what is noticed, and what was answered.
fn notices(words: &Words, story: &Orientation) -> Html {
    let asks = match (story.place(), story.exercise()) {
        (Place::Screening(_), _) if story.goes_on() => "screening.squeezes".to_owned(),
        (Place::Screening(_), _) => "screening.asks".to_owned(),
        (_, Some(exercise)) => format!("do.{}", exercise.code()),
        _ => "test.first".to_owned(),
    };
    let place = story.exercise().and_then(Exercise::place).map(|place| {
        let all = Exercise::SEVEN.len().to_string();
        words.fill(Word::WearerExercise, &[("number", &(place + 1).to_string()), ("all", &all)])
    });
    let Senses { taste, smell, itch } = story.senses();
    let cue = match taste {
        Taste::Little | Taste::Clear => format!("{}.{}", taste.code(), story.agent().code()),
        // One thing at a time: what is not the taste comes before no taste.
        Taste::Nothing if smell => "smell".to_owned(),
        Taste::Nothing if itch => "itch".to_owned(),
        Taste::Nothing | Taste::Perhaps => taste.code().to_owned(),
    };
    html! {
        <div class="senses" role="status">
            <p>{ for place.map(|place| html! { <span class="soft">{ place }{ " " }</span> }) }{ words.of(&format!("worker.{asks}")) }</p>
            <p class="cue"><span class="soft">{ words.get(Word::WearerNotice) }{ ": " }</span>{ words.of(&format!("worker.cue.{cue}")) }</p>
            { reply(words, story) }
        </div>
    }
}

fn reply(words: &Words, story: &Orientation) -> Html {
    story.reply().map_or_else(Html::default, |reply| {
        html! { <p class="reply">{ words.of(&format!("worker.reply.{}", reply.code())) }</p> }
    })
}

fn button(id: String, class: &'static str, word: AttrValue, onclick: Callback<MouseEvent>) -> Html {
    html! { <button key={id.clone()} type="button" {id} {class} {onclick}>{ word }</button> }
}

/// What else is to be said about it.
fn beside(words: &Words, story: &Orientation, ending: Ending) -> Html {
    let (touched, untasted) = story.beside();
    html! {
        <>
            if touched {
                <p>{ words.of("worker.beside.touched") }</p>
            }
            if untasted && ending != Ending::Stopped {
                <p>{ words.of("worker.beside.untasted") }</p>
            }
            <p class="soft">{ words.get(Word::WearerModel) }</p>
        </>
    }
}
