//! `[[kit]]` and `[[bag]]`: pieces and mixes that are sold for others to set.

use super::value::maybe;
use crate::document::mixes::{Shelf, Unfolding, named};
use crate::document::model::{Kind, Size};
use crate::document::pieces::{Names, own_name};
use crate::document::walk::{Fields, Node, shortened};
use lay::MixPart;
use planning::weighing::usual_weight_g;
use rust_decimal::Decimal;
use units::trimmed;

/// A piece sold as a kit, or taught to a class.
#[derive(Clone, Debug, PartialEq)]
pub struct Kit {
    /// Its name, unique among kits.
    pub name: String,
    /// Name of the piece.
    pub piece: String,
    /// How many kits are packed: learners of a class, or kits for sale.
    pub copies: u32,
    /// Loss of those who will set it, 0..1; beginners lose more.
    pub loss: Option<f64>,
    /// An empty bag, g.
    pub tare_g: Option<f64>,
}

/// A mix sold by the bag.
#[derive(Clone, Debug, PartialEq)]
pub struct Bag {
    /// Its name, unique among bags.
    pub name: String,
    /// The recipe by count: kinds by their index in the document, shares adding up to 1.
    pub recipe: Vec<MixPart>,
    /// The mix or kind it holds, as written.
    pub mix: String,
    /// How much is in it.
    pub content: Content,
    /// An empty bag, g.
    pub tare_g: Option<f64>,
    /// What an empty bag costs.
    pub cost: Decimal,
    /// Mixing and filling one, minutes.
    pub time_min: f64,
}

/// How much is in a bag.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Content {
    /// By mass, g.
    Grams(f64),
    /// By count.
    Stones(u64),
}

/// Reads one `[[kit]]`. `pieces` are the names of the document's pieces, as far as they could be
/// read.
pub(super) fn kit(
    node: &Node<'_, '_>,
    pieces: &[Option<String>],
    taken: &mut Names,
) -> Option<Kit> {
    let mut f = node.fields("a kit", "`[[kit]]` with its keys below")?;
    let name = own_name(&mut f, "kits", taken);
    let piece = f.need("piece", "`piece = \"…\"`: the piece that is set from it");
    let piece = piece.and_then(|n| super::piece_named(&n, pieces));
    let copies = maybe(f.get("copies"), |n| n.whole(1..1001, "it like 12"));
    let loss = maybe(f.get("loss"), |n| n.part(0.8));
    let tare = maybe(f.get("tare"), Node::tare);
    f.done();
    Some(Kit {
        name: name?,
        piece: piece?,
        copies: copies?.unwrap_or(1) as u32,
        loss: loss?,
        tare_g: tare?,
    })
}

/// Reads one `[[bag]]`.
pub(super) fn bag(
    node: &Node<'_, '_>,
    shelf: &Shelf,
    unfolding: &mut Unfolding<'_, '_, '_>,
    taken: &mut Names,
) -> Option<Bag> {
    let mut f = node.fields("a bag", "`[[bag]]` with its keys below")?;
    let name = own_name(&mut f, "bags", taken);
    let mix_node = f.need("mix", "`mix = \"…\"`: what is in it");
    let mix = mix_node.as_ref().and_then(|n| n.name());
    let recipe = mix_node.and_then(|n| {
        let recipe = unfolding.entry(named(&n, shelf)?)?;
        weighable(&n, &recipe, shelf)?;
        Some(recipe)
    });
    let weight_node = f.get("weight");
    let content = content(&mut f);
    let tare = maybe(f.get("tare"), Node::tare);
    let cost = maybe(f.get("cost"), Node::money);
    let time = maybe(f.get("time"), |n| n.span(0.0, 600.0, "\"2 min\""));
    f.done();
    let recipe = recipe?;
    if let (Some(node), Some(Content::Grams(g))) = (&weight_node, content) {
        heavy_enough(node, g, &recipe, shelf)?;
    }
    Some(Bag {
        name: name?,
        recipe,
        mix: mix?,
        content: content?,
        tare_g: tare?,
        cost: cost?.unwrap_or_default(),
        time_min: time?.unwrap_or(0.0),
    })
}

/// Refuses kinds so large that nothing usual can be said of their weight.
fn weighable(node: &Node<'_, '_>, recipe: &[MixPart], shelf: &Shelf) -> Option<()> {
    const MOST_MM: f64 = 50.0;
    let large = |k: &&Kind| k.weight_g.is_none() && largest_mm(k.size) > MOST_MM;
    let mut kinds = recipe.iter().filter_map(|p| shelf.kinds.get(p.kind)?.as_ref());
    let Some(kind) = kinds.find(large) else { return Some(()) };
    node.wrong(
        format!("nobody knows what one `{}` weighs", shortened(&kind.name)),
        "add its `weight` to the `[[kind]]`, like \"0.14 g\"",
    )
}

/// Refuses a bag that cannot hold one stone of each kind.
fn heavy_enough(node: &Node<'_, '_>, g: f64, recipe: &[MixPart], shelf: &Shelf) -> Option<()> {
    let mut kinds = recipe.iter().filter_map(|p| shelf.kinds.get(p.kind)?.as_ref());
    let weight_g = |k: &Kind| k.weight_g.unwrap_or_else(|| usual_weight_g(largest_mm(k.size)));
    let Some(kind) = kinds.find(|k| weight_g(k) > g) else { return Some(()) };
    let (name, one_g) = (shortened(&kind.name), trimmed(weight_g(kind), 3));
    node.wrong(
        format!("lighter than one stone of `{name}`, {one_g} g"),
        "put more in, or say how many `stones` it holds",
    )
}

/// The largest stone of a size, mm.
fn largest_mm(size: Size) -> f64 {
    match size {
        Size::Ss(n) => lay::sizes::round(n).map_or(0.0, |range| range.1),
        Size::Mm { diameter, tolerance } => diameter + tolerance,
        Size::Measured { mean, spread, .. } => mean + 3.0 * spread,
    }
}

fn content(f: &mut Fields<'_, '_>) -> Option<Content> {
    if f.has("stones") {
        f.misplaced("weight", "a bag has one measure", "give its weight or its stones");
        let stones = f.need("stones", "")?;
        return stones.whole(1..1_000_001, "it like 500").map(Content::Stones);
    }
    let weight = f.need("weight", "`weight = \"20 g\"`, or `stones = 500`")?;
    let grams = weight.mass()?;
    if grams > 1e5 {
        return weight.wrong("out of range: heavier than 100 kg", "write what one bag holds");
    }
    Some(Content::Grams(grams))
}
