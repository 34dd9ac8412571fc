//! Laws of buying, and a twin that tries every purchase of a tiny market.

use planning::Given;
use planning::buying::{
    Break, Market, Offer, Proof, Purchase, Stock, Supplier, Tolerance, Use, Want, buy,
};
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};
use rust_decimal::Decimal;

#[path = "../../examples/markets/random.rs"]
mod random;

/// So many cases, from a fixed seed: the same on every machine and every day.
fn cases(n: u32) -> ProptestConfig {
    ProptestConfig {
        cases: n,
        failure_persistence: None,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed: RngSeed::Fixed(20_263),
        ..ProptestConfig::default()
    }
}

fn shape(kinds: usize, suppliers: usize, limits: f64) -> random::Shape {
    let (need, sold, stand_ins) = ((100, 3000), 0.7, 0.3);
    random::Shape { kinds, suppliers, need, limits, sold, stand_ins }
}

fn short(purchase: &Purchase) -> u64 {
    purchase.shortages.iter().map(|s| s.stones).sum()
}

fn bought(market: &Market) -> Purchase {
    buy(market).unwrap().0
}

fn want(name: &str, need: u64, stand_ins: Vec<usize>) -> Want {
    let uses = vec![];
    let colour = lay::Colour(40, 120, 160);
    let (usual_pack, price_per_stone, diameter_mm) = (None, None, 3.9);
    let name = name.into();
    Want { name, colour, diameter_mm, need, usual_pack, price_per_stone, stand_ins, uses }
}

fn supplier(name: &str, delivery: i64, free_from: Option<i64>, minimum: Option<i64>) -> Supplier {
    Supplier {
        name: name.into(),
        delivery: delivery.into(),
        free_from: free_from.map(Decimal::from),
        minimum: minimum.map(Decimal::from),
        lead_days: 3,
    }
}

fn offer(supplier: usize, kind: usize, pack: u32, price: i64) -> Offer {
    Offer { supplier, kind, pack, price: price.into(), breaks: vec![], packs: None, lot: None }
}

fn market(kinds: Vec<Want>, suppliers: Vec<Supplier>, offers: Vec<Offer>) -> Market {
    let tolerance = Tolerance { size_mm: Given::usual(0.15), colour_difference: Given::usual(5.0) };
    let (stock, days, steps) = (vec![], None, Market::USUAL_STEPS);
    Market { kinds, stock, suppliers, offers, days, tolerance, steps }
}

#[test]
fn spending_more_on_goods_can_save_the_delivery() {
    // 3 packs of 5 and 4 for delivery are 19; 4 packs from the threshold of 20 on are 20; 3 packs
    // from the other supplier are 18.
    let kinds = vec![want("sea glass", 300, vec![])];
    let suppliers = vec![supplier("pier", 4, Some(20), None), supplier("reed bank", 6, None, None)];
    let mut m = market(kinds, suppliers, vec![offer(0, 0, 100, 5), offer(1, 0, 100, 4)]);
    assert_eq!(bought(&m).total, Decimal::from(18));
    m.offers.pop();
    assert_eq!(bought(&m).total, Decimal::from(19));
    m.suppliers[0].delivery = 6.into();
    let p = bought(&m);
    assert_eq!((p.total, p.lines[0].packs, p.deliveries[0].charge), (20.into(), 4, 0.into()));
    assert_eq!((p.leftovers[0].stones, p.leftover_value), (100, 5.into()));
}

#[test]
fn a_price_break_lowers_every_pack_of_the_line() {
    let kinds = vec![want("sea glass", 400, vec![])];
    let mut m = market(kinds, vec![supplier("pier", 0, None, None)], vec![offer(0, 0, 100, 10)]);
    m.offers[0].breaks = vec![Break { packs: 5, price: 7.into() }];
    let p = bought(&m);
    assert_eq!((p.lines[0].packs, p.total), (5, 35.into()));
}

#[test]
fn what_nobody_sells_is_named_and_the_rest_is_bought() {
    let kinds = vec![want("sea glass", 400, vec![]), want("deep water", 100, vec![])];
    let mut m = market(kinds, vec![supplier("pier", 1, None, None)], vec![offer(0, 0, 100, 10)]);
    m.kinds[1].usual_pack = Some(144);
    m.offers[0].packs = Some(3);
    let (p, findings) = buy(&m).unwrap();
    let shortages: Vec<(&str, u64, Option<u64>)> =
        p.shortages.iter().map(|s| (s.kind.as_str(), s.stones, s.packs)).collect();
    assert_eq!(shortages, [("sea glass", 100, None), ("deep water", 100, Some(1))]);
    assert_eq!((p.total, p.proof), (31.into(), Proof::Cheapest));
    assert_eq!(findings.iter().filter(|f| f.code == "plan.stones-short").count(), 2);
}

