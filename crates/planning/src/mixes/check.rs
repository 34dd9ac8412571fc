//! Numbers that no bag can be made from.

use super::{BagSize, MixError, MixWork};
use rust_decimal::Decimal;

pub(super) fn check(work: &MixWork) -> Result<(), MixError> {
    let range = |what: &str, value: String, wanted: &'static str, right: bool| {
        if right {
            return Ok(());
        }
        Err(MixError::Range { what: what.to_owned(), mix: work.mix.clone(), value, wanted })
    };
    for k in &work.kinds {
        let right = k.share >= 0.0 && k.share.is_finite();
        range(&format!("share of `{}`", k.kind), k.share.to_string(), "0 or more", right)?;
        let unit = k.unit_g.value;
        let right = unit > 0.0 && unit <= 100.0;
        range(
            &format!("weight of one `{}`", k.kind),
            unit.to_string(),
            "above 0 g, at most 100 g",
            right,
        )?;
    }
    let sum: f64 = work.kinds.iter().map(|k| k.share).sum();
    if sum.is_nan() || sum <= 0.0 || sum.is_infinite() {
        return Err(MixError::Empty { mix: work.mix.clone() });
    }
    match work.bag {
        BagSize::Grams(g) => {
            range(
                "weight of a bag",
                g.to_string(),
                "above 0 g, at most 100 kg",
                g > 0.0 && g <= 1e5,
            )?;
            one_stone(work, g)?;
        }
        BagSize::Stones(n) => {
            range(
                "stones of a bag",
                n.to_string(),
                "from 1 to 1,000,000",
                (1..=1_000_000).contains(&n),
            )?;
        }
    }
    let tare = work.bag_g.value;
    range(
        "weight of the empty bag",
        tare.to_string(),
        "0 g or more, at most 10 kg",
        (0.0..=1e4).contains(&tare),
    )?;
    let min = work.bag_min.value;
    range(
        "time to fill a bag",
        min.to_string(),
        "0 min or more, at most a day",
        (0.0..=1440.0).contains(&min),
    )?;
    let money = Decimal::from(1_000_000);
    let prices = work.kinds.iter().filter_map(|k| k.stone_price);
    let prices = prices.chain([work.bag_price.value, work.hour_price.value]);
    for price in prices {
        let right = price >= Decimal::ZERO && price <= money;
        range("a price", price.to_string(), "0 or more, at most 1,000,000", right)?;
    }
    for zone in &work.laid {
        let right = zone.stones > 0
            && zone.area_cm2 > 0.0
            && zone.area_cm2.is_finite()
            && (0.0..=1.0).contains(&zone.coverage);
        range(
            &format!("what zone `{}` took", zone.zone),
            zone.stones.to_string(),
            "some stones on some area",
            right,
        )?;
    }
    Ok(())
}

/// A bag holds at least one stone of the lightest kind.
fn one_stone(work: &MixWork, grams: f64) -> Result<(), MixError> {
    let used = work.kinds.iter().filter(|k| k.share > 0.0);
    let lightest = used.min_by(|a, b| a.unit_g.value.total_cmp(&b.unit_g.value));
    match lightest.filter(|k| grams < k.unit_g.value) {
        None => Ok(()),
        Some(k) => Err(MixError::BelowOneStone {
            mix: work.mix.clone(),
            grams,
            kind: k.kind.clone(),
            unit_g: k.unit_g.value,
        }),
    }
}
