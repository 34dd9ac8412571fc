//! `[[adhesive]]`, and the keys of a piece that say how it is glued and what it costs beside its
//! stones.

use super::value::maybe;
use crate::document::pieces::{Names, own_name};
use crate::document::walk::{Fields, Node, nearest, shortened};
use planning::adhesive::{Adhesive, AdhesiveSort, Container, Label, RatioBy};
use planning::glue::Base;
use planning::price::Currency;
use rust_decimal::Decimal;

/// How a piece is glued, and what it costs beside its stones. What is `None` was not said.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bench {
    /// The adhesive, an index into the document's.
    pub adhesive: Option<usize>,
    /// How it is put on.
    pub apply: Option<Way>,
    /// What the blank is made of.
    pub base: Option<Base>,
    /// Whether the blank is under stress: bent, drilled, cut by laser.
    pub stressed: bool,
    /// Whether the finished thing bends in use.
    pub flexible: bool,
    /// Whether stones are set by hand from a heap, without a placing sheet.
    pub by_hand: bool,
    /// Scuffing, washing and drying one copy by hand, minutes.
    pub prepare_min: Option<f64>,
    /// Until a prepared blank is dry, minutes.
    pub dry_min: Option<f64>,
    /// Wrapping one copy, minutes.
    pub pack_min: Option<f64>,
    /// Sides or coats that cure one after the other.
    pub sides: Option<u32>,
    /// What a blank costs.
    pub blank_price: Option<Decimal>,
    /// What the maker asks for one copy before tax.
    pub asked: Option<Decimal>,
}

/// How an adhesive is put on; a measure that was not said is `None`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Way {
    /// A dot under each stone.
    Dot,
    /// A bead along each row, and its width, mm.
    Bead(Option<f64>),
    /// A film over the zones, and its thickness, mm.
    Film(Option<f64>),
    /// A sheet over the zones.
    Sheet,
}

const SORTS: &[(&str, AdhesiveSort)] = &[
    ("solvent gel", AdhesiveSort::SolventGel),
    ("5-minute epoxy", AdhesiveSort::FiveMinuteEpoxy),
    ("coating epoxy", AdhesiveSort::CoatingEpoxy),
    ("slow resin", AdhesiveSort::SlowResin),
    ("light-cured", AdhesiveSort::LightCured),
    ("water-based", AdhesiveSort::WaterBased),
    ("adhesive sheet", AdhesiveSort::AdhesiveSheet),
];

const MEASURES: &[(&str, RatioBy)] = &[("volume", RatioBy::Volume), ("weight", RatioBy::Weight)];

const BASES: &[(&str, Base)] = &[
    ("acrylic", Base::Acrylic),
    ("polycarbonate", Base::Polycarbonate),
    ("wood", Base::Wood),
    ("metal", Base::Metal),
    ("glass", Base::Glass),
    ("leather", Base::Leather),
    ("fabric", Base::Fabric),
    ("card", Base::Card),
    ("resin", Base::Resin),
    ("protective helmet", Base::ProtectiveHelmet),
];

