//! How long the rooms of geometry take, beside general-purpose peers where there are some.
//!
//! `cargo bench -p geometry` runs them all; `cargo bench -p geometry -- spots` some.

use criterion::{BatchSize, BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use geometry::{Disc, DiscGrid, Point, Region, Walls, boolean, shapes, spots};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use std::hint::black_box;

const DIAMETER_MM: f64 = 2.8;

/// About `n` touching discs in a honeycomb, on a rectangle of their size.
fn honeycomb(n: usize) -> (Region, Vec<Disc>) {
    let columns = (n as f64).sqrt().ceil() as usize;
    let row_pitch = DIAMETER_MM * 0.75f64.sqrt();
    let centre = |k: usize| {
        let (row, column) = (k / columns, k % columns);
        let shift = if row.is_multiple_of(2) { 0.25 } else { 0.75 };
        Point::new((column as f64 + shift) * DIAMETER_MM, (row as f64 + 0.5) * row_pitch)
    };
    let size = Point::new((columns as f64 + 0.5) * DIAMETER_MM, (columns as f64 + 0.5) * row_pitch);
    let region = shapes::rectangle(size.x, size.y).moved(size / 2.0);
    (region, (0..n).map(|k| Disc { centre: centre(k), radius: DIAMETER_MM / 2.0 }).collect())
}

/// About `n` discs of four sizes at random places, kept apart, on a square.
fn scattered(n: usize) -> (Region, Vec<Disc>) {
    let rng = &mut ChaCha8Rng::seed_from_u64(1);
    let cell = 6.4;
    let columns = (n as f64 / 2.3).sqrt().ceil() as usize;
    let side = columns as f64 * cell;
    let mut cells: Vec<Vec<Disc>> = vec![vec![]; columns * columns];
    let mut discs = vec![];
    for k in 0..n * 12 {
        let radius = [3.2, 2.35, 1.95, 1.4][k / (3 * n)];
        let centre = Point::new(rng.random_range(0.0..side), rng.random_range(0.0..side));
        let (x, y) = ((centre.x / cell) as usize, (centre.y / cell) as usize);
        let near = |a: usize| a.saturating_sub(1)..=(a + 1).min(columns - 1);
        let mut around = near(y).flat_map(|y| near(x).map(move |x| y * columns + x));
        let clear = |d: &Disc| d.centre.distance(centre) >= d.radius + radius;
        if discs.len() < n && around.all(|c| cells[c].iter().all(clear)) {
            cells[y * columns + x].push(Disc { centre, radius });
            discs.push(Disc { centre, radius });
        }
    }
    (shapes::rectangle(side, side).moved(Point::new(side, side) / 2.0), discs)
}

/// An outline of `n` corners, waving about a circle.
fn wavy(n: u32) -> Region {
    let corner = |i: u32| {
        let a = std::f64::consts::TAU * f64::from(i) / f64::from(n);
        Point::unit(a) * (25.0 + 3.0 * libm::sin(9.0 * a) + 0.5 * libm::sin(71.0 * a))
    };
    shapes::polygon(&(0..n).map(corner).collect::<Vec<_>>())
}

fn spots_of_many(c: &mut Criterion) {
    let mut group = c.benchmark_group("spots");
    group.sample_size(10);
    for n in [10_000, 100_000, 1_000_000] {
        group.throughput(Throughput::Elements(n as u64));
        for (name, (region, discs)) in [("honeycomb", honeycomb(n)), ("scattered", scattered(n))] {
            let walls = Walls::new(&region, |_| 0.0);
            let grid = DiscGrid::new(discs);
            group.bench_function(BenchmarkId::new(name, n), |b| {
                b.iter(|| spots::largest(&walls, black_box(&grid), 12));
            });
            if n == 100_000 {
                group.bench_function(BenchmarkId::new(format!("{name}, 0.2 mm up"), n), |b| {
                    b.iter(|| spots::at_least(&walls, black_box(&grid), 0.2));
                });
            }
        }
    }
}

fn walls_and_spans(c: &mut Criterion) {
    let mut group = c.benchmark_group("walls of 2,000 edges");
    let region = wavy(2000);
    let walls = Walls::new(&region, |_| 0.5);
    let rng = &mut ChaCha8Rng::seed_from_u64(2);
    let points: Vec<Point> = (0..1000)
        .map(|_| Point::new(rng.random_range(-28.0..28.0), rng.random_range(-28.0..28.0)))
        .collect();
    group.throughput(Throughput::Elements(1000));
    let room = |f: &dyn Fn(Point) -> f64| points.iter().map(|p| f(*p)).sum::<f64>();
    group.bench_function("room, 1,000 places", |b| b.iter(|| room(&|p| walls.room(p))));
    group.bench_function("room, looking at all", |b| b.iter(|| room(&|p| region.clearance(p))));
    group.throughput(Throughput::Elements(20));
    group.bench_function("spans, 20 rows", |b| {
        b.iter(|| {
            let rows = (0..20).map(|k| walls.spans_on_line(f64::from(k) * 2.4 - 23.0, 1.4));
            rows.map(|s| s.len()).sum::<usize>()
        });
    });
    group.bench_function("spans, 20 circles", |b| {
        b.iter(|| {
            let circles = (1..21).map(f64::from);
            circles.map(|r| walls.spans_on_circle(Point::ORIGIN, r, 1.4).len()).sum::<usize>()
        });
    });
}

fn neighbours(c: &mut Criterion) {
    let mut group = c.benchmark_group("neighbours of 100,000");
    group.sample_size(20);
    let (_, discs) = scattered(100_000);
    let places: Vec<[f64; 2]> = discs.iter().map(|d| [d.centre.x, d.centre.y]).collect();
    group.bench_function("DiscGrid, building", |b| {
        b.iter_batched(|| discs.clone(), DiscGrid::new, BatchSize::LargeInput);
    });
    group.bench_function("rstar, building", |b| {
        b.iter_batched(|| places.clone(), rstar::RTree::bulk_load, BatchSize::LargeInput);
    });
    let grid = DiscGrid::new(discs.clone());
    let tree = rstar::RTree::bulk_load(places.clone());
    let reach = 5.0;
    group.bench_function("DiscGrid, within 5 mm of each", |b| {
        b.iter(|| {
            let near = |p: Point| {
                grid.around(p, reach).filter(|&i| discs[i].centre.distance(p) <= reach).count()
            };
            discs.iter().map(|d| near(d.centre)).sum::<usize>()
        });
    });
    group.bench_function("rstar, within 5 mm of each", |b| {
        b.iter(|| {
            let near = |p: &[f64; 2]| tree.locate_within_distance(*p, reach * reach).count();
            places.iter().map(near).sum::<usize>()
        });
    });
}

fn insets(c: &mut Criterion) {
    use geo::Buffer;
    let mut group = c.benchmark_group("inset");
    group.sample_size(20);
    let region = wavy(2000);
    let ring = region.rings()[0].segments.iter().map(|s| (s.from.x, s.from.y));
    let polygon = geo::Polygon::new(ring.collect::<Vec<_>>().into(), vec![]);
    for d in [0.5, 5.0] {
        group.bench_function(BenchmarkId::new("ours", d), |b| {
            b.iter(|| boolean::inset(black_box(&region), d, 0));
        });
        group.bench_function(BenchmarkId::new("geo", d), |b| {
            b.iter(|| black_box(&polygon).buffer(-d));
        });
    }
}

criterion_group!(benches, spots_of_many, walls_and_spans, neighbours, insets);
criterion_main!(benches);
