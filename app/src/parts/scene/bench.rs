//! The bench before the wearer: facepieces to choose from, water, and the two nebulizers.

use super::{
    nebulizer::standing,
    palette::{ABSENT, BOARD, DEEP, KIT, LINE, PLAIN},
    pen::{Stroke, draw, placed},
    room,
};
use bittersweet_core::{
    act::Slot,
    facepiece::{Class, Size},
    scene::Scene,
};
use yew::{Html, html};

/// The bench and what stands on it.
pub(super) fn bench(scene: &Scene) -> Html {
    let [check, fit] = scene.nebulizers;
    let in_hand = |role| scene.held.is_some_and(|held| held.role == role);
    let cup_in_hand = scene.hand == bittersweet_core::scene::Hand::WithCup;
    let bench = html! {
        <>
            { draw(&[(BOARD, "M-1000 548H1500V592H-1000ZM-1000 592H1500V624H-1000Z")]) }
            { rack(&scene.rack) }
            { if cup_in_hand { Html::default() } else { draw(&[(PLAIN, "M224 534H260L255 580C250 585 234 585 229 580Z"), (LINE, "M224 534C232 540 252 540 260 534M226 552H258")]) } }
            { placed("translate(346 570)", standing(check, scene.agent, in_hand(check.role))) }
            { placed("translate(440 570)", standing(fit, scene.agent, in_hand(fit.role))) }
            { room::on_bench(scene.around) }
        </>
    };
    placed("translate(0 -70)", bench)
}

/// Where the rack begins, and how wide it may be before it comes up to the cup.
const LEFT: u32 = 8;
const WIDTH: u32 = 206;
/// How far apart its places lie at most; nearer than the second, what lies there is drawn smaller.
const APART: u32 = 58;
const CROWDED: u32 = 54;
/// Where facepieces stand, and how far down from its own middle one reaches.
const BOTTOM: u32 = 590;
const REACH: u32 = 18;

/// Facepieces side by side in the order of the rack, an empty place for one that is worn. In whole numbers: to write broken
/// ones would weigh as much as the rest of the bench.
fn rack(places: &[Option<(Class, Size)>]) -> Html {
    let count = u32::try_from(places.len()).unwrap_or(u32::from(Slot::MOST)).max(1);
    let apart = (WIDTH / count).min(APART);
    let place = |(nth, place): (u32, &Option<(Class, Size)>)| {
        let size = match place {
            Some((_, Size::Small)) => 84,
            Some((_, Size::Medium)) | None => 100,
            Some((_, Size::Large)) => 114,
        };
        let percent = size * apart.min(CROWDED) / CROWDED;
        let (x, y) = (LEFT + apart * nth + apart / 2, BOTTOM - REACH * percent / 100);
        let lying = place.map_or(EMPTY, |(class, _)| facepiece(class));
        html! { <g transform={format!("translate({x} {y}) scale({}.{:02})", percent / 100, percent % 100)}>{ draw(lying) }</g> }
    };
    (0..).zip(places).map(place).collect()
}

/// A facepiece that lies there.
const fn facepiece(class: Class) -> &'static [Stroke] {
    match class {
        Class::Half => &[BAND, HALF, NEAR_FILTERS, VALVE],
        Class::Supplied => &[HOSE_OUT, HOSE_IN, BAND, HALF, PORT],
        Class::Filtering => &[
            (LINE, "M-20 4C-32 -22 -12 -30 0 -30C12 -30 32 -22 20 4"),
            (KIT, "M0 -16C12 -15 23 0 22 9C19 21 -19 21 -22 9C-23 0 -12 -15 0 -16Z"),
            (LINE, "M-21 6C-10 -3 10 -3 21 6"),
            (DEEP, "M-9 -12C-4 -17 4 -17 9 -12L6 -8C3 -11 -3 -11 -6 -8Z"),
        ],
        Class::Full => &[FRAME, PANE, NEAR_FILTERS, VALVE],
        Class::Powered => &[HOSE_OUT, HOSE_IN, FRAME, PANE, PORT],
    }
}

const EMPTY: &[Stroke] = &[(ABSENT, "M-18 10a18 7 0 1 0 36 0a18 7 0 1 0-36 0")];
const BAND: Stroke = (LINE, "M-14 -4C-30 -22 -12 -30 0 -30C12 -30 30 -22 14 -4");
const HALF: Stroke = (KIT, "M0 -18C6 -16 10 -6 14 2C16 10 12 18 0 18C-12 18 -16 10 -14 2C-10 -6 -6 -16 0 -18Z");
const NEAR_FILTERS: Stroke = (DEEP, "M-24 8a8 9 0 1 0 16 0a8 9 0 1 0-16 0M8 8a8 9 0 1 0 16 0a8 9 0 1 0-16 0");
const VALVE: Stroke = (LINE, "M-3 10h6");
const FRAME: Stroke = (KIT, "M0 -36C15 -36 20 -22 20 -8C20 8 14 18 0 18C-14 18 -20 8 -20 -8C-20 -22 -15 -36 0 -36Z");
const PANE: Stroke =
    (PLAIN, "M0 -30C11 -30 15 -19 15 -9C15 -5 14 -2 13 0C6 -5 -6 -5 -13 0C-14 -2 -15 -5 -15 -9C-15 -19 -11 -30 0 -30Z");
const PORT: Stroke = (DEEP, "M-7 4C-4 2 4 2 7 4L6 18H-6Z");
const AIRWAY: &str = "M2 12C14 13 21 8 20 -4C19 -14 24 -20 26 -24";
const HOSE_OUT: Stroke = ("hose thin", AIRWAY);
const HOSE_IN: Stroke = ("hose inside thin", AIRWAY);
