//! Nebulizers with a hand bulb: on their stands, and in the conductor's hand. One is told from the other by the shape
//! and number on a tag and by the shape of its stand, never by colour.

use super::{
    palette::{ABSENT, AGENT, BOARD, DEEP, FEATURE, LINE, PLAIN, SKIN_OTHER, SPRAY},
    pen::{Stroke, draw, placed},
};
use bittersweet_core::{
    act::{Aim, Role},
    rulebook::Agent,
    scene::{Held, Liquid, Nebulizer, Tag},
};
use yew::{Html, html};

/// Nozzle, chamber and neck; the tip is at the origin and the bulb to the right.
const GLASSWARE: &[Stroke] = &[
    (PLAIN, "M0 -5L26 -7C30 -16 40 -20 50 -20C62 -20 70 -14 71 -7H80V7H71C70 16 62 22 50 22C40 22 30 16 26 7L0 5Z"),
    (LINE, "M26 -7V7M71 -7V7M44 -20V-26H56V-20"),
];
/// What is in the chamber, as it lies when held level.
const fn level(liquid: Liquid) -> &'static [Stroke] {
    match liquid {
        Liquid::Enough => &[(AGENT, "M28 8H70C67 16 60 21 50 21C40 21 32 16 28 8Z")],
        Liquid::Low => &[(AGENT, "M36 17H64C60 20 56 21 50 21C44 21 40 20 36 17Z")],
        Liquid::Nothing => &[],
    }
}
/// The same when upright.
const fn upright_level(liquid: Liquid) -> &'static [Stroke] {
    match liquid {
        Liquid::Enough => &[(AGENT, "M54 -20C64 -18 70 -14 71 -7V7C70 16 64 20 54 22Z")],
        Liquid::Low => &[(AGENT, "M67 -12C70 -10 71 -9 71 -7V7C71 9 70 10 67 12Z")],
        Liquid::Nothing => &[],
    }
}
const BULB: &[Stroke] = &[
    (DEEP, "M80 -9C88 -24 104 -28 118 -24C134 -20 144 -10 144 0C144 10 134 20 118 24C104 28 88 24 80 9Z"),
    (LINE, "M86 -12V12M138 -4h5v8h-5"),
];
const BULB_PRESSED: &[Stroke] = &[
    (
        DEEP,
        "M80 -9C86 -16 92 -16 98 -10C106 -4 120 -4 128 -10C136 -18 148 -12 148 0C148 12 136 18 128 10C120 4 106 4 98 10C92 16 86 16 80 9Z",
    ),
    (LINE, "M86 -9V9M142 -4h5v8h-5"),
];
const CRUST: Stroke = (
    PLAIN,
    "M-6 -3L-3 -9L1 -7L4 -11L9 -8L15 -10L13 -4L16 1L12 4L14 10L8 8L4 12L1 7L-4 9L-3 4L-7 2ZM2 -3h1M6 3h1M8 -4h1M1 3h1M11 0h1",
);

/// What comes out of a clogged tip.
const DRIP: Stroke = (AGENT, "M-4 8C-9 16 -9 22 -4 23C1 22 1 16 -4 8ZM-6 34C-10 41 -10 46 -6 47C-2 46 -2 41 -6 34Z");

/// A puff as it leaves the tip.
const PUFF: Stroke =
    (SPRAY, "M-8 0H-22M-30 0H-52M-9 -4L-21 -9M-29 -12L-48 -20M-9 4L-21 9M-29 12L-48 20M-26 -5L-40 -8M-26 5L-40 8");

/// A tag: a number on its shape, a disc for screening and a square for the fit test, and under it the mark of the agent, a
/// line for sweet and a zigzag for bitter.
fn tag(role: Role, agent: Agent) -> Html {
    let (shape, number) = match role {
        Role::Check => ("M-16 0a16 16 0 1 0 32 0a16 16 0 1 0-32 0", "1"),
        Role::Fit => ("M-15 -15H15V15H-15Z", "2"),
    };
    let mark = match agent {
        Agent::Sweet => "M-6 9H6",
        Agent::Bitter => "M-7 11L-3 7L0 11L3 7L7 11",
    };
    html! { <><path class={PLAIN} d={shape} /><text class="number" x="0" y="3">{ number }</text>{ draw(&[(LINE, mark)]) }</> }
}

/// What hangs on it: what was read on its tag, a blank label, or nothing yet to be seen.
fn mark(nebulizer: Nebulizer, agent: Agent, tag_at: &'static str, label_at: &'static str) -> Html {
    let (own, other) = match nebulizer.role {
        Role::Check => (Role::Check, Role::Fit),
        Role::Fit => (Role::Fit, Role::Check),
    };
    let other_agent = match agent {
        Agent::Sweet => Agent::Bitter,
        Agent::Bitter => Agent::Sweet,
    };
    match nebulizer.tag {
        Some(Tag::Own) => placed(tag_at, tag(own, agent)),
        Some(Tag::Other) => placed(tag_at, tag(other, agent)),
        Some(Tag::OtherAgent) => placed(tag_at, tag(own, other_agent)),
        Some(Tag::Blank) => placed(label_at, draw(&[(ABSENT, "M-12 -8H12V8H-12Z")])),
        None => Html::default(),
    }
}

