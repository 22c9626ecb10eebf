//! The least page that Yew makes: a heading.

use yew::prelude::*;

#[component]
fn Hello() -> Html {
    html! { <h1>{ "Hello" }</h1> }
}

fn main() {
    yew::Renderer::<Hello>::new().render();
}
