//! The mouth, and the drop that can hang below it.

use super::{
    palette::{AGENT, DARK, EYE, FEATURE, TONGUE},
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
    /// The same, and swollen.
    Swollen,
}

/// The lips.
pub(super) fn mouth(lips: Lips) -> Html {
    match lips {
        Lips::Are(Mouth::Rest) => draw(&[(
            FEATURE,
            "M231 205L234 207C240 205 246 205 250 207C254 205 257 205 261 206M242 214C247 216 252 216 257 213",
        )]),
        Lips::Are(Mouth::TongueOut) => draw(&[
            (DARK, "M234 204C241 199 257 199 263 204C262 216 240 218 234 204Z"),
            (TONGUE, "M242 208C247 206 254 206 258 208L261 223C260 232 246 233 243 224Z"),
            (FEATURE, "M251 211L252 223"),
        ]),
        Lips::Are(Mouth::Shut) => draw(&[(
            FEATURE,
            "M234 208H261M230 202C227 205 227 211 230 214M239 212C246 214 252 214 258 212M244 222C248 220 253 220 256 222M246 196L241 203M257 196L260 203",
        )]),
        Lips::Speak => draw(&[
            (DARK, "M238 204C244 198 256 199 261 204C263 214 258 221 250 221C242 221 237 214 238 204Z"),
            (TONGUE, "M243 216C247 212 254 212 258 216C256 220 246 221 243 216Z"),
        ]),
        Lips::Grimace => draw(&[
            (EYE, "M228 204C240 208 254 208 266 202C266 213 258 217 248 217C238 217 230 213 228 204Z"),
            (FEATURE, "M230 209C240 213 256 213 265 207M242 206V216M252 206V216M222 194C218 202 219 212 226 218"),
        ]),
        Lips::Swollen => draw(&[
            (TONGUE, "M229 208C235 197 244 198 249 202C254 197 261 199 266 206C256 210 240 211 229 208Z"),
            (TONGUE, "M231 210C241 213 256 213 264 209C263 222 254 225 247 225C239 225 232 219 231 210Z"),
        ]),
        Lips::Unwell => draw(&[(FEATURE, "M234 212C241 206 254 205 262 210M242 218C246 216 252 216 256 218")]),
    }
}

/// A drop of solution on the chin.
pub(super) fn drop() -> Html {
    draw(&[(AGENT, "M238 232C230 243 229 256 238 257C247 256 246 243 238 232Z")])
}
