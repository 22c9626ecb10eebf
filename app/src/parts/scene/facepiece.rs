//! Facepieces, by class and size, and how they sit. Never told by the colour of a filter.

use super::{
    palette::{DARK, DEEP, FEATURE, GLASS, HOSE, KIT, LINE},
    pen::{Stroke, draw, placed},
    straps::straps,
};
use bittersweet_core::{
    facepiece::{Class, Size},
    scene::Worn,
    sign::Seen,
};
use yew::{Html, html};

const HALF: &str = "M247 149C238 158 224 172 205 188C195 197 192 214 200 228C209 243 228 252 244 248C264 244 279 228 284 206C287 188 278 164 265 150C260 146 252 145 247 149Z";
const CUP: &str = "M250 146C238 154 222 168 206 184C196 196 197 218 209 233C221 247 242 250 254 243C272 233 287 213 289 195C290 178 276 158 265 147C261 143 255 143 250 146Z";
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
            (LINE, "M252 158C246 170 236 180 226 190M266 158C270 170 274 180 276 190M232 196C244 190 264 190 276 196"),
            VALVE,
            (DEEP, "M180 220a25 27 0 1 0 50 0a25 27 0 1 0-50 0"),
            (LINE, "M187 220a18 20 0 1 0 36 0a18 20 0 1 0-36 0M193 210H217M189 220H221M193 230H217"),
        ]),
        Class::Supplied => draw(&[
            (KIT, HALF),
            (LINE, "M252 158C246 170 236 180 226 190M266 158C270 170 274 180 276 190M232 196C244 190 264 190 276 196"),
            (DEEP, "M236 216C244 210 264 210 270 216L266 246L242 250Z"),
            (LINE, "M239 226C248 222 260 222 268 226"),
        ]),
        Class::Filtering => draw(&[
            (KIT, CUP),
            (LINE, "M257 144C272 164 278 206 254 243M216 190C232 178 262 176 286 188M211 224C230 234 260 230 280 216"),
            (DEEP, "M236 158C244 150 250 146 257 145C263 147 270 152 276 160L272 165C266 158 262 154 257 153C252 154 246 158 241 164Z"),
        ]),
        Class::Full | Class::Powered => draw(&[(KIT, "M204 199C222 190 258 190 278 198C274 216 270 230 262 240C250 254 221 254 206 240C198 232 198 212 204 199Z"), (GLASS, PANE)]),
    }
}

/// The rim of a full facepiece and what is fixed to it, over pane and nose cup.
fn rim(class: Class) -> Html {
    let rim = [FRAME, PANE].concat();
    let ring = html! { <path class="kit ring" d={rim} /> };
    let cup = draw(&[(LINE, "M246 168C234 176 222 186 218 196M262 168C268 176 274 186 276 196M206 132L214 118M212 138L224 116")]);
    let port = match class {
        Class::Full => draw(&[
            VALVE,
            (DEEP, "M178 228a25 26 0 1 0 50 0a25 26 0 1 0-50 0"),
            (LINE, "M185 228a18 19 0 1 0 36 0a18 19 0 1 0-36 0M191 219H215M187 228H219M191 237H215"),
        ]),
        _ => draw(&[(DEEP, "M216 218C226 212 250 212 258 218L252 254L222 254Z"), (LINE, "M218 228C230 223 246 223 256 228M220 240C230 236 244 236 254 240")]),
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
        draw(&[(DARK, "M212 92C226 84 246 84 258 92C246 90 226 90 212 92Z"), (KIT, "M204 82L266 78L267 84L205 89Z")])
    } else {
        draw(&[
            (DARK, "M236 160C242 150 250 141 257 139C264 143 271 151 277 161C270 156 263 153 257 152C250 153 243 156 236 160Z"),
            (KIT, "M228 143L286 134L288 141L230 150Z"),
            (FEATURE, "M226 138L219 132M236 133L232 126M246 131L244 124"),
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
        html! { <>{ placed("translate(-52 62) rotate(13 240 200) translate(52 -50)", sized) }{ draw(SLID) }</> }
    } else {
        sized
    };
    html! { <>{ straps(worn.class, worn.fault) }{ sits }</> }
}

/// Where the facepiece was: a print on the skin.
const SLID: &[Stroke] = &[(FEATURE, "M232 152l-6 6M222 160l-7 6M212 168l-7 6")];

/// Hose and belt unit, or air line, on the body.
pub(super) fn supply(class: Class) -> Html {
    let d = match class {
        Class::Powered => "M232 262C226 330 282 360 280 470",
        Class::Supplied => "M240 258C210 300 176 360 196 430C206 466 250 470 268 488",
        Class::Half | Class::Filtering | Class::Full => return Html::default(),
    };
    let [outside, inside, rib] = HOSE;
    let hose = if class == Class::Powered {
        draw(&[(outside, d), (inside, d), (rib, d)])
    } else {
        draw(&[("hose thin", d), ("hose-in thin", d), ("hose thin", "M296 500C320 500 330 520 326 560"), ("hose-in thin", "M296 500C320 500 330 520 326 560")])
    };
    let belt = draw(&[(DEEP, "M96 482C160 496 236 496 302 482L302 498C236 512 160 512 97 498Z")]);
    let unit = if class == Class::Powered {
        draw(&[(KIT, "M250 468H312C316 468 318 470 318 474V532H246V474C246 470 248 468 250 468Z"), (LINE, "M256 486H290M256 496H290M256 506H290M298 482h12v10h-12zM246 518H318")])
    } else {
        draw(&[(KIT, "M256 478H298V516H256Z"), (LINE, "M267 497a10 10 0 1 0 20 0a10 10 0 1 0-20 0M277 497L284 490")])
    };
    html! { <>{ belt }{ hose }{ unit }</> }
}
