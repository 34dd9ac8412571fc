//! `[[piece]]`: a blank, how often it is made, and its zones.

use super::changes::changes;
use super::mixes::{Shelf, Unfolding};
use super::model::{Blank, Piece, Placed, Zone, ZonePlace};
use super::shapes::{outline, placed};
use super::terms::{Known, bench};
use super::value::Limits;
use super::walk::{Fields, Node, joined, shortened};
use super::zones::{LAYING_KEYS, zone, zone_place};
use lay::Colour;
use std::collections::BTreeMap;
use std::ops::Range;

/// Colour of a blank that names none: off-white.
const OFF_WHITE: Colour = Colour(0xf4, 0xf1, 0xea);
/// Most copies of a piece, and of all pieces together: more than anybody glues.
pub(super) const MAX_QUANTITY: u64 = 20_000;
const MAX_HOLES: usize = 1000;
const MAX_ZONES: usize = 100;

/// What could be read of a piece: its blank may be sound though its zones are not.
pub(super) struct PieceRead {
    pub(super) name: Option<String>,
    pub(super) blank: Option<Blank>,
    pub(super) piece: Option<Piece>,
}

/// Names that are taken, and where they were given.
pub(super) type Names = BTreeMap<String, Range<usize>>;

/// Reads `name`, takes it down as taken, and shows it in the place of everything inside.
pub(super) fn own_name(
    fields: &mut Fields<'_, '_>,
    what: &str,
    taken: &mut Names,
) -> Option<String> {
    let node = fields.need("name", "`name = \"…\"`")?;
    let name = node.name()?;
    fields.rename_place(format!("{} \"{}\"", fields.spot.place, shortened(&name)));
    if let Some(first) = taken.get(&name) {
        let text = format!("there are two {what} called `{}`", shortened(&name));
        let place = joined(&fields.spot.place, "name");
        let fault = super::fault::Fault::new(place, node.spot.span.clone(), text);
        let fault =
            fault.with_hint("give each a name of its own").with_other(first.clone(), "the first");
        fields.walk.report(fault);
        return None;
    }
    taken.insert(name.clone(), node.spot.span);
    Some(name)
}

/// Reads one piece.
pub(super) fn piece(
    node: &Node<'_, '_>,
    shelf: &Shelf,
    known: Known<'_>,
    unfolding: &mut Unfolding<'_, '_, '_>,
    taken: &mut Names,
) -> PieceRead {
    let Some(mut fields) = node.fields("a piece", "`[[piece]]` with its keys below") else {
        return PieceRead { name: None, blank: None, piece: None };
    };
    let name = own_name(&mut fields, "pieces", taken);
    let copies = copies(&mut fields);
    let margin = fields.get("margin").map_or(Some(0.0), |n| n.length(Limits::GAP, "\"0.5 mm\""));
    let blank = blank(&mut fields);
    let bench = bench(&mut fields, known);
    let changes = fields.get("by_hand").map_or(Some(vec![]), |n| changes(&n, shelf));
    let zones = match fields.get("zone") {
        Some(node) => {
            for key in LAYING_KEYS {
                fields.misplaced(
                    key,
                    "a piece with zones has this in each zone",
                    "move it below `[[piece.zone]]`",
                );
            }
            zones(&node, &fields, shelf, unfolding)
        }
        None => {
            fields.misplaced(
                "where",
                "a piece without zones is covered whole",
                "leave it out, or add `[[piece.zone]]` above it",
            );
            let all = Some("all".to_owned());
            zone(&mut fields, shelf, unfolding, all, Some(ZonePlace::Rest)).map(|z| vec![z])
        }
    };
    fields.done();
    let all = || {
        Some(Piece {
            name: name.clone()?,
            quantity: copies.as_ref()?.0,
            names: copies.clone()?.1,
            blank: blank.clone()?,
            margin: margin?,
            zones: zones?,
            changes: changes?,
            bench: bench?,
        })
    };
    let piece = all();
    PieceRead { name, blank, piece }
}

