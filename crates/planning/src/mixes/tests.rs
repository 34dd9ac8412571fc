//! Bags of mixes, worked by hand and at random.

use super::*;
use crate::price::{Currency, Fee, Margin, Markup};
use proptest::prelude::*;

fn money(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn kind(name: &str, share: f64, unit_g: f64, price: &str, shelf_stones: u64) -> MixKind {
    MixKind {
        kind: name.into(),
        size: "SS16".into(),
        diameter_mm: 3.9,
        share,
        unit_g: Given::document(unit_g),
        stone_price: Some(money(price)),
        shelf_stones,
    }
}

fn harbour() -> MixWork {
    MixWork {
        mix: "harbour at dusk".into(),
        kinds: vec![
            kind("sea glass", 0.5, 0.07, "0.004", 2000),
            kind("deep water", 0.3, 0.07, "0.005", 1000),
            kind("buoy", 0.2, 0.15, "0.01", 1000),
        ],
        bag: BagSize::Stones(500),
        bag_g: Given::document(1.5),
        bag_price: Given::document(money("0.12")),
        bag_min: Given::document(3.0),
        hour_price: Given::document(money("19.00")),
        profit: Given::document(Profit::Margin(Margin::new(money("0.35")).unwrap())),
        terms: SingleTerms {
            currency: Currency::new("EUR").unwrap(),
            tax: Given::usual(Decimal::ZERO),
            fees: vec![],
            round_up_to: None,
        },
        laid: vec![
            LaidZone { zone: "badge/sea".into(), stones: 400, area_cm2: 50.0, coverage: 0.8 },
            LaidZone { zone: "hoop/rim".into(), stones: 600, area_cm2: 60.0, coverage: 0.9 },
        ],
    }
}

/// 250, 150 and 100 stones: 17.5 + 10.5 + 15 g. Stones 1.00 + 0.75 + 1.00, bag 0.12, 3 min of 19.00
/// an hour 0.95: 3.82. Price 3.82/0.65 = 5.8769… → 5.88. By zones 500 × 50/400 = 62.5 and 500 × 60/600
/// = 50 cm², together 500 × 110/1000 = 55; spread 12.5/√2. The shelf gives 8, 6 and 10 bags.
#[test]
fn a_bag_is_worked_out_as_by_hand() {
    let (bag, findings) = mix_bag(&harbour()).unwrap();
    let counts: Vec<u64> = bag.contents.iter().map(|l| l.stones).collect();
    assert_eq!(counts, [250, 150, 100]);
    assert!((bag.grams - 43.0).abs() < 1e-9 && (bag.gross_g - 44.5).abs() < 1e-9);
    let cost = bag.cost.unwrap();
    assert_eq!(
        [cost.stones, cost.bag, cost.work, cost.total].map(|d| d.to_string()),
        ["2.75", "0.12", "0.95", "3.82"]
    );
    assert_eq!(bag.price, Some(money("5.88")));
    assert_eq!(bag.margin, Some(money("0.3503")));
    let covers = bag.covers.unwrap();
    let near = |a: f64, b: f64| (a - b).abs() < 1e-9;
    assert!(
        near(covers.mean_cm2, 55.0) && near(covers.least_cm2, 50.0) && near(covers.most_cm2, 62.5)
    );
    assert!(near(covers.spread_cm2.unwrap(), 12.5 / 2f64.sqrt()));
    assert!(near(covers.coverage, 94.0 / 110.0));
    assert_eq!((bag.shelf_bags, bag.runs_out_first.as_str()), (6, "deep water"));
    assert!(findings.is_empty(), "{findings:?}");
}

/// With a card fee of 3 % and 0.30 and a tax of 20 %: (3.82 + 0.30)/(1 − 0.35 − 0.036) = 6.7101… →
/// 7.00 by halves. The customer pays 8.40, of which the fee is 0.252 + 0.30 → 0.55: left 2.63 of 7.00.
#[test]
fn a_bag_leaves_the_profit_after_fees_and_has_a_round_price() {
    let mut work = harbour();
    let fee = Fee { name: "card".into(), share: money("0.03"), fixed: money("0.30") };
    work.terms.fees = vec![fee];
    work.terms.tax = Given::document(money("0.20"));
    assert_eq!(mix_bag(&work).unwrap().0.price, Some(money("6.72")));
    work.terms.round_up_to = Some(money("0.50"));
    let (bag, _) = mix_bag(&work).unwrap();
    assert_eq!((bag.price, bag.fees), (Some(money("7.00")), Some(money("0.55"))));
    assert_eq!(bag.margin, Some(money("0.3757")));
    work.terms.fees[0].share = money("0.6");
    let refused = mix_bag(&work).unwrap_err().to_string();
    assert!(
        refused.starts_with("a bag of `harbour at dusk`: margin 35 % and fees 72 %"),
        "{refused}"
    );
}

#[test]
fn a_label_of_a_bag_says_what_is_in_and_for_whom_it_is_not() {
    let (bag, _) = mix_bag(&harbour()).unwrap();
    let lines = [
        "harbour at dusk",
        "sea glass, SS16: 250 stones",
        "deep water, SS16: 150 stones",
        "buoy, SS16: 100 stones",
        "net weight 43 g",
        "covers 55 cm²",
        "small parts: not for children under 3 years",
    ];
    assert_eq!(bag.labels, [Label { lines: lines.map(String::from).to_vec() }]);
}

#[test]
fn a_guessed_weight_is_said_by_kind() {
    let mut work = harbour();
    work.kinds[1].unit_g = Given::usual(0.035);
    let (_, findings) = mix_bag(&work).unwrap();
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].code, "plan.weight-guessed");
    assert!(findings[0].text.ends_with(": `deep water` at 0.035 g"), "{}", findings[0].text);
}

