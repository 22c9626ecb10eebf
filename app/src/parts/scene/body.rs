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
            "M156 258C142 274 116 284 98 297C84 312 86 344 92 384L102 720H298L300 392C304 352 304 320 292 302C280 290 258 284 244 268C234 284 218 292 200 290C182 288 166 276 156 258Z",
        ),
        (
            CLOTH,
            "M156 256C150 266 150 276 154 286L190 313L216 304C196 300 170 282 156 256ZM244 266C248 274 248 282 246 290L230 312L216 304C230 296 240 282 244 266Z",
        ),
        (
            LINE,
            "M216 304C224 380 226 460 224 720M229 312C236 380 238 460 236 720M130 366L178 370L178 414L154 424L130 410ZM252 370L288 366L288 408L270 420L252 414ZM130 378L178 382M252 382L288 378",
        ),
    ])
}

/// Creases of a chest drawn full of air.
pub(super) fn full_chest() -> Html {
    draw(&[(LINE, "M140 336C160 350 180 354 200 350M250 350C264 352 278 348 288 338M236 300C238 304 238 308 236 312")])
}

/// Behind the sitter, who sits low.
pub(super) fn chair() -> Html {
    draw(&[
        (BOARD, "M26 344C26 332 36 326 48 326H320C332 326 342 332 342 344V560H26Z"),
        (LINE, "M44 342H324M44 362H324M52 362V560M84 362V560M284 362V560M316 362V560"),
    ])
}
