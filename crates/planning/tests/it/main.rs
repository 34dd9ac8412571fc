//! Laws of buying, and colours against published pairs.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod buying;
mod colour_pairs;
