//! The shelf of a document as the lay needs it.

use super::{MEASURED_FEW, ShelfKind};
use crate::document::model::{Kind, Size};
use crate::document::size_name;
use lay::{Finding, Severity, Shape, sizes};

/// Fewer measured stones than this say little about the spread.
const ENOUGH_MEASURED: u32 = 10;

/// A kind with its two diameters.
pub(super) fn shelf_kind(kind: &Kind) -> ShelfKind {
    let (fit_mm, reach_mm, spread_mm) = diameters(kind.size);
    ShelfKind {
        kind: lay::Kind {
            name: kind.name.clone(),
            shape: Shape::Round,
            size: size_name(kind.size),
            fit_mm,
            reach_mm,
            spread_mm,
            colour: kind.colour,
            finish: kind.finish,
        },
        pack: kind.pack,
        weight_g: kind.weight_g,
        weighed: kind.weighed,
        height_mm: kind.height_mm,
        stand_ins: kind.stand_ins.clone(),
    }
}

/// Fit, reach and spread, mm: by the chart its upper bound, middle and a quarter of its range;
/// by the bag its diameter with tolerance, its diameter and half the tolerance; by measure
/// mean + 2 s, mean and s.
fn diameters(size: Size) -> (f64, f64, f64) {
    match size {
        Size::Ss(n) => {
            // The document lets only sizes of the chart through.
            let (min, max) = sizes::round(n).unwrap_or_default();
            (max, f64::midpoint(min, max), (max - min) / 4.0)
        }
        Size::Mm { diameter, tolerance } => (diameter + tolerance, diameter, tolerance / 2.0),
        Size::Measured { mean, spread, .. } => (mean + 2.0 * spread, mean, spread),
    }
}

/// What is worth knowing about the sizes of these kinds.
pub(super) fn findings(kind: &Kind) -> Option<Finding> {
    let Size::Measured { count, .. } = kind.size else { return None };
    (count < ENOUGH_MEASURED).then(|| {
        let text = format!("only {count} stones of `{}` were measured", kind.name);
        let hint = "measure ten or more, from all over the bag";
        Finding::new(MEASURED_FEW, Severity::Note, text, hint)
            .with(format!("{count} stones"), format!("{ENOUGH_MEASURED} stones"))
    })
}

#[cfg(test)]
mod tests {
    use super::diameters;
    use crate::document::model::Size;

    /// SS16: 3.80 to 4.00 mm in the trade's size chart.
    #[test]
    fn the_two_diameters_follow_from_the_size() {
        let near = |a: (f64, f64, f64), b: (f64, f64, f64)| {
            assert!(
                (a.0 - b.0).abs() < 1e-12 && (a.1 - b.1).abs() < 1e-12 && (a.2 - b.2).abs() < 1e-12
            );
        };
        near(diameters(Size::Ss(16)), (4.0, 3.9, 0.05));
        near(diameters(Size::Mm { diameter: 4.0, tolerance: 0.1 }), (4.1, 4.0, 0.05));
        near(diameters(Size::Measured { mean: 3.92, spread: 0.04, count: 30 }), (4.0, 3.92, 0.04));
    }
}
