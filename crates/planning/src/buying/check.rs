//! Refuses markets that make no sense.

use super::error::{BadMarket, MAX_DECIMALS, MAX_PRICE, MAX_STONES, MAX_SUPPLIERS};
use super::market::{Market, Offer};
use rust_decimal::Decimal;

/// The first thing that is wrong with `market`.
pub(super) fn check(market: &Market) -> Result<(), BadMarket> {
    if market.suppliers.len() > MAX_SUPPLIERS {
        return Err(BadMarket::Suppliers { count: market.suppliers.len() });
    }
    let kind = |what: &str, index: usize| match market.kinds.get(index) {
        Some(kind) => Ok(kind),
        None => Err(BadMarket::NoSuch { what: what.to_owned(), list: "kind", index }),
    };
    for want in &market.kinds {
        stones(&want.name, want.need)?;
        optional_price(
            || format!("the price of a stone of `{}`", want.name),
            want.price_per_stone,
        )?;
        for &stand_in in &want.stand_ins {
            kind("a stand-in", stand_in)?;
        }
        let used = want.uses.iter().map(|u| u64::from(u.copies).saturating_mul(u.stones_per_copy));
        stones(&want.name, used.fold(0, u64::saturating_add))?;
    }
    for stock in &market.stock {
        let name = &kind("stock", stock.kind)?.name;
        stones(name, stock.stones)?;
        optional_price(|| format!("the price of `{name}` on the shelf"), stock.price_per_stone)?;
        if stock.reserved > stock.stones {
            let (reserved, stones) = (stock.reserved, stock.stones);
            return Err(BadMarket::Reserved { kind: name.clone(), reserved, stones });
        }
    }
    for supplier in &market.suppliers {
        let name = &supplier.name;
        price(|| format!("the delivery charge of `{name}`"), supplier.delivery)?;
        optional_price(|| format!("the free-delivery limit of `{name}`"), supplier.free_from)?;
        optional_price(|| format!("the minimum order of `{name}`"), supplier.minimum)?;
    }
    for o in &market.offers {
        let kind = &kind("an offer", o.kind)?.name;
        let Some(supplier) = market.suppliers.get(o.supplier) else {
            let (what, list, index) = ("an offer".to_owned(), "supplier", o.supplier);
            return Err(BadMarket::NoSuch { what, list, index });
        };
        offer(o, &supplier.name, kind)?;
    }
    Ok(())
}

fn offer(offer: &Offer, supplier: &str, kind: &str) -> Result<(), BadMarket> {
    let (supplier, kind) = (supplier.to_owned(), kind.to_owned());
    if offer.pack == 0 {
        return Err(BadMarket::EmptyPack { supplier, kind });
    }
    stones(&kind, u64::from(offer.pack))?;
    price(|| format!("the price of `{kind}` at `{supplier}`"), offer.price)?;
    let mut before = (1, offer.price);
    for b in &offer.breaks {
        price(|| format!("the price break of `{kind}` at `{supplier}`"), b.price)?;
        if b.packs <= before.0 || b.price > before.1 || b.packs > MAX_STONES {
            return Err(BadMarket::BreakDearer { supplier, kind, packs: b.packs });
        }
        before = (b.packs, b.price);
    }
    Ok(())
}

fn stones(what: &str, stones: u64) -> Result<(), BadMarket> {
    if stones > MAX_STONES {
        return Err(BadMarket::TooMany { what: format!("`{what}`"), stones });
    }
    Ok(())
}

fn optional_price(what: impl Fn() -> String, value: Option<Decimal>) -> Result<(), BadMarket> {
    value.map_or(Ok(()), |value| price(what, value))
}

fn price(what: impl Fn() -> String, value: Decimal) -> Result<(), BadMarket> {
    let fine = value >= Decimal::ZERO
        && value <= Decimal::from(MAX_PRICE)
        && value.normalize().scale() <= MAX_DECIMALS;
    if fine { Ok(()) } else { Err(BadMarket::Price { what: what(), value }) }
}
