//! The bench before the wearer: facepieces to choose from, water, and the two nebulizers.

use super::{
    nebulizer::standing,
    palette::{BOARD, KIT, LINE, PLAIN},
    pen::{draw, placed},
};
use bittersweet_core::scene::Scene;
use yew::{Html, html};

/// The bench and what stands on it.
pub(super) fn bench(scene: &Scene) -> Html {
    let [check, fit] = scene.nebulizers;
    let in_hand = |role| scene.held.is_some_and(|held| held.role == role);
    let cup_in_hand = scene.hand == bittersweet_core::scene::Hand::WithCup;
    html! {
        <>
            { draw(&[(BOARD, "M-10 548H510V592H-10ZM-10 592H510V624H-10Z")]) }
            { placed("translate(46 574)", mask()) }
            { placed("translate(104 578)", mask()) }
            { placed("translate(162 574)", mask()) }
            { if cup_in_hand { Html::default() } else { draw(&[(PLAIN, "M224 534H260L255 580C250 585 234 585 229 580Z"), (LINE, "M224 534C232 540 252 540 260 534M226 552H258")]) } }
            { placed("translate(346 570)", standing(check, in_hand(check.role))) }
            { placed("translate(440 570)", standing(fit, in_hand(fit.role))) }
        </>
    }
}

/// A facepiece of the rack, which says no more than that there are some.
fn mask() -> Html {
    draw(&[
        (KIT, "M0 -18C8 -16 14 -4 20 4C24 12 14 20 0 20C-14 20 -24 12 -20 4C-14 -4 -8 -16 0 -18Z"),
        (LINE, "M-20 2C-28 -4 -26 -14 -18 -14M20 2C28 -4 26 -14 18 -14M-5 10a5 5 0 1 0 10 0a5 5 0 1 0-10 0"),
    ])
}
