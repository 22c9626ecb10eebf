//! What lies on the face where a seal would lie, or harmlessly beside it.

use super::{
    palette::{BARE, BRISTLES, DEEP, FEATURE, GLASS, LINE, LOCKS, VOID, WHISKERS, WRAP},
    pen::draw,
};
use bittersweet_core::scenario::Face;
use yew::Html;

/// Drawn on the skin, below the mouth's lines.
pub(super) fn on_skin(face: Face) -> Html {
    match face {
        Face::Stubble => draw(&[(
            BRISTLES,
            "M176 190l3 5M184 196l3 5M178 203l3 5M190 206l3 5M184 213l3 4M196 214l3 5M202 204l3 5M192 222l3 4M206 222l3 5M212 212l3 5M200 229l3 3M216 228l3 5M224 219l3 5M226 231l3 4M234 223l3 5M238 232l2 4M244 223l2 5M248 231l2 4M255 223l1 5M230 210l2 4M220 204l3 4M234 198l3 4M243 198l2 4M254 198l1 4M262 199l-1 4M261 215l-1 4M186 187l3 4",
        )]),
        Face::Beard => draw(&[
            (
                WHISKERS,
                "M172 166C176 184 184 194 198 198C212 202 222 206 230 200C240 193 258 192 270 198C271 212 268 226 260 240C252 256 236 260 220 256C196 250 174 228 164 202C162 190 166 176 172 166Z",
            ),
            (
                LOCKS,
                "M176 192C180 206 188 218 196 226M190 204C196 218 204 230 212 238M210 212C214 226 220 238 228 246M230 226C232 236 238 244 242 248M252 228C252 236 252 242 250 246",
            ),
            (BARE, "M234 204C242 201 256 201 262 204C262 216 240 218 234 204Z"),
        ]),
        Face::Moustache => draw(&[(
            WHISKERS,
            "M226 205C230 196 243 193 250 197C256 193 264 196 267 203C261 205 255 204 250 201C243 205 233 207 226 205Z",
        )]),
        Face::Covering => draw(&[
            (
                WRAP,
                "M208 54C158 52 124 92 128 150C130 204 126 248 138 284L244 292C262 276 268 254 260 232C240 244 218 234 210 214C200 192 194 172 200 146C206 122 232 108 268 118C270 84 248 56 208 54Z",
            ),
            (
                LINE,
                "M258 100C222 96 184 112 172 150C166 196 184 244 220 270M246 76C196 76 150 110 146 160C144 206 150 244 166 276M256 240C250 250 242 256 232 258",
            ),
        ]),
        Face::Clear | Face::TempleBar => Html::default(),
    }
}

/// A temple bar between seal and skin: the edge stands off above and below it.
pub(super) fn pinched() -> Html {
    draw(&[
        (
            VOID,
            "M176 136C184 142 186 148 192 151C186 155 184 160 178 166C190 164 199 158 199 151C199 144 188 138 176 136Z",
        ),
        (DEEP, "M200 149L160 145L160 153L200 157Z"),
    ])
}

/// Drawn before the eyes, where it will be pinched between seal and skin.
pub(super) fn before_eyes(face: Face) -> Html {
    match face {
        Face::TempleBar => draw(&[
            (
                GLASS,
                "M192 156C192 143 200 140 211 140C223 140 230 145 230 155C230 167 222 172 211 172C200 172 192 167 192 156ZM242 155C242 145 247 141 255 141C263 141 267 146 267 155C267 165 263 170 256 170C248 170 242 165 242 155Z",
            ),
            (FEATURE, "M230 153C234 148 239 148 242 152"),
            (DEEP, "M193 149L158 145C150 145 148 151 154 153L192 158Z"),
        ]),
        Face::Clear | Face::Stubble | Face::Beard | Face::Moustache | Face::Covering => Html::default(),
    }
}
