//! What adhesives are, how long they stay usable, and how much is needed.
//!
//! The sorts and their usual values stand in [`AdhesiveSort`], each with its grade; a label's own
//! values win. All of this defers to the label and the safety sheet of the product in hand.

mod amount;
mod label;
mod room;
mod sort;
#[cfg(test)]
mod tests;

pub use amount::{
    Amount, Apply, Parts, Section, USUAL_FILM_MM, bead_ml, dot_ul, film_ml, usual_bead_mm,
};
pub use label::{Adhesive, Container, Facts, Label, LabelError, RatioBy, TwoPart};
pub use room::{
    Room, STATED_AT_C, STATED_FOR_G, batch_factor, film_factor, mass_factor, open_min, pot_min,
};
pub use sort::{AdhesiveSort, DENSITY_A, DENSITY_B, Grade, PIGMENT, SortValues, Usual};
pub use units::Ratio;
