//! Kits for a class, worked by hand and at random.

use super::*;
use crate::weighing::{Sample, UnitWeight, Weighing, unit_weight};
use proptest::prelude::*;

fn unit(stones: u32) -> UnitWeight {
    let weighing = Weighing {
        kind: "sea glass".into(),
        tare_g: Given::document(2.0),
        readability_g: Given::document(0.01),
        spread: Given::usual(0.05),
        samples: vec![Sample { stones, shown_g: 2.0 + 0.07 * f64::from(stones) }],
        confidence: Given::usual(0.95),
    };
    unit_weight(&weighing).unwrap()
}

fn charm() -> KitWork {
    let kind = |name: &str, stones, weighed: bool| KitKind {
        kind: name.into(),
        size: "SS16".into(),
        diameter_mm: 3.9,
        stones,
        bag_g: Given::document(0.8),
        unit: weighed.then(|| unit(400)),
        stone_price: Some("0.004".parse().unwrap()),
    };
    KitWork {
        kit: "lantern charm".into(),
        piece: "charm".into(),
        kits: 12,
        sure: Given::document(0.95),
        loss: Given::document(0.03),
        digits: 2,
        kinds: vec![kind("sea glass", 120, true), kind("buoy", 8, false)],
    }
}

/// With k kinds each at 0.95^(1/2) = 0.97468: SciPy 1.17 `nbinom.ppf(0.97468, 120, 0.97)` = 8 and
/// `nbinom.ppf(0.97468, 8, 0.97)` = 2.
#[test]
fn each_kit_has_its_own_spare() {
    let (kit, findings) = kit(&charm()).unwrap();
    let lines: Vec<(u32, u32, u64)> =
        kit.gathering.iter().map(|l| (l.spare, l.put_in, l.all_stones)).collect();
    assert_eq!(lines, [(8, 128, 1536), (2, 10, 120)]);
    assert_eq!((kit.stones_per_kit, kit.stones), (138, 1656));
    assert!(kit.stones_with_shared_spare < kit.stones);
    assert_eq!(kit.stones_cost, Some("6.62".parse().unwrap()));
    let glass = &kit.gathering[0];
    assert!((glass.gross_g.unwrap() - (128.0 * 0.07 + 0.8)).abs() < 1e-9);
    assert_eq!(kit.grams, None);
    assert!(findings.is_empty(), "{findings:?}");
}

#[test]
fn a_label_says_what_is_in_and_for_whom_it_is_not() {
    let (kit, _) = kit(&charm()).unwrap();
    assert_eq!(kit.labels.len(), 24);
    let wanted = [
        "lantern charm",
        "for charm",
        "sea glass, SS16",
        "128 stones, 8 of them spare",
        "9 g",
        "bag 3 of 12, kind 1 of 2",
        "small parts: not for children under 3 years",
    ];
    assert_eq!(kit.labels[4].lines, wanted);
}

#[test]
fn a_loose_count_is_said() {
    let mut work = charm();
    work.kinds[0].unit = Some(unit(2));
    let (_, findings) = kit(&work).unwrap();
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["plan.kit-weight-loose"]);
    work.kits = 0;
    assert_eq!(
        kit(&work).unwrap_err().to_string(),
        "number of kit `lantern charm` must be from 1 to 1,000: 0"
    );
}

/// 1,536 and 120 stones in 12 kits, so 3,072 and 240 in two such sets.
#[test]
fn kits_that_the_shelf_cannot_fill_are_said_by_kind() {
    let (kit, _) = kit(&charm()).unwrap();
    let kits = [kit.clone(), kit];
    let free = |n, m| {
        [("sea glass", n), ("buoy", m)].map(|(k, n)| FreeStones { kind: k.into(), stones: n })
    };
    assert_eq!(kits_on_shelf(&kits, &free(3072, 240)), None);
    let found = kits_on_shelf(&kits, &free(3000, 240)).unwrap();
    assert_eq!(found.code, "plan.kit-stones");
    assert!(
        found.text.contains("not in the purchase: 72 of `sea glass` (3,000 of 3,072)"),
        "{}",
        found.text
    );
    assert!(!found.text.contains("buoy"));
}

#[test]
fn stones_of_kits_cost_whole_units_of_the_currency() {
    let mut work = charm();
    work.kinds[0].stone_price = Some(Decimal::ONE / Decimal::from(3));
    work.digits = 0;
    // 512 and 0.48.
    assert_eq!(kit(&work).unwrap().0.stones_cost.unwrap().to_string(), "512");
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 64,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(35),
        ..ProptestConfig::default()
    })]

    #[test]
    fn more_loss_never_puts_less_in(
        stones in proptest::collection::vec(0u32..900, 1..5), loss in 0.0..0.2f64, more in 0.0..0.1f64
    ) {
        prop_assume!(stones.iter().any(|n| *n > 0));
        let mut work = charm();
        let first = work.kinds[0].clone();
        work.kinds = stones.iter().map(|n| KitKind { stones: *n, ..first.clone() }).collect();
        work.loss.value = loss;
        let (few, _) = kit(&work).unwrap();
        work.loss.value = loss + more;
        let (many, _) = kit(&work).unwrap();
        for (a, b) in few.gathering.iter().zip(&many.gathering) {
            prop_assert!(a.put_in <= b.put_in && a.put_in >= a.stones);
        }
        prop_assert!(few.stones_with_shared_spare <= few.stones);
        let lines: u64 = few.gathering.iter().map(|l| l.all_stones).sum();
        prop_assert_eq!(lines, few.stones);
    }
}
