//! Whether the browser may clear what is kept when room runs out.
//!
//! Where it does not say, as at an address that is not secure, it may.

use js_sys::Promise;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;
use web_sys::StorageManager;

/// Asks it not to. Some browsers ask whoever sits there, so this is for when there is something to lose.
pub(crate) async fn ask_to_stay() {
    answer(StorageManager::persist).await;
}

/// Whether it has promised not to.
pub(crate) async fn is_to_stay() -> bool {
    answer(StorageManager::persisted).await
}

async fn answer(question: fn(&StorageManager) -> Result<Promise, JsValue>) -> bool {
    let Some(window) = web_sys::window() else { return false };
    let Ok(promise) = question(&window.navigator().storage()) else { return false };
    JsFuture::from(promise).await.is_ok_and(|answer| answer.is_truthy())
}
