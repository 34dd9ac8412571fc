//! A shop after many years: a million lines of the ledger, ten thousand orders. Each question is
//! asked of a young shop as well.

#![expect(clippy::unwrap_used, reason = "a bench that cannot fill its shop measures nothing")]

use criterion::{BatchSize, Criterion, criterion_group, criterion_main};
use shop::{
    Asked, By, Change, DocumentId, LedgerPage, Moved, NewEntry, NewPress, NewSetting, Opening,
    Pressed, SettingId, Shop, Sort,
};
use std::hint::black_box;
use std::sync::atomic::{AtomicU64, Ordering::Relaxed};
use tempfile::TempDir;

/// Kinds on a well filled shelf, each of three lots.
const N_STONES: u64 = 400;

fn line(i: u64, nonce: String) -> NewEntry {
    NewEntry {
        nonce,
        what: if i.is_multiple_of(5) { Moved::Received } else { Moved::Used },
        stone: format!("stone {}", i % N_STONES),
        lot: format!("L{}", i / N_STONES % 3),
        stones: if i.is_multiple_of(5) { 144 } else { 30 },
        unit_price: None,
        supplier: None,
        order: Some(DocumentId(i as i64 % 100 + 1)),
        piece: Some("badge".to_owned()),
        who: "the maker".to_owned(),
        why: String::new(),
    }
}

fn filled(n_lines: u64, n_orders: u64) -> (TempDir, Shop) {
    let folder = tempfile::tempdir().unwrap();
    let shop = Shop::open(&folder.path().join("shop.db"), Opening::default()).unwrap();
    let text = "# an order of the harbour festival\n".repeat(80);
    for i in 0..n_orders {
        let name = format!("lanterns of pier {i}");
        let due_day = format!("2026-{:02}-{:02}", i % 12 + 1, i % 28 + 1);
        let words = format!("badge drum hoop customer{}", i % 977);
        let change = Change {
            text: &text,
            name: &name,
            due_day: Some(&due_day),
            words: &words,
            what: "taken",
            together: None,
        };
        shop.create(Sort::Order, &change, false).unwrap();
    }
    for chunk in (0..n_lines).collect::<Vec<_>>().chunks(10_000) {
        let lines: Vec<NewEntry> = chunk.iter().map(|i| line(*i, format!("line {i}"))).collect();
        shop.write(&lines).unwrap();
    }
    let order = shop.head(DocumentId(1)).unwrap();
    shop.begin_setting(&NewSetting {
        nonce: "s".to_owned(),
        document: order.document.id,
        revision: order.revision.id,
        piece_index: 0,
        piece: "badge".to_owned(),
        first_copy: 1,
        last_copy: 18,
        lay_hash: "c0ffee".to_owned(),
        engine: "stonelay".to_owned(),
        frozen: vec![7; 100_000],
        lots: Vec::new(),
    })
    .unwrap();
    (folder, shop)
}

fn press(nonce: &str) -> NewPress {
    NewPress {
        nonce: nonce.to_owned(),
        device: "tablet".to_owned(),
        copy: 1,
        stretch: Some(0),
        row: Some(0),
        what: Pressed::RowDone,
        kind: None,
        place_no: None,
        stones: Some(30),
        grams: None,
        text: None,
        entries: vec![line(1, format!("{nonce}, its line"))],
    }
}

fn questions(c: &mut Criterion) {
    for (age, n_lines, n_orders) in [("young", 1000, 100), ("old", 1_000_000, 10_000)] {
        let (_folder, shop) = filled(n_lines, n_orders);
        let mut group = c.benchmark_group(age);
        group.sample_size(20);
        group.bench_function("stock", |b| b.iter(|| black_box(shop.stock(false).unwrap())));
        let page = LedgerPage { limit: 50, ..LedgerPage::default() };
        group.bench_function("ledger, last page", |b| {
            b.iter(|| black_box(shop.ledger(&page).unwrap()));
        });
        let of_a_stone = LedgerPage { stone: Some("stone 7"), ..page.clone() };
        group.bench_function("ledger, last page of a stone", |b| {
            b.iter(|| black_box(shop.ledger(&of_a_stone).unwrap()));
        });
        let of_an_order = LedgerPage { order: Some(DocumentId(7)), ..page.clone() };
        group.bench_function("ledger, last page of an order", |b| {
            b.iter(|| black_box(shop.ledger(&of_an_order).unwrap()));
        });
        for (name, by, search) in [
            ("orders changed last", By::Changed, ""),
            ("orders due first", By::Due, ""),
            ("orders found", By::Changed, "customer17 hoop"),
            ("orders not found", By::Changed, "no such order"),
        ] {
            let asked = Asked { by, search, ..Asked::default() };
            group.bench_function(name, |b| b.iter(|| black_box(shop.documents(&asked).unwrap())));
        }
        let n = AtomicU64::new(0);
        group.bench_function("press with a line, on the disk", |b| {
            b.iter_batched(
                || press(&format!("press {}", n.fetch_add(1, Relaxed))),
                |new| black_box(shop.press(SettingId(1), &new).unwrap()),
                BatchSize::SmallInput,
            );
        });
        group.finish();
    }
}

criterion_group!(benches, questions);
criterion_main!(benches);
