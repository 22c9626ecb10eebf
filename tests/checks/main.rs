//! One test binary, so that it links once.
