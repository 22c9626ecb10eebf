//! How each exercise moves the wearer, and the marks that tell it when nothing may move.

use super::{
    palette::LINE,
    pen::{draw, moving, placed},
};
use bittersweet_core::{
    act::{Aim, Exercise},
    scene::{Hand, Head, Ill, Scene},
};
use yew::{Html, html};

/// The head in the pose of an exercise.
pub(super) fn head(exercise: Option<Exercise>, rushed: bool, head: Html) -> Html {
    match exercise {
        Some(Exercise::HeadSide) => {
            moving(if rushed { "turn rushed" } else { "turn" }, "translate(420 0) scale(-1 1)", head)
        }
        Some(Exercise::HeadUpDown) => {
            moving(if rushed { "nod rushed" } else { "nod" }, "translate(16 4) rotate(-15 172 214)", head)
        }
        _ => placed("", head),
    }
}

/// The trunk in the pose of an exercise.
pub(super) fn trunk(exercise: Option<Exercise>, trunk: Html) -> Html {
    match exercise {
        Some(Exercise::DeepBreathing) => moving("breathe slow", "translate(-10 -28) scale(1.05)", trunk),
        Some(_) => moving("breathe", "", trunk),
        None => placed("", trunk),
    }
}

/// The whole person, with the hood and whatever is held to it.
pub(super) fn person(scene: &Scene, person: Html) -> Html {
    let rushed = scene.rushed;
    match scene.exercise {
        Some(Exercise::Bending) => {
            moving(if rushed { "bend rushed" } else { "bend" }, "translate(-84 10) rotate(30 190 548)", person)
        }
        Some(Exercise::Jogging) => moving("jog", "translate(0 -14)", person),
        _ if scene.seated => placed("translate(0 92)", person),
        _ if scene.hand == Hand::OnTable => placed(LEANING, person),
        _ => placed("", person),
    }
}

/// Breath and voice, before the mouth: in the hood, above the nozzle and below it.
pub(super) fn breath(scene: &Scene) -> Html {
    let breath = match (scene.ill, scene.exercise) {
        (Some(Ill::Wheezes), _) => "M300 172l4-7l4 7l4-7l4 7l4-7l4 7l4-7l4 7",
        (Some(Ill::Breathless), _) => {
            "M300 140c6 9 12-9 18 0s12-9 18 0M300 156c6 9 12-9 18 0s12-9 18 0M300 172c6 9 12-9 18 0s12-9 18 0M300 226c6 9 12-9 18 0s12-9 18 0"
        }
        (_, Some(Exercise::NormalBreathing | Exercise::NormalAgain)) => "M304 172c6 5 12 5 18 0",
        (_, Some(Exercise::DeepBreathing)) => {
            "M300 148c6 7 12 7 18 0s12-7 18 0M300 160c6 7 12 7 18 0s12-7 18 0M300 172c6 7 12 7 18 0s12-7 18 0"
        }
        (_, Some(Exercise::Talking)) => return voice(scene),
        _ => return Html::default(),
    };
    draw(&[(LINE, breath)])
}

/// Voice, as arcs round the mouth or what covers it: below the nozzle and its spray, and of another shape than that.
fn voice(scene: &Scene) -> Html {
    let arcs = if scene.whispers {
        "M297 235C295 240 292 245 288 249"
    } else {
        "M299 230C297 238 293 245 286 250M307 233C304 242 299 249 292 255M315 236C311 246 305 254 298 260"
    };
    let turned_away = scene.held.is_some_and(|held| held.aim == Aim::Away);
    let at = match (scene.worn, turned_away) {
        (None, _) => "translate(-24 -13)",
        (Some(_), true) => "translate(-13 5)",
        (Some(_), false) => "",
    };
    placed(at, draw(&[(LINE, arcs)]))
}

/// Marks in the air: turning, haste, swinging.
pub(super) fn marks(scene: &Scene) -> Html {
    let turning = match (scene.head, scene.exercise) {
        (Some(Head::Shakes), _) | (_, Some(Exercise::HeadSide)) => SIDE,
        (Some(Head::Nods), _) | (_, Some(Exercise::HeadUpDown)) => UP_DOWN,
        (_, Some(Exercise::Bending)) => "M300 2C350 4 396 20 430 48M410 48L431 49L428 28",
        (_, Some(Exercise::Jogging)) => "M40 250v26M24 262v26M444 250v26M460 262v26",
        _ => "",
    };
    let beside = scene.hood.is_none() && turning == UP_DOWN;
    let turning = placed(if beside { "translate(-82 4)" } else { "" }, draw(&[(LINE, turning)]));
    let haste = if scene.rushed {
        "M112 66l-20-12M104 84l-24-8M102 102l-26-2M372 66l20-12M380 84l24-8M382 102l26-2"
    } else {
        ""
    };
    let swing = if scene.hood.is_some_and(|hood| hood.swings) {
        "M72 292c-10 10-15 22-15 36M86 312c-6 8-10 16-10 24M392 292c10 10 15 22 15 36M378 312c6 8 10 16 10 24"
    } else {
        ""
    };
    html! { <>{ turning }{ draw(&[(LINE, haste), (LINE, swing)]) }</> }
}

const LEANING: &str = "rotate(9 190 548)";
const SIDE: &str = "M176 24C206 12 260 12 296 24M186 12L176 24L190 30M286 12L296 24L282 30";
const UP_DOWN: &str = "M388 92C400 112 400 148 388 170M378 104L388 92L400 100M378 158L388 170L400 162";
