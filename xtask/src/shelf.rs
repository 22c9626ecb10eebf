//! A finished site as a server's house.

use crate::{
    server::{Answer, House, kind_of},
    site::{PAGE, Site},
};

/// Serves a site that does not change.
#[derive(Clone, Debug)]
pub(crate) struct Shelf(pub(crate) Site);

impl House for Shelf {
    fn at(&self, address: &str, takes_brotli: bool) -> Answer {
        take(&self.0, address, takes_brotli)
    }
}

/// The file of a site at an address, packed when the site has it packed and the browser takes it.
pub(crate) fn take(site: &Site, address: &str, takes_brotli: bool) -> Answer {
    let address = if address.is_empty() { PAGE } else { address };
    let kind = kind_of(address);
    let packed = takes_brotli.then(|| site.get(&format!("{address}.br"))).flatten();
    match packed.or_else(|| site.get(address)) {
        Some(bytes) => Answer::File { bytes: bytes.clone(), kind, brotli: packed.is_some() },
        None => Answer::Missing,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site() -> Site {
        Site::from(
            [("index.html", "page"), ("app.js", "plain"), ("app.js.br", "packed")]
                .map(|(a, b)| (a.to_owned(), b.into())),
        )
    }

    #[test]
    fn only_what_is_in_the_site_is_found() {
        assert!(matches!(take(&site(), "", false), Answer::File { kind: "text/html; charset=utf-8", .. }));
        for address in ["../Cargo.toml", "..", "%2e%2e/app.js", "./app.js", "/app.js", "app.js/"] {
            assert!(matches!(take(&site(), address, true), Answer::Missing), "{address}");
        }
    }

    #[test]
    fn packed_files_go_to_browsers_that_open_them() {
        let Answer::File { bytes, kind, brotli: true } = take(&site(), "app.js", true) else { panic!("not packed") };
        assert_eq!((bytes.as_slice(), kind), (&b"packed"[..], "text/javascript; charset=utf-8"));
        assert!(matches!(take(&site(), "app.js", false), Answer::File { brotli: false, .. }));
    }
}
