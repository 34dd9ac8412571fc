//! One piece: the board with its lay, what came out, and everything that can be asked of it.

use crate::pages::{files, go, order, paper};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{self, Figure, Form, Here, Shell, Typed};
use app::edit::{Path as Key, Sheet};
use app::fields::Table;
use app::laying::LaidPiece;
use axum::Json;
use axum::extract::{Multipart, Path, State as Ask};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{DeskError, Opened, PieceAsked, Progress};
use maud::{Markup, html};
use shop::{DocumentId, RevisionId, Sort};
use std::sync::Arc;
use std::time::Duration;
use units::{grouped, trimmed};

/// How long a page waits for a lay before it shows without.
const PATIENCE: Duration = Duration::from_millis(300);

/// `GET /orders/{order}/pieces/{piece}`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Markup, Problem> {
    render(&state, &shell, DocumentId(id), number, &Typed::default()).await
}

/// The order, and the lay of one of its pieces if it is there soon enough.
async fn laid(
    state: &State,
    id: DocumentId,
    number: usize,
) -> Result<(Opened, Option<Arc<LaidPiece>>), Problem> {
    let desk = Arc::clone(state.desk());
    state
        .at_desk(move |_| {
            let opened = desk.open(id)?;
            let asked = opened.piece(number)?;
            if desk.is_laid(asked) {
                let laid = desk.lay(asked, &lay::Unwatched)?;
                return Ok::<_, DeskError>((opened, Some(laid)));
            }
            let laid = desk.begin_lay(&opened, number)?.wait(PATIENCE).and_then(Result::ok);
            Ok((opened, laid))
        })
        .await
}

/// The page, with what was typed and could not be taken.
pub(super) async fn render(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    number: usize,
    typed: &Typed,
) -> Result<Markup, Problem> {
    let (opened, laid) = laid(state, id, number).await?;
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(Problem::ours)?;
    let form = Form { sheet: &sheet, typed };
    let piece = opened.piece(number)?;
    let here = format!("/orders/{id}/pieces/{number}");
    let body = html! {
        (order::head(&opened, None))
        div.piece-head {
            h1 { (piece.piece.name) }
            nav.row.no-print aria-label="Piece" {
                @if number > 1 { a href={ "/orders/" (id) "/pieces/" (number - 1) } rel="prev" { "‹ the piece before" } }
                @if number < opened.order.pieces.len() { a href={ "/orders/" (id) "/pieces/" (number + 1) } rel="next" { "the next piece ›" } }
                a.button href={ (here) "/compare" } { "Compare" }
            }
        }
        (form.summary())
        div.piece-work data-module="piece" data-order=(id) data-piece=(number) data-revision=(opened.revision.id) {
            div.stage {
                @match &laid {
                    Some(laid) => {
                        (board(&opened, number, laid))
                        div.facts data-facts={ (here) "/facts" } { (what_came_out(laid)) }
                        (files::list(&here))
                        (paper::of_piece(opened.document.id, number))
                    },
                    None => (in_the_making(&here)),
                }
            }
            div.options { (options(&opened, number, &form, &here)) }
        }
    };
    Ok(shell.page(&piece.piece.name, Some(Here::Orders), &body))
}

/// The board: a picture and a table without script, drawn by it with script.
fn board(opened: &Opened, number: usize, laid: &LaidPiece) -> Markup {
    let base = format!("/orders/{}/pieces/{number}", opened.document.id);
    html! {
        div.board data-board={ (base) "/board.json" } {
            img src={ (base) "/picture.svg?at=" (opened.revision.id) }
                alt={ (laid.asked.piece.name) ", covered: " (grouped(laid.lay.stones.len() as u64)) " stones" };
        }
    }
}

fn in_the_making(here: &str) -> Markup {
    html! {
        div.making data-module="making" data-progress={ (here) "/progress" } {
            p role="status" data-progress-text="" { "The piece is being laid." }
            progress max="100" aria-label="Laying" {}
            form.row method="post" action={ (here) "/stop" } {
                a.button href="" { "Look again" }
                button { "Stop" }
            }
        }
    }
}