/// Glass, liquid, bulb and tip, upright.
fn upright(nebulizer: Nebulizer) -> Html {
    html! {
        <>
            { draw(GLASSWARE) }
            { draw(upright_level(nebulizer.liquid)) }
            { draw(BULB) }
            { if nebulizer.crusted { draw(&[CRUST]) } else { Html::default() } }
        </>
    }
}

/// One looked at closely, with its tag.
pub(super) fn close(nebulizer: Nebulizer, agent: Agent) -> Html {
    html! {
        <>
            { placed("translate(-34 -76) scale(1.06) rotate(90)", upright(nebulizer)) }
            { mark(nebulizer, agent, "translate(40 8) scale(2.3)", "translate(40 8) scale(2.3)") }
        </>
    }
}

/// One pressed into the air to try its spray.
pub(super) fn sprayed(nebulizer: Nebulizer, fine: bool) -> Html {
    placed(
        "translate(-34 0) scale(.86)",
        html! {
            <>
                { draw(GLASSWARE) }
                { draw(level(nebulizer.liquid)) }
                { draw(BULB_PRESSED) }
                { if nebulizer.crusted { draw(&[CRUST]) } else { Html::default() } }
                { draw(&[if fine { PUFF } else { DRIP }]) }
            </>
        },
    )
}

/// One on the bench, upright in its stand; only the stand where it is in hand.
pub(super) fn standing(nebulizer: Nebulizer, agent: Agent, away: bool) -> Html {
    let stand = draw(match nebulizer.role {
        Role::Check => &[
            (BOARD, "M-32 0C-32 -9 -18 -14 0 -14C18 -14 32 -9 32 0V9C32 18 18 23 0 23C-18 23 -32 18 -32 9Z"),
            (LINE, "M-32 0C-32 9 -18 14 0 14C18 14 32 9 32 0"),
        ],
        Role::Fit => &[(BOARD, "M-24 -13H24L32 10V22H-32V10Z"), (LINE, "M-32 10H32")],
    });
    if away {
        let hollow = draw(&[(ABSENT, "M-16 -1a16 6 0 1 0 32 0a16 6 0 1 0-32 0")]);
        return html! { <>{ stand }{ hollow }</> };
    }
    html! {
        <>
            { stand }
            { placed("translate(0 -122) scale(.88) rotate(90)", upright(nebulizer)) }
            { if nebulizer.tag.is_some_and(|tag| tag != Tag::Blank) { draw(&[(LINE, "M0 -52C16 -54 24 -48 26 -38")]) } else { Html::default() } }
            { mark(nebulizer, agent, "translate(28 -22)", "translate(0 -20)") }
        </>
    }
}

/// The conductor's fingers, behind the bulb.
const FINGERS: Stroke = (
    SKIN_OTHER,
    "M92 -12C88 -28 102 -34 107 -24C108 -37 123 -37 125 -25C128 -36 142 -33 142 -21C150 -28 160 -19 156 -9L152 22L112 -4Z",
);
/// Thumb and palm, before it.
const PALM: Stroke = (
    SKIN_OTHER,
    "M204 4C188 6 172 2 158 -4C144 -14 120 -14 106 -10C96 -6 98 6 108 7C118 8 126 10 131 18C136 32 160 46 198 50Z",
);
const THUMBNAIL: Stroke = (FEATURE, "M104 -5C108 -7 112 -6 114 -4M131 18C138 14 146 14 152 18");

/// The one in the conductor's hand, at the hole of the hood, or held out where there is no hood.
pub(super) fn held(held: Held, nebulizer: Nebulizer, agent: Agent) -> Html {
    let spray = match (held.pressed, held.failing) {
        (_, true) if held.aim == Aim::Away => placed("rotate(-74)", draw(&[DRIP])),
        (_, true) => draw(&[DRIP]),
        (true, false) => draw(&[PUFF]),
        (false, false) => Html::default(),
    };
    let bulb = draw(if held.pressed { BULB_PRESSED } else { BULB });
    let grip = if held.pressed { "translate(0 7)" } else { "" };
    let grip_over = if held.pressed { "translate(0 3)" } else { "" };
    let liquid = match held.aim {
        Aim::Away => upright_level(nebulizer.liquid),
        Aim::AtMouth => level(nebulizer.liquid),
    };
    let whole = || {
        html! {
            <>
                { placed(grip, draw(&[FINGERS])) }
                { draw(GLASSWARE) }
                { draw(liquid) }
                { bulb.clone() }
                { if nebulizer.crusted { draw(&[CRUST]) } else { Html::default() } }
                { spray.clone() }
                { placed(grip_over, draw(&[PALM, THUMBNAIL])) }
            </>
        }
    };
    match held.aim {
        Aim::AtMouth => html! {
            <>
                <g transform="translate(299 196) rotate(3)">
                    { whole() }
                    { mark(nebulizer, agent, "translate(52 46)", "translate(50 0)") }
                </g>
                { draw(&[(PLAIN, "M480 193L1200 214V420L470 260Z"), (LINE, "M490 193L480 261")]) }
            </>
        },
        Aim::Away => html! {
            <>
                { draw(&[(PLAIN, "M312 388L372 360L1200 954V1300H1000Z"), (LINE, "M322 404L384 370")]) }
                <g transform="translate(314 176) rotate(74)">
                    { whole() }
                    <g transform="translate(50 0) rotate(-74)">{ mark(nebulizer, agent, "translate(40 4)", "") }</g>
                </g>
            </>
        },
    }
}
