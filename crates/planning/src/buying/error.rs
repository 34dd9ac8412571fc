//! Why a market was refused.

use rust_decimal::Decimal;
use thiserror::Error;

/// What is wrong with a market.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BadMarket {
    /// A place in a list that the list does not have.
    #[error("{what} names {list} number {index}, which there is not")]
    NoSuch {
        /// What names it.
        what: String,
        /// Which list.
        list: &'static str,
        /// The place, from 0.
        index: usize,
    },
    /// A pack without stones.
    #[error("a pack of `{kind}` at `{supplier}` holds no stone")]
    EmptyPack {
        /// The supplier.
        supplier: String,
        /// The kind.
        kind: String,
    },
    /// A price, charge or limit below 0, above the limit, or with too many decimals.
    #[error(
        "{what} is out of range: {value} (0 to {}, at most {} decimals)",
        MAX_PRICE,
        MAX_DECIMALS
    )]
    Price {
        /// Whose price.
        what: String,
        /// The price.
        value: Decimal,
    },
    /// More stones than can be reckoned with.
    #[error("{what} is out of range: {stones} stones (at most {})", MAX_STONES)]
    TooMany {
        /// Which count.
        what: String,
        /// The count.
        stones: u64,
    },
    /// Breaks that do not rise in packs and fall in price.
    #[error(
        "the price break of `{kind}` at `{supplier}` from {packs} packs on is not cheaper than fewer packs"
    )]
    BreakDearer {
        /// The supplier.
        supplier: String,
        /// The kind.
        kind: String,
        /// The packs from which the break holds.
        packs: u64,
    },
    /// More stones reserved than there are.
    #[error("of `{kind}` {reserved} stones are reserved, but only {stones} lie on the shelf")]
    Reserved {
        /// The kind.
        kind: String,
        /// Stones reserved.
        reserved: u64,
        /// Stones on the shelf.
        stones: u64,
    },
    /// More suppliers than can be told apart.
    #[error("{count} suppliers: at most {} can be compared", MAX_SUPPLIERS)]
    Suppliers {
        /// How many.
        count: usize,
    },
}

/// Largest price; far above what a pack of stones costs.
pub(super) const MAX_PRICE: u32 = 1_000_000;
/// Most decimals of a price.
pub(super) const MAX_DECIMALS: u32 = 6;
/// Most stones of one kind.
pub(super) const MAX_STONES: u64 = 10_000_000;
/// Most suppliers.
pub(super) const MAX_SUPPLIERS: usize = 64;
