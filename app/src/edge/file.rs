//! Files in and out, without a server.

use js_sys::Array;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::{Blob, BlobPropertyBag, File, HtmlAnchorElement, Url};

/// Offers `text` as a file to save, of the kind that its name says.
pub(crate) fn save(name: &str, text: &str) -> Result<(), JsValue> {
    let kind = BlobPropertyBag::new();
    kind.set_type(if name.ends_with(".txt") { "text/plain" } else { "application/json" });
    let blob = Blob::new_with_str_sequence_and_options(&Array::of1(&text.into()), &kind)?;
    let address = Url::create_object_url_with_blob(&blob)?;
    let document = web_sys::window().and_then(|window| window.document()).ok_or(JsValue::NULL)?;
    let link: HtmlAnchorElement = document.create_element("a")?.unchecked_into();
    link.set_href(&address);
    link.set_download(name);
    link.click();
    Url::revoke_object_url(&address)
}

/// Why a file could not be read.
pub(crate) enum Unread {
    /// More bytes than allowed; how many it has.
    TooLarge(u64),
    /// The browser could not read it.
    Failed,
}

/// The text of a file of at most `most` bytes; a larger one is not even opened.
pub(crate) async fn read(file: &File, most: usize) -> Result<String, Unread> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a size is a whole number of bytes")]
    let size = file.size() as u64;
    if size > most as u64 {
        return Err(Unread::TooLarge(size));
    }
    let text = JsFuture::from(file.text()).await.map_err(|_| Unread::Failed)?;
    text.as_string().ok_or(Unread::Failed)
}
