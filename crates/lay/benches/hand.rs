//! How long the hand model takes: 50 trials of a zone of about 500 stones, and ten of one of 10,000.
//!
//! `cargo bench -p lay --bench hand`. Counts and coverage are printed beside the times.

mod support;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use lay::{Unwatched, by_hand};
use std::hint::black_box;
use support::{MIX, piece};

/// So much of a lay by hand one stone of the mix takes, mm².
const EACH_MM2: f64 = 16.35;

fn hand(c: &mut Criterion) {
    let mut group = c.benchmark_group("by hand");
    group.sample_size(10);
    for (n, trials) in [(500, 50), (10_000, 10)] {
        let piece = piece(n, EACH_MM2);
        if let Ok(got) = by_hand(&piece, 0, &[], trials, 1, &Unwatched) {
            let middle: Vec<u64> = (0..MIX.len()).map(|kind| got.within(kind, 0.5)).collect();
            println!("{n}: {middle:?} of each size, coverage {:.3?}", got.coverage());
        }
        group.bench_with_input(BenchmarkId::new("stones", n), &piece, |b, piece| {
            b.iter(|| by_hand(black_box(piece), 0, &[], trials, 1, &Unwatched));
        });
    }
    group.finish();
}

criterion_group!(benches, hand);
criterion_main!(benches);
