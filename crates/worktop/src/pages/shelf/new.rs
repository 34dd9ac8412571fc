//! A stone that is new to the workshop.

use super::{href, ways};
use crate::pages::go;
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{Here, Shell};
use axum::Form;
use axum::extract::State as Ask;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{DeskError, NewStone};
use maud::{Markup, html};

/// `GET /shelf/new`
pub(super) async fn ask(shell: Shell) -> Markup {
    shell.page("Add a stone", Some(Here::Shelf), &form(&NewStone::default(), None))
}

fn form(new: &NewStone, wrong: Option<&DeskError>) -> Markup {
    html! {
        h1 { "Add a stone" }
        (ways("/shelf/new"))
        div.narrow {
            @if let Some(wrong) = wrong {
                div.notice.serious role="alert" {
                    p { (sentence(&wrong.to_string())) "." }
                    @if let Some(hint) = wrong.hint() { p.hint { (sentence(&hint)) "." } }
                }
            }
            form.card method="post" action="/shelf/stones" {
                div.field {
                    label for="name" { "Name" }
                    input id="name" name="name" required maxlength="80" value=(new.name) autocomplete="off" autofocus aria-describedby="name-help";
                    p.hint id="name-help" { "Your own, once only: sea glass, old brass." }
                }
                div.field {
                    label for="size" { "Size" }
                    input id="size" name="size" required value=(new.size) autocomplete="off" aria-describedby="size-help";
                    p.hint id="size-help" { "The trade's number, SS16, or a diameter: 4 mm." }
                }
                div.field {
                    label for="colour" { "Colour" }
                    input id="colour" name="colour" type="color" value=(new.colour.as_deref().unwrap_or("#c0c0c0")) aria-describedby="colour-help";
                    p.hint id="colour-help" { "For pictures." }
                }
                div.actions { button.main { "Add it" } a.button href="/shelf" { "Leave it" } }
            }
        }
    }
}

/// `POST /shelf/stones`
pub(super) async fn add(
    Ask(state): Ask<State>,
    shell: Shell,
    Form(new): Form<NewStone>,
) -> Result<Response, Problem> {
    let asked = NewStone { name: new.name.trim().to_owned(), ..new.clone() };
    let name = asked.name.clone();
    match state.at_desk(move |desk| Ok::<_, Problem>(desk.new_stone(&asked))).await? {
        Ok(_) => {
            state.tell(Told::Shelf);
            Ok(go(&href(&name), "The stone is there. Say now how many you have."))
        }
        Err(wrong @ (DeskError::Unfit { .. } | DeskError::Edit(_) | DeskError::Refused(_))) => {
            let page = shell.page("Add a stone", Some(Here::Shelf), &form(&new, Some(&wrong)));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(other) => Err(other.into()),
    }
}