#[test]
fn a_bag_below_one_stone_is_refused_with_its_mend() {
    let mut work = harbour();
    work.bag = BagSize::Grams(0.01);
    assert_eq!(
        mix_bag(&work).unwrap_err().to_string(),
        "a bag of `harbour at dusk` of 0.01 g is lighter than one stone of its lightest kind, `sea \
         glass` at 0.07 g: put more in, or say its `stones`"
    );
}

#[test]
fn amounts_of_a_bag_have_the_digits_of_the_currency() {
    let mut work = harbour();
    work.terms.currency = Currency::new("JPY").unwrap();
    work.hour_price.value = money("1833.33");
    let (bag, _) = mix_bag(&work).unwrap();
    let cost = bag.cost.unwrap();
    let all = [cost.stones, cost.bag, cost.work, cost.total, bag.price.unwrap(), bag.fees.unwrap()];
    assert!(all.iter().all(|d| d.scale() == 0), "{all:?}");
    work.terms.currency = Currency::new("KWD").unwrap();
    assert_eq!(mix_bag(&work).unwrap().0.cost.unwrap().bag.to_string(), "0.120");
}

/// 50 % on cost is 33.3 % of price: 3.82 × 1.5 = 5.73 to the cent, not a cent more.
#[test]
fn mark_up_is_not_margin() {
    let mut work = harbour();
    let half = Markup::new(money("0.5")).unwrap();
    work.profit.value = Profit::Markup(half);
    assert_eq!(mix_bag(&work).unwrap().0.price, Some(money("5.73")));
    let same = Margin::new(Decimal::ONE / Decimal::from(3)).unwrap();
    work.profit.value = Profit::Margin(same);
    assert_eq!(mix_bag(&work).unwrap().0.price, Some(money("5.73")));
}

#[test]
fn what_is_wrong_with_a_bag_is_said() {
    let mut work = harbour();
    work.bag = BagSize::Stones(100);
    work.kinds[2].share = 0.001;
    work.kinds[1].shelf_stones = 10;
    work.bag_min.value = 30.0;
    let (bag, findings) = mix_bag(&work).unwrap();
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["plan.bag-kind-missing", "plan.shelf-no-bag"]);
    assert_eq!((bag.shelf_bags, bag.runs_out_first.as_str()), (0, "deep water"));
    work.kinds[0].stone_price = None;
    let (unknown, _) = mix_bag(&work).unwrap();
    assert_eq!((unknown.cost, unknown.price), (None, None));
    work.kinds[0].unit_g.value = 0.0;
    assert_eq!(
        mix_bag(&work).unwrap_err().to_string(),
        "weight of one `sea glass` in mix `harbour at dusk` must be above 0 g, at most 100 g: 0"
    );
    work.kinds.clear();
    assert_eq!(
        mix_bag(&work).unwrap_err().to_string(),
        "mix `harbour at dusk` has no kind with a share"
    );
}

