//! Checks by other people's programs and libraries, on what the binary writes.

use crate::house::House;
use crate::needs;
use crate::npm;
use crate::run::{command, last_line, through};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

/// One outside check; told whether the run is a long one, it returns its closing line.
pub(crate) struct Check {
    /// What it is called in the summary.
    pub(crate) name: &'static str,
    /// What it does.
    pub(crate) job: fn(&House, bool) -> Result<String>,
}

/// All of them, in the order in which they run.
pub(crate) const CHECKS: &[Check] = &[
    Check { name: "demo, one thread as two", job: demo_on_threads },
    Check { name: "the checker finds planted faults", job: planted_faults },
    Check { name: "demo measured", job: demo_measured },
    Check { name: "tables", job: tables },
    Check { name: "files for other programs", job: piece_files },
    Check { name: "random pieces", job: random_pieces },
    Check { name: "icons as blanks", job: icons },
    Check { name: "figures of the plan", job: plan_figures },
    Check { name: "placing sheets measured", job: placing_sheets },
    Check { name: "papers of an order", job: order_papers },
];

/// Lays the demo order on one thread and on two, and compares every byte.
fn demo_on_threads(house: &House, _long: bool) -> Result<String> {
    let demo = fresh(house, "demo")?;
    through(command(house.binary(), &["demo"]).arg(demo.join("order")))?;
    let mut written = Vec::new();
    for threads in ["1", "2"] {
        let out = demo.join(format!("threads-{threads}"));
        let mut lay = command(house.binary(), &["lay"]);
        lay.arg(demo.join("order/order.toml")).args(["--json", "--threads", threads]);
        fs::create_dir_all(&out)?;
        let json = fs::File::create(out.join("lay.json"))?;
        through(lay.arg("--out").arg(&out).stdout(json))?;
        written.push(out);
    }
    let names = file_names(&written[0])?;
    if names != file_names(&written[1])? {
        bail!("one thread wrote other files than two");
    }
    if names.len() < 4 {
        bail!("only {} files were written", names.len());
    }
    for name in &names {
        if fs::read(written[0].join(name))? != fs::read(written[1].join(name))? {
            bail!("{name} differs between one thread and two");
        }
    }
    Ok(format!("{} files equal", names.len()))
}

/// Spoils a good lay in every way that the checker should notice.
fn planted_faults(house: &House, _long: bool) -> Result<String> {
    script(house, "planted_faults.py", |c| c.arg(demo_lay(house)))
}

fn demo_measured(house: &House, long: bool) -> Result<String> {
    script(house, "check_lay.py", |c| deep(c, long).arg(demo_lay(house)))
}

fn tables(house: &House, _long: bool) -> Result<String> {
    script(house, "tables.py", |c| c.arg("--binary").arg(house.binary()))
}

/// Every sort of file of the demo and of fifty awkward pieces, by the readers of others.
fn piece_files(house: &House, _long: bool) -> Result<String> {
    let folder = fresh(house, "piece-files")?;
    script(house, "piece_files.py", |c| c.arg("--binary").arg(house.binary()).arg(&folder))
}

fn random_pieces(house: &House, long: bool) -> Result<String> {
    let folder = fresh(house, "random")?;
    let n = if long { "2000" } else { "200" };
    script(house, "random_orders.py", |c| {
        c.arg("--binary").arg(house.binary()).args(["--pieces", n]);
        deep(c, long).arg(&folder)
    })
}

fn icons(house: &House, long: bool) -> Result<String> {
    let folder = fresh(house, "icons")?;
    script(house, "icons.py", |c| {
        c.arg("--binary").arg(house.binary()).arg("--icons").arg(npm::icons(house));
        c.args(["--sample", if long { "all" } else { "100" }]);
        c.arg(&folder)
    })
}

/// Placing sheets of the demo order, which [`demo_on_threads`] wrote, and of awkward ones.
fn placing_sheets(house: &House, _long: bool) -> Result<String> {
    let order = scratch(house).join("demo/order/order.toml");
    script(house, "check_paper.py", |c| c.arg("--binary").arg(house.binary()).arg(order))
}

/// Reads every paper of the demo order, and labels on all sheets.
fn order_papers(house: &House, _long: bool) -> Result<String> {
    let demo = fresh(house, "order-papers")?;
    through(command(house.binary(), &["demo"]).arg(demo.join("order")))?;
    script(house, "check_order_papers.py", |c| {
        c.arg("--binary").arg(house.binary()).arg(demo.join("order/order.toml"))
    })
}

