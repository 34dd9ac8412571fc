//! What is done at the worktop: orders held in the shop, changed, laid, planned, set.
//!
//! The only room that knows both what a document means ([`app`]) and where it is kept ([`shop`]).
//! It knows no HTTP and no SQL. Every call blocks; an asynchronous caller gives it a thread.
//!
//! An order **is** its document's text. A change is a new text, checked whole before it is kept as
//! the next revision; what comes of it (pieces, lays, plans) is worked out from the text, the
//! ledger and the maker's own records, and kept in memory only.
//!
//! | need | item |
//! |---|---|
//! | begin | [`Desk::new`], [`Desk::shop`], [`Desk::today`] |
//! | orders | [`Desk::new_order`], [`Desk::import`], [`Desk::export`], [`Desk::open`], [`Opened`] |
//! | the workshop's own document | [`Desk::workshop`] |
//! | changes | [`Desk::change`], [`Desk::replace`], [`Desk::undo`], [`Desk::redo`] |
//! | stones to pick, a new one | [`Desk::stones_to_pick`], [`Desk::new_stone`], [`NewStone`] |
//! | an entry to begin with, a name for people | [`new_entry`], [`label`] |
//! | stones set, taken away, recoloured | [`Desk::by_hand`], [`HandOp`] |
//! | a new piece | [`Desk::add_piece`], [`PieceAsked`] |
//! | lays | [`Desk::lay`], [`Desk::lay_all`], [`Board`] |
//! | plans | [`Desk::plan`], [`Desk::plan_with`], [`Tries`] |
//! | long work, watched | [`Desk::begin_lay`], [`Desk::begin_plan`], [`Job`], [`Progress`] |
//! | the shelf, what runs short | [`Desk::shelf`], [`ShelfAsked`], [`Shelf`], [`Desk::shelf_stone`], [`Desk::set_level`], [`Desk::begin_counting`] |
//! | stones that come and go | [`Desk::move_stones`], [`StonesMoved`], [`Desk::rename_stone`] |
//! | stones kept for an order | [`Desk::wanted`], [`Wanted`], [`Desk::one_lot`], [`OneLot`], [`Desk::reserve_from_one_lot`] |
//! | counting on a scale | [`weigh()`], [`Weighed`], [`WeighedCount`] |
//! | the shelf as a table | [`Desk::shelf_table`], [`Desk::read_shelf_table`], [`Desk::take_shelf_table`] |
//! | what an order and the workshop have from each other | [`Desk::offer`], [`Desk::take_offer`], [`Desk::differing`], [`Desk::learn`], [`Desk::refresh`] |
//! | the order to begin with | [`Desk::show_demo`], [`Desk::remove_demo`] |
//! | what goes wrong | [`DeskError`] |

mod board;
mod bounded;
mod by_hand;
mod demo;
mod entries;
mod error;
mod jobs;
mod lays;
mod moves;
mod needs;
mod offers;
mod opened;
mod orders;
mod pieces;
mod planned;
mod recent;
mod rename;
mod reserve;
mod shelf;
mod stones;
mod tables;
mod weigh;
mod workshop;

pub use board::{Bare, Board, Columns, KindShown, Part, Spot, StretchShown, kind_shown, mark};
pub use by_hand::HandOp;
pub use entries::{label, new_entry};
pub use error::DeskError;
pub use jobs::{Job, Laying, Planning, Progress};
pub use moves::{MoveSort, StonesMoved};
pub use offers::Offer;
pub use opened::Opened;
pub use orders::{Bundle, NewOrder};
pub use pieces::PieceAsked;
pub use planned::Tries;
pub use reserve::{OneLot, Wanted};
pub use shelf::{KnownStone, Shelf, ShelfAsked, ShelfBy, ShelfLot, ShelfStone};
pub use stones::{NewStone, StoneToPick, quoted};
pub use tables::CountedRow;
pub use weigh::{Weighed, WeighedCount, WeighedSample, weigh};

use app::laying::LaidPiece;
use app::order::Order;
use app::plan::Plan;
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use jobs::Jobs;
use lays::Lays;
use recent::Recent;
use shop::{Clock, RevisionId, Shop};
use std::sync::Arc;

/// The desk: a shop, and what was worked out of it last.
pub struct Desk {
    shop: Arc<Shop>,
    clock: Arc<dyn Clock>,
    zone: TimeZone,
    lays: Lays,
    counted: needs::Counted,
    orders: Recent<RevisionId, Arc<Order>>,
    plans: Recent<planned::PlanKey, Arc<Plan>>,
    layings: Jobs<LaidPiece>,
    plannings: Jobs<Plan>,
}

/// So many opened orders are kept.
const MOST_ORDERS: usize = 100;
/// So many plans are kept.
const MOST_PLANS: usize = 100;

impl Desk {
    /// Over a shop, in the workshop's time zone. Makes the workshop's document if there is none.
    ///
    /// # Errors
    /// The shop's.
    pub fn new(shop: Arc<Shop>, clock: Arc<dyn Clock>, zone: TimeZone) -> Result<Desk, DeskError> {
        let desk = Desk {
            shop,
            clock,
            zone,
            lays: Lays::default(),
            counted: needs::Counted::default(),
            orders: Recent::new(MOST_ORDERS),
            plans: Recent::new(MOST_PLANS),
            layings: Jobs::default(),
            plannings: Jobs::default(),
        };
        desk.workshop()?;
        Ok(desk)
    }

    /// The shop itself, for what needs no more than that.
    pub fn shop(&self) -> &Arc<Shop> {
        &self.shop
    }

    /// Today, where the workshop is.
    pub fn today(&self) -> Date {
        self.local(self.clock.wall_ms()).date()
    }

    /// A time of the shop's, milliseconds since 1970 in UTC, as it was where the workshop is.
    pub fn local(&self, at_ms: i64) -> jiff::civil::DateTime {
        self.zone.to_datetime(Timestamp::from_millisecond(at_ms).unwrap_or(Timestamp::UNIX_EPOCH))
    }
}
