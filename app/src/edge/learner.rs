//! Which learner a window is for: as chosen in it, else as chosen last on this device.

use super::address::folder;
use web_sys::Storage;

fn key() -> String {
    format!("bittersweet:{}:learner", folder())
}

/// The window's own memory, then the device's. Where there is none, the first learner it is.
fn memories() -> impl Iterator<Item = Storage> {
    let window = web_sys::window();
    let own = window.as_ref().and_then(|window| window.session_storage().ok()?);
    let device = window.and_then(|window| window.local_storage().ok()?);
    own.into_iter().chain(device)
}

/// The id of the learner who was chosen; empty for the first.
pub(crate) fn chosen() -> String {
    memories().find_map(|memory| memory.get_item(&key()).ok()?).unwrap_or_default()
}

/// Remembers who was chosen.
pub(crate) fn choose(id: &str) {
    for memory in memories() {
        // What cannot be remembered is chosen again next time.
        let _ = memory.set_item(&key(), id);
    }
}
