//! One stone: what lies there, what can be done with it, what the workshop's document says of it,
//! and its ledger.

use super::moves::SORTS;
use super::{about, href, ledger, number, ways, weigh};
use crate::nonce::nonce;
use crate::problem::{Problem, sentence};
use crate::state::State;
use crate::view::{self, Figure, Here, Shell, Typed, Who};
use axum::extract::{Path, Query, State as Ask};
use desk::{DeskError, MoveSort, Opened, ShelfStone, WeighedCount};
use maud::{Markup, html};
use serde::Deserialize;
use shop::{Asked, By, Document, Entry, EntryId, LedgerPage};
use std::collections::BTreeMap;
use std::sync::Arc;

/// So many orders can be chosen from.
const MOST_ORDERS: u32 = 200;

/// What was sent last from one of the page's forms, if it is to be seen again.
#[derive(Default)]
pub(super) struct Draft {
    /// Which form.
    pub(super) what: String,
    /// What was typed, by field.
    pub(super) values: BTreeMap<String, String>,
    /// What is wrong with it.
    pub(super) wrong: Option<Problem>,
    /// What a weighing came to.
    pub(super) weighed: Option<WeighedCount>,
}

impl Draft {
    /// What was typed last into a field of a form.
    pub(super) fn value(&self, form: &str, key: &str) -> &str {
        let mine = (self.what == form).then(|| self.values.get(key)).flatten();
        mine.map_or("", String::as_str)
    }

    /// What is wrong, in words.
    pub(super) fn trouble(&self) -> Markup {
        html! {
            @if let Some(wrong) = &self.wrong {
                div.notice.serious role="alert" {
                    p { strong { (sentence(&wrong.title)) "." } }
                    @if let Some(hint) = &wrong.detail { p.hint { (sentence(hint)) "." } }
                }
            }
        }
    }
}

#[derive(Default, Deserialize)]
pub(super) struct Wanted {
    before: Option<i64>,
}

/// `GET /shelf/stones/{name}`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    who: Who,
    Path(name): Path<String>,
    Query(wanted): Query<Wanted>,
) -> Result<Markup, Problem> {
    let before = wanted.before.map(EntryId);
    shown(&state, &shell, &who, &name, before, &Draft::default()).await
}

/// The page, with what was typed into the stone's keys and could not be taken.
pub(in crate::pages) async fn render(
    state: &State,
    shell: &Shell,
    name: &str,
    typed: &Typed,
) -> Result<Markup, Problem> {
    whole(state, shell, &Who::default(), name, None, &Draft::default(), typed).await
}

/// The page, with what was typed into one of its forms.
pub(super) async fn shown(
    state: &State,
    shell: &Shell,
    who: &Who,
    name: &str,
    before: Option<EntryId>,
    draft: &Draft,
) -> Result<Markup, Problem> {
    whole(state, shell, who, name, before, draft, &Typed::default()).await
}

/// What the page is made of.
pub(super) struct Facts {
    pub(super) stone: ShelfStone,
    pub(super) workshop: Opened,
    lines: Vec<Entry>,
    orders: Vec<Document>,
}

async fn facts(state: &State, name: &str, before: Option<EntryId>) -> Result<Facts, Problem> {
    let name = name.to_owned();
    let desk = Arc::clone(state.desk());
    state
        .at_desk(move |_| {
            let page =
                LedgerPage { stone: Some(&name), order: None, before, limit: ledger::A_PAGE + 1 };
            let asked = Asked { by: By::Due, limit: MOST_ORDERS, ..Asked::default() };
            let facts = Facts {
                stone: desk.shelf_stone(&name)?,
                workshop: desk.workshop()?,
                lines: desk.shop().ledger(&page)?,
                orders: desk.shop().documents(&asked)?,
            };
            desk.begin_counting()?;
            Ok::<_, DeskError>(facts)
        })
        .await
}

async fn whole(
    state: &State,
    shell: &Shell,
    who: &Who,
    name: &str,
    before: Option<EntryId>,
    draft: &Draft,
    typed: &Typed,
) -> Result<Markup, Problem> {
    let facts = facts(state, name, before).await?;
    let Facts { stone, lines, .. } = &facts;
    let mut shown = vec![
        Figure::new("on the shelf", number(stone.on_hand)),
        Figure::new("kept for orders", number(stone.reserved)),
        Figure::new("free", number(stone.free())),
        Figure::new("open orders need", number(stone.needed)),
    ];
    if stone.missing > 0 {
        shown.push(Figure::new("short", number(stone.missing)));
    }
    let lots: Vec<String> = stone.lots.iter().map(|l| l.lot.clone()).collect();
    let body = html! {
        div.order-head {
            p.above { a href="/shelf" { "Shelf" } }
            h1 {
                @if let Some(known) = &stone.known { (view::swatch(&known.colour)) }
                span.letters { (stone.mark) } " " (stone.name)
            }
        }
        (ways(""))
        (view::figures(&shown))
        @if stone.on_hand < 0 {
            div.notice.warning { p { strong { "More went than was known of: " } "count what is there." } }
        }
        @if stone.on_hand < stone.reserved {
            div.notice.warning { p { strong { "Orders keep more than is there: " } "count, buy, or keep less." } }
        }
        (lots_of(stone))
        section.moves aria-labelledby="moves" {
            h2 #moves { "What happened" }
            datalist id="lots" { @for lot in lots.iter().filter(|l| !l.is_empty()) { option value=(lot) {} } }
            @for (word, label, sort) in SORTS { (move_form(&facts, who, draft, word, label, *sort)?) }
            (weigh::form(name, who, &nonce()?, &lots, draft))
        }
        (about::about(&facts, draft, typed)?)
        section aria-labelledby="ledger" {
            h2 #ledger { "Ledger" }
            (ledger::lines_of(state, lines, &format!("{}?before=", href(name)), false))
            @if before.is_some() { p { a href=(href(name)) { "The last lines" } } }
        }
    };
    Ok(shell.page(&stone.name, Some(Here::Shelf), &body))
}

