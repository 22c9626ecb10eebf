//! Brows, eyes and nose, and what they can tell: ease, strain, sickness, a look aside. The mouth is on its own.

use super::{
    palette::{BARE, DARK, EYE, FEATURE},
    pen::{Stroke, draw},
};
use yew::{Html, html};

/// What eyes and brows tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mien {
    /// At ease.
    Calm,
    /// Looking round at others.
    Aside,
    /// Drawn together: a grimace or a cough.
    Strained,
    /// Unwell.
    Unwell,
}

/// Noses, one for each shape of face: the patch that covers the far cheek, and the line.
const NOSES: [(&str, &str); 4] = [
    ("M251 152L274 180C278 187 272 192 264 191L249 189Z", "M251 150C254 162 266 172 274 180C278 187 272 192 264 191M249 181C244 184 245 191 251 190M257 190C259 187 262 187 264 190"),
    ("M251 154L272 178C279 186 273 194 264 193L247 191Z", "M251 154C253 164 264 170 271 177C279 185 273 194 264 193M247 180C240 184 241 193 249 192M255 192C258 188 262 188 264 192"),
    ("M252 148L277 180C279 187 272 191 265 190L249 189Z", "M252 148C260 156 270 168 277 180C279 187 272 191 265 190M249 181C244 184 245 191 251 190M257 189C259 186 262 186 264 189"),
    ("M250 150L275 184C278 191 271 195 263 194L249 192Z", "M250 150C252 164 268 176 275 185C278 191 271 195 263 194M249 184C244 187 245 194 251 193M257 193C259 190 262 190 264 193"),
];

/// Open eyes, two makes: white, lid and crease.
const OPEN: [&[Stroke]; 2] = [
    &[
        (EYE, "M202 157C206 149 219 147 229 156C221 161 209 162 202 157ZM250 156C254 149 262 149 265 156C261 160 254 160 250 156Z"),
        (FEATURE, "M204 149C210 144 221 143 228 149M252 148C256 145 261 145 265 148"),
    ],
    &[
        (EYE, "M203 156C209 150 220 150 229 157C220 161 209 161 203 156ZM250 157C255 151 262 152 266 156C261 160 254 160 250 157Z"),
        (FEATURE, "M206 165C212 167 220 167 225 164"),
    ],
];

const IRISES: &str = "M212 154a4 4 0 1 0 8 0a4 4 0 1 0-8 0M255 154a3 4 0 1 0 6 0a3 4 0 1 0-6 0";
const IRISES_ASIDE: &str = "M204 155a4 4 0 1 0 8 0a4 4 0 1 0-8 0M250 155a3 4 0 1 0 6 0a3 4 0 1 0-6 0";

const BROWS: &str = "M198 139C206 130 220 129 232 136C220 134 208 134 198 139ZM250 136C256 131 263 131 268 137C262 135 256 134 250 136Z";
const BROWS_DOWN: &str = "M198 132C210 131 222 136 233 145C222 140 210 135 198 132ZM249 145C255 138 262 135 268 135C261 138 254 141 249 145Z";
const BROWS_WORRIED: &str = "M198 141C208 139 220 133 231 127C222 136 210 141 198 141ZM251 127C256 132 263 136 268 141C261 139 254 134 251 127Z";

/// Brows and eyes.
pub(super) fn eyes(shape: u8, mien: Mien) -> Html {
    let open = draw(OPEN[usize::from(shape % 2)]);
    match mien {
        Mien::Calm => html! { <>{ open }{ draw(&[(DARK, IRISES), (DARK, BROWS)]) }</> },
        Mien::Aside => html! { <>{ open }{ draw(&[(DARK, IRISES_ASIDE), (DARK, BROWS)]) }</> },
        Mien::Strained => draw(&[
            (DARK, BROWS_DOWN),
            (FEATURE, "M202 158C210 154 220 155 229 159M249 159C255 155 261 155 266 158M192 150L200 155M190 158H199M192 166L200 161M238 140V148M243 139V147"),
        ]),
        Mien::Unwell => draw(&[
            (EYE, "M202 158H229C221 163 209 164 202 158ZM250 158H265C261 162 254 162 250 158Z"),
            (DARK, "M211 158H220C219 162 212 162 211 158ZM255 158H261C260 162 256 162 255 158Z"),
            (DARK, BROWS_WORRIED),
            (FEATURE, "M202 158C208 151 222 151 229 158M250 158C254 152 262 152 265 158M205 168C212 172 220 171 226 167M209 174C214 176 219 176 223 174M252 167C256 169 260 169 263 167M226 114L234 110M232 119L240 115"),
        ]),
    }
}

/// The nose.
pub(super) fn nose(shape: u8) -> Html {
    let (patch, line) = NOSES.get(usize::from(shape)).unwrap_or(&NOSES[0]);
    draw(&[(BARE, patch), (FEATURE, line)])
}

/// Cold sweat on the brow.
pub(super) fn sweat() -> Html {
    draw(&[(EYE, "M194 106C190 113 190 118 194 119C198 118 198 113 194 106ZM208 92C204 99 204 104 208 105C212 104 212 99 208 92ZM184 124C180 131 180 136 184 137C188 136 188 131 184 124Z")])
}