/// Longest time a label may state: a season.
const LONGEST_MIN: f64 = 90.0 * 24.0 * 60.0;
/// Reads one `[[adhesive]]`.
pub(super) fn adhesive(node: &Node<'_, '_>, taken: &mut Names) -> Option<Adhesive> {
    let mut f = node.fields("an adhesive", "`[[adhesive]]` with its keys below")?;
    let name = own_name(&mut f, "adhesives", taken);
    let sort = f.need("sort", "`sort = \"solvent gel\"`");
    let sort = sort.and_then(|n| n.choice("sort of adhesive", SORTS));
    let mut time = |key, example| maybe(f.get(key), |n| n.span(0.1, LONGEST_MIN, example));
    let (open, pot) = (time("open", "\"8 min\""), time("pot", "\"30 min\""));
    let recoat = time("recoat", "\"4 h\"");
    let handle = time("handle", "\"12 h\"");
    let cure_node = f.get("cure");
    let cure = maybe(cure_node.clone(), |n| n.span(0.1, LONGEST_MIN, "\"3 days\""));
    let ratio = maybe(f.get("ratio"), Node::ratio);
    let by = maybe(f.get("by"), |n| n.choice("measure", MEASURES));
    let density = maybe(f.get("density"), Node::density);
    let density_a = maybe(f.get("density_a"), Node::density);
    let density_b = maybe(f.get("density_b"), Node::density);
    let waste = maybe(f.get("waste"), |n| n.part(1.0));
    let container_node = f.get("container");
    let container = maybe(container_node.clone(), container);
    let price_node = f.get("price");
    let price = maybe(price_node.clone(), Node::money);
    let pigment = maybe(f.get("pigment_limit"), |n| n.part(0.5));
    let node = &Node { spot: f.spot.clone(), ..node.clone() };
    f.done();
    if let (Some(node), Some(sort), Some(Some(container))) = (&container_node, sort, container) {
        holds(node, sort, container)?;
    }
    if let (Some(node), None) = (&price_node, &container_node) {
        let hint = "add what the price buys, like `container = \"27 ml\"`";
        return node.wrong("a price, but nobody says of how much", hint);
    }
    if let (Some(node), Some(Some(handle)), Some(Some(cure))) = (&cure_node, handle, cure)
        && handle > cure
    {
        let text = "it is cured before it can be handled";
        return node.wrong(text, "`handle` is the shorter time, `cure` the longer one");
    }
    let adhesive = Adhesive {
        name: name?,
        sort: sort?,
        label: Label {
            open_min: open?,
            pot_min: pot?,
            handle_min: handle?,
            cure_min: cure?,
            recoat_min: recoat?,
            ratio: ratio?,
            ratio_by: by?,
            density_g_per_ml: density?,
            density_a_g_per_ml: density_a?,
            density_b_g_per_ml: density_b?,
            waste: waste?,
            container: container?,
            price: price?,
            pigment_limit: pigment?,
        },
    };
    match adhesive.facts() {
        Err(e) => {
            let text = format!("{} does not go with the rest: {}", e.what, e.value);
            return node.wrong(text, format!("it must be {}", e.limit));
        }
        Ok(facts) if facts.two_part.is_some() && facts.pot_min.is_none() => {
            let text = "nobody says how long the mix can be used";
            return node.wrong(text, "add what the label says of 100 g, like `pot = \"30 min\"`");
        }
        Ok(_) => {}
    }
    Some(adhesive)
}

/// Refuses a sheet in a bottle and a gel by the sheet.
fn holds(node: &Node<'_, '_>, sort: AdhesiveSort, container: Container) -> Option<()> {
    match (sort == AdhesiveSort::AdhesiveSheet, matches!(container, Container::Cm2(_))) {
        (true, false) => {
            node.wrong("an adhesive sheet is measured by its sides", "write it like \"20 x 30 cm\"")
        }
        (false, true) => {
            node.wrong("this sort comes in no sheet", "write it like \"27 ml\" or \"30 g\"")
        }
        _ => Some(()),
    }
}

/// `"27 ml"`, `"30 g"`, or a sheet's `"20 x 30 cm"`.
fn container(node: &Node<'_, '_>) -> Option<Container> {
    let text = node.text("what a container holds, in quotes", "it like \"27 ml\" or \"30 g\"")?;
    if text.contains(['x', '×']) {
        let size: units::SizePair = node.quantity("a size", "\"20 x 30 cm\"")?;
        let cm2 = size.width.mm() * size.height.mm() / 100.0;
        if !(0.01..=1e6).contains(&cm2) {
            return node.wrong("out of range", "a sheet has 0.01 cm² to 100 m²");
        }
        return Some(Container::Cm2(cm2));
    }
    if text.parse::<units::Mass>().is_ok() {
        return node.mass().map(Container::G);
    }
    node.volume().map(Container::Ml)
}

/// What a piece may name, and the currency of its price.
#[derive(Clone, Copy)]
pub(in crate::document) struct Known<'d> {
    /// The adhesives; `None` if some are faulty: then a name that is not found is no second fault.
    pub(in crate::document) adhesives: Option<&'d [Adhesive]>,
    /// The order's currency, if it has one.
    pub(in crate::document) currency: Option<Currency>,
}

