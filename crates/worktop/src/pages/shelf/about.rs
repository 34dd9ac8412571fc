//! What the workshop's document says of a stone, its name, and when it runs short.

use super::href;
use super::stone::{Draft, Facts, shown};
use crate::pages::{go, order};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{self, Form, Shell, Typed, Who};
use app::edit::{Path as Key, Sheet};
use app::fields::Table;
use axum::extract::{Path, State as Ask};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::Deserialize;
use shop::RevisionId;
use std::collections::BTreeMap;

/// What the workshop says of the stone: its keys, its name, when it runs short.
pub(super) fn about(facts: &Facts, draft: &Draft, typed: &Typed) -> Result<Markup, Problem> {
    let Facts { stone, workshop, .. } = facts;
    let here = href(&stone.name);
    let sheet = Sheet::of(&workshop.revision.text).ok_or_else(Problem::ours)?;
    let form = Form { sheet: &sheet, typed };
    Ok(html! {
        section aria-labelledby="about" {
            h2 #about { "About the stone" }
            @match &stone.known {
                Some(known) => {
                    (form.summary())
                    form.card method="post" action={ "/orders/" (workshop.document.id) "/change" } data-module="change" {
                        (view::hidden(workshop.revision.id, &here))
                        (form.table(&Key::root().key("kind").number(known.number), Table::Kind, &["name"]))
                        div.actions { button { "Keep" } }
                    }
                    (order::back_and_forth(workshop))
                }
                None => {
                    p { "The workshop does not know this stone: only its ledger is left. Add a stone of the same name to say its size and colour." }
                    div.actions { a.button href="/shelf/new" { "Add a stone" } }
                }
            }
            form.card.narrow method="post" action={ (here) "/level" } {
                div.field {
                    label for="level" { "Runs short below" }
                    input id="level" name="level" inputmode="numeric" autocomplete="off" value=(stone.level.map(|l| l.to_string()).unwrap_or_default()) aria-describedby="level-help";
                    p.hint id="level-help" { "So many free stones. Empty for none: then it runs short only when open orders need more than is there." }
                }
                div.actions { button { "Keep" } }
            }
            details.card.narrow open[draft.what == "rename"] {
                summary { "Another name" }
                @if draft.what == "rename" { (draft.trouble()) }
                form method="post" action={ (here) "/rename" } {
                    input type="hidden" name="from" value=(workshop.revision.id);
                    div.field {
                        label for="name" { "New name" }
                        input id="name" name="name" required maxlength="80" autocomplete="off" value=(if draft.what == "rename" { draft.value("rename", "name") } else { &stone.name }) aria-describedby="name-help";
                        p.hint id="name-help" { "Its ledger goes with it, and mixes and suppliers of the workshop follow. Orders keep the name that they have in their own documents: change it there, too, if they are to find these stones." }
                    }
                    div.actions { button { "Rename" } }
                }
            }
        }
    })
}

#[derive(Deserialize)]
pub(super) struct Level {
    level: String,
}

/// `POST /shelf/stones/{name}/level`
pub(super) async fn level(
    Ask(state): Ask<State>,
    Path(name): Path<String>,
    axum::Form(level): axum::Form<Level>,
) -> Result<Response, Problem> {
    let level = match level.level.trim() {
        "" => None,
        typed => Some(typed.parse::<i64>().map_err(|_| {
            Problem::unfit(format!("this is no number of stones: `{typed}`"))
                .hint("write a whole number in digits, or nothing")
        })?),
    };
    let to = href(&name);
    state
        .at_desk(move |desk| desk.shelf_stone(&name).and_then(|s| desk.set_level(&s.name, level)))
        .await?;
    state.tell(Told::Shelf);
    Ok(go(&to, "Kept."))
}

#[derive(Deserialize)]
pub(super) struct Renamed {
    from: i64,
    name: String,
}

/// `POST /shelf/stones/{name}/rename`
pub(super) async fn rename(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Path(stone): Path<String>,
    axum::Form(renamed): axum::Form<Renamed>,
) -> Result<Response, Problem> {
    let (old, new) = (stone.clone(), renamed.name.trim().to_owned());
    let from = RevisionId(renamed.from);
    let done =
        state.at_desk(move |desk| Ok::<_, Problem>(desk.rename_stone(from, &old, &new))).await?;
    match done {
        Ok(_) => {
            state.tell(Told::Shelf);
            let done = "It has its new name, in the ledger, too. Orders keep the one they have.";
            Ok(go(&href(renamed.name.trim()), done))
        }
        Err(wrong) => {
            let problem = Problem::from(wrong);
            let status = problem.status();
            if status.is_server_error() || status == axum::http::StatusCode::NOT_FOUND {
                return Err(problem);
            }
            let values = BTreeMap::from([("name".to_owned(), renamed.name)]);
            let draft = Draft {
                what: "rename".to_owned(),
                values,
                wrong: Some(problem),
                ..Draft::default()
            };
            let page = shown(&state, &shell, &who, &stone, None, &draft).await?;
            Ok((status, page).into_response())
        }
    }
}
