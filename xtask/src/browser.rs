//! Shows an address in the user's browser, where there is one.

use std::{
    env,
    process::{Command, Stdio},
};

/// Opens an address, or does nothing where no window can open.
pub(crate) fn open(url: &str) {
    let mut command = if cfg!(target_os = "macos") {
        Command::new("open")
    } else if cfg!(windows) {
        let mut command = Command::new("cmd");
        command.args(["/C", "start", ""]);
        command
    } else if env::var_os("DISPLAY").is_some() || env::var_os("WAYLAND_DISPLAY").is_some() {
        Command::new("xdg-open")
    } else {
        return;
    };
    // A missing opener is no reason to stop: the address has been printed.
    drop(command.arg(url).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn());
}
