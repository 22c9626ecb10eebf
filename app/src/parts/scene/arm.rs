//! The wearer's near arm and what its hand does. Under the hood or outside it is for the scene to say.

use super::{
    hand::{Hold, hand},
    palette::{CLOTH, LINE, PLAIN},
    pen::{Stroke, draw, moving, placed},
};
use bittersweet_core::scene::Hand;
use yew::{Html, html};

const DOWN: &str = "M98 297C80 304 70 326 68 354L60 450L58 720H104L112 450L124 372C128 350 126 336 122 322";

/// A sleeve, and its cuff or crease.
fn sleeve(d: &'static str, crease: &'static str) -> Html {
    draw(&[(CLOTH, d), (LINE, crease)])
}

/// The arm for what the hand does.
pub(super) fn arm(does: Hand) -> Html {
    match does {
        Hand::Down => sleeve(DOWN, "M112 450C110 440 104 434 98 432"),
        Hand::Raised => html! {
            <>
                { placed("translate(43 224)", hand(Hold::Open)) }
                { sleeve("M110 297C94 300 80 308 70 318L64 226H24L14 338C13 364 24 382 44 382C72 380 98 374 124 368", "M25 240H65M70 318C62 326 58 336 58 346") }
            </>
        },
        Hand::HalfRaised => html! {
            <>
                { placed("translate(31 334) rotate(-8)", hand(Hold::Loose)) }
                { sleeve("M108 297C88 304 80 322 74 344L64 378L50 330L13 337L26 432C32 460 54 468 72 452C94 434 114 404 126 370", "M16 352L53 345M64 378C58 386 54 396 54 406") }
            </>
        },
        Hand::AtMask => html! {
            <>
                { placed("translate(206 290) rotate(-64)", hand(Hold::Pointing)) }
                { sleeve("M106 297C82 303 72 326 68 360L58 430C60 464 84 476 106 462L222 304L190 276L120 386L126 340", "M181 288L213 316M120 386C112 390 106 398 104 406") }
            </>
        },
        Hand::AtStrap => html! {
            <>
                { placed("translate(134 238) rotate(38)", hand(Hold::Closed)) }
                { sleeve("M114 296L98 308L150 256L120 228L26 326C12 350 24 380 50 380C78 378 102 374 124 368", "M110 238L141 266M98 308C90 314 84 324 82 334") }
            </>
        },
        Hand::AtForehead => html! {
            <>
                { placed("translate(141 166) rotate(-26)", hand(Hold::Pointing)) }
                { sleeve("M116 296L96 300L160 186L126 164L22 278C6 304 18 340 46 346C76 352 102 362 124 368", "M118 173L152 198M96 300C88 304 80 312 76 320") }
            </>
        },
        Hand::AtChest => html! {
            <>
                { placed("translate(184 382) rotate(-14)", hand(Hold::Flat)) }
                { sleeve("M106 297C82 303 72 326 68 360L58 430C60 464 84 476 106 464L198 400L180 362L120 396L126 340", "M168 370L187 408M120 396C112 400 106 406 104 414") }
            </>
        },
        Hand::AtHood => html! {
            <>
                { placed("translate(100 214) rotate(20)", hand(Hold::Closed)) }
                { sleeve("M112 297L94 308L122 226L84 210L20 322C10 350 24 380 50 380C78 378 102 374 124 368", "M77 222L116 240M94 308C88 314 84 324 82 334") }
            </>
        },
        Hand::WithCup => html! {
            <>
                { draw(&[(PLAIN, "M249 222C256 215 286 216 294 223L286 272C280 278 262 277 257 271Z"), (LINE, "M249 222C258 230 284 231 294 223")]) }
                { placed("translate(250 286) rotate(20)", hand(Hold::Closed)) }
                { sleeve("M106 297C82 303 72 326 68 360L58 430C60 464 84 476 106 462L266 304L238 272L120 386L126 340", "M228 280L256 312M120 386C112 390 106 398 104 406") }
            </>
        },
        Hand::WithSlip => {
            holding_out(&[(PLAIN, "M200 352L278 346L281 388L203 394Z"), (LINE, "M211 362L256 359M212 374L268 370")])
        }
        Hand::WithForm => holding_out(&[
            (PLAIN, "M196 292L282 286L290 392L204 398Z"),
            (
                LINE,
                "M208 306L250 303M209 322L246 319M262 317l3 4l6-9M210 336L248 333M263 331l3 4l6-9M211 350L242 347M264 345l3 4l6-9M212 364L250 361M265 359l3 4l6-9M213 378L262 374",
            ),
        ]),
        Hand::OnTable => html! {
            <>
                { placed("translate(96 452) rotate(28)", hand(Hold::Flat)) }
                { sleeve("M98 297C78 304 64 330 58 366L54 444C58 462 72 472 88 468L114 448L104 424L112 396L126 340", "M78 470L106 446") }
            </>
        },
        Hand::Stop => html! {
            <>
                { sleeve("M106 297C82 303 72 326 68 360L60 440C60 486 92 500 120 484L198 436L164 394L120 412L126 340", "M154 401L187 443") }
                { placed("translate(180 414) rotate(6) scale(1.2)", hand(Hold::Open)) }
            </>
        },
    }
}

/// An arm that holds out paper, over the chest.
fn holding_out(paper: &[Stroke]) -> Html {
    html! {
        <>
            { draw(paper) }
            { placed("translate(184 392) rotate(62)", hand(Hold::Closed)) }
            { sleeve("M106 297C82 303 72 326 68 360L58 430C60 464 84 476 106 462L196 412L178 374L120 396L126 340", "M166 382L184 420M120 396C112 400 106 406 104 414") }
        </>
    }
}

/// The arm that holds the hood, off.
pub(super) fn with_hood() -> Html {
    html! {
        <>
            { placed("translate(128 420) rotate(62)", hand(Hold::Closed)) }
            { sleeve("M98 297C82 303 72 326 68 360L58 420C60 460 90 468 112 452L138 436L118 398L112 404L126 340", "M108 404L128 442") }
        </>
    }
}

/// The arm that hangs while its owner bends, holding nothing.
pub(super) fn hanging() -> Html {
    moving("hang", "rotate(-34 104 316)", sleeve(DOWN, ""))
}

/// The near arm bent for jogging.
pub(super) fn jogging() -> Html {
    html! {
        <>
            { placed("translate(190 384) rotate(68)", hand(Hold::Closed)) }
            { draw(&[(CLOTH, "M106 297C82 303 70 326 60 360L44 420C40 458 66 474 92 464L200 402L182 364L108 392L126 340"), (LINE, "M170 370L189 408")]) }
        </>
    }
}

/// The far arm, mostly behind the body.
pub(super) fn far(jogging: bool) -> Html {
    if jogging {
        html! {
            <>
                { placed("translate(378 352) rotate(34)", hand(Hold::Closed)) }
                { draw(&[(CLOTH, "M284 298C312 306 326 334 330 372L366 340L392 366C376 396 352 426 328 426C304 424 296 400 296 372"), (LINE, "M358 347L384 374")]) }
            </>
        }
    } else {
        draw(&[(CLOTH, "M284 298C308 306 322 330 325 360L334 450L338 720H296L300 400")])
    }
}
