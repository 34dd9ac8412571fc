//! A bounded piece of the plane, with holes.

use crate::{Bounds, Curve, Point, Ring, Segment};

/// How far the ends of segments may miss each other or their circle, mm: rounding, no more.
const JOIN_MM: f64 = 1e-7;

/// A bounded piece of the plane: exteriors run counter-clockwise, holes clockwise, no two rings
/// cross. It may consist of several parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Region {
    rings: Vec<Ring>,
}

/// Why rings make no [`Region`].
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum RegionError {
    /// There is no ring at all.
    #[error("the outline is empty")]
    Empty,
    /// A coordinate is not a finite number.
    #[error("ring {ring} has a coordinate that is not a number")]
    NotFinite {
        /// Index of the ring.
        ring: usize,
    },
    /// A coordinate is beyond what can be computed with.
    #[error("ring {ring} reaches beyond 10 km")]
    TooFar {
        /// Index of the ring.
        ring: usize,
    },
    /// An arc does not lie on the circle it names, or the circle is none.
    #[error("ring {ring} has an arc whose ends are {off_mm} mm off its circle")]
    OffCircle {
        /// Index of the ring.
        ring: usize,
        /// Distance of an end from the circle, mm.
        off_mm: f64,
    },
    /// A ring encloses nothing.
    #[error("ring {ring} encloses no area")]
    NoArea {
        /// Index of the ring.
        ring: usize,
    },
    /// A ring does not close.
    #[error("ring {ring} is open: it ends {gap_mm} mm from where it starts")]
    Open {
        /// Index of the ring.
        ring: usize,
        /// Distance between the loose ends, mm.
        gap_mm: f64,
    },
}

impl Region {
    /// A region of these rings. Orientation decides: counter-clockwise rings are exteriors,
    /// clockwise ones holes. That no two rings cross is the caller's part; make rings of unknown
    /// origin tidy with [`boolean::clean`](crate::boolean::clean) first.
    /// Segments of no length are dropped.
    ///
    /// # Errors
    /// The first fault found; see [`RegionError`].
    pub fn new(mut rings: Vec<Ring>) -> Result<Region, RegionError> {
        if rings.is_empty() {
            return Err(RegionError::Empty);
        }
        for (i, ring) in rings.iter_mut().enumerate() {
            ring.segments.retain(|s| s.from != s.to);
            check_ring(i, ring)?;
        }
        Ok(Region { rings })
    }

    /// The rings, exteriors and holes, in the order they were given.
    pub fn rings(&self) -> &[Ring] {
        &self.rings
    }

    /// Every segment of every ring, in order.
    pub fn segments(&self) -> impl Iterator<Item = &Segment> {
        self.rings.iter().flat_map(|r| &r.segments)
    }

    /// Area in mm², holes taken off.
    pub fn area(&self) -> f64 {
        self.rings.iter().map(Ring::signed_area).sum()
    }

    /// Length of all edges, holes included.
    pub fn perimeter(&self) -> f64 {
        self.rings.iter().map(Ring::perimeter).sum()
    }

    /// The smallest upright box around it.
    pub fn bounds(&self) -> Bounds {
        self.rings.iter().fold(Bounds::EMPTY, |b, r| b.union(r.bounds()))
    }

    /// Whether `p` lies inside; on the edge it may be either.
    pub fn contains(&self, p: Point) -> bool {
        self.rings.iter().map(|r| r.winding(p)).sum::<i32>() > 0
    }

    /// Distance from `p` to the nearest edge, negative outside. Looks at every segment; where it
    /// is asked often, use [`Walls`](crate::Walls).
    pub fn clearance(&self, p: Point) -> f64 {
        let d = self.rings.iter().map(|r| r.distance(p)).fold(f64::INFINITY, f64::min);
        if self.contains(p) { d } else { -d }
    }

    /// Moved by `by`.
    #[must_use]
    pub fn moved(&self, by: Point) -> Region {
        self.mapped(&|p| p + by, 1.0)
    }

    /// Turned about the origin by `angle` radians, counter-clockwise.
    #[must_use]
    pub fn turned(&self, angle: f64) -> Region {
        let unit = Point::unit(angle);
        self.mapped(&|p| p.turned(unit), 1.0)
    }

    /// Scaled about the origin; `factor` must be positive.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Region {
        self.mapped(&|p| p * factor, factor)
    }

    /// Every segment with the label `tag`.
    #[must_use]
    pub fn tagged(&self, tag: u8) -> Region {
        let ring = |r: &Ring| Ring { segments: r.segments.iter().map(|s| s.tagged(tag)).collect() };
        Region { rings: self.rings.iter().map(ring).collect() }
    }

    /// Rings that are known to be sound, or only to be looked at.
    pub(crate) fn of_rings(rings: Vec<Ring>) -> Region {
        Region { rings }
    }

    pub(crate) fn rings_mut(&mut self) -> &mut [Ring] {
        &mut self.rings
    }

    fn mapped(&self, f: &impl Fn(Point) -> Point, scale: f64) -> Region {
        let ring =
            |r: &Ring| Ring { segments: r.segments.iter().map(|s| s.mapped(f, scale)).collect() };
        Region { rings: self.rings.iter().map(ring).collect() }
    }
}

/// Whether one ring is finite, closed, true to its circles and of some area.
fn check_ring(i: usize, ring: &Ring) -> Result<(), RegionError> {
    if !ring.segments.iter().all(|s| s.from.is_finite() && s.to.is_finite()) {
        return Err(RegionError::NotFinite { ring: i });
    }
    let far = |p: Point| p.x.abs().max(p.y.abs()) > crate::boolean::LIMIT_MM;
    if ring.segments.iter().any(|s| far(s.from)) {
        return Err(RegionError::TooFar { ring: i });
    }
    let ends = ring.segments.iter().zip(ring.segments.iter().cycle().skip(1));
    let gap_mm = ends.map(|(a, b)| a.to.distance(b.from)).fold(0.0, f64::max);
    if gap_mm > JOIN_MM {
        return Err(RegionError::Open { ring: i, gap_mm });
    }
    for s in &ring.segments {
        let Curve::Arc { centre, radius, .. } = s.curve else { continue };
        let off = |p: Point| (p.distance(centre) - radius).abs();
        let off_mm = off(s.from).max(off(s.to));
        // Written so that what is not a number is refused as well.
        if !(off_mm <= JOIN_MM && radius > 0.0) {
            return Err(RegionError::OffCircle { ring: i, off_mm });
        }
    }
    if ring.signed_area().abs() < 1e-9 {
        return Err(RegionError::NoArea { ring: i });
    }
    Ok(())
}
