//! Stretches: how fast a large lay is cut, in rows and scattered.

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use geometry::shapes;
use lay::{
    Along, Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, PieceLay,
    Rows, Scatter, Shape, Unwatched, Zone,
};
use planning::adhesive::{Adhesive, AdhesiveSort, Apply, Label, Room};
use planning::stretches::{StretchInput, ZoneRole, stretches};
use planning::{Given, Pace};
use std::hint::black_box;

/// A piece of 600 × 480 mm in stones of three sizes.
fn piece(arrangement: Arrangement) -> Piece {
    let region = shapes::rectangle(600.0, 480.0);
    let kind = |reach_mm: f64| Kind {
        name: format!("{reach_mm} mm"),
        shape: Shape::Round,
        size: format!("{reach_mm} mm"),
        fit_mm: reach_mm,
        reach_mm,
        spread_mm: 0.0,
        colour: Colour(0, 0, 0),
        finish: Finish::Foiled,
    };
    let part = |(kind, share)| MixPart { kind, share, rows: 1 };
    let zone = Zone {
        name: "all".into(),
        region: region.clone(),
        arrangement,
        colouring: Colouring::Random,
        mix: [(0, 0.3), (1, 0.3), (2, 0.4)].map(part).to_vec(),
        fillers: vec![],
        spacing_mm: 0.1,
        margin_mm: 0.0,
        gauge: Gauge::Fit,
        seed: 1,
    };
    Piece {
        name: "bench".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(255, 255, 255),
        kinds: [4.7, 3.9, 2.8].map(kind).to_vec(),
        zones: vec![zone],
        changes: vec![],
    }
}

fn cut(piece: &Piece, lay: &PieceLay, open_min: f64) -> usize {
    let label = Label { open_min: Some(open_min), ..Label::default() };
    let gel = Adhesive { name: "gel".into(), sort: AdhesiveSort::SolventGel, label };
    let pace = Pace { usual_per_h: 300.0, slow_per_h: 270.0 };
    let input = StretchInput {
        piece,
        lay,
        roles: &[ZoneRole::Inner],
        paces: &[vec![pace; 3]],
        adhesive: &gel,
        apply: Apply::Dot,
        room: Room { temperature_c: Given::usual(21.0), humidity: Given::usual(0.5) },
    };
    stretches(&input).map_or(0, |(plan, _)| plan.stretches.len())
}

fn large(c: &mut Criterion) {
    let mut group = c.benchmark_group("stretches of 600 x 480 mm");
    group.sample_size(20);
    let honeycomb = Arrangement::Honeycomb(Rows::Locked(Along::Bottom));
    let scatter = Arrangement::Scatter(Scatter { ring_holes: false });
    for (name, arrangement) in [("honeycomb", honeycomb), ("scatter", scatter)] {
        let piece = piece(arrangement);
        let Ok(lay) = lay::lay_piece(&piece, &Unwatched) else { continue };
        group.throughput(Throughput::Elements(lay.stones.len() as u64));
        for open_min in [2.0, 10.0, 60.0] {
            let n = cut(&piece, &lay, open_min);
            println!("{name}, {open_min} min open: {} stones, {n} stretches", lay.stones.len());
            group.bench_function(BenchmarkId::new(name, format!("{open_min} min")), |b| {
                b.iter(|| cut(black_box(&piece), &lay, open_min));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, large);
criterion_main!(benches);
