//! Fills a shop with the orders and the ledger of many years, for a check that it stays quick.
//!
//! `large FILE ORDERS LINES` adds to the shop that is there.

use anyhow::{Context, Result};
use shop::{Change, Moved, NewEntry, Opening, Shop, Sort};
use std::path::Path;

/// Kinds on a well filled shelf, each of three lots.
const N_STONES: u64 = 400;
/// Lines that are written at once.
const AT_ONCE: u64 = 10_000;

fn main() -> Result<()> {
    let args: Vec<String> = std::env::args().collect();
    let [_, file, orders, lines] = &args[..] else { anyhow::bail!("large FILE ORDERS LINES") };
    let shop = Shop::open(Path::new(file), Opening::default())?;
    let orders: u64 = orders.parse().context("ORDERS is a number")?;
    let lines: u64 = lines.parse().context("LINES is a number")?;
    for i in 0..orders {
        let name = format!("Lanterns of pier {i}");
        let due_day = format!("2026-{:02}-{:02}", i % 12 + 1, i % 28 + 1);
        let change = Change {
            text: &format!("stonelay = 1\norder = \"{name}\"\ndue = \"{due_day}\"\n"),
            name: &name,
            due_day: Some(&due_day),
            words: &format!("badge drum hoop customer{}", i % 977),
            what: "taken",
            together: None,
        };
        shop.create(Sort::Order, &change, false)?;
    }
    for first in (0..lines).step_by(AT_ONCE as usize) {
        let chunk: Vec<NewEntry> = (first..(first + AT_ONCE).min(lines)).map(line).collect();
        shop.write(&chunk)?;
    }
    println!("{orders} orders, {lines} lines");
    Ok(())
}

/// A pack comes in, then four handfuls are set.
fn line(i: u64) -> NewEntry {
    let comes = i.is_multiple_of(5);
    NewEntry {
        nonce: format!("large {i}"),
        what: if comes { Moved::Received } else { Moved::Used },
        stone: format!("stone {}", i % N_STONES),
        lot: format!("L{}", i / N_STONES % 3),
        stones: if comes { 144 } else { 30 },
        unit_price: None,
        supplier: None,
        order: None,
        piece: None,
        who: String::new(),
        why: String::new(),
    }
}
