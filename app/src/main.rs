//! Mounts the page and does nothing else.

use yew::{Html, component, html};

/// Stands in until the shell exists.
#[component]
fn App() -> Html {
    html! { <main><h1>{ "Bittersweet" }</h1></main> }
}

fn main() {
    yew::Renderer::<App>::new().render();
}
