//! What whoever stands in the hood sees: the window, the hole with the nozzle, mist, the tester beyond, and below the edge
//! of the mask.

use super::{
    mist::mist,
    palette::{
        AGENT, BOARD, CLOTH, DARK, DEEP, EYE, FEATURE, HAIR, KIT, KIT_RING, LINE, PLAIN, SKIN_OTHER, SPRAY, tint,
    },
    pen::{Stroke, draw, moving, placed},
};
use bittersweet_core::{act::Exercise, rulebook::Agent};
use yew::{AttrValue, Html, classes, html};

/// What there is to see from inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct View {
    /// Which spray it is.
    pub(crate) agent: Agent,
    /// Whether the hood is on.
    pub(crate) hood: bool,
    /// Whether the mask is.
    pub(crate) mask: bool,
    /// How dense the mist is, from 0 to 5.
    pub(crate) mist: u8,
    /// Whether a puff is on its way.
    pub(crate) sprays: bool,
    /// The exercise under way.
    pub(crate) exercise: Option<Exercise>,
}

const ROOM: &[Stroke] = &[
    (BOARD, "M-400 470H800V700H-400Z"),
    (LINE, "M-400 -70H800M130 -70V-54H270V-70M-400 470H800"),
    (PLAIN, "M-130 50H-20V180H-130ZM430 40H530V470H430Z"),
    (LINE, "M-75 50V180M-130 112H-20M442 270a5 5 0 1 0 10 0a5 5 0 1 0-10 0"),
];

const TESTER: &[Stroke] = &[
    (DEEP, "M146 300L142 522H194L200 340L206 522H258L254 300Z"),
    (KIT, "M140 520H194V540H126C126 528 132 520 140 520ZM260 520H206V540H274C274 528 268 520 260 520Z"),
    (
        CLOTH,
        "M178 128C150 136 124 138 114 152C118 200 128 262 124 330H276C272 262 282 200 286 152C276 138 250 136 222 128Z",
    ),
    (LINE, "M200 150V330M228 200h30v22h-30z"),
    (SKIN_OTHER, "M184 104V130C190 144 210 144 216 130V104Z"),
    (PLAIN, "M184 124L176 130L190 156L200 142L210 156L224 130L216 124L200 142Z"),
    (SKIN_OTHER, "M164 62C152 56 152 80 165 82ZM236 62C248 56 248 80 235 82Z"),
    (SKIN_OTHER, "M162 62C162 34 178 20 200 20C222 20 238 34 238 62C238 92 222 118 200 118C178 118 162 92 162 62Z"),
    (
        HAIR,
        "M159 68C152 30 172 6 200 6C228 6 248 30 241 68C238 52 233 42 224 36C208 42 182 42 176 36C167 42 162 52 159 68Z",
    ),
    (EYE, "M177 65C181 59 190 59 194 65C190 69 181 69 177 65ZM206 65C210 59 219 59 223 65C219 69 210 69 206 65Z"),
    (DARK, "M183 64a2.6 2.6 0 1 0 5.2 0a2.6 2.6 0 1 0-5.2 0M212 64a2.6 2.6 0 1 0 5.2 0a2.6 2.6 0 1 0-5.2 0"),
    (
        FEATURE,
        "M175 55C181 50 189 50 195 54M205 54C211 50 219 50 225 55M201 66C200 75 195 80 197 84C199 86 203 86 205 84M185 96C193 104 207 104 215 96",
    ),
];

/// An arm at the side; its like is on the other, until that reaches for the hole.
const HANGING: &[Stroke] = &[
    (SKIN_OTHER, "M98 310C92 328 94 350 106 356C116 358 122 340 121 314Z"),
    (CLOTH, "M146 136C118 140 106 152 101 176C96 216 92 262 94 314L123 318C125 276 126 240 136 200"),
    (LINE, "M95 302L124 306M112 354C108 346 108 338 110 330"),
];
const REACHING: &[Stroke] =
    &[(CLOTH, "M254 136C282 140 298 150 308 172C322 196 350 222 404 254L384 306C336 280 296 244 268 200")];

