//! The quote: what a customer is told, and nothing else. No cost, hour or supplier gets in here.

use super::Papers;
use super::blocks::{Block, Blocks, Cell, Fact, Sum, Table, fact, figures, left, wide};
use super::picture::Shown;
use crate::PaperError;
use app::laying::LaidPiece;
use planning::price::Price;
use rust_decimal::Decimal;
use units::trimmed;

/// The room of a picture in the table, mm.
const PICTURE_MM: (f64, f64) = (34.0, 19.0);
/// Kinds that are named at a piece; of more only their number is said.
const MOST_KINDS: usize = 4;

/// What stands on a quote beside the order, in the workshop's own words. What is empty is left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct QuoteWords {
    /// Who makes it, and how to reach them.
    pub from: String,
    /// Who asked.
    pub customer: String,
    /// What is agreed beside the price.
    pub terms: String,
    /// How the finished thing is cared for.
    pub care: String,
}

/// The quote of an order that has a price.
pub(super) fn quote(papers: &Papers<'_>) -> Result<Blocks, PaperError> {
    let price = papers.plan.price.as_ref().ok_or(PaperError::NoPrice)?;
    let words = &papers.options.words;
    let mut blocks = vec![];
    if !words.from.trim().is_empty() {
        blocks.push(Block::prose(&words.from));
    }
    blocks.push(Block::Table(lines(papers, price)));
    if let Some(rush) = price.rush.as_ref().filter(|r| !r.applies) {
        let more = amount(papers, price, rush.charge);
        let said = format!("If it has to be quicker: {more} {} more, before tax.", price.currency);
        blocks.push(Block::prose(&said));
    }
    for (head, text) in [("Terms", &words.terms), ("Care", &words.care)] {
        if !text.trim().is_empty() {
            blocks.extend([Block::heading(head), Block::prose(text)]);
        }
    }
    Ok(Blocks {
        kind: "Quote",
        name: papers.laid.name.clone(),
        facts: facts(papers, price)?,
        blocks,
    })
}

fn facts(papers: &Papers<'_>, price: &Price) -> Result<Vec<Fact>, PaperError> {
    let n = papers.options.notation;
    let mut facts = papers.dated();
    let customer = papers.options.words.customer.trim();
    if !customer.is_empty() {
        facts.insert(0, fact("For", customer));
    }
    facts.push(fact("Valid until", n.day(price.valid_until)));
    facts.push(fact("Ready by", n.day(papers.plan.calendar.ship_on)));
    facts.push(fact("Design", papers.design()?));
    Ok(facts)
}

fn amount(papers: &Papers<'_>, price: &Price, amount: Decimal) -> String {
    papers.options.notation.money(amount, price.digits)
}

/// The pieces, then what they come to.
fn lines(papers: &Papers<'_>, price: &Price) -> Table {
    let n = papers.options.notation;
    let each = format!("Each, {}", price.currency);
    let mut table = Table::new(vec![
        left("Picture"),
        wide("Piece"),
        figures("Copies"),
        figures(each),
        figures(price.currency.clone()),
    ]);
    for (i, (piece, priced)) in papers.laid.pieces.iter().zip(&price.pieces).enumerate() {
        table.row(vec![
            Cell::Picture(Shown::new(i, piece, PICTURE_MM)),
            Cell::Under { text: piece.asked.piece.name.clone(), under: about(papers, piece) },
            Cell::text(n.count(priced.copies.into())),
            Cell::text(amount(papers, price, priced.each)),
            Cell::text(amount(papers, price, priced.net)),
        ]);
    }
    let mut sum = |name: String, value: Decimal, look: Sum| {
        let (name, value) = (Cell::text(name), Cell::text(amount(papers, price, value)));
        table.sum(vec![Cell::empty(), name, Cell::empty(), Cell::empty(), value], look);
    };
    let paid = &price.charged;
    if let Some(rush) = price.rush.as_ref().filter(|r| r.applies) {
        sum("In haste".to_owned(), rush.charge, Sum::Ruled);
    }
    sum("Before tax".to_owned(), paid.net, Sum::Ruled);
    sum(format!("Tax, {}", n.percent(price.tax_share)), paid.tax, Sum::Plain);
    sum("To pay".to_owned(), paid.gross, Sum::Total);
    let share = n.percent(price.deposit_share);
    sum(format!("Deposit before work begins, {share}"), paid.deposit, Sum::Ruled);
    sum("Balance when it is handed over".to_owned(), paid.balance, Sum::Plain);
    table
}

/// How large a piece is, and what is on it.
fn about(papers: &Papers<'_>, piece: &LaidPiece) -> String {
    let n = papers.options.notation;
    let b = piece.asked.piece.blank.bounds();
    let (w, h) = (n.number(b.width(), 1), n.number(b.height(), 1));
    let stones = n.count(piece.lay.stones.len() as u64);
    let names: Vec<&str> = piece.kinds_used().map(|(k, _)| k.name.as_str()).collect();
    let kinds = if names.len() > MOST_KINDS {
        format!("{} kinds", trimmed(names.len() as f64, 0))
    } else {
        names.join(", ")
    };
    format!("{w} × {h} mm · {stones} stones · {kinds}")
}
