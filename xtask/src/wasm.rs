//! Turns the bare wasm that cargo built into the pair a browser can load: the module and its glue.

use anyhow::{Context as _, Result, bail};
use std::path::Path;
use wasm_bindgen_cli_support::Bindgen;

/// What the browser loads.
#[derive(Debug)]
pub(crate) struct Bound {
    /// The module.
    pub(crate) wasm: Vec<u8>,
    /// The script that joins it to the page.
    pub(crate) glue: Vec<u8>,
}

/// Binds the wasm file that cargo built.
///
/// No `wasm-opt` follows: with `opt-level = "s"` it makes the module smaller but not what travels (42.8 kB against
/// 42.6 kB without it for a small page, after brotli).
///
/// # Errors
/// When the file is not of the version that this tool binds, or asks for more files than the page has a place for.
pub(crate) fn bind(file: &Path) -> Result<Bound> {
    let mut output = Bindgen::new()
        .input_path(file)
        .web(true)?
        .typescript(false)
        // `boot.js` says where the module lies, since its name changes with its content.
        .omit_default_module_path(true)
        .remove_producers_section(true)
        // The names of functions are for people who debug; they would be a fifth of what travels.
        .remove_name_section(true)
        .generate_output()
        .with_context(|| format!("cannot bind {}", file.display()))?;
    if output.snippets().values().any(|scripts| !scripts.is_empty()) || !output.local_modules().is_empty() {
        bail!("a crate brings scripts of its own, for which the site has no place yet");
    }
    Ok(Bound { wasm: output.wasm_mut().emit_wasm(), glue: output.js().as_bytes().to_vec() })
}

#[cfg(test)]
mod tests {
    #[test]
    fn binder_and_library_are_of_one_version() {
        let lock = include_str!("../../Cargo.lock");
        let version = |name: &str| {
            let entry =
                lock.split("[[package]]").find(|entry| entry.contains(&format!("name = \"{name}\"\n"))).unwrap();
            entry.lines().find_map(|line| line.strip_prefix("version = ")).unwrap().to_owned()
        };
        assert_eq!(version("wasm-bindgen"), version("wasm-bindgen-cli-support"));
    }
}
