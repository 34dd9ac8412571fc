//! The plan of an order, a page for each part: the answer first, then what is worth knowing, then
//! the figures, each with its formula and inputs behind it.

mod buying;
mod calendar;
mod gluing;
mod packing;
mod pricing;
mod tries;

pub(super) use buying::{arrived, hold, release};
pub(super) use calendar::ical;
pub(super) use tries::{keep, progress as tries_progress, stop as stop_tries};

use crate::pages::order::{self, Part};
use crate::pages::paper;
use crate::problem::Problem;
use crate::state::State;
use crate::view::{self, Form, Here, Shell, Typed};
use app::edit::{Path as Key, Sheet};
use app::fields::Table;
use app::plan::{Part as Planned, Plan};
use axum::extract::{Path, Query, State as Ask};
use desk::{Beside, DeskError, Holding, Opened};
use maud::{Markup, html};
use shop::DocumentId;
use std::sync::Arc;
use std::time::Duration;
use tries::{Tried, Typing};

/// How long a page waits for a plan before it shows without.
pub(super) const PATIENCE: Duration = Duration::from_millis(300);

/// A page of the plan.
struct Sheaf {
    part: Part,
    /// The end of its address.
    name: &'static str,
    title: &'static str,
    /// The parts of the plan whose findings stand on it.
    findings: &'static [Planned],
    /// Keys of the order that are about it, to be changed on the spot.
    keys: &'static [&'static str],
    /// What these keys are, as a heading.
    change: &'static str,
}

const SHEAVES: &[Sheaf] = &[
    Sheaf {
        part: Part::Buy,
        name: "buy",
        title: "Stones to buy",
        findings: &[Planned::Counts, Planned::Buying],
        keys: &["supplier"],
        change: "Suppliers of this order",
    },
    Sheaf {
        part: Part::Glue,
        name: "glue",
        title: "Glue",
        findings: &[Planned::Glue, Planned::Stretches],
        keys: &["adhesive"],
        change: "Adhesives of this order",
    },
    Sheaf {
        part: Part::Days,
        name: "days",
        title: "Hours and days",
        findings: &[Planned::Hours, Planned::Calendar],
        keys: &["workshop", "log"],
        change: "How this order is worked",
    },
    Sheaf {
        part: Part::Price,
        name: "price",
        title: "Price",
        findings: &[Planned::Price],
        keys: &["price"],
        change: "What is charged for this order",
    },
    Sheaf {
        part: Part::Kits,
        name: "kits",
        title: "Kits",
        findings: &[Planned::Kits],
        keys: &["kit", "bag"],
        change: "Kits and bags of this order",
    },
];

/// What was asked of the desk for a page of the plan.
struct Answered {
    opened: Opened,
    /// `None` while it is being made.
    plan: Option<Result<Arc<Plan>, Arc<DeskError>>>,
    tried: Tried,
    holdings: Vec<Holding>,
    nonce: String,
}

/// `GET /orders/{order}/{part}`, one of the parts of the plan.
pub(super) async fn page(
    state: &State,
    shell: &Shell,
    id: i64,
    name: &str,
    typing: &Typing,
) -> Result<Markup, Problem> {
    render(state, shell, DocumentId(id), name, typing, &Typed::default()).await
}

macro_rules! pages {
    ($($name:ident)*) => {$(
        /// The page of this part.
        pub(super) async fn $name(
            Ask(state): Ask<State>,
            shell: Shell,
            Path(id): Path<i64>,
            Query(typing): Query<Typing>,
        ) -> Result<Markup, Problem> {
            page(&state, &shell, id, stringify!($name), &typing).await
        }
    )*};
}

pages! { buy glue days price kits }

/// Whether a part of an order of this name is a page of the plan.
pub(super) fn is_part(name: &str) -> bool {
    SHEAVES.iter().any(|s| s.name == name)
}

/// The page, with what was typed into the order's own fields and could not be taken.
pub(super) async fn again(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    name: &str,
    typed: &Typed,
) -> Result<Markup, Problem> {
    render(state, shell, id, name, &Typing::default(), typed).await
}

