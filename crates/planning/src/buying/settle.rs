//! From packs to a purchase: lines, deliveries, what serves what, and what is left.

use super::basket::{self, Basket};
use super::lots::{Copies, Lot, Place, give};
use super::market::Market;
use super::model::Model;
use super::purchase::{
    Delivery, KindCover, Leftover, Line, PieceLots, Proof, Purchase, Shortage, StandInUse, StockUse,
};
use super::stand_ins::{Matches, serve};
use rust_decimal::Decimal;

/// A purchase and, for each line, the offer (index) it is from.
pub(super) fn settle(
    market: &Market,
    matches: &Matches,
    model: &Model,
    packs: &Basket,
    proof: Proof,
) -> Purchase {
    let (lines, offers) = lines(market, model, packs);
    let deliveries = deliveries(market, model, packs);
    let total = deliveries.iter().map(|d| d.goods + d.charge).sum();
    let mut purchase = Purchase {
        lines,
        deliveries,
        total,
        proof,
        kinds: vec![],
        stock: vec![],
        leftovers: vec![],
        leftover_value: Decimal::ZERO,
        stand_ins: vec![],
        shortages: vec![],
        lots: vec![],
        reasons: vec![],
    };
    let taken = serve_needs(market, matches, &offers, &mut purchase);
    purchase.stock = stock_uses(market, matches, &taken);
    purchase.leftovers = leftovers(market, model, &offers, &purchase.lines, &taken);
    purchase.leftover_value = purchase.leftovers.iter().map(|l| l.value).sum();
    purchase
}

/// Lines by supplier, kind and offer, and the offer of each.
fn lines(market: &Market, model: &Model, packs: &Basket) -> (Vec<Line>, Vec<usize>) {
    let mut lines = vec![];
    for (group, packs) in model.groups.iter().zip(packs) {
        for (line, &x) in group.lines.iter().zip(packs).filter(|(_, x)| **x > 0) {
            let offer = &market.offers[line.offer];
            let shown = Line {
                supplier: market.suppliers[offer.supplier].name.clone(),
                kind: market.kinds[offer.kind].name.clone(),
                packs: x,
                pack: offer.pack,
                stones: x * u64::from(offer.pack),
                pack_price: model.decimal(line.price(x)),
                sum: model.decimal(line.cost(x)),
                lot: offer.lot.clone(),
            };
            lines.push(((offer.supplier, offer.kind, line.offer), shown));
        }
    }
    lines.sort_by_key(|l| l.0);
    lines.into_iter().map(|(at, line)| (line, at.2)).unzip()
}

fn deliveries(market: &Market, model: &Model, packs: &Basket) -> Vec<Delivery> {
    let goods = basket::goods(model, packs);
    let bought = market.suppliers.iter().zip(&model.terms).zip(goods).filter(|(_, g)| g.1 > 0);
    bought
        .map(|((supplier, terms), (goods, packs))| Delivery {
            supplier: supplier.name.clone(),
            goods: model.decimal(goods),
            charge: model.decimal(terms.charge(goods, packs).unwrap_or(terms.delivery)),
            lead_days: supplier.lead_days,
        })
        .collect()
}

/// Stones by lot: the shelf, then the purchase; named lots of one kind are one lot.
fn lots(market: &Market, offers: &[usize], lines: &[Line]) -> Vec<Lot> {
    let mut lots: Vec<Lot> = vec![];
    let mut add = |kind: usize, seller: &str, name: &Option<String>, place: Place, stones: u64| {
        let same = |l: &&mut Lot| l.kind == kind && name.is_some() && l.name == *name;
        match lots.iter_mut().find(same) {
            Some(lot) => lot.parts.push((place, stones)),
            None => lots.push(Lot {
                kind,
                kind_name: market.kinds[kind].name.clone(),
                source: match name {
                    Some(name) => format!("{seller}, lot {name}"),
                    None => seller.to_owned(),
                },
                name: name.clone(),
                parts: vec![(place, stones)],
            }),
        }
    };
    for (i, stock) in market.stock.iter().enumerate() {
        add(stock.kind, "shelf", &stock.lot, Place::Shelf(i), stock.stones - stock.reserved);
    }
    for (i, (line, &offer)) in lines.iter().zip(offers).enumerate() {
        let kind = market.offers[offer].kind;
        let packs = if line.packs == 1 { "pack" } else { "packs" };
        let seller = match &line.lot {
            Some(_) => line.supplier.clone(),
            None => format!("{}, {} {packs} of {}", line.supplier, line.packs, line.pack),
        };
        add(kind, &seller, &line.lot, Place::Line(i), line.stones);
    }
    lots
}

