//! What keeps the page for use without a network, and what lets it be installed: the list in the service worker, and the
//! web manifest of each language.

use crate::site::{PAGE, Site};
use base64::prelude::{BASE64_STANDARD, Engine as _};
use serde_json::json;
use sha2::{Digest as _, Sha256};
use std::collections::BTreeMap;

/// The service worker: the one name that never changes, since browsers ask for it again to find a newer version.
pub(crate) const WORKER: &str = "sw.js";

/// The icons that a manifest names: file, size, kind, purpose.
const ICONS: [(&str, &str, &str, &str); 4] = [
    ("icon-192.png", "192x192", "image/png", "any"),
    ("icon-512.png", "512x512", "image/png", "any"),
    ("icon-maskable.png", "512x512", "image/png", "maskable"),
    ("icon.svg", "any", "image/svg+xml", "any"),
];

/// The worker with its list: every part of the site by its address, with the hash that the browser holds it against.
pub(crate) fn worker(source: &str, version: &str, site: &Site) -> String {
    // A host that sends browsers from `index.html` to its folder would spoil the page that is kept under that name.
    let address = |address: &str| if address == PAGE { "./".to_owned() } else { address.to_owned() };
    let parts: BTreeMap<_, _> = site.iter().map(|(part, bytes)| (address(part), integrity(bytes))).collect();
    format!("const SITE = {};\n{source}", json!({ "version": version, "parts": parts }))
}

/// The manifest of a language. It names no id, so that each folder of a host is a page of its own.
pub(crate) fn manifest(tag: &str, texts: &BTreeMap<String, String>, named: &BTreeMap<String, String>) -> String {
    let icons = ICONS.iter().filter_map(|(file, sizes, kind, purpose)| {
        Some(json!({ "src": named.get(*file)?, "sizes": sizes, "type": kind, "purpose": purpose }))
    });
    json!({
        "name": "Bittersweet", "short_name": "Bittersweet", "description": texts.get("description"),
        "lang": tag, "dir": "ltr", "start_url": "./", "scope": "./", "display": "standalone",
        "background_color": "#fbfaf7", "theme_color": "#fbfaf7", "icons": icons.collect::<Vec<_>>(),
    })
    .to_string()
}

/// A file's hash, in the form of subresource integrity.
fn integrity(bytes: &[u8]) -> String {
    format!("sha256-{}", BASE64_STANDARD.encode(Sha256::digest(bytes)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::Value;

    /// The hash of `alert('Hello, world.');` in the W3C recommendation "Subresource Integrity", section 3.1, as SHA-256.
    #[test]
    fn integrity_is_that_of_its_standard() {
        assert_eq!(integrity(b"alert('Hello, world.');"), "sha256-qznLcsROx4GACP2dm0UCKCzCG+HiZ1guq6ZZDob/Tng=");
    }

    #[test]
    fn the_worker_lists_every_part_but_itself_and_the_page_by_its_folder() {
        let site = Site::from([(PAGE.to_owned(), b"page".to_vec()), ("a/b.json".to_owned(), b"{}".to_vec())]);
        let worker = worker("go();", "1", &site);
        let (list, rest) = worker.split_once(";\n").unwrap();
        let list: Value = serde_json::from_str(list.strip_prefix("const SITE = ").unwrap()).unwrap();
        assert_eq!((rest, &list["version"]), ("go();", &json!("1")));
        let parts: Vec<_> = list["parts"].as_object().unwrap().keys().map(String::as_str).collect();
        assert_eq!(parts, ["./", "a/b.json"]);
    }

    #[test]
    fn every_icon_of_the_manifest_lies_in_the_site() {
        let named = ICONS.iter().map(|(file, ..)| ((*file).to_owned(), format!("named-{file}"))).collect();
        let manifest: Value = serde_json::from_str(&manifest("es", &BTreeMap::new(), &named)).unwrap();
        assert_eq!(manifest["icons"].as_array().unwrap().len(), ICONS.len());
        assert_eq!(manifest["icons"][0]["src"], json!("named-icon-192.png"));
        let folder = crate::folders::root().join("static");
        for (file, ..) in ICONS {
            assert!(folder.join(file).is_file(), "{file}");
        }
    }
}