async fn render(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    name: &str,
    typing: &Typing,
    typed: &Typed,
) -> Result<Markup, Problem> {
    let sheaf = SHEAVES.iter().find(|s| s.name == name).ok_or_else(|| Problem::missing("page"))?;
    let read = typing.read();
    let tries = read.as_ref().ok().filter(|t| t.any()).cloned();
    let desk = Arc::clone(state.desk());
    let buys = sheaf.part == Part::Buy;
    let answered = state
        .at_desk(move |_| {
            let opened = desk.open(id)?;
            let plan = match opened.order.pieces.is_empty() {
                true => None,
                false => desk.begin_plan(&opened)?.wait(PATIENCE),
            };
            let (mut tried, mut holdings) = (Tried::Nothing, vec![]);
            if let Some(Ok(plan)) = &plan {
                if let Some(tries) = tries {
                    tried = match desk.begin_tries(&opened, &tries)?.wait(PATIENCE) {
                        Some(done) => Tried::Done(done.map(|t| Beside::of(plan, &t))),
                        None => Tried::InTheMaking,
                    };
                }
                if buys {
                    holdings = desk.holdings(&opened, plan)?;
                }
            }
            let nonce = desk.shelf_nonce(id)?;
            Ok::<_, DeskError>(Answered { opened, plan, tried, holdings, nonce })
        })
        .await?;
    let opened = &answered.opened;
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(Problem::ours)?;
    let form = Form { sheet: &sheet, typed };
    let body = html! {
        (order::head(opened, Some(sheaf.part)))
        (form.summary())
        @match &answered.plan {
            Some(Ok(plan)) => {
                (view::answer(&plan.answer))
                (paper::of_part(opened.document.id, sheaf.part))
                h2 { (sheaf.title) }
                (view::plan_findings(plan.findings.iter().filter(|f| sheaf.findings.contains(&f.part))))
                (tries::beside(sheaf.name, opened, typing, &read, &answered.tried))
                div.plan {
                    @match sheaf.part {
                        Part::Buy => (buying::body(plan, &answered)),
                        Part::Glue => (gluing::body(plan)),
                        Part::Days => (calendar::body(plan, opened)),
                        Part::Price => (pricing::body(plan)),
                        _ => (packing::body(plan)),
                    }
                }
            }
            Some(Err(wrong)) => { h2 { (sheaf.title) } (order::no_plan(wrong)) }
            None if opened.order.pieces.is_empty() => (no_piece(opened)),
            None => { h2 { (sheaf.title) } (view::later("The order is being planned.")) }
        }
        (own_fields(sheaf, &form, opened, typed))
    };
    Ok(shell.page(
        &format!("{} · {}", sheaf.title, opened.document.name),
        Some(Here::Orders),
        &body,
    ))
}

/// What a page of an order without pieces says.
pub(super) fn no_piece(opened: &Opened) -> Markup {
    html! {
        div.empty {
            h2 { "No piece yet" }
            p { "There is nothing to plan until the order has a piece." }
            div.actions { a.button.main href={ "/orders/" (opened.document.id) "/pieces/new" } { "Add a piece" } }
        }
    }
}

/// The keys of the order that a page is about, folded away unless something is wrong with them.
fn own_fields(sheaf: &Sheaf, form: &Form<'_>, opened: &Opened, typed: &Typed) -> Markup {
    let id = opened.document.id;
    let fields = sheaf.keys.iter().filter_map(|key| Some((*key, Table::Order.field(key)?)));
    html! {
        details.own.no-print open[!typed.faults.is_empty()] {
            summary { (sheaf.change) }
            p.hint { "What stands here goes before what the workshop has, and is part of this order." }
            form method="post" action={ "/orders/" (id) "/change" } data-module="change" {
                (view::hidden(opened.revision.id, &format!("/orders/{id}/{}", sheaf.name)))
                @for (key, field) in fields {
                    @match key {
                        "workshop" => (form.table(&Key::root().key(key), Table::Workshop, &[])),
                        "price" => (form.table(&Key::root().key(key), Table::Price, &[])),
                        _ => (form.field(&Key::root(), field)),
                    }
                }
                div.actions { button { "Keep" } }
            }
        }
    }
}

/// A table that scrolls by itself where it is too wide, with a name for those who hear it.
fn table(name: &str, head: &Markup, rows: &Markup) -> Markup {
    html! {
        div.table tabindex="0" role="group" aria-label=(name) {
            table { caption { (name) } thead { tr { (head) } } tbody { (rows) } }
        }
    }
}

/// So many of something: `1 pack`, `1,440 packs`.
fn counted(n: u64, one: &str, many: &str) -> String {
    format!("{} {}", units::grouped(n), if n == 1 { one } else { many })
}
