//! How each exercise moves the wearer, and the marks that tell it when nothing may move.

use super::{
    palette::LINE,
    pen::{draw, moving, placed},
};
use bittersweet_core::act::Exercise;
use yew::{Html, html};

/// The head in the pose of an exercise.
pub(super) fn head(exercise: Option<Exercise>, rushed: bool, head: Html) -> Html {
    match exercise {
        Some(Exercise::HeadSide) => {
            moving(if rushed { "turn rushed" } else { "turn" }, "translate(428 0) scale(-1 1)", head)
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
pub(super) fn person(exercise: Option<Exercise>, rushed: bool, seated: bool, person: Html) -> Html {
    match exercise {
        Some(Exercise::Bending) => {
            moving(if rushed { "bend rushed" } else { "bend" }, "translate(-84 10) rotate(30 190 548)", person)
        }
        Some(Exercise::Jogging) => moving("jog", "translate(0 -14)", person),
        _ if seated => placed("translate(0 44)", person),
        _ => placed("", person),
    }
}

/// Marks in the air: breath, voice, turning, haste.
pub(super) fn marks(exercise: Option<Exercise>, rushed: bool, hooded: bool) -> Html {
    let told = match exercise {
        None => "",
        Some(Exercise::NormalBreathing | Exercise::NormalAgain) => "M366 226c6 5 12 5 18 0",
        Some(Exercise::DeepBreathing) => {
            "M366 214c8 7 16 7 24 0s16-7 24 0M366 228c8 7 16 7 24 0s16-7 24 0M366 242c8 7 16 7 24 0s16-7 24 0"
        }
        Some(Exercise::HeadSide) => "M176 24C206 12 260 12 296 24M186 12L176 24L190 30M286 12L296 24L282 30",
        Some(Exercise::HeadUpDown) => "M388 92C400 112 400 148 388 170M378 104L388 92L400 100M378 158L388 170L400 162",
        Some(Exercise::Talking) => "M366 206l16-8M368 220h18M366 234l16 8",
        Some(Exercise::Grimace) => "",
        Some(Exercise::Bending) => "M300 2C350 4 396 20 430 48M410 48L431 49L428 28",
        Some(Exercise::Jogging) => "M40 250v26M24 262v26M444 250v26M460 262v26",
    };
    let haste =
        if rushed { "M112 66l-20-12M104 84l-24-8M102 102l-26-2M372 66l20-12M380 84l24-8M382 102l26-2" } else { "" };
    let at = if hooded { "" } else { "translate(-62 -8)" };
    html! { <>{ placed(if exercise == Some(Exercise::HeadSide) { "" } else { at }, draw(&[(LINE, told)])) }{ draw(&[(LINE, haste)]) }</> }
}
