//! Another language with a gap, a word too many or a placeholder that differs does not build, and the error names file
//! and key.

#[expect(clippy::print_stdout, reason = "a build script speaks to cargo on the standard output")]
#[path = "../build/faults.rs"]
mod faults;
#[path = "../build/names.rs"]
mod names;
#[path = "../build/words.rs"]
mod words;

use faults::Faults;
use std::{fs, path::PathBuf};

const ENGLISH: [(&str, &str); 2] =
    [("ui.toml", "[ui.a]\nb = \"One of {all}\"\nc = \"Two\"\n"), ("acts.toml", "[act]\nd = \"Three\"\n")];

/// What is found in a folder with these English files and those of another language.
fn found(name: &str, other: &[(&str, &str)]) -> Vec<String> {
    let folder = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    for (tag, files) in [("en", &ENGLISH[..]), ("xx", other)] {
        let folder = folder.join(tag);
        fs::create_dir_all(&folder).expect("the folder for the test's files is writable");
        for (file, text) in files {
            fs::write(folder.join(file), text).expect("the folder for the test's files is writable");
        }
    }
    let mut faults = Faults::default();
    let _ = words::generate(&folder, &mut faults);
    assert_eq!(faults.report(), !faults.0.is_empty());
    let here = format!("{}/", folder.display());
    faults.0.iter().map(|fault| fault.replace(&here, "")).collect()
}

#[test]
fn the_same_keys_and_placeholders_are_no_fault() {
    let other = [("ui.toml", "[ui.a]\nb = \"{all}: uno\"\nc = \"Dos\"\n"), ("acts.toml", "[act]\nd = \"Tres\"\n")];
    assert_eq!(found("equal", &other), [""; 0]);
}

#[test]
fn a_gap_is_named_by_file_and_key_with_the_english_text() {
    let other = [("ui.toml", "[ui.a]\nb = \"{all}: uno\"\n"), ("acts.toml", "[act]\nd = \"Tres\"\n")];
    assert_eq!(found("gap", &other), ["xx/ui.toml: `ui.a.c` is missing; in English it is \"Two\""]);
}

#[test]
fn a_whole_file_too_few_is_told_key_by_key() {
    let other = [("ui.toml", "[ui.a]\nb = \"{all}: uno\"\nc = \"Dos\"\n")];
    assert_eq!(found("file", &other), ["xx/acts.toml: `act.d` is missing; in English it is \"Three\""]);
}

#[test]
fn a_placeholder_that_differs_is_named() {
    let other = [("ui.toml", "[ui.a]\nb = \"Uno de {todos}\"\nc = \"Dos\"\n"), ("acts.toml", "[act]\nd = \"Tres\"\n")];
    assert_eq!(
        found("placeholder", &other),
        ["xx/ui.toml: `ui.a.b` has the placeholders [\"todos\"], and in English [\"all\"]"]
    );
}

#[test]
fn a_key_too_many_an_empty_text_and_a_wrong_file_are_named() {
    let other = [
        ("ui.toml", "[ui.a]\nb = \"{all}: uno\"\nc = \" \"\nx = \"Nada\"\n[act]\nd = \"Tres\"\n"),
        ("acts.toml", "# Nothing here.\n"),
    ];
    assert_eq!(
        found("more", &other),
        [
            "xx/ui.toml: `ui.a.c` is empty",
            "xx/ui.toml: `act.d` belongs into acts.toml, where the English text stands",
            "xx/ui.toml: `ui.a.c` is missing; in English it is \"Two\"",
            "xx/ui.toml: `ui.a.x` is not among the English words",
        ]
    );
}
