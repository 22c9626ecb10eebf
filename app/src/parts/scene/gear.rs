//! What is worn at work beside the facepiece.

use super::{
    palette::{DEEP, GLASS, KIT, LINE},
    pen::draw,
};
use bittersweet_core::sign::Gear;
use yew::Html;

/// One piece of gear, on; a helmet hides the band of ear muffs.
pub(super) fn gear(gear: Gear, helmeted: bool) -> Html {
    match gear {
        Gear::Glasses => draw(&[
            (
                GLASS,
                "M194 142L238 140C242 148 240 158 236 164C228 172 212 174 204 170C197 166 194 156 194 142ZM247 140L274 139C277 150 275 162 270 168C262 172 254 170 250 164C247 158 246 148 247 140Z",
            ),
            (DEEP, "M194 141L164 147L154 152L156 157L194 152L238 143L247 143L274 142L274 137L247 138L238 138Z"),
        ]),
        Gear::Helmet => draw(&[
            (KIT, "M128 118C124 74 162 44 208 44C252 44 280 72 280 110C230 106 176 110 128 118Z"),
            (LINE, "M208 44C200 62 198 88 200 110M168 54C158 74 154 96 154 114M240 52C252 68 256 88 256 108"),
            (
                DEEP,
                "M122 120C176 108 240 104 300 112C308 114 308 121 300 121C240 116 180 119 128 128C120 129 116 122 122 120Z",
            ),
        ]),
        Gear::EarMuffs => draw(&[
            (
                DEEP,
                if helmeted {
                    "M158 146L158 120H166L165 146Z"
                } else {
                    "M156 148C152 96 176 58 214 58C236 58 250 66 258 80L253 83C245 71 233 64 214 64C180 64 158 98 163 147Z"
                },
            ),
            (
                KIT,
                "M162 142C176 142 184 154 184 168C184 184 176 196 162 196C150 196 144 184 144 168C144 152 150 142 162 142Z",
            ),
            (LINE, "M156 150C150 158 150 178 156 188"),
        ]),
    }
}
