//! Runs every bench and keeps what came out, by day and machine.

use crate::house::House;
use crate::machine::{compiler, processor, slug, today};
use crate::run::{command, through};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::Path;
use std::time::SystemTime;

/// What one bench measured.
struct Measured {
    /// Its name, as its path under Criterion's folder.
    name: String,
    /// Nanoseconds for one run: the low end, the estimate, the high end.
    ns: [f64; 3],
    /// How many things one run makes, if the bench says so.
    elements: Option<u64>,
}

/// Runs them all and writes the record.
pub(crate) fn run() -> Result<bool> {
    let house = House::find()?;
    let begin = SystemTime::now();
    through(command("cargo", &["bench", "--workspace"]).current_dir(&house.root))?;
    let mut found = Vec::new();
    collect(&house.target.join("criterion"), "", begin, &mut found)?;
    if found.is_empty() {
        bail!("no bench left a measurement");
    }
    found.sort_by(|a, b| a.name.cmp(&b.name));
    let (day, processor) = (today()?, processor()?);
    let folder = house.root.join("benches/runs");
    fs::create_dir_all(&folder)?;
    let path = folder.join(format!("{day}-{}.md", slug(&processor)));
    let text = record(&day, &processor, &compiler()?, &found);
    fs::write(&path, text).with_context(|| format!("cannot write {}", path.display()))?;
    println!("{} benches: {}", found.len(), path.display());
    Ok(true)
}

/// Every `new` folder under `folder` that was written after `begin`.
fn collect(folder: &Path, name: &str, begin: SystemTime, out: &mut Vec<Measured>) -> Result<()> {
    let Ok(entries) = fs::read_dir(folder) else { return Ok(()) };
    for entry in entries {
        let entry = entry?;
        if !entry.file_type()?.is_dir() {
            continue;
        }
        let file = entry.file_name().to_string_lossy().into_owned();
        if file == "new" {
            let estimates = entry.path().join("estimates.json");
            if estimates.metadata().and_then(|m| m.modified()).is_ok_and(|m| m >= begin) {
                out.push(measured(&entry.path(), name)?);
            }
        } else {
            let below = if name.is_empty() { file } else { format!("{name}/{file}") };
            collect(&entry.path(), &below, begin, out)?;
        }
    }
    Ok(())
}

fn measured(folder: &Path, name: &str) -> Result<Measured> {
    let json = |file: &str| -> Result<serde_json::Value> {
        let text = fs::read_to_string(folder.join(file)).with_context(|| name.to_owned())?;
        serde_json::from_str(&text).with_context(|| format!("{name}: {file}"))
    };
    let estimates = json("estimates.json")?;
    // Criterion fits a slope where it can, and takes the mean where it cannot.
    let best = if estimates["slope"].is_object() { "slope" } else { "mean" };
    let value = |v: &serde_json::Value| v.as_f64().context("not a number").context(name.to_owned());
    let interval = &estimates[best]["confidence_interval"];
    let ns = [
        value(&interval["lower_bound"])?,
        value(&estimates[best]["point_estimate"])?,
        value(&interval["upper_bound"])?,
    ];
    let throughput = json("benchmark.json")?["throughput"].clone();
    Ok(Measured { name: name.to_owned(), ns, elements: throughput["Elements"].as_u64() })
}

fn record(day: &str, processor: &str, compiler: &str, found: &[Measured]) -> String {
    let mut text = format!(
        "# Benches of {day}\n\nMachine: {processor}. Compiler: {compiler}. By `cargo xtask bench`; \
         low and high are the ends of the 95 % interval.\n\n\
         | bench | low | time | high | each second |\n|---|---:|---:|---:|---:|\n"
    );
    for m in found {
        let [low, time, high] = m.ns.map(shown_time);
        let rate = m.elements.map(|n| shown_rate(n as f64 / (m.ns[1] * 1e-9))).unwrap_or_default();
        text.push_str(&format!("| {} | {low} | {time} | {high} | {rate} |\n", m.name));
    }
    text
}

fn shown_time(ns: f64) -> String {
    let (value, unit) = match ns {
        n if n < 1e3 => (n, "ns"),
        n if n < 1e6 => (n / 1e3, "µs"),
        n if n < 1e9 => (n / 1e6, "ms"),
        n => (n / 1e9, "s"),
    };
    format!("{value:.2} {unit}")
}

fn shown_rate(per_second: f64) -> String {
    if per_second < 1e6 {
        format!("{per_second:.0}")
    } else {
        format!("{:.1} million", per_second / 1e6)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_and_rates_carry_a_fitting_unit() {
        assert_eq!(shown_time(512.0), "512.00 ns");
        assert_eq!(shown_time(2_500_000.0), "2.50 ms");
        assert_eq!(shown_rate(950_000.0), "950000");
        assert_eq!(shown_rate(7_250_000.0), "7.2 million");
    }

    #[test]
    fn a_record_has_one_line_for_each_bench() {
        let m = Measured { name: "lay/x".into(), ns: [9e5, 1e6, 2e6], elements: Some(1000) };
        let text = record("2026-01-02", "p", "c", &[m]);
        let line = "| lay/x | 900.00 µs | 1.00 ms | 2.00 ms | 1.0 million |\n";
        assert!(text.ends_with(line), "{text}");
    }
}
