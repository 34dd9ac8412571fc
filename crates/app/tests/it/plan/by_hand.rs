//! A plan small enough to be worked by hand, down to the cent.

use super::planned;
use jiff::civil::date;
use rust_decimal::Decimal;

/// Six rows of six: (20 − 3) / 3.2 = 5.3 pitches fit beside the first stone, each way.
const TILE: &str = r#"stonelay = 1
order = "Harbour lantern festival"
due = 2026-12-04

[[kind]]
name = "sea glass"
size = "3 mm"

[[piece]]
name = "tile"
quantity = 5
blank = { shape = "rectangle", width = "20 mm", height = "20 mm" }
arrangement = "square"
spacing = "0.2 mm"
mix = "sea glass"
adhesive = "bench gel"
blank_price = "0.50"

[[adhesive]]
name = "bench gel"
sort = "solvent gel"
container = "10 ml"
price = "3.00"

[workshop]
sure = "95 %"
loss = "3 %"
rate = 300
wage = "12.00"

[[supplier]]
name = "quayside stones"
delivery = "3.50"
lead = 2
offers = [{ kind = "sea glass", pack = 100, price = "2.10", breaks = [{ packs = 2, price = "2.00" }] }]

[price]
currency = "EUR"
margin = "30 %"
tax = "20 %"
waste = "5 %"
quantities = [1, 5]
"#;

fn money(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn near(got: f64, wanted: f64, within: f64) {
    assert!((got - wanted).abs() <= within, "{got}, not {wanted}");
}

#[test]
fn need_and_spare_are_those_of_the_negative_binomial() {
    let plan = planned(TILE);
    assert_eq!(plan.answer.stones, 180);
    let spare = &plan.spare.kinds[0];
    // SciPy 1.17.1: 180 + nbinom.ppf(0.95, 180, 0.97) = 190; binom.sf(179, 190, 0.97) = 0.97072.
    assert_eq!((spare.need, spare.quantity, spare.spare), (180, 190, 10));
    near(spare.chance, 0.970_721_016, 1e-9);
    assert_eq!((plan.spare.n_kinds, plan.spare.sure_each), (1, 0.95));
}

#[test]
fn two_packs_at_the_lower_price_and_their_delivery() {
    let plan = planned(TILE);
    let p = &plan.purchase;
    assert_eq!(plan.answer.packs, 2);
    assert_eq!((p.lines[0].packs, p.lines[0].pack_price), (2, money("2.00")));
    // 2 · 2.00 + 3.50; ten of two hundred stones are left, at 2 cents each.
    assert_eq!(p.total, money("7.50"));
    assert_eq!((p.leftovers[0].stones, p.leftover_value), (10, money("0.20")));
    assert!(p.shortages.is_empty());
}

#[test]
fn a_dot_of_half_a_sphere_under_each_stone() {
    let plan = planned(TILE);
    // Dots as wide as half a stone: 2/3 π 0.75³ = 0.88357 µl, times 180, and a tenth is wasted.
    near(plan.answer.adhesive_ml, 0.174_947_44, 1e-8);
    let gel = &plan.glue.adhesives[0];
    assert_eq!((gel.containers, gel.cost), (Some(1), Some(money("3.00"))));
}

#[test]
fn copies_are_learnt_and_the_rest_is_not() {
    let plan = planned(TILE);
    // 36 stones at 300 an hour: 7.2 min; copy n takes n^log2(0.95) of it: 7.2 + 6.84 + 6.638 +
    // 6.498 + 6.392 = 33.568 min.
    near(plan.hours.pieces[0].setting_min, 33.568, 1e-9);
    // 20 for the order, 10 for the piece, 5 · 4 to prepare, 5 · 3 to pack.
    near(plan.answer.hands_on_min, 20.0 + 10.0 + 20.0 + 33.568 + 15.0, 1e-9);
}

#[test]
fn cost_and_price_to_the_cent() {
    let plan = planned(TILE);
    let price = plan.price.unwrap();
    let line = |item: &str| price.sheet.iter().find(|l| l.item == item).unwrap().amount;
    // Stones: 180 · 0.02 of which 97 of 100 are set: 3.7113. Adhesive: 0.17495 of 10 ml at 3.00.
    assert_eq!(line("stones"), money("3.71"));
    assert_eq!(line("adhesive"), money("0.05"));
    assert_eq!(line("blanks"), money("2.50"));
    // 5 % of 3.7113 + 0.0525 + 2.50.
    assert_eq!(line("waste"), money("0.31"));
    // 33.568 min at 12.00 an hour; the order's 20 min and the piece's 10.
    assert_eq!(line("setting"), money("6.71"));
    assert_eq!(line("set-up"), money("6.00"));
    assert_eq!(line("delivery from quayside stones"), money("3.50"));
    // All of it exactly: 29.7906. A copy: 29.7906 / 5 / (1 − 0.3) = 8.5116, up to the next cent.
    assert_eq!(price.pieces[0].each, money("8.52"));
    assert_eq!(price.charged.net, money("42.60"));
    assert_eq!(price.charged.tax, money("8.52"));
    assert_eq!(price.charged.gross, money("51.12"));
    assert_eq!(plan.answer.charge, Some(money("51.12")));
    // Ordered alone, five copies are this order.
    assert_eq!(price.pieces[0].by_quantity[1].gross, money("51.12"));
    assert!(price.pieces[0].by_quantity[0].each > price.pieces[0].each);
}

#[test]
fn stones_arrive_then_gel_cures_then_it_ships() {
    let plan = planned(TILE);
    // Ordered on Wednesday 25 November, here on Friday the 27th, set that morning. Four lie on the
    // bench and cannot be handled for 24 h; so the fifth is set on Monday the 30th. The usual cure
    // of a solvent gel is 72 h, until the morning of Thursday, and then it is wrapped.
    assert_eq!(plan.answer.ready, date(2026, 12, 3));
    assert_eq!((plan.calendar.due_met, plan.calendar.late_days), (Some(true), 0));
    // With room for the fifth, all cure over the weekend.
    let wide = planned(&TILE.replace("rate = 300", "rate = 300\nbench = 5"));
    assert_eq!(wide.answer.ready, date(2026, 11, 30));
}
