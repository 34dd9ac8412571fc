//! Papers of an order beside its placing sheets: for the customer, the bench, the shop and the post.

mod bench;
mod blocks;
mod calendar;
mod care;
mod cells;
mod gathering;
mod label_sheet;
mod labels;
mod light;
mod notation;
mod picture;
mod quote;
mod shopping;
#[cfg(test)]
mod tests;

pub use label_sheet::{LabelBox, LabelSheet, LabelSheetError};
pub use notation::{NoNotation, Notation};
pub use quote::QuoteWords;

use crate::set::{Setting, own_number, set_with};
use crate::world::Template;
use crate::{PaperError, PaperSize};
use app::laying::{LaidOrder, LaidPiece};
use app::plan::Plan;
use blocks::{Fact, fact};
use cells::{CellPage, Cells};
use drawing::Light;
use jiff::civil::Date;
use lay::Watch;
use rayon::prelude::*;
use rust_decimal::Decimal;
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::cell::OnceCell;
use typst::foundations::Bytes;

const ORDER: Template = Template { name: "order.typ", text: include_str!("../typ/order.typ") };
const CELLS: Template = Template { name: "cells.typ", text: include_str!("../typ/cells.typ") };
/// So much of the hash of a lay is shown: as much as on the worktop's page.
const SHORT: usize = 12;

/// One of the papers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OrderPaper {
    /// For the customer: pieces, prices, terms, care.
    Quote,
    /// For the maker: kinds, glue, stretches, copies.
    Bench,
    /// By supplier: packs and adhesive.
    Shopping,
    /// Stones to lay ready, for the order and for kits.
    Gathering,
    /// For bags of kits and for copies.
    Labels,
    /// For whoever gets the finished thing.
    Care,
    /// Day by day.
    Calendar,
    /// Outlines to set by, on a light table or under a projector.
    Light(Light),
}

impl OrderPaper {
    /// All of them.
    pub const ALL: [OrderPaper; 10] = [
        OrderPaper::Quote,
        OrderPaper::Bench,
        OrderPaper::Shopping,
        OrderPaper::Gathering,
        OrderPaper::Labels,
        OrderPaper::Care,
        OrderPaper::Calendar,
        OrderPaper::Light(Light::Table),
        OrderPaper::Light(Light::Projector { mirrored: false }),
        OrderPaper::Light(Light::Projector { mirrored: true }),
    ];

    /// Its name, as it stands in file names.
    pub fn name(self) -> &'static str {
        match self {
            OrderPaper::Quote => "quote",
            OrderPaper::Bench => "bench",
            OrderPaper::Shopping => "shopping",
            OrderPaper::Gathering => "gathering",
            OrderPaper::Labels => "labels",
            OrderPaper::Care => "care",
            OrderPaper::Calendar => "calendar",
            OrderPaper::Light(Light::Table) => "light-table",
            OrderPaper::Light(Light::Projector { mirrored: false }) => "projector",
            OrderPaper::Light(Light::Projector { mirrored: true }) => "projector-mirrored",
        }
    }

    /// What its own numbers begin with, and its name in titles.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            OrderPaper::Quote => ("QU", "quote"),
            OrderPaper::Bench => ("BE", "bench sheet"),
            OrderPaper::Shopping => ("SH", "shopping list"),
            OrderPaper::Gathering => ("GA", "gathering list"),
            OrderPaper::Labels => ("LA", "labels"),
            OrderPaper::Care => ("CC", "care cards"),
            OrderPaper::Calendar => ("CA", "calendar"),
            OrderPaper::Light(Light::Table) => ("LT", "outlines for a light table"),
            OrderPaper::Light(Light::Projector { mirrored: false }) => {
                ("PR", "outlines for a projector")
            }
            OrderPaper::Light(Light::Projector { mirrored: true }) => {
                ("PM", "outlines for a projector, mirrored")
            }
        }
    }
}

