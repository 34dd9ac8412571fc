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
//! | an entry to begin with, a name for people | [`new_entry`], [`detail`], [`label`] |
//! | stones set, taken away, recoloured | [`Desk::by_hand`], [`HandOp`] |
//! | a new piece | [`Desk::add_piece`], [`PieceAsked`] |
//! | lays | [`Desk::lay`], [`Desk::lay_all`], [`Desk::board`], [`Board`] |
//! | a piece as files | [`Desk::piece_file`], [`PieceFile`] |
//! | papers as PDF | [`Desk::paper`], [`Printable`], [`PrintedPaper`], [`Desk::set_printing`], [`Printing`] |
//! | plans | [`Desk::plan`], [`Desk::plan_with`], [`Tries`] |
//! | other figures, beside those that stand | [`Beside`], [`Tries::changes`], [`Desk::keep_tries`] |
//! | one piece in several ways | [`Desk::compare`], [`CompareAsked`], [`Comparison`], [`Way`], [`Desk::take_way`] |
//! | what was bought, what is kept for an order | [`Desk::arrived`], [`Desk::hold`], [`Desk::release`] |
//! | the quote, and the customer's yes | [`Desk::quote`], [`Quote`], [`Desk::say_yes`], [`Desk::approval_state`], [`ApprovalState`] |
//! | long work, watched | [`Desk::begin_lay`], [`Desk::begin_plan`], [`Desk::begin_tries`], [`Job`], [`Progress`] |
//! | the shelf, what runs short | [`Desk::shelf`], [`ShelfAsked`], [`Shelf`], [`Desk::shelf_stone`], [`Desk::set_level`], [`Desk::begin_counting`] |
//! | stones that come and go | [`Desk::move_stones`], [`StonesMoved`], [`Desk::rename_stone`] |
//! | counting on a scale | [`Desk::weigh`], [`Weighed`], [`WeighedCount`] |
//! | the shelf as a table | [`Desk::shelf_table`], [`Desk::read_shelf_table`], [`Desk::take_shelf_table`] |
//! | what an order and the workshop have from each other | [`Desk::offer`], [`Desk::take_offer`], [`Desk::differing`], [`Desk::learn`], [`Desk::refresh`] |
//! | setting at the bench | [`mod@bench`], [`Desk::begin_setting`], [`Desk::at_bench`], [`Desk::press`] |
//! | a stone replaced later | [`repair`], [`Desk::repair_place`], [`Desk::repaired`] |
//! | the maker's own rates | [`rates`], [`Desk::rates`] |
//! | the order to begin with | [`Desk::show_demo`], [`Desk::remove_demo`] |
//! | what goes wrong | [`DeskError`] |

mod approval;
pub mod bench;
mod beside;
mod board;
mod bounded;
mod buying;
mod by_hand;
mod compare;
mod demo;
mod entries;
mod error;
mod files;
mod jobs;
mod lays;
mod moves;
mod needs;
mod offers;
mod opened;
mod orders;
mod papers;
mod pieces;
mod planned;
mod quote;
pub mod rates;
mod recent;
mod rename;
pub mod repair;
mod shelf;
mod stones;
mod tables;
mod ways;
mod weigh;
mod workshop;

pub use approval::{ApprovalState, NewYes, Withdrawn, Yes};
pub use beside::Beside;
pub use board::{Bare, Board, Columns, KindShown, Part, Spot, StretchShown, kind_shown};
pub use buying::{Arrived, Holding};
pub use by_hand::HandOp;
pub use compare::{Candidate, CandidateFigures, CompareAsked, Comparison, MOST_WAYS};
pub use drawing::mark;
pub use entries::{detail, label, new_entry};
pub use error::DeskError;
pub use files::PieceFile;
pub use jobs::{Comparing, Job, Laying, Planning, Progress};
pub use moves::{MoveSort, StonesMoved};
pub use offers::Offer;
pub use opened::Opened;
pub use orders::{Bundle, NewOrder};
pub use paper::OrderPaper;
pub use papers::{Printable, PrintedPaper, Printing, notations};
pub use pieces::PieceAsked;
pub use planned::Tries;
pub use quote::{Quote, QuoteWords, QuotedPiece};
pub use shelf::{KnownStone, Shelf, ShelfAsked, ShelfBy, ShelfLot, ShelfStone};
pub use stones::{NewStone, StoneToPick, quoted};
pub use tables::CountedRow;
pub use ways::{LAID, Laid, Way};
pub use weigh::{Weighed, WeighedCount, WeighedSample};

use crate::bench::Benches;
use app::laying::LaidPiece;
use app::order::Order;
use app::plan::Plan;
use compare::ComparisonKey;
use jiff::{Timestamp, civil::Date, tz::TimeZone};
use jobs::Jobs;
use lays::Lays;
use recent::Recent;
use shop::{Clock, DocumentId, RevisionId, Shop};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

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
    tryings: Jobs<Plan>,
    comparings: Jobs<Comparison>,
    hashes: Recent<[u8; 32], String>,
    tried: Recent<(DocumentId, [u8; 32]), Arc<Order>>,
    comparisons: Recent<ComparisonKey, Arc<Comparison>>,
    benches: Benches,
    own_rates: rates::Memo,
    /// One picture or paper is made at a time: each may take hundreds of megabytes.
    press: Mutex<()>,
}

/// So many opened orders are kept.
const MOST_ORDERS: usize = 100;
/// So many plans are kept.
const MOST_PLANS: usize = 100;
/// So many comparisons are kept.
const MOST_COMPARISONS: usize = 30;
/// So many hashes of lays are kept.
const MOST_HASHES: usize = 1000;

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
            orders: Recent::of(MOST_ORDERS),
            plans: Recent::of(MOST_PLANS),
            layings: Jobs::default(),
            plannings: Jobs::default(),
            tryings: Jobs::default(),
            comparings: Jobs::default(),
            hashes: Recent::of(MOST_HASHES),
            tried: Recent::of(MOST_ORDERS),
            comparisons: Recent::of(MOST_COMPARISONS),
            benches: Benches::default(),
            own_rates: rates::Memo::default(),
            press: Mutex::default(),
        };
        desk.workshop()?;
        Ok(desk)
    }

    /// The shop itself, for what needs no more than that.
    pub fn shop(&self) -> &Arc<Shop> {
        &self.shop
    }

    /// Waits until no other picture or paper is made.
    fn at_the_press(&self) -> MutexGuard<'_, ()> {
        self.press.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Today, where the workshop is.
    pub fn today(&self) -> Date {
        self.local(self.clock.wall_ms()).date()
    }

    /// A time of the shop's, milliseconds since 1970 in UTC, as it was where the workshop is.
    pub fn local(&self, at_ms: i64) -> jiff::civil::DateTime {
        self.zone.to_datetime(Timestamp::from_millisecond(at_ms).unwrap_or(Timestamp::UNIX_EPOCH))
    }
    /// A time of the shop's, milliseconds since 1970, in UTC.
    pub fn utc(&self, at_ms: i64) -> jiff::civil::DateTime {
        TimeZone::UTC
            .to_datetime(Timestamp::from_millisecond(at_ms).unwrap_or(Timestamp::UNIX_EPOCH))
    }
}
