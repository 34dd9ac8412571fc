//! Shapes into one region: scaled, flattened, cut to their clips, united.

use geometry::{Bounds, Point, Region};
use kurbo::Affine;

use crate::flatten::{Chord, Fineness};
use crate::shapes::{Paint, Shape};
use crate::unite::{self, Work};
use crate::{OutlineError, Scale, limits, stroke};

/// The united outline before its edges are held on the inside.
pub(crate) struct Assembled {
    /// Polygons whose corners lie on the curves.
    pub region: Region,
    /// Edges of the polygons that stand for something curved; more than are left in the region.
    pub chords: Vec<Chord>,
    /// How far the curves themselves may be off, mm: only those round strokes are.
    pub slack_mm: f64,
    /// Whether one rectangle made the outline and more was painted on it.
    pub backdrop: bool,
    /// How many parts or holes were too small to keep, and the area of the largest, mm².
    pub specks: (usize, f64),
}

impl Assembled {
    fn scale(&mut self, by: f64) {
        self.region = self.region.scaled(by);
        for c in &mut self.chords {
            (c.from, c.to) = (c.from * by, c.to * by);
            (c.left, c.right) = (c.left * by, c.right * by);
        }
    }
}

/// How finely the first pass looks, which only finds the size.
const ROUGH: Fineness = Fineness { chord_mm: 0.02, corner_mm: 0.02, slack_mm: 0.0 };

/// How near the wanted size is near enough, in parts of it.
const SIZE_ERROR: f64 = 1e-12;

/// From user units of the page to millimetres: a factor, and the point that goes to the origin.
#[derive(Clone, Copy)]
struct Frame {
    factor: f64,
    corner: kurbo::Point,
}

impl Frame {
    /// The y axis turns over: down on the page, up in a region.
    fn place(self) -> Affine {
        let k = self.factor;
        Affine::new([k, 0.0, 0.0, -k, -k * self.corner.x, k * self.corner.y])
    }
}

/// Makes one region of all shapes, its lower left corner at the origin. `unit_mm` is the size of
/// a user unit for [`Scale::AsDrawn`].
pub(crate) fn assemble(
    shapes: &[Shape],
    scale: Scale,
    unit_mm: f64,
) -> Result<Assembled, OutlineError> {
    let (rough, extent) = rough_frame(shapes, scale, unit_mm)?;
    let mut frame = rough;
    if !matches!(scale, Scale::AsDrawn) {
        // The box round the curves may be larger than what is painted, where clips cut it or the
        // fill rule leaves it out. Two looks settle it; extremes of curves are corners already.
        let mut bounds = extent;
        for _ in 0..3 {
            let part = unite(shapes, frame, ROUGH)?;
            bounds = part.region.bounds();
            let off = wanted(scale, bounds)? / side(scale, bounds);
            frame = rescaled(frame, bounds, off);
            if (off - 1.0).abs() < 1e-3 {
                break;
            }
        }
        check_size(bounds)?;
    }
    let mut found = unite(shapes, frame, Fineness::FINAL)?;
    for look in 0..4 {
        let bounds = found.region.bounds();
        let off = wanted(scale, bounds)? / side(scale, bounds);
        if (off - 1.0).abs() <= SIZE_ERROR {
            break;
        }
        // Within rounding, moving corners is as good as drawing again; and where each look finds
        // another size, because of parts as thin as rounding, it has to do.
        if (off - 1.0).abs() < 1e-9 || look == 3 {
            found.scale(off);
            break;
        }
        frame = rescaled(frame, bounds, off);
        found = unite(shapes, frame, Fineness::FINAL)?;
    }
    check_size(found.region.bounds())?;
    let low = found.region.bounds().min;
    found.region = found.region.moved(-low);
    for c in &mut found.chords {
        (c.from, c.to) = (c.from - low, c.to - low);
    }
    Ok(found)
}

/// A frame that comes near the wanted size, from the boxes round the curves.
fn rough_frame(
    shapes: &[Shape],
    scale: Scale,
    unit_mm: f64,
) -> Result<(Frame, Bounds), OutlineError> {
    let mut extent: Option<kurbo::Rect> = None;
    for shape in shapes {
        let mut curve = (*shape.curve).clone();
        curve.apply_affine(shape.place);
        let mut bounds = kurbo::Shape::bounding_box(&curve);
        if let Paint::Stroke(pen) = &shape.paint {
            let reach = pen.width / 2.0 * stroke::stretch(shape.place);
            bounds = bounds.inflate(reach, reach);
        }
        if !bounds.is_finite() {
            return Err(too_far());
        }
        extent = Some(extent.map_or(bounds, |e| e.union(bounds)));
    }
    let extent = extent.ok_or_else(no_area)?;
    let factor = match scale {
        Scale::AsDrawn => unit_mm,
        Scale::Width(mm) => mm / extent.width().max(f64::MIN_POSITIVE),
        Scale::Height(mm) => mm / extent.height().max(f64::MIN_POSITIVE),
    };
    let bounds =
        Bounds::of([Point::ORIGIN, Point::new(extent.width() * factor, extent.height() * factor)]);
    check_rough_size(bounds)?;
    Ok((Frame { factor, corner: kurbo::Point::new(extent.x0, extent.y1) }, bounds))
}

