//! Outlines from drawings: the bytes of an SVG file in, a [`Region`] in millimetres out.
//!
//! Every painted shape counts, whatever its colour: white shapes and backgrounds too. Fills and
//! strokes are united; a stroke is the band it covers. Gradients and patterns count as filled.
//! Holes are where nothing is painted. What lies outside the page counts as well; what a clip
//! path cuts off does not. Text, pictures, masks and filters are left out, each with a
//! [`Remark`]. Nothing outside the bytes is read: no font, no other file, no network.
//!
//! Sizes are those of CSS: a number without unit and a `px` are 1/96 inch, `mm`, `cm`, `in`, `pt`
//! and `pc` are what they say, so a page of `width="60mm"` with a `viewBox` 60 wide has
//! millimetres for units. [`Scale`] overrides this.
//!
//! Curves become straight edges once, here. The region keeps within the true outline
//! ([`geometry::TOLERANCE_MM`]) and leaves it by at most [`Imported::deviation_mm`], a thousandth
//! of a millimetre except where curves meet in a tip so sharp that its last piece is thinner than
//! their chords are off; straight edges stay where they are. The true outline is the drawing's own
//! path data and points in `f64`; transforms, and the sizes of rectangles, circles and ellipses,
//! come through `usvg` in `f32`, which is 4e-6 mm on a blank of 60 mm.
//!
//! | step | module |
//! |---|---|
//! | bytes to XML, what gets lost, limits | `document`, `copies`, `limits` |
//! | styles, transforms, `use`, markers (by `usvg`) to painted shapes | `shapes` |
//! | the drawing's own numbers behind them | `path_data`, `source` |
//! | scale, strokes, chords, clips, union | `assemble`, `stroke`, `flatten`, `unite`, `tangle` |
//! | edges to the inside of the true curve | `hold` |
//!
//! ```
//! use outline::{Scale, read_svg};
//! let svg = b"<svg xmlns='http://www.w3.org/2000/svg'><circle cx='12' cy='12' r='10'/></svg>";
//! let badge = read_svg(svg, Scale::Width(60.0))?;
//! assert!((badge.region.bounds().width() - 60.0).abs() < 1e-6);
//! # Ok::<(), outline::OutlineError>(())
//! ```

mod assemble;
mod copies;
mod document;
mod error;
mod flatten;
mod hold;
mod limits;
mod path_data;
mod remark;
mod shapes;
mod source;
mod stroke;
mod tangle;
mod unite;

use geometry::Region;

pub use error::OutlineError;
pub use remark::{PAGES, Page, Remark};

/// How large the outline is to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// As the drawing says; without units a number is 1/96 inch.
    AsDrawn,
    /// So that the outline is this wide, mm.
    Width(f64),
    /// So that the outline is this high, mm.
    Height(f64),
}

/// An outline, and what got lost on the way.
#[derive(Clone, Debug)]
pub struct Imported {
    /// The outline in millimetres, y up, the lower left corner of its bounding box at the origin.
    pub region: Region,
    /// What did not come in as drawn.
    pub remarks: Vec<Remark>,
    /// The edge of the region and the true outline are no further apart than this, mm. Specks that
    /// were dropped do not count.
    pub deviation_mm: f64,
}

/// Millimetres to a unit of CSS: 96 to the inch (CSS Values and Units 4, 6.2).
const PX_MM: f64 = 25.4 / 96.0;

/// Reads the outline of an SVG drawing.
///
/// # Errors
/// An [`OutlineError`] for anything that gives no outline; never a panic.
pub fn read_svg(bytes: &[u8], scale: Scale) -> Result<Imported, OutlineError> {
    if let Scale::Width(mm) | Scale::Height(mm) = scale
        && !(limits::SMALLEST_MM..=limits::LARGEST_MM).contains(&mm)
    {
        return Err(OutlineError::BadScale { mm });
    }
    // The readers of XML, SVG and strokes index arrays and unwrap by assumptions about drawings
    // nobody can prove for every file: their panic must not take down a page or an order.
    std::panic::catch_unwind(|| read(bytes, scale)).unwrap_or_else(|_| {
        Err(OutlineError::Reader { reason: "it is one that our readers do not expect".to_owned() })
    })
}

