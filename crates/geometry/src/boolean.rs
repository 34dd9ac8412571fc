//! Inset, outset and the boolean operations.
