//! How long the hand model takes: 50 trials of a zone of about 500 stones, and ten of one of 10,000.
//!
//! `cargo bench -p lay --bench hand`. Counts and coverage are printed beside the times.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use geometry::shapes;
use lay::{
    Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, Scatter, Shape,
    Unwatched, Zone, by_hand,
};
use std::hint::black_box;

/// The mix of the targets: (diameter mm, share by count).
const MIX: [(f64, f64); 4] = [(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

/// A rectangle of 3 : 2 that takes about `n` stones of the mix.
fn piece(n: usize) -> Piece {
    let height = (10.9 * n as f64).sqrt();
    let region = shapes::rectangle(1.5 * height, height);
    let kind = |&(d, _): &(f64, f64)| Kind {
        name: format!("{d} mm"),
        shape: Shape::Round,
        size: format!("{d} mm"),
        fit_mm: d,
        reach_mm: d,
        spread_mm: 0.0,
        colour: Colour(40, 120, 160),
        finish: Finish::Foiled,
    };
    let part = |(kind, m): (usize, &(f64, f64))| MixPart { kind, share: m.1, rows: 1 };
    let zone = Zone {
        name: "badge".into(),
        region: region.clone(),
        arrangement: Arrangement::Scatter(Scatter { ring_holes: true }),
        colouring: Colouring::Plain,
        mix: MIX.iter().enumerate().map(part).collect(),
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.0,
        gauge: Gauge::Reach,
        seed: 1,
    };
    Piece {
        name: "badge".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(240, 240, 240),
        kinds: MIX.iter().map(kind).collect(),
        zones: vec![zone],
    }
}

fn hand(c: &mut Criterion) {
    let mut group = c.benchmark_group("by hand");
    group.sample_size(10);
    for (n, trials) in [(500, 50), (10_000, 10)] {
        let piece = piece(n);
        if let Ok(got) = by_hand(&piece, 0, trials, 1, &Unwatched) {
            let middle: Vec<u64> = (0..MIX.len()).map(|kind| got.within(kind, 0.5)).collect();
            println!("{n}: {middle:?} of each size, coverage {:.3?}", got.coverage());
        }
        group.bench_with_input(BenchmarkId::new("stones", n), &piece, |b, piece| {
            b.iter(|| by_hand(black_box(piece), 0, trials, 1, &Unwatched));
        });
    }
    group.finish();
}

criterion_group!(benches, hand);
criterion_main!(benches);
