//! What the board draws, and the picture that stands for it without script.

use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::{Path, State as Ask};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use desk::{Board, DeskError, HandOp};
use lay::Unwatched;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, RevisionId};

/// `GET …/board.json`
pub(super) async fn data(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Json<Board>, Problem> {
    Ok(Json(state.at_desk(move |desk| desk.board(DocumentId(id), number)).await?))
}

/// Changes by hand, and the revision that they are made from.
#[derive(Deserialize)]
pub(super) struct Hands {
    from: i64,
    ops: Vec<HandOp>,
}

#[derive(Serialize)]
pub(super) struct ByHand {
    changed: super::change::Changed,
    board: Board,
}

/// `POST …/hand`
pub(super) async fn by_hand(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
    Json(hands): Json<Hands>,
) -> Result<Json<ByHand>, Problem> {
    let id = DocumentId(id);
    let (opened, board) = state
        .at_desk(move |desk| {
            let opened = desk.by_hand(id, RevisionId(hands.from), number, &hands.ops)?;
            let laid = desk.lay(opened.piece(number)?, &Unwatched)?;
            let board = Board::of(opened.revision.id.0, &laid, vec![]);
            Ok::<_, DeskError>((opened, board))
        })
        .await?;
    state.tell(Told::Order(id.0));
    Ok(Json(ByHand { changed: super::change::changed(&opened), board }))
}

/// `GET …/picture.svg`
pub(super) async fn picture(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Response, Problem> {
    let svg = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let laid = desk.lay(opened.piece(number)?, &Unwatched)?;
            Ok::<_, DeskError>(export::svg(&drawing::picture(&laid.asked.piece, &laid.lay)))
        })
        .await?;
    Ok(svg_response(svg))
}

/// `GET …/outline.svg`
pub(super) async fn outline(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Response, Problem> {
    let svg = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let piece = &opened.piece(number)?.piece;
            let page = piece.blank.bounds();
            let path = export::region_path(&piece.blank, page);
            let (w, h) = (page.width(), page.height());
            Ok::<_, DeskError>(format!(
                "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {w} {h}\"><path d=\"{path}\" fill=\"{}\" fill-rule=\"evenodd\"/></svg>",
                piece.blank_colour.hex()
            ))
        })
        .await?;
    Ok(svg_response(svg))
}

/// A picture is of one revision, named in its address: the browser may keep it.
pub(super) fn svg_response(svg: String) -> Response {
    let headers = [
        (header::CONTENT_TYPE, "image/svg+xml"),
        (header::CACHE_CONTROL, "private, max-age=86400"),
        // A picture has its colours in attributes, and no script may ever run in it.
        (header::CONTENT_SECURITY_POLICY, "default-src 'none'; style-src 'unsafe-inline'; sandbox"),
    ];
    (headers, svg).into_response()
}
