//! Facepieces, by class and size, and how they sit. Never told by the colour of a filter.

use super::{
    palette::{DEEP, FABRIC, FEATURE, GLASS, HOSE, KIT, KIT_RING, LINE, VOID},
    pen::{Stroke, draw, placed},
    straps::straps,
};
use bittersweet_core::{
    facepiece::{Class, Size},
    scene::Worn,
    sign::Seen,
};
use yew::{Html, html};

const HALF: &str = "M245 161C237 169 224 179 204 191C195 199 191 214 199 229C208 244 226 253 242 249C262 245 277 229 282 209C285 191 274 173 262 161C257 157 249 157 245 161Z";
const CUP: &str = "M246 159C236 166 222 175 205 188C195 199 197 219 209 234C221 247 241 250 253 243C270 233 285 214 287 198C288 183 275 169 262 159C257 155 251 155 246 159Z";
const FRAME: &str = "M214 90C195 98 184 128 183 160C183 190 188 222 206 240C221 254 250 254 262 240C278 220 287 190 287 160C287 128 276 100 257 90C244 84 227 84 214 90Z";
const PANE: &str = "M218 98C202 106 194 132 193 158C193 178 195 192 200 202C222 192 258 192 276 200C279 188 280 174 280 160C279 132 270 106 255 98C244 93 228 93 218 98Z";

/// Nearest the far cheek: what shows from behind the body.
fn beyond(class: Class) -> Html {
    match class {
        Class::Half => draw(&[(DEEP, "M276 190C290 186 298 200 297 218C296 236 286 246 276 242Z")]),
        Class::Full => draw(&[(DEEP, "M274 206C290 202 298 214 296 232C294 248 284 256 272 250Z")]),
        Class::Filtering | Class::Powered | Class::Supplied => Html::default(),
    }
}

const VALVE: Stroke = (LINE, "M247 226a11 11 0 1 0 22 0a11 11 0 1 0-22 0M251 222H265M250 227H266M252 232H264");

/// The body.
fn body(class: Class) -> Html {
    match class {
        Class::Half => draw(&[
            (KIT, HALF),
            (LINE, "M250 168C244 178 234 186 225 194M262 168C267 176 272 183 274 193M231 199C243 193 263 193 275 199"),
            VALVE,
            (DEEP, "M180 220a25 27 0 1 0 50 0a25 27 0 1 0-50 0"),
            (LINE, "M187 220a18 20 0 1 0 36 0a18 20 0 1 0-36 0M193 210H217M189 220H221M193 230H217"),
        ]),
        Class::Supplied => draw(&[
            (KIT, HALF),
            (LINE, "M250 168C244 178 234 186 225 194M262 168C267 176 272 183 274 193M231 199C243 193 263 193 275 199"),
            (DEEP, "M236 216C244 210 264 210 270 216L262 263L246 264Z"),
            (LINE, "M239 226C248 222 260 222 268 226"),
        ]),
        Class::Filtering => draw(&[
            (KIT, CUP),
            (LINE, "M254 157C270 173 276 208 253 243M215 194C231 182 260 180 284 192M211 225C230 235 259 231 279 217"),
            (
                DEEP,
                "M231 170C240 161 246 158 254 157C261 158 267 162 274 170L269 175C263 169 259 167 254 166C248 167 243 170 237 175Z",
            ),
        ]),
        Class::Full | Class::Powered => draw(&[
            (
                KIT,
                "M204 199C222 190 258 190 278 198C274 216 270 230 262 240C250 254 221 254 206 240C198 232 198 212 204 199Z",
            ),
            (GLASS, PANE),
        ]),
    }
}

/// The rim of a full facepiece and what is fixed to it, over pane and nose cup.
fn rim(class: Class) -> Html {
    let rim = [FRAME, PANE].concat();
    let ring = html! { <path class={KIT_RING} d={rim} /> };
    let cup = draw(&[
        (FABRIC, "M204 200C216 186 236 172 244 167C258 168 270 180 276 198C258 191 222 191 204 200Z"),
        (LINE, "M200 150C201 132 206 118 214 108"),
    ]);
    let port = if class == Class::Full {
        draw(&[
            VALVE,
            (DEEP, "M178 228a25 26 0 1 0 50 0a25 26 0 1 0-50 0"),
            (LINE, "M185 228a18 19 0 1 0 36 0a18 19 0 1 0-36 0M191 219H215M187 228H219M191 237H215"),
        ])
    } else {
        draw(&[
            (DEEP, "M216 218C226 212 250 212 258 218L250 264H224Z"),
            (LINE, "M218 228C230 223 246 223 256 228M220 240C230 236 244 236 254 240"),
        ])
    };
    html! { <>{ cup }{ ring }{ port }</> }
}