fn read(bytes: &[u8], scale: Scale) -> Result<Imported, OutlineError> {
    let text = document::text_of(bytes)?;
    let doc = document::parse(text)?;
    let facts = document::facts(&doc)?;
    let tree = usvg::Tree::from_xmltree(&doc, &options()).map_err(reader_error)?;
    let found = shapes::collect(&tree, &facts.sources);

    let mut remarks = facts.remarks;
    let mut note = |count: usize, remark: Remark| {
        if count > 0 {
            remarks.push(remark);
        }
    };
    note(found.masks, Remark::MaskIgnored { count: found.masks });
    note(found.filters, Remark::FilterIgnored { count: found.filters });
    note(found.unpainted, Remark::NotPainted { count: found.unpainted });
    if found.shapes.is_empty() {
        return Err(nothing_drawn(&remarks, facts.has_shapes));
    }
    let unit_mm = unit_mm(&tree, facts.stated_scale);
    let drawn = assemble::assemble(&found.shapes, scale, unit_mm)?;
    if drawn.backdrop {
        remarks.push(Remark::Backdrop);
    }
    if let (count @ 1.., largest_mm2) = drawn.specks {
        remarks.push(Remark::SpeckDropped { count, largest_mm2 });
    }
    let (region, deviation_mm) = hold::hold(&drawn.region, &drawn.chords);
    // A neck thinner than the bulges of its sides may have parted.
    let (region, _) = assemble::without_specks(&region)?;
    let deviation_mm = deviation_mm + drawn.slack_mm;
    let bounds = region.bounds();
    if scale == Scale::AsDrawn && !facts.has_real_size {
        let (width_mm, height_mm) = (bounds.width(), bounds.height());
        remarks.push(Remark::SizeAssumed { width_mm, height_mm });
    }
    Ok(Imported { region: rounded(&region.moved(-bounds.min)), remarks, deviation_mm })
}

/// Nothing but the bytes: no fonts (a new database is empty), no pictures, no other files.
fn options() -> usvg::Options<'static> {
    usvg::Options {
        dpi: 96.0,
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    }
}

fn reader_error(error: usvg::Error) -> OutlineError {
    match error {
        usvg::Error::ElementsLimitReached
        | usvg::Error::ParsingFailed(roxmltree::Error::NodesLimitReached) => {
            OutlineError::TooManyElements
        }
        usvg::Error::InvalidSize => {
            OutlineError::NoPage { line: 1, what: "its width or height comes to 0".to_owned() }
        }
        other => OutlineError::Reader { reason: other.to_string() },
    }
}

/// Millimetres to a user unit of the page. The page's own scale went through `f32`; where the
/// drawing states it, the difference is made good.
fn unit_mm(tree: &usvg::Tree, stated: Option<f64>) -> f64 {
    let root = match tree.root().children() {
        [usvg::Node::Group(g)] => g.transform(),
        _ => usvg::Transform::default(),
    };
    let correction = stated.map_or(1.0, |exact| exact / (f64::from(root.sx) * PX_MM));
    if (correction - 1.0).abs() < 1e-6 { PX_MM * correction } else { PX_MM }
}

/// Why a drawing without painted shapes draws nothing, by what was noticed in it.
fn nothing_drawn(remarks: &[Remark], has_shapes: bool) -> OutlineError {
    let (why, remedy) = match remarks {
        [first, ..] => {
            let noticed: Vec<String> = remarks.iter().map(Remark::to_string).collect();
            let remedy = match first {
                // Its page speaks of a shape among others.
                Remark::NotPainted { .. } => "give at least one shape a fill or a stroke",
                other => other.hint(),
            };
            (noticed.join("; "), remedy)
        }
        [] if has_shapes => (
            "none of its shapes is visible".to_owned(),
            "show a shape: layers may be hidden, or scaled to nothing",
        ),
        [] => ("the drawing has no shapes".to_owned(), "draw the outline as a path"),
    };
    OutlineError::NothingDrawn { why, remedy }
}

/// The corners rounded to 1e-7 mm. The readers take sines from the machine, whose last bits
/// differ from one to the next; a lay has to be the same everywhere.
fn rounded(region: &Region) -> Region {
    let round = |x: f64| (x * 1e7).round() / 1e7;
    let rings = unite::polygons(region)
        .iter()
        .map(|ring| {
            let ring: Vec<_> =
                ring.iter().map(|p| geometry::Point::new(round(p.x), round(p.y))).collect();
            geometry::Ring::polygon(&ring)
        })
        .collect();
    Region::new(rings).unwrap_or_else(|_| region.clone())
}
