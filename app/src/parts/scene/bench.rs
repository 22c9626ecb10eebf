//! The bench before the wearer: facepieces to choose from, water, and the two nebulizers.

use super::{
    nebulizer::standing,
    palette::{BOARD, DEEP, KIT, LINE, PLAIN},
    pen::{draw, placed},
    room,
};
use bittersweet_core::scene::Scene;
use yew::{Html, html};

/// The bench and what stands on it.
pub(super) fn bench(scene: &Scene) -> Html {
    let [check, fit] = scene.nebulizers;
    let in_hand = |role| scene.held.is_some_and(|held| held.role == role);
    let cup_in_hand = scene.hand == bittersweet_core::scene::Hand::WithCup;
    let bench = html! {
        <>
            { draw(&[(BOARD, "M-1000 548H1500V592H-1000ZM-1000 592H1500V624H-1000Z")]) }
            { placed("translate(46 572)", mask()) }
            { placed("translate(104 572)", mask()) }
            { placed("translate(162 572)", mask()) }
            { if cup_in_hand { Html::default() } else { draw(&[(PLAIN, "M224 534H260L255 580C250 585 234 585 229 580Z"), (LINE, "M224 534C232 540 252 540 260 534M226 552H258")]) } }
            { placed("translate(346 570)", standing(check, scene.agent, in_hand(check.role))) }
            { placed("translate(440 570)", standing(fit, scene.agent, in_hand(fit.role))) }
            { room::on_bench(scene.around) }
        </>
    };
    placed("translate(0 -70)", bench)
}

/// A facepiece of the rack, which says no more than that there are some.
fn mask() -> Html {
    draw(&[
        (LINE, "M-14 -4C-30 -22 -12 -30 0 -30C12 -30 30 -22 14 -4"),
        (KIT, "M0 -18C6 -16 10 -6 14 2C16 10 12 18 0 18C-12 18 -16 10 -14 2C-10 -6 -6 -16 0 -18Z"),
        (DEEP, "M-24 8a8 9 0 1 0 16 0a8 9 0 1 0-16 0M8 8a8 9 0 1 0 16 0a8 9 0 1 0-16 0"),
        (LINE, "M-3 10h6"),
    ])
}
