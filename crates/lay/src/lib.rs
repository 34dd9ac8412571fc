//! Where every stone goes.
//!
//! A [`Piece`] (a blank and its zones) comes in, a [`PieceLay`] comes out: every stone with its
//! place, row and kind, what is still bare, and [`Finding`]s about it. One direction:
//! zone → seats (an [`Arrangement`] says where) → kinds (a [`Colouring`] says which) → [`Change`]s by
//! hand → fillers → checks. Lengths are millimetres, y up. This crate knows nothing of money, pages, files or time.
//!
//! | need | item |
//! |---|---|
//! | lay a whole piece | [`lay_piece()`] |
//! | how many stones a hand sets without a sheet | [`by_hand()`], [`HandCounts`], [`HandTrial`] |
//! | what comes in | [`Piece`], [`Zone`], [`MixPart`], [`Arrangement`], [`Colouring`] |
//! | what the maker changes by hand | [`Change`] |
//! | what comes out | [`PieceLay`], [`ZoneLay`], [`Stone`], [`BareSpot`] |
//! | what lies on the shelf | [`Kind`], [`sizes`] |
//! | a place on a piece | [`Place`], [`Chart`] |
//! | something worth knowing | [`Finding`], [`finding::PAGES`] |
//! | progress and stopping | [`Watch`], [`Stopped`] |

mod bare_edge;
mod change;
mod changes;
mod colour;
mod fillers;
pub mod finding;
mod findings;
mod hand;
mod kind;
mod lattice;
mod lay_piece;
mod piece;
mod place;
mod result;
mod rings;
mod scatter;
mod seat;
pub mod sizes;
mod watch;
mod zone_lay;

pub use change::Change;
pub use finding::{Finding, Severity};
pub use hand::{HANDS, HandCounts, HandTrial, SLOPPY, by_hand};
pub use kind::{Colour, Finish, Kind, Shape};
pub use lay_piece::lay_piece;
pub use piece::{
    Along, Arrangement, Colouring, EDGE_OWN, EDGE_SHARED, Gauge, MixPart, Piece, Rings, Rows,
    Scatter, Zone,
};
pub use place::{Chart, Place, rounded};
pub use result::{BareSpot, PieceLay, Stone, ZoneLay};
pub use seat::Seat;
pub use watch::{Stopped, Unwatched, Watch};
pub use zone_lay::{Arranged, arrange, pitch_mm};
