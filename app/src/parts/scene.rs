//! The rehearsal as a picture: the wearer, the hood, the bench, the conductor's hand. It shows what the core says there
//! is to see and nothing besides; its text equivalent is handed in with it, made from the same scene.

mod arm;
mod bench;
mod body;
mod face;
mod facepiece;
mod gear;
mod hair;
mod hand;
mod head;
mod hood;
mod mist;
mod motion;
mod mouth;
mod nebulizer;
mod palette;
mod pen;
mod seal;
mod straps;

use bittersweet_core::{
    act::{Exercise, Role},
    scene::{Hand, Scene},
    sign::{Seen, Sign},
};
use face::Mien;
use mouth::Lips;
use std::rc::Rc;
use yew::{AttrValue, Html, Properties, classes, component, html};

/// What the picture is made from.
#[derive(Clone, Debug, PartialEq, Properties)]
pub(crate) struct SceneProps {
    /// What there is to see.
    pub scene: Rc<Scene>,
    /// The same in words, one paragraph.
    pub label: AttrValue,
}

/// The picture.
#[component]
pub(crate) fn SceneView(props: &SceneProps) -> Html {
    let scene = &*props.scene;
    let class = classes!("scene", palette::tint(scene.agent), palette::skin(scene.look), palette::hair(scene.look));
    html! {
        <svg {class} viewBox="-6 -20 506 636" role="img" aria-labelledby="scene-title">
            <title id="scene-title">{ &props.label }</title>
            { if scene.seated { body::chair() } else { Html::default() } }
            { motion::person(scene.exercise, scene.rushed, scene.seated, person(scene)) }
            { if scene.seated { body::lap() } else { Html::default() } }
            { motion::marks(scene.exercise, scene.rushed) }
            { bench::bench(scene) }
        </svg>
    }
}

/// From behind to before: body, far wall of the hood, head, mist, near wall, nebulizer, arm.
fn person(scene: &Scene) -> Html {
    let jogging = scene.exercise == Some(Exercise::Jogging);
    let trunk = html! {
        <>
            { arm::far(jogging) }
            { head::neck() }
            { body::trunk() }
            { if scene.exercise == Some(Exercise::DeepBreathing) { body::full_chest() } else { Html::default() } }
            { scene.worn.map(|worn| facepiece::supply(worn.class)) }
        </>
    };
    let arm = match (scene.hand, scene.exercise) {
        (Hand::Down, Some(Exercise::Jogging)) => arm::jogging(),
        (Hand::Down, Some(Exercise::Bending)) => arm::hanging(),
        (does, _) => arm::arm(does),
    };
    // A hand at the face is under the hood; any other is outside it.
    let inside = matches!(scene.hand, Hand::AtMask | Hand::AtStrap | Hand::AtForehead | Hand::WithCup);
    let (arm_inside, arm_outside) = if inside { (arm, Html::default()) } else { (Html::default(), arm) };
    let far_wall = scene.hood.map(|worn| near_or_right(worn.near, hood::back()));
    let near_wall = scene.hood.map(|worn| near_or_right(worn.near, html! { <>{ mist::mist(worn.mist) }{ hood::front(worn.fogged) }</> }));
    let off = match scene.fresh {
        _ if scene.hood.is_some() || scene.hand != Hand::AtHood => Html::default(),
        Some(Sign::Seen(Seen::TakesHoodOff)) => hood::taken_off(),
        _ => hood::lifted(),
    };
    html! {
        <>
            { motion::trunk(scene.exercise, trunk) }
            { far_wall }
            { motion::head(scene.exercise, scene.rushed, head(scene)) }
            { arm_inside }
            { near_wall }
            { off }
            { held(scene) }
            { arm_outside }
        </>
    }
}

fn near_or_right(near: bool, part: Html) -> Html {
    if near { hood::near(part) } else { part }
}

/// The nebulizer in the conductor's hand, which follows the hole where the hood is near.
fn held(scene: &Scene) -> Html {
    let Some(held) = scene.held else { return Html::default() };
    let [check, fit] = scene.nebulizers;
    let nebulizer = match held.role {
        Role::Check => check,
        Role::Fit => fit,
    };
    let drawn = nebulizer::held(held, nebulizer);
    match scene.hood {
        Some(worn) if worn.near => pen::placed("translate(-38 0)", drawn),
        Some(_) => drawn,
        None => pen::placed("translate(40 60)", drawn),
    }
}

/// The head with everything on it, from the skin outwards.
fn head(scene: &Scene) -> Html {
    let look = scene.look;
    let seen = |what: Seen| scene.fresh.is_some_and(|sign| sign.is(what));
    let mien = match scene.exercise {
        Some(Exercise::Grimace) => Mien::Strained,
        _ if scene.unwell => Mien::Unwell,
        _ if seen(Seen::Coughs) => Mien::Strained,
        _ if seen(Seen::LooksRound) => Mien::Aside,
        _ => Mien::Calm,
    };
    let lips = match scene.exercise {
        Some(Exercise::Grimace) => Lips::Grimace,
        Some(Exercise::Talking) => Lips::Speak,
        _ if scene.unwell => Lips::Unwell,
        _ if seen(Seen::Coughs) => Lips::Speak,
        _ => Lips::Are(scene.mouth),
    };
    html! {
        <>
            { hair::behind(look.hair) }
            { head::head(look.shape) }
            { seal::on_skin(scene.face) }
            { mouth::mouth(lips) }
            { face::nose(look.shape) }
            { face::eyes(look.shape, mien) }
            { hair::on_top(look.hair) }
            { head::ear() }
            { if scene.unwell { face::sweat() } else { Html::default() } }
            { seal::before_eyes(scene.face) }
            { if scene.drop { mouth::drop() } else { Html::default() } }
            { scene.worn.map(facepiece::facepiece) }
            { for scene.gear.iter().map(|gear| gear::gear(*gear)) }
        </>
    }
}
