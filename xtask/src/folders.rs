//! Where things lie: the repository, and the folder that cargo builds into.

use std::{env, path::PathBuf};

/// The root of the repository.
pub(crate) fn root() -> PathBuf {
    let mut root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    root.pop();
    root
}

/// Cargo's target folder: `CARGO_TARGET_DIR` when it is set, else `target` in the repository.
pub(crate) fn target() -> PathBuf {
    // A relative path in the variable is meant from where the command was given.
    match env::var_os("CARGO_TARGET_DIR") {
        Some(folder) => env::current_dir().unwrap_or_default().join(folder),
        None => root().join("target"),
    }
}
