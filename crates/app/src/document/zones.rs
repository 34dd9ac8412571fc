//! Zones: where they are, how stones are arranged and coloured in them.

use super::mixes::{Shelf, Unfolding, kind_named, named, parts};
use super::model::{Arrangement, BandEdge, BandWidth, Zone, ZonePlace};
use super::shapes::placed;
use super::value::Limits;
use super::walk::{Fields, Node};
use lay::{Along, Colouring, Gauge, MixPart, Rows};
use toml::de::DeValue;

/// Every key that says how a zone is laid; a piece without zones has them itself.
pub(super) const LAYING_KEYS: &[&str] = &[
    "arrangement",
    "rows",
    "along",
    "open",
    "steps",
    "centre",
    "start",
    "nested",
    "around_holes",
    "ring_holes",
    "spacing",
    "set_by",
    "colouring",
    "mix",
    "fillers",
];

/// Distance between stones set by a sheet where none is given, mm.
const USUAL_SPACING: f64 = 0.2;
/// How far rows that are evened out may be opened where nothing is said, mm.
const USUAL_OPEN: f64 = 0.3;
/// Turns and shifts tried where nothing is said.
const USUAL_STEPS: u32 = 2000;

#[derive(Clone, Copy, PartialEq)]
enum Way {
    Honeycomb,
    Square,
    Rings,
    Scatter,
}

const WAYS: &[(&str, Way)] = &[
    ("honeycomb", Way::Honeycomb),
    ("square", Way::Square),
    ("rings", Way::Rings),
    ("scatter", Way::Scatter),
];
const COLOURINGS: &[(&str, Colouring)] = &[
    ("plain", Colouring::Plain),
    ("striped", Colouring::Striped),
    ("alternating", Colouring::Alternating),
    ("random", Colouring::Random),
];
const GAUGES: &[(&str, Gauge)] = &[("sheet", Gauge::Fit), ("touch", Gauge::Reach)];
const EDGES: &[(&str, BandEdge)] =
    &[("outside", BandEdge::Outside), ("holes", BandEdge::Holes), ("every edge", BandEdge::Every)];
const ALONG: &[(&str, Along)] = &[
    ("bottom", Along::Bottom),
    ("top", Along::Top),
    ("left", Along::Left),
    ("right", Along::Right),
    ("longest", Along::Longest),
];

/// Reads how a zone is laid. `name` and `place` were read before.
pub(super) fn zone(
    fields: &mut Fields<'_, '_>,
    shelf: &Shelf,
    unfolding: &mut Unfolding<'_, '_, '_>,
    name: Option<String>,
    place: Option<ZonePlace>,
) -> Option<Zone> {
    let arrangement = arrangement(fields);
    let gauge =
        fields.get("set_by").map_or(Some(Gauge::Fit), |n| n.choice("way of setting", GAUGES));
    let usual = if gauge == Some(Gauge::Reach) { 0.0 } else { USUAL_SPACING };
    let spacing =
        fields.get("spacing").map_or(Some(usual), |n| n.length(Limits::GAP, "\"0.2 mm\""));
    let mix = mix(fields, shelf, unfolding);
    let colouring = fields.get("colouring").map(|n| n.choice("colouring", COLOURINGS));
    let fillers = fields.get("fillers").map_or(Some(vec![]), |n| fillers(&n, shelf));
    let seed = fields.get("seed").map(|n| n.whole(0..1 << 53, "it like 7"));
    let mix = mix?;
    let colouring = match colouring {
        Some(colouring) => colouring?,
        None if mix.len() == 1 => Colouring::Plain,
        None => Colouring::Random,
    };
    let in_order = matches!(colouring, Colouring::Striped | Colouring::Alternating);
    Some(Zone {
        name: name?,
        place: place?,
        arrangement: arrangement?,
        colouring,
        mix: if in_order { mix } else { joined_kinds(mix) },
        fillers: fillers?,
        spacing: spacing?,
        gauge: gauge?,
        seed: seed.map_or(Some(None), |s| s.map(Some))?,
        spot: fields.spot.clone(),
    })
}

