//! Puts strokes on the page. It knows nothing of what they show.

use yew::{Html, html};

/// One path: the class that says what it is made of, and its outline.
pub(super) type Stroke = (&'static str, &'static str);

/// Draws strokes, the first undermost.
pub(super) fn draw(strokes: &[Stroke]) -> Html {
    strokes.iter().map(|&(class, d)| html! { <path {class} {d} /> }).collect()
}

/// Draws a part somewhere else, or turned, or larger; with an empty `transform`, just as it is.
pub(super) fn placed(transform: &'static str, part: Html) -> Html {
    html! { <g transform={given(transform)}>{ part }</g> }
}

/// A part that moves: how is in the style sheet, and `transform` is its pose when nothing may move.
pub(super) fn moving(class: &'static str, transform: &'static str, part: Html) -> Html {
    html! { <g {class} transform={given(transform)}>{ part }</g> }
}

fn given(transform: &'static str) -> Option<&'static str> {
    (!transform.is_empty()).then_some(transform)
}
