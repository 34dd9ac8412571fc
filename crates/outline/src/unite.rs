//! Polygons of shapes, cut to their clips, united.

use std::rc::Rc;

use geometry::boolean::{self, FillRule};
use geometry::{Bounds, Point, Region, RegionError, Ring};
use kurbo::Affine;

use crate::assemble::too_far;
use crate::flatten::{self, Chord, Fineness, Flat};
use crate::shapes::{Clip, Paint, Shape};
use crate::{OutlineError, limits, stroke, tangle};

/// Spikes thinner than this are lines drawn forth and back, mm; they enclose nothing.
const HAIR_MM: f64 = 1e-6;

/// Shapes on their way into one region.
pub(crate) struct Work {
    place: Affine,
    fineness: Fineness,
    /// Chords of all curves met so far, those of clips too.
    pub chords: Vec<Chord>,
    corners: usize,
    /// Clips that were met, with what they enclose.
    clips: Vec<(Rc<Clip>, Option<Region>)>,
}

/// How many parts are united at once: crossings are sought among all edges at one height, so a
/// thousand dots in a line are faster in groups.
const GROUP: usize = 16;

impl Work {
    /// Work with `place` from user units of the page to millimetres.
    pub(crate) fn new(place: Affine, fineness: Fineness) -> Work {
        Work { place, fineness, chords: Vec::new(), corners: 0, clips: Vec::new() }
    }

    /// What a shape shows, `None` if nothing.
    pub(crate) fn part(&mut self, shape: &Shape) -> Result<Option<Region>, OutlineError> {
        let Some(mut part) = self.whole(shape)? else { return Ok(None) };
        for clip in &shape.clips {
            let Some(window) = self.window(clip)? else { return Ok(None) };
            match boolean::intersection(&part, &window) {
                Some(rest) => part = rest,
                None => return Ok(None),
            }
        }
        Ok(Some(part))
    }

    fn window(&mut self, clip: &Rc<Clip>) -> Result<Option<Region>, OutlineError> {
        if let Some((_, known)) = self.clips.iter().find(|(c, _)| Rc::ptr_eq(c, clip)) {
            return Ok(known.clone());
        }
        let mut parts = Vec::new();
        for shape in &clip.shapes {
            parts.extend(self.part(shape)?.as_ref().map(polygons));
        }
        let window = self.united_parts(parts)?;
        self.clips.push((Rc::clone(clip), window.clone()));
        Ok(window)
    }

    /// What a shape paints, clips aside.
    fn whole(&mut self, shape: &Shape) -> Result<Option<Region>, OutlineError> {
        let place = self.place * shape.place;
        match &shape.paint {
            Paint::Fill(rule) => {
                let mut curve = (*shape.curve).clone();
                curve.apply_affine(place);
                let rings = self.flattened(&curve, 0.0)?;
                self.united(&rings, *rule)
            }
            Paint::Stroke(pen) => {
                let slack_mm = self.stroke_slack();
                let drawn = stroke::outlined(&shape.curve, pen, place, slack_mm)?;
                let mut parts = Vec::new();
                for band in &drawn.bands {
                    let rings = self.flattened(band, slack_mm)?;
                    parts.extend(self.united(&rings, FillRule::NonZero)?.as_ref().map(polygons));
                }
                for round in &drawn.rounds {
                    let rings = self.flattened(round, 0.0)?;
                    parts.push(rings.into_iter().map(turned_left).collect());
                }
                self.united_parts(parts)
            }
        }
    }

    /// How far the curves round strokes may be off, mm.
    pub(crate) fn stroke_slack(&self) -> f64 {
        stroke::STROKE_MM.max(self.fineness.chord_mm / 20.0)
    }

    /// The polygons of a curve; its chords are kept.
    fn flattened(
        &mut self,
        curve: &kurbo::BezPath,
        slack_mm: f64,
    ) -> Result<Vec<Vec<Point>>, OutlineError> {
        let Flat { rings, chords } =
            flatten::flatten(curve, Fineness { slack_mm, ..self.fineness })?;
        self.chords.extend(chords);
        Ok(rings)
    }

    /// All parts together: polygons with exteriors counter-clockwise, holes clockwise.
    pub(crate) fn united_parts(
        &mut self,
        mut parts: Vec<Vec<Vec<Point>>>,
    ) -> Result<Option<Region>, OutlineError> {
        while parts.len() > GROUP {
            let mut fewer = Vec::with_capacity(parts.len().div_ceil(GROUP));
            for group in parts.chunks(GROUP) {
                let rings: Vec<Vec<Point>> = group.iter().flatten().cloned().collect();
                fewer.extend(self.united(&rings, FillRule::NonZero)?.as_ref().map(polygons));
            }
            parts = fewer;
        }
        let rings: Vec<Vec<Point>> = parts.into_iter().flatten().collect();
        self.united(&rings, FillRule::NonZero)
    }