/// A kind that a mix names twice, once by itself and once in another mix, is one part of it where
/// the order of the parts says nothing.
fn joined_kinds(mix: Vec<MixPart>) -> Vec<MixPart> {
    let mut joined: Vec<MixPart> = vec![];
    for part in mix {
        match joined.iter_mut().find(|p| p.kind == part.kind) {
            Some(same) => same.share += part.share,
            None => joined.push(part),
        }
    }
    joined
}

fn mix(
    fields: &mut Fields<'_, '_>,
    shelf: &Shelf,
    unfolding: &mut Unfolding<'_, '_, '_>,
) -> Option<Vec<MixPart>> {
    let node = fields.need("mix", "`mix = \"sea glass\"`, or a list of kinds with shares")?;
    match node.value {
        DeValue::Array(_) => unfolding.list(&parts(&node, "mix part", shelf)?, &node.spot),
        DeValue::String(_) => unfolding.entry(named(&node, shelf)?),
        _ => node.wrong_type("a name or a list of kinds with shares", "it like \"sea glass\""),
    }
}

fn fillers(node: &Node<'_, '_>, shelf: &Shelf) -> Option<Vec<usize>> {
    let nodes = node.list("filler", "it like [\"dew\"]")?;
    if nodes.len() > 20 {
        return node.wrong("too many fillers", "name at most 20");
    }
    let mut found = vec![];
    let mut complete = true;
    for node in &nodes {
        match kind_named(node, shelf) {
            Some(kind) if found.contains(&kind) => {
                node.wrong::<()>("this filler stands twice", "name it once");
                complete = false;
            }
            Some(kind) => found.push(kind),
            None => complete = false,
        }
    }
    complete.then_some(found)
}

fn arrangement(fields: &mut Fields<'_, '_>) -> Option<Arrangement> {
    let node = fields.need("arrangement", "`arrangement = \"honeycomb\"`")?;
    let Some(way) = node.choice("arrangement", WAYS) else {
        for key in LAYING_KEYS {
            fields.get(key);
        }
        return None;
    };
    let read = match way {
        Way::Honeycomb => rows(fields).map(Arrangement::Honeycomb),
        Way::Square => rows(fields).map(Arrangement::Square),
        Way::Rings => rings(fields),
        Way::Scatter => {
            let ring_holes = flag(fields, "ring_holes", true);
            ring_holes.map(|ring_holes| Arrangement::Scatter { ring_holes })
        }
    };
    if !matches!(way, Way::Honeycomb | Way::Square) {
        for key in ["rows", "along", "open", "steps"] {
            fields.misplaced(key, "this goes only with honeycomb and square rows", "leave it out");
        }
    }
    if way != Way::Rings {
        for key in ["centre", "start", "nested", "around_holes"] {
            fields.misplaced(key, "this goes only with rings", "leave it out");
        }
    }
    if way != Way::Scatter {
        fields.misplaced("ring_holes", "this goes only with a scatter", "leave it out");
    }
    read
}

#[derive(Clone, Copy)]
enum Choice {
    Locked,
    Most,
    Even,
}

