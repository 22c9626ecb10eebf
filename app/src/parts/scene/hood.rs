//! The hood: over head and shoulders, clear in front, with a small hole before nose and mouth. What is inside is drawn
//! by others and seen through it.

use super::{
    palette::{CLEAR, FABRIC_RING, FEATURE, FOG, LINE, PLAIN},
    pen::{draw, placed},
};
use bittersweet_core::act::Aim;
use yew::{Html, html};

const SHELL: &str = "M116 262L118 86C118 60 172 42 236 42C302 42 350 60 350 88L352 262C352 276 356 288 364 298C330 314 284 320 232 320C180 320 130 314 100 300C111 289 116 276 116 262Z";
const WINDOW: &str =
    "M140 95C190 83 292 83 338 94C344 150 344 206 340 253C290 265 196 265 138 253C134 200 134 148 140 95Z";

/// The far wall, behind the head.
pub(super) fn back() -> Html {
    draw(&[(PLAIN, SHELL)])
}

/// The near wall: cloth, window and hole.
pub(super) fn front(fogged: bool) -> Html {
    let cloth = [SHELL, WINDOW].concat();
    html! {
        <>
            { if fogged { fog() } else { Html::default() } }
            <path class={FABRIC_RING} d={cloth} />
            { draw(&[
                (LINE, "M120 98C124 78 178 58 236 58C298 58 344 76 348 98M128 112C126 160 126 210 129 256M110 292C156 305 304 306 356 291M346 110C350 160 350 210 347 258"),
                (CLEAR, WINDOW),
                (LINE, "M312 108L326 132M318 104L332 128M150 226L160 242"),
                (PLAIN, "M309 199a12 15 0 1 0 24 0a12 15 0 1 0-24 0"),
                (FEATURE, "M313 199a8 10 0 1 0 16 0a8 10 0 1 0-16 0"),
            ]) }
        </>
    }
}

/// The half of the hole's rim that hides the nozzle where it passes through: pointed at the mouth, or upwards.
pub(super) fn lip(aim: Aim) -> Html {
    draw(&[(
        PLAIN,
        match aim {
            Aim::AtMouth => "M321 184a12 15 0 0 0 0 30M321 209a8 10 0 0 1 0-20",
            Aim::Away => "M309 199a12 15 0 0 1 24 0M329 199a8 10 0 0 0-16 0",
        },
    )])
}

/// Breath on the window.
fn fog() -> Html {
    draw(&[
        (
            FOG,
            "M196 260C194 240 222 244 232 226C240 208 252 206 264 190C278 174 296 190 312 184C326 178 334 172 343 166L340 253C300 263 244 264 196 260Z",
        ),
        (
            LINE,
            "M262 216a2 2 0 1 0 4 0a2 2 0 1 0-4 0M286 206a2 2 0 1 0 4 0a2 2 0 1 0-4 0M250 240a2 2 0 1 0 4 0a2 2 0 1 0-4 0M232 252a2 2 0 1 0 4 0a2 2 0 1 0-4 0M276 232a2 2 0 1 0 4 0a2 2 0 1 0-4 0M322 236a2 2 0 1 0 4 0a2 2 0 1 0-4 0M296 232v22M332 196v30M264 244v18M310 222v14M218 254v10",
        ),
    ])
}

/// Puts the front nearer, so that the window nearly touches the nose.
pub(super) fn near(part: Html) -> Html {
    placed("translate(23 0) scale(.8 1)", part)
}

/// Puts the hood askew, so that its hem lies on a shoulder.
pub(super) fn swung(part: Html) -> Html {
    placed("rotate(5 232 60)", part)
}

/// The hood lifted off the face, which looks out below.
pub(super) fn lifted() -> Html {
    placed("translate(-36 86) rotate(-20) scale(.92 .46)", html! { <>{ back() }{ front(false) }</> })
}

/// The hood taken off, hanging from the hand.
pub(super) fn taken_off() -> Html {
    placed("translate(66 300) rotate(-4) scale(.62)", html! { <>{ back() }{ front(false) }</> })
}
