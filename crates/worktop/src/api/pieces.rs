//! Pieces: laid, changed by hand, covered in another way.

use super::extract::{At, Body, Given};
use super::operation::Operation;
use super::orders::done;
use super::shown::{DocumentShown, FileShown};
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use axum::response::{IntoResponse, Response};
use desk::{
    Board, CompareAsked, Comparison, DeskError, HandOp, PieceAsked, Progress, StoneToPick, Way,
};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::{DocumentId, RevisionId};
use std::sync::Arc;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/orders/{order}/stones", "stones_to_pick", "Kinds and mixes that a piece of an order can be covered with.", stones)
            .gives::<Vec<StoneToPick>>(),
        Operation::post("/orders/{order}/outlines", "add_outline", "Keeps an outline file of an order, and says under which name.", outline)
            .takes::<FileShown>(json!({ "name": "pier.svg", "text": "<svg xmlns='http://www.w3.org/2000/svg' width='30mm' height='20mm' viewBox='0 0 30 20'><path d='M0 0H30V20H0Z'/></svg>" }))
            .gives::<OutlineKept>(),
        Operation::post("/orders/{order}/pieces", "add_piece", "Adds a piece.", add_piece)
            .takes::<NewPiece>(json!({ "from": 2, "piece": { "name": "pennant", "shape": "circle", "width": "40 mm", "arrangement": "rings", "stones": ["sea glass"] } }))
            .gives::<DocumentShown>(),
        Operation::get("/orders/{order}/pieces/{piece}", "board", "A laid piece: outline, kinds, stones, bare spots.", board)
            .gives::<Board>(),
        Operation::post("/orders/{order}/pieces/{piece}/hand", "change_by_hand", "Stones set, taken away, recoloured.", hand)
            .takes::<Hands>(json!({ "from": 2, "ops": [{ "clear": [20.0, 20.0] }] }))
            .gives::<Board>(),
        Operation::get("/orders/{order}/pieces/{piece}/progress", "progress", "How far the lay of a piece is; begins it if nobody did.", progress)
            .gives::<Progress>(),
        Operation::post("/orders/{order}/pieces/{piece}/stop", "stop_laying", "Stops the lay of a piece that goes on.", stop),
        Operation::post("/orders/{order}/pieces/{piece}/comparison", "compare", "Lays and plans one piece in several ways.", compare)
            .takes::<CompareAsked>(json!({ "laid": ["as_written", "honeycomb"], "stones": [""] }))
            .gives::<Comparison>(),
        Operation::post("/orders/{order}/pieces/{piece}/comparison/stop", "stop_comparing", "Stops every comparison of a piece that goes on.", stop_comparing),
        Operation::post("/orders/{order}/pieces/{piece}/way", "take_way", "Covers a zone of a piece in one of the ways that are compared.", take_way)
            .takes::<WayTaken>(json!({ "from": 2, "way": { "zone": 1, "laid": "rings", "stones": null } }))
            .gives::<DocumentShown>(),
    ]
}

async fn stones(Ask(state): Ask<State>, At(id): At<i64>) -> Given<Vec<StoneToPick>> {
    let all = state.at_desk(move |desk| desk.stones_to_pick(&desk.open(DocumentId(id))?)).await?;
    Ok(Json(all))
}

/// Under which name an outline is kept.
#[derive(Serialize, JsonSchema)]
struct OutlineKept {
    /// The name, for a piece of the order.
    name: String,
}

async fn outline(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(file): Body<FileShown>,
) -> Given<OutlineKept> {
    let add =
        move |desk: &desk::Desk| desk.add_outline(DocumentId(id), &file.name, file.text.as_bytes());
    Ok(Json(OutlineKept { name: state.at_desk(add).await? }))
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
    Ok(Json(state.at_desk(move |desk| desk.board(DocumentId(id), number)).await?))
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

async fn progress(Ask(state): Ask<State>, At((id, number)): At<(i64, usize)>) -> Given<Progress> {
    let desk = Arc::clone(state.desk());
    Ok(Json(state.at_desk(move |_| desk.progress_of(DocumentId(id), number)).await?))
}

async fn stop(Ask(state): Ask<State>, At((id, number)): At<(i64, usize)>) -> Result<(), Problem> {
    state
        .at_desk(move |desk| {
            desk.open(DocumentId(id))?.piece(number)?;
            desk.stop_laying(DocumentId(id), number);
            Ok::<_, DeskError>(())
        })
        .await
}

async fn compare(
    Ask(state): Ask<State>,
    At((id, number)): At<(i64, usize)>,
    Body(asked): Body<CompareAsked>,
) -> Result<Response, Problem> {
    let desk = Arc::clone(state.desk());
    let comparison = state
        .at_desk(move |_| {
            let comparing = desk.begin_compare(&desk.open(DocumentId(id))?, number, &asked)?;
            comparing.result().map_err(|e| Problem::from(&*e))
        })
        .await?;
    Ok(Json(&*comparison).into_response())
}

async fn stop_comparing(Ask(state): Ask<State>, At((id, number)): At<(i64, usize)>) {
    state.desk().stop_comparing(DocumentId(id), number);
}

/// A way, and the revision from which it is taken.
#[derive(Deserialize, JsonSchema)]
struct WayTaken {
    /// The revision; it must be the head.
    from: i64,
    /// The way.
    way: Way,
}

async fn take_way(
    Ask(state): Ask<State>,
    At((id, number)): At<(i64, usize)>,
    Body(sent): Body<WayTaken>,
) -> Given<DocumentShown> {
    done(&state, move |desk| {
        desk.take_way(DocumentId(id), RevisionId(sent.from), number, &sent.way)
    })
    .await
}
