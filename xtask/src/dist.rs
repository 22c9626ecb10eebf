//! The folder to put on a web host: small, with names that change with the content.

use crate::{
    cargo::Profile,
    compress, folders, modules,
    site::{self, Naming, Site},
    texts, tools,
};
use anyhow::{Context as _, Result, bail};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// What the module that shows first should weigh when it travels, in bytes: the first goal under "Weight and start" of the
/// project's numbers to reach. It is printed.
pub(crate) const WASM_GOAL: usize = 130_000;

/// The module that shows first.
pub(crate) const FIRST: &str = "start";

/// What each module may weigh: a ratchet, a little above what it weighs now. It is raised only for what a screen newly does, or how much faster it does it.
const CEILINGS: [(&str, usize); 6] = [
    (FIRST, 126_000),
    ("run", 276_500),
    ("review", 374_800),
    ("practice", 287_500),
    ("worker", 217_500),
    ("kept", 176_200),
];

/// What is packed: everything else in a site is packed already.
const PACKED: [&str; 7] = ["css", "html", "js", "json", "svg", "wasm", "webmanifest"];

/// Where the folder lies when nothing else is said.
pub(crate) fn folder() -> PathBuf {
    folders::target().join("dist")
}

/// Builds the folder and prints what its files weigh.
///
/// # Errors
/// When the page does not compile, the folder cannot be written, or the module is over its ceiling.
pub(crate) fn dist(out: &Path) -> Result<()> {
    let weights = build(out)?;
    print(out, &weights);
    check_weight(&weights)
}

/// Builds the folder, and says what its files weigh.
///
/// # Errors
/// When the page does not compile, or the folder cannot be written.
pub(crate) fn build(out: &Path) -> Result<Vec<Weight>> {
    tools::wasm_target()?;
    let modules = modules::build(Profile::Release, modules::listed()?, &mut |line| {
        // Progress in place is for a terminal; what remains reads well in a log too.
        if !line.trim_start().starts_with("Building ") && !line.is_empty() {
            eprintln!("{line}");
        }
    })?;
    let site = site::gather(modules, &texts::built_in(), Naming::Hashed)?;
    // An old file under an old name would be shipped for ever.
    if out.exists() {
        if !out.join(site::PAGE).exists() && out.read_dir()?.next().is_some() {
            bail!("{} is not a site and is not empty: it is left alone", out.display());
        }
        fs::remove_dir_all(out).with_context(|| format!("cannot clear {}", out.display()))?;
    }
    write(out, &site)
}

/// What a file of the site weighs.
pub(crate) struct Weight {
    /// Where it lies below the page.
    pub(crate) address: String,
    raw: usize,
    packed: Option<Packed>,
}

impl Weight {
    /// What travels of it: its bytes after brotli where it is packed.
    pub(crate) fn travels(&self) -> usize {
        self.packed.as_ref().map_or(self.raw, |packed| packed.brotli)
    }
}

struct Packed {
    gzip: usize,
    brotli: usize,
}

fn write(out: &Path, site: &Site) -> Result<Vec<Weight>> {
    let mut weights = Vec::new();
    for (address, bytes) in site {
        let file = out.join(address);
        let write = |ending: &str, bytes: &[u8]| {
            let file = PathBuf::from(format!("{}{ending}", file.display()));
            fs::write(&file, bytes).with_context(|| format!("cannot write {}", file.display()))
        };
        fs::create_dir_all(file.parent().unwrap_or(out))?;
        write("", bytes)?;
        let packed = if PACKED.iter().any(|ending| address.ends_with(&format!(".{ending}"))) {
            let (gzip, brotli) = (compress::gzip(bytes)?, compress::brotli(bytes)?);
            write(".gz", &gzip)?;
            write(".br", &brotli)?;
            Some(Packed { gzip: gzip.len(), brotli: brotli.len() })
        } else {
            None
        };
        weights.push(Weight { address: address.clone(), raw: bytes.len(), packed });
    }
    Ok(weights)
}

fn print(out: &Path, weights: &[Weight]) {
    println!("{}", out.display());
    println!("{:<34} {:>9} {:>9} {:>9}", "file", "raw", "gzip", "brotli");
    for Weight { address, raw, packed } in weights {
        match packed {
            Some(Packed { gzip, brotli }) => println!("{address:<34} {raw:>9} {gzip:>9} {brotli:>9}"),
            None => println!("{address:<34} {raw:>9}"),
        }
    }
}

/// The module that a file of the site belongs to, and what that may weigh.
pub(crate) fn module(address: &str) -> Option<(&'static str, usize)> {
    let name = address.split(['-', '.']).next()?;
    CEILINGS.into_iter().find(|(of, _)| *of == name)
}

/// Says what the modules weigh, and whether the first keeps to its goal.
///
/// # Errors
/// When one is over its ceiling, or has none.
pub(crate) fn check_weight(weights: &[Weight]) -> Result<()> {
    for weight in weights.iter().filter(|weight| weight.address.ends_with(".wasm")) {
        let (address, brotli) = (&weight.address, weight.travels());
        let (name, ceiling) = module(address).with_context(|| format!("{address}: no ceiling"))?;
        if brotli > ceiling {
            bail!("{address} weighs {brotli} bytes after brotli, over its ceiling of {ceiling}");
        }
        let goal = match brotli > WASM_GOAL {
            _ if name != FIRST => String::new(),
            true => format!("; the goal of {WASM_GOAL} is missed"),
            false => format!("; the goal of {WASM_GOAL} is reached"),
        };
        println!("{address}: {brotli} bytes after brotli{goal}");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weight(address: &str, brotli: usize) -> [Weight; 1] {
        [Weight { address: address.to_owned(), raw: 0, packed: Some(Packed { gzip: 0, brotli }) }]
    }

    #[test]
    fn a_module_over_its_ceiling_fails() {
        for (name, ceiling) in CEILINGS {
            let address = format!("{name}-1.wasm");
            assert!(check_weight(&weight(&address, ceiling)).is_ok());
            assert!(check_weight(&weight(&address, ceiling + 1)).is_err());
        }
    }

    #[test]
    fn every_module_has_a_ceiling() {
        let listed = modules::listed().unwrap();
        assert_eq!(listed.len(), CEILINGS.len());
        for one in listed {
            assert!(check_weight(&weight(&format!("{}-1.wasm", one.name), 1)).is_ok(), "{}", one.name);
        }
        assert!(check_weight(&weight("other-1.wasm", 1)).is_err());
    }
}