fn lots_of(stone: &ShelfStone) -> Markup {
    html! {
        @if !stone.lots.is_empty() {
            section aria-labelledby="of-lots" {
                h2 #of-lots { "Lots" }
                div.table tabindex="0" role="group" aria-label={ "Lots of " (stone.name) } {
                    table {
                        thead { tr { th { "Lot" } th.n { "On the shelf" } th.n { "Kept for orders" } th.n { "Free" } th.n { "Price of one" } } }
                        tbody { @for lot in &stone.lots {
                            tr {
                                th scope="row" { @if lot.lot.is_empty() { span.hint { "without a lot" } } @else { (lot.lot) } }
                                td.n { (number(lot.on_hand)) } td.n { (number(lot.reserved)) } td.n { (number(lot.free())) }
                                td.n { (lot.unit_price.as_deref().unwrap_or("")) }
                            }
                        } }
                    }
                }
            }
        }
    }
}

/// The form of one sort of move.
fn move_form(
    facts: &Facts,
    who: &Who,
    draft: &Draft,
    word: &str,
    label: &str,
    sort: MoveSort,
) -> Result<Markup, Problem> {
    let id = |key: &str| format!("{word}-{key}");
    let value = |key: &str| draft.value(word, key);
    // Sent again after a mistake it is still the same move.
    let nonce = match value("nonce") {
        "" => nonce()?,
        same => same.to_owned(),
    };
    let received = sort == MoveSort::Received;
    let for_order =
        matches!(sort, MoveSort::Reserved | MoveSort::Released | MoveSort::Used | MoveSort::Lost);
    let pack = facts.stone.known.as_ref().and_then(|k| k.pack);
    let amount = if sort == MoveSort::Counted { "How many lie there" } else { "How many" };
    Ok(html! {
        details.card open[draft.what == word] {
            summary { (label) }
            @if draft.what == word { (draft.trouble()) }
            form method="post" action="/shelf/moves" {
                input type="hidden" name="nonce" value=(nonce);
                input type="hidden" name="what" value=(word);
                input type="hidden" name="stone" value=(facts.stone.name);
                div.fields {
                    div.field {
                        label for=(id("amount")) { (amount) }
                        input id=(id("amount")) name="amount" inputmode="numeric" autocomplete="off" required value=(value("amount"));
                    }
                    @if received || sort == MoveSort::Counted {
                        div.field {
                            label for=(id("unit")) { "In" }
                            select id=(id("unit")) name="unit" {
                                option value="stones" { "stones" }
                                @if let Some(pack) = pack { option value="packs" selected[value("unit") == "packs"] { "packs of " (pack) } }
                            }
                        }
                    }
                    div.field {
                        label for=(id("lot")) { "Lot" }
                        input id=(id("lot")) name="lot" list="lots" autocomplete="off" value=(value("lot"));
                        p.hint { @if received { "As the bag says it; each receipt may be a lot of its own." } @else { "Empty for stones without one." } }
                    }
                    @if received {
                        div.field {
                            label for=(id("price")) { "Price of one stone" }
                            input id=(id("price")) name="unit_price" inputmode="decimal" autocomplete="off" value=(value("unit_price"));
                        }
                        div.field {
                            label for=(id("supplier")) { "From" }
                            input id=(id("supplier")) name="supplier" autocomplete="off" value=(value("supplier"));
                        }
                    }
                    @if for_order { (order_fields(facts, &value, word, sort)) }
                    div.field {
                        label for=(id("why")) { "Why" }
                        input id=(id("why")) name="why" autocomplete="off" value=(value("why"));
                    }
                    div.field {
                        label for=(id("who")) { "Who" }
                        input id=(id("who")) name="who" maxlength="60" value=(if value("who").is_empty() { &who.0 } else { value("who") });
                        p.hint { "Remembered on this device; may stay empty." }
                    }
                }
                div.actions { button.main { "Write it down" } }
                @if sort == MoveSort::Reserved {
                    p.hint { "An order's own page of stones to buy keeps at once what its plan takes, one lot to a copy." }
                }
            }
        }
    })
}

fn order_fields<'a>(
    facts: &Facts,
    value: &dyn Fn(&str) -> &'a str,
    word: &str,
    sort: MoveSort,
) -> Markup {
    let needed = matches!(sort, MoveSort::Reserved | MoveSort::Released);
    let (order, piece) = (format!("{word}-order"), format!("{word}-piece"));
    html! {
        div.field {
            label for=(order) { "For the order" @if needed { span.hint { " (needed)" } } }
            select id=(order) name="order" required[needed] {
                option value="" { "none" }
                @for o in &facts.orders { option value=(o.id) selected[value("order") == o.id.to_string()] { (o.name) } }
            }
        }
        div.field {
            label for=(piece) { "For its piece" }
            input id=(piece) name="piece" autocomplete="off" value=(value("piece"));
            p.hint { "May stay empty." }
        }
    }
}
