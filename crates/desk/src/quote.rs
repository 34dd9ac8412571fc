//! The quote: what a customer is told, and nothing else.

use crate::{Desk, DeskError, Opened};
use app::plan::Plan;
use jiff::civil::Date;
use lay::Unwatched;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A quote. No cost of the maker's stands in it. Amounts are in `currency`.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Quote {
    /// The revision of the order that it is about.
    pub revision: i64,
    /// What it is for: the name of the order.
    pub title: String,
    /// Hash of the whole order's lay, as [`Desk::lay_hash`] has it.
    pub hash: String,
    /// Day of the quote.
    #[schemars(with = "String")]
    pub quoted_on: Date,
    /// Last day on which it holds.
    #[schemars(with = "String")]
    pub valid_until: Date,
    /// The day on which the order can be handed over.
    #[schemars(with = "String")]
    pub ready_by: Date,
    /// The pieces.
    pub pieces: Vec<QuotedPiece>,
    /// ISO 4217 code.
    pub currency: String,
    /// Decimals of its smallest coin.
    pub digits: u32,
    /// What haste costs on top, if it is offered: not part of the sums below.
    #[schemars(with = "Option<String>")]
    pub rush: Option<Decimal>,
    /// Before tax.
    #[schemars(with = "String")]
    pub net: Decimal,
    /// Tax rate, as a part of 1.
    #[schemars(with = "String")]
    pub tax_share: Decimal,
    /// Tax.
    #[schemars(with = "String")]
    pub tax: Decimal,
    /// What is to be paid.
    #[schemars(with = "String")]
    pub gross: Decimal,
    /// Deposit, as a part of 1.
    #[schemars(with = "String")]
    pub deposit_share: Decimal,
    /// What is paid before the work begins.
    #[schemars(with = "String")]
    pub deposit: Decimal,
    /// The rest.
    #[schemars(with = "String")]
    pub balance: Decimal,
}

/// One piece of a quote.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct QuotedPiece {
    /// Its name.
    pub name: String,
    /// Its number in the order, from 1.
    pub number: usize,
    /// How many copies.
    pub copies: u32,
    /// Width of the blank's box, mm.
    pub width_mm: f64,
    /// Its height, mm.
    pub height_mm: f64,
    /// Stones of one copy.
    pub stones: u64,
    /// The names of its kinds.
    pub kinds: Vec<String>,
    /// Price of a copy, before tax.
    #[schemars(with = "String")]
    pub each: Decimal,
    /// All copies, before tax.
    #[schemars(with = "String")]
    pub net: Decimal,
}

/// What stands on every quote of the workshop, in its own words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct QuoteWords {
    /// Who makes it, and how to reach them.
    pub from: String,
    /// What is agreed beside the price.
    pub terms: String,
    /// How the finished thing is cared for.
    pub care: String,
}

const TERMS: &str = "Every piece is made by hand. Colours may differ a little from lot to lot and \
from screen and paper; places and numbers of stones are as pictured. Work begins when the deposit \
is paid. What is changed after the yes may change price and day.";
const CARE: &str = "Wipe with a soft, damp cloth. No soaking, no dishwasher, no solvents. Keep away \
from heat and from edges that catch. Loose stones are small parts: nothing for children under \
three. A stone that comes off can be set again: keep it, and tell us.";
/// Longest text of each, in characters.
const MOST_CHARS: usize = 4000;

impl Default for QuoteWords {
    fn default() -> QuoteWords {
        QuoteWords { from: String::new(), terms: TERMS.to_owned(), care: CARE.to_owned() }
    }
}

impl Desk {
    /// The quote of an order by its plan.
    ///
    /// # Errors
    /// The order names no currency; the shop's.
    pub fn quote(&self, opened: &Opened, plan: &Plan) -> Result<Quote, DeskError> {
        let Some(price) = &plan.price else {
            return Err(DeskError::unfit(
                "the order names no currency, so there is no price",
                "name one on the page of the price, with what you charge",
            ));
        };
        let mut pieces = vec![];
        for (i, (asked, priced)) in opened.order.pieces.iter().zip(&price.pieces).enumerate() {
            let laid = self.lay(asked, &Unwatched)?;
            let size = asked.piece.blank.bounds();
            pieces.push(QuotedPiece {
                name: priced.piece.clone(),
                number: i + 1,
                copies: priced.copies,
                width_mm: size.width(),
                height_mm: size.height(),
                stones: laid.lay.stones.len() as u64,
                kinds: laid.kinds_used().map(|(k, _)| k.name.clone()).collect(),
                each: priced.each,
                net: priced.net,
            });
        }
        let paid = &price.charged;
        Ok(Quote {
            revision: opened.revision.id.0,
            title: opened.order.name.clone(),
            hash: self.lay_hash(&opened.order, &Unwatched)?,
            quoted_on: price.quoted_on,
            valid_until: price.valid_until,
            ready_by: plan.calendar.ship_on,
            pieces,
            currency: price.currency.clone(),
            digits: price.digits,
            rush: price.rush.as_ref().filter(|r| !r.applies).map(|r| r.charge),
            net: paid.net,
            tax_share: price.tax_share,
            tax: paid.tax,
            gross: paid.gross,
            deposit_share: price.deposit_share,
            deposit: paid.deposit,
            balance: paid.balance,
        })
    }

    /// What stands on every quote.
    ///
    /// # Errors
    /// The shop's.
    pub fn quote_words(&self) -> Result<QuoteWords, DeskError> {
        let usual = QuoteWords::default();
        let kept = |key: &str| self.shop.preference(key);
        Ok(QuoteWords {
            from: kept("quote.from")?.unwrap_or(usual.from),
            terms: kept("quote.terms")?.unwrap_or(usual.terms),
            care: kept("quote.care")?.unwrap_or(usual.care),
        })
    }

    /// Puts other words on every quote from now on. What is empty becomes as usual.
    ///
    /// # Errors
    /// A text is too long; the shop's.
    pub fn set_quote_words(&self, words: &QuoteWords) -> Result<(), DeskError> {
        let all = [("from", &words.from), ("terms", &words.terms), ("care", &words.care)];
        if all.iter().any(|(_, text)| text.chars().count() > MOST_CHARS) {
            return Err(DeskError::unfit(
                "a text of the quote is too long",
                format!("at most {MOST_CHARS} letters fit"),
            ));
        }
        for (key, text) in all {
            let text = Some(text.trim()).filter(|t| !t.is_empty());
            self.shop.set_preference(&format!("quote.{key}"), text)?;
        }
        Ok(())
    }
}
