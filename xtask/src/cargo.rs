//! Builds the page with cargo and hands on what cargo says while it does.

use crate::folders;
use anyhow::{Context as _, Result, bail};
use serde_json::{Value, json};
use std::{
    collections::BTreeMap,
    env,
    ffi::OsString,
    io::{BufRead as _, BufReader, Read},
    path::PathBuf,
    process::{Command, Stdio},
    thread,
};

/// The target that browsers run.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";

/// The package that becomes the page.
const PAGE: &str = "bittersweet-app";

/// How the page is built.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Profile {
    /// Fast to build.
    Dev,
    /// Small to fetch; the lock file must not change.
    Release,
}

/// A cargo command that starts in the root of the repository.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(env::var_os("CARGO").unwrap_or_else(|| OsString::from("cargo")));
    command.current_dir(folders::root());
    command
}

/// Builds programs of the page and returns the path of each one's bare wasm, before it is bound.
///
/// `tell` gets every line that cargo writes, progress included.
///
/// # Errors
/// When it does not compile: the error is the compiler's text.
pub(crate) fn build_page(profile: Profile, names: &[&str], tell: &mut dyn FnMut(&str)) -> Result<Vec<PathBuf>> {
    let mut command = cargo();
    command
        .args(["build", "--package", PAGE, "--target", WASM, "--message-format", "json-render-diagnostics"])
        .args(names.iter().flat_map(|name| ["--bin", name]))
        .env("CARGO_TERM_PROGRESS_WHEN", "always")
        .env("CARGO_TERM_PROGRESS_WIDTH", "100")
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    if profile == Profile::Release {
        command.args(["--release", "--locked"]).env("RUSTFLAGS", without_paths());
    }
    let mut child = command.spawn().context("cargo does not start")?;
    let (Some(stdout), Some(stderr)) = (child.stdout.take(), child.stderr.take()) else {
        bail!("cargo has no output to read");
    };
    let artifacts = thread::spawn(move || find_artifacts(stdout));
    let mut said = Vec::new();
    for_each_line(stderr, &mut |line| {
        tell(line);
        if !is_progress(line) {
            said.push(line.to_owned());
        }
    });
    if !child.wait()?.success() {
        bail!("{}", said.join("\n"));
    }
    let built = artifacts.join().unwrap_or_default();
    names.iter().map(|name| built.get(*name).cloned().with_context(|| format!("cargo built no {name}.wasm"))).collect()
}

/// Flags that keep the folders of this machine out of what is shipped: where packages lie is nobody's business, and the
/// same source makes the same bytes elsewhere.
pub(crate) fn without_paths() -> String {
    let home = env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| env::var_os("HOME").map(|home| PathBuf::from(home).join(".cargo")));
    let folders = home.into_iter().chain([folders::root()]);
    folders.map(|folder| format!("--remap-path-prefix={}=.", folder.display())).collect::<Vec<_>>().join(" ")
}

/// Whether a line of cargo's only says how far it is.
pub(crate) fn is_progress(line: &str) -> bool {
    // Cargo sets its verb off to the right, and the compiler's text starts at the left.
    const VERBS: [&str; 9] = [
        "Compiling ",
        "Building ",
        "Checking ",
        "Fresh ",
        "Finished ",
        "Blocking ",
        "Downloading ",
        "Downloaded ",
        "Updating ",
    ];
    line.is_empty() || (line.starts_with(' ') && VERBS.iter().any(|verb| line.trim_start().starts_with(verb)))
}

/// Cuts what comes at `\n` and at `\r`, with which cargo writes its progress over itself.
fn for_each_line(from: impl Read, tell: &mut dyn FnMut(&str)) {
    let mut line = Vec::new();
    for byte in BufReader::new(from).bytes().map_while(Result::ok) {
        if byte == b'\n' || byte == b'\r' {
            tell(String::from_utf8_lossy(&line).trim_end());
            line.clear();
        } else {
            line.push(byte);
        }
    }
}

/// The wasm files that cargo tells of, by the names of their programs.
fn find_artifacts(stdout: impl Read) -> BTreeMap<String, PathBuf> {
    let mut found = BTreeMap::new();
    for line in BufReader::new(stdout).lines().map_while(Result::ok) {
        let Ok(message) = serde_json::from_str::<Value>(&line) else { continue };
        if message["reason"] != "compiler-artifact" || message["target"]["kind"] != json!(["bin"]) {
            continue;
        }
        let mut files = message["filenames"].as_array().into_iter().flatten().filter_map(Value::as_str);
        if let (Some(name), Some(file)) =
            (message["target"]["name"].as_str(), files.rfind(|file| file.ends_with(".wasm")))
        {
            found.insert(name.to_owned(), PathBuf::from(file));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_end_where_progress_is_overwritten() {
        let mut lines = Vec::new();
        for_each_line(&b"   Compiling a\r    Building 1/2\n"[..], &mut |line| lines.push(line.to_owned()));
        assert_eq!(lines, ["   Compiling a", "    Building 1/2"]);
    }

    #[test]
    fn each_program_is_found_by_its_name() {
        let told = [("bin", "start", "/t/start.wasm"), ("lib", "run", "/t/librun.rlib"), ("bin", "run", "/t/run.wasm")];
        let told = told.map(|(kind, name, file)| {
            let target = json!({ "kind": [kind], "name": name });
            format!("{}\n", json!({ "reason": "compiler-artifact", "target": target, "filenames": [file] }))
        });
        let found = find_artifacts(told.concat().as_bytes());
        let found: Vec<_> = found.iter().map(|(name, file)| (name.as_str(), file.to_str().unwrap())).collect();
        assert_eq!(found, [("run", "/t/run.wasm"), ("start", "/t/start.wasm")]);
    }

    #[test]
    fn compiler_text_is_not_taken_for_progress() {
        assert!(is_progress("   Compiling yew v0.23.0"));
        assert!(!is_progress("error[E0308]: mismatched types"));
        assert!(!is_progress("   |     ^^^ Compiling this"));
    }
}
