//! Nothing of its own: the package exists for its one test binary.
