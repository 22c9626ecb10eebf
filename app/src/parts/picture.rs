//! The picture of the wearer with its words: both from the same scene.

use crate::{
    parts::scene::SceneView,
    session::Refused,
    words::{Word, Words},
};
use bittersweet_core::{
    act::Act,
    facepiece::{Class, Size},
    log::What,
    run::Run,
    scene::{Hood, Liquid, Scene},
};
use std::rc::Rc;
use yew::prelude::*;

/// What the picture shows, in words.
pub(crate) fn describe(words: &Words, scene: &Scene) -> String {
    let mut said: Vec<AttrValue> = Vec::new();
    let mut say = |key: &str| said.push(words.of(&format!("scene.{key}")));
    say(if scene.seated { "seated" } else { "standing" });
    say(&format!("face.{}", scene.face.code()));
    if let Some(worn) = scene.worn {
        say(&format!("class.{}", worn.class.code()));
        say(&format!("size.{}", worn.size.code()));
        if let Some(fault) = worn.fault {
            say(&format!("fault.{}", fault.code()));
        }
        if worn.slipped {
            say("slipped");
        }
    } else {
        say("bare");
    }
    for gear in &scene.gear {
        say(&format!("gear.{}", gear.code()));
    }
    match scene.hood {
        Some(Hood { near, fogged, swings, mist }) => {
            say("hood.on");
            say(if near { "hood.near" } else { "hood.right" });
            if fogged {
                say("hood.fogged");
            }
            if swings {
                say("hood.swings");
            }
            say(&format!("mist.{mist}"));
            if scene.worn.is_none() {
                say(&format!("mouth.{}", scene.mouth.code()));
            }
        }
        None => say("hood.off"),
    }
    if let Some(off) = scene.off {
        say(&format!("hood.{}", off.code()));
    }
    if let Some(exercise) = scene.exercise {
        say(&format!("exercise.{}", exercise.code()));
        if scene.rushed {
            say("rushed");
        }
        if scene.whispers {
            say("whispers");
        }
    }
    if let Some(head) = scene.head {
        say(&format!("head.{}", head.code()));
    }
    say(&format!("hand.{}", scene.hand.code()));
    if let Some(around) = scene.around {
        say(&format!("around.{}", around.code()));
    }
    if scene.drop {
        say("drop");
    }
    if let Some(ill) = scene.ill {
        say(&format!("ill.{}", ill.code()));
    }
    match scene.held {
        Some(held) => {
            say(&format!("held.{}", held.role.code()));
            say(&format!("aim.{}", held.aim.code()));
            if held.pressed {
                say("pressed");
            }
            if held.failing {
                say("failing");
            }
        }
        None => say("held.none"),
    }
    for nebulizer in scene.nebulizers {
        let role = nebulizer.role.code();
        if let Some(tag) = nebulizer.tag {
            say(&format!("bench.{role}.{}", tag.code()));
        }
        match nebulizer.liquid {
            Liquid::Enough => {}
            Liquid::Low => say(&format!("bench.{role}.low")),
            Liquid::Nothing => say(&format!("bench.{role}.nothing")),
        }
        if nebulizer.crusted {
            say(&format!("bench.{role}.crusted"));
        }
    }
    if let Some(close) = &scene.close {
        say(&format!("close.{}", close.object.code()));
        said.extend(close.seen.iter().map(|seen| words.of(&format!("sign.{}", seen.code()))));
    }
    said.push(rack(words, &scene.rack));
    said.join(" ")
}

/// What lies on the rack, in its order.
fn rack(words: &Words, places: &[Option<(Class, Size)>]) -> AttrValue {
    let place = |place: &Option<(Class, Size)>| match place {
        Some((class, size)) => words.of_filled(
            "scene.rack.piece",
            &[
                ("class", &words.of(&format!("class.{}", class.code()))),
                ("size", &words.of(&format!("size.{}", size.code()))),
            ],
        ),
        None => words.of("scene.rack.empty"),
    };
    let pieces = places.iter().map(place).collect::<Vec<_>>().join("; ");
    words.of_filled("scene.rack.lies", &[("pieces", &pieces)])
}

/// The picture in words, to unfold.
pub(crate) fn picture_in_words(words: &Words, run: &Run) -> Html {
    html! {
        <details class="described">
            <summary>{ words.get(Word::PictureInWords) }</summary>
            <p>{ describe(words, &Scene::of(run)) }</p>
        </details>
    }
}

/// Everything shown since the last act, or with it, by its place in the log: the same said again is something new.
pub(crate) fn heard(words: &Words, run: &Run) -> Vec<(usize, AttrValue)> {
    let log = run.log();
    let last_act = log.iter().rposition(|entry| matches!(entry.what, What::Act(_))).unwrap_or(0);
    let shown = log.iter().enumerate().skip(last_act).filter_map(|(place, entry)| match entry.what {
        What::Sign(sign) => Some((place, words.sign(sign, run.scenario()))),
        What::Act(_) => None,
    });
    shown.collect()
}

/// The last act, where nothing was shown after it. Squeezes come too fast to be told one by one.
fn silent_act(run: &Run) -> Option<Act> {
    match run.log().last()?.what {
        What::Act(act) if act != Act::Squeeze => Some(act),
        What::Act(_) | What::Sign(_) => None,
    }
}

