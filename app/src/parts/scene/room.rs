//! What goes on around the wearer: somebody in the door, a queue, the phone, the alarm, a workmate's hand.

use super::{
    hand::{Hold, hand},
    palette::{CLOTH, DEEP, HAIR, KIT, LINE, PLAIN, SKIN_OTHER},
    pen::{Stroke, draw, placed},
};
use bittersweet_core::scene::Around;
use yew::{Html, html};

const DOOR: Stroke = (PLAIN, "M404 548V36H496V548");
const HANDLE: Stroke = (LINE, "M412 300a4 4 0 1 0 8 0a4 4 0 1 0-8 0");

/// Somebody in the door, half seen.
const PERSON: &[Stroke] = &[
    (CLOTH, "M418 548V226C420 196 440 186 460 186C478 186 492 194 496 210V548Z"),
    (
        SKIN_OTHER,
        "M446 190V172C436 164 432 150 434 134C436 114 448 106 460 106C474 106 486 116 486 136C486 156 478 168 472 174V190C466 198 452 198 446 190Z",
    ),
    (HAIR, "M433 136C430 112 444 98 462 98C480 98 490 112 487 134C482 122 474 118 462 118C448 118 440 124 433 136Z"),
    (LINE, "M438 146h6M440 158c3 3 7 3 9 1"),
];

/// Behind the wearer.
pub(super) fn behind(around: Option<Around>) -> Html {
    match around {
        Some(Around::Door | Around::Sheets) => draw_all(&[DOOR, HANDLE], draw(PERSON)),
        Some(Around::SecondWearer) => draw_all(
            &[DOOR, HANDLE],
            html! {
                <>
                    { draw(PERSON) }
                    { draw(&[(KIT, "M388 330C388 296 404 284 424 284C444 284 460 296 460 330V396C446 404 402 404 388 396Z"), (PLAIN, "M398 320H442V372H398Z")]) }
                    <g class="other">{ placed("translate(424 296) rotate(160)", hand(Hold::Closed)) }</g>
                </>
            },
        ),
        Some(Around::Queue) => draw_all(
            &[DOOR],
            html! {
                <>
                    { placed("translate(96 40) scale(0.8)", draw(PERSON)) }
                    { placed("translate(60 74) scale(0.8)", draw(PERSON)) }
                    { draw(PERSON) }
                </>
            },
        ),
        Some(Around::Alarm) => draw(&[
            (DEEP, "M430 24H474V44H430Z"),
            (KIT, "M436 24C436 2 468 2 468 24Z"),
            (
                LINE,
                "M418 8L404 0M486 8L500 0M452 -8V-18M414 30H396M490 30H506M424 62C430 74 474 74 480 62M414 72C424 92 480 92 490 72",
            ),
        ]),
        Some(Around::Phone | Around::Helper) | None => Html::default(),
    }
}

/// On the bench.
pub(super) fn on_bench(around: Option<Around>) -> Html {
    match around {
        Some(Around::Phone) => draw(&[
            (DEEP, "M274 532L306 527L313 576L281 581Z"),
            (PLAIN, "M279 539L302 535L307 566L284 570Z"),
            (
                LINE,
                "M264 526C260 533 260 541 264 549M255 519C248 531 248 546 255 559M317 522C323 527 324 535 322 543M326 513C336 523 337 537 332 550",
            ),
        ]),
        Some(Around::Sheets) => draw(&[
            (
                PLAIN,
                "M268 566L300 550L330 558L298 578ZM268 560L300 544L330 552L298 572ZM268 554L300 538L330 546L298 566Z",
            ),
            (LINE, "M282 556L304 545M289 559L311 548M297 561L318 550"),
        ]),
        _ => Html::default(),
    }
}

/// Under the hood's edge.
pub(super) fn helper(around: Option<Around>) -> Html {
    if around != Some(Around::Helper) {
        return Html::default();
    }
    html! {
        <>
            <g class="other">{ placed("translate(138 250) rotate(46)", hand(Hold::Closed)) }</g>
            { draw(&[(DEEP, "M-1000 620L112 244L136 276L-1000 780Z"), (LINE, "M100 249L122 282")]) }
        </>
    }
}

fn draw_all(strokes: &[Stroke], over: Html) -> Html {
    html! { <>{ draw(strokes) }{ over }</> }
}
