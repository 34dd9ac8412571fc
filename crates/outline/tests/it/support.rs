//! Short ways to read a drawing and to compare what came out.

use outline::{Imported, OutlineError, Scale, read_svg};

/// A drawing of `body` on a page of 100 × 100 units of a millimetre.
pub(crate) fn page(body: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" \
         width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\">{body}</svg>"
    )
}

/// The outline of `body` on such a page.
pub(crate) fn drawn(body: &str) -> Imported {
    match read_svg(page(body).as_bytes(), Scale::AsDrawn) {
        Ok(imported) => imported,
        Err(e) => panic!("{body}: {e}"),
    }
}

/// Why `body` on such a page gives none.
pub(crate) fn refused(body: &str) -> OutlineError {
    match read_svg(page(body).as_bytes(), Scale::AsDrawn) {
        Ok(imported) => panic!("{body}: area {}", imported.region.area()),
        Err(e) => e,
    }
}

/// Asserts that the outline is within a thousandth of one of this area, width and height.
///
/// `curved` is the length of curved edge: there the area may be short by that times 0.001. The
/// reader has transforms in `f32`: six decimal places of an area are what it gives.
pub(crate) fn check(body: &str, area: f64, size: (f64, f64), curved: f64) {
    let got = drawn(body);
    let (b, a) = (got.region.bounds(), got.region.area());
    assert!(a <= area * (1.0 + 1e-7), "{body}: area {a} above {area}");
    assert!(a >= area * (1.0 - 1e-7) - curved * 0.001, "{body}: area {a} below {area}");
    assert!((b.width() - size.0).abs() < 1e-3, "{body}: width {}", b.width());
    assert!((b.height() - size.1).abs() < 1e-3, "{body}: height {}", b.height());
    assert!(b.min.norm() < 1e-9, "{body}: corner {:?}", b.min);
    assert!(got.deviation_mm <= 0.001, "{body}: deviation {}", got.deviation_mm);
}
