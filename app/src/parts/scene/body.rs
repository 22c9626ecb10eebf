//! The body from collar to waist, in work clothes, and the chair for whoever sits.

use super::{
    palette::{BOARD, CLOTH, LINE},
    pen::draw,
};
use yew::Html;

/// Trunk and collar.
pub(super) fn trunk() -> Html {
    draw(&[
        (
            CLOTH,
            "M156 258C142 274 116 284 98 297C84 312 86 344 92 384L102 570H298L300 392C304 352 304 320 292 302C280 290 258 284 244 268C234 284 218 292 200 290C182 288 166 276 156 258Z",
        ),
        (CLOTH, "M156 256C150 266 150 276 154 286L190 320L216 304C196 300 170 282 156 256ZM244 266C248 274 248 282 246 290L230 316L216 304C230 296 240 282 244 266Z"),
        (LINE, "M216 304C224 380 226 460 224 570M229 316C236 380 238 460 236 570M130 366L178 370L178 414L154 424L130 410ZM252 370L288 366L288 408L270 420L252 414ZM130 378L178 382M252 382L288 378"),
    ])
}

/// Creases of a chest drawn full of air.
pub(super) fn full_chest() -> Html {
    draw(&[(LINE, "M140 336C160 350 180 354 200 350M250 350C264 352 278 348 288 338M110 286C104 280 98 278 90 280M292 290C298 284 304 282 312 284")])
}

/// Behind the sitter.
pub(super) fn chair() -> Html {
    draw(&[
        (BOARD, "M34 340C34 328 44 324 56 324H150V560H40Z"),
        (LINE, "M48 340H150M54 360V560M84 360V560M48 360H150"),
    ])
}

/// Thighs, before the sitter, at the height of the bench.
pub(super) fn lap() -> Html {
    draw(&[(CLOTH, "M96 496C150 476 240 470 318 480C352 484 364 500 362 530L356 580H96Z"), (LINE, "M236 520C270 510 306 508 340 514M224 474C226 486 232 498 240 506")])
}
