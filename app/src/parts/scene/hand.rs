//! Hands, in the few holds that tell something. Each is drawn pointing up from its wrist at the origin, or to the right
//! where it points, and put in place by the arm.

use super::{
    palette::{FEATURE, SKIN},
    pen::{Stroke, draw},
};
use yew::Html;

/// How a hand is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Hold {
    /// Open, the palm to the front.
    Open,
    /// Loose, fingers half curled.
    Loose,
    /// One finger out.
    Pointing,
    /// Flat.
    Flat,
    /// Closed round something.
    Closed,
}

const OPEN: &[Stroke] = &[
    (
        SKIN,
        "M-18 6C-20 -8 -25 -20 -26 -34L-34 -62C-35 -70 -26 -73 -23 -66L-15 -46L-18 -80C-18 -88 -8 -89 -7 -81L-2 -50L0 -87C1 -95 11 -95 11 -87L10 -50L17 -80C19 -87 28 -86 26 -77L21 -42C22 -34 23 -30 26 -27L37 -45C42 -51 50 -46 46 -39L33 -13C27 -2 20 0 18 6Z",
    ),
    (FEATURE, "M-14 -30C-4 -36 8 -36 16 -32M18 -24C8 -24 2 -14 4 -2M-16 -20C-8 -24 -2 -22 2 -18"),
];
const LOOSE: &[Stroke] = &[
    (
        SKIN,
        "M-17 6C-20 -8 -25 -18 -25 -32C-26 -42 -18 -46 -13 -41C-13 -52 -2 -54 1 -46C4 -55 15 -53 15 -44C21 -49 28 -43 26 -35L24 -24C32 -30 38 -24 34 -18L26 -6C22 2 18 2 16 6Z",
    ),
    (
        FEATURE,
        "M-13 -41L-12 -30M1 -46L1 -32M15 -44L13 -31M24 -24C20 -20 16 -20 12 -24M-20 -26C-16 -22 -12 -22 -10 -25C-7 -21 -2 -21 1 -25C4 -21 9 -21 12 -25",
    ),
];
const POINTING: &[Stroke] = &[
    (
        SKIN,
        "M-4 -17C10 -21 24 -22 36 -18L74 -14C82 -13 82 -3 74 -3L52 -4C60 -1 61 8 53 10C58 15 53 23 45 21C44 28 34 29 29 24C16 24 6 20 -4 16Z",
    ),
    (FEATURE, "M52 -4L38 -4M53 10L38 9M45 21L36 20M20 -8C28 -4 34 0 40 -8"),
];
const FLAT: &[Stroke] = &[
    (
        SKIN,
        "M-4 -17C2 -20 8 -22 12 -23C20 -38 34 -44 41 -40C46 -36 41 -29 36 -27L32 -22L78 -18C86 -17 86 -8 79 -8L84 -7C91 -5 90 4 82 4L79 5C85 8 82 15 75 15L64 15C69 19 66 25 60 24L28 22C14 22 6 20 -4 16Z",
    ),
    (FEATURE, "M46 -10L79 -8M46 2L81 4M42 13L74 15"),
];
const CLOSED: &[Stroke] = &[
    (
        SKIN,
        "M-15 8C-24 -2 -27 -18 -20 -29C-10 -38 10 -40 20 -35C27 -33 28 -26 25 -23C29 -20 29 -13 25 -10C28 -7 27 -1 22 0C22 5 18 8 14 8Z",
    ),
    (FEATURE, "M25 -23L2 -24M25 -10L0 -12M22 0L2 -1M-20 -29C-12 -36 -4 -30 -6 -22C-8 -16 -14 -16 -17 -12"),
];

/// A hand.
pub(super) fn hand(hold: Hold) -> Html {
    draw(match hold {
        Hold::Open => OPEN,
        Hold::Loose => LOOSE,
        Hold::Pointing => POINTING,
        Hold::Flat => FLAT,
        Hold::Closed => CLOSED,
    })
}
