//! The folder to put on a web host: small, with names that change with the content.

use crate::{
    cargo::{self, Profile},
    compress, folders,
    site::{self, Naming, Site},
    texts, tools, wasm,
};
use anyhow::{Context as _, Result, bail};
use std::{
    fs,
    path::{Path, PathBuf},
};

/// What the learner's module should weigh when it travels, in bytes: the first goal under "Weight and start" of the
/// project's numbers to reach. It is printed, and missed so far.
pub(crate) const WASM_GOAL: usize = 130_000;

/// What it may weigh: a ratchet, a little above what it weighs now. It only ever goes down.
const WASM_CEILING: usize = 440_000;

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
    let bare = cargo::build_page(Profile::Release, &mut |line| {
        // Progress in place is for a terminal; what remains reads well in a log too.
        if !line.trim_start().starts_with("Building ") && !line.is_empty() {
            eprintln!("{line}");
        }
    })?;
    let site = site::gather(wasm::bind(&bare)?, &texts::built_in(), Naming::Hashed)?;
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

/// Says whether the module keeps to its goal.
///
/// # Errors
/// When it is over its ceiling.
pub(crate) fn check_weight(weights: &[Weight]) -> Result<()> {
    for weight in weights.iter().filter(|weight| weight.address.ends_with(".wasm")) {
        let (address, brotli) = (&weight.address, weight.travels());
        if brotli > WASM_CEILING {
            bail!("{address} weighs {brotli} bytes after brotli, over its ceiling of {WASM_CEILING}");
        }
        let state = if brotli > WASM_GOAL { "missed" } else { "reached" };
        println!("{address}: {brotli} bytes after brotli; the goal of {WASM_GOAL} is {state}");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_module_over_its_ceiling_fails() {
        let weight =
            |brotli| Weight { address: "app-1.wasm".to_owned(), raw: 0, packed: Some(Packed { gzip: 0, brotli }) };
        assert!(check_weight(&[weight(WASM_CEILING)]).is_ok());
        assert!(check_weight(&[weight(WASM_CEILING + 1)]).is_err());
    }
}