/// `GET …/facts`: what came out, for a page that changed an option.
pub(super) async fn facts(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Markup, Problem> {
    let (_, laid) = laid(&state, DocumentId(id), number).await?;
    Ok(laid.map_or_else(|| view::later("The piece is being laid."), |laid| what_came_out(&laid)))
}

/// `GET …/options`: the fields, for a page that changed one of them.
pub(super) async fn option_fields(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Markup, Problem> {
    let opened = state.at_desk(move |desk| desk.open(DocumentId(id))).await?;
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(Problem::ours)?;
    let typed = Typed::default();
    let form = Form { sheet: &sheet, typed: &typed };
    Ok(options(&opened, number, &form, &format!("/orders/{id}/pieces/{number}")))
}

/// What came out: figures first, then what to look at, then stones by kind and zones.
fn what_came_out(laid: &LaidPiece) -> Markup {
    let (lay, asked) = (&laid.lay, &laid.asked);
    let bare = lay.bare_spots.first().map_or(0.0, |s| s.diameter_mm);
    let mut figures = vec![
        Figure::new("stones on one", grouped(lay.stones.len() as u64)),
        Figure::new("covered", view::percent(lay.coverage)),
        Figure::new("largest bare spot", format!("{} mm", trimmed(bare, 2))),
    ];
    if asked.quantity > 1 {
        let all = lay.stones.len() as u64 * u64::from(asked.quantity);
        figures.push(Figure::new("stones on all copies", grouped(all)));
    }
    html! {
        (view::figures(&figures))
        (view::findings(&lay.findings))
        div.table tabindex="0" role="group" aria-label="Stones by kind" {
            table {
                caption { "Stones by kind" }
                thead { tr { th scope="col" { "Kind" } th scope="col" { "Size" } th.n scope="col" { "On one" } th.n scope="col" { "On all" } } }
                tbody {
                    @for (i, (kind, n)) in asked.piece.kinds.iter().zip(laid.counts()).enumerate() {
                        tr {
                            th scope="row" { (view::swatch(&kind.colour.hex())) span.mark-letter { (desk::mark(i)) } " " (kind.name) }
                            td { (kind.size) }
                            td.n { (grouped(n as u64)) }
                            td.n { (grouped(n as u64 * u64::from(asked.quantity))) }
                        }
                    }
                }
            }
        }
        @if asked.piece.zones.len() > 1 || lay.zones.iter().any(|z| z.note.is_some()) {
            details {
                summary { "Zone by zone" }
                dl.facts {
                    @for (zone, came) in asked.piece.zones.iter().zip(&lay.zones) {
                        dt { (zone.name) }
                        dd {
                            (came.n_rows) " rows, " (view::percent(came.coverage)) " covered"
                            @if let Some(note) = &came.note { ". " (sentence(note)) }
                        }
                    }
                }
            }
        }
    }
}

/// Everything that can be asked of a piece.
fn options(opened: &Opened, number: usize, form: &Form<'_>, here: &str) -> Markup {
    let id = opened.document.id;
    let at = Key::root().key("piece").number(number);
    let n_zones = form.sheet.count(&at.key("zone")).max(1);
    html! {
        form.card method="post" action={ "/orders/" (id) "/change" } data-module="change" {
            (view::hidden(opened.revision.id, here))
            @for zone in 1..=n_zones {
                @let zone_at = at.key("zone").number(zone);
                @let name = form.sheet.value(&zone_at.key("name"));
                details.zone open[zone == 1 || n_zones <= 3] {
                    summary {
                        @if n_zones == 1 { "Stones and arrangement" }
                        @else { "Zone " (zone) @if let Some(name) = &name { ": " (name) } }
                    }
                    @if form.sheet.count(&zone_at.key("mix")) > 0 {
                        (form.named(&zone_at, Table::Zone, "arrangement"))
                        (form.parts(&zone_at.key("mix")))
                        (form.table(&zone_at, Table::Zone, &["arrangement", "mix"]))
                    } @else {
                        (form.table(&zone_at, Table::Zone, &[]))
                        button.plain name="do" value={ "mix " (zone_at) } { "Mix several kinds" }
                    }
                    @if n_zones > 1 {
                        div.row {
                            @if zone > 1 { button.plain name="do" value={ "up " (zone_at) } { "Earlier" } }
                            @if zone < n_zones { button.plain name="do" value={ "down " (zone_at) } { "Later" } }
                            button.plain.grave name="do" value={ "remove " (zone_at) } { "Take this zone out" }
                        }
                    }
                }
            }
            button.plain name="do" value={ "add " (at.key("zone")) } { "Add a zone" }
            details {
                summary { "The blank" }
                (form.table(&at.key("blank"), Table::Blank, &[]))
                (form.named(&at, Table::Piece, "holes"))
            }
            details {
                summary { "Copies, glue and price" }
                (form.table(&at, Table::Piece, &["zone", "blank", "holes", "by_hand"]))
            }
            div.actions { button.main { "Lay it" } }
        }
    }
}

/// `GET …/progress`
pub(super) async fn progress(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Json<Progress>, Problem> {
    let desk = Arc::clone(state.desk());
    let progress = state.at_desk(move |_| desk.progress_of(DocumentId(id), number)).await?;
    Ok(Json(progress))
}

/// `POST …/stop`
pub(super) async fn stop(
    Ask(state): Ask<State>,
    Path((id, number)): Path<(i64, usize)>,
) -> Result<Response, Problem> {
    state.desk().stop_laying(DocumentId(id), number);
    Ok(go(
        &format!("/orders/{id}"),
        "Stopped. Make the piece smaller or its stones larger, or lay it again.",
    ))
}

/// `GET /orders/{order}/pieces/new`
pub(super) async fn new(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    let asked = PieceAsked { arrangement: "honeycomb".to_owned(), ..PieceAsked::default() };
    new_page(&state, &shell, DocumentId(id), &asked, None).await
}

async fn new_page(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    asked: &PieceAsked,
    wrong: Option<&Problem>,
) -> Result<Markup, Problem> {
    let (opened, stones) = state
        .at_desk(move |desk| {
            let opened = desk.open(id)?;
            let stones = desk.stones_to_pick(&opened)?;
            Ok::<_, DeskError>((opened, stones))
        })
        .await?;
    let shapes = [
        ("rounded rectangle", "Rectangle, rounded"),
        ("rectangle", "Rectangle"),
        ("circle", "Circle"),
        ("ellipse", "Ellipse"),
        ("heart", "Heart"),
        ("star", "Star"),
        ("regular polygon", "Polygon of equal sides"),
    ];
    let arrangements = [
        ("honeycomb", "Honeycomb", "rows that interlock; the densest"),
        ("square", "Square rows", "rows and columns"),
        ("rings", "Rings", "circles round a middle"),
        ("scatter", "Scatter", "at random, close; for mixed sizes"),
    ];
    let text = |t: &Option<String>| t.clone().unwrap_or_default();
    let body = html! {
        (order::head(&opened, None))
        div.narrow {
            h1 { "New piece" }
            @if let Some(wrong) = wrong {
                div.notice.serious role="alert" {
                    p { strong { (sentence(&wrong.title)) "." } }
                    @if let Some(hint) = &wrong.detail { p.hint { (sentence(hint)) "." } }
                    @for f in &wrong.faults { p { (f.place) ": " (f.text) @if let Some(h) = &f.hint { " – " (h) } } }
                }
            }
            form.card method="post" action={ "/orders/" (id) "/pieces" } enctype="multipart/form-data" {
                input type="hidden" name="from" value=(opened.revision.id);
                div.fields {
                    div.field { label for="name" { "Name" } input id="name" name="name" value=(asked.name) placeholder="badge" autocomplete="off" autofocus; }
                    div.field { label for="quantity" { "Copies" } input id="quantity" name="quantity" inputmode="numeric" value=(asked.quantity.unwrap_or(1)); }
                }
                fieldset.field {
                    legend { "The blank" }
                    div.choices {
                        @for (i, (word, label)) in shapes.iter().enumerate() {
                            label.choice {
                                input type="radio" name="shape" value=(word) checked[asked.shape.as_deref() == Some(word) || (asked.shape.is_none() && i == 0)];
                                (shape_icon(word)) span { (label) }
                            }
                        }
                    }
                    div.field {
                        label for="outline" { "Or an outline of your own (.svg)" }
                        input id="outline" name="outline" type="file" accept=".svg,image/svg+xml" data-module="drop" aria-describedby="outline-help";
                        p.hint id="outline-help" { "It goes before the shape. Everything it paints counts; it is scaled to the width below." }
                    }
                    div.fields {
                        div.field {
                            label for="width" { "Width" }
                            input id="width" name="width" value=(text(&asked.width)) placeholder="60 mm" autocomplete="off" aria-describedby="width-help";
                            p.hint id="width-help" { "As you measured it: 60, 60 mm, 6 cm, 2 3/8 in." }
                        }
                        div.field {
                            label for="height" { "Height" }
                            input id="height" name="height" value=(text(&asked.height)) placeholder="as the width" autocomplete="off" aria-describedby="height-help";
                            p.hint id="height-help" { "For what is not round." }
                        }
                    }
                }
                fieldset.field {
                    legend { "Arrangement" }
                    div.choices {
                        @for (word, label, help) in arrangements {
                            label.choice {
                                input type="radio" name="arrangement" value=(word) checked[asked.arrangement == word];
                                span { strong { (label) } br; span.hint { (help) } }
                            }
                        }
                    }
                }
                fieldset.field {
                    legend { "Stones" }
                    @if stones.is_empty() {
                        p.hint { "There is no stone on the shelf yet. Name one here; its other keys can be told later." }
                    }
                    div.choices {
                        @for stone in &stones {
                            label.choice {
                                input type="checkbox" name="stones" value=(stone.name) checked[asked.stones.contains(&stone.name)];
                                @if let Some(colour) = &stone.colour { (view::swatch(colour)) }
                                span { (stone.name) " " span.hint { (stone.size) } }
                            }
                        }
                    }
                    details open[stones.is_empty()] {
                        summary { "A stone that is not on the shelf yet" }
                        div.fields {
                            div.field { label for="stone_name" { "Its name" } input id="stone_name" name="stone_name" placeholder="sea glass" autocomplete="off"; }
                            div.field { label for="stone_size" { "Its size" } input id="stone_size" name="stone_size" placeholder="SS16 or 4 mm" autocomplete="off"; }
                            div.field { label for="stone_colour" { "Its colour" } input id="stone_colour" name="stone_colour" type="color" value="#2a9d8f"; }
                        }
                    }
                }
                div.actions { button.main { "Lay it" } a.button href={ "/orders/" (id) } { "Leave it" } }
            }
        }
    };
    Ok(shell.page("New piece", Some(Here::Orders), &body))
}

fn shape_icon(word: &str) -> Markup {
    html! {
        svg.shape viewBox="0 0 24 24" aria-hidden="true" {
            @match word {
                "rounded rectangle" => { rect x="2" y="5" width="20" height="14" rx="4" {} },
                "rectangle" => { rect x="2" y="5" width="20" height="14" {} },
                "circle" => { circle cx="12" cy="12" r="9.5" {} },
                "ellipse" => { ellipse cx="12" cy="12" rx="10.5" ry="7" {} },
                "heart" => { path d="M12 21 3 11.5A5.2 5.2 0 0 1 12 6.5a5.2 5.2 0 0 1 9 5Z" {} },
                "star" => { path d="m12 1.8 3 7 7.6.6-5.8 5 1.8 7.4L12 17.8l-6.6 4 1.8-7.4-5.8-5 7.6-.6Z" {} },
                _ => { path d="m12 2 9 5v10l-9 5-9-5V7Z" {} },
            }
        }
    }
}

/// `POST /orders/{order}/pieces`
pub(super) async fn add(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
    form: Multipart,
) -> Result<Response, Problem> {
    let id = DocumentId(id);
    let (files, fields) = super::files::received(form).await?;
    let one = |name: &str| {
        fields
            .iter()
            .find(|(n, v)| n == name && !v.trim().is_empty())
            .map(|(_, v)| v.trim().to_owned())
    };
    let from: i64 = one("from").and_then(|f| f.parse().ok()).ok_or_else(|| {
        Problem::unfit("the form says not which revision it is about").hint("reload the page")
    })?;
    let quantity = one("quantity").map(|q| {
        q.parse::<u32>().map_err(|_| {
            Problem::unfit(format!("the copies are no whole number: `{q}`")).hint("type it like 18")
        })
    });
    let mut asked = PieceAsked {
        name: one("name").unwrap_or_default(),
        quantity: None,
        shape: one("shape"),
        file: None,
        width: one("width"),
        height: one("height"),
        arrangement: one("arrangement").unwrap_or_else(|| "honeycomb".to_owned()),
        stones: fields.iter().filter(|(n, _)| n == "stones").map(|(_, v)| v.clone()).collect(),
    };
    let new_stone = one("stone_name").map(|name| desk::NewStone {
        name,
        size: one("stone_size").unwrap_or_default(),
        colour: one("stone_colour"),
    });
    let shown = asked.clone();
    let done = match quantity.transpose() {
        Ok(quantity) => {
            asked.quantity = quantity;
            let work = move |desk: &desk::Desk| {
                if let Some((name, bytes)) = files.first() {
                    asked.file = Some(desk.add_outline(id, name, bytes)?);
                }
                if let Some(stone) = new_stone {
                    desk.new_stone(&stone)?;
                    asked.stones.push(stone.name);
                }
                desk.add_piece(id, RevisionId(from), &asked)
            };
            state.at_desk(work).await
        }
        Err(problem) => Err(problem),
    };
    match done {
        Ok(opened) => {
            debug_assert_eq!(opened.document.sort, Sort::Order);
            state.tell(Told::Order(id.0));
            let number = opened.order.pieces.len();
            Ok(go(&format!("/orders/{id}/pieces/{number}"), "The piece is there."))
        }
        Err(problem) if problem.status() == StatusCode::UNPROCESSABLE_ENTITY => {
            let page = new_page(&state, &shell, id, &shown, Some(&problem)).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(problem) => Err(problem),
    }
}
