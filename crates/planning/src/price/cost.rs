//! Costs before they are rounded.
