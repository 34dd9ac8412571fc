//! A purchase while it is searched for: packs by group and line, what they cost, and how one that
//! misses a minimum is mended.

use super::model::{Model, Money};

/// Packs of every line, by group.
pub(super) type Basket = Vec<Vec<u64>>;

/// What is spent on goods, and how many packs are bought, by supplier.
pub(super) fn goods(model: &Model, basket: &Basket) -> Vec<(Money, u64)> {
    let mut goods = vec![(0, 0); model.terms.len()];
    for (group, packs) in model.groups.iter().zip(basket) {
        for (line, &x) in group.lines.iter().zip(packs).filter(|(_, x)| **x > 0) {
            goods[line.supplier].0 += line.cost(x);
            goods[line.supplier].1 += x;
        }
    }
    goods
}

/// Goods, deliveries and missing stones together; `None` if a minimum is missed.
pub(super) fn cost(model: &Model, basket: &Basket) -> Option<Money> {
    let mut cost: Money = 0;
    for (terms, (goods, packs)) in model.terms.iter().zip(goods(model, basket)) {
        cost += goods + terms.charge(goods, packs)?;
    }
    for (group, packs) in model.groups.iter().zip(basket) {
        cost += Money::from(group.missing_after(packs)) * model.missing;
    }
    Some(cost)
}

/// The basket with more packs, so that minimums are reached, and thresholds where that pays.
pub(super) fn mended(model: &Model, basket: &Basket) -> Option<Basket> {
    let mut basket = basket.clone();
    for (supplier, (spent, packs)) in goods(model, &basket).into_iter().enumerate() {
        let terms = &model.terms[supplier];
        if packs == 0 {
            continue;
        }
        if spent < terms.minimum {
            fill(model, &mut basket, supplier, terms.minimum - spent)?;
        }
        let spent = goods(model, &basket)[supplier].0;
        if let Some(free_from) = terms.free_from.filter(|&free_from| spent < free_from) {
            let mut free = basket.clone();
            let extra = fill(model, &mut free, supplier, free_from - spent);
            if extra.is_some_and(|extra| extra < terms.delivery) {
                basket = free;
            }
        }
    }
    Some(basket)
}

/// Adds packs of `supplier` worth at least `wanted`, one line at a time, the least that does.
/// What they cost, or `None` if there are not enough.
fn fill(model: &Model, basket: &mut Basket, supplier: usize, wanted: Money) -> Option<Money> {
    let mut added = 0;
    while added < wanted {
        let open = wanted - added;
        // What is added, group, line and packs: the least that reaches, else the most there is.
        let mut reaching: Option<(Money, usize, usize, u64)> = None;
        let mut most: Option<(Money, usize, usize, u64)> = None;
        for (g, group) in model.groups.iter().enumerate() {
            for (l, line) in group.lines.iter().enumerate().filter(|(_, l)| l.supplier == supplier)
            {
                let before = line.cost(basket[g][l]);
                for x in line.tries(basket[g][l], before + open) {
                    let more = line.cost(x) - before;
                    if more >= open && reaching.is_none_or(|r| more < r.0) {
                        reaching = Some((more, g, l, x));
                    } else if more < open && more > most.map_or(0, |m| m.0) {
                        most = Some((more, g, l, x));
                    }
                }
            }
        }
        let (more, g, l, x) = reaching.or(most)?;
        basket[g][l] = x;
        added += more;
    }
    Some(added)
}
