//! Where a module shows the page: nothing stands here while another module does.
//!
//! A module is given its element once and keeps it. Yew never lets go of what it listens to, so an app that came and went
//! with every change of modules would leave an element and its listeners behind each time.

use crate::shell::{Shell, ShellProps};
use yew::prelude::*;

/// Properties of [`Place`].
#[derive(Properties, PartialEq)]
pub(crate) struct PlaceProps {
    /// The page, while this module shows it.
    pub(crate) page: Option<ShellProps>,
}

/// The place.
#[component]
pub(crate) fn Place(props: &PlaceProps) -> Html {
    html! { if let Some(page) = props.page.clone() { <Shell ..page /> } }
}
