//! The order document and what can be asked of it.
//!
//! | need | item |
//! |---|---|
//! | what a maker writes | [`document`] |
//! | pieces that can be laid | [`order`] |
//! | an order to begin with | [`demo`] |

pub mod demo;
pub mod document;
pub mod order;