fn rows(fields: &mut Fields<'_, '_>) -> Option<Rows> {
    let choices = [("locked", Choice::Locked), ("most", Choice::Most), ("even", Choice::Even)];
    let choice =
        fields.get("rows").map_or(Some(Choice::Locked), |n| n.choice("choice of rows", &choices));
    let Some(choice) = choice else {
        for key in ["along", "open", "steps"] {
            fields.get(key);
        }
        return None;
    };
    if !matches!(choice, Choice::Even) {
        fields.misplaced(
            "open",
            "this goes only with rows that are evened out",
            "write `rows = \"even\"`, or leave it out",
        );
    }
    if !matches!(choice, Choice::Most) {
        fields.misplaced(
            "steps",
            "this goes only with rows turned for the most stones",
            "write `rows = \"most\"`, or leave it out",
        );
    }
    match choice {
        Choice::Locked => along(fields).map(Rows::Locked),
        Choice::Most => {
            fields.misplaced(
                "along",
                "rows turned for the most stones lie along no edge",
                "write `rows = \"locked\"`, or leave it out",
            );
            let steps = fields
                .get("steps")
                .map_or(Some(u64::from(USUAL_STEPS)), |n| n.whole(1..100_001, "it like 600"));
            steps.map(|steps| Rows::Most { steps: steps as u32 })
        }
        Choice::Even => {
            let along = along(fields);
            let open = fields
                .get("open")
                .map_or(Some(USUAL_OPEN), |n| n.length(Limits::GAP, "\"0.3 mm\""));
            Some(Rows::Even { along: along?, open_mm: open? })
        }
    }
}

fn along(fields: &mut Fields<'_, '_>) -> Option<Along> {
    let Some(node) = fields.get("along") else { return Some(Along::Bottom) };
    match node.value {
        DeValue::String(text)
            if text.trim_start().starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c)) =>
        {
            node.angle().map(Along::Angle)
        }
        _ => node.choice("edge or angle", ALONG),
    }
}

fn rings(fields: &mut Fields<'_, '_>) -> Option<Arrangement> {
    let centre = fields.get("centre").map(|n| n.point());
    let start = fields.get("start").map_or(Some(false), |n| {
        n.choice("start of rings", &[("in line", false), ("staggered", true)])
    });
    let nested = flag(fields, "nested", false);
    let around_holes = flag(fields, "around_holes", false);
    Some(Arrangement::Rings {
        centre: centre.map_or(Some(None), |c| c.map(Some))?,
        staggered: start?,
        nested: nested?,
        around_holes: around_holes?,
    })
}

fn flag(fields: &mut Fields<'_, '_>, key: &'static str, usual: bool) -> Option<bool> {
    fields.get(key).map_or(Some(usual), |n| n.flag(&format!("`{key} = true`")))
}

/// Reads `where`.
pub(super) fn zone_place(node: &Node<'_, '_>) -> Option<ZonePlace> {
    let example = "\"rest\", { band = \"6 mm\" }, or a shape with its place";
    match node.value {
        DeValue::String(text) if matches!(text.trim(), "rest" | "all") => Some(ZonePlace::Rest),
        DeValue::String(text) => node.wrong(
            format!("unknown place `{}`", super::walk::shortened(text)),
            format!("write {example}"),
        ),
        DeValue::Table(table) if table.contains_key("band") => {
            let mut fields = node.fields("a band", example)?;
            let width = fields.get("band").and_then(|n| band_width(&n));
            let edge =
                fields.get("of").map_or(Some(BandEdge::Outside), |n| n.choice("edge", EDGES));
            fields.call("a band");
            fields.done();
            Some(ZonePlace::Band(width?, edge?))
        }
        _ => {
            let mut fields = node.fields("the place of a zone", example)?;
            let placed = placed(&mut fields);
            fields.done();
            placed.map(ZonePlace::Outline)
        }
    }
}

fn band_width(node: &Node<'_, '_>) -> Option<BandWidth> {
    if let DeValue::String(text) = node.value {
        let rows = text.trim().strip_suffix("rows").or_else(|| text.trim().strip_suffix("row"));
        if let Some(count) = rows {
            return match count.trim().parse::<u32>() {
                Ok(n @ 1..=1000) => Some(BandWidth::Rows(n)),
                _ => node.wrong(
                    format!("not a number of rows: `{}`", super::walk::shortened(text)),
                    "write it like `\"2 rows\"`, 1 to 1,000",
                ),
            };
        }
    }
    node.length(Limits::SIDE, "\"6 mm\" or \"2 rows\"").map(BandWidth::Mm)
}
