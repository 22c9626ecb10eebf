//! Packs a file as the two encodings that hosts can send as they lie.

use anyhow::Result;
use std::io::Write as _;

/// As small as gzip gets.
///
/// # Errors
/// Never, as long as memory lasts.
pub(crate) fn gzip(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}

/// As small as brotli gets (quality 11).
///
/// # Errors
/// Never, as long as memory lasts.
pub(crate) fn brotli(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut packed = Vec::new();
    let params = brotli::enc::BrotliEncoderParams { quality: 11, size_hint: bytes.len(), ..Default::default() };
    brotli::BrotliCompress(&mut &*bytes, &mut packed, &params)?;
    Ok(packed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Read as _;

    const TEXT: &[u8] = b"squeeze, squeeze, squeeze, squeeze, squeeze, squeeze, squeeze, squeeze";

    #[test]
    fn gzip_opens_to_what_went_in() {
        let mut opened = Vec::new();
        flate2::read::GzDecoder::new(&*gzip(TEXT).unwrap()).read_to_end(&mut opened).unwrap();
        assert_eq!(opened, TEXT);
    }

    #[test]
    fn brotli_opens_to_what_went_in_and_is_the_smaller() {
        let packed = brotli(TEXT).unwrap();
        let mut opened = Vec::new();
        brotli::BrotliDecompress(&mut &*packed, &mut opened).unwrap();
        assert_eq!(opened, TEXT);
        assert!(packed.len() < gzip(TEXT).unwrap().len());
    }
}
