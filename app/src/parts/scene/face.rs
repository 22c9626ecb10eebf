//! Brows, eyes and nose, and what they can tell: ease, strain, sickness, a look aside. The mouth is on its own.

use super::{
    palette::{DARK, EYE, FEATURE},
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

/// Noses, one for each shape of face: from the bridge to the tip, and the nostrils.
const NOSES: [&str; 4] = [
    "M241 141C240 154 243 163 250 170C257 176 262 180 263 184C264 189 260 192 253 191M237 181C232 184 233 191 239 190M245 191C247 188 251 187 253 191",
    "M240 145C239 158 243 166 251 171C258 175 263 179 264 184C265 190 260 194 253 193M236 180C228 184 230 192 238 191M244 192C246 188 251 188 253 193",
    "M241 140C241 150 245 157 251 164C258 172 265 177 267 182C268 188 263 191 257 190M239 181C234 184 235 191 241 190M248 190C250 187 254 186 257 190",
    "M240 144C240 158 243 167 250 174C257 180 262 183 263 187C264 192 260 195 253 194M237 184C232 187 233 193 239 193M245 194C247 190 251 190 253 194",
];

/// Open eyes, three makes.
const OPEN: [&[Stroke]; 3] = [
    &[
        (
            EYE,
            "M197 156C202 148 214 146 225 155C216 161 204 162 197 156ZM247 155C250 148 258 147 262 155C258 160 251 160 247 155Z",
        ),
        (FEATURE, "M199 148C205 143 216 142 225 148M248 148C252 144 258 144 262 148"),
    ],
    &[
        (
            EYE,
            "M198 156C204 149 216 149 226 157C217 161 205 161 198 156ZM247 156C251 150 258 150 263 156C258 160 251 160 247 156Z",
        ),
        (FEATURE, "M194 154L198 156M263 156L265 155"),
    ],
    &[
        (
            EYE,
            "M197 157C202 147 215 146 225 156C216 162 204 162 197 157ZM247 156C250 147 258 147 263 156C258 161 251 161 247 156Z",
        ),
        (FEATURE, "M192 154L197 157M195 150L200 153M199 147C206 142 216 142 224 147M263 156L266 154"),
    ],
];

const IRISES: &str = "M207 153a4 4 0 1 0 8 0a4 4 0 1 0-8 0M252 153a3 4 0 1 0 6 0a3 4 0 1 0-6 0";
const IRISES_ASIDE: &str = "M199 154a4 4 0 1 0 8 0a4 4 0 1 0-8 0M247 154a3 4 0 1 0 6 0a3 4 0 1 0-6 0";

const BROWS: &str = "M193 136C201 127 214 126 227 132C214 130 202 131 193 136ZM247 132C253 127 260 127 265 133C259 131 253 130 247 132Z";
const BROWS_DOWN: &str = "M193 130C205 129 217 134 229 143C217 139 205 134 193 130ZM245 143C251 136 258 133 266 133C258 136 251 140 245 143Z";
const BROWS_WORRIED: &str = "M192 140C203 137 215 131 227 123C218 134 205 140 192 140ZM246 123C251 130 258 135 266 139C257 138 250 132 246 123Z";

/// Brows and eyes.
pub(super) fn eyes(shape: u8, mien: Mien) -> Html {
    let open = draw(OPEN[usize::from(shape % 3)]);
    match mien {
        Mien::Calm => html! { <>{ open }{ draw(&[(DARK, IRISES), (DARK, BROWS)]) }</> },
        Mien::Aside => html! { <>{ open }{ draw(&[(DARK, IRISES_ASIDE), (DARK, BROWS)]) }</> },
        Mien::Strained => draw(&[
            (DARK, BROWS_DOWN),
            (
                FEATURE,
                "M197 158C205 153 216 154 226 159M246 159C252 154 258 154 263 158M186 150L194 155M184 159H193M186 168L194 162M231 140V147M236 139V146",
            ),
        ]),
        Mien::Unwell => draw(&[
            (EYE, "M197 157H226C218 162 205 163 197 157ZM247 157H263C259 161 251 161 247 157Z"),
            (DARK, "M206 157H216C215 161 207 161 206 157ZM252 157H258C257 161 253 161 252 157Z"),
            (DARK, BROWS_WORRIED),
            (
                FEATURE,
                "M197 157C203 150 217 150 226 157M247 157C251 151 258 151 263 157M200 167C207 171 216 170 222 166M204 173C209 176 215 175 219 172M249 166C253 168 257 168 260 166M224 112L234 108M230 117L240 113",
            ),
        ]),
    }
}

/// The nose.
pub(super) fn nose(shape: u8) -> Html {
    draw(&[(FEATURE, NOSES.get(usize::from(shape)).unwrap_or(&NOSES[0]))])
}

/// Cold sweat on the brow.
pub(super) fn sweat() -> Html {
    draw(&[(
        EYE,
        "M194 106C190 113 190 118 194 119C198 118 198 113 194 106ZM208 92C204 99 204 104 208 105C212 104 212 99 208 92ZM184 124C180 131 180 136 184 137C188 136 188 131 184 124Z",
    )])
}
