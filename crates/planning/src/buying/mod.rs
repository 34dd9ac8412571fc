//! What to buy: the cheapest purchase that covers what is wanted by the date.
//!
//! | need | item |
//! |---|---|
//! | what is wanted, what there is, who sells | [`Market`] and its parts |
//! | the purchase | [`buy`], [`Purchase`] |
//! | why a market was refused | [`BadMarket`] |

mod error;
mod market;
mod purchase;

pub use error::BadMarket;
pub use market::{Break, Market, Offer, Stock, Supplier, Tolerance, Use, Want};
pub use purchase::{
    CopyLots, Delivery, KindCover, Leftover, Line, LotPart, PieceLots, Proof, Purchase, Shortage,
    StandInUse, StockUse,
};