/// How many are made, and whose they are. Names alone say how many, too.
fn copies(fields: &mut Fields<'_, '_>) -> Option<(u32, Vec<String>)> {
    let quantity = fields.get("quantity").map(|n| n.whole(1..MAX_QUANTITY + 1, "it like 18"));
    let Some(node) = fields.get("names") else {
        return Some((quantity.unwrap_or(Some(1))? as u32, vec![]));
    };
    let nodes = node.list("name", "it like [\"Ana\", \"Bo\"], one for each copy")?;
    // Each is read before any decides, so that the faults of all are found.
    let names: Vec<Option<String>> = nodes.iter().map(Node::name).collect();
    let names: Vec<String> = names.into_iter().collect::<Option<_>>()?;
    let most = match quantity {
        Some(quantity) => quantity? as usize,
        None => MAX_QUANTITY as usize,
    };
    if names.len() > most {
        let text = format!("{} names for {most} copies", names.len());
        return node.wrong(text, "raise `quantity`, or take the names out that are too many");
    }
    let quantity = quantity.map_or(names.len().max(1), |_| most);
    Some((quantity as u32, names))
}

fn blank(fields: &mut Fields<'_, '_>) -> Option<Blank> {
    let example = "`blank = { shape = \"circle\", diameter = \"60 mm\" }`";
    let mut colour = Some(OFF_WHITE);
    let outline = fields.need("blank", example).and_then(|node| {
        let mut inner = node.fields("a blank", &format!("it like {example}"))?;
        let outline = outline(&mut inner);
        colour = inner.get("colour").map_or(Some(OFF_WHITE), |n| n.colour());
        inner.done();
        outline
    });
    let holes = fields.get("holes").map_or(Some(vec![]), |n| holes(&n));
    Some(Blank { outline: outline?, holes: holes?, colour: colour? })
}

fn holes(node: &Node<'_, '_>) -> Option<Vec<Placed>> {
    let example =
        "it like [{ shape = \"circle\", diameter = \"4 mm\", at = [\"30 mm\", \"5 mm\"] }]";
    let nodes = node.list("hole", example)?;
    if nodes.len() > MAX_HOLES {
        return node.wrong(
            format!("{} holes are too many", nodes.len()),
            format!("a blank has at most {MAX_HOLES}"),
        );
    }
    let read = nodes.iter().map(|n| {
        let mut fields = n.fields("a hole", example)?;
        let hole = placed(&mut fields);
        fields.done();
        hole
    });
    // Each is read before any decides, so that the faults of all are found.
    let read: Vec<Option<Placed>> = read.collect();
    read.into_iter().collect()
}

fn zones(
    node: &Node<'_, '_>,
    piece: &Fields<'_, '_>,
    shelf: &Shelf,
    unfolding: &mut Unfolding<'_, '_, '_>,
) -> Option<Vec<Zone>> {
    let mut nodes = node.list("zone", "`[[piece.zone]]` in double brackets")?;
    if !(1..=MAX_ZONES).contains(&nodes.len()) {
        return node.wrong(
            format!("a piece cannot have {} zones", nodes.len()),
            format!("it has 1 to {MAX_ZONES}"),
        );
    }
    // The place of the piece has its name by now; that of the list was made before.
    for (i, n) in nodes.iter_mut().enumerate() {
        n.spot.place = joined(&piece.spot.place, &format!("zone {}", i + 1));
    }
    let mut taken = Names::new();
    let alone = nodes.len() == 1;
    let mut rest: Option<Range<usize>> = None;
    let mut read = vec![];
    for node in &nodes {
        let Some(mut fields) = node.fields("a zone", "`[[piece.zone]]` with its keys below") else {
            read.push(None);
            continue;
        };
        let name = own_name(&mut fields, "zones", &mut taken);
        let place = if alone && !fields.has("where") {
            fields.get("where");
            Some(ZonePlace::Rest)
        } else {
            let node = fields
                .need("where", "`where = \"rest\"`, `where = { band = \"6 mm\" }`, or a shape");
            let place = node.clone().and_then(|n| zone_place(&n));
            match (node, &place) {
                (Some(node), Some(ZonePlace::Rest)) => only_rest(&node, place, &mut rest),
                _ => place,
            }
        };
        read.push(zone(&mut fields, shelf, unfolding, name, place));
        fields.misplaced(
            "by_hand",
            "what is changed by hand belongs to the piece",
            "move it above the first `[[piece.zone]]`",
        );
        fields.done();
    }
    read.into_iter().collect()
}

fn only_rest(
    node: &Node<'_, '_>,
    place: Option<ZonePlace>,
    rest: &mut Option<Range<usize>>,
) -> Option<ZonePlace> {
    if let Some(first) = rest {
        let fault = super::fault::Fault::new(
            &node.spot.place,
            node.spot.span.clone(),
            "two zones cannot both be what the others leave over",
        );
        let fault = fault.with_hint("give one of them a band or an outline");
        node.walk.report(fault.with_other(first.clone(), "the first"));
        return None;
    }
    *rest = Some(node.spot.span.clone());
    place
}
