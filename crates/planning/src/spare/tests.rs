//! What every spare promises.

use super::*;
use crate::Origin;
use proptest::prelude::*;

fn kind(name: &str, need: Counts, losses: Losses) -> KindNeed {
    KindNeed { kind: name.into(), need, losses }
}

fn assumed(loss: f64) -> Losses {
    logged(loss, 0, 0)
}

fn logged(loss: f64, handled: u64, lost: u64) -> Losses {
    Losses { assumed: Given::document(loss), trust: Given::usual(500.0), handled, lost }
}

fn order(sure: f64, kinds: Vec<KindNeed>) -> (Spare, Vec<Finding>) {
    spare(&SpareInput { sure: Given::usual(sure), kinds }).unwrap()
}

fn one(sure: f64, need: Counts, losses: Losses) -> KindSpare {
    order(sure, vec![kind("sea glass", need, losses)]).0.kinds.remove(0)
}

fn refused(sure: f64, need: Counts, losses: Losses) -> SpareError {
    let kinds = vec![kind("sea glass", need, losses)];
    spare(&SpareInput { sure: Given::usual(sure), kinds }).unwrap_err()
}

fn counts() -> impl Strategy<Value = Counts> {
    let samples = prop::collection::vec(0_u64..3000, 1..50);
    samples.prop_map(|s| Counts::from_samples(&s).unwrap())
}

fn losses() -> impl Strategy<Value = Losses> {
    (0.0..0.5_f64, 10.0..2000.0_f64, 0_u64..5000, 0.0..0.5_f64).prop_map(
        |(loss, trust, handled, part)| Losses {
            assumed: Given::document(loss),
            trust: Given::document(trust),
            handled: if handled < 1000 { 0 } else { handled },
            lost: if handled < 1000 { 0 } else { (part * handled as f64) as u64 },
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 150,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(34),
        ..ProptestConfig::default()
    })]

    #[test]
    fn more_loss_never_buys_less(need in counts(), losses in losses(), more in 0.0..0.3_f64) {
        let worse = Losses { assumed: Given::document(losses.assumed.value + more), ..losses };
        prop_assert!(one(0.95, need.clone(), worse).quantity >= one(0.95, need, losses).quantity);
    }

    #[test]
    fn more_lost_in_the_log_never_buys_less(need in counts(), losses in losses(), more in 1_u64..200) {
        let worse = Losses { lost: (losses.lost + more).min(losses.handled), ..losses };
        prop_assert!(one(0.95, need.clone(), worse).quantity >= one(0.95, need, losses).quantity);
    }

    #[test]
    fn more_confidence_never_buys_less(
        need in counts(), losses in losses(), a in 0.01..0.999999_f64, b in 0.01..0.999999_f64,
    ) {
        let (less, more) = (a.min(b), a.max(b));
        let (less, more) = (one(less, need.clone(), losses), one(more, need, losses));
        prop_assert!(more.quantity >= less.quantity && more.chance >= less.chance);
    }

    #[test]
    fn an_uncertain_need_lies_between_its_extremes(need in counts(), losses in losses()) {
        let of = |n| one(0.95, Counts::exactly(n), losses).quantity;
        let (least, most) = (of(need.least()), of(need.most()));
        prop_assert!((least..=most).contains(&one(0.95, need, losses).quantity));
    }

    #[test]
    fn every_kind_does_its_part_for_the_order(
        kinds in prop::collection::vec((counts(), losses()), 1..6), sure in 0.5..0.9999_f64,
    ) {
        let kinds: Vec<KindNeed> = kinds.into_iter().map(|(n, l)| kind("x", n, l)).collect();
        let (whole, _) = order(sure, kinds.clone());
        prop_assert!(whole.chance >= sure - 1e-10);
        prop_assert!((libm::pow(whole.sure_each, whole.n_kinds as f64) - sure).abs() < 1e-12);
        for (asked, got) in kinds.into_iter().zip(&whole.kinds) {
            prop_assert!(got.quantity >= got.quantity_alone);
            prop_assert!(got.chance >= whole.sure_each - 1e-11);
            let alone = one(sure, asked.need, asked.losses);
            prop_assert_eq!(got.quantity_alone, alone.quantity);
            // Reached by another way, so that the last bits may differ.
            prop_assert!((got.chance_alone - alone.chance).abs() < 1e-12);
        }
    }
}

