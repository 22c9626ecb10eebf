//! The modules of the page: what each of them shows. A module links what its own screens stand on and nothing else, and is
//! fetched when the first of them is opened; `modules.json` says by the first part of an address which module that is.

use crate::{
    screen::Screen,
    screens::{
        about::about,
        assess::Assess,
        desk::{AtDesk, OnTheDesk},
        drills::Drills,
        home::Home,
        learners::Learners,
        lookout::FromTheLookout,
        open::Open,
        progress::Progress,
        questions::Questions,
        record::Record,
        refresh::Refresh,
        rehearse::room,
        sealed::sheet,
        sitting::Sat,
        teach::teach,
        wearer::Wearer,
    },
    shell::Around,
};
use yew::prelude::*;

/// What a module shows at a screen; nothing where the screen belongs to another module.
pub(crate) type Shows = fn(&Around, &Screen) -> Option<Html>;

/// The ways in.
#[expect(clippy::wildcard_enum_match_arm, reason = "a test looks for every screen in its module")]
pub(crate) fn start(around: &Around, screen: &Screen) -> Option<Html> {
    Some(match screen {
        Screen::Home => html! { <Home around={around.clone()} /> },
        Screen::About => about(&around.words, around.offline),
        _ => return None,
    })
}

/// A run.
pub(crate) fn run(around: &Around, screen: &Screen) -> Option<Html> {
    let Screen::Rehearse(id) = screen else { return None };
    Some(on_the_desk(around, id, true, room))
}

/// The run on the desk, shown in one of two ways, in one of which it goes on.
fn on_the_desk(around: &Around, id: &str, keeps: bool, show: fn(&Around, AtDesk) -> Html) -> Html {
    html! { <OnTheDesk key={format!("{id}-{keeps}")} id={id.to_owned()} {keeps} {show} around={around.clone()} /> }
}

/// Runs looked back on, or looked at, and the paper on which they stand.
#[expect(clippy::wildcard_enum_match_arm, reason = "a test looks for every screen in its module")]
pub(crate) fn review(around: &Around, screen: &Screen) -> Option<Html> {
    let around = around.clone();
    Some(match screen {
        Screen::Open => html! { <Open {around} /> },
        Screen::Review(id) => on_the_desk(&around, id, false, sheet),
        Screen::Watch(id) => {
            html! { <FromTheLookout key={format!("watch-{id}")} id={id.clone()} compare={false} {around} /> }
        }
        Screen::Compare(id) => {
            html! { <FromTheLookout key={format!("compare-{id}")} id={id.clone()} compare={true} {around} /> }
        }
        Screen::Record => html! { <Record {around} /> },
        _ => return None,
    })
}

/// Short exercises, and assessments.
#[expect(clippy::wildcard_enum_match_arm, reason = "a test looks for every screen in its module")]
pub(crate) fn practice(around: &Around, screen: &Screen) -> Option<Html> {
    let around = around.clone();
    Some(match screen {
        Screen::Questions => html! { <Questions key="questions" {around} /> },
        Screen::Drills => html! { <Drills key="drills" {around} /> },
        Screen::QuestionsOn(skill, agent) => {
            html! { <Questions key={screen.address()} on={Some((*skill, *agent))} {around} /> }
        }
        Screen::DrillsWith(agent) => html! { <Drills key={screen.address()} with={*agent} {around} /> },
        Screen::Refresh => html! { <Refresh {around} /> },
        Screen::Assess => html! { <Assess {around} /> },
        Screen::Sitting(id) => html! { <Sat key={id.clone()} id={id.clone()} {around} /> },
        _ => return None,
    })
}

/// What a worker goes through before their own test.
pub(crate) fn worker(around: &Around, screen: &Screen) -> Option<Html> {
    let Screen::Wearer = screen else { return None };
    Some(html! { <Wearer around={around.clone()} /> })
}

/// What is kept of whoever practises here, and what it comes to.
#[expect(clippy::wildcard_enum_match_arm, reason = "a test looks for every screen in its module")]
pub(crate) fn kept(around: &Around, screen: &Screen) -> Option<Html> {
    let around = around.clone();
    Some(match screen {
        Screen::Teach => teach(&around.words),
        Screen::Learners => html! { <Learners {around} /> },
        Screen::Progress => html! { <Progress {around} /> },
        _ => return None,
    })
}

/// All of them in one, which is linked once and so is made anew faster.
pub(crate) fn all(around: &Around, screen: &Screen) -> Option<Html> {
    [start, run, review, practice, worker, kept].iter().find_map(|shows| shows(around, screen))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        edge::offline::Offline,
        shell::{Keeper, Keeping},
        words::Words,
    };
    use futures::executor::block_on;
    use serde::Deserialize;
    use yew::ServerRenderer;

    #[derive(Deserialize)]
    struct Listed {
        name: String,
        shows: Vec<String>,
    }

    /// Asks the module that is listed for each screen's address whether it shows it.
    #[component]
    fn Asked() -> Html {
        let keeper = Keeper::for_tests(use_state(|| Keeping::Memory));
        let around = Around { words: Words::parse(&["{}"]).unwrap(), keeper, offline: Offline::Coming };
        let listed: Vec<Listed> = serde_json::from_str(include_str!("../modules.json")).unwrap();
        let modules: [(&str, Shows); 6] = [
            ("start", start),
            ("run", run),
            ("review", review),
            ("practice", practice),
            ("worker", worker),
            ("kept", kept),
        ];
        assert_eq!(listed.iter().map(|one| one.name.as_str()).collect::<Vec<_>>(), modules.map(|(name, _)| name));
        for screen in Screen::each() {
            let address = screen.address();
            let part = address.split('/').next().unwrap_or_default();
            let of = listed.iter().find(|one| one.shows.iter().any(|shown| shown == part));
            let name = of.map(|of| of.name.as_str());
            for (module, shows) in modules {
                assert_eq!(shows(&around, &screen).is_some(), name == Some(module), "{module} at {address}");
            }
            assert!(all(&around, &screen).is_some(), "{address}");
        }
        Html::default()
    }

    #[test]
    fn every_screen_is_shown_by_the_module_that_is_fetched_for_its_address_and_by_no_other() {
        block_on(ServerRenderer::<Asked>::new().hydratable(false).render());
    }
}
