//! Orders and pieces.

use super::extract::{Asked, At, Body};
use super::operation::Operation;
use super::shown::{BundleShown, DocumentShown, OrderCard};
use crate::problem::Problem;
use crate::state::{State, Told};
use app::edit::Change;
use axum::Json;
use axum::extract::State as Ask;
use desk::{Board, DeskError, HandOp, NewOrder, Opened, PieceAsked};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::{By, DocumentId, RevisionId};

type Given<T> = Result<Json<T>, Problem>;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/orders", "list_orders", "Orders, a page at a time.", list)
            .asks::<Wanted>()
            .gives::<Vec<OrderCard>>(),
        Operation::post("/orders", "begin_order", "Begins an order without pieces.", begin)
            .takes::<NewOrder>(json!({ "name": "Harbour lantern festival, second evening", "due": "2026-12-19" }))
            .gives::<DocumentShown>(),
        Operation::post("/bundles", "bring_order", "Keeps an order that was brought, byte for byte.", bring)
            .takes::<BundleShown>(json!({ "text": "stonelay = 1\norder = \"A pier\"\n", "files": [] }))
            .gives::<DocumentShown>(),
        Operation::get("/orders/{order}", "order", "An order or the workshop's document at its head.", order)
            .gives::<DocumentShown>(),
        Operation::get("/orders/{order}/bundle", "take_order", "An order with the files that it names.", bundle)
            .gives::<BundleShown>(),
        Operation::post("/orders/{order}/changes", "change_order", "Changes an order that stands at a revision.", change)
            .takes::<Changes>(json!({ "from": 2, "changes": [{ "do": "set", "path": "piece.1.margin", "value": "0.6 mm" }] }))
            .gives::<DocumentShown>(),
        Operation::post("/orders/{order}/text", "write_order", "Gives an order another text.", write)
            .takes::<Written>(json!({ "from": 2, "text": "stonelay = 1\norder = \"Harbour lantern festival\"\n" }))
            .gives::<DocumentShown>(),
        Operation::post("/orders/{order}/undo", "undo", "Takes the last change back, if there is one.", undo)
            .gives::<DocumentShown>(),
        Operation::post("/orders/{order}/redo", "redo", "Brings back what was taken back last.", redo)
            .gives::<DocumentShown>(),
        Operation::get("/orders/{order}/steps", "steps", "Every change of an order, the last first.", steps)
            .gives::<Vec<StepShown>>(),
        Operation::post("/orders/{order}/away", "put_away", "Puts an order away, or brings it back.", away)
            .takes::<Away>(json!({ "away": true })),
        Operation::post("/orders/{order}/pieces", "add_piece", "Adds a piece.", add_piece)
            .takes::<NewPiece>(json!({ "from": 2, "piece": { "name": "pennant", "shape": "circle", "width": "40 mm", "arrangement": "rings", "stones": ["sea glass"] } }))
            .gives::<DocumentShown>(),
        Operation::get("/orders/{order}/pieces/{piece}", "board", "A laid piece: outline, kinds, stones, bare spots.", board)
            .gives::<Board>(),
        Operation::post("/orders/{order}/pieces/{piece}/hand", "change_by_hand", "Stones set, taken away, recoloured.", hand)
            .takes::<Hands>(json!({ "from": 2, "ops": [{ "clear": [20.0, 20.0] }] }))
            .gives::<Board>(),
        Operation::get("/workshop", "workshop", "The workshop's own document.", workshop)
            .gives::<DocumentShown>(),
        Operation::post("/demo", "demo", "Puts the demo order there, or removes it.", demo)
            .takes::<Demo>(json!({ "there": true })),
    ]
}

/// Which orders.
#[derive(Deserialize, JsonSchema)]
struct Wanted {
    /// Words that all have to occur in name, day or pieces.
    #[serde(default)]
    search: String,
    /// Those that were put away.
    #[serde(default)]
    away: bool,
    /// The first due first.
    #[serde(default)]
    by_due: bool,
    /// The last order of the page before.
    after: Option<i64>,
    /// At most so many, up to 200.
    limit: Option<u32>,
}

async fn list(Ask(state): Ask<State>, Asked(wanted): Asked<Wanted>) -> Given<Vec<OrderCard>> {
    let orders = state
        .at_desk(move |desk| {
            desk.shop().documents(&shop::Asked {
                search: &wanted.search,
                put_away: wanted.away,
                by: if wanted.by_due { By::Due } else { By::Changed },
                after: wanted.after.map(DocumentId),
                limit: wanted.limit.unwrap_or(50).min(200),
                ..shop::Asked::default()
            })
        })
        .await?;
    Ok(Json(orders.into_iter().map(OrderCard::from).collect()))
}

/// Does something that changes a document, and gives it as it is then.
async fn done<E: Into<Problem> + Send + 'static>(
    state: &State,
    work: impl FnOnce(&desk::Desk) -> Result<Opened, E> + Send + 'static,
) -> Given<DocumentShown> {
    let opened = state.at_desk(work).await?;
    state.tell(Told::Order(opened.document.id.0));
    Ok(Json(opened.into()))
}

async fn begin(Ask(state): Ask<State>, Body(new): Body<NewOrder>) -> Given<DocumentShown> {
    done(&state, move |desk| desk.new_order(&new)).await
}

async fn bring(Ask(state): Ask<State>, Body(brought): Body<BundleShown>) -> Given<DocumentShown> {
    done(&state, move |desk| desk.import(&brought.into())).await
}

