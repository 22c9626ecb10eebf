//! Mist in the hood, in five steps. Each step adds drops to the last, so that it can be seen rising and thinning out.

use super::{palette::MIST, pen::moving};
use yew::{Html, html};

/// Drops that each step adds, spread so that none crowds another.
const STEPS: [&str; 5] = [
    "M183 107h0m45-2h0m59-5h0m37 7h0m-50 19h0m-30 12h0m-79 0h0m38 13h0m135-5h0m-57 14h0m-111 19h0m52 4h0m99 11h0m-44 15h0m-67 12h0m35 12h0m93 6h0m-59 19h0m-71-3h0m-46-10h0",
    "M251 100h0m73 30h0m-26 7h0m-75-7h0m-21-7h0m35 36h0m24-6h0m75 22h0m-20-11h0m-40 15h0m-78-2h0m-14-16h0m68 19h0m45 10h0m38 24h0m-87-12h0m-61 2h0m-24-4h0m12 25h0m44 14h0m86-17h0m-121 36h0m68 2h0m58 0h0",
    "M165 118h0m0-16h0m43 2h0m60 1h0m37 8h0m33 10h0m-47-1h0m-35 3h0m-50 12h0m-22 1h0m35 15h0m102-5h0m12 13h0m-35 0h0m-135 0h0m22 28h0m15 7h0m119 17h0m-12-11h0m-14 10h0m-34 7h0m-40-18h0m-26 28h0m34-6h0m46 10h0m49-2h0m15 27h0m-14-9h0m-28-7h0m-66 14h0",
    "M194 107h0m24 9h0m20 3h0m46-7h0m53-3h0m-26 17h0m-43 12h0m-79-17h0m-16 8h0m2 19h0m108-7h0m25 13h0m-7 19h0m-42-4h0m-7-9h0m-17 17h0m-22-7h0m-13-7h0m-15 11h0m46 20h0m34 0h0m19 1h0m27-13h0m24 11h0m-92 25h0m-10-9h0m-43 7h0m-18-5h0m-9 21h0m18 6h0m109-11h0m18 20h0m-37 0h0m-14-2h0m-13 1h0m-41-2h0m-15 4h0m78 12h0",
    "M176 116h0m61-15h0m6 7h0m14 5h0m37-3h0m6-10h0m13 0h0m16 16h0m-13 21h0m-82-4h0m-38-1h0m-4 20h0m3-9h0m24-1h0m16 3h0m11 5h0m11-8h0m15 7h0m19 2h0m37-10h0m-6 36h0m-33-6h0m-18-3h0m-7 11h0m-20-11h0m-20-5h0m-50 6h0m-2 23h0m36-9h0m33 4h0m10 4h0m36-8h0m-13 17h0m-6 19h0m-6-13h0m-40 7h0m-20-5h0m-37 12h0m33 1h0m64 14h0m45 0h0m27-7h0m-36 27h0m-11-4h0m-54-10h0m-15 9h0m-41-1h0m-11 8h0",
];

/// Mist of a level, from none to dense.
pub(super) fn mist(level: u8) -> Html {
    let drops = STEPS.iter().take(usize::from(level)).map(|d| html! { <path class={MIST} d={*d} /> }).collect();
    moving("drift", "", drops)
}
