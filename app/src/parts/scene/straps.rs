//! How a facepiece is held on, and how it can be held on badly. The facepiece itself is elsewhere.

use super::{
    palette::{BARE, DEEP, FEATURE, KIT, LINE},
    pen::{Stroke, draw},
};
use bittersweet_core::{facepiece::Class, sign::Seen};
use yew::{Html, html};

/// The lower of two bands, round the nape.
const NAPE: Stroke = (KIT, "M200 219L170 204C160 200 152 202 145 206L141 196C151 190 163 190 174 194L204 207Z");
const BUCKLE: Stroke = (DEEP, "M178 198L187 201L183 212L174 208Z");

/// Two bands: over the ear to the back of the head, and round the nape.
const PAIR: &[Stroke] = &[
    (KIT, "M196 200L172 158C164 142 152 132 135 126L138 114C158 120 174 132 183 148L207 190Z"),
    NAPE,
    BUCKLE,
    (DEEP, "M180 166L190 160L195 169L185 175Z"),
];

/// The upper band turned over on itself, so that its other side shows.
const PAIR_TWISTED: &[Stroke] = &[
    (
        KIT,
        "M172 158C164 142 152 132 135 126L138 114C158 120 174 132 183 148C192 154 196 166 190 175C180 174 174 168 172 158Z",
    ),
    (DEEP, "M190 175C182 182 184 196 194 203L209 191C208 180 200 175 190 175Z"),
    (LINE, "M186 184L196 180M188 192L202 183M192 200L207 187M178 160L185 154M182 167L190 160"),
    NAPE,
    BUCKLE,
];

/// Two thin elastic bands.
const ELASTIC: &[Stroke] = &[
    (KIT, "M200 197L172 154C164 140 150 129 136 125L138 119C154 123 170 134 178 150L206 191Z"),
    (KIT, "M204 215L172 202C162 199 152 201 145 205L143 200C152 194 162 194 174 197L207 209Z"),
];
const ELASTIC_TWISTED: &[Stroke] = &[
    (
        KIT,
        "M172 154C164 140 150 129 136 125L138 119C154 123 170 134 178 150C190 154 194 166 188 174C178 174 172 166 172 154Z",
    ),
    (DEEP, "M188 174C180 180 184 194 196 202L207 192C208 180 200 174 188 174Z"),
    (LINE, "M184 182L194 178M187 191L200 182M178 158L184 153M182 167L189 160"),
    (KIT, "M204 215L172 202C162 199 152 201 145 205L143 200C152 194 162 194 174 197L207 209Z"),
];

/// A harness of three bands with buckles.
const HARNESS: &[Stroke] = &[
    CROWN,
    TEMPLE,
    (KIT, "M194 212L174 206L144 198L142 187L176 194L192 201Z"),
    CRADLE,
    (DEEP, "M190 100L183 95L189 86L196 91ZM176 148L166 145L167 132L177 135ZM182 210L173 207L172 195L181 198Z"),
];
const CROWN: Stroke = (KIT, "M206 106L170 82L176 74L212 96Z");
const TEMPLE: Stroke = (KIT, "M186 150L138 136L139 126L186 138Z");
const CRADLE: Stroke = (KIT, "M172 80C156 92 146 110 140 132L135 128C140 104 152 86 168 74Z");
const HARNESS_TWISTED: &[Stroke] = &[
    CROWN,
    TEMPLE,
    (KIT, "M142 187C152 184 164 188 170 198C162 208 152 206 144 200Z"),
    (DEEP, "M170 198C176 186 188 190 193 198L194 213C184 218 174 210 170 198Z"),
    (LINE, "M176 204L186 193M182 210L192 199M150 188L156 202M158 190L164 202"),
    CRADLE,
    (DEEP, "M190 100L183 95L189 86L196 91ZM176 148L166 145L167 132L177 135Z"),
];

/// The bands of a class of facepiece, and what is wrong with them.
pub(super) fn straps(class: Class, fault: Option<Seen>) -> Html {
    let twisted = fault == Some(Seen::StrapTwisted);
    let tight = fault == Some(Seen::StrapsTight);
    let (even, turned, cutting_in) = match class {
        Class::Half | Class::Supplied => (PAIR, PAIR_TWISTED, TIGHT),
        Class::Filtering => (ELASTIC, ELASTIC_TWISTED, TIGHT),
        Class::Full | Class::Powered => (HARNESS, HARNESS_TWISTED, TIGHT_LOW),
    };
    let bands = draw(if twisted { turned } else { even });
    html! { <>{ if tight { draw(cutting_in) } else { Html::default() } }{ bands }</> }
}

/// Flesh rises on both sides of a band that cuts in; drawn under the bands.
const TIGHT: &[Stroke] = &[
    (
        BARE,
        "M186 150C201 152 216 174 214 196L190 202C176 194 170 176 173 162ZM172 190C182 186 198 192 208 204L202 226C190 226 176 218 168 210Z",
    ),
    (
        FEATURE,
        "M186 150C201 152 216 174 214 196M173 162C170 176 176 192 186 198M172 190C178 187 186 188 192 192M168 210C176 220 190 227 202 226M200 153L206 150M210 165L216 163M214 178H220M176 220L172 227M188 226L186 233",
    ),
];
const TIGHT_LOW: &[Stroke] = &[
    (BARE, "M154 185C166 178 186 184 196 198V220C178 222 160 214 152 205Z"),
    (
        FEATURE,
        "M154 185C166 178 186 184 192 194M152 205C160 216 178 223 192 219M162 180L160 174M174 179L175 173M164 218L161 224M176 222L175 228M206 86C218 78 240 76 258 84M200 90C192 94 186 102 184 110",
    ),
];
