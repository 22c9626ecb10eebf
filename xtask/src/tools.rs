//! What must be on the machine before anything can be built or tried, and how it gets there.

use crate::{cargo::WASM, folders};
use anyhow::{Context as _, Result, bail};
use std::{
    env, fs,
    path::{Path, PathBuf},
    process::Command,
};

/// Where the browser tests live.
pub(crate) fn browser_tests() -> PathBuf {
    folders::root().join("tests/browser")
}

/// Adds the target that the page is compiled for, when the toolchain lacks it.
///
/// A toolchain file names the target, but that adds it only to a toolchain that is installed because of the file.
///
/// # Errors
/// When it is missing and cannot be added.
pub(crate) fn wasm_target() -> Result<()> {
    let mut rustc = Command::new("rustc");
    let output = rustc.current_dir(folders::root()).args(["--print", "target-libdir", "--target", WASM]).output();
    let there = output.is_ok_and(|output| {
        let folder = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        output.status.success() && Path::new(&folder).is_dir()
    });
    if there {
        return Ok(());
    }
    println!("adding the target {WASM} to the toolchain");
    let mut rustup = Command::new("rustup");
    rustup.current_dir(folders::root()).args(["target", "add", WASM]);
    run(&mut rustup).with_context(|| {
        format!("the toolchain lacks the target {WASM}; with a network, `rustup target add {WASM}` adds it")
    })
}

/// Installs the packages of the browser tests as the lock file names them, when they are missing or older than it.
///
/// # Errors
/// When npm is missing or fails.
pub(crate) fn browser_packages() -> Result<()> {
    packages(&browser_tests()).context("the browser tests need Node.js 20 or newer with npm")
}

/// Installs the packages of a folder as its lock file names them, when they are missing or older than it.
///
/// # Errors
/// When npm is missing or fails.
pub(crate) fn packages(folder: &Path) -> Result<()> {
    let age = |file: &str| fs::metadata(folder.join(file)).and_then(|data| data.modified());
    // npm writes this file last, so it stands for a whole install.
    if let (Ok(installed), Ok(locked)) = (age("node_modules/.package-lock.json"), age("package-lock.json"))
        && installed >= locked
    {
        return Ok(());
    }
    let npm = if cfg!(windows) { "npm.cmd" } else { "npm" };
    let mut npm = Command::new(npm);
    npm.current_dir(folder).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
    run(&mut npm)
}

/// The path of a Chromium, which is installed by apt when there is none and that is possible.
///
/// # Errors
/// When there is none; the error says what to install.
pub(crate) fn chromium() -> Result<PathBuf> {
    if let Some(found) = find_chromium() {
        return Ok(found);
    }
    apt_install("chromium")?;
    find_chromium().context("no browser found: install Chromium, or set CHROMIUM to the path of one")
}

/// The path of a Java, in which the checker of markup runs; it is installed by apt when there is none and that is possible.
///
/// # Errors
/// When there is none; the error says what to install.
pub(crate) fn java() -> Result<PathBuf> {
    const JAVA: &str = "java";
    if let Some(found) = on_path(JAVA) {
        return Ok(found);
    }
    apt_install("default-jre-headless")?;
    on_path(JAVA).context("no Java found, in which the browser tests check markup: install Java 17 or newer")
}

/// A Python 3 that can make environments; its module for that is installed by apt where it is missing and that is possible.
///
/// # Errors
/// When there is none; the error says what to install.
pub(crate) fn python() -> Result<&'static str> {
    const PYTHON: &str = "python3";
    let is_able = || {
        let output = Command::new(PYTHON).args(["-c", "import ensurepip, venv"]).output();
        output.is_ok_and(|output| output.status.success())
    };
    if !is_able() {
        apt_install("python3-venv")?;
        if !is_able() {
            bail!("no `{PYTHON}` found that can make environments: install Python 3.11 or newer with its module venv");
        }
    }
    Ok(PYTHON)
}

/// Installs a package where that is possible: by root, on a system with apt. Elsewhere it does nothing.
fn apt_install(package: &str) -> Result<()> {
    if !is_root() || on_path("apt-get").is_none() {
        return Ok(());
    }
    let apt =
        |arguments: &[&str]| run(Command::new("apt-get").env("DEBIAN_FRONTEND", "noninteractive").args(arguments));
    apt(&["update", "-qq"])?;
    apt(&["install", "-y", "-qq", "--no-install-recommends", package])
}

fn find_chromium() -> Option<PathBuf> {
    const NAMES: [&str; 4] = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
    const MACOS: &str = "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome";
    env::var_os("CHROMIUM")
        .map(PathBuf::from)
        .into_iter()
        .chain(NAMES.iter().filter_map(|name| on_path(name)))
        .chain([PathBuf::from(MACOS)])
        .find(|path| path.is_file())
}

fn on_path(name: &str) -> Option<PathBuf> {
    let folders = env::var_os("PATH")?;
    env::split_paths(&folders).map(|folder| folder.join(name)).find(|path| path.is_file())
}

fn is_root() -> bool {
    Command::new("id").arg("-u").output().is_ok_and(|output| output.stdout.trim_ascii() == b"0")
}

/// Runs a command, with its output on the terminal, and fails when it fails.
///
/// # Errors
/// When the command is missing or its exit code is not 0.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let name = command.get_program().to_string_lossy().into_owned();
    let status = command.status().with_context(|| format!("`{name}` does not start"))?;
    if !status.success() {
        let arguments: Vec<_> = command.get_args().map(|argument| argument.to_string_lossy()).collect();
        bail!("`{name} {}` failed ({status})", arguments.join(" "));
    }
    Ok(())
}

/// What a command prints.
///
/// # Errors
/// When it is missing, its exit code is not 0, or it prints no text.
pub(crate) fn said(command: &mut Command) -> Result<String> {
    let name = command.get_program().to_string_lossy().into_owned();
    let output = command.output().with_context(|| format!("`{name}` does not start"))?;
    if !output.status.success() {
        bail!("`{name}` failed ({}): {}", output.status, String::from_utf8_lossy(&output.stderr));
    }
    Ok(String::from_utf8(output.stdout)?)
}