/// The hand whose fingers close round the bulb, outside the window. Its elbow is past the window's edge in every pose.
const HAND: &[Stroke] = &[
    (CLOTH, "M296 262L326 226L470 322L424 362Z"),
    (LINE, "M304 269L335 232"),
    (DEEP, "M212 222a40 40 0 1 0 80 0a40 40 0 1 0-80 0"),
    (
        SKIN_OTHER,
        "M254 178C270 180 288 186 300 198C310 206 318 218 324 230L300 262C286 268 268 266 258 260C250 256 249 250 254 247C246 246 242 242 242 237C242 232 246 229 251 229C243 229 240 225 240 220C240 215 244 211 250 211C243 210 241 206 242 201C243 197 248 195 254 195C242 194 238 190 240 184C242 178 248 177 254 178Z",
    ),
    (
        FEATURE,
        "M254 195C262 195 270 196 278 200M250 211C260 210 270 212 278 215M251 229C260 228 270 229 277 231M254 247C262 248 268 248 274 246",
    ),
];
/// The nebulizer behind its hole.
const NEBULIZER: &[Stroke] = &[
    (PLAIN, "M164 192a36 36 0 1 0 72 0a36 36 0 1 0-72 0"),
    (AGENT, "M166 204H234C229 220 216 228 200 228C184 228 171 220 166 204Z"),
];

const CLOTH_OF_HOOD: &str = "M-400 -140H800V410H-400Z";
const WINDOW: &str = "M70 22C140 10 260 10 330 22C346 24 356 34 358 50C364 110 364 190 356 246C354 262 344 270 328 272C250 282 150 282 72 272C56 270 46 262 44 246C36 190 36 110 42 50C44 34 54 24 70 22Z";
const FOLDS: &[Stroke] = &[
    (
        LINE,
        "M-160 -44L30 70M-160 150H26M-160 370L32 226M560 -44L370 70M560 150H374M560 370L368 226M76 -100L114 8M324 -100L286 8",
    ),
    (LINE, "M312 40L332 76M324 40L342 72"),
];
const HOLE: &[Stroke] = &[
    (PLAIN, "M180 192a20 20 0 1 0 40 0a20 20 0 1 0-40 0"),
    (DEEP, "M186 192a14 14 0 1 0 28 0a14 14 0 1 0-28 0"),
    (PLAIN, "M206 182L156 176C149 177 148 196 154 198L204 202C210 200 211 184 206 182Z"),
    (LINE, "M156 176C161 178 160 197 154 198M152 187h1"),
];
/// The nozzle comes in through the hole and points away from nose and mouth (App. A I.B.3(a)(4), I.B.4(a)(4)), and so does
/// the puff, which opens from its tip.
const PUFF: Stroke = (
    SPRAY,
    "M143 180L130 169M117 158L92 135M141 183L126 175M110 168L80 153M140 185L123 182M107 179L73 173M140 188L123 190M106 192L72 195M141 191L125 197M109 203L78 216",
);

const MASK: &[Stroke] = &[
    (
        DEEP,
        "M26 318C26 284 50 266 84 266C118 266 142 286 142 318ZM258 318C258 286 282 266 316 266C350 266 374 284 374 318Z",
    ),
    (LINE, "M44 300C50 286 66 278 84 278M356 300C350 286 334 278 316 278"),
    (KIT, "M92 318C106 286 136 272 158 260C170 240 184 228 200 228C216 228 230 240 242 260C264 272 294 286 308 318Z"),
    (LINE, "M106 318C120 292 146 280 166 268C178 250 188 240 200 240C212 240 222 250 234 268C254 280 280 292 294 318"),
    (LINE, "M200 240V318"),
];
/// Round the mouth and clear of the nozzle, before which strokes would be spray.
const VOICE: Stroke = (LINE, "M121 256C124 247 129 239 136 232M107 252C111 241 116 232 125 222");

/// Mist as far as the eye goes, since it is in the hood too: before the window, and again to each side of it, above and
/// below.
fn all_round(level: u8) -> Html {
    let row = || {
        html! {
            <>
                { placed("translate(-246 -146) scale(1.75)", mist(level)) }
                { placed("translate(-572 -146) scale(1.75)", mist(level)) }
                { placed("translate(80 -146) scale(1.75)", mist(level)) }
            </>
        }
    };
    html! {
        <>
            { row() }
            { placed("translate(0 -292)", row()) }
            { placed("translate(0 292)", row()) }
        </>
    }
}

