//! The content security policy, once: the page carries it as its first `meta` and our server sends it as a header.
//!
//! Nothing in it needs a header (no `frame-ancestors`, no reporting), so that the page is as safe on a host where
//! headers cannot be set.

/// Only what lies beside the page may be fetched or run, and no text may become code: the one Trusted Types policy
/// allowed is `app`, which `static/offline.js` makes.
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
     img-src 'self'; connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; \
     form-action 'none'; require-trusted-types-for 'script'; trusted-types app";

/// The policy as the element that must come first in `head`.
pub(crate) fn meta() -> String {
    format!("<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn policy_fits_into_an_attribute_and_a_header() {
        assert!(!POLICY.contains(['"', '<', '\n', '\r']) && POLICY.is_ascii());
    }

    #[test]
    fn policy_names_nothing_that_a_meta_element_ignores() {
        for ignored in ["frame-ancestors", "sandbox", "report-"] {
            assert!(!POLICY.contains(ignored), "{ignored}");
        }
    }

    #[test]
    fn every_kind_of_fetch_is_forbidden_unless_it_is_named() {
        assert!(POLICY.starts_with("default-src 'none';"));
        assert!(!POLICY.contains("unsafe-inline") && !POLICY.contains("data:") && !POLICY.contains('*'));
    }
}
