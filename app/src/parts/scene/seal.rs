//! What lies on the face where a seal would lie, or harmlessly beside it.

use super::{
    palette::{BRISTLES, DEEP, FEATURE, GLASS, HAIR, LOCKS, WRAP},
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
                HAIR,
                "M172 166C176 184 184 194 198 198C212 202 222 206 230 200C240 193 258 192 270 198C271 212 268 226 260 240C252 256 236 260 220 256C196 250 174 228 164 202C162 190 166 176 172 166Z",
            ),
            (LOCKS, "M176 192C180 206 188 218 196 226M190 204C196 218 204 230 212 238M210 212C214 226 220 238 228 246M230 226C232 236 238 244 242 248M252 228C252 236 252 242 250 246"),
            ("bare", "M238 204C246 201 260 201 266 204C266 216 244 218 238 204Z"),
        ]),
        Face::Moustache => draw(&[(HAIR, "M230 205C234 196 247 193 254 197C260 193 268 196 271 203C265 205 259 204 254 201C247 205 237 207 230 205Z")]),
        Face::Covering => draw(&[
            (
                WRAP,
                "M208 54C158 52 124 92 128 150C130 204 126 248 138 284L244 292C262 276 268 254 260 232C240 244 218 234 210 214C200 192 194 172 200 146C206 122 232 108 268 118C270 84 248 56 208 54Z",
            ),
            ("line", "M258 100C222 96 184 112 172 150C166 196 184 244 220 270M246 76C196 76 150 110 146 160C144 206 150 244 166 276M256 240C250 250 242 256 232 258"),
        ]),
        Face::Clear | Face::TempleBar => Html::default(),
    }
}

/// Drawn before the eyes, where it will be pinched between seal and skin.
pub(super) fn before_eyes(face: Face) -> Html {
    match face {
        Face::TempleBar => draw(&[
            (GLASS, "M198 157C198 144 206 141 216 141C228 141 234 146 234 156C234 168 226 173 216 173C206 173 198 168 198 157ZM246 156C246 146 250 142 258 142C266 142 270 147 270 156C270 166 266 171 259 171C251 171 246 166 246 156Z"),
            (FEATURE, "M234 154C238 149 243 149 246 153"),
            (DEEP, "M199 150L158 146C150 146 148 152 154 154L198 159Z"),
        ]),
        Face::Clear | Face::Stubble | Face::Beard | Face::Moustache | Face::Covering => Html::default(),
    }
}
