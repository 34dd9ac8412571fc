//! How long buying on a large market takes: 100 kinds, 5 suppliers, 3 price breaks.
//!
//! `cargo bench -p planning --bench buying`. Thresholds and minimums lie below, around and above
//! what would be spent with a supplier anyway. Total and proof are printed beside the times.

#[path = "../examples/markets/random.rs"]
mod random;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use planning::buying::buy;
use random::{LARGE, Shape, market};
use std::hint::black_box;

fn buying(c: &mut Criterion) {
    let mut group = c.benchmark_group("buying");
    group.sample_size(10);
    for limits in [0.1, 0.5, 1.0, 2.0] {
        for seed in [1, 2] {
            let market = market(seed, Shape { limits, ..LARGE });
            if let Ok((purchase, _)) = buy(&market) {
                println!("limits {limits}: {} ({:?})", purchase.total, purchase.proof);
            }
            let id = BenchmarkId::new(format!("limits {limits}"), seed);
            group.bench_with_input(id, &market, |b, market| b.iter(|| buy(black_box(market))));
        }
    }
    group.finish();
}

criterion_group!(benches, buying);
criterion_main!(benches);
