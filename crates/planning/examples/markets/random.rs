//! Markets drawn by seed, for the outside check and the bench.

use lay::Colour;
use planning::Given;
use planning::buying::{Break, Market, Offer, Stock, Supplier, Tolerance, Use, Want};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;

/// How large and how awkward a market is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shape {
    /// Kinds.
    pub(crate) kinds: usize,
    /// Suppliers.
    pub(crate) suppliers: usize,
    /// Stones needed of a kind, from and to.
    pub(crate) need: (u64, u64),
    /// Share of the goods' rough worth at one supplier that thresholds and minimums lie around.
    pub(crate) limits: f64,
    /// Probability that a supplier sells a kind in a pack size.
    pub(crate) sold: f64,
    /// Probability that a kind has a stand-in.
    pub(crate) stand_ins: f64,
}

/// Pack sizes of the trade: a gross, ten gross, and what resin stones are sold in.
const PACKS: [u32; 6] = [144, 1440, 100, 500, 1000, 250];

/// The market of `seed`.
pub(crate) fn market(seed: u64, shape: Shape) -> Market {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let kinds: Vec<Want> = (0..shape.kinds).map(|k| want(&mut rng, k, shape)).collect();
    let per_1000: Vec<u64> = kinds.iter().map(|_| rng.random_range(150..900)).collect();
    let worth: f64 =
        kinds.iter().zip(&per_1000).map(|(k, p)| k.need as f64 * *p as f64 / 100_000.0).sum();
    let share = worth / shape.suppliers as f64 * shape.limits;
    let suppliers = (0..shape.suppliers).map(|s| supplier(&mut rng, s, share)).collect();
    let mut offers = vec![];
    for (kind, &per_1000) in per_1000.iter().enumerate() {
        // Most kinds are sold in packs that divide one another, as the trade packs them.
        let packs: &[u32] = if rng.random::<f64>() < 0.6 { &PACKS[..2] } else { &PACKS[2..] };
        for supplier in 0..shape.suppliers {
            for &pack in packs {
                if rng.random::<f64>() < shape.sold {
                    offers.push(offer(&mut rng, supplier, kind, pack, per_1000));
                }
            }
        }
    }
    let mut stock = vec![];
    for (kind, want) in kinds.iter().enumerate() {
        for lot in 0..rng.random_range(0..3u32) {
            let stones = rng.random_range(0..=want.need.max(400) / 2);
            let price = (rng.random::<f64>() < 0.5).then(|| Decimal::new(4, 3));
            stock.push(Stock {
                kind,
                lot: (lot == 0).then(|| format!("A{kind}")),
                stones,
                reserved: rng.random_range(0..=stones / 2),
                price_per_stone: price,
            });
        }
    }
    Market {
        kinds,
        stock,
        suppliers,
        offers,
        days: (rng.random::<f64>() < 0.5).then(|| rng.random_range(2..12)),
        tolerance: Tolerance { size_mm: Given::usual(0.15), colour_difference: Given::usual(5.0) },
        steps: Market::USUAL_STEPS,
    }
}

fn want(rng: &mut ChaCha8Rng, k: usize, shape: Shape) -> Want {
    let need = rng.random_range(shape.need.0..=shape.need.1);
    let need = if rng.random::<f64>() < 0.05 { 0 } else { need };
    let copies = rng.random_range(1..9);
    let stand_in = rng.random_range(0..shape.kinds);
    let family = (k % 4) as u8 * 40;
    let mut shade = || rng.random_range(0..10u8);
    let colour = Colour(40 + family + shade(), 120 + shade(), 200 - family + shade());
    Want {
        name: format!("kind {k}"),
        colour,
        diameter_mm: 3.0 + f64::from(rng.random_range(0..4u8)) / 10.0,
        need,
        usual_pack: Some(1440),
        price_per_stone: None,
        stand_ins: if rng.random::<f64>() < shape.stand_ins { vec![stand_in] } else { vec![] },
        uses: vec![Use {
            piece: "marshal's flask".into(),
            copies,
            stones_per_copy: need / u64::from(copies) * 9 / 10,
        }],
    }
}

fn supplier(rng: &mut ChaCha8Rng, s: usize, share: f64) -> Supplier {
    let around = |rng: &mut ChaCha8Rng, from: f64, to: f64| {
        Decimal::new((share * 100.0 * rng.random_range(from..to)) as i64, 2)
    };
    let sometimes = |rng: &mut ChaCha8Rng, p: f64| rng.random::<f64>() < p;
    Supplier {
        name: format!("supplier {s}"),
        delivery: Decimal::new(rng.random_range(0..12) * 90, 2),
        free_from: sometimes(rng, 0.8).then(|| around(rng, 0.5, 2.5)),
        minimum: sometimes(rng, 0.6).then(|| around(rng, 0.1, 1.0)),
        lead_days: rng.random_range(1..9),
    }
}

fn offer(rng: &mut ChaCha8Rng, supplier: usize, kind: usize, pack: u32, per_1000: u64) -> Offer {
    // Small packs cost more per stone.
    let dearer = if pack < 400 { 1.3 } else { 1.0 };
    let cents = per_1000 as f64 * f64::from(pack) / 1000.0 * dearer * rng.random_range(0.8..1.2);
    let price = (cents as i64).max(1);
    let mut breaks = vec![];
    let (mut packs, mut cheaper) = (1u64, price);
    for _ in 0..rng.random_range(0..4u8) {
        packs += rng.random_range(1..6u64);
        cheaper = cheaper * rng.random_range(88..=99) / 100;
        breaks.push(Break { packs, price: Decimal::new(cheaper, 2) });
    }
    Offer {
        supplier,
        kind,
        pack,
        price: Decimal::new(price, 2),
        breaks,
        packs: (rng.random::<f64>() < 0.3).then(|| rng.random_range(0..12)),
        lot: (rng.random::<f64>() < 0.2).then(|| format!("B{supplier}")),
    }
}

/// A hundred kinds, five suppliers, three price breaks, thresholds and minimums.
pub(crate) const LARGE: Shape =
    Shape { kinds: 100, suppliers: 5, need: (200, 6000), limits: 1.0, sold: 0.7, stand_ins: 0.1 };
