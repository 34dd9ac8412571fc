//! `[[stock]]`, `stock_file` and `[[supplier]]`: what is there and what can be bought.

use super::value::maybe;
use crate::document::mixes::{Shelf, kind_named};
use crate::document::model::Spot;
use crate::document::pieces::{Names, own_name};
use crate::document::walk::Node;
use planning::buying::{Break, Offer, Stock, Supplier};
use rust_decimal::Decimal;
use units::grouped;

/// A file that the document names.
#[derive(Clone, Debug, PartialEq)]
pub struct FileName {
    /// Its path, as written; relative ones start at the document's folder.
    pub file: String,
    /// Where it was written.
    pub spot: Spot,
}

/// Most stones of a lot, on the shelf or in a pack.
const MANY: u64 = 10_000_000;

/// Reads one `[[stock]]`.
pub(super) fn stock(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Stock> {
    let mut f = node.fields("stock", "`[[stock]]` with its keys below")?;
    let kind = f.need("kind", "`kind = \"…\"`").and_then(|n| kind_named(&n, shelf));
    let stones = f.need("stones", "how many there are, like `stones = 1200`");
    let stones = stones.and_then(|n| n.whole(0..MANY + 1, "it like 1200"));
    let lot = maybe(f.get("lot"), Node::name);
    let reserved_node = f.get("reserved");
    let reserved = maybe(reserved_node.clone(), |n| n.whole(0..MANY + 1, "it like 200"));
    let price = maybe(f.get("price"), Node::money);
    f.done();
    let reserved = reserved?.unwrap_or(0);
    if let (Some(node), Some(stones)) = (&reserved_node, stones)
        && reserved > stones
    {
        let text = format!("{} stones are reserved of {}", grouped(reserved), grouped(stones));
        return node.wrong(text, "reserve no more than there are");
    }
    Some(Stock { kind: kind?, stones: stones?, lot: lot?, reserved, price_per_stone: price? })
}

/// Reads `stock_file`.
pub(super) fn stock_file(node: &Node<'_, '_>) -> Option<FileName> {
    let file = node.text("a file in quotes", "it like \"shelf.csv\"")?.trim();
    if file.is_empty() {
        return node.wrong("the file has no name", "write it like \"shelf.csv\"");
    }
    Some(FileName { file: file.to_owned(), spot: node.spot.clone() })
}

/// Reads one `[[supplier]]`, the one with this index, and what it offers.
pub(super) fn supplier(
    node: &Node<'_, '_>,
    index: usize,
    shelf: &Shelf,
    taken: &mut Names,
) -> Option<(Supplier, Vec<Offer>)> {
    let mut f = node.fields("a supplier", "`[[supplier]]` with its keys below")?;
    let name = own_name(&mut f, "suppliers", taken);
    let delivery = maybe(f.get("delivery"), Node::money);
    let free_from = maybe(f.get("free_from"), Node::money);
    let minimum = maybe(f.get("minimum"), Node::money);
    let lead = maybe(f.get("lead"), |n| n.whole(0..366, "working days, like 3"));
    let offers = f.need("offers", "`offers = [{ kind = \"…\", pack = 1440, price = \"6.20\" }]`");
    let offers = offers.and_then(|n| {
        let offers = n.all("offer", "a list of { kind = …, pack = …, price = … }", |n| {
            offer(n, index, shelf)
        })?;
        each_once(&n, &offers)?;
        Some(offers)
    });
    f.done();
    let supplier = Supplier {
        name: name?,
        delivery: delivery?.unwrap_or_default(),
        free_from: free_from?,
        minimum: minimum?,
        lead_days: lead?.unwrap_or(0) as u32,
    };
    Some((supplier, offers?))
}

fn offer(node: &Node<'_, '_>, supplier: usize, shelf: &Shelf) -> Option<Offer> {
    let mut f =
        node.fields("an offer", "it like { kind = \"…\", pack = 1440, price = \"6.20\" }")?;
    let kind = f.need("kind", "`kind = \"…\"`").and_then(|n| kind_named(&n, shelf));
    let pack = f.need("pack", "stones in a pack, like `pack = 1440`");
    let pack = pack.and_then(|n| n.whole(1..MANY + 1, "it like 1440"));
    let price = f.need("price", "what a pack costs, like `price = \"6.20\"`");
    let price = price.and_then(|n| n.money());
    let breaks_node = f.get("breaks");
    let breaks = maybe(breaks_node.clone(), breaks);
    let packs = maybe(f.get("packs"), |n| n.whole(0..1_000_001, "it like 12"));
    let lot = maybe(f.get("lot"), Node::name);
    f.done();
    if let (Some(node), Some(price), Some(Some(breaks))) = (&breaks_node, price, &breaks) {
        falling(node, price, breaks)?;
    }
    Some(Offer {
        supplier,
        kind: kind?,
        pack: pack? as u32,
        price: price?,
        breaks: breaks?.unwrap_or_default(),
        packs: packs?,
        lot: lot?,
    })
}

fn breaks(node: &Node<'_, '_>) -> Option<Vec<Break>> {
    let read = |n: &Node<'_, '_>| {
        let mut f = n.fields("a price break", "it like { packs = 5, price = \"5.80\" }")?;
        let packs = f.need("packs", "from how many packs on, like `packs = 5`");
        let packs = packs.and_then(|n| n.whole(2..1_000_001, "it like 5"));
        let price = f.need("price", "what a pack costs then, like `price = \"5.80\"`");
        let price = price.and_then(|n| n.money());
        f.done();
        Some(Break { packs: packs?, price: price? })
    };
    let breaks = node.all("break", "it like [{ packs = 5, price = \"5.80\" }]", read)?;
    if breaks.len() > 20 {
        return node.wrong("too many price breaks", "at most 20 are read");
    }
    if breaks.windows(2).any(|w| w[0].packs >= w[1].packs) {
        return node.wrong(
            "the price breaks are out of order",
            "write the smallest number of packs first, each once",
        );
    }
    Some(breaks)
}

/// Refuses a break that makes a pack dearer than fewer packs do.
fn falling(node: &Node<'_, '_>, price: Decimal, breaks: &[Break]) -> Option<()> {
    let mut before = price;
    for &Break { packs, price } in breaks {
        if price > before {
            return node.wrong(
                format!("a pack is dearer from {packs} packs on: {price} after {before}"),
                "write the price of one pack, not of all of them together",
            );
        }
        before = price;
    }
    Some(())
}

/// Refuses the same pack offered twice: one of the two prices is wrong.
fn each_once(node: &Node<'_, '_>, offers: &[Offer]) -> Option<()> {
    let key = |o: &Offer| (o.kind, o.pack, o.lot.clone());
    for (i, offer) in offers.iter().enumerate() {
        if let Some(first) = offers[..i].iter().position(|o| key(o) == key(offer)) {
            return node.wrong(
                format!("offers {} and {} are of the same pack", first + 1, i + 1),
                "leave one out; a lower price for more packs goes into `breaks`",
            );
        }
    }
    Some(())
}