#[test]
fn a_stand_in_is_used_within_tolerance_and_told_and_refused_beyond() {
    let kinds = vec![want("sea glass", 100, vec![1]), want("deep water", 0, vec![])];
    let mut m = market(kinds, vec![supplier("pier", 0, None, None)], vec![offer(0, 1, 100, 3)]);
    m.kinds[1].diameter_mm = 4.0;
    let (p, findings) = buy(&m).unwrap();
    assert_eq!((short(&p), p.stand_ins[0].stones), (0, 100));
    assert!((p.stand_ins[0].size_difference_mm - 0.1).abs() < 1e-9);
    assert!(findings.iter().any(|f| f.code == "plan.stand-in-used"));
    m.kinds[1].colour = lay::Colour(200, 30, 30);
    let (p, findings) = buy(&m).unwrap();
    assert_eq!((short(&p), p.total), (100, 0.into()));
    assert!(findings.iter().any(|f| f.code == "plan.stand-in-refused"));
}

#[test]
fn the_own_kind_comes_before_a_stand_in_on_the_shelf() {
    let kinds = vec![want("sea glass", 100, vec![1]), want("deep water", 50, vec![])];
    let mut m = market(kinds, vec![], vec![]);
    let stock = |kind, stones, reserved| Stock {
        kind,
        lot: None,
        stones,
        reserved,
        price_per_stone: Some(Decimal::new(4, 3)),
    };
    m.stock = vec![stock(1, 90, 20), stock(0, 130, 50)];
    let p = bought(&m);
    assert_eq!((short(&p), p.stand_ins[0].stones), (0, 20));
    assert_eq!((p.stock[0].used, p.stock[0].left), (70, 20));
    assert_eq!(p.stock[1].value, Some(Decimal::new(320, 3)));
}

#[test]
fn a_late_supplier_is_left_out_and_what_time_would_save_is_told() {
    let kinds = vec![want("sea glass", 100, vec![])];
    let suppliers = vec![supplier("pier", 0, None, None), supplier("reed bank", 0, None, None)];
    let mut m = market(kinds, suppliers, vec![offer(0, 0, 100, 9), offer(1, 0, 100, 5)]);
    m.days = Some(4);
    m.suppliers[1].lead_days = 6;
    let (p, findings) = buy(&m).unwrap();
    assert_eq!(p.total, 9.into());
    let late = findings.iter().find(|f| f.code == "plan.supplier-late").unwrap();
    assert_eq!(late.text, "reed bank would save 4, but cannot deliver in time");
    assert_eq!(late.hint, "order 2 working days earlier, or move the date");
}

#[test]
fn a_copy_that_mixes_lots_is_told() {
    let mut kind = want("sea glass", 400, vec![]);
    kind.uses = vec![Use { piece: "flask".into(), copies: 4, stones_per_copy: 100 }];
    let mut m =
        market(vec![kind], vec![supplier("pier", 0, None, None)], vec![offer(0, 0, 250, 5)]);
    m.stock = vec![Stock {
        kind: 0,
        lot: Some("A17".into()),
        stones: 150,
        reserved: 0,
        price_per_stone: None,
    }];
    let (p, findings) = buy(&m).unwrap();
    assert_eq!(p.lots[0].mixed, 1);
    assert!(findings.iter().any(|f| f.code == "plan.lots-mixed"));
    m.offers[0].lot = Some("A17".into());
    assert!(buy(&m).unwrap().1.is_empty());
}

#[test]
fn absurd_markets_are_refused() {
    let base = || {
        let kinds = vec![want("sea glass", 100, vec![])];
        market(kinds, vec![supplier("pier", 1, None, None)], vec![offer(0, 0, 100, 5)])
    };
    let refused = |change: fn(&mut Market)| {
        let mut m = base();
        change(&mut m);
        buy(&m).unwrap_err().to_string()
    };
    assert!(refused(|m| m.offers[0].pack = 0).contains("no stone"));
    assert!(refused(|m| m.offers[0].price = (-1).into()).contains("out of range: -1"));
    assert!(refused(|m| m.offers[0].kind = 7).contains("kind number 7"));
    assert!(refused(|m| m.kinds[0].need = u64::MAX).contains("stones"));
    assert!(
        refused(|m| m.offers[0].breaks = vec![Break { packs: 3, price: 6.into() }])
            .contains("not cheaper")
    );
}

