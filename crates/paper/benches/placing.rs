//! Placing sheets of 2,000 and of 50,000 stones, from the lay to the PDF.
//!
//! `cargo bench -p paper`. Goals: half a second and five seconds, and five megabytes for the larger.

use app::laying::{LaidOrder, lay_order};
use app::order::{Folder, open};
use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use lay::Unwatched;
use paper::{Placing, Use, placing};
use std::hint::black_box;
use std::path::Path;

/// A square plate in honeycomb of two kinds, SS10.
fn laid(side_mm: u32) -> LaidOrder {
    let text = format!(
        r##"stonelay = 1
order = "plates"
seed = 1
[[kind]]
name = "sea glass"
size = "SS10"
colour = "#2a9d8f"
[[kind]]
name = "ember"
size = "SS10"
colour = "#d6432b"
[[piece]]
name = "plate"
quantity = 1
blank = {{ shape = "rectangle", width = "{side_mm} mm", height = "{side_mm} mm" }}
arrangement = "honeycomb"
colouring = "random"
mix = [{{ kind = "sea glass", share = "60 %" }}, {{ kind = "ember", share = "40 %" }}]
"##
    );
    let order = open("order.toml", text.as_bytes(), &Folder::of(Path::new("order.toml")));
    let order = order.unwrap_or_else(|e| panic!("{}", e.plain()));
    lay_order(order, &Unwatched).unwrap_or_else(|e| panic!("{e}"))
}

fn sheets(c: &mut Criterion) {
    let mut group = c.benchmark_group("paper");
    group.sample_size(10);
    for side_mm in [132, 648] {
        let laid = laid(side_mm);
        let n = laid.total();
        group.throughput(Throughput::Elements(n as u64));
        for usage in [Use::Under, Use::Beside] {
            let wanted = Placing { usage, ..Placing::default() };
            if let Ok(made) = placing(&laid, None, &wanted, &Unwatched) {
                println!("{n} stones, {}: {} bytes", usage.name(), made.pdf.len());
            }
            group.bench_with_input(BenchmarkId::new(usage.name(), n), &laid, |b, laid| {
                b.iter(|| placing(black_box(laid), None, &wanted, &Unwatched));
            });
        }
    }
    group.finish();
}

criterion_group!(benches, sheets);
criterion_main!(benches);
