//! Papers of an order as PDF, made for this workshop's printer.

use crate::{Desk, DeskError, Opened};
use app::laying::{LaidOrder, LaidPiece};
use app::plan;
use lay::Watch;
use paper::{LabelSheet, Light, Measured, Notation, Options, OrderPaper, PaperError, PaperSize};
use paper::{Papers, Placing, Use};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::str::FromStr;

/// A paper that can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Printable {
    /// Sheets to place stones by.
    Placing(Use),
    /// One of the order's other papers.
    Order(OrderPaper),
    /// A page to measure the printer by.
    TestPage,
}

impl Printable {
    /// All of them, in the order in which a maker meets them.
    pub fn all() -> impl Iterator<Item = Printable> {
        let placing = Use::ALL.into_iter().map(Printable::Placing);
        let papers = OrderPaper::ALL.into_iter().map(Printable::Order);
        placing.chain(papers).chain([Printable::TestPage])
    }

    /// The one of this name.
    pub fn named(name: &str) -> Option<Printable> {
        Printable::all().find(|p| p.name() == name)
    }

    /// Its name, as it stands in addresses and file names.
    pub fn name(self) -> String {
        match self {
            Printable::Placing(usage) => format!("placing-{}", usage.name()),
            Printable::Order(paper) => paper.name().to_owned(),
            Printable::TestPage => "test-page".to_owned(),
        }
    }

    /// What it is, in a few words.
    pub fn purpose(self) -> &'static str {
        match self {
            Printable::Placing(Use::Under) => "to lie under a clear blank",
            Printable::Placing(Use::Beside) => "to lie beside a blank that hides it, rows numbered",
            Printable::Placing(Use::Behind) => "mirrored, for a clear blank set from its back",
            Printable::Placing(Use::Strips) => "a strip for each row, to cut out",
            Printable::Order(OrderPaper::Quote) => "quote for the customer, without private cost",
            Printable::Order(OrderPaper::Bench) => "bench sheet: kinds, glue, stretches to tick",
            Printable::Order(OrderPaper::Shopping) => "shopping list, by supplier",
            Printable::Order(OrderPaper::Gathering) => "gathering list, for the order and its kits",
            Printable::Order(OrderPaper::Labels) => "labels for bags and copies",
            Printable::Order(OrderPaper::Care) => "care cards, to cut out",
            Printable::Order(OrderPaper::Calendar) => "calendar, day by day",
            Printable::Order(OrderPaper::Light(Light::Table)) => {
                "outlines for a light table, a page for each piece"
            }
            Printable::Order(OrderPaper::Light(Light::Projector { mirrored: false })) => {
                "light outlines on black, for a projector"
            }
            Printable::Order(OrderPaper::Light(Light::Projector { mirrored: true })) => {
                "light outlines on black, left and right changed over"
            }
            Printable::TestPage => "test page, to measure the printer by",
        }
    }
}

/// How the workshop prints, as it was typed; what is empty is as usual.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Printing {
    /// The paper: `a4` or `letter`; usually A4.
    #[serde(default)]
    pub sheet: String,
    /// How numbers and days are written, by tag: `en`, `de`, …; usually `en`.
    #[serde(default)]
    pub notation: String,
    /// What the bars of the test page measure, mm: `98.6`, or across x down; usually 100.
    #[serde(default)]
    pub measured: String,
    /// The sheet of labels, by name or by its measures; usually one that fits the paper.
    #[serde(default)]
    pub labels: String,
}

/// The same, read.
struct Read {
    size: PaperSize,
    notation: Notation,
    measured: Measured,
    labels: LabelSheet,
}

impl Printing {
    fn read(&self) -> Result<Read, DeskError> {
        let size = match self.sheet.trim() {
            "" => PaperSize::A4,
            name => PaperSize::ALL
                .into_iter()
                .find(|s| s.name().eq_ignore_ascii_case(name))
                .ok_or_else(|| {
                    DeskError::unfit(format!("no such paper: `{name}`"), "take a4 or letter")
                })?,
        };
        let labels = match size {
            PaperSize::A4 => LabelSheet::A4_3X8,
            PaperSize::Letter => LabelSheet::LETTER_3X10,
        };
        Ok(Read {
            size,
            notation: typed(&self.notation)?.unwrap_or(Notation::HOUSE),
            measured: typed(&self.measured)?.unwrap_or(Measured::TRUE),
            labels: typed(&self.labels)?.unwrap_or(labels),
        })
    }
}

/// What was typed, if anything was.
fn typed<T: FromStr<Err: std::fmt::Display>>(text: &str) -> Result<Option<T>, DeskError> {
    match text.trim() {
        "" => Ok(None),
        text => match text.parse::<T>() {
            Ok(value) => Ok(Some(value)),
            Err(e) => Err(DeskError::unfit(e.to_string(), "mend it, or leave it empty")),
        },
    }
}

