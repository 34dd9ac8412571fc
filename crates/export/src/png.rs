//! A drawing as PNG.

use crate::{FACE, svg};
use ::png as png_format;
use drawing::{Drawing, Layer};
use geometry::Bounds;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg;

/// The most pixels a side may have: a picture of this size takes 576 MB while it is made.
pub const MOST_PIXELS_A_SIDE: u32 = 12_000;

/// How many pixels a picture gets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pixels {
    /// So many to an inch of 25.4 mm.
    PerInch(f64),
    /// So many across the page; the height follows.
    Across(u32),
}

/// Why there is no picture.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PngError {
    /// The page has no area.
    #[error("the page is empty: {width_mm} by {height_mm} mm")]
    EmptyPage {
        /// Its width, mm.
        width_mm: f64,
        /// Its height, mm.
        height_mm: f64,
    },
    /// Not a number of pixels.
    #[error("pixels must be more than 0, got: {given}")]
    NoPixels {
        /// What was asked for.
        given: f64,
    },
    /// More than [`MOST_PIXELS_A_SIDE`].
    #[error(
        "the picture would be {width_px} by {height_px} pixels; the most is {MOST_PIXELS_A_SIDE} a side"
    )]
    TooLarge {
        /// How wide it would be.
        width_px: f64,
        /// How high it would be.
        height_px: f64,
    },
    /// The renderer refused; the drawing holds something it should not.
    #[error("the picture could not be drawn: {reason}")]
    Refused {
        /// What it says.
        reason: String,
    },
}

/// The drawing as a PNG with transparent ground, sRGB, and its true size in the file: the pixels
/// per metre are those it was drawn at. Text needs no fonts of the system: none are read.
///
/// It is drawn from [`svg()`], a few thousand stones at a time, so both show the same. The bytes are
/// the same for the same drawing on one machine; between processors the renderer's last bit may
/// differ.
pub fn png(drawing: &Drawing, pixels: Pixels) -> Result<Vec<u8>, PngError> {
    let width_mm = drawing.page.width();
    let px_per_mm = px_per_mm(pixels, drawing.page)?;
    let (width, height) = png_size(drawing.page, pixels)?;
    let refused = |reason: String| PngError::Refused { reason };
    let mut pixmap = Pixmap::new(width, height)
        .ok_or_else(|| refused(format!("no room for {width} by {height} pixels")))?;
    let options = options();
    for part in parts(drawing) {
        let tree =
            usvg::Tree::from_str(&svg(&part), &options).map_err(|e| refused(e.to_string()))?;
        // The tree is measured in CSS pixels, whatever one of them is on the page.
        let scale = (width_mm * px_per_mm) as f32 / tree.size().width();
        resvg::render(&tree, Transform::from_scale(scale, scale), &mut pixmap.as_mut());
    }
    encoded(pixmap, px_per_mm).map_err(|e| refused(e.to_string()))
}

/// Width and height in pixels of the picture of a page, mm.
///
/// # Errors
/// There can be no such picture.
pub fn png_size(page: Bounds, pixels: Pixels) -> Result<(u32, u32), PngError> {
    let px_per_mm = px_per_mm(pixels, page)?;
    // A page that ends within a pixel gets all of it; a hair's breadth of rounding gets none.
    let side = |mm: f64| (mm * px_per_mm - 1e-6).ceil().max(1.0);
    let (width_px, height_px) = (side(page.width()), side(page.height()));
    if width_px.max(height_px) > f64::from(MOST_PIXELS_A_SIDE) {
        return Err(PngError::TooLarge { width_px, height_px });
    }
    Ok((width_px as u32, height_px as u32))
}

/// Text is set in the face that we bring along, and in no other.
fn options() -> usvg::Options<'static> {
    let mut options = usvg::Options { font_family: FACE.family.to_owned(), ..Default::default() };
    options.fontdb_mut().load_font_data(FACE.bytes.to_vec());
    options
}

/// The renderer unfolds every instance of a symbol, some 15 kB for a stone: so many at a time.
const ITEMS_AT_A_TIME: usize = 4096;

/// The drawing in parts to be drawn on top of each other.
fn parts(drawing: &Drawing) -> impl Iterator<Item = Drawing> {
    drawing.layers.iter().flat_map(move |layer| {
        layer.items.chunks(ITEMS_AT_A_TIME).map(move |items| Drawing {
            title: String::new(),
            description: String::new(),
            page: drawing.page,
            gradients: drawing.gradients.clone(),
            symbols: drawing.symbols.clone(),
            layers: vec![Layer {
                name: layer.name.clone(),
                clip: layer.clip.clone(),
                items: items.to_vec(),
            }],
        })
    })
}

fn px_per_mm(pixels: Pixels, page: Bounds) -> Result<f64, PngError> {
    let (width_mm, height_mm) = (page.width(), page.height());
    let some = |mm: f64| mm > 0.0 && mm.is_finite();
    if !(some(width_mm) && some(height_mm)) {
        return Err(PngError::EmptyPage { width_mm, height_mm });
    }
    let (given, px_per_mm) = match pixels {
        Pixels::PerInch(dpi) => (dpi, dpi / 25.4),
        Pixels::Across(px) => (f64::from(px), f64::from(px) / width_mm),
    };
    if given > 0.0 && given.is_finite() { Ok(px_per_mm) } else { Err(PngError::NoPixels { given }) }
}

fn encoded(pixmap: Pixmap, px_per_mm: f64) -> Result<Vec<u8>, png_format::EncodingError> {
    let mut bytes = vec![];
    let mut encoder = png_format::Encoder::new(&mut bytes, pixmap.width(), pixmap.height());
    encoder.set_color(png_format::ColorType::Rgba);
    encoder.set_depth(png_format::BitDepth::Eight);
    encoder.set_source_srgb(png_format::SrgbRenderingIntent::Perceptual);
    let per_metre = (px_per_mm * 1000.0).round() as u32;
    encoder.set_pixel_dims(Some(png_format::PixelDimensions {
        xppu: per_metre,
        yppu: per_metre,
        unit: png_format::Unit::Meter,
    }));
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&pixmap.take_demultiplied())?;
    writer.finish()?;
    Ok(bytes)
}