    /// What crossing polygons enclose.
    fn united(
        &mut self,
        rings: &[Vec<Point>],
        rule: FillRule,
    ) -> Result<Option<Region>, OutlineError> {
        self.count(rings)?;
        if rings.is_empty() { Ok(None) } else { cleaned(rings, rule) }
    }

    fn count(&mut self, rings: &[Vec<Point>]) -> Result<(), OutlineError> {
        self.corners += rings.iter().map(Vec::len).sum::<usize>();
        if self.corners > 6 * limits::CORNERS {
            return Err(OutlineError::TooDetailed);
        }
        tangle::check(rings)
    }
}

/// What crossing polygons enclose, `None` if nothing.
///
/// The clipping goes through them from bottom to top and looks at every edge at the same height:
/// what lies is stood up first.
fn cleaned(rings: &[Vec<Point>], rule: FillRule) -> Result<Option<Region>, OutlineError> {
    let bounds = Bounds::of(rings.iter().flatten().copied());
    let lies = bounds.width() > 2.0 * bounds.height();
    let found =
        if lies { boolean::clean(&mirrored(rings), rule) } else { boolean::clean(rings, rule) };
    match found {
        Ok(region) if lies => {
            let rings = mirrored(&polygons(&region));
            let back = rings.iter().map(|r| Ring::polygon(r)).collect();
            Ok(Region::new(back).ok())
        }
        Ok(region) => Ok(Some(region)),
        Err(RegionError::Empty | RegionError::NoArea { .. }) => Ok(None),
        Err(_) => Err(too_far()),
    }
}

/// Mirrored at the diagonal, x for y, and turned round, so that left stays left.
fn mirrored(rings: &[Vec<Point>]) -> Vec<Vec<Point>> {
    let mirror = |r: &Vec<Point>| r.iter().rev().map(|p| Point::new(p.y, p.x)).collect();
    rings.iter().map(mirror).collect()
}

/// The corners of each ring.
pub(crate) fn polygons(region: &Region) -> Vec<Vec<Point>> {
    region.rings().iter().map(|r| r.segments.iter().map(|s| s.from).collect()).collect()
}

/// The ring, counter-clockwise.
pub(crate) fn turned_left(mut ring: Vec<Point>) -> Vec<Point> {
    if signed_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// Area of a polygon, positive if it runs counter-clockwise.
pub(crate) fn signed_area(ring: &[Point]) -> f64 {
    let Some(o) = ring.first().copied() else { return 0.0 };
    let pairs = ring.iter().zip(ring.iter().cycle().skip(1));
    pairs.map(|(a, b)| (*a - o).cross(*b - o)).sum::<f64>() / 2.0
}

/// Without the spikes that lines drawn forth and back leave; `None` if nothing else is there.
pub(crate) fn without_hairs(region: &Region) -> Option<Region> {
    let rings: Vec<Ring> = polygons(region)
        .into_iter()
        .map(cut_hairs)
        .filter(|ring| ring.len() > 2)
        .map(|ring| Ring::polygon(&ring))
        .filter(|ring| ring.signed_area().abs() > 1e-9)
        .collect();
    Region::new(rings).ok()
}

fn cut_hairs(ring: Vec<Point>) -> Vec<Point> {
    let n = ring.len();
    let tip = |i: usize| is_hair(ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
    if !(0..n).any(tip) {
        return ring;
    }
    let mut kept: Vec<Point> = Vec::with_capacity(n);
    // From a corner that is no tip, so that the way ends where it may.
    let first = (0..n).find(|i| !tip(*i)).unwrap_or(0);
    for p in ring.iter().cycle().skip(first).take(n + 1) {
        while let [.., a, b] = kept[..]
            && (a == *p || is_hair(a, b, *p))
        {
            kept.pop();
        }
        if kept.last() != Some(p) {
            kept.push(*p);
        }
    }
    kept.pop();
    kept
}

/// Whether the way from `a` turns back at `b` and returns to `c` along itself.
fn is_hair(a: Point, b: Point, c: Point) -> bool {
    let (to, back) = (b - a, c - b);
    let longer = to.norm().max(back.norm());
    to.dot(back) < 0.0 && to.cross(back).abs() <= HAIR_MM * longer
}