/// The ways to write numbers and days: tag, and an example.
pub fn notations() -> impl Iterator<Item = (&'static str, String)> {
    Notation::ALL.into_iter().map(|n| (n.tag, n.example()))
}

/// A paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PrintedPaper {
    /// Its name, safe on every disk.
    pub name: String,
    /// PDF.
    pub pdf: Vec<u8>,
}

const KEYS: [&str; 4] = ["print.sheet", "print.notation", "print.measured", "print.labels"];

impl Desk {
    /// How the workshop prints.
    ///
    /// # Errors
    /// The shop's.
    pub fn printing(&self) -> Result<Printing, DeskError> {
        let kept = |key: &str| Ok::<_, DeskError>(self.shop.preference(key)?.unwrap_or_default());
        let [sheet, notation, measured, labels] = KEYS;
        Ok(Printing {
            sheet: kept(sheet)?,
            notation: kept(notation)?,
            measured: kept(measured)?,
            labels: kept(labels)?,
        })
    }

    /// Prints so from now on.
    ///
    /// # Errors
    /// Something of it cannot be read, and nothing is kept; the shop's.
    pub fn set_printing(&self, printing: &Printing) -> Result<(), DeskError> {
        printing.read()?;
        let Printing { sheet, notation, measured, labels } = printing;
        for (key, text) in KEYS.into_iter().zip([sheet, notation, measured, labels]) {
            self.shop.set_preference(key, Some(text.trim()).filter(|t| !t.is_empty()))?;
        }
        Ok(())
    }

    /// A paper of an order; placing sheets of one piece alone if its number, from 1, is given.
    ///
    /// # Errors
    /// There is no such piece, no plan or no price for it, it would be too many pages; the watcher
    /// stopped it; the shop's.
    pub fn paper(
        &self,
        opened: &Opened,
        wanted: Printable,
        piece: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<PrintedPaper, DeskError> {
        let read = self.printing()?.read()?;
        let made = match wanted {
            Printable::TestPage => {
                paper::test_page(read.size, Measured::TRUE).map(|printed| printed.pdf)
            }
            Printable::Placing(usage) => {
                let laid = self.laid_for_paper(opened, piece, watch)?;
                let stretches = plan::stretches(&laid)?;
                let Read { size, measured, .. } = read;
                let placing = Placing { usage, size, copies: false, measured };
                let _one = self.at_the_press();
                paper::placing(&laid, Some(&stretches), &placing, watch).map(|printed| printed.pdf)
            }
            Printable::Order(which) => {
                let plan = self.plan(opened, watch)?;
                let laid = self.lay_all(opened, watch)?;
                let options = self.options(&read)?;
                let _one = self.at_the_press();
                Papers::new(&laid, &plan, &options).set(which, watch).map(|set| set.pdf)
            }
        };
        let pdf = made.map_err(|e| unfit(&e))?;
        let of_piece = piece.map(|n| format!("-{n}")).unwrap_or_default();
        let name = format!("{}-{}{of_piece}.pdf", wanted.name(), opened.document.id);
        Ok(PrintedPaper { name, pdf })
    }

    fn laid_for_paper(
        &self,
        opened: &Opened,
        piece: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<LaidOrder, DeskError> {
        let Some(number) = piece else { return self.lay_all(opened, watch) };
        let laid = self.lay(opened.piece(number)?, watch)?;
        let order = &opened.order;
        Ok(LaidOrder {
            name: order.name.clone(),
            pieces: vec![LaidPiece::clone(&laid)],
            kinds: order.kinds.clone(),
            terms: order.terms.clone(),
        })
    }

    fn options(&self, read: &Read) -> Result<Options, DeskError> {
        let words = self.quote_words()?;
        Ok(Options {
            size: read.size,
            notation: read.notation,
            today: self.today(),
            dated: true,
            number: None,
            words: paper::QuoteWords {
                from: words.from,
                customer: String::new(),
                terms: words.terms,
                care: words.care,
            },
            labels: read.labels,
        })
    }
}

fn unfit(error: &PaperError) -> DeskError {
    match error {
        PaperError::Stopped => DeskError::Stopped,
        PaperError::NoPrice => DeskError::unfit(
            error.to_string(),
            "name one on the page of the price, with what you charge",
        ),
        PaperError::TooManyPages { .. } => {
            DeskError::unfit(error.to_string(), "print the pieces one by one, from their pages")
        }
        PaperError::Measured(_) => DeskError::unfit(error.to_string(), "measure the test page"),
        PaperError::Set(_) => DeskError::Ours(error.to_string()),
    }
}
