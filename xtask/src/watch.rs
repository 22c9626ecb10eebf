//! Notices when a source of the page has changed.

use crate::folders;
use anyhow::Result;
use notify::{Event, EventKind, RecommendedWatcher, RecursiveMode, Watcher as _, event::ModifyKind};
use std::{
    path::Path,
    sync::mpsc::{self, Receiver},
    time::Duration,
};

/// How long nothing may change before a change counts as finished; editors write a file in several steps.
const QUIET: Duration = Duration::from_millis(100);

/// Watches all that the page is made of.
#[derive(Debug)]
pub(crate) struct Watch {
    changes: Receiver<()>,
    _watcher: RecommendedWatcher,
}

impl Watch {
    /// Starts watching.
    ///
    /// # Errors
    /// When the system cannot watch that many folders.
    pub(crate) fn start() -> Result<Self> {
        let (sender, changes) = mpsc::channel();
        let mut watcher = notify::recommended_watcher(move |event: notify::Result<Event>| {
            if event.is_ok_and(|event| matters(&event)) {
                // Nobody listens any more once the server ends.
                let _ = sender.send(());
            }
        })?;
        let root = folders::root();
        for folder in ["app", "core", "static"] {
            watcher.watch(&root.join(folder), RecursiveMode::Recursive)?;
        }
        // The folder, not the files: an editor may put a new file in the place of the old.
        watcher.watch(&root, RecursiveMode::NonRecursive)?;
        Ok(Self { changes, _watcher: watcher })
    }

    /// Waits until something has changed and all is quiet again. Returns false when nothing is watched any more.
    pub(crate) fn wait(&self) -> bool {
        let changed = self.changes.recv().is_ok();
        while self.changes.recv_timeout(QUIET).is_ok() {}
        changed
    }
}

fn matters(event: &Event) -> bool {
    let kind = match event.kind {
        EventKind::Create(_) | EventKind::Remove(_) => true,
        EventKind::Modify(what) => !matches!(what, ModifyKind::Metadata(_)),
        EventKind::Any | EventKind::Access(_) | EventKind::Other => false,
    };
    kind && event.paths.iter().any(|path| is_source(path, &folders::root()))
}

fn is_source(path: &Path, root: &Path) -> bool {
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else { return false };
    if name.starts_with('.') || name.ends_with('~') {
        return false;
    }
    path.parent() != Some(root) || ["index.html", "Cargo.toml", "Cargo.lock"].contains(&name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_sources_of_the_page_matter() {
        let root = Path::new("/r");
        for path in ["/r/index.html", "/r/Cargo.toml", "/r/app/src/main.rs", "/r/core/data/words/en/ui.toml"] {
            assert!(is_source(Path::new(path), root), "{path}");
        }
        for path in ["/r/README.md", "/r/target", "/r/app/src/.main.rs.swp", "/r/app/src/main.rs~"] {
            assert!(!is_source(Path::new(path), root), "{path}");
        }
    }
}
