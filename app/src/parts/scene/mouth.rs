//! The mouth, and the drop that can hang below it.

use super::{
    palette::{AGENT, DARK, FEATURE, TONGUE},
    pen::draw,
};
use bittersweet_core::scene::Mouth;
use yew::Html;

/// What the lips do: what the scene says, or what the exercise asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lips {
    /// As the scene has it.
    Are(Mouth),
    /// Open, in the middle of a word.
    Speak,
    /// Drawn wide.
    Grimace,
    /// Corners down.
    Unwell,
}

/// The lips.
pub(super) fn mouth(lips: Lips) -> Html {
    match lips {
        Lips::Are(Mouth::Rest) => draw(&[(FEATURE, "M238 208C244 205 250 206 254 207C258 205 262 205 266 207M246 215C251 217 256 217 261 214")]),
        Lips::Are(Mouth::TongueOut) => draw(&[
            (DARK, "M238 204C245 199 261 199 267 204C266 216 244 218 238 204Z"),
            (TONGUE, "M246 208C251 206 258 206 262 208L264 221C263 230 250 231 247 222Z"),
            (FEATURE, "M255 210L256 221"),
        ]),
        Lips::Are(Mouth::Shut) => draw(&[(
            FEATURE,
            "M238 208H267M234 202C231 206 231 211 234 215M244 203H263M246 213H262M248 222C252 220 257 220 260 222",
        )]),
        Lips::Speak => draw(&[
            (DARK, "M241 204C248 198 260 199 265 204C267 214 262 221 254 221C246 221 240 214 241 204Z"),
            (TONGUE, "M247 216C251 212 258 212 262 216C260 220 250 221 247 216Z"),
        ]),
        Lips::Grimace => draw(&[
            ("eye", "M232 204C244 208 258 208 270 202C270 214 262 218 252 218C242 218 234 214 232 204Z"),
            (FEATURE, "M234 209C244 213 260 213 269 207M246 207V217M256 207V217M226 194C222 202 223 212 230 218"),
        ]),
        Lips::Unwell => draw(&[(FEATURE, "M239 212C245 206 258 205 265 210M247 218C251 216 257 216 260 218")]),
    }
}

/// A drop of solution on the chin.
pub(super) fn drop() -> Html {
    draw(&[(AGENT, "M246 227C239 238 238 249 246 250C254 249 253 238 246 227Z")])
}
