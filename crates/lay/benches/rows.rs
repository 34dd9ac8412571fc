//! Rows: how fast they are laid as they grow, and what the search for the most stones takes.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use geometry::{Region, shapes};
use lay::{
    Along, Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, Rows, Shape,
    Unwatched, Zone,
};
use std::hint::black_box;

fn piece(region: Region, arrangement: Arrangement, diameter: f64) -> Piece {
    let zone = Zone {
        name: "all".into(),
        region: region.clone(),
        arrangement,
        colouring: Colouring::Plain,
        mix: vec![MixPart { kind: 0, share: 1.0, rows: 1 }],
        fillers: vec![],
        spacing_mm: 0.0,
        margin_mm: 0.0,
        gauge: Gauge::Fit,
        seed: 1,
    };
    let kind = Kind {
        name: "bench".into(),
        shape: Shape::Round,
        size: format!("{diameter} mm"),
        fit_mm: diameter,
        reach_mm: diameter,
        spread_mm: 0.0,
        colour: Colour(0, 0, 0),
        finish: Finish::Foiled,
    };
    Piece {
        name: "bench".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(255, 255, 255),
        kinds: vec![kind],
        zones: vec![zone],
        changes: vec![],
    }
}

/// A honeycomb of about `n` stones of 2 mm on a rectangle: the places alone, and the whole lay
/// with bare spots and checks.
fn honeycomb(c: &mut Criterion) {
    let mut group = c.benchmark_group("honeycomb");
    group.sample_size(10);
    for n in [10_000_u32, 100_000, 1_000_000] {
        let side = (f64::from(n) * 4.0 * 0.866).sqrt();
        let arrangement = Arrangement::Honeycomb(Rows::Locked(Along::Bottom));
        let piece = piece(shapes::rectangle(side, side), arrangement, 2.0);
        let stones = lay::arrange(&piece, 0, &Unwatched).map_or(0, |a| a.seats.len());
        group.throughput(Throughput::Elements(stones as u64));
        group.bench_function(BenchmarkId::new("places", n), |b| {
            b.iter(|| lay::arrange(black_box(&piece), 0, &Unwatched));
        });
        if n <= 100_000 {
            group.bench_function(BenchmarkId::new("piece", n), |b| {
                b.iter(|| lay::lay_piece(black_box(&piece), &Unwatched));
            });
        }
    }
    group.finish();
}

/// The most stones of SS9 on a badge of 60 × 40 mm.
fn most(c: &mut Criterion) {
    let mut group = c.benchmark_group("most on 60 x 40 mm");
    group.sample_size(20);
    for (name, rows) in
        [("locked", Rows::Locked(Along::Bottom)), ("most", Rows::Most { steps: 600 })]
    {
        let piece = piece(shapes::rectangle(60.0, 40.0), Arrangement::Honeycomb(rows), 2.7);
        let stones = lay::arrange(&piece, 0, &Unwatched).map_or(0, |a| a.seats.len());
        println!("{name}: {stones} stones");
        group.bench_function(name, |b| b.iter(|| lay::arrange(black_box(&piece), 0, &Unwatched)));
    }
    group.finish();
}

criterion_group!(benches, honeycomb, most);
criterion_main!(benches);
