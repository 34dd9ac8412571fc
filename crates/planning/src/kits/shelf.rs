//! Kits against what lies free on the shelf.

use super::Kit;
use lay::{Finding, Severity};
use units::grouped;

/// What lies free of a kind: not reserved, and not used by the order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FreeStones {
    /// The kind.
    pub kind: String,
    /// How many.
    pub stones: u64,
}

/// Whether the shelf holds the stones of all kits together; `None` if it does. The purchase of an
/// order does not hold them.
pub fn kits_on_shelf(kits: &[Kit], free: &[FreeStones]) -> Option<Finding> {
    let lines = || kits.iter().flat_map(|k| &k.gathering);
    let mut kinds: Vec<&str> = vec![];
    for line in lines().filter(|l| l.all_stones > 0) {
        if !kinds.contains(&line.kind.as_str()) {
            kinds.push(&line.kind);
        }
    }
    let short = kinds.into_iter().filter_map(|kind| {
        let wanted: u64 = lines().filter(|l| l.kind == kind).map(|l| l.all_stones).sum();
        let there: u64 = free.iter().filter(|f| f.kind == kind).map(|f| f.stones).sum();
        let short = wanted.checked_sub(there).filter(|n| *n > 0)?;
        Some(format!("{} of `{kind}` ({} of {})", grouped(short), grouped(there), grouped(wanted)))
    });
    let short: Vec<String> = short.collect();
    (!short.is_empty()).then(|| {
        Finding::new(
            "plan.kit-stones",
            Severity::Warning,
            format!(
                "stones for kits are missing, and they are not in the purchase: {}",
                short.join(", ")
            ),
            "buy these stones besides, or pack fewer kits",
        )
    })
}
