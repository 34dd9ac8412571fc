//! Papers of an order, and how the workshop prints.

use super::extract::{Asked, At, Body, Given};
use super::operation::Operation;
use crate::pages::paper::order_paper;
use crate::problem::Problem;
use crate::state::State;
use axum::Json;
use axum::extract::State as Ask;
use axum::response::Response;
use desk::Printing;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::json;
use shop::DocumentId;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/orders/{order}/papers/{paper}", "order_paper", "A paper of an order as PDF: placing sheets, quote, bench sheet, lists, labels, care cards, calendar, test page.", paper)
            .asks::<OfPiece>()
            .gives_file(vec!["application/pdf"]),
        Operation::get("/printing", "printing", "How the workshop prints.", printing)
            .gives::<Printing>(),
        Operation::post("/printing", "set_printing", "Prints so from now on; what is empty becomes as usual.", set_printing)
            .takes::<Printing>(json!({ "sheet": "letter", "notation": "en-US", "measured": "98.6", "labels": "" }))
            .gives::<Printing>(),
    ]
}

/// Of which piece.
#[derive(Deserialize, JsonSchema)]
struct OfPiece {
    /// The number of the piece, from 1, for placing sheets of it alone.
    #[schemars(example = 1)]
    piece: Option<usize>,
}

async fn paper(
    Ask(state): Ask<State>,
    At((id, name)): At<(i64, String)>,
    Asked(of): Asked<OfPiece>,
) -> Result<Response, Problem> {
    order_paper(&state, DocumentId(id), &name, of.piece).await
}

async fn printing(Ask(state): Ask<State>) -> Given<Printing> {
    Ok(Json(state.at_desk(move |desk| desk.printing()).await?))
}

async fn set_printing(Ask(state): Ask<State>, Body(printing): Body<Printing>) -> Given<Printing> {
    let kept = state
        .at_desk(move |desk| {
            desk.set_printing(&printing)?;
            desk.printing()
        })
        .await?;
    Ok(Json(kept))
}
