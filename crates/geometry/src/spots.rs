//! The largest empty circles.