#[test]
fn worked_by_hand() {
    // Two needed, half are lost: of 4 at least 2 are left with 11/16, of 5 with 13/16.
    let got = one(0.7, Counts::exactly(2), assumed(0.5));
    assert_eq!((got.quantity, got.spare), (5, 3));
    assert!((got.chance - 13.0 / 16.0).abs() < 1e-15);
    // Two kinds at 0.81 in all: each at 0.9, and one stone at a loss of 0.1 gives just that.
    let two = vec![
        kind("sea glass", Counts::exactly(1), assumed(0.1)),
        kind("deep water", Counts::exactly(1), assumed(0.1)),
    ];
    let (got, _) = order(0.81, two);
    assert!((got.sure_each - 0.9).abs() < 1e-15 && (got.chance - 0.81).abs() < 1e-12);
    assert_eq!(got.kinds[0].quantity, 1);
    // Either 1 or 3 needed and nothing lost: half of the time 1 is enough.
    let either = Counts::from_samples(&[1, 3]).unwrap();
    assert_eq!(one(0.5, either.clone(), assumed(0.0)).quantity, 1);
    let got = one(0.51, either, assumed(0.0));
    assert_eq!((got.quantity, got.need, got.need_95, got.spare), (3, 1, Some(3), 2));
    // A uniform rate (a = b = 1, the rule of succession, Laplace 1774) would lose 0, 1 … n of n
    // with the same chance; 10 stones of trust at 0.1 and 8 more lost are a = b = 9 and symmetric.
    let even = Losses { trust: Given::document(10.0), ..logged(0.1, 8, 8) };
    assert!((one(0.5, Counts::exactly(50), even).loss - 0.5).abs() < 1e-15);
}

#[test]
fn nothing_lost_or_nothing_needed_is_no_spare() {
    let got = one(0.999_999, Counts::exactly(1240), assumed(0.0));
    assert_eq!((got.quantity, got.spare, got.chance, got.need_95), (1240, 0, 1.0, None));
    let got = one(0.95, Counts::exactly(0), assumed(0.3));
    assert_eq!((got.quantity, got.spare, got.chance), (0, 0, 1.0));
    // What is not needed takes no part of the chance.
    let needed = kind("sea glass", Counts::exactly(900), assumed(0.03));
    let unused = kind("deep water", Counts::exactly(0), assumed(0.03));
    let (got, _) = order(0.95, vec![unused, needed]);
    assert_eq!((got.n_kinds, got.sure_each), (1, 0.95));
    assert_eq!(got.reasons.len(), 2);
    let (none, found) = order(0.95, vec![]);
    assert_eq!((none.chance, none.n_kinds, found.len()), (1.0, 0, 0));
}

#[test]
fn a_long_log_rules_over_the_assumption() {
    let need = || Counts::exactly(2000);
    let short = one(0.95, need(), logged(0.03, 100, 3));
    let long = one(0.95, need(), logged(0.03, 1_000_000, 30_000));
    let sure = one(0.95, need(), assumed(0.03));
    // The longer the log, the nearer to a known rate.
    assert!(short.quantity > long.quantity && long.quantity <= sure.quantity + 1);
    let better = one(0.95, need(), logged(0.03, 50_000, 250));
    assert!((better.loss - 265.0 / 50_500.0).abs() < 1e-12 && better.quantity < 2030);
}