/// The picture, and what was said or seen last: after what was `done`, where somebody else does it.
pub(crate) fn picture(words: &Words, run: &Run, refused: Option<Refused>, done: Option<AttrValue>) -> Html {
    let scene = Rc::new(Scene::of(run));
    let label = AttrValue::from(describe(words, &scene));
    let news =
        heard(words, run).into_iter().filter(|(place, _)| refused.is_none_or(|refused| *place >= refused.entries));
    let silent = silent_act(run).filter(|_| refused.is_none() && done.is_none());
    html! {
        <figure class="picture">
            <SceneView {scene} {label} />
            <figcaption>
                // The one live region of the run: what the wearer does and says, and what cannot be done. On a narrow screen it
                // scrolls, so it can be reached by key.
                <div class="heard" role="status" aria-live="polite" tabindex="0">
                    // Who does not see the logbook hears that it was done.
                    { for silent.map(|act| html! { <p key={run.log().len()} class="unseen">{ words.act(act, run.scenario()) }</p> }) }
                    { for done.map(|done| html! { <p class="done">{ done }</p> }) }
                    { for refused.map(|Refused { refusal, revision, .. }| html! {
                        <p key={revision} class="refused">{ words.of(&format!("reason.{}", refusal.reason.code())) }</p>
                    }) }
                    { for news.map(|(place, text)| html! { <p key={place}>{ text }</p> }) }
                </div>
            </figcaption>
        </figure>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use bittersweet_core::{
        act::{Aim, Exercise, Role},
        run::Run,
        scenarios::BUILT_IN,
        scene::{Around, Close, Hand, Head, Held, Ill, Mouth, Nebulizer, Object, Off, Tag, Worn},
        sign::Seen,
        units::Ms,
        wire::scenario_v1,
        words::LANGUAGES,
    };

    fn words() -> Words {
        let (_, json) = LANGUAGES.iter().find(|(tag, _)| *tag == "en").unwrap();
        Words::parse(&[json]).unwrap()
    }

    #[test]
    fn an_act_that_shows_nothing_is_told_and_a_squeeze_is_not() {
        let (_, text) = BUILT_IN.first().unwrap();
        let mut run = Run::new(Rc::new(scenario_v1::parse(text).unwrap()));
        assert_eq!(silent_act(&run), None);
        let mut told = |act| {
            run.apply(act, Ms(1_000 * u32::try_from(run.log().len()).unwrap())).unwrap();
            silent_act(&run)
        };
        assert_eq!(told(Act::GlovesOn), Some(Act::GlovesOn));
        // It is answered with the slip.
        assert_eq!(told(Act::AskClearance), None);
        assert_eq!(told(Act::Take(Role::Check)), Some(Act::Take(Role::Check)));
        assert_eq!(told(Act::Squeeze), None);
    }

    /// Every state of the picture has its words: a gap would show its key.
    #[test]
    fn nothing_is_only_seen() {
        let words = words();
        let (_, text) = BUILT_IN.first().unwrap();
        let run = Run::new(Rc::new(scenario_v1::parse(text).unwrap()));
        let plain = Scene::of(&run);
        let mut scenes: Vec<Scene> = Hand::ALL.iter().map(|hand| Scene { hand: *hand, ..plain.clone() }).collect();
        scenes.extend(Head::ALL.iter().map(|head| Scene { head: Some(*head), ..plain.clone() }));
        scenes.extend(Ill::ALL.iter().map(|ill| Scene { ill: Some(*ill), ..plain.clone() }));
        scenes.extend(Off::ALL.iter().map(|off| Scene { off: Some(*off), ..plain.clone() }));
        scenes.extend(Around::ALL.iter().map(|around| Scene { around: Some(*around), ..plain.clone() }));
        for tag in Tag::ALL.iter().copied().map(Some) {
            for liquid in [Liquid::Low, Liquid::Nothing] {
                let nebulizer = |role| Nebulizer { role, tag, liquid, crusted: true };
                scenes.push(Scene { nebulizers: [Role::Check, Role::Fit].map(nebulizer), ..plain.clone() });
            }
        }
        let objects = [
            Object::Nebulizer(Role::Fit),
            Object::Spray(Role::Fit),
            Object::Bottle,
            Object::Hood,
            Object::Facepiece(Class::Half),
        ];
        for object in objects {
            let close = Some(Close { object, seen: vec![Seen::NebulizerLow, Seen::NebulizerTipFree] });
            scenes.push(Scene { close, ..plain.clone() });
        }
        for exercise in Exercise::ALL.iter().copied() {
            scenes.push(Scene {
                exercise: Some(exercise),
                rushed: true,
                seated: true,
                drop: true,
                whispers: true,
                ..plain.clone()
            });
        }
        for class in Class::ALL.iter().copied() {
            for size in Size::ALL.iter().copied() {
                scenes.push(Scene { rack: vec![Some((class, size)), None], ..plain.clone() });
                let fault = Some(Seen::StrapTwisted);
                scenes.push(Scene { worn: Some(Worn { class, size, fault, slipped: true }), ..plain.clone() });
            }
        }
        for mist in 0..=5 {
            for mouth in [Mouth::Rest, Mouth::TongueOut, Mouth::Shut] {
                let hood = Some(Hood { near: mist % 2 == 0, fogged: true, swings: true, mist });
                let held = Held { role: Role::Fit, aim: Aim::Away, pressed: false, failing: true };
                scenes.push(Scene { hood, mouth, held: Some(held), ..plain.clone() });
            }
        }
        for scene in scenes {
            let said = describe(&words, &scene);
            let key = ["scene.", "class.", "size."].into_iter().find(|key| said.contains(key));
            assert_eq!(key, None, "{said}");
        }
    }
}
