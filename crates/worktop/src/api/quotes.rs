//! The quote, and the customer's yes.

use super::extract::{At, Body, Given};
use super::operation::Operation;
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use desk::{ApprovalState, DeskError, NewYes, Quote, QuoteWords, Yes};
use lay::Unwatched;
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::json;
use shop::DocumentId;

pub(super) fn operations() -> Vec<Operation> {
    vec![
        Operation::get("/orders/{order}/quote", "quote", "The quote for the customer.", quote).gives::<Quote>(),
        Operation::get("/orders/{order}/approval", "approval", "How it stands with the customer's yes.", approval)
            .gives::<ApprovalState>(),
        Operation::post("/orders/{order}/approval", "say_yes", "Writes the customer's yes to the quote as it stands.", say_yes)
            .takes::<NewYes>(json!({ "nonce": "example-yes", "hash": "of the quote", "price": "of the quote", "who": "the harbour office" }))
            .gives::<Yes>(),
        Operation::post("/orders/{order}/approval/withdrawal", "withdraw_yes", "Writes that a yes was withdrawn.", withdraw)
            .takes::<Withdrawal>(json!({ "yes": 1, "who": "the harbour office" })),
        Operation::get("/quote-words", "quote_words", "What stands on every quote of the workshop.", words)
            .gives::<QuoteWords>(),
        Operation::post("/quote-words", "write_quote_words", "Writes what stands on every quote; what is empty becomes as usual.", write_words)
            .takes::<QuoteWords>(json!({ "from": "The harbour workshop", "terms": "", "care": "" }))
            .gives::<QuoteWords>(),
    ]
}

async fn quote(Ask(state): Ask<State>, At(id): At<i64>) -> Given<Quote> {
    let quote = state
        .at_desk(move |desk| {
            let opened = desk.open(DocumentId(id))?;
            let plan = desk.plan(&opened, &Unwatched)?;
            desk.quote(&opened, &plan)
        })
        .await?;
    Ok(Json(quote))
}

async fn approval(Ask(state): Ask<State>, At(id): At<i64>) -> Given<ApprovalState> {
    let approval =
        state.at_desk(move |desk| desk.approval_state(&desk.open(DocumentId(id))?)).await?;
    Ok(Json(approval))
}

async fn say_yes(Ask(state): Ask<State>, At(id): At<i64>, Body(yes): Body<NewYes>) -> Given<Yes> {
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

async fn words(Ask(state): Ask<State>) -> Given<QuoteWords> {
    Ok(Json(state.at_desk(desk::Desk::quote_words).await?))
}

async fn write_words(Ask(state): Ask<State>, Body(words): Body<QuoteWords>) -> Given<QuoteWords> {
    let kept = state
        .at_desk(move |desk| {
            desk.set_quote_words(&words)?;
            desk.quote_words()
        })
        .await?;
    Ok(Json(kept))
}
