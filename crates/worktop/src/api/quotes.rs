//! Comparing, the quote, and the customer's yes.

use super::extract::{At, Body};
use super::operation::Operation;
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use axum::response::{IntoResponse, Response};
use desk::{ApprovalState, CompareAsked, Comparison, DeskError, NewYes, Quote, Yes};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::json;
use shop::DocumentId;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::post("/orders/{order}/pieces/{piece}/comparison", "compare", "Lays and plans one piece in several ways.", compare)
            .takes::<CompareAsked>(json!({ "laid": ["as_written", "honeycomb"], "stones": [""] }))
            .gives::<Comparison>(),
        Operation::get("/orders/{order}/quote", "quote", "The quote for the customer.", quote).gives::<Quote>(),
        Operation::get("/orders/{order}/approval", "approval", "How it stands with the customer's yes.", approval)
            .gives::<ApprovalState>(),
        Operation::post("/orders/{order}/approval", "say_yes", "Writes the customer's yes to the quote as it stands.", say_yes)
            .takes::<NewYes>(json!({ "nonce": "example-yes", "hash": "of the quote", "price": "of the quote", "who": "the harbour office" }))
            .gives::<Yes>(),
        Operation::post("/orders/{order}/approval/withdrawal", "withdraw_yes", "Writes that a yes was withdrawn.", withdraw)
            .takes::<Withdrawal>(json!({ "yes": 1, "who": "the harbour office" })),
    ]
}

async fn compare(
    Ask(state): Ask<State>,
    At((id, number)): At<(i64, usize)>,
    Body(asked): Body<CompareAsked>,
) -> Result<Response, Problem> {
    let comparison = state
        .at_desk(move |desk| desk.compare(&desk.open(DocumentId(id))?, number, &asked, &Unwatched))
        .await?;
    Ok(Json(&*comparison).into_response())
}

async fn quote(Ask(state): Ask<State>, At(id): At<i64>) -> Result<Json<Quote>, Problem> {
    let quote = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &Unwatched)?;
            desk.quote(&opened, &plan)
        })
        .await?;
    Ok(Json(quote))
}

async fn approval(Ask(state): Ask<State>, At(id): At<i64>) -> Result<Json<ApprovalState>, Problem> {
    let approval =
        state.at_desk(move |desk| desk.approval_state(&desk.open(DocumentId(id))?)).await?;
    Ok(Json(approval))
}

async fn say_yes(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(yes): Body<NewYes>,
) -> Result<Json<Yes>, Problem> {
    let said = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &Unwatched)?;
            let quote = desk.quote(&opened, &plan)?;
            desk.say_yes(&opened, &quote, &yes)
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(Json(said))
}

/// A yes that was withdrawn.
#[derive(Deserialize, JsonSchema)]
struct Withdrawal {
    /// Its number.
    yes: i64,
    /// Who withdrew it.
    who: String,
    /// How.
    #[serde(default)]
    how: String,
    /// A note.
    #[serde(default)]
    note: String,
}

async fn withdraw(
    Ask(state): Ask<State>,
    At(id): At<i64>,
    Body(said): Body<Withdrawal>,
) -> Result<(), Problem> {
    state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            desk.withdraw_yes(&opened, said.yes, &said.who, &said.how, &said.note)?;
            Ok::<_, DeskError>(())
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(())
}