/// Examples of `planning` that print figures, and the scripts that work them out again. The longest
/// comes first.
const FIGURES: &[(&str, &str)] = &[
    ("markets", "buying.py"),
    ("spare_grid", "spare.py"),
    ("prices", "prices.py"),
    ("hours", "hours.py"),
    ("schedules", "calendars.py"),
    ("weighings", "weighing.py"),
    ("adhesive", "adhesive.py"),
    ("colour_pairs", "colour_pairs.py"),
];

/// Every part of the plan, two at a time.
fn plan_figures(house: &House, _long: bool) -> Result<String> {
    let job =
        |&(example, name)| -> Job<'_> { (name, Box::new(move || figures(house, example, name))) };
    let jobs: Vec<Job<'_>> = FIGURES.iter().map(job).collect();
    two_at_a_time(&jobs)?;
    Ok(format!("{} parts agree", jobs.len()))
}

/// Work with a name; it returns its closing line.
pub(crate) type Job<'a> = (&'static str, Box<dyn Fn() -> Result<String> + Sync + 'a>);

/// Does all of it, two at a time, each begun as soon as there is a hand for it.
///
/// # Errors
/// Something failed, or was not done; all of it is named.
pub(crate) fn two_at_a_time(jobs: &[Job<'_>]) -> Result<()> {
    let next = AtomicUsize::new(0);
    let take = || jobs.get(next.fetch_add(1, Ordering::Relaxed));
    let worker = || {
        let mut said = Vec::new();
        while let Some((name, job)) = take() {
            said.push((*name, job()));
        }
        said
    };
    let said: Vec<(&str, Result<String>)> = thread::scope(|scope| {
        let hands: Vec<_> = (0..2).map(|_| scope.spawn(worker)).collect();
        hands.into_iter().flat_map(|h| h.join().unwrap_or_default()).collect()
    });
    let wrong: Vec<String> = said
        .iter()
        .filter_map(|(name, r)| r.as_ref().err().map(|e| format!("{name}: {e:#}")))
        .collect();
    if !wrong.is_empty() {
        bail!("{}", wrong.join("\n"));
    }
    if said.len() < jobs.len() {
        bail!("only {} of {} were done", said.len(), jobs.len());
    }
    Ok(())
}

/// What one example of `planning` prints, worked out again by a script.
fn figures(house: &House, example: &str, name: &str) -> Result<String> {
    let folder = fresh(house, example)?;
    let printed = folder.join("figures.json");
    let file = fs::File::create(&printed)?;
    through(Command::new(house.example(example)).stdout(file))?;
    script(house, name, |c| c.arg(&printed))
}

/// The whole SciPy search, in a long run.
fn deep(c: &mut Command, long: bool) -> &mut Command {
    if long { c.arg("--deep") } else { c }
}

/// Runs one of `checks/*.py`, and returns its closing line.
pub(crate) fn script(
    house: &House,
    name: &str,
    with: impl FnOnce(&mut Command) -> &mut Command,
) -> Result<String> {
    let mut python = Command::new(needs::python(house));
    // Unbuffered, so that progress is seen; one thread each, since the scripts use processes.
    python.arg("-u").arg(house.root.join("checks").join(name)).env("OMP_NUM_THREADS", "1");
    python.env("OPENBLAS_NUM_THREADS", "1").env("PYTHONDONTWRITEBYTECODE", "1");
    last_line(with(&mut python))
}

fn demo_lay(house: &House) -> PathBuf {
    scratch(house).join("demo/threads-1/lay.json")
}

fn scratch(house: &House) -> PathBuf {
    house.target.join("checks")
}

/// An empty folder for one check.
pub(crate) fn fresh(house: &House, name: &str) -> Result<PathBuf> {
    let folder = scratch(house).join(name);
    if folder.exists() {
        fs::remove_dir_all(&folder)?;
    }
    fs::create_dir_all(&folder)?;
    Ok(folder)
}

fn file_names(folder: &Path) -> Result<Vec<String>> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        names.push(entry?.file_name().into_string().ok().context("a file name is not text")?);
    }
    names.sort();
    Ok(names)
}
