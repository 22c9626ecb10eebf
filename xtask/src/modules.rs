//! The modules that the page consists of: what `app/modules.json` says of them.

use crate::{
    cargo::{self, Profile},
    folders,
    wasm::{self, Bound},
};
use anyhow::{Context as _, Result};
use serde::Deserialize;
use std::fs;

/// A module in the list.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
pub(crate) struct Listed {
    /// The program that it is.
    pub(crate) name: String,
    /// The first parts of the addresses that it shows.
    pub(crate) shows: Vec<String>,
}

/// A module as it is shipped.
#[derive(Debug)]
pub(crate) struct Module {
    /// What the list says of it.
    pub(crate) listed: Listed,
    /// What the browser loads.
    pub(crate) bound: Bound,
}

/// The list. The first module shows whatever is no other's.
///
/// # Errors
/// When it cannot be read.
pub(crate) fn listed() -> Result<Vec<Listed>> {
    let file = folders::root().join("app/modules.json");
    serde_json::from_str(&fs::read_to_string(&file)?).with_context(|| format!("{} cannot be read", file.display()))
}

/// One that shows everything: it is linked once, and so is made anew faster.
pub(crate) fn all() -> Vec<Listed> {
    vec![Listed { name: "all".to_owned(), shows: Vec::new() }]
}

/// Builds and binds modules.
///
/// # Errors
/// When they do not compile, or cannot be bound.
pub(crate) fn build(profile: Profile, listed: Vec<Listed>, tell: &mut dyn FnMut(&str)) -> Result<Vec<Module>> {
    let names: Vec<&str> = listed.iter().map(|one| one.name.as_str()).collect();
    let bare = cargo::build_page(profile, &names, tell)?;
    tell("binding");
    listed.into_iter().zip(bare).map(|(listed, file)| Ok(Module { listed, bound: wasm::bind(&file)? })).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_address_is_two_modules_and_the_first_is_the_start() {
        let listed = listed().unwrap();
        assert_eq!(listed[0].name, "start");
        let mut shown: Vec<_> = listed.iter().flat_map(|one| &one.shows).collect();
        let all = shown.len();
        shown.sort();
        shown.dedup();
        assert_eq!(shown.len(), all);
    }
}
