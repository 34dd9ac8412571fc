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
//! | a new piece | [`Desk::add_piece`], [`PieceAsked`] |
//! | lays | [`Desk::lay`], [`Desk::lay_all`], [`Board`] |
//! | plans | [`Desk::plan`], [`Desk::plan_with`], [`Tries`] |
//! | long work, watched | [`Desk::begin_lay`], [`Desk::begin_plan`], [`Job`], [`Progress`] |
//! | setting at the bench | [`bench`], [`Desk::begin_setting`], [`Desk::at_bench`], [`Desk::press`] |
//! | a stone replaced later | [`repair`], [`Desk::repair_place`], [`Desk::repaired`] |
//! | the maker's own rates | [`rates`], [`Desk::rates`] |
//! | the order to begin with | [`Desk::show_demo`], [`Desk::remove_demo`] |
//! | what goes wrong | [`DeskError`] |

pub mod bench;
mod board;
mod demo;
mod entries;
mod error;
mod jobs;
mod lays;
mod opened;
mod orders;
mod pieces;
mod planned;
pub mod rates;
mod recent;
pub mod repair;
mod stones;
mod workshop;

pub use board::{Bare, Board, Columns, KindShown, Part, Spot, StretchShown, kind_shown, mark};
pub use entries::{label, new_entry};
pub use error::DeskError;
pub use jobs::{Job, Laying, Planning, Progress};
pub use opened::Opened;
pub use orders::{Bundle, NewOrder};
pub use pieces::PieceAsked;
pub use planned::Tries;
pub use stones::{NewStone, StoneToPick, quoted};

use crate::bench::Benches;
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
    orders: Recent<RevisionId, Arc<Order>>,
    plans: Recent<planned::PlanKey, Arc<Plan>>,
    layings: Jobs<LaidPiece>,
    plannings: Jobs<Plan>,
    benches: Benches,
    own_rates: rates::Memo,
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
            orders: Recent::new(MOST_ORDERS),
            plans: Recent::new(MOST_PLANS),
            layings: Jobs::default(),
            plannings: Jobs::default(),
            benches: Benches::default(),
            own_rates: rates::Memo::default(),
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
