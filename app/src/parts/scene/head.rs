//! The bare head: neck, skull, jaw and ear, in four shapes. Turned a third towards the window, so that nose, gap and
//! nozzle can be seen side by side. No features: those are the face's.

use super::{
    palette::{BARE, FEATURE, SKIN},
    pen::draw,
};
use yew::Html;

/// From the crown round the back of the head and along the jaw, one for each shape.
const OUTLINES: [&str; 4] = [
    "M206 72C168 70 138 96 137 134C136 156 146 174 158 184C164 208 184 227 210 234C227 239 243 238 251 230C260 219 266 203 268 184C269 174 267 166 264 158C263 152 266 146 268 138C271 122 267 104 255 90C243 78 224 72 206 72Z",
    "M206 72C168 70 138 96 137 134C136 156 146 174 157 184C160 210 182 230 212 235C231 239 246 236 254 227C265 214 271 198 271 181C271 172 268 164 265 158C264 152 267 146 269 138C271 122 267 104 255 90C243 78 224 72 206 72Z",
    "M206 72C168 70 138 96 137 134C136 156 146 174 158 184C158 202 164 214 178 222C194 231 210 238 226 239C241 240 252 237 256 228C264 216 268 202 269 184C269 174 267 166 264 158C263 152 267 146 269 138C271 122 267 104 255 90C243 78 224 72 206 72Z",
    "M206 72C168 70 138 96 137 134C136 156 146 174 158 184C163 208 180 230 208 240C224 247 241 246 249 237C259 223 265 204 267 184C268 174 266 166 263 158C262 152 265 146 267 138C270 122 266 104 254 90C242 78 224 72 206 72Z",
];

/// Neck, as far as the collar hides it.
pub(super) fn neck() -> Html {
    draw(&[(SKIN, "M164 190C172 226 170 246 160 258L180 300H230L245 266C243 256 243 246 244 230V190Z")])
}

/// Skull and jaw with the near ear.
pub(super) fn head(shape: u8) -> Html {
    let outline = OUTLINES.get(usize::from(shape)).unwrap_or(&OUTLINES[0]);
    draw(&[(SKIN, outline)])
}

/// The ear, over hair that lies behind it.
pub(super) fn ear() -> Html {
    draw(&[
        (BARE, "M174 150C164 141 151 147 153 164C155 179 163 191 174 186Z"),
        (
            FEATURE,
            "M174 151C164 141 151 147 153 164C155 179 163 191 173 186M168 158C161 155 158 161 163 169C166 174 164 177 162 178",
        ),
    ])
}
