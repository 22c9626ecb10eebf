//! How a facepiece is held on, and how it can be held on badly. The facepiece itself is elsewhere.

use super::{
    palette::{DEEP, FEATURE, KIT, LINE},
    pen::{Stroke, draw},
};
use bittersweet_core::{facepiece::Class, sign::Seen};
use yew::{Html, html};

/// Two bands: over the crown and round the nape.
const PAIR: &[Stroke] = &[
    (KIT, "M210 184L176 136C164 116 160 96 166 76L177 72C171 92 176 112 187 130L218 174Z"),
    (KIT, "M204 208L172 196C162 194 154 196 146 200L142 191C152 186 164 185 175 188L208 198Z"),
    (DEEP, "M184 148L192 142L197 150L189 156ZM178 189L187 192L184 202L175 199Z"),
];

/// Two thin elastic bands.
const ELASTIC: &[Stroke] = &[
    (KIT, "M214 176L180 132C168 112 160 98 156 84L161 80C166 94 174 108 186 128L218 172Z"),
    (KIT, "M206 206L174 194C164 191 154 192 145 196L143 191C154 186 164 186 176 189L208 201Z"),
];

/// A harness of three bands with buckles.
const HARNESS: &[Stroke] = &[
    (KIT, "M206 106L172 84L178 76L212 96Z"),
    (KIT, "M186 150L140 136L141 126L186 138Z"),
    (KIT, "M194 212L150 200L146 190L192 201Z"),
    (KIT, "M172 80C156 92 146 110 140 130L134 128C140 104 152 86 168 74Z"),
    (DEEP, "M190 100L183 95L189 86L196 91ZM176 148L166 145L167 132L177 135ZM184 210L174 208L172 196L182 198Z"),
];

/// The bands of a class of facepiece with what is wrong with them.
pub(super) fn straps(class: Class, fault: Option<Seen>) -> Html {
    let bands = match class {
        Class::Half | Class::Supplied => PAIR,
        Class::Filtering => ELASTIC,
        Class::Full | Class::Powered => HARNESS,
    };
    let wide = matches!(class, Class::Full | Class::Powered);
    let wrong = match fault {
        Some(Seen::StrapTwisted) if wide => draw(TWIST_LOW),
        Some(Seen::StrapTwisted) => draw(TWIST),
        Some(Seen::StrapsTight) => draw(TIGHT),
        _ => Html::default(),
    };
    html! { <>{ draw(bands) }{ wrong }</> }
}

/// The band turns over: two loops with a crossing between.
const TWIST: &[Stroke] = &[
    (KIT, "M214 180C206 184 198 176 193 166C189 158 184 152 176 150C173 144 178 138 186 140C192 142 192 152 197 160C204 164 214 168 214 180Z"),
    (LINE, "M191 160C196 158 199 160 200 164M177 149C182 146 187 146 189 142M212 178C212 172 208 168 202 166M186 152L196 158"),
];
const TWIST_LOW: &[Stroke] = &[
    (KIT, "M194 214C188 216 180 212 174 204C168 198 160 202 152 204C146 200 146 190 152 188C160 188 166 192 173 199C180 196 188 196 194 200Z"),
    (LINE, "M174 204C178 204 182 202 184 198M152 190C154 196 154 200 152 204M168 196C172 200 176 200 180 198"),
];

/// Skin rises on both sides of a band that cuts in.
const TIGHT: &[Stroke] = &[(
    FEATURE,
    "M186 134C190 130 195 132 196 138M192 142C197 139 201 141 202 147M198 150C203 147 207 149 208 155M204 158C209 155 213 157 214 163M178 182C179 177 184 176 187 180M188 184C189 180 194 179 197 183M180 204C180 209 184 211 188 207M190 207C190 212 195 213 198 210",
)];
