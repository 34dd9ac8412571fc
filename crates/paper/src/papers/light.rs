//! Outlines for a light table or a projector: a page for each piece, as large as its drawing. A
//! piece is not cut into tiles: for that there are placing sheets.

use super::{OrderPaper, Papers, SetPaper};
use crate::PaperError;
use crate::frame::Stretch;
use crate::set::{Setting, own_number, set_with};
use crate::world::Template;
use drawing::{CHECK_SQUARE_MM, Drawing, Light, outlines};
use lay::Watch;
use serde::Serialize;
use sha2::{Digest, Sha256};

const LIGHT: Template = Template { name: "light.typ", text: include_str!("../typ/light.typ") };
/// As they are: what a projector does to them is put right at the projector.
const TRUE: Stretch = Stretch { x: 1.0, y: 1.0 };

#[derive(Serialize)]
struct Data {
    title: String,
    dark: bool,
    pages: Vec<Page>,
}

#[derive(Serialize)]
struct Page {
    width: f64,
    height: f64,
    name: String,
    note: String,
}

pub(super) fn set(
    papers: &Papers<'_>,
    light: Light,
    watch: &dyn Watch,
) -> Result<SetPaper, PaperError> {
    let (prefix, kind) = OrderPaper::Light(light).words();
    let drawings: Vec<(Drawing, Stretch)> = (papers.laid.pieces.iter())
        .map(|p| (outlines(&p.asked.piece, &p.lay, light), TRUE))
        .collect();
    let mut hash = Sha256::new();
    hash.update(papers.hash()?);
    hash.update(prefix);
    let number = own_number(prefix, hash);
    let on_page = papers.options.number.as_ref().unwrap_or(&number);
    let page = |(drawing, _): &(Drawing, Stretch)| Page {
        width: drawing.page.width(),
        height: drawing.page.height(),
        name: crate::fonts::shown(&drawing.title),
        note: crate::fonts::shown(&format!(
            "true size if the square measures {CHECK_SQUARE_MM} mm · {on_page}"
        )),
    };
    let data = Data {
        title: crate::fonts::shown(&format!("{}: {kind}", papers.laid.name)),
        dark: light != Light::Table,
        pages: drawings.iter().map(page).collect(),
    };
    let setting = Setting { template: LIGHT, data: &data, drawings: &drawings, number: &number };
    let (pdf, pages) = set_with(&setting, &[], watch)?;
    Ok(SetPaper { pdf, pages, labels: vec![] })
}
