//! A quote as plain text, for the customer: no cost of the maker's stands in it.

use super::explain::per_cent;
use super::{PiecePrice, Price};
use jiff::civil::Date;
use rust_decimal::Decimal;
use textwrap::core::display_width;
use units::grouped;

/// Columns of a quote: fits a letter and an e-mail.
const COLUMNS: usize = 72;
/// A name is never cut narrower than this.
const NAME_MIN: usize = 16;

/// What a quote says beside its prices.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Quote {
    /// What it is for.
    pub title: String,
    /// Who asked.
    pub customer: Option<String>,
    /// The day on which the order can be handed over.
    pub ready_by: Option<Date>,
    /// Sentences that follow the prices.
    pub notes: Vec<String>,
}

/// The quote of an order: what, how many, price, tax, deposit, balance, ready by, validity.
/// Lines of at most 72 columns, as wide as a terminal shows them; letters of every script stay as
/// they are, control characters become spaces.
pub fn quote_text(price: &Price, quote: &Quote) -> String {
    let mut lines = wrapped(&format!("Quote: {}", quote.title), COLUMNS);
    if let Some(customer) = &quote.customer {
        lines.extend(wrapped(&format!("For: {customer}"), COLUMNS));
    }
    lines.push(format!("Date: {}", price.quoted_on));
    lines.push(format!("Valid until: {}", price.valid_until));
    if let Some(day) = quote.ready_by {
        lines.push(format!("Ready by: {day}"));
        lines.push("          if the order is placed on the day of this quote".to_owned());
    }
    lines.push(String::new());
    lines.extend(table(price));
    for note in &quote.notes {
        lines.push(String::new());
        lines.extend(wrapped(note, COLUMNS));
    }
    let trimmed = lines.iter().map(|l| l.trim_end());
    trimmed.flat_map(|l| [l, "\n"]).collect()
}

/// Pieces, then totals. Amounts are in the currency named at the head of the last column.
fn table(price: &Price) -> Vec<String> {
    let head = ["Copies".to_owned(), "Each".into(), price.currency.clone()];
    let cells = |p: &PiecePrice| [grouped(p.copies.into()), amount(p.each), amount(p.net)];
    let totals = totals(price);
    let mut widths = head.each_ref().map(String::len);
    for row in price.pieces.iter().map(cells) {
        (0..3).for_each(|i| widths[i] = widths[i].max(row[i].len()));
    }
    widths[2] = totals.iter().map(|(_, amount)| amount.len()).fold(widths[2], usize::max);
    let name_width = COLUMNS.saturating_sub(widths.iter().sum::<usize>() + 6).max(NAME_MIN);
    let row = |name: &str, cells: &[String; 3]| {
        let mut names = wrapped(name, name_width);
        let first = names.first().cloned().unwrap_or_default();
        let first = padded(&first, name_width);
        let line = format!(
            "{first}  {:>w0$}  {:>w1$}  {:>w2$}",
            cells[0],
            cells[1],
            cells[2],
            w0 = widths[0],
            w1 = widths[1],
            w2 = widths[2]
        );
        match names.first_mut() {
            Some(name) => *name = line,
            None => names.push(line),
        }
        names
    };
    let rule = "-".repeat(name_width + widths.iter().sum::<usize>() + 6);
    let mut lines = row("Piece", &head);
    lines.push(rule.clone());
    lines.extend(price.pieces.iter().flat_map(|p| row(&p.piece, &cells(p))));
    lines.push(rule);
    let amount_from = name_width + widths[0] + widths[1] + 6;
    let wide = amount_from - 2;
    lines.extend(
        totals
            .iter()
            .map(|(name, amount)| format!("{}  {amount:>w2$}", padded(name, wide), w2 = widths[2])),
    );
    lines
}

fn totals(price: &Price) -> Vec<(String, String)> {
    let charged = &price.charged;
    let mut rows = vec![];
    let mut row = |name: String, of: Decimal| rows.push((name, amount(of)));
    if let Some(rush) = price.rush.as_ref().filter(|r| r.applies) {
        row("Rush".into(), rush.charge);
    }
    if price.tax_share.is_zero() {
        row("Total".into(), charged.gross);
    } else {
        row("Total before tax".into(), charged.net);
        row(format!("Tax {}", per_cent(price.tax_share)), charged.tax);
        row("Total with tax".into(), charged.gross);
    }
    if !charged.deposit.is_zero() {
        row(
            format!("Deposit {}, before work begins", per_cent(price.deposit_share)),
            charged.deposit,
        );
        row("Balance, on delivery".into(), charged.balance);
    }
    rows
}

/// An amount with a comma between thousands: `1,215.60`.
pub(super) fn amount(amount: Decimal) -> String {
    let text = amount.abs().to_string();
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let sign = if amount.is_sign_negative() && !amount.is_zero() { "-" } else { "" };
    format!("{sign}{}{rest}", whole.parse().map_or_else(|_| whole.to_owned(), grouped))
}

/// With spaces up to so many columns.
fn padded(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(display_width(text))))
}

/// Characters that move the cursor, break lines or turn the direction of writing.
fn is_control(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Text without control characters, broken at spaces into lines of at most `columns`; a longer word
/// is cut.
fn wrapped(text: &str, columns: usize) -> Vec<String> {
    let plain = text.replace(is_control, " ");
    textwrap::wrap(&plain, columns).into_iter().map(|l| l.into_owned()).collect()
}