#[test]
fn a_search_that_ends_early_says_how_far_off_it_may_be() {
    let usual = random::market(2, random::Shape { limits: 0.5, ..random::LARGE });
    let best = bought(&usual);
    assert_eq!(best.proof, Proof::Cheapest);
    let (early, findings) = buy(&Market { steps: 40_000, ..usual }).unwrap();
    let Proof::Within { over } = early.proof else { panic!("{:?}", early.proof) };
    assert_eq!(short(&early), short(&best));
    assert!(early.total >= best.total && early.total - over <= best.total);
    assert!(findings.iter().any(|f| f.code == "plan.purchase-unproven"));
}

/// The fewest missing stones and the least sum of a market of at most two kinds, by trying all.
fn tried(m: &Market, most: u64) -> (u64, Decimal) {
    let mut best: Option<(u64, Decimal)> = None;
    let mut packs = vec![0u64; m.offers.len()];
    loop {
        let better = |found: (u64, Decimal)| best.is_none_or(|b| found < b);
        if let Some(found) = outcome(m, &packs).filter(|&f| better(f)) {
            best = Some(found);
        }
        let Some(at) =
            (0..packs.len()).find(|&i| packs[i] < m.offers[i].packs.unwrap_or(most).min(most))
        else {
            return best.unwrap();
        };
        packs[at] += 1;
        packs[..at].fill(0);
    }
}

fn outcome(m: &Market, packs: &[u64]) -> Option<(u64, Decimal)> {
    let mut total = Decimal::ZERO;
    for (s, supplier) in m.suppliers.iter().enumerate() {
        let lines = m.offers.iter().zip(packs).filter(|(o, x)| o.supplier == s && **x > 0);
        let goods: Decimal = lines
            .clone()
            .map(|(o, &x)| {
                let cheaper =
                    o.breaks.iter().rev().find(|b| b.packs <= x).map_or(o.price, |b| b.price);
                cheaper * Decimal::from(x)
            })
            .sum();
        if lines.count() == 0 {
            continue;
        }
        if supplier.minimum.is_some_and(|min| goods < min) {
            return None;
        }
        let free = supplier.free_from.is_some_and(|free| goods >= free);
        total += goods + if free { Decimal::ZERO } else { supplier.delivery };
    }
    let supply = |k: usize| -> u64 {
        let shelf = m.stock.iter().filter(|s| s.kind == k).map(|s| s.stones - s.reserved);
        let bought = m.offers.iter().zip(packs).filter(|(o, _)| o.kind == k);
        shelf.sum::<u64>() + bought.map(|(o, &x)| u64::from(o.pack) * x).sum::<u64>()
    };
    // The second kind may stand in for the first.
    let (first, second) = (m.kinds[0].need, m.kinds[1].need);
    let left = supply(1).saturating_sub(second);
    let shared = if m.kinds[0].stand_ins.is_empty() { 0 } else { left };
    let short = first.saturating_sub(supply(0) + shared) + second.saturating_sub(supply(1));
    Some((short, total))
}

/// Supplier, kind, stones in a pack, price, break and what it takes off, packs there are.
type TinyOffer = (usize, usize, u32, i64, (u64, i64), Option<u64>);

fn tiny_offer() -> impl Strategy<Value = TinyOffer> {
    let limits = prop::option::weighted(0.3, 0u64..4);
    (0usize..2, 0usize..2, 1u32..5, 2i64..9, (2u64..5, 0i64..2), limits)
}

