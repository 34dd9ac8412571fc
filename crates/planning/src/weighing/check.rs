//! Numbers that cannot be weighed.

use super::{MOST_G, Sample, Weighing, WeighingError};

pub(super) fn check(weighing: &Weighing) -> Result<(), WeighingError> {
    let kind = || weighing.kind.clone();
    let range = |what, value: f64, right: bool, wanted| {
        if right {
            return Ok(());
        }
        Err(WeighingError::Range { what, kind: kind(), value, wanted })
    };
    let tare_g = weighing.tare_g.value;
    range("weight of the dish", tare_g, (0.0..=MOST_G).contains(&tare_g), "from 0 g to 1 t")?;
    let step = weighing.readability_g.value;
    range("step of the scale", step, (0.0..=1000.0).contains(&step), "from 0 g to 1 kg")?;
    let spread = weighing.spread.value;
    range("spread of weight", spread, (0.0..=1.0).contains(&spread), "from 0 to 100 %")?;
    let sure = weighing.confidence.value;
    range("confidence", sure, (0.5..=0.9999).contains(&sure), "from 50 % to 99.99 %")?;
    if weighing.samples.is_empty() {
        return Err(WeighingError::NoSample { kind: kind() });
    }
    for sample in &weighing.samples {
        let stones = f64::from(sample.stones);
        range("stones of a sample", stones, (1.0..=1e6).contains(&stones), "from 1 to 1,000,000")?;
        range("weight of a sample", sample.shown_g, sample.shown_g <= MOST_G, "at most 1 t")?;
        if sample.shown_g <= tare_g {
            let Sample { stones, shown_g } = *sample;
            return Err(WeighingError::NothingWeighed { kind: kind(), stones, shown_g, tare_g });
        }
        let net_g = sample.shown_g - tare_g;
        // Ten steps that came out of a subtraction are ten steps.
        if step > net_g / 10.0 * (1.0 + 1e-9) {
            let stones = sample.stones;
            return Err(WeighingError::ScaleCoarse { kind: kind(), stones, net_g, step_g: step });
        }
    }
    Ok(())
}