/// The view, with the same in words.
pub(crate) fn inside(view: View, label: AttrValue) -> Html {
    let bends = view.exercise == Some(Exercise::Bending);
    let other_arm = if view.hood { draw(REACHING) } else { placed("matrix(-1 0 0 1 400 0)", draw(HANGING)) };
    let beyond = html! { <>{ draw(ROOM) }{ draw(TESTER) }{ draw(HANGING) }{ other_arm }</> };
    // Hood, hole and nozzle sit on the shoulders and bend with them; the tester stands, and reaches down.
    let (beyond, hand) = if bends {
        (moving("look-bend", "translate(0 -300)", beyond), moving("look-reach", "rotate(-70 252 222)", draw(HAND)))
    } else {
        (beyond, placed("rotate(14 252 222)", draw(HAND)))
    };
    let hood = html! {
        <>
            { hand }
            { draw(NEBULIZER) }
            <path class={KIT_RING} d={[CLOTH_OF_HOOD, WINDOW].concat()} />
            { draw(FOLDS) }
            { draw(HOLE) }
            { if view.sprays { draw(&[PUFF]) } else { Html::default() } }
        </>
    };
    let seen = html! {
        <>
            { placed("translate(0 24)", beyond) }
            { if view.hood { hood } else { Html::default() } }
        </>
    };
    // The head turns within the hood, and hood, mist and room alike go the other way.
    let turned = |part| match view.exercise {
        Some(Exercise::HeadSide) => moving("look-side", "translate(-90 0)", part),
        Some(Exercise::HeadUpDown) => moving("look-nod", "translate(0 90)", part),
        _ => part,
    };
    let own = if view.mask { draw(MASK) } else { Html::default() };
    let own = match view.exercise {
        Some(Exercise::DeepBreathing) => moving("breathe slow", "translate(0 -6)", own),
        _ => moving("breathe", "", own),
    };
    html! {
        <svg class={classes!("scene", "inside", tint(view.agent), "skin-2", "hair-brown")} viewBox="0 0 400 300" role="img" aria-labelledby="inside-title">
            <title id="inside-title">{ label }</title>
            { turned(seen) }
            { own }
            { if view.hood { turned(all_round(view.mist)) } else { Html::default() } }
            { if view.exercise == Some(Exercise::Talking) { draw(&[VOICE]) } else { Html::default() } }
        </svg>
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use futures::executor::block_on;
    use std::collections::BTreeSet;
    use yew::{ServerRenderer, component};

    #[derive(yew::Properties, PartialEq)]
    struct ShownProps {
        view: View,
    }

    #[component]
    fn Shown(props: &ShownProps) -> Html {
        inside(props.view, AttrValue::default())
    }

    fn drawn(view: View) -> String {
        block_on(ServerRenderer::<Shown>::with_props(move || ShownProps { view }).hydratable(false).render())
    }

    #[test]
    fn every_state_is_drawn_in_its_own_way() {
        let plain = View { agent: Agent::Sweet, hood: true, mask: true, mist: 0, sprays: false, exercise: None };
        let mut views: Vec<View> = (0..=5).map(|mist| View { mist, ..plain }).collect();
        let moved =
            [Exercise::DeepBreathing, Exercise::HeadSide, Exercise::HeadUpDown, Exercise::Talking, Exercise::Bending];
        views.extend(moved.map(|exercise| View { exercise: Some(exercise), ..plain }));
        views.extend([
            View { hood: false, ..plain },
            View { mask: false, ..plain },
            View { sprays: true, ..plain },
            View { agent: Agent::Bitter, ..plain },
        ]);
        let count = views.len();
        assert_eq!(views.into_iter().map(drawn).collect::<BTreeSet<_>>().len(), count);
    }

    #[test]
    fn the_tester_has_two_arms_whether_one_reaches_or_not() {
        let bare = View { agent: Agent::Sweet, hood: false, mask: false, mist: 0, sprays: false, exercise: None };
        let arms = |view| [HANGING[1].1, REACHING[0].1].map(|arm| drawn(view).matches(arm).count());
        assert_eq!(arms(bare), [2, 0]);
        assert_eq!(arms(View { hood: true, ..bare }), [1, 1]);
    }

    #[test]
    fn mist_and_nozzle_are_there_only_under_the_hood() {
        let bare = View { agent: Agent::Sweet, hood: false, mask: false, mist: 4, sprays: true, exercise: None };
        assert!(!drawn(bare).contains("\"mist\"") && !drawn(bare).contains("\"spray\""));
        let hooded = drawn(View { hood: true, ..bare });
        assert!(hooded.contains("\"mist\"") && hooded.contains("\"spray\""));
    }
}
