//! Plans.

use super::extract::{Asked, At};
use super::operation::Operation;
use crate::problem::Problem;
use crate::state::State;
use app::plan::Plan;
use axum::Json;
use axum::extract::State as Ask;
use axum::response::{IntoResponse, Response};
use desk::Tries;
use lay::Unwatched;
use shop::DocumentId;

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
    ]
}

async fn plan(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Asked(tries): Asked<Tries>,
) -> Result<Response, Problem> {
    let plan = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            desk.plan_with(&opened, &tries, &Unwatched)
        })
        .await?;
    Ok(Json(&*plan).into_response())
}
