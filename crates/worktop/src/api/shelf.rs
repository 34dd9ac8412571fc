//! The shelf: its stones, what runs short, counting by table and by weight.

use super::extract::{Asked, At, Body, Given};
use super::operation::Operation;
use super::shown::DocumentShown;
use super::stones::EntryShown;
use crate::problem::Problem;
use crate::state::{State, Told};
use axum::Json;
use axum::extract::State as Ask;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use desk::{CountedRow, DeskError, NewStone, Shelf, ShelfAsked, ShelfStone, Weighed, WeighedCount};
use schemars::JsonSchema;
use serde::Deserialize;
use serde_json::json;
use shop::RevisionId;
use std::sync::Arc;

pub(super) fn operations() -> Vec<Operation> {
    let table = "kind,stones,lot\nsea glass,1200,L8\n";
    vec![
        Operation::get(
            "/shelf",
            "shelf",
            "Every stone of the shelf: what lies there, what is kept, what runs short.",
            shelf,
        )
        .asks::<ShelfAsked>()
        .gives::<Shelf>(),
        Operation::post(
            "/shelf/stones",
            "add_stone",
            "Puts a stone that is new to the workshop into its document.",
            add,
        )
        .takes::<NewStone>(json!({ "name": "pier tin", "size": "SS16", "colour": "#808080" }))
        .gives::<ShelfStone>(),
        Operation::get("/shelf/stones/{name}", "shelf_stone", "One stone of the shelf.", one)
            .gives::<ShelfStone>(),
        Operation::post(
            "/shelf/stones/{name}/level",
            "set_level",
            "Says below how many free stones a stone runs short.",
            level,
        )
        .takes::<Level>(json!({ "level": 500 }))
        .gives::<ShelfStone>(),
        Operation::post(
            "/shelf/stones/{name}/rename",
            "rename_stone",
            "Gives a stone another name in workshop and ledger; orders keep the one they have.",
            rename,
        )
        .takes::<Renamed>(json!({ "from": 3, "name": "pier glass" }))
        .gives::<DocumentShown>(),
        Operation::post(
            "/shelf/stones/{name}/weighing",
            "weigh",
            "Counts a heap of a stone by its weight; nothing is written.",
            weigh,
        )
        .takes::<Weighed>(
            json!({ "samples": [{ "stones": "50", "shown": "2.05 g" }], "heap": "61.4 g" }),
        )
        .gives::<WeighedCount>(),
        Operation::get("/shelf/table", "shelf_table", "The shelf as a table (CSV).", table_out)
            .gives_file(vec!["text/csv"]),
        Operation::post(
            "/shelf/table/reading",
            "read_shelf_table",
            "Reads a table as a count, beside what the ledger says; nothing is written.",
            read_table,
        )
        .takes::<Sent>(json!({ "name": "shelf.csv", "table": table }))
        .gives::<Vec<CountedRow>>(),
        Operation::post(
            "/shelf/table",
            "take_shelf_table",
            "Writes every row of a table as counted, all or none.",
            take_table,
        )
        .takes::<Taken>(json!({ "nonce": "example-table", "name": "shelf.csv", "table": table }))
        .gives::<Vec<EntryShown>>(),
    ]
}

async fn shelf(Ask(state): Ask<State>, Asked(asked): Asked<ShelfAsked>) -> Given<Shelf> {
    let desk = Arc::clone(state.desk());
    let shelf = state
        .at_desk(move |_| {
            let shelf = desk.shelf(&asked)?;
            if shelf.waiting > 0 {
                desk.begin_counting()?;
            }
            Ok::<_, DeskError>(shelf)
        })
        .await?;
    Ok(Json(shelf))
}

async fn add(Ask(state): Ask<State>, Body(new): Body<NewStone>) -> Given<ShelfStone> {
    let stone = state
        .at_desk(move |desk| {
            let new = NewStone { name: new.name.trim().to_owned(), ..new };
            desk.new_stone(&new)?;
            desk.shelf_stone(&new.name)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(Json(stone))
}

async fn one(Ask(state): Ask<State>, At(name): At<String>) -> Given<ShelfStone> {
    Ok(Json(state.at_desk(move |desk| desk.shelf_stone(&name)).await?))
}

/// When a stone runs short.
#[derive(Deserialize, JsonSchema)]
struct Level {
    /// Below so many free stones; left out or 0 for never.
    #[serde(default)]
    level: Option<u32>,
}

async fn level(
    Ask(state): Ask<State>,
    At(name): At<String>,
    Body(said): Body<Level>,
) -> Given<ShelfStone> {
    let stone = state
        .at_desk(move |desk| {
            desk.shelf_stone(&name)?;
            desk.set_level(&name, said.level.map(i64::from))?;
            desk.shelf_stone(&name)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(Json(stone))
}

/// Another name for a stone.
#[derive(Deserialize, JsonSchema)]
struct Renamed {
    /// The revision of the workshop's document; it must be the head.
    from: i64,
    /// The new name.
    name: String,
}

async fn rename(
    Ask(state): Ask<State>,
    At(stone): At<String>,
    Body(said): Body<Renamed>,
) -> Given<DocumentShown> {
    let rename =
        move |desk: &desk::Desk| desk.rename_stone(RevisionId(said.from), &stone, &said.name);
    let workshop = state.at_desk(rename).await?;
    state.tell(Told::Shelf);
    Ok(Json(workshop.into()))
}

async fn weigh(
    Ask(state): Ask<State>,
    At(name): At<String>,
    Body(weighed): Body<Weighed>,
) -> Given<WeighedCount> {
    Ok(Json(state.at_desk(move |desk| desk.weigh(&name, &weighed)).await?))
}

async fn table_out(Ask(state): Ask<State>) -> Result<Response, Problem> {
    let text = state.at_desk(|desk| desk.shelf_table()).await?;
    Ok(([(header::CONTENT_TYPE, "text/csv; charset=utf-8")], text).into_response())
}

/// A table that is to be looked at.
#[derive(Deserialize, JsonSchema)]
struct Sent {
    /// What it is called, for messages.
    name: String,
    /// Its text, CSV.
    table: String,
}

async fn read_table(Ask(state): Ask<State>, Body(sent): Body<Sent>) -> Given<Vec<CountedRow>> {
    let read = move |desk: &desk::Desk| desk.read_shelf_table(&sent.name, sent.table.as_bytes());
    Ok(Json(state.at_desk(read).await?))
}

/// A table that is taken as a count.
#[derive(Deserialize, JsonSchema)]
struct Taken {
    /// Made up by whoever asks: the same nonce again counts nothing again.
    nonce: String,
    /// What it is called; the lines of the ledger say so.
    name: String,
    /// Its text, CSV.
    table: String,
    /// Who counted.
    #[serde(default)]
    who: String,
}

async fn take_table(Ask(state): Ask<State>, Body(taken): Body<Taken>) -> Given<Vec<EntryShown>> {
    let lines = state
        .at_desk(move |desk| {
            let Taken { nonce, name, table, who } = &taken;
            desk.take_shelf_table(name, table.as_bytes(), nonce, who)
        })
        .await?;
    state.tell(Told::Shelf);
    Ok(Json(lines.into_iter().map(EntryShown::from).collect()))
}
