//! The whole program, from start to exit.

use criterion::{Criterion, criterion_group, criterion_main};
use std::fmt::Write;
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

/// `stonelay plan` of an order of 200 pieces, 100 kinds and 5 suppliers: the target is under 1 s.
fn plan_a_large_order(c: &mut Criterion) {
    let (Ok(folder), Ok(text)) = (tempfile::tempdir(), large_order()) else { return };
    let order = folder.path().join("order.toml");
    if std::fs::write(&order, text).is_err() {
        return;
    }
    let mut group = c.benchmark_group("process");
    group.sample_size(10);
    group.bench_function("plan 200 pieces, 100 kinds, 5 suppliers", |b| {
        b.iter(|| {
            let mut command = Command::new(env!("CARGO_BIN_EXE_stonelay"));
            command.args(["plan", "--on", "2026-11-25"]).arg(&order);
            let run = command.stdout(Stdio::null()).stderr(Stdio::null()).status();
            assert!(run.is_ok_and(|s| s.success()));
        });
    });
    group.finish();
}

/// Badges of 30 × 20 to 60 × 40 mm in all four arrangements, each of one to five kinds; most kinds
/// are sold by three of the five suppliers, in packs of their own, by price breaks, with charges and
/// limits of delivery. Numbers run through residues, so that no two are alike and none is random.
fn large_order() -> Result<String, std::fmt::Error> {
    let mut text = "stonelay = 1\norder = \"bench\"\ndue = 2027-06-30\n".to_owned();
    for k in 0..100 {
        let size = ["SS10", "SS12", "SS16", "SS20", "3 mm"][k % 5];
        write!(text, "[[kind]]\nname = \"k{k}\"\nsize = \"{size}\"\npack = 1440\n")?;
        if k % 4 == 0 {
            write!(text, "[[stock]]\nkind = \"k{k}\"\nstones = {}\n", 40 + 13 * k)?;
        }
    }
    for p in 0..200 {
        let (width, height) = (30 + 7 * p % 31, 20 + 11 * p % 21);
        let arrangement = ["honeycomb", "square", "rings", "scatter"][p % 4];
        let parts: Vec<String> =
            (0..=p % 5).map(|i| format!("{{ kind = \"k{}\" }}", (37 * p + 23 * i) % 100)).collect();
        write!(
            text,
            "[[piece]]\nname = \"p{p}\"\nquantity = {}\nblank = {{ shape = \"rectangle\", width = \
             \"{width} mm\", height = \"{height} mm\" }}\narrangement = \"{arrangement}\"\n\
             spacing = \"0.1 mm\"\nmix = [{}]\nadhesive = \"gel\"\nblank_price = \"0.80\"\n",
            1 + p % 6,
            parts.join(", ")
        )?;
    }
    for s in 0..5 {
        write!(
            text,
            "[[supplier]]\nname = \"s{s}\"\ndelivery = \"{}.90\"\nfree_from = \"{}\"\n\
             minimum = \"{}\"\nlead = {}\noffers = [\n",
            3 + s,
            60 + 20 * s,
            5 + 5 * s,
            2 + s
        )?;
        for k in (0..100).filter(|k| (k + s) % 5 < 3) {
            let pack = [144, 500, 1440][(k + 2 * s) % 3];
            let cents = pack * (40 + (k * 7 + s * 11) % 23) / 100;
            let price = |cents: usize| format!("{}.{:02}", cents / 100, cents % 100);
            writeln!(
                text,
                "  {{ kind = \"k{k}\", pack = {pack}, price = \"{}\", breaks = [{{ packs = 3, price = \
                 \"{}\" }}, {{ packs = 10, price = \"{}\" }}] }},",
                price(cents),
                price(cents * 93 / 100),
                price(cents * 85 / 100)
            )?;
        }
        text += "]\n";
    }
    text += "[[adhesive]]\nname = \"gel\"\nsort = \"solvent gel\"\ncontainer = \"110 ml\"\nprice = \
             \"7.80\"\n[workshop]\nwage = \"15.00\"\nbench = 12\n[price]\ncurrency = \"EUR\"\n\
             margin = \"30 %\"\ntax = \"20 %\"\n";
    Ok(text)
}

criterion_group!(benches, lay_one_badge, plan_a_large_order);
criterion_main!(benches);
