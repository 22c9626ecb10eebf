//! What the conductor looks at closely, as in a magnifying glass beside the wearer. It shows what the look showed, good
//! or bad; nothing is pointed at.

use super::{
    facepiece, hood, nebulizer,
    palette::{AGENT, DEEP, FEATURE, HOSE, KIT, LINE, PLAIN, TONGUE, VOID},
    pen::{Stroke, draw, placed},
};
use bittersweet_core::{
    act::Role,
    facepiece::{Class, Size},
    scene::{Close, Object, Scene, Worn},
    sign::Seen,
};
use yew::{Html, html};

/// The glass, and in it what is looked at.
pub(super) fn closeup(close: &Close, scene: &Scene) -> Html {
    let seen = |what: Seen| close.seen.contains(&what);
    let [check, fit] = scene.nebulizers;
    let of = |role| if role == Role::Check { check } else { fit };
    let inside = match close.object {
        Object::Nebulizer(role) => nebulizer::close(of(role), scene.agent),
        Object::Spray(role) => nebulizer::sprayed(of(role), seen(Seen::SpraysFine)),
        Object::Bottle => bottle(seen(Seen::BottleDated)),
        Object::Hood => damp_or_dry(seen(Seen::HoodDamp)),
        Object::Facepiece(class) => inspected(class, seen),
    };
    // Beside the bare face there is more room than beside the hood.
    let at = if scene.hood.is_some() { "translate(404 77) scale(.95)" } else { "translate(384 98) scale(1.17)" };
    placed(at, html! { <>{ draw(&[GLASS]) }{ inside }{ draw(&[HANDLE]) }</> })
}

const GLASS: Stroke = (PLAIN, "M-98 0a98 98 0 1 0 196 0a98 98 0 1 0-196 0");
const HANDLE: Stroke = (LINE, "M-70 69L-88 88M-66 73L-84 92");

fn bottle(dated: bool) -> Html {
    html! {
        <>
            { draw(&[
                (AGENT, "M-46 -20C-46 -34 -26 -38 -22 -46V-62H22V-46C26 -38 46 -34 46 -20V74H-46Z"),
                (KIT, "M-27 -80H27V-60H-27Z"),
                (LINE, "M-14 -78V-62M0 -78V-62M14 -78V-62"),
                (PLAIN, "M-46 -10H46V58H-46Z"),
                (LINE, "M-34 6H22M-34 20H30M-34 46H34"),
            ]) }
            { if dated { draw(&[(FEATURE, "M-30 34h8l-4 4c5 0 6 6-3 6M-14 44L-8 30M-2 34v10M4 34h7l-5 10M16 44L22 30M27 34v10")]) } else { Html::default() } }
        </>
    }
}

fn damp_or_dry(damp: bool) -> Html {
    let drops = "M-34 -30a4 5 0 1 0 8 0a4 5 0 1 0-8 0M-6 -38a3 4 0 1 0 6 0a3 4 0 1 0-6 0M16 -24a4 5 0 1 0 8 0a4 5 0 1 0-8 0M-22 -4a3 4 0 1 0 6 0a3 4 0 1 0-6 0M0 -10a4 6 0 1 0 8 0a4 6 0 1 0-8 0M30 4a3 4 0 1 0 6 0a3 4 0 1 0-6 0M-40 18a4 5 0 1 0 8 0a4 5 0 1 0-8 0M-8 20a3 4 0 1 0 6 0a3 4 0 1 0-6 0M14 26a4 5 0 1 0 8 0a4 5 0 1 0-8 0";
    let runs = "M-30 -25v10M20 -19v14M4 -4v14M-36 23v10";
    html! {
        <>
            { placed("translate(-130 -98) scale(.55)", html! { <>{ hood::back() }{ hood::front(false) }</> }) }
            { if damp { draw(&[(LINE, runs), (AGENT, drops)]) } else { Html::default() } }
        </>
    }
}