/// Reads the keys of a piece that belong to the bench.
pub(in crate::document) fn bench(f: &mut Fields<'_, '_>, known: Known<'_>) -> Option<Bench> {
    let adhesive = maybe(f.get("adhesive"), |n| named(n, known.adhesives));
    let apply = apply(f);
    if let (Some(adhesive), Some(Some(way))) = (adhesive, apply) {
        fits(f, adhesive.and_then(|i| known.adhesives?.get(i)), way);
    }
    let base = maybe(f.get("base"), |n| n.choice("base", BASES));
    let mut flag = |key| f.get(key).map_or(Some(false), |n| n.flag("`true` or `false`"));
    let (stressed, flexible) = (flag("stressed"), flag("flexible"));
    let by_hand = maybe(f.get("placing"), |n| {
        n.choice("way of placing", &[("sheet", false), ("hand", true)])
    });
    let prepare = maybe(f.get("prepare"), |n| n.span(0.0, 1440.0, "\"4 min\""));
    let dry = maybe(f.get("dry"), |n| n.span(0.0, LONGEST_MIN, "\"1 h\""));
    let pack = maybe(f.get("pack"), |n| n.span(0.0, 1440.0, "\"3 min\""));
    let sides = maybe(f.get("sides"), |n| n.whole(1..21, "it like 2"));
    let blank_price = maybe(f.get("blank_price"), Node::money);
    let asked = maybe(f.get("price"), |n| n.payable(known.currency));
    Some(Bench {
        adhesive: adhesive?,
        apply: apply?,
        base: base?,
        stressed: stressed?,
        flexible: flexible?,
        by_hand: by_hand?.unwrap_or(false),
        prepare_min: prepare?,
        dry_min: dry?,
        pack_min: pack?,
        sides: sides?.map(|n| n as u32),
        blank_price: blank_price?,
        asked: asked?,
    })
}

/// `apply = "dot"`, `"bead"` with its width under `bead`, `"film"` with its thickness under
/// `film`, or `"sheet"`.
#[expect(clippy::option_option, reason = "missing and wrong are two things")]
fn apply(f: &mut Fields<'_, '_>) -> Option<Option<Way>> {
    #[derive(Clone, Copy, PartialEq)]
    enum Word {
        Dot,
        Bead,
        Film,
        Sheet,
    }
    const WORDS: &[(&str, Word)] =
        &[("dot", Word::Dot), ("bead", Word::Bead), ("film", Word::Film), ("sheet", Word::Sheet)];
    let word = maybe(f.get("apply"), |n| n.choice("way to put it on", WORDS));
    let bead = maybe(f.get("bead"), |n| n.thickness("\"1.2 mm\""));
    let film = maybe(f.get("film"), |n| n.thickness("\"0.5 mm\""));
    let (word, bead, film) = (word?, bead?, film?);
    let misplaced = |key: &str| {
        f.wrong(
            format!("`{key}` goes only with `apply = \"{key}\"`"),
            "leave it out, or put the adhesive on in that way",
        );
    };
    if bead.is_some() && film.is_some() {
        f.wrong("a bead and a film at once", "keep one of them");
        return None;
    }
    if bead.is_some() && word.is_some_and(|w| w != Word::Bead) {
        misplaced("bead");
        return None;
    }
    if film.is_some() && word.is_some_and(|w| w != Word::Film) {
        misplaced("film");
        return None;
    }
    let word = word.or(bead.map(|_| Word::Bead)).or(film.map(|_| Word::Film));
    Some(word.map(|w| match w {
        Word::Dot => Way::Dot,
        Word::Bead => Way::Bead(bead),
        Word::Film => Way::Film(film),
        Word::Sheet => Way::Sheet,
    }))
}

/// Refuses a sheet that is to be put on as a liquid, and a liquid as a sheet.
fn fits(f: &Fields<'_, '_>, adhesive: Option<&Adhesive>, way: Way) {
    let sort = adhesive.map_or(AdhesiveSort::SolventGel, |a| a.sort);
    let name = adhesive.map_or("the usual solvent gel".to_owned(), |a| {
        format!("`{}` ({})", shortened(&a.name), sort.name())
    });
    match (sort == AdhesiveSort::AdhesiveSheet, way) {
        (true, Way::Sheet) => {}
        (true, _) => f.wrong(
            format!("{name} is cut to shape, it makes no dots, beads or films"),
            "write `apply = \"sheet\"` or leave it out, or name another adhesive",
        ),
        (false, Way::Sheet) => f.wrong(
            format!("{name} is no sheet"),
            "leave `apply` out, or name an adhesive of the sort `adhesive sheet`",
        ),
        _ => {}
    }
}

fn named(node: &Node<'_, '_>, adhesives: Option<&[Adhesive]>) -> Option<usize> {
    let name = node.text("a name in quotes", "the name of an adhesive")?.trim();
    let adhesives = adhesives?;
    let found = adhesives.iter().position(|a| a.name == name);
    found.or_else(|| {
        let known: Vec<&str> = adhesives.iter().map(|a| a.name.as_str()).collect();
        let hint = match nearest(name, &known) {
            Some(near) => format!("did you mean `{near}`?"),
            None if known.is_empty() => "add an `[[adhesive]]` of this name".to_owned(),
            None => format!("there are: {}", known.join(", ")),
        };
        node.wrong(format!("there is no adhesive called `{}`", shortened(name)), hint)
    })
}
