//! Regions in JSON: lines and circular arcs, as the lay was computed on.

use geometry::Curve;
use schemars::JsonSchema;
use serde::Serialize;

/// A bounded piece of the plane: what its rings enclose, holes taken off. No two rings cross.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Region {
    /// Exteriors run counter-clockwise, holes clockwise.
    pub rings: Vec<Ring>,
}

/// A closed boundary.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Ring {
    /// Whether it bounds a hole.
    pub hole: bool,
    /// Where it starts, [x, y] in mm.
    pub start: [f64; 2],
    /// Its pieces in order; each starts where the one before it ends, the last ends at `start`.
    pub segments: Vec<Segment>,
}

/// A straight or circular piece of a boundary.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
#[schemars(deny_unknown_fields)]
pub enum Segment {
    /// Straight.
    Line {
        /// Where it ends, [x, y] in mm.
        to: [f64; 2],
        /// How far a stone's pitch circle keeps from it, mm; in regions of zones only.
        #[serde(skip_serializing_if = "Option::is_none")]
        keep_mm: Option<f64>,
    },
    /// Along a circle, at most half way round.
    Arc {
        /// Where it ends, [x, y] in mm.
        to: [f64; 2],
        /// Centre of its circle, [x, y] in mm.
        centre: [f64; 2],
        /// Radius of its circle, mm.
        radius_mm: f64,
        /// Whether it runs counter-clockwise.
        ccw: bool,
        /// How far a stone's pitch circle keeps from it, mm; in regions of zones only.
        #[serde(skip_serializing_if = "Option::is_none")]
        keep_mm: Option<f64>,
    },
}

impl Region {
    /// The region, with the distance that `keep_mm` gives for each segment's tag.
    pub(crate) fn new(region: &geometry::Region, keep_mm: impl Fn(u8) -> Option<f64>) -> Region {
        let rings = region.rings().iter().filter_map(|ring| Ring::new(ring, &keep_mm)).collect();
        Region { rings }
    }
}

impl Ring {
    fn new(ring: &geometry::Ring, keep_mm: &impl Fn(u8) -> Option<f64>) -> Option<Ring> {
        let start = xy(ring.segments.first()?.from);
        let segments = ring.segments.iter().map(|s| Segment::new(s, keep_mm(s.tag))).collect();
        Some(Ring { hole: ring.is_hole(), start, segments })
    }
}

impl Segment {
    fn new(segment: &geometry::Segment, keep_mm: Option<f64>) -> Segment {
        let to = xy(segment.to);
        match segment.curve {
            Curve::Line => Segment::Line { to, keep_mm },
            Curve::Arc { centre, radius, ccw } => {
                Segment::Arc { to, centre: xy(centre), radius_mm: radius, ccw, keep_mm }
            }
        }
    }
}

/// [x, y]; never −0, which some readers print and others do not.
fn xy(p: geometry::Point) -> [f64; 2] {
    [p.x + 0.0, p.y + 0.0]
}
