//! Stock, and the ledger that it follows from.

use super::extract::{Asked, Body, Given};
use super::operation::Operation;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use desk::StonesMoved;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::{DocumentId, EntryId, LedgerPage, Moved};

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/stock", "stock", "Everything on the shelf, by stone and lot.", stock)
            .gives::<Vec<StockShown>>(),
        Operation::get("/ledger", "ledger", "A page of the ledger, the last line first.", ledger)
            .asks::<Wanted>()
            .gives::<Vec<EntryShown>>(),
        Operation::post("/ledger", "write_ledger", "Writes lines, all or none; the same nonce again is the same line.", write)
            .takes::<Vec<StonesMoved>>(json!([{ "nonce": "example-1", "what": "received", "stone": "sea glass", "lot": "L8", "amount": 10, "packs": true }]))
            .gives::<Vec<EntryShown>>(),
    ]
}

/// Stones of one lot.
#[derive(Serialize, JsonSchema)]
struct StockShown {
    /// Name of the stone.
    stone: String,
    /// The lot; empty for stones without one.
    lot: String,
    /// Stones on the shelf.
    on_hand: i64,
    /// Of these, stones kept for orders.
    reserved: i64,
    /// What one cost when last received, if it is known.
    #[schemars(with = "Option<String>")]
    unit_price: Option<Decimal>,
}

async fn stock(Ask(state): Ask<State>) -> Given<Vec<StockShown>> {
    let rows = state.at_desk(|desk| desk.shop().stock(false)).await?;
    let shown = |s: shop::Stock| StockShown {
        stone: s.stone,
        lot: s.lot,
        on_hand: s.on_hand,
        reserved: s.reserved,
        unit_price: s.unit_price,
    };
    Ok(Json(rows.into_iter().map(shown).collect()))
}

/// What happened to stones.
#[derive(Clone, Copy, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
enum What {
    /// Came in.
    Received,
    /// Kept for an order.
    Reserved,
    /// Not kept any more.
    Released,
    /// Set.
    Used,
    /// Lost or broken.
    Lost,
    /// Counted: so many lie there.
    Counted,
    /// What a removed order had moved, moved back; written by the program only.
    TakenBack,
}

impl From<Moved> for What {
    fn from(moved: Moved) -> What {
        match moved {
            Moved::Received => What::Received,
            Moved::Reserved => What::Reserved,
            Moved::Released => What::Released,
            Moved::Used => What::Used,
            Moved::Lost => What::Lost,
            Moved::Counted => What::Counted,
            Moved::TakenBack => What::TakenBack,
        }
    }
}

/// A line of the ledger.
#[derive(Serialize, JsonSchema)]
pub(super) struct EntryShown {
    /// Its number.
    id: i64,
    /// When it was written, milliseconds since 1970 in UTC.
    at_ms: i64,
    /// What was said.
    #[serde(flatten)]
    line: Line,
    /// Stones of that lot on the shelf after it.
    on_hand_after: i64,
    /// Stones of that lot kept for orders after it.
    reserved_after: i64,
}

/// What a line says.
#[derive(Serialize, JsonSchema)]
struct Line {
    /// Made up by whoever asks, once for each line.
    nonce: String,
    /// What happened.
    what: What,
    /// Name of the stone.
    stone: String,
    /// The lot; empty for stones without one.
    lot: String,
    /// How many.
    stones: i64,
    /// What one cost.
    #[schemars(with = "Option<String>")]
    unit_price: Option<Decimal>,
    /// From whom.
    supplier: Option<String>,
    /// For which order.
    order: Option<i64>,
    /// For which of its pieces.
    piece: Option<String>,
    /// Who did it.
    who: String,
    /// Why.
    why: String,
}

impl From<shop::Entry> for EntryShown {
    fn from(entry: shop::Entry) -> EntryShown {
        let said = entry.said;
        EntryShown {
            id: entry.id.0,
            at_ms: entry.at_ms,
            line: Line {
                nonce: said.nonce,
                what: said.what.into(),
                stone: said.stone,
                lot: said.lot,
                stones: said.stones,
                unit_price: said.unit_price,
                supplier: said.supplier,
                order: said.order.map(|o| o.0),
                piece: said.piece,
                who: said.who,
                why: said.why,
            },
            on_hand_after: entry.on_hand_after,
            reserved_after: entry.reserved_after,
        }
    }
}

/// Which lines.
#[derive(Deserialize, JsonSchema)]
struct Wanted {
    /// Only of this stone.
    stone: Option<String>,
    /// Only of this order.
    order: Option<i64>,
    /// The oldest line of the page before.
    before: Option<i64>,
    /// At most so many, up to 500.
    limit: Option<u32>,
}

async fn ledger(Ask(state): Ask<State>, Asked(wanted): Asked<Wanted>) -> Given<Vec<EntryShown>> {
    let lines = state
        .at_desk(move |desk| {
            desk.shop().ledger(&LedgerPage {
                stone: wanted.stone.as_deref(),
                order: wanted.order.map(DocumentId),
                before: wanted.before.map(EntryId),
                limit: wanted.limit.unwrap_or(50).min(500),
            })
        })
        .await?;
    Ok(Json(lines.into_iter().map(EntryShown::from).collect()))
}

async fn write(
    Ask(state): Ask<State>,
    Body(moves): Body<Vec<StonesMoved>>,
) -> Given<Vec<EntryShown>> {
    let written = state.at_desk(move |desk| desk.move_stones(&moves)).await?;
    state.tell(Told::Shelf);
    Ok(Json(written.into_iter().map(EntryShown::from).collect()))
}
