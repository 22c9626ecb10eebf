//! The hood: over head and shoulders, clear in front, with a small hole before nose and mouth. What is inside is drawn
//! by others and seen through it.

use super::{
    palette::{FEATURE, FOG, GLASS, LINE, PLAIN},
    pen::{draw, placed},
};
use yew::{Html, html};

const SHELL: &str = "M126 262L128 86C128 60 178 42 240 42C302 42 350 60 350 88L352 262C352 276 356 288 364 298C330 314 284 320 234 320C184 320 138 314 110 300C121 289 126 276 126 262Z";
const WINDOW: &str = "M162 92C204 83 292 83 338 94C344 150 344 210 340 262C290 273 206 273 160 263C156 204 156 148 162 92Z";

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
            <path class="fabric ring" d={cloth} />
            { draw(&[
                (LINE, "M130 98C134 78 184 58 240 58C298 58 344 76 348 98M138 110C136 160 136 210 140 256M148 104C145 160 145 212 149 262M120 292C160 304 300 306 356 291M346 110C350 160 350 210 347 258"),
                (GLASS, WINDOW),
                (LINE, "M312 108L326 132M318 104L332 128M176 240L186 256"),
                (PLAIN, "M305 199a12 15 0 1 0 24 0a12 15 0 1 0-24 0"),
                (FEATURE, "M310 199a7 9 0 1 0 14 0a7 9 0 1 0-14 0"),
            ]) }
        </>
    }
}

/// Breath on the window.
fn fog() -> Html {
    draw(&[
        (FOG, "M222 266C220 240 244 240 254 222C262 206 286 188 306 192C324 196 334 184 342 178L340 262C304 270 262 271 222 266Z"),
        (LINE, "M262 236a3 3 0 1 0 6 0a3 3 0 1 0-6 0M286 222a3 3 0 1 0 6 0a3 3 0 1 0-6 0M282 250a3 3 0 1 0 6 0a3 3 0 1 0-6 0M244 252a2 2 0 1 0 4 0a2 2 0 1 0-4 0M322 244a3 3 0 1 0 6 0a3 3 0 1 0-6 0M304 236v20M332 214v26M272 240v16"),
    ])
}

/// Puts the front nearer, so that the window nearly touches the nose.
pub(super) fn near(part: Html) -> Html {
    placed("translate(25 0) scale(.8 1)", part)
}

/// The hood lifted off the face, which looks out below.
pub(super) fn lifted() -> Html {
    placed("translate(-38 -36) rotate(-30 126 280) scale(.92)", html! { <>{ back() }{ front(false) }</> })
}

/// The hood taken off, hanging from the hand.
pub(super) fn taken_off() -> Html {
    placed("translate(-88 316) rotate(6) scale(.56)", html! { <>{ back() }{ front(false) }</> })
}
