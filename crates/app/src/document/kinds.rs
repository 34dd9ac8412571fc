//! `[[kind]]`: what lies on the shelf.

use super::mixes::{Shelf, kind_named};
use super::model::{Kind, Size};
use super::value::Limits;
use super::walk::{Fields, Node, shortened};
use lay::{Colour, Finish, sizes};
use toml::de::DeValue;
use units::{grouped, trimmed};

/// Colour of a kind that names none: plain silver.
const SILVER: Colour = Colour(0xc9, 0xcd, 0xd4);

const FINISHES: &[(&str, Finish)] = &[
    ("foiled", Finish::Foiled),
    ("rainbow", Finish::Rainbow),
    ("clear", Finish::Clear),
    ("metallic", Finish::Metallic),
    ("pearl", Finish::Pearl),
];

/// Reads the rest of a kind whose name is known.
pub(super) fn kind(fields: &mut Fields<'_, '_>, name: &str) -> Option<Kind> {
    fields.call("a kind");
    let size = fields.need("size", "`size = \"SS16\"`, or a diameter like `\"4 mm\"`");
    let tolerance = fields.get("tolerance");
    let size = size.and_then(|n| read_size(&n, tolerance));
    let colour = fields.get("colour").map_or(Some(SILVER), |n| n.colour());
    let finish =
        fields.get("finish").map_or(Some(Finish::Foiled), |n| n.choice("finish", FINISHES));
    let pack = fields.get("pack").map(|n| n.whole(1..10_000_001, "it like 1440")).map(some_some);
    let weight = fields.get("weight").map(|n| weight_of_one(&n)).map(some_some);
    let height =
        fields.get("height").map(|n| n.length(Limits(0.1, 50.0), "\"1.5 mm\"")).map(some_some);
    let weight = settled(weight)?;
    Some(Kind {
        name: name.to_owned(),
        size: size?,
        colour: colour?,
        finish: finish?,
        pack: settled(pack)?.map(|n| n as u32),
        weight_g: weight.map(|w| w.0),
        weighed: weight.and_then(|w| w.1),
        height_mm: settled(height)?,
        stand_ins: vec![],
    })
}

/// The kinds that may take the place of kind `own`.
pub(super) fn stand_ins(node: &Node<'_, '_>, own: usize, shelf: &Shelf) -> Option<Vec<usize>> {
    let nodes = node.list("stand-in", "it like [\"deep water\"]")?;
    let read = nodes.iter().map(|n| {
        let kind = kind_named(n, shelf)?;
        if kind == own {
            return n.wrong("a kind cannot stand in for itself", "name another kind");
        }
        Some(kind)
    });
    // Each is read before any decides, so that the faults of all are found.
    let read: Vec<Option<usize>> = read.collect();
    read.into_iter().collect()
}

/// For a key that may be missing: read well or badly.
fn some_some<T>(read: Option<T>) -> Result<T, ()> {
    read.ok_or(())
}

/// Missing is fine, read badly is not.
fn settled<T>(key: Option<Result<T, ()>>) -> Option<Option<T>> {
    key.transpose().ok()
}

fn read_size(node: &Node<'_, '_>, tolerance: Option<Node<'_, '_>>) -> Option<Size> {
    let by_diameter = || {
        let diameter = node.length(Limits::STONE, "\"4 mm\" or \"SS16\"")?;
        Some(Size::Mm { diameter, tolerance: 0.0 })
    };
    let size = match node.value {
        DeValue::Table(_) => measured(node),
        DeValue::String(text) => {
            ss_number(text).map_or_else(by_diameter, |number| ss_size(node, number))
        }
        _ => by_diameter(),
    };
    let Some(node) = tolerance else { return size };
    let tolerance = node.length(Limits(0.0, 5.0), "\"0.1 mm\"");
    match size? {
        Size::Mm { diameter, .. } if tolerance? >= diameter / 2.0 => node.wrong(
            format!("the tolerance is half the stone or more: {} mm", trimmed(tolerance?, 3)),
            "give by how much a stone of the bag may be larger or smaller",
        ),
        Size::Mm { diameter, .. } => Some(Size::Mm { diameter, tolerance: tolerance? }),
        _ => node.wrong(
            "this goes only with a size in millimetres",
            "leave it out: an SS size and a measured one bring their own range",
        ),
    }
}

