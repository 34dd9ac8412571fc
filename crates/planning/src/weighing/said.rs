//! How a unit weight came about.

use super::{UnitWeight, Weighing};
use crate::{Origin, Reason};
use units::trimmed;

pub(super) fn unit_reasons(weighing: &Weighing, unit: &UnitWeight, observed: bool) -> Vec<Reason> {
    let percent = |part: f64| format!("{} %", trimmed(part * 100.0, 2));
    let formula = if observed {
        "(shown − tare) / stones over all samples; standard error by the residuals of the samples, ± Student's quantile"
    } else {
        "(shown − tare) / stones over all samples; standard error² = (spread × unit)²/n + (k + k²)·d²/12n², d the step of the scale and k the samples, ± normal quantile"
    };
    let mut weight = Reason::new(
        format!("unit weight of {}", weighing.kind),
        format!(
            "{} g ± {} g",
            trimmed(unit.unit_g, 5),
            trimmed(unit.factor * unit.standard_error_g, 5)
        ),
        formula,
    )
    .with("tare", format!("{} g", trimmed(weighing.tare_g.value, 3)), weighing.tare_g.origin);
    for s in &weighing.samples {
        let shown = format!("{}, {} g", super::stones_counted(s.stones), trimmed(s.shown_g, 3));
        weight = weight.with("sample", shown, Origin::Document);
    }
    let step = &weighing.readability_g;
    let spread_origin = if observed { Origin::Plan } else { weighing.spread.origin };
    let weight = weight
        .with("step of the scale", format!("{} g", trimmed(step.value, 4)), step.origin)
        .with("spread of single stones", percent(unit.spread), spread_origin)
        .with("confidence", percent(unit.confidence), weighing.confidence.origin);
    let sample = Reason::new(
        format!("stones to weigh of {} for ±1 %", weighing.kind),
        unit.stones_for_1_percent.to_string(),
        "smallest n with z²·(spread²/n + d²/(6u²n²)) ≤ 1 %²",
    )
    .with("spread of single stones", percent(unit.spread), spread_origin)
    .with("step of the scale", format!("{} g", trimmed(step.value, 4)), step.origin);
    vec![weight, sample]
}