/// One stone of trust at 0.5 is Beta(0.5, 0.5): of one stone half is kept, of two a stone is left
/// with 1 − 3/8 (Pólya's urn: 0.5/1 × 1.5/2 both lost).
#[test]
fn a_trust_that_the_maker_states_counts_without_a_log() {
    let said = |trust| Losses { trust: Given::document(trust), ..assumed(0.5) };
    let got = one(0.6, Counts::exactly(1), said(1.0));
    assert_eq!(got.quantity, 2);
    assert!((got.chance - 5.0 / 8.0).abs() < 1e-12);
    let need = || Counts::exactly(2000);
    let of = |losses: Losses| {
        one(0.95, need(), Losses { assumed: Given::document(0.03), ..losses }).quantity
    };
    assert!(of(said(50.0)) > of(said(500.0)) && of(said(500.0)) > of(assumed(0.03)));
    assert_eq!(of(said(1e7)), of(assumed(0.03)));
}

#[test]
fn absurd_values_are_refused_by_name() {
    let need = || Counts::exactly(10);
    assert!(matches!(refused(1.0, need(), assumed(0.03)), SpareError::Sure(_)));
    assert!(matches!(refused(f64::NAN, need(), assumed(0.03)), SpareError::Sure(_)));
    assert!(matches!(refused(0.9, need(), assumed(0.9)), SpareError::Loss { .. }));
    assert!(matches!(refused(0.9, need(), assumed(-0.01)), SpareError::Loss { .. }));
    assert!(matches!(refused(0.9, need(), logged(0.03, 5, 6)), SpareError::Log { .. }));
    let mut blind = logged(0.03, 5, 1);
    blind.trust.value = 0.5;
    assert!(matches!(refused(0.9, need(), blind), SpareError::Trust { .. }));
    let far = refused(0.9, Counts::exactly(NEED_LIMIT + 1), assumed(0.03));
    assert!(matches!(far, SpareError::Need { .. }));
    let mut hopeless = logged(0.89, 1, 1);
    hopeless.trust.value = 10.0;
    assert_eq!((TRUST_MIN, TRUST_MAX), (1.0, 1e7));
    let far = refused(0.999_999, Counts::exactly(NEED_LIMIT), hopeless);
    assert!(matches!(far, SpareError::Unbounded { .. }), "{far}");
}

#[test]
fn findings_name_the_worst_kind_and_how_many_more() {
    let kinds = vec![
        kind("sea glass", Counts::exactly(900), logged(0.03, 120, 4)),
        kind("deep water", Counts::exactly(900), logged(0.03, 60, 2)),
        kind("lantern red", Counts::exactly(900), logged(0.03, 1000, 85)),
        kind("chalk", Counts::exactly(900), logged(0.12, 0, 0)),
        kind("unused", Counts::exactly(0), logged(0.2, 5, 5)),
    ];
    let (_, found) = order(0.95, kinds);
    let codes: Vec<&str> = found.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["plan.log-thin", "plan.loss-apart", "plan.loss-high"]);
    assert!(found[0].text.contains("`deep water` and of one more kind"), "{}", found[0].text);
    assert_eq!(found[1].measured.as_deref(), Some("85 of 1,000 stones, 8.5 %"));
    assert!(found[2].text.contains("`chalk`"));
    assert!(found.iter().all(|f| PAGES.iter().any(|p| p.code == f.code)));
    assert!(PAGES.is_sorted_by_key(|p| p.code));
}

#[test]
fn reasons_tell_where_each_input_comes_from() {
    let need = Counts::from_samples(&[480, 500, 510]).unwrap();
    let (got, _) = order(0.95, vec![kind("sea glass", need, logged(0.03, 3000, 85))]);
    let reason = &got.reasons[1];
    assert_eq!(reason.figure, "sea glass to have ready");
    let input = |name: &str| reason.inputs.iter().find(|i| i.name == name).unwrap();
    assert_eq!(input("need").value, "500 stones (half of all cases), 510 (95 of 100)");
    assert_eq!(input("trust in it").origin, Origin::Usual);
    assert_eq!(input("loss assumed").origin, Origin::Document);
    assert_eq!(input("lost by the log").origin, Origin::Log);
}
