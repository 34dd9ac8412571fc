//! The shelf: every stone, what lies there, and what runs short.

mod about;
mod ledger;
mod moves;
mod new;
mod stone;
mod table;
mod weigh;

use crate::pages::routes::Routes;
use crate::problem::Problem;
use crate::state::State;
use crate::view::{self, Figure, Here, Shell};
use axum::extract::{Query, State as Ask};
use desk::{DeskError, ShelfAsked, ShelfBy, ShelfStone};
use maud::{Markup, html};
use serde::Deserialize;
use std::sync::Arc;

pub(super) use stone::render;

/// So many stones are shown at once.
const MOST_SHOWN: usize = 300;

/// Every page of the shelf.
pub(super) fn routes() -> Routes {
    Routes::default()
        .shows("/shelf", page)
        .shows("/shelf/ledger", ledger::page)
        .shows("/shelf/shelf.csv", table::csv)
        .shows("/shelf/table", table::ask)
        .does("/shelf/table", "read_shelf_table", table::preview)
        .does("/shelf/table/take", "take_shelf_table", table::take)
        .shows("/shelf/new", new::ask)
        .does("/shelf/stones", "add_stone", new::add)
        .shows("/shelf/stones/{name}", stone::page)
        .does("/shelf/stones/{name}/level", "set_level", about::level)
        .does("/shelf/stones/{name}/rename", "rename_stone", about::rename)
        .does("/shelf/stones/{name}/weigh", "weigh", weigh::weigh)
        .does("/shelf/moves", "write_ledger", moves::write)
}

/// Where the page of a stone is.
pub(super) fn href(stone: &str) -> String {
    let name = super::encoded(stone);
    format!("/shelf/stones/{name}")
}

/// The pages of the shelf, in the bar below its name.
pub(super) fn ways(here: &str) -> Markup {
    let all = [
        ("/shelf", "Stones"),
        ("/shelf/ledger", "Ledger"),
        ("/shelf/table", "Count by table"),
        ("/workshop/mixes", "Mixes"),
        ("/workshop/glue", "Adhesives"),
        ("/workshop/suppliers", "Suppliers"),
    ];
    html! {
        nav.ways.no-print aria-label="Shelf" {
            @for (href, name) in all { a href=(href) aria-current=[(href == here).then_some("page")] { (name) } }
        }
    }
}

#[derive(Debug, Default, Deserialize)]
struct Wanted {
    #[serde(default)]
    search: String,
    #[serde(default)]
    by: String,
    #[serde(default)]
    short: Option<String>,
}

const ORDERS: &[(ShelfBy, &str, &str)] = &[
    (ShelfBy::Name, "name", "name"),
    (ShelfBy::Size, "size", "size, largest first"),
    (ShelfBy::OnHand, "hand", "most there first"),
    (ShelfBy::Free, "free", "fewest free first"),
    (ShelfBy::Short, "short", "running short first"),
];

/// `GET /shelf`
async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Problem> {
    let by = ORDERS.iter().find(|o| o.1 == wanted.by).map_or(ShelfBy::Name, |o| o.0);
    let short = wanted.short.is_some();
    let asked = ShelfAsked { search: wanted.search.clone(), by, short };
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
    let figures = [
        Figure::new("stones", units::grouped(shelf.kinds as u64)),
        Figure::new("running short", units::grouped(shelf.short as u64)),
    ];
    let body = html! {
        h1 { "Shelf" }
        (ways("/shelf"))
        @if shelf.kinds == 0 {
            div.empty {
                h2 { "Nothing on the shelf yet" }
                p { "Add the stones that you have: a name and a size are enough. What comes in, goes and is counted is written down from then on." }
                div.actions { a.button.main href="/shelf/new" { "Add a stone" } a.button href="/shelf/table" { "Bring a table" } }
            }
        } @else {
            (view::figures(&figures))
            div.actions.no-print {
                a.button.main href="/shelf/new" { "Add a stone" }
                form.row.find method="get" action="/shelf" role="search" {
                    label.quiet for="search" { "Search stones" }
                    input type="search" name="search" id="search" value=(wanted.search) placeholder="name, size or lot";
                    label.quiet for="by" { "Sorted by" }
                    select name="by" id="by" {
                        @for (order, word, label) in ORDERS { option value=(word) selected[*order == by] { (label) } }
                    }
                    span.tick {
                        input type="checkbox" name="short" id="short" value="yes" checked[short];
                        label for="short" { "only running short" }
                    }
                    button { "Search" }
                }
            }
            @if shelf.waiting > 0 {
                (view::later(&format!("What {} still need is being counted.", orders(shelf.waiting))))
            }
            @if shelf.left_out > 0 {
                p.hint { "What is needed counts the 500 open orders that are due first; " (shelf.left_out) " more are left out." }
            }
            @if shelf.stones.is_empty() {
                div.empty { p { "No stones are found by these words." } p { a href="/shelf" { "All stones" } } }
            } @else {
                (list(&shelf.stones[..shelf.stones.len().min(MOST_SHOWN)]))
            }
            @if shelf.stones.len() > MOST_SHOWN {
                p { "The first " (MOST_SHOWN) " of " (shelf.stones.len()) " are shown: search for what you want." }
            }
            div.actions.no-print {
                a.button href="/shelf/shelf.csv" { "Take the shelf along as a table (CSV)" }
            }
        }
    };
    Ok(shell.page("Shelf", Some(Here::Shelf), &body))
}

fn orders(n: usize) -> String {
    if n == 1 { "1 order".to_owned() } else { format!("{n} orders") }
}

fn list(stones: &[ShelfStone]) -> Markup {
    html! {
        div.table tabindex="0" role="group" aria-label="Stones on the shelf" {
            table.shelf {
                thead { tr {
                    th { "Stone" } th { "Size" } th.n { "On the shelf" } th.n { "Kept for orders" } th.n { "Free" }
                    th.n { "Orders need" } th.n { "Lots" } th { "Running short" }
                } }
                tbody { @for stone in stones {
                    tr.short[stone.missing > 0] {
                        th scope="row" { (named(stone)) }
                        td { @match &stone.known { Some(k) => (k.size), None => span.hint { "not in the workshop" } } }
                        td.n { (number(stone.on_hand)) } td.n { (number(stone.reserved)) } td.n { (number(stone.free())) }
                        td.n { (number(stone.needed)) } td.n { (stone.lots.iter().filter(|l| !l.lot.is_empty()).count()) }
                        td { @if stone.missing > 0 { span.badge.bad { (number(stone.missing)) " short" } } }
                    }
                } }
            }
        }
    }
}

/// Swatch, mark and name of a stone, which lead to its page.
fn named(stone: &ShelfStone) -> Markup {
    html! {
        a.stone href=(href(&stone.name)) {
            @if let Some(known) = &stone.known { (view::swatch(&known.colour)) } @else { (view::swatch("none")) }
            span.letters { (stone.mark) } " " (stone.name)
        }
    }
}

/// A number of stones, which may be below zero.
pub(super) fn number(stones: i64) -> String {
    let digits = units::grouped(stones.unsigned_abs());
    if stones < 0 { format!("−{digits}") } else { digits }
}
