//! Sheets of paper at true size, as PDF.
//!
//! Pages are put together as [`drawing::Drawing`]s in millimetres and set by Typst, in memory: our
//! own templates, our own typefaces, no file, no clock. The same input gives the same bytes.
//!
//! | need | item |
//! |---|---|
//! | sheets to place stones by | [`placing()`], [`Placing`], [`Use`] |
//! | a page to measure a printer by | [`test_page()`] |
//! | what it measured | [`Measured`], [`MeasuredError`] |
//! | quote, bench sheet, lists, labels, cards, calendar | [`Papers`], [`OrderPaper`], [`Light`], [`Options`], [`SetPaper`] |
//! | their own words, numbers and days | [`QuoteWords`], [`Notation`], [`NoNotation`] |
//! | sheets of labels | [`LabelSheet`], [`LabelBox`], [`LabelSheetError`] |
//! | sizes of paper | [`PaperSize`] |
//! | where everything lies on the pages | [`Printed`], [`PrintedPage`], [`PrintedPiece`] |
//! | why there is none | [`PaperError`] |

mod error;
mod fonts;
mod frame;
mod measured;
mod papers;
mod placing;
mod set;
mod size;
mod world;

pub use drawing::Light;
pub use error::PaperError;
pub use measured::{BAR_MM, Measured, MeasuredError};
pub use papers::{
    LabelBox, LabelSheet, LabelSheetError, NoNotation, Notation, Options, OrderPaper, Papers,
    QuoteWords, SetPaper,
};
pub use placing::{
    MOST_PAGES, Placing, Printed, PrintedPage, PrintedPiece, Use, placing, test_page,
};
pub use size::PaperSize;
