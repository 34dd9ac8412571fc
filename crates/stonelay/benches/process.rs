//! The whole program, from start to exit.

use criterion::{Criterion, criterion_group, criterion_main};
use std::process::{Command, Stdio};

/// `stonelay lay` of one badge of 60 × 40 mm in locked honeycomb, no files written.
fn lay_one_badge(c: &mut Criterion) {
    let Ok(folder) = tempfile::tempdir() else { return };
    let order = folder.path().join("order.toml");
    let text = "stonelay = 1\norder = \"bench\"\n[[kind]]\nname = \"glass\"\nsize = \"SS9\"\n\
                [[piece]]\nname = \"badge\"\nblank = { shape = \"rectangle\", width = \"60 mm\", \
                height = \"40 mm\" }\narrangement = \"honeycomb\"\nmix = \"glass\"\n";
    if std::fs::write(&order, text).is_err() {
        return;
    }
    c.bench_function("process: lay one badge", |b| {
        b.iter(|| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_stonelay"));
            let run = command.arg("lay").arg(&order).stdout(Stdio::null()).status();
            assert!(run.is_ok_and(|s| s.success()));
        });
    });
}

criterion_group!(benches, lay_one_badge);
criterion_main!(benches);