async fn order(Ask(state): Ask<State>, At(id): At<i64>) -> Given<DocumentShown> {
    Ok(Json(state.at_desk(move |desk| desk.open(DocumentId(id))).await?.into()))
}

async fn bundle(Ask(state): Ask<State>, At(id): At<i64>) -> Given<BundleShown> {
    let bundle = state.at_desk(move |desk| desk.export(DocumentId(id))).await?;
    Ok(Json(bundle.try_into()?))
}

/// Changes, and the revision that they are made from.
#[derive(Deserialize, JsonSchema)]
struct Changes {
    /// The revision; it must be the head.
    from: i64,
    /// The changes, made one after the other, all or none.
    changes: Vec<Change>,
}

async fn change(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(sent): Body<Changes>,
) -> Given<DocumentShown> {
    done(&state, move |desk| {
        desk.change(
            DocumentId(id),
            RevisionId(sent.from),
            &sent.changes,
            "changed by a program",
            None,
        )
    })
    .await
}

/// A text, and the revision that it takes the place of.
#[derive(Deserialize, JsonSchema)]
struct Written {
    /// The revision; it must be the head.
    from: i64,
    /// The text, TOML.
    text: String,
}

async fn write(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(sent): Body<Written>,
) -> Given<DocumentShown> {
    done(&state, move |desk| desk.replace(DocumentId(id), RevisionId(sent.from), &sent.text)).await
}

async fn undo(Ask(state): Ask<State>, At(id): At<i64>) -> Given<DocumentShown> {
    done(&state, move |desk| desk.undo(DocumentId(id))).await
}

async fn redo(Ask(state): Ask<State>, At(id): At<i64>) -> Given<DocumentShown> {
    done(&state, move |desk| desk.redo(DocumentId(id))).await
}

/// A change of an order.
#[derive(Serialize, JsonSchema)]
struct StepShown {
    /// Its revision.
    revision: i64,
    /// When, milliseconds since 1970 in UTC.
    at_ms: i64,
    /// What was changed.
    what: String,
    /// Whether it stands; false for what was taken back.
    stands: bool,
}

async fn steps(Ask(state): Ask<State>, At(id): At<i64>) -> Given<Vec<StepShown>> {
    let steps = state.at_desk(move |desk| desk.shop().history(DocumentId(id), None, 1000)).await?;
    let shown = |s: shop::Step| StepShown {
        revision: s.revision.0,
        at_ms: s.at_ms,
        what: s.what,
        stands: s.stands,
    };
    Ok(Json(steps.into_iter().map(shown).collect()))
}

/// Whether an order is put away.
#[derive(Deserialize, JsonSchema)]
struct Away {
    /// Away, or back.
    away: bool,
}

async fn away(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(away): Body<Away>,
) -> Result<(), Problem> {
    state
        .at_desk(move |desk| {
            let shop = desk.shop();
            if away.away { shop.put_away(DocumentId(id)) } else { shop.bring_back(DocumentId(id)) }
        })
        .await
}

/// A piece, and the revision that it is added to.
#[derive(Deserialize, JsonSchema)]
struct NewPiece {
    /// The revision; it must be the head.
    from: i64,
    /// The piece.
    piece: PieceAsked,
}

async fn add_piece(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(sent): Body<NewPiece>,
) -> Given<DocumentShown> {
    done(&state, move |desk| desk.add_piece(DocumentId(id), RevisionId(sent.from), &sent.piece))
        .await
}

async fn board(Ask(state): Ask<State>, At((id, number)): At<(i64, usize)>) -> Given<Board> {
    let board = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let laid = desk.lay(opened.piece(number)?, &Unwatched)?;
            let stretches = desk.stretches_at_hand(&opened, number)?;
            Ok::<_, DeskError>(Board::of(opened.revision.id.0, &laid, stretches))
        })
        .await?;
    Ok(Json(board))
}

/// Changes by hand, and the revision that they are made from.
#[derive(Deserialize, JsonSchema)]
struct Hands {
    /// The revision; it must be the head.
    from: i64,
    /// The changes, made one after the other, all or none.
    ops: Vec<HandOp>,
}

async fn hand(
    Ask(state): Ask<State>,
    At((id, number)): At<(i64, usize)>,
    Body(sent): Body<Hands>,
) -> Given<Board> {
    let board = state
        .at_desk(move |desk| {
            let opened = desk.by_hand(DocumentId(id), RevisionId(sent.from), number, &sent.ops)?;
            let laid = desk.lay(opened.piece(number)?, &Unwatched)?;
            Ok::<_, DeskError>(Board::of(opened.revision.id.0, &laid, vec![]))
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(Json(board))
}

async fn workshop(Ask(state): Ask<State>) -> Given<DocumentShown> {
    Ok(Json(state.at_desk(desk::Desk::workshop).await?.into()))
}

/// Whether the demo order is there.
#[derive(Deserialize, JsonSchema)]
struct Demo {
    /// There, or removed.
    there: bool,
}

async fn demo(Ask(state): Ask<State>, Body(demo): Body<Demo>) -> Result<(), Problem> {
    let there = demo.there;
    state
        .at_desk(move |desk| if there { desk.show_demo().map(|_| ()) } else { desk.remove_demo() })
        .await?;
    state.tell(Told::Shelf);
    Ok(())
}