/// The textbook apportionment of 21 seats among votes 7270, 1230, 2220 (Balinski and Young, Fair
/// Representation, from memory): quotas 14.24, 2.41, 4.35, so that the second takes the seat left.
#[test]
fn the_seat_left_goes_to_the_largest_remainder() {
    assert_eq!(largest_remainder(&[7270.0, 1230.0, 2220.0], 21), [14, 3, 4]);
    assert_eq!(largest_remainder(&[1.0, 1.0, 1.0], 2), [1, 1, 0]);
    assert_eq!(largest_remainder(&[0.1, 0.2, 0.7], 10), [1, 2, 7]);
    assert_eq!(largest_remainder(&[0.0, 0.0], 5), [0, 0]);
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 256,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(34),
        ..ProptestConfig::default()
    })]

    #[test]
    fn whole_numbers_add_up_and_stay_within_one(
        shares in proptest::collection::vec(0.0..1.0f64, 1..12), total in 0u64..100_000
    ) {
        let sum: f64 = shares.iter().sum();
        prop_assume!(sum > 1e-3);
        let counts = largest_remainder(&shares, total);
        prop_assert_eq!(counts.iter().sum::<u64>(), total);
        for (share, n) in shares.iter().zip(&counts) {
            prop_assert!((share / sum * total as f64 - *n as f64).abs() < 1.0);
        }
    }

    /// A bag is never light, and one stone a kind less would be; weighed kind by kind and counted
    /// back it gives the recipe.
    #[test]
    fn a_bag_by_weight_holds_its_weight_and_its_recipe(
        parts in proptest::collection::vec((0.05..1.0f64, 0.005..0.5f64), 1..6), grams in 5.0..500.0f64
    ) {
        let mut work = harbour();
        work.bag = BagSize::Grams(grams);
        let one = |(i, (share, unit)): (usize, &(f64, f64))| kind(&format!("kind {i}"), *share, *unit, "0.01", 1_000_000);
        work.kinds = parts.iter().enumerate().map(one).collect();
        let (bag, _) = mix_bag(&work).unwrap();
        prop_assert!(bag.grams >= grams * (1.0 - 1e-9));
        let heaviest = parts.iter().map(|p| p.1).fold(0.0, f64::max);
        prop_assert!(bag.grams < grams + heaviest * (parts.len() + 1) as f64);
        for (line, part) in bag.contents.iter().zip(&parts) {
            prop_assert_eq!((line.grams / part.1).round() as u64, line.stones);
            prop_assert!((line.share * bag.stones as f64 - line.stones as f64).abs() < 1.0);
        }
        // By weight, a kind has the part share × unit weight of the whole.
        let whole: f64 = parts.iter().map(|(share, unit_g)| share * unit_g).sum();
        for (line, (share, unit_g)) in bag.contents.iter().zip(&parts) {
            let weight = share * unit_g / whole;
            prop_assert!((line.grams - weight * bag.grams).abs() <= 2.0 * heaviest * parts.len() as f64);
        }
    }

    #[test]
    fn no_price_misses_the_margin_asked_for(margin in 0u32..95, minutes in 0.0..60.0f64) {
        let mut work = harbour();
        let part = Decimal::from(margin) / Decimal::ONE_HUNDRED;
        work.bag_min.value = minutes;
        work.profit.value = Profit::Margin(Margin::new(part).unwrap());
        let (bag, _) = mix_bag(&work).unwrap();
        prop_assert!(bag.margin.unwrap() + money("0.0001") >= part);
    }
}