/// The number behind `SS`, as far as there is one: `SS16`, `ss 16`.
fn ss_number(text: &str) -> Option<&str> {
    let text = text.trim();
    let prefix = text.get(..2)?;
    prefix.eq_ignore_ascii_case("ss").then(|| text[2..].trim())
}

fn ss_size(node: &Node<'_, '_>, number: &str) -> Option<Size> {
    let known = |n: &u32| sizes::round(*n).is_some();
    if let Some(n) = number.parse().ok().filter(known) {
        return Some(Size::Ss(n));
    }
    let shown =
        |r: &(u32, f64, f64)| format!("SS{} ({}–{} mm)", r.0, trimmed(r.1, 2), trimmed(r.2, 2));
    let hint = match number.parse::<f64>().ok().filter(|n| n.is_finite()) {
        Some(n) => {
            let below = sizes::ROUND.iter().rfind(|r| f64::from(r.0) < n).map(shown);
            let above = sizes::ROUND.iter().find(|r| f64::from(r.0) > n).map(shown);
            let near: Vec<String> = below.into_iter().chain(above).collect();
            format!(
                "the nearest are {}; or give the diameter, like `\"4.9 mm\"`",
                near.join(" and ")
            )
        }
        None => "write it like `SS16`, or give the diameter, like `\"3.9 mm\"`".to_owned(),
    };
    node.wrong(format!("there is no size `SS{}` in the trade's chart", shortened(number)), hint)
}

fn measured(node: &Node<'_, '_>) -> Option<Size> {
    let example = "it like { mean = \"3.92 mm\", spread = \"0.04 mm\", count = 30 }";
    let mut fields = node.fields("a measured size", example)?;
    let mean = fields.need("mean", "the mean diameter, like `mean = \"3.92 mm\"`");
    let mean = mean.and_then(|n| n.length(Limits::STONE, "\"3.92 mm\""));
    let spread = fields.need("spread", "the standard deviation, like `spread = \"0.04 mm\"`");
    let spread_node = spread.clone();
    let spread = spread.and_then(|n| n.length(Limits(0.0, 20.0), "\"0.04 mm\""));
    let count = fields.need("count", "how many were measured, like `count = 30`");
    let count = count.and_then(|n| n.whole(2..1_000_001, "it like 30"));
    fields.done();
    let (mean, spread) = (mean?, spread?);
    if spread > mean / 4.0 {
        let text =
            format!("a spread of {} mm is more than a quarter of the mean", trimmed(spread, 3));
        return spread_node?.wrong(text, "give the standard deviation of the diameters");
    }
    Some(Size::Measured { mean, spread, count: count? as u32 })
}

/// `"0.04 g"`, or a weighed heap: `{ stones = 144, total = "5.8 g" }`. The mass of one stone, g,
/// and how many were weighed.
fn weight_of_one(node: &Node<'_, '_>) -> Option<(f64, Option<u32>)> {
    const MOST_G: f64 = 100.0;
    let light = |g: f64, stones| {
        if g > MOST_G {
            let text = format!("one stone would weigh {} g", trimmed(g, 1));
            return node.wrong(text, "give the weight of one stone, at most 100 g");
        }
        Some((g, stones))
    };
    let DeValue::Table(_) = node.value else { return light(node.mass()?, None) };
    let mut fields =
        node.fields("a weighed heap", "it like { stones = 144, total = \"5.8 g\" }")?;
    let stones = fields.need("stones", "how many were weighed, like `stones = 144`");
    let stones = stones.and_then(|n| n.whole(1..10_000_001, "it like 144"));
    let total =
        fields.need("total", "what they weigh, like `total = \"5.8 g\"`").and_then(|n| n.mass());
    fields.done();
    light(total? / stones? as f64, Some(stones? as u32))
}

/// How a size is called in tables and pictures.
pub(crate) fn size_name(size: Size) -> String {
    match size {
        Size::Ss(n) => format!("SS{n}"),
        Size::Mm { diameter, .. } => format!("{} mm", trimmed(diameter, 3)),
        Size::Measured { mean, count, .. } => {
            format!("{} mm, {} measured", trimmed(mean, 3), grouped(u64::from(count)))
        }
    }
}
