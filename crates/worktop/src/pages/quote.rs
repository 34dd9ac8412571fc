//! The quote, to be printed for the customer, and the customer's yes.

use crate::pages::plan::{PATIENCE, no_piece};
use crate::pages::{go, order, paper};
use crate::problem::{Problem, sentence};
use crate::state::{State, Told};
use crate::view::{self, Here, Shell};
use axum::Form;
use axum::extract::{Path, State as Ask};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use desk::{ApprovalState, DeskError, NewYes, Opened, Quote, QuoteWords, QuotedPiece, Yes};
use maud::{Markup, html};
use serde::Deserialize;
use shop::DocumentId;
use std::sync::Arc;
use units::{grouped, trimmed};

/// So much of a hash is shown: enough to tell two lays apart by eye.
const SHORT: usize = 12;

/// What was typed and could not be taken, with what is wrong.
type Wrong<'a> = Option<(&'a NewYes, &'a Problem)>;

struct Answered {
    opened: Opened,
    quote: Option<Result<Quote, Problem>>,
    state: ApprovalState,
    words: QuoteWords,
    nonce: String,
}

/// `GET /orders/{order}/quote`
pub(super) async fn page(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
) -> Result<Markup, Problem> {
    render(&state, &shell, DocumentId(id), None).await
}

async fn render(
    state: &State,
    shell: &Shell,
    id: DocumentId,
    wrong: Wrong<'_>,
) -> Result<Markup, Problem> {
    let desk = Arc::clone(state.desk());
    let answered = state
        .at_desk(move |_| {
            let opened = desk.open(id)?;
            let quote = match opened.order.pieces.is_empty() {
                true => None,
                false => desk.begin_plan(&opened)?.wait(PATIENCE).map(|plan| match plan {
                    Ok(plan) => desk.quote(&opened, &plan).map_err(Problem::from),
                    Err(wrong) => {
                        let problem = Problem::unfit(wrong.to_string());
                        Err(match wrong.hint() {
                            Some(hint) => problem.hint(hint),
                            None => problem,
                        })
                    }
                }),
            };
            let state = desk.approval_state(&opened)?;
            let nonce = format!("yes {id} {}", desk.shop().approvals(id)?.len());
            Ok::<_, DeskError>(Answered { quote, state, words: desk.quote_words()?, nonce, opened })
        })
        .await?;
    let opened = &answered.opened;
    let body = html! {
        div.no-print { (order::head(opened, Some(order::Part::Quote))) }
        (paper::of_part(opened.document.id, order::Part::Quote))
        @match &answered.quote {
            Some(Ok(quote)) => {
                (state_notice(state, opened.document.id, &answered.state, false))
                (sheet(state, opened, quote, &answered))
                (yes_form(opened, quote, &answered, wrong))
            }
            Some(Err(problem)) => div.notice.serious {
                p { strong { "There is no quote: " } (problem.title) "." }
                @if let Some(detail) = &problem.detail { p.hint { (sentence(detail)) "." } }
                p { a href={ "/orders/" (opened.document.id) "/price" } { "To the price" } }
            },
            None if opened.order.pieces.is_empty() => (no_piece(opened)),
            None => (view::later("The order is being planned.")),
        }
        (words_form(opened, &answered.words))
    };
    Ok(shell.page(&format!("Quote · {}", opened.document.name), Some(Here::Orders), &body))
}

/// What the customer gets.
fn sheet(state: &State, opened: &Opened, q: &Quote, answered: &Answered) -> Markup {
    let money = |a: rust_decimal::Decimal| app::money(a, q.digits);
    let words = &answered.words;
    let percent =
        |p: rust_decimal::Decimal| (p * rust_decimal::Decimal::ONE_HUNDRED).round_dp(2).normalize();
    html! {
        article.quote {
            header {
                @if !words.from.trim().is_empty() { p.from { (lines(&words.from)) } }
                h2 { "Quote: " (q.title) }
                dl.facts {
                    dt { "Date" } dd { (view::day(q.quoted_on)) }
                    dt { "Holds until" } dd { (view::day(q.valid_until)) }
                    dt { "Ready by" } dd { (view::day(q.ready_by)) ", if it is ordered on the day of this quote" }
                }
            }
            ul.quoted {
                @for p in &q.pieces { (piece(opened, p)) }
            }
            div.table tabindex="0" role="group" aria-label="Prices" {
                table {
                    caption { "Prices in " (q.currency) }
                    thead { tr { th { "Piece" } th.n { "Copies" } th.n { "Each" } th.n { "All" } } }
                    tbody {
                        @for p in &q.pieces { tr { th scope="row" { (p.name) } td.n { (p.copies) } td.n { (money(p.each)) } td.n { (money(p.net)) } } }
                        @if !q.tax_share.is_zero() {
                            tr { th scope="row" colspan="3" { "Before tax" } td.n { (money(q.net)) } }
                            tr { th scope="row" colspan="3" { "Tax, " (percent(q.tax_share)) " %" } td.n { (money(q.tax)) } }
                        }
                        tr.sum { th scope="row" colspan="3" { "To pay" } td.n { strong { (money(q.gross)) } } }
                        @if !q.deposit.is_zero() {
                            tr { th scope="row" colspan="3" { "Deposit, " (percent(q.deposit_share)) " %, before work begins" } td.n { (money(q.deposit)) } }
                            tr { th scope="row" colspan="3" { "Balance, on delivery" } td.n { (money(q.balance)) } }
                        }
                        @if let Some(rush) = q.rush { tr { th scope="row" colspan="3" { "If it is wanted in haste, on top before tax" } td.n { (money(rush)) } } }
                    }
                }
            }
            section { h3 { "Terms" } p { (lines(&words.terms)) } }
            section { h3 { "Care" } p { (lines(&words.care)) } }
            p.hint { "Design " code { (short(&q.hash)) } ": as long as this mark is the same, so is every stone in its place." }
            @if let ApprovalState::Stands { yes } = &answered.state {
                p { strong { "Agreed by " (yes.who) " on " (said_on(state, yes)) @if !yes.how.is_empty() { ", " (yes.how) } "." } }
            } @else {
                p.sign { span { "Day" } span { "Name" } span { "Agreed" } }
            }
        }
    }
}

