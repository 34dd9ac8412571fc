//! How long a scatter takes, from ten thousand stones to a million, and how well it covers.
//!
//! `cargo bench -p lay --bench scatter`. "places" is the scatter alone; "piece" is the whole way to
//! a laid piece, with its bare spots and findings. Coverage and shares are printed beside the times.

mod support;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use lay::{Unwatched, arrange, lay_piece};
use std::hint::black_box;
use support::{MIX, piece};

/// So much of a dense lay one stone of the mix takes, mm².
const EACH_MM2: f64 = 14.895;

/// Prints what came out, so that speed is never bought with bare places unseen.
fn print_quality(n: usize) {
    let piece = piece(n, EACH_MM2);
    let seats = arrange(&piece, 0, &Unwatched).map(|a| a.seats).unwrap_or_default();
    let area = |size: usize| std::f64::consts::FRAC_PI_4 * MIX[size].0 * MIX[size].0;
    let covered: f64 = seats.iter().map(|s| area(s.size)).sum();
    let share = |size| seats.iter().filter(|s| s.size == size).count() as f64 / seats.len() as f64;
    println!(
        "{} stones, coverage {:.4}, shares {:.3?}",
        seats.len(),
        covered / piece.blank.area(),
        (0..MIX.len()).map(share).collect::<Vec<_>>()
    );
}

fn scatter(c: &mut Criterion) {
    let mut group = c.benchmark_group("scatter");
    group.sample_size(10);
    for n in [4_000, 10_000, 100_000, 1_000_000] {
        print_quality(n);
        let piece = piece(n, EACH_MM2);
        group.throughput(Throughput::Elements(n as u64));
        group.bench_with_input(BenchmarkId::new("places", n), &piece, |b, piece| {
            b.iter(|| arrange(black_box(piece), 0, &Unwatched));
        });
        if n <= 100_000 {
            group.bench_with_input(BenchmarkId::new("piece", n), &piece, |b, piece| {
                b.iter(|| lay_piece(black_box(piece), &Unwatched));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, scatter);
criterion_main!(benches);
