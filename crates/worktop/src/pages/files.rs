//! Orders as files, brought in, taken along, written as text; and the files of a piece.

use crate::pages::{go, order};
use crate::problem::Problem;
use crate::state::{State, Told};
use crate::view::{Here, Shell};
use app::files::FileSort;
use axum::Form;
use axum::extract::{Multipart, Path, Query, State as Ask};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use desk::{Bundle, DeskError};
use lay::Unwatched;
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

/// How fine a picture is wanted.
#[derive(Deserialize)]
pub(super) struct Fine {
    #[serde(default)]
    dpi: String,
}

/// `GET /orders/{order}/pieces/{piece}/files/{sort}`
pub(super) async fn of_piece(
    Ask(state): Ask<State>,
    Path((id, number, sort)): Path<(i64, usize, String)>,
    Query(fine): Query<Fine>,
) -> Result<Response, Problem> {
    let dpi = match fine.dpi.trim() {
        "" => None,
        text => Some(text.parse().map_err(|_| {
            Problem::unfit(format!("this is no number of dpi: `{text}`"))
                .hint("type a whole number like 300, or leave it empty")
        })?),
    };
    piece_file(&state, DocumentId(id), number, &sort, dpi).await
}

/// One file of a piece, to be kept under its name.
///
/// # Errors
/// There is no such sort of file, or the desk's.
pub(crate) async fn piece_file(
    state: &State,
    id: DocumentId,
    number: usize,
    sort: &str,
    dpi: Option<u32>,
) -> Result<Response, Problem> {
    let sort = FileSort::named(sort).ok_or_else(|| {
        Problem::missing("sort of file")
            .hint(format!("there are {}", FileSort::ALL.map(FileSort::name).join(", ")))
    })?;
    let file = state
        .at_desk(move |desk| desk.piece_file(&desk.open(id)?, number, sort, dpi, &Unwatched))
        .await?;
    let kind = match sort.media_type() {
        text if text.starts_with("text/") => format!("{text}; charset=utf-8"),
        other => other.to_owned(),
    };
    let headers = [
        (header::CONTENT_TYPE, kind),
        (header::CONTENT_DISPOSITION, kept_as(&file.name)),
        // An SVG that is opened here runs no script.
        (
            header::CONTENT_SECURITY_POLICY,
            "default-src 'none'; style-src 'unsafe-inline'; sandbox".to_owned(),
        ),
    ];
    Ok((headers, file.bytes).into_response())
}

/// The name that a file is to be kept under, after RFC 6266: in plain letters for old readers, and
/// as it is, after RFC 8187.
pub(super) fn kept_as(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_ascii() { c } else { '_' }).collect();
    let whole = super::encoded(name);
    format!("attachment; filename=\"{plain}\"; filename*=UTF-8''{whole}")
}

/// The files of a piece, each to be kept with one press.
pub(super) fn list(here: &str) -> Markup {
    let row = |sort: FileSort| {
        html! {
            li {
                a href={ (here) "/files/" (sort.name()) } download { (sort.name()) } " – " (sort.purpose())
            }
        }
    };
    html! {
        details.files.no-print {
            summary { "Files for other programs" }
            ul { @for sort in FileSort::ALL { (row(sort)) } }
            form.row method="get" action={ (here) "/files/png" } {
                label for="dpi" { "PNG, pixels to an inch" }
                input #dpi name="dpi" inputmode="numeric" size="5" value="300";
                button { "Keep the picture" }
            }
            p.hint { "Before a blank is cut or drilled by one of these, read the safety sheet of its material and the manual of the machine. Nobody looks into a projector that is on." }
        }
    }
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
