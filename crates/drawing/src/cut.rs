//! How a round flat-back is cut: its facets from above, in the unit circle.

use geometry::Point;

/// The azimuth the light comes from, radians: the upper left.
pub(crate) const LIGHT: f64 = 2.2;
/// Radius of the crown's edge; the rest, out to 1, is the girdle.
pub(crate) const CROWN: f64 = 0.96;

/// One flat face.
#[derive(Clone, Debug)]
pub(crate) struct Facet {
    /// Its corners.
    pub(crate) corners: Vec<Point>,
    /// The way it faces, radians counter-clockwise from x.
    pub(crate) azimuth: f64,
    /// How steep it is: 0 lies flat, 1 is the steepest of the cut.
    pub(crate) slope: f64,
    /// Which face of the cut it is a copy of: faces of one course lie round the middle.
    pub(crate) course: u64,
}

/// Forty faces of the usual cut, turned by `turn` radians: a table seen as eight wedges (what
/// the foil throws back through it), eight star facets round it, eight kites, and sixteen facets
/// along the girdle.
///
/// Proportions by eye from how the trade's stones look; common practice, no source.
pub(crate) fn brilliant(turn: f64) -> Vec<Facet> {
    const TABLE: f64 = 0.50;
    const MIDDLE: f64 = 0.735;
    let eighth = std::f64::consts::FRAC_PI_4;
    let mut facets = Vec::with_capacity(40);
    for k in 0..8 {
        let at = |r: f64, steps: f64| Point::unit(turn + (f64::from(k) + steps) * eighth) * r;
        let mut face = |course: u64, corners: &[Point], steps: f64, slope: f64| {
            let azimuth = turn + (f64::from(k) + steps) * eighth;
            facets.push(Facet { corners: corners.to_vec(), azimuth, slope, course });
        };
        face(0, &[Point::ORIGIN, at(TABLE, 0.0), at(TABLE, 1.0)], 0.5, 0.0);
        face(1, &[at(TABLE, 0.0), at(MIDDLE, 0.5), at(TABLE, 1.0)], 0.5, 0.55);
        face(2, &[at(TABLE, 0.0), at(MIDDLE, -0.5), at(CROWN, 0.0), at(MIDDLE, 0.5)], 0.0, 0.8);
        face(3, &[at(MIDDLE, 0.5), at(CROWN, 0.0), at(CROWN, 0.5)], 0.25, 1.0);
        face(3, &[at(MIDDLE, 0.5), at(CROWN, 0.5), at(CROWN, 1.0)], 0.75, 1.0);
    }
    facets
}

/// Twenty-five faces of the plainer cut of metal studs: a table and eight broad sides, each folded
/// twice, turned by `turn` radians.
pub(crate) fn stud(turn: f64) -> Vec<Facet> {
    const TABLE: f64 = 0.56;
    let eighth = std::f64::consts::FRAC_PI_4;
    let corner =
        |r: f64, k: i32, steps: f64| Point::unit(turn + (f64::from(k) + steps) * eighth) * r;
    let table: Vec<Point> = (0..8).map(|k| corner(TABLE, k, 0.0)).collect();
    let mut facets = vec![Facet { corners: table, azimuth: 0.0, slope: 0.0, course: 0 }];
    for k in 0..8 {
        let (a, b) = (corner(TABLE, k, 0.0), corner(TABLE, k, 1.0));
        let (c, d) = (corner(CROWN, k, 0.0), corner(CROWN, k, 1.0));
        let fold = corner(CROWN, k, 0.5);
        let azimuth = |steps: f64| turn + (f64::from(k) + steps) * eighth;
        facets.push(Facet {
            corners: vec![a, c, fold],
            azimuth: azimuth(0.2),
            slope: 1.0,
            course: 1,
        });
        facets.push(Facet {
            corners: vec![a, fold, b],
            azimuth: azimuth(0.5),
            slope: 0.8,
            course: 2,
        });
        facets.push(Facet {
            corners: vec![b, fold, d],
            azimuth: azimuth(0.8),
            slope: 1.0,
            course: 1,
        });
    }
    facets
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::Ring;

    /// Area of the regular n-gon in a circle of radius r: n/2 · r² · sin(2π/n).
    fn n_gon(n: f64, r: f64) -> f64 {
        n / 2.0 * r * r * libm::sin(std::f64::consts::TAU / n)
    }

    #[test]
    fn the_faces_cover_the_crown_once() {
        for (facets, corners) in [(brilliant(0.3), 16.0), (stud(0.1), 16.0)] {
            let area: f64 =
                facets.iter().map(|f| Ring::polygon(&f.corners).signed_area().abs()).sum();
            assert!((area - n_gon(corners, CROWN)).abs() < 1e-12, "{area}");
            for corner in facets.iter().flat_map(|f| &f.corners) {
                assert!(corner.norm() <= CROWN + 1e-12);
            }
        }
    }
}