fn rescaled(frame: Frame, bounds: Bounds, off: f64) -> Frame {
    let k = frame.factor;
    let corner = frame.corner + kurbo::Vec2::new(bounds.min.x / k, -bounds.min.y / k);
    Frame { factor: k * off, corner }
}

fn wanted(scale: Scale, bounds: Bounds) -> Result<f64, OutlineError> {
    check_size(bounds)?;
    Ok(match scale {
        Scale::AsDrawn => bounds.width(),
        Scale::Width(mm) | Scale::Height(mm) => mm,
    })
}

fn side(scale: Scale, bounds: Bounds) -> f64 {
    match scale {
        Scale::Height(_) => bounds.height(),
        Scale::AsDrawn | Scale::Width(_) => bounds.width(),
    }
}

fn check_size(bounds: Bounds) -> Result<(), OutlineError> {
    let fits = |mm: f64| (limits::SMALLEST_MM..=limits::LARGEST_MM).contains(&mm);
    if fits(bounds.width()) && fits(bounds.height()) { Ok(()) } else { Err(bad_size(bounds)) }
}

/// The first box may be far too large where clips cut it, and thin where a stroke is still to
/// come, but not beyond counting.
fn check_rough_size(bounds: Bounds) -> Result<(), OutlineError> {
    let most = bounds.width().max(bounds.height());
    let fits = (1e-3..=1e6).contains(&most);
    if fits { Ok(()) } else { Err(bad_size(bounds)) }
}

fn bad_size(bounds: Bounds) -> OutlineError {
    OutlineError::BadSize { width_mm: bounds.width(), height_mm: bounds.height() }
}

fn nothing(why: &str, remedy: &'static str) -> OutlineError {
    OutlineError::NothingDrawn { why: why.to_owned(), remedy }
}

fn no_area() -> OutlineError {
    nothing("no shape encloses any area", "draw a closed shape, or give the line a stroke")
}

pub(crate) fn too_far() -> OutlineError {
    nothing("a coordinate is larger than can be counted", "move the drawing near its page")
}

/// All shapes, each cut to its clips, as one region.
fn unite(shapes: &[Shape], frame: Frame, fineness: Fineness) -> Result<Assembled, OutlineError> {
    let mut work = Work::new(frame.place(), fineness);
    let mut parts: Vec<Region> = Vec::new();
    for shape in shapes {
        parts.extend(work.part(shape)?);
    }
    let polygons = parts.iter().map(unite::polygons).collect();
    let region = work.united_parts(polygons)?.ok_or_else(no_area)?;
    let region = unite::without_hairs(&region).ok_or_else(no_area)?;
    let backdrop = parts.len() > 1 && is_box(&region) && parts.iter().any(|p| is_whole(p, &region));
    let (region, specks) = without_specks(&region)?;
    let strokes = shapes.iter().any(|s| matches!(s.paint, Paint::Stroke(_)));
    let slack_mm = if strokes { work.stroke_slack() } else { 0.0 };
    Ok(Assembled { region, chords: work.chords, slack_mm, backdrop, specks })
}

fn is_box(region: &Region) -> bool {
    let b = region.bounds();
    region.rings().len() == 1 && (region.area() - b.width() * b.height()).abs() < 1e-6
}

fn is_whole(part: &Region, region: &Region) -> bool {
    (part.area() - region.area()).abs() < 1e-6
}

/// Without parts and holes too small to matter; how many, and the area of the largest.
pub(crate) fn without_specks(region: &Region) -> Result<(Region, (usize, f64)), OutlineError> {
    let mut specks = (0, 0.0_f64);
    let mut kept = Vec::with_capacity(region.rings().len());
    for ring in region.rings() {
        let area = ring.signed_area();
        if area.abs() >= limits::SPECK_MM2 {
            kept.push(ring.clone());
        } else {
            specks = (specks.0 + 1, specks.1.max(area.abs()));
        }
    }
    let region = Region::new(kept)
        .map_err(|_| nothing("all of it is smaller than 0.01 mm²", "scale the outline up"))?;
    Ok((region, specks))
}
