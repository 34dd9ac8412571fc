//! How long a scatter takes, from ten thousand stones to a million, and how well it covers.
//!
//! `cargo bench -p lay --bench scatter`. "places" is the scatter alone; "piece" is the whole way to
//! a laid piece, with its bare spots and findings. Coverage and shares are printed beside the times.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use geometry::shapes;
use lay::{
    Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, Scatter, Shape,
    Unwatched, Zone, arrange, lay_piece,
};
use std::hint::black_box;

/// The mix of the targets: (diameter mm, share by count).
const MIX: [(f64, f64); 4] = [(6.4, 0.1), (4.7, 0.2), (3.9, 0.3), (2.8, 0.4)];

/// A rectangle of 3 : 2 that takes about `n` stones of the mix.
fn piece(n: usize) -> Piece {
    let height = (9.93 * n as f64).sqrt();
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
        name: "sign".into(),
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
        name: "parade sign".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(240, 240, 240),
        kinds: MIX.iter().map(kind).collect(),
        zones: vec![zone],
    }
}

/// Prints what came out, so that speed is never bought with bare places unseen.
fn print_quality(n: usize) {
    let piece = piece(n);
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
        let piece = piece(n);
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
