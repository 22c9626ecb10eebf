//! The rules and the arithmetic of the hooded taste test.
