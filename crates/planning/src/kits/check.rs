//! Numbers that no kit can be packed from.

use super::{KitError, KitWork};
use rust_decimal::Decimal;

/// Kits that are packed in one go, at most: each has its labels.
const MOST_KITS: u32 = 1000;
/// Kinds of one kit, at most.
const MOST_KINDS: usize = 200;

pub(super) fn check(work: &KitWork) -> Result<(), KitError> {
    let range = |what: &str, value: String, wanted, right: bool| {
        if right {
            return Ok(());
        }
        Err(KitError::Range { what: what.to_owned(), kit: work.kit.clone(), value, wanted })
    };
    let kits = work.kits;
    range("number", kits.to_string(), "from 1 to 1,000", (1..=MOST_KITS).contains(&kits))?;
    let n = work.kinds.len();
    range("kinds", n.to_string(), "at most 200", n <= MOST_KINDS)?;
    for k in &work.kinds {
        let of = format!("stones of `{}`", k.kind);
        range(&of, k.stones.to_string(), "at most 1,000,000", k.stones <= 1_000_000)?;
        let bag = k.bag_g.value;
        let of = format!("empty bag of `{}`", k.kind);
        range(&of, bag.to_string(), "from 0 g to 10 kg", (0.0..=1e4).contains(&bag))?;
        let right = k.diameter_mm > 0.0 && k.diameter_mm <= 1000.0;
        let of = format!("diameter of `{}`", k.kind);
        range(&of, k.diameter_mm.to_string(), "above 0 mm, at most 1 m", right)?;
        if let Some(price) = k.stone_price {
            let right = price >= Decimal::ZERO && price <= Decimal::from(1_000_000);
            let of = format!("price of `{}`", k.kind);
            range(&of, price.to_string(), "from 0 to 1,000,000", right)?;
        }
    }
    if work.kinds.iter().all(|k| k.stones == 0) {
        return Err(KitError::Empty { kit: work.kit.clone() });
    }
    Ok(())
}
