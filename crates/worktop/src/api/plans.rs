//! Plans.

use super::extract::{Asked, At, Body, Given};
use super::operation::Operation;
use super::orders::done;
use super::shown::DocumentShown;
use crate::problem::Problem;
use crate::state::State;
use app::plan::Plan;
use axum::Json;
use axum::extract::State as Ask;
use axum::response::{IntoResponse, Response};
use desk::Tries;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::json;
use shop::{DocumentId, RevisionId};
use std::sync::Arc;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get(
            "/orders/{order}/plan",
            "plan",
            "The plan of an order: stones, packs, adhesive, hours, days, price; with other figures if some are given.",
            plan,
        )
        .asks::<Tries>()
        .gives::<Plan>(),
        Operation::post("/orders/{order}/tries/stop", "stop_tries", "Stops planning an order with other figures.", stop),
        Operation::post("/orders/{order}/tries", "keep_tries", "Makes other figures that were tried stand in an order.", keep)
            .takes::<Kept>(json!({ "from": 2, "tries": { "loss": 0.04 } }))
            .gives::<DocumentShown>(),
    ]
}

async fn plan(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Asked(tries): Asked<Tries>,
) -> Result<Response, Problem> {
    let desk = Arc::clone(state.desk());
    let plan = state
        .at_desk(move |_| {
            let opened = desk.open(DocumentId(id))?;
            let planning = if tries == Tries::default() {
                desk.begin_plan(&opened)?
            } else {
                desk.begin_tries(&opened, &tries)?
            };
            planning.result().map_err(|e| Problem::from(&*e))
        })
        .await?;
    Ok(Json(&*plan).into_response())
}

async fn stop(Ask(state): Ask<State>, At(id): At<i64>) {
    state.desk().stop_tries(DocumentId(id));
}

/// Figures that are to stand, and the revision that they are put into.
#[derive(Deserialize, JsonSchema)]
struct Kept {
    /// The revision; it must be the head.
    from: i64,
    /// The figures.
    tries: Tries,
}

async fn keep(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(kept): Body<Kept>,
) -> Given<DocumentShown> {
    done(&state, move |desk| desk.keep_tries(DocumentId(id), RevisionId(kept.from), &kept.tries))
        .await
}
