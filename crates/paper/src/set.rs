//! Setting a paper: a template, its data and its drawings become a PDF.

use crate::PaperError;
use crate::frame::{Stretch, frame};
use crate::world::{Sealed, Template};
use drawing::Drawing;
use lay::Watch;
use serde::Serialize;
use sha2::{Digest, Sha256};
use typst::comemo;
use typst::diag::SourceDiagnostic;
use typst::ecow::EcoVec;
use typst::foundations::{Bytes, Label, Smart};
use typst::layout::{Frame, FrameItem, Point};
use typst_layout::{Page, PagedDocument};
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

/// The number of a document that nobody numbered: made of what it shows.
pub(crate) fn own_number(prefix: &str, shown: Sha256) -> String {
    let digits: String = shown.finalize().iter().take(4).map(|b| format!("{b:02x}")).collect();
    format!("{prefix}-{digits}")
}

/// What typesets a paper.
pub(crate) struct Setting<'a, T> {
    /// The template.
    pub(crate) template: Template,
    /// What it shows; text in it stays text, whatever it says.
    pub(crate) data: &'a T,
    /// One for each box that the template labels `drawing-N`, N from 0, and how it is stretched.
    pub(crate) drawings: &'a [(Drawing, Stretch)],
    /// The number of the document.
    pub(crate) number: &'a str,
}

/// The paper as a PDF that keeps PDF/UA-1 (ISO 14289-1): tagged, with title and language. The same
/// setting gives the same bytes: no date, and an identifier made of the document's number.
///
/// # Errors
/// The watcher stopped it, or the template is wrong.
pub(crate) fn set<T: Serialize>(
    setting: &Setting<'_, T>,
    watch: &dyn Watch,
) -> Result<Vec<u8>, PaperError> {
    set_with(setting, &[], watch).map(|set| set.0)
}

/// The same with pictures (PNG), which the template finds as `picture-N.png`, N from 0. Also says
/// how many pages there are.
///
/// # Errors
/// The watcher stopped it, or the template is wrong.
pub(crate) fn set_with<T: Serialize>(
    setting: &Setting<'_, T>,
    pictures: &[Bytes],
    watch: &dyn Watch,
) -> Result<(Vec<u8>, usize), PaperError> {
    let data = serde_json::to_vec(setting.data).map_err(|e| PaperError::Set(e.to_string()))?;
    let world = Sealed::new(setting.template, data, pictures)
        .map_err(|e| PaperError::Set(e.to_string()))?;
    let set = typst::compile::<PagedDocument>(&world).output.map_err(|e| said(&e))?;
    go_on(watch)?;
    let mut pages: EcoVec<Page> = set.pages().iter().cloned().collect();
    let mut placed = 0;
    for page in pages.make_mut() {
        page.frame = with_drawings(&page.frame, setting, &mut placed);
        go_on(watch)?;
    }
    if placed != setting.drawings.len() {
        let wanted = setting.drawings.len();
        return Err(PaperError::Set(format!("{placed} of {wanted} drawings have a place")));
    }
    let mut info = set;
    let document = PagedDocument::new(pages, std::mem::take(info.info_mut()));
    let options = PdfOptions {
        ident: Smart::Custom(setting.number.to_owned()),
        creator: Smart::Custom(Some("stonelay".to_owned())),
        timestamp: None,
        standards: PdfStandards::new(&[PdfStandard::Ua_1])
            .map_err(|e| PaperError::Set(e.message().to_string()))?,
        ..PdfOptions::default()
    };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|e| said(&e));
    let n_pages = document.pages().len();
    // What Typst remembers of earlier papers would otherwise grow without end.
    comemo::evict(0);
    Ok((pdf?, n_pages))
}

fn go_on(watch: &dyn Watch) -> Result<(), PaperError> {
    if watch.stopped() { Err(PaperError::Stopped) } else { Ok(()) }
}

/// The frame with every labelled box filled.
fn with_drawings<T>(from: &Frame, setting: &Setting<'_, T>, placed: &mut usize) -> Frame {
    let mut into = from.clone();
    into.clear();
    for (at, item) in from.items() {
        let FrameItem::Group(group) = item else {
            into.push(*at, item.clone());
            continue;
        };
        let mut group = group.clone();
        group.frame = match group.label.and_then(number_of).and_then(|n| setting.drawings.get(n)) {
            Some((drawing, stretch)) => {
                *placed += 1;
                let mut filled = group.frame.clone();
                let inside = frame(drawing, *stretch);
                filled.push_multiple(inside.items().cloned().map(|(p, i)| (p + Point::zero(), i)));
                filled
            }
            None => with_drawings(&group.frame, setting, placed),
        };
        into.push(*at, FrameItem::Group(group));
    }
    into
}

/// N of a box `drawing-N`.
fn number_of(label: Label) -> Option<usize> {
    label.resolve().as_str().strip_prefix("drawing-")?.parse().ok()
}

fn said(errors: &EcoVec<SourceDiagnostic>) -> PaperError {
    let lines: Vec<&str> = errors.iter().map(|e| e.message.as_str()).collect();
    PaperError::Set(lines.join("; "))
}