fn piece(opened: &Opened, p: &QuotedPiece) -> Markup {
    html! {
        li {
            img src={ "/orders/" (opened.document.id) "/pieces/" (p.number) "/picture.svg?at=" (opened.revision.id) } alt={ "Picture of " (p.name) };
            div {
                h3 { (p.name) }
                p.hint {
                    (p.copies) @if p.copies == 1 { " copy" } @else { " copies" } ", "
                    (trimmed(p.width_mm, 1)) " × " (trimmed(p.height_mm, 1)) " mm, "
                    (grouped(p.stones)) @if p.copies == 1 { " stones: " } @else { " stones each: " } (p.kinds.join(", "))
                }
            }
        }
    }
}

fn lines(text: &str) -> Markup {
    html! { @for (i, line) in text.lines().enumerate() { @if i > 0 { br; } (line) } }
}

fn short(hash: &str) -> &str {
    hash.get(..SHORT).unwrap_or(hash)
}

fn said_on(state: &State, yes: &Yes) -> String {
    state.desk().local(yes.at_ms).strftime("%a %-d %b %Y, %H:%M").to_string()
}

/// How it stands with the customer's yes; in short, or nothing of an open one, where `brief`.
pub(super) fn state_notice(
    state: &State,
    order: DocumentId,
    approval: &ApprovalState,
    brief: bool,
) -> Markup {
    let more =
        html! { @if brief { " " a href={ "/orders/" (order) "/quote" } { "To the quote" } } };
    let said = |yes: &Yes| {
        html! {
            "Yes by " strong { (yes.who) } " on " (said_on(state, yes)) @if !yes.how.is_empty() { " (" (yes.how) ")" }
            ", to " (yes.price) ", design " code { (short(&yes.hash)) } "."
            @if !yes.note.is_empty() && !brief { " " (yes.note) }
        }
    };
    html! {
        @match approval {
            ApprovalState::Open if brief => {}
            ApprovalState::Open => div.notice.no-print { p { "The customer has not said yes so far." } },
            ApprovalState::Stands { yes } => div.notice.good.no-print { p { (said(yes)) (more) } },
            ApprovalState::NotKnownYet { yes } => div.notice.no-print { p { (said(yes)) " Whether it still fits is known once the order is planned." (more) } },
            ApprovalState::Differs { yes, changed } => div.notice.warning.no-print {
                p { strong { "What stands now is not what the customer said yes to." } (more) }
                ul { @for c in changed { li { (view::said(&sentence(c))) } } }
                p { (said(yes)) }
                @if !brief { p.hint { "Take the changes back, or show the quote as it is now and write the new yes." } }
            },
            ApprovalState::Withdrawn { by, .. } => div.notice.warning.no-print {
                p { strong { "The yes was withdrawn" } " by " (by.who) " on " (state.desk().local(by.at_ms).strftime("%a %-d %b %Y, %H:%M")) @if !by.how.is_empty() { " (" (by.how) ")" } "." (more) }
                @if !by.note.is_empty() && !brief { p { (by.note) } }
            },
        }
    }
}