/// Marks moulded into the chin, one for small to three for large.
fn size_marks(size: Size) -> Stroke {
    (
        LINE,
        match size {
            Size::Small => "M232 240v5",
            Size::Medium => "M229 239v5M235 240v5",
            Size::Large => "M226 238v5M232 239v5M238 240v5",
        },
    )
}

/// How the faulty nosepiece stands off: the gap, and the bar that was never moulded.
fn standing_off(class: Class) -> Html {
    if matches!(class, Class::Full | Class::Powered) {
        draw(&[(VOID, "M212 92C226 84 246 84 258 92C246 90 226 90 212 92Z"), (KIT, "M204 82L266 78L267 84L205 89Z")])
    } else {
        draw(&[
            (VOID, "M214 171L248 165L206 189ZM262 163L282 160L277 180Z"),
            (KIT, "M212 164L284 153L285 160L213 172Z"),
            (FEATURE, "M292 150l9-5M293 157h10M205 166l-8-4"),
        ])
    }
}

/// The facepiece on the face, with its straps.
pub(super) fn facepiece(worn: Worn) -> Html {
    let full = matches!(worn.class, Class::Full | Class::Powered);
    let whole = html! {
        <>
            { beyond(worn.class) }
            { body(worn.class) }
            { if full { rim(worn.class) } else { Html::default() } }
            { draw(&[size_marks(worn.size)]) }
            { if worn.fault == Some(Seen::NosepieceFlat) { standing_off(worn.class) } else { Html::default() } }
        </>
    };
    let sized = match worn.size {
        Size::Small => placed("translate(22 20) scale(.9)", whole),
        Size::Medium => placed("", whole),
        Size::Large => placed("translate(-19 -17) scale(1.08)", whole),
    };
    let sits = if worn.slipped {
        html! { <>{ placed(if full { "rotate(6 200 230) translate(3 12)" } else { "rotate(12 200 212) translate(0 13)" }, sized) }{ if full { Html::default() } else { draw(SLID) } }</> }
    } else {
        sized
    };
    html! { <>{ straps(worn.class, worn.fault) }{ sits }</> }
}

/// Where the facepiece was: a print on the skin.
const SLID: &[Stroke] = &[(FEATURE, "M236 166l-7 6M226 174l-7 5M216 181l-7 5")];

/// Hose and belt unit, or air line, on the body.
pub(super) fn supply(class: Class) -> Html {
    let d = match class {
        Class::Powered => "M232 262C226 310 282 330 280 402",
        Class::Supplied => "M254 258C222 288 180 320 196 370C206 404 250 404 268 420",
        Class::Half | Class::Filtering | Class::Full => return Html::default(),
    };
    let [outside, inside, rib] = HOSE;
    let hose = if class == Class::Powered {
        draw(&[(outside, d), (inside, d), (rib, d)])
    } else {
        draw(&[
            ("hose thin", d),
            ("hose inside thin", d),
            ("hose thin", "M296 432C320 432 330 452 326 500"),
            ("hose inside thin", "M296 432C320 432 330 452 326 500"),
        ])
    };
    let belt = draw(&[(DEEP, "M96 482C160 496 236 496 302 482L302 498C236 512 160 512 97 498Z")]);
    let unit = if class == Class::Powered {
        draw(&[
            (KIT, "M250 468H312C316 468 318 470 318 474V532H246V474C246 470 248 468 250 468Z"),
            (LINE, "M256 486H290M256 496H290M256 506H290M298 482h12v10h-12zM246 518H318"),
        ])
    } else {
        draw(&[(KIT, "M256 478H298V516H256Z"), (LINE, "M267 497a10 10 0 1 0 20 0a10 10 0 1 0-20 0M277 497L284 490")])
    };
    let belt = placed("translate(0 -68)", belt);
    let unit = placed("translate(0 -68)", unit);
    html! { <>{ belt }{ hose }{ unit }</> }
}
