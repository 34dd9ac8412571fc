//! What a purchase leads to on the shelf: stones that arrived, stones kept for an order.

use super::extract::{At, Body, Given};
use super::operation::Operation;
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use desk::{Arrived, Holding};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::json;
use shop::DocumentId;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/orders/{order}/holdings", "holdings", "What an order keeps and what its plan takes from the shelf, lot by lot.", holdings)
            .gives::<Vec<Holding>>(),
        Operation::post("/orders/{order}/arrived", "arrived", "Brings stones that arrived for an order to the shelf.", arrived)
            .takes::<Arrived>(json!({ "nonce": "example-arrived", "stone": "sea glass", "lot": "L9", "stones": 1440 })),
        Operation::post("/orders/{order}/hold", "hold", "Keeps for an order what its plan takes from the shelf, each copy's from one lot where a lot reaches.", hold)
            .takes::<Once>(json!({ "nonce": "example-hold" }))
            .gives::<Moved>(),
        Operation::post("/orders/{order}/release", "release", "Releases everything that is kept for an order.", release)
            .takes::<Once>(json!({ "nonce": "example-release" }))
            .gives::<Moved>(),
    ]
}

async fn holdings(Ask(state): Ask<State>, At(id): At<i64>) -> Given<Vec<Holding>> {
    let all = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &Unwatched)?;
            desk.holdings(&opened, &plan)
        })
        .await?;
    Ok(Json(all))
}

async fn arrived(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(arrived): Body<Arrived>,
) -> Result<(), Problem> {
    state.at_desk(move |desk| desk.arrived(&desk.open(DocumentId(id))?, &arrived)).await?;
    state.tell(Told::Shelf);
    Ok(())
}

/// Something that is done once.
#[derive(Deserialize, JsonSchema)]
struct Once {
    /// Made up by whoever asks: the same nonce again is the same.
    nonce: String,
}

/// How many stones are kept or released by it.
#[derive(Serialize, JsonSchema)]
struct Moved {
    /// Stones.
    stones: u64,
}

async fn hold(Ask(state): Ask<State>, At(id): At<i64>, Body(once): Body<Once>) -> Given<Moved> {
    let stones = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &Unwatched)?;
            desk.hold(&opened, &plan, &once.nonce)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(Json(Moved { stones }))
}

async fn release(Ask(state): Ask<State>, At(id): At<i64>, Body(once): Body<Once>) -> Given<Moved> {
    let release = move |desk: &desk::Desk| desk.release(&desk.open(DocumentId(id))?, &once.nonce);
    let stones = state.at_desk(release).await?;
    state.tell(Told::Shelf);
    Ok(Json(Moved { stones }))
}
