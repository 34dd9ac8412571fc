//! Orders as files: brought in, taken along, written as text.

use crate::pages::{go, order};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{Here, Shell};
use axum::Form;
use axum::extract::{Multipart, Path, State as Ask};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::{Bundle, DeskError};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{DocumentId, RevisionId};

/// Files that are read at most.
const MOST_FILES: usize = 50;

/// The files of a form: name and bytes.
pub(super) async fn received(
    mut form: Multipart,
) -> Result<(Vec<(String, Vec<u8>)>, Vec<(String, String)>), Problem> {
    let (mut files, mut fields) = (vec![], vec![]);
    let broken = |e: axum::extract::multipart::MultipartError| {
        Problem::new(e.status(), "the files did not come through whole")
            .hint("at most 16 MB at once are taken; try fewer or smaller ones")
    };
    while let Some(part) = form.next_field().await.map_err(broken)? {
        let name = part.name().unwrap_or_default().to_owned();
        match part.file_name().map(str::to_owned) {
            Some(file) if !file.is_empty() => {
                if files.len() == MOST_FILES {
                    return Err(Problem::unfit("too many files").hint("bring at most 50 at once"));
                }
                files.push((file, part.bytes().await.map_err(broken)?.to_vec()));
            }
            Some(_) => {}
            None => fields.push((name, part.text().await.map_err(broken)?)),
        }
    }
    Ok((files, fields))
}

/// `POST /orders/bring`
pub(super) async fn bring(Ask(state): Ask<State>, form: Multipart) -> Result<Response, Problem> {
    let (files, _) = received(form).await?;
    let is_document = |name: &str| name.to_lowercase().ends_with(".toml");
    let (documents, others): (Vec<_>, Vec<_>) = files.into_iter().partition(|f| is_document(&f.0));
    let [(name, bytes)] = &documents[..] else {
        return Err(Problem::unfit(match documents.len() {
            0 => "there is no order document among the files",
            _ => "there are several order documents among the files",
        })
        .hint("choose one .toml file, with the .svg files that it names"));
    };
    let text = String::from_utf8(bytes.clone()).map_err(|_| {
        Problem::unfit(format!("`{name}` is no text")).hint("an order is a TOML file in UTF-8")
    })?;
    let bundle = Bundle { text, files: others };
    let (opened, offers) = state
        .at_desk(move |desk| {
            let opened = desk.import(&bundle)?;
            let offers = !desk.offer(&opened)?.is_empty();
            Ok::<_, DeskError>((opened, offers))
        })
        .await?;
    let id = opened.document.id;
    state.tell(Told::Order(id.0));
    let to = if offers { format!("/orders/{id}/offer") } else { format!("/orders/{id}") };
    Ok(go(&to, "The order is brought in."))
}

/// `GET /orders/{order}/document`: the document alone, or in a ZIP with the files that it names.
pub(super) async fn document(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
) -> Result<Response, Problem> {
    let bundle = state.at_desk(move |desk| desk.export(DocumentId(id))).await?;
    let (name, kind, bytes) = if bundle.files.is_empty() {
        ("order.toml", "application/toml", bundle.text.into_bytes())
    } else {
        ("order.zip", "application/zip", crate::zip::zip(&bundle).map_err(|_| Problem::ours())?)
    };
    let headers = [
        (header::CONTENT_TYPE, kind.to_owned()),
        (header::CONTENT_DISPOSITION, format!("attachment; filename=\"{name}\"")),
    ];
    Ok((headers, bytes).into_response())
}

/// `GET /orders/{order}/text`
pub(super) async fn text(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let id = DocumentId(id);
    let opened = state.at_desk(move |desk| desk.open(id)).await?;
    let text = opened.revision.text.clone();
    Ok(text_page(&shell, &opened, &text, None))
}

fn text_page(shell: &Shell, opened: &desk::Opened, text: &str, wrong: Option<&Problem>) -> Markup {
    let id = opened.document.id;
    let body = html! {
        (order::head(opened, None))
        h1 { "The order as text" }
        p { "What the page shows is this text, and every change on the page is a change of it. Comments stay." }
        @if let Some(wrong) = wrong {
            div.notice.serious role="alert" {
                p { strong { "This is no order yet; nothing was kept." } }
                ul { @for f in &wrong.faults { li { (f.place) ": " (f.text) @if let Some(h) = &f.hint { " – " (h) } } } }
            }
        }
        form method="post" action={ "/orders/" (id) "/text" } {
            input type="hidden" name="from" value=(opened.revision.id);
            label for="text" { "Text" }
            textarea.text id="text" name="text" rows="30" spellcheck="false" { "\n" (text) }
            div.actions { button.main { "Keep" } a.button href={ "/orders/" (id) } { "Leave it" } }
        }
    };
    shell.page("The order as text", Some(Here::Orders), &body)
}

#[derive(Deserialize)]
pub(super) struct Written {
    from: i64,
    text: String,
}

/// `POST /orders/{order}/text`
pub(super) async fn write(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
    Form(written): Form<Written>,
) -> Result<Response, Problem> {
    let id = DocumentId(id);
    // A browser sends every line end as CR LF.
    let text = written.text.replace("\r\n", "\n");
    let sent = text.clone();
    let (opened, done) = state
        .at_desk(move |desk| {
            let done = desk.replace(id, RevisionId(written.from), &text);
            Ok::<_, DeskError>((desk.open(id)?, done))
        })
        .await?;
    match done {
        Ok(_) => {
            state.tell(Told::Order(id.0));
            Ok(go(&format!("/orders/{id}"), "Kept."))
        }
        Err(wrong) => {
            let problem = Problem::from(wrong);
            let page = text_page(&shell, &opened, &sent, Some(&problem));
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
    }
}
