//! Python with pinned packages, for what is compared with its libraries; nothing that is shipped needs it.

use crate::tools::{self, run};
use anyhow::{Context as _, Result};
use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

/// The Python of an environment in `folder` that holds what the file `pinned` names, made when it is missing or other.
///
/// # Errors
/// When there is no Python 3, or the packages cannot be had.
pub(crate) fn environment(folder: &Path, pinned: &Path) -> Result<PathBuf> {
    let environment = folder.join("venv");
    let python = environment.join(if cfg!(windows) { "Scripts/python.exe" } else { "bin/python" });
    // Copied last, so it stands for a whole installation.
    let installed = environment.join("requirements.txt");
    if python.is_file() && fs::read(&installed).ok() == Some(fs::read(pinned)?) {
        return Ok(python);
    }
    run(Command::new(tools::python()?).args(["-m", "venv", "--clear"]).arg(&environment))?;
    run(Command::new(&python)
        .args(["-m", "pip", "install", "--quiet", "--disable-pip-version-check"])
        .args(["--require-hashes", "--only-binary", ":all:", "-r"])
        .arg(pinned))
    .with_context(|| format!("the packages of {} cannot be installed", pinned.display()))?;
    fs::copy(pinned, &installed)?;
    Ok(python)
}