/// What is wanted of the papers.
#[derive(Clone, Debug, PartialEq)]
pub struct Options {
    /// What they are printed on; labels have their own sheet.
    pub size: PaperSize,
    /// How numbers and days are written.
    pub notation: Notation,
    /// The day of the plan, on which stones are ordered.
    pub today: Date,
    /// Whether that day stands on the papers as theirs.
    pub dated: bool,
    /// The number of the document; if none is given, one made of what it shows.
    pub number: Option<String>,
    /// The workshop's own words.
    pub words: QuoteWords,
    /// The sheet that labels are printed on.
    pub labels: LabelSheet,
}

/// A paper that was set.
#[derive(Clone, Debug)]
pub struct SetPaper {
    /// The PDF.
    pub pdf: Vec<u8>,
    /// How many pages it has.
    pub pages: usize,
    /// Where its labels lie, if it has any.
    pub labels: Vec<LabelBox>,
}

/// Everything that papers of one order are made from; pictures are drawn once for all of them.
pub struct Papers<'a> {
    laid: &'a LaidOrder,
    plan: &'a Plan,
    options: &'a Options,
    pictures: OnceCell<Vec<Bytes>>,
    hash: OnceCell<String>,
}

impl<'a> Papers<'a> {
    /// Of a laid order and its plan.
    pub fn new(laid: &'a LaidOrder, plan: &'a Plan, options: &'a Options) -> Papers<'a> {
        Papers { laid, plan, options, pictures: OnceCell::new(), hash: OnceCell::new() }
    }

    /// One of them as PDF.
    ///
    /// # Errors
    /// The order has no price and a quote is asked for, there would be too many pages, the watcher
    /// stopped it, or the typesetter refused.
    pub fn set(&self, paper: OrderPaper, watch: &dyn Watch) -> Result<SetPaper, PaperError> {
        let blocks = match paper {
            OrderPaper::Quote => quote::quote(self)?,
            OrderPaper::Bench => bench::bench(self)?,
            OrderPaper::Shopping => shopping::shopping(self)?,
            OrderPaper::Gathering => gathering::gathering(self)?,
            OrderPaper::Calendar => calendar::calendar(self)?,
            OrderPaper::Labels => return self.set_labels(watch),
            OrderPaper::Light(light) => return light::set(self, light, watch),
            OrderPaper::Care => {
                let cells = care::care(self);
                return self.finish(paper, CELLS, self.size_mm(), &cells, &[], watch);
            }
        };
        let pictures = match paper {
            OrderPaper::Quote | OrderPaper::Bench => self.pictures(watch)?,
            _ => &[],
        };
        self.finish(paper, ORDER, self.size_mm(), &blocks, pictures, watch)
    }

    fn set_labels(&self, watch: &dyn Watch) -> Result<SetPaper, PaperError> {
        let placed = labels::labels(self)?;
        let mut pages = vec![];
        for (at, cell) in &placed {
            pages.resize_with(at.page, CellPage::default);
            if let Some(page) = pages.last_mut() {
                page.cells.push(cell.clone());
            }
        }
        let cells = Cells { pages, cuts: vec![], heading: None, foot: None };
        let size = self.options.labels.page_mm();
        let mut made = self.finish(OrderPaper::Labels, CELLS, size, &cells, &[], watch)?;
        made.labels = placed.into_iter().map(|(at, _)| at).collect();
        Ok(made)
    }

    /// Sets what a template reads.
    fn finish(
        &self,
        paper: OrderPaper,
        template: Template,
        (width_mm, height_mm): (f64, f64),
        body: &impl Serialize,
        pictures: &[Bytes],
        watch: &dyn Watch,
    ) -> Result<SetPaper, PaperError> {
        let wrong = |e: &dyn std::fmt::Display| PaperError::Set(e.to_string());
        let (prefix, kind) = paper.words();
        let title = format!("{}: {kind}", self.laid.name);
        let mut data =
            serde_json::json!({ "title": title, "width_mm": width_mm, "height_mm": height_mm });
        let body = serde_json::to_value(body).map_err(|e| wrong(&e))?;
        if let (Some(data), serde_json::Value::Object(body)) = (data.as_object_mut(), body) {
            data.extend(body);
        }
        let mut hash = Sha256::new();
        hash.update(self.hash()?);
        hash.update(data.to_string());
        let number = own_number(prefix, hash);
        let foot = self.foot(self.options.number.as_deref().unwrap_or(&number));
        match paper {
            OrderPaper::Labels => {}
            OrderPaper::Care => data["foot"]["text"] = foot.into(),
            _ => data["foot"] = foot.into(),
        }
        shown(&mut data);
        let setting = Setting { template, data: &data, drawings: &[], number: &number };
        let (pdf, pages) = set_with(&setting, pictures, watch)?;
        Ok(SetPaper { pdf, pages, labels: vec![] })
    }

    fn size_mm(&self) -> (f64, f64) {
        (self.options.size.width_mm(), self.options.size.height_mm())
    }

    fn pictures(&self, watch: &dyn Watch) -> Result<&[Bytes], PaperError> {
        if let Some(known) = self.pictures.get() {
            return Ok(known);
        }
        if watch.stopped() {
            return Err(PaperError::Stopped);
        }
        let all: Result<Vec<Bytes>, PaperError> =
            self.laid.pieces.par_iter().map(picture::png).collect();
        let all = all?;
        Ok(self.pictures.get_or_init(|| all))
    }

    /// The hash of the whole order's lay.
    fn hash(&self) -> Result<&str, PaperError> {
        if let Some(known) = self.hash.get() {
            return Ok(known);
        }
        let file = self.laid.file().map_err(|e| PaperError::Set(e.to_string()))?;
        Ok(self.hash.get_or_init(|| file.whole_hash()))
    }

    /// The beginning of that hash: as long as it is the same, so is every stone in its place.
    fn design(&self) -> Result<String, PaperError> {
        Ok(self.hash()?.chars().take(SHORT).collect())
    }

    /// What stands at the foot of every page.
    fn foot(&self, number: &str) -> String {
        let parts = [number, &self.laid.name, self.options.size.name()];
        parts.into_iter().filter(|p| !p.is_empty()).collect::<Vec<_>>().join(" · ")
    }

    /// Number and day, as far as they are given.
    fn dated(&self) -> Vec<Fact> {
        let number = self.options.number.as_ref().map(|n| fact("Number", n.clone()));
        let day = self.options.notation.day(self.options.today);
        let date = self.options.dated.then(|| fact("Date", day));
        number.into_iter().chain(date).collect()
    }

    /// An amount of money, without its currency.
    fn money(&self, amount: Decimal) -> String {
        self.options.notation.money(amount, self.plan.answer.digits)
    }

    /// An amount of money with its currency, if the order names one.
    fn priced(&self, amount: Decimal) -> String {
        match &self.plan.answer.currency {
            Some(currency) => format!("{} {currency}", self.money(amount)),
            None => self.money(amount),
        }
    }

    /// The size of a kind as the maker wrote it.
    fn size_of(&self, kind: &str) -> String {
        let known = self.laid.kinds.iter().find(|k| k.kind.name == kind);
        known.map_or(String::new(), |k| k.kind.size.clone())
    }

    /// What each copy of a piece is called: by its name, or by its number.
    fn copies(&self, piece: &LaidPiece) -> Vec<String> {
        let names = &piece.asked.names;
        let n = piece.asked.quantity;
        let copy = |i: u32| match names.get(i as usize) {
            Some(name) => name.clone(),
            None if n == 1 => "the only copy".to_owned(),
            None => format!("copy {} of {n}", i + 1),
        };
        (0..n).map(copy).collect()
    }
}

/// Text without a space that is longer than this may be broken anywhere, in letters.
const LONGEST_WORD: usize = 28;

/// Makes every text of the data one that can be shown and that fits into its column.
fn shown(data: &mut serde_json::Value) {
    use serde_json::Value;
    match data {
        Value::String(text) => *text = breakable(&crate::fonts::shown(text)),
        Value::Array(all) => all.iter_mut().for_each(shown),
        Value::Object(all) => all.values_mut().for_each(shown),
        _ => {}
    }
}

/// With places to break very long words at: zero-width spaces.
fn breakable(text: &str) -> String {
    let mut made = String::with_capacity(text.len());
    let mut run = 0;
    for c in text.chars() {
        run = if c == ' ' { 0 } else { run + 1 };
        if run > LONGEST_WORD {
            made.push('\u{200b}');
            run = 1;
        }
        made.push(c);
    }
    made
}