proptest! {
    #![proptest_config(cases(192))]

    #[test]
    fn no_purchase_beats_the_one_found(
        needs in (0u64..8, 0u64..8),
        shelf in (0u64..4, 0u64..4),
        stands_in in any::<bool>(),
        terms in prop::collection::vec(
            (0i64..6, prop::option::of(1i64..16), prop::option::of(1i64..9)), 2),
        offers in prop::collection::vec(tiny_offer(), 1..4),
    ) {
        let stand_ins = if stands_in { vec![1] } else { vec![] };
        let kinds = vec![want("sea glass", needs.0, stand_ins), want("deep water", needs.1, vec![])];
        let suppliers = terms.iter().map(|t| supplier("pier", t.0, t.1, t.2)).collect();
        let offers = offers
            .into_iter()
            // Offers that serve no need are not looked at.
            .filter(|o| if o.1 == 0 { needs.0 > 0 } else { needs.1 > 0 || (stands_in && needs.0 > 0) })
            .map(|(s, k, pack, price, (packs, off), most)| Offer {
                breaks: vec![Break { packs, price: (price - off).into() }],
                packs: most,
                ..offer(s, k, pack, price)
            });
        let mut m = market(kinds, suppliers, offers.collect());
        let lot = |kind, stones| Stock { kind, lot: None, stones, reserved: 0, price_per_stone: None };
        m.stock = vec![lot(0, shelf.0), lot(1, shelf.1)];
        let p = bought(&m);
        prop_assert_eq!(&p.proof, &Proof::Cheapest);
        prop_assert_eq!((short(&p), p.total), tried(&m, 16));
    }
}

proptest! {
    #![proptest_config(cases(48))]

    #[test]
    fn more_need_never_costs_less(seed in any::<u64>(), kinds in 1usize..6, more in 1u64..900, at in 0usize..6) {
        let mut m = random::market(seed, shape(kinds, 3, 0.8));
        let before = bought(&m);
        m.kinds[at % kinds].need += more;
        let after = bought(&m);
        prop_assert!(short(&after) >= short(&before));
        let proven = before.proof == Proof::Cheapest && after.proof == Proof::Cheapest;
        if proven && short(&after) == short(&before) && before.kinds.len() == after.kinds.len() {
            prop_assert!(after.total >= before.total, "{} after {}", after.total, before.total);
        }
    }

    #[test]
    fn two_orders_together_never_cost_more_than_apart(seed in any::<u64>(), kinds in 1usize..6, split in 0.0..1.0) {
        let mut both = random::market(seed, shape(kinds, 3, 0.8));
        both.offers.iter_mut().for_each(|o| o.packs = None);
        both.kinds.iter_mut().for_each(|k| k.uses.clear());
        let (mut first, mut second) = (both.clone(), both.clone());
        for k in 0..kinds {
            let part = (both.kinds[k].need as f64 * split) as u64;
            first.kinds[k].need = part;
            second.kinds[k].need -= part;
        }
        let one = bought(&first);
        // The second finds on the shelf what the first left.
        for (stock, used) in second.stock.iter_mut().filter(|s| first_uses(&one, &first, s)).zip(&one.stock) {
            stock.stones -= used.used;
        }
        let (two, together) = (bought(&second), bought(&both));
        prop_assert!(short(&together) <= short(&one) + short(&two));
        let proven = [&one, &two, &together].iter().all(|p| p.proof == Proof::Cheapest);
        if proven && short(&together) == short(&one) + short(&two) {
            prop_assert!(together.total <= one.total + two.total);
        }
    }

    #[test]
    fn every_want_is_covered_or_its_shortage_named_and_stock_is_never_negative(
        seed in any::<u64>(), kinds in 1usize..9, suppliers in 0usize..4, limits in 0.1..3.0,
    ) {
        let m = random::market(seed, shape(kinds, suppliers, limits));
        let p = bought(&m);
        for want in m.kinds.iter().filter(|k| k.need > 0) {
            let cover = p.kinds.iter().find(|k| k.kind == want.name).unwrap();
            prop_assert_eq!(cover.need, want.need);
            prop_assert_eq!(cover.from_stock + cover.bought + cover.stand_ins + cover.short, want.need);
            let named = p.shortages.iter().find(|s| s.kind == want.name).map_or(0, |s| s.stones);
            prop_assert_eq!(named, cover.short);
        }
        for stock in &p.stock {
            prop_assert!(stock.left >= stock.reserved);
        }
        let placed = |l: &planning::buying::PieceLots| l.copies.iter().map(|c| c.copies).sum::<u32>();
        for (lots, want) in p.lots.iter().map(|l| (l, m.kinds.iter().find(|k| k.name == l.kind).unwrap())) {
            prop_assert_eq!(placed(lots), want.uses[0].copies);
        }
        prop_assert_eq!(bought(&m), p, "the same market gives the same purchase");
    }
}

/// Whether `stock` is among the shelf's rows that a purchase tells of.
fn first_uses(purchase: &Purchase, market: &Market, stock: &Stock) -> bool {
    purchase.stock.iter().any(|s| s.kind == market.kinds[stock.kind].name)
}