/// The facepiece from outside, its inside, and what is marked on its filter.
fn inspected(class: Class, seen: impl Fn(Seen) -> bool) -> Html {
    let full = matches!(class, Class::Full | Class::Powered);
    let outside = html! {
        <>
            { facepiece::facepiece(Worn { class, size: Size::Medium, fault: None, slipped: false }) }
            { if seen(Seen::FilterAskew) { draw(ASKEW) } else { Html::default() } }
            { if seen(Seen::StrapCracked) { draw(&[if full { CRACK_IN_HARNESS } else { CRACK }]) } else { Html::default() } }
        </>
    };
    let hose = |air: bool| {
        let d = "M236 250C232 276 214 290 190 296";
        let [whole, inside, rib] = HOSE;
        html! { <>{ draw(&[(whole, d), (inside, d), (rib, d)]) }{ if air { draw(&[(LINE, "M172 284l-16-6M170 296h-18M172 308l-16 6")]) } else { Html::default() } }</> }
    };
    let at = if full { "translate(-178 -142) scale(.74)" } else { "translate(-178 -150) scale(.74)" };
    html! {
        <>
            { placed(at, html! { <>{ if class.is_positive() { hose(seen(Seen::AirSupplied)) } else { Html::default() } }{ outside }</> }) }
            { placed("translate(52 44)", the_inside(seen(Seen::ValveMissing), seen(Seen::FacepieceUsed))) }
            { placed("translate(56 -36)", marked(seen(Seen::FiltersGasOnly))) }
        </>
    }
}

/// The near filter, one side of it standing off its seat.
const ASKEW: &[Stroke] = &[
    (VOID, "M182 232C180 206 200 192 224 202L228 212C210 202 192 210 188 240Z"),
    (DEEP, "M170 224C172 196 194 180 212 186C230 192 232 216 220 232C206 248 184 250 176 240C172 236 170 230 170 224Z"),
    (
        LINE,
        "M178 224C180 204 196 192 210 196C222 200 224 216 214 228C204 240 188 242 182 234M188 206L216 200M182 220L218 212M184 234L212 226",
    ),
];
/// Across a band that runs down over the ear.
const CRACK: Stroke = (VOID, "M186 190L191 183L194 187L203 176L205 180L195 192L192 188L188 194Z");
/// Across a band at the temple.
const CRACK_IN_HARNESS: Stroke = (VOID, "M150 126L157 133L153 138L160 147L156 147L148 138L152 133L146 126Z");

/// The inside: the edge that seals, the valve, and what somebody left there.
fn the_inside(no_valve: bool, used: bool) -> Html {
    let valve: &[Stroke] = if no_valve {
        &[(VOID, "M-9 12a9 9 0 1 0 18 0a9 9 0 1 0-18 0"), (PLAIN, "M-3 12a3 3 0 1 0 6 0a3 3 0 1 0-6 0")]
    } else {
        &[(PLAIN, "M-9 12a9 9 0 1 0 18 0a9 9 0 1 0-18 0"), (LINE, "M-2 12h4M0 10v4")]
    };
    html! {
        <>
            { draw(&[
                (KIT, "M0 -38C6 -38 12 -26 20 -18C32 -8 38 4 34 18C30 32 16 38 0 38C-16 38 -30 32 -34 18C-38 4 -32 -8 -20 -18C-12 -26 -6 -38 0 -38Z"),
                (DEEP, "M0 -26C4 -26 8 -17 14 -11C23 -3 28 6 25 16C22 25 12 29 0 29C-12 29 -22 25 -25 16C-28 6 -23 -3 -14 -11C-8 -17 -4 -26 0 -26Z"),
            ]) }
            { draw(valve) }
            { if used { draw(&[
                (TONGUE, "M-19 2C-14 -8 -2 -10 6 -6C2 0 -10 4 -19 2Z"),
                (PLAIN, "M12 0a2 2 0 1 0 4 0a2 2 0 1 0-4 0M16 10a2 3 0 1 0 4 0a2 3 0 1 0-4 0M-20 14a2 2 0 1 0 4 0a2 2 0 1 0-4 0M13 21a2 2 0 1 0 4 0a2 2 0 1 0-4 0M-16 22a2 3 0 1 0 4 0a2 3 0 1 0-4 0"),
            ]) } else { Html::default() } }
        </>
    }
}

/// The mark on the filter: dust as dots, vapour as waves.
fn marked(gas: bool) -> Html {
    let mark = if gas {
        "M-13 -7c4-5 9 5 13 0s9 5 13 0M-13 1c4-5 9 5 13 0s9 5 13 0M-13 9c4-5 9 5 13 0s9 5 13 0"
    } else {
        "M-10 -6h1M0 -8h1M9 -5h1M-5 1h1M5 2h1M-11 8h1M0 9h1M10 8h1"
    };
    draw(&[(DEEP, "M-26 0a26 26 0 1 0 52 0a26 26 0 1 0-52 0"), (PLAIN, "M-18 -15H18V15H-18Z"), (LINE, mark)])
}