/// Gives every want its stones: fills in kinds, stand-ins, shortages and lots of `purchase`, and
/// says where stones were taken.
fn serve_needs(
    market: &Market,
    matches: &Matches,
    offers: &[usize],
    purchase: &mut Purchase,
) -> Vec<(Place, u64)> {
    let n = market.kinds.len();
    let mut supply: Vec<u64> = (0..n).map(|k| matches.on_shelf(k)).collect();
    for (line, &offer) in purchase.lines.iter().zip(offers) {
        supply[market.offers[offer].kind] += line.stones;
    }
    let need: Vec<u64> = market.kinds.iter().map(|k| k.need).collect();
    let flows = serve(matches, &supply, &need);
    let mut lots = lots(market, offers, &purchase.lines);
    let mut taken = vec![];
    for (wanted, want) in market.kinds.iter().enumerate().filter(|(_, w)| w.need > 0) {
        let mut quota = vec![0; n];
        let flows = flows.iter().filter(|f| f.1 == wanted);
        flows.clone().for_each(|f| quota[f.0] = f.2);
        let covered: u64 = quota.iter().sum();
        let uses: Vec<Copies> = want
            .uses
            .iter()
            .map(|u| Copies { stones: u.stones_per_copy, copies: u.copies })
            .collect();
        let given = give(&mut lots, &mut quota, &uses, covered);
        let own = |place: &Place| match *place {
            Place::Shelf(i) => market.stock[i].kind == wanted,
            Place::Line(i) => market.offers[offers[i]].kind == wanted,
        };
        let own_taken = |shelf: bool| -> u64 {
            let from = given.taken.iter().filter(|(p, _)| own(p));
            from.filter(|(p, _)| matches!(p, Place::Shelf(_)) == shelf).map(|t| t.1).sum()
        };
        purchase.kinds.push(KindCover {
            kind: want.name.clone(),
            need: want.need,
            from_stock: own_taken(true),
            bought: own_taken(false),
            stand_ins: flows.clone().filter(|f| f.0 != wanted).map(|f| f.2).sum(),
            short: want.need - covered,
        });
        purchase.stand_ins.extend(stand_in_uses(market, matches, wanted, flows));
        purchase.shortages.extend(shortage(market, wanted, want.need - covered));
        for (of, copies) in want.uses.iter().zip(given.uses).filter(|(u, _)| u.stones_per_copy > 0)
        {
            let mixed = copies.iter().filter(|c| c.parts.len() > 1).map(|c| c.copies).sum();
            let (piece, kind) = (of.piece.clone(), want.name.clone());
            purchase.lots.push(PieceLots { piece, kind, copies, mixed });
        }
        taken.extend(given.taken);
    }
    taken
}

fn stand_in_uses<'f>(
    market: &Market,
    matches: &Matches,
    wanted: usize,
    flows: impl Iterator<Item = &'f (usize, usize, u64)>,
) -> Vec<StandInUse> {
    flows
        .filter_map(|f| {
            let pair = matches.pairs.iter().find(|p| p.kind == wanted && p.stand_in == f.0)?;
            Some(StandInUse {
                kind: market.kinds[wanted].name.clone(),
                stand_in: market.kinds[f.0].name.clone(),
                stones: f.2,
                size_difference_mm: pair.size_difference_mm,
                colour_difference: pair.colour_difference,
            })
        })
        .collect()
}

fn shortage(market: &Market, kind: usize, stones: u64) -> Option<Shortage> {
    let want = &market.kinds[kind];
    let packs = want.usual_pack.filter(|&p| p > 0).map(|p| stones.div_ceil(u64::from(p)));
    (stones > 0).then(|| Shortage {
        kind: want.name.clone(),
        stones,
        usual_pack: want.usual_pack,
        packs,
        estimate: want.price_per_stone.map(|price| {
            let bought = packs.map_or(stones, |n| n * u64::from(want.usual_pack.unwrap_or(1)));
            price * Decimal::from(bought)
        }),
    })
}

/// Stones taken from `place`.
fn from(taken: &[(Place, u64)], place: Place) -> u64 {
    taken.iter().filter(|t| t.0 == place).map(|t| t.1).sum()
}

fn stock_uses(market: &Market, matches: &Matches, taken: &[(Place, u64)]) -> Vec<StockUse> {
    let concerned = market.stock.iter().enumerate().filter(|(_, s)| matches.serves_any(s.kind));
    concerned
        .map(|(i, stock)| {
            let used = from(taken, Place::Shelf(i));
            let price = stock.price_per_stone.or(market.kinds[stock.kind].price_per_stone);
            StockUse {
                kind: market.kinds[stock.kind].name.clone(),
                lot: stock.lot.clone(),
                used,
                left: stock.stones - used,
                reserved: stock.reserved,
                value: price.map(|p| p * Decimal::from(used)),
            }
        })
        .collect()
}

fn leftovers(
    market: &Market,
    model: &Model,
    offers: &[usize],
    lines: &[Line],
    taken: &[(Place, u64)],
) -> Vec<Leftover> {
    let left = |(i, line): (usize, &Line)| {
        let stones = line.stones - from(taken, Place::Line(i));
        let value = line.pack_price * Decimal::from(stones) / Decimal::from(line.pack);
        let leftover = Leftover {
            kind: market.kinds[market.offers[offers[i]].kind].name.clone(),
            supplier: line.supplier.clone(),
            lot: line.lot.clone(),
            stones,
            value: value.round_dp(model.decimals),
        };
        (stones > 0).then_some(leftover)
    };
    lines.iter().enumerate().filter_map(left).collect()
}