fn yes_form(opened: &Opened, q: &Quote, answered: &Answered, wrong: Wrong<'_>) -> Markup {
    let id = opened.document.id;
    let typed = wrong.map(|w| w.0);
    let text = |of: fn(&NewYes) -> &String| typed.map(of).cloned().unwrap_or_default();
    let standing = match &answered.state {
        ApprovalState::Stands { yes }
        | ApprovalState::Differs { yes, .. }
        | ApprovalState::NotKnownYet { yes } => Some(yes),
        _ => None,
    };
    let stands = matches!(answered.state, ApprovalState::Stands { .. });
    html! {
        div.actions.no-print { p.hint { "To print it, or keep it as a file: " kbd { "Ctrl" } " " kbd { "P" } ". Only the quote itself is printed." } }
        @if !stands {
            form.card.narrow.no-print #yes method="post" action={ "/orders/" (id) "/quote/yes" } {
                h2 { "The customer's yes" }
                @if let Some((_, problem)) = wrong {
                    div.notice.serious role="alert" {
                        p { strong { (sentence(&problem.title)) "." } }
                        @if let Some(hint) = &problem.detail { p.hint { (sentence(hint)) "." } }
                    }
                }
                p.hint { "It is kept with the day, the price and the design as they stand here; a later change says so." }
                input type="hidden" name="nonce" value=(answered.nonce);
                input type="hidden" name="hash" value=(q.hash);
                input type="hidden" name="price" value=(q.price());
                div.field { label for="who" { "Who said yes" } input id="who" name="who" required maxlength="200" autocomplete="off" value=(text(|y| &y.who)); }
                div.field {
                    label for="how" { "How" }
                    input id="how" name="how" maxlength="200" autocomplete="off" list="hows" value=(text(|y| &y.how)) placeholder="at the counter";
                    datalist id="hows" { option value="at the counter" {} option value="by letter" {} option value="on the phone" {} option value="by e-mail" {} }
                }
                div.field { label for="note" { "Note" } input id="note" name="note" maxlength="1000" autocomplete="off" value=(text(|y| &y.note)); }
                div.actions { button.main { "Write the yes" } }
            }
        }
        @if let Some(yes) = standing {
            details.no-print {
                summary { "The yes is withdrawn" }
                form.card.narrow method="post" action={ "/orders/" (id) "/quote/withdraw" } {
                    input type="hidden" name="yes" value=(yes.id);
                    p.hint { "The yes stays in the records, with its withdrawal." }
                    div.field { label for="withdrew" { "Who withdrew it" } input id="withdrew" name="who" required maxlength="200" value=(yes.who) autocomplete="off"; }
                    div.field { label for="withdrew-how" { "How" } input id="withdrew-how" name="how" maxlength="200" list="hows" autocomplete="off"; }
                    div.field { label for="withdrew-note" { "Note" } input id="withdrew-note" name="note" maxlength="1000" autocomplete="off"; }
                    div.actions { button.grave { "Write that it is withdrawn" } }
                }
            }
        }
    }
}

fn words_form(opened: &Opened, words: &QuoteWords) -> Markup {
    html! {
        details.no-print {
            summary { "What stands on every quote" }
            form.card.narrow method="post" action={ "/orders/" (opened.document.id) "/quote/words" } {
                div.field { label for="from" { "Who makes it, and how to reach you" } textarea id="from" name="from" rows="3" { "\n" (words.from) } }
                div.field { label for="terms" { "Terms" } textarea id="terms" name="terms" rows="5" { "\n" (words.terms) } }
                div.field { label for="care" { "Care" } textarea id="care" name="care" rows="5" { "\n" (words.care) } }
                p.hint { "An empty field becomes as usual. These words are no legal advice." }
                div.actions { button { "Keep" } }
            }
        }
    }
}

/// `POST /orders/{order}/quote/yes`
pub(super) async fn say_yes(
    Ask(state): Ask<State>,
    shell: Shell,
    Path(id): Path<i64>,
    Form(yes): Form<NewYes>,
) -> Result<Response, Problem> {
    let id = DocumentId(id);
    let sent = yes.clone();
    let done = state
        .at_desk(move |desk| {
            let opened = desk.open(id)?;
            let plan = desk.plan(&opened, &lay::Unwatched)?;
            let quote = desk.quote(&opened, &plan)?;
            desk.say_yes(&opened, &quote, &sent)
        })
        .await;
    match done {
        Ok(_) => {
            state.tell(Told::Order(id.0));
            Ok(go(&format!("/orders/{id}/quote"), "The yes is written down."))
        }
        Err(problem) if problem.status() == StatusCode::UNPROCESSABLE_ENTITY => {
            let page = render(&state, &shell, id, Some((&yes, &problem))).await?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        }
        Err(problem) => Err(problem),
    }
}

/// What a form says of a withdrawal.
#[derive(Deserialize)]
pub(super) struct Withdrawing {
    yes: i64,
    who: String,
    #[serde(default)]
    how: String,
    #[serde(default)]
    note: String,
}

/// `POST /orders/{order}/quote/withdraw`
pub(super) async fn withdraw(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(w): Form<Withdrawing>,
) -> Result<Response, Problem> {
    state
        .at_desk(move |desk| {
            desk.withdraw_yes(&desk.open(DocumentId(id))?, w.yes, &w.who, &w.how, &w.note)
        })
        .await?;
    state.tell(Told::Order(id));
    Ok(go(&format!("/orders/{id}/quote"), "The withdrawal is written down."))
}

/// `POST /orders/{order}/quote/words`
pub(super) async fn words(
    Ask(state): Ask<State>,
    Path(id): Path<i64>,
    Form(words): Form<QuoteWords>,
) -> Result<Response, Problem> {
    // A browser sends every line end as CR LF.
    let plain = |text: String| text.replace("\r\n", "\n");
    let words =
        QuoteWords { from: plain(words.from), terms: plain(words.terms), care: plain(words.care) };
    state.at_desk(move |desk| desk.set_quote_words(&words)).await?;
    Ok(go(&format!("/orders/{id}/quote"), "Kept."))
}
