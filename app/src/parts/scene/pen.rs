//! Puts strokes on the page. It knows nothing of what they show.

use yew::{Html, html};

/// One path: the class that says what it is made of, and its outline.
pub(super) type Stroke = (&'static str, &'static str);

/// Draws strokes, the first undermost.
pub(super) fn draw(strokes: &[Stroke]) -> Html {
    strokes.iter().map(|&(class, d)| html! { <path {class} {d} /> }).collect()
}

/// Draws a part somewhere else, or turned, or larger.
pub(super) fn placed(transform: &'static str, part: Html) -> Html {
    html! { <g {transform}>{ part }</g> }
}

/// A part that moves: how is in the style sheet, and `transform` is its pose when nothing may move.
pub(super) fn moving(class: &'static str, transform: &'static str, part: Html) -> Html {
    html! { <g {class} {transform}>{ part }</g> }
}
