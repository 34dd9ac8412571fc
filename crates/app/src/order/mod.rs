//! From a document to pieces that can be laid.
//!
//! The blank's frame has the lower left corner of its bounding box at the origin, y up, mm. The
//! places a maker writes count to the right and down from the top left corner: those of holes from
//! the box of the outline, all others from the box of the finished blank.
//!
//! | need | item |
//! |---|---|
//! | from bytes to an order | [`open`], [`open_draft`] |
//! | what comes out | [`Order`], [`OrderPiece`], [`ShelfKind`] |
//! | the files a document names | [`Loader`], [`Folder`], [`LoadError`] |
//! | the findings explained | [`PAGES`] |

mod blank;
mod loader;
mod seed;
mod stock;
mod stones;
mod zones;

pub use loader::{Folder, LoadError, Loader, MAX_FILE_BYTES};

use crate::document::terms::{Bench, Terms};
use crate::document::{self, Completeness, Document, Fault, Refused, model};
use geometry::Region;
use lay::finding::Page;
use lay::{Chart, Finding, Kind, MixPart, Place, Severity};
use planning::stretches::ZoneRole;

/// Most stones laid in one piece: more would keep a machine busy for minutes, and a hand for
/// years.
pub const MAX_STONES: f64 = 5_000_000.0;

const MEASURED_FEW: &str = "order.measured-few";
const ZONE_EMPTY: &str = "order.zone-empty";

/// Every finding that building an order can return, beside those of [`outline::PAGES`].
pub const PAGES: &[Page] = &[
    Page {
        code: MEASURED_FEW,
        what: "a kind was measured by fewer than ten stones",
        why: "the spread of a few stones is a poor guess, and the diameter that every stone of \
              the bag must not exceed is taken from it",
        example: "size = { mean = \"3.92 mm\", spread = \"0.04 mm\", count = 4 }",
        remedy: "measure ten stones or more, from all over the bag",
    },
    Page {
        code: ZONE_EMPTY,
        what: "nothing is left of the blank for a zone",
        why: "zones listed earlier keep what they cover, and outlines may lie beside the blank",
        example: "a band of 30 mm on a badge of 40 mm, and a zone that is the rest",
        remedy: "make the zones before it smaller, or move its outline onto the blank",
    },
];

/// An order ready to be laid.
#[derive(Clone, Debug)]
pub struct Order {
    /// Its name.
    pub name: String,
    /// The seed of everything random.
    pub seed: u64,
    /// The shelf, in the document's order.
    pub kinds: Vec<ShelfKind>,
    /// The pieces, in the document's order.
    pub pieces: Vec<OrderPiece>,
    /// What a plan needs beside them; the table of stock that it names is part of its stock.
    pub terms: Terms,
}

/// A kind and how it is sold.
#[derive(Clone, Debug)]
pub struct ShelfKind {
    /// The kind.
    pub kind: Kind,
    /// Stones in a pack.
    pub pack: Option<u32>,
    /// Mass of one stone, g.
    pub weight_g: Option<f64>,
    /// How many stones that mass was weighed from, if it was.
    pub weighed: Option<u32>,
    /// From its back to its top, mm.
    pub height_mm: Option<f64>,
    /// Kinds that may take its place, by index.
    pub stand_ins: Vec<usize>,
}

/// A piece of an order.
#[derive(Clone, Debug)]
pub struct OrderPiece {
    /// What is to be laid. It has only the kinds it uses, and only the zones for which something
    /// of the blank is left: possibly none.
    pub piece: lay::Piece,
    /// How many are made.
    pub quantity: u32,
    /// Whose each copy is, from the first on; at most one for each copy.
    pub names: Vec<String>,
    /// How it is glued, and what it costs beside its stones.
    pub bench: Bench,
    /// What each zone of the piece is to the bench order.
    pub roles: Vec<ZoneRole>,
    /// What is worth knowing before it is laid.
    pub findings: Vec<Finding>,
}

/// Reads a document and builds its order. `name` is how messages call it.
///
/// # Errors
/// Everything that is wrong, of the document and of the files it names.
pub fn open(name: &str, bytes: &[u8], loader: &dyn Loader) -> Result<Order, Refused> {
    open_as(Completeness::Whole, name, bytes, loader)
}

/// As [`open`], for a draft: it may lack kinds and pieces. An order without pieces is laid, with
/// nothing in it.
///
/// # Errors
/// Everything else that is wrong, of the document and of the files it names.
pub fn open_draft(name: &str, bytes: &[u8], loader: &dyn Loader) -> Result<Order, Refused> {
    open_as(Completeness::Draft, name, bytes, loader)
}

fn open_as(
    completeness: Completeness,
    name: &str,
    bytes: &[u8],
    loader: &dyn Loader,
) -> Result<Order, Refused> {
    let parsed = document::parse(name, bytes, completeness)?;
    let mut faults = parsed.faults;
    match parsed.document {
        Some(document) if faults.is_empty() => {
            build(&document, loader).map_err(|faults| Refused::new(name, parsed.source, faults))
        }
        _ => {
            // The blanks that are sound are looked at too: their mistakes belong to the same list.
            for blank in &parsed.blanks {
                faults.extend(blank::blank_region(blank, loader).err().unwrap_or_default());
            }
            Err(Refused::new(name, parsed.source, faults))
        }
    }
}

/// Builds the order of a document.
///
/// # Errors
/// Files that give no outline, holes outside their blank, pieces too large for their stones.
pub fn build(document: &Document, loader: &dyn Loader) -> Result<Order, Vec<Fault>> {
    let kinds: Vec<ShelfKind> = document.kinds.iter().map(stones::shelf_kind).collect();
    let mut faults = vec![];
    let mut pieces = vec![];
    for (index, piece) in document.pieces.iter().enumerate() {
        match build_piece(document, &kinds, index, piece, loader) {
            Ok(piece) => pieces.push(piece),
            Err(found) => faults.extend(found),
        }
    }
    let mut terms = document.terms.clone();
    match stock::of_table(&document.terms, &kinds, loader) {
        Ok(stock) => terms.stock = stock,
        Err(found) => faults.extend(found),
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    Ok(Order { name: document.order.clone(), seed: document.seed, kinds, pieces, terms })
}

fn build_piece(
    document: &Document,
    shelf: &[ShelfKind],
    index: usize,
    piece: &model::Piece,
    loader: &dyn Loader,
) -> Result<OrderPiece, Vec<Fault>> {
    let used = used_kinds(piece, shelf.len());
    let own_index = |kind: usize| used.iter().position(|&k| k == kind);
    let all: Vec<Kind> = shelf.iter().map(|k| k.kind.clone()).collect();
    let (blank, mut findings) = blank::blank_region(&piece.blank, loader)?;
    let (regions, found) = zones::zone_regions(&piece.zones, &blank, piece.margin, &all, loader)?;
    findings.extend(found);
    findings.extend(used.iter().filter_map(|&k| stones::findings(&document.kinds[k])));
    let height_mm = blank.bounds().height();
    let (mut laid, mut roles) = (vec![], vec![]);
    for (zone_index, (zone, region)) in piece.zones.iter().zip(regions).enumerate() {
        let Some(region) = region else {
            findings.push(empty_zone(zone));
            continue;
        };
        let seed = zone.seed.unwrap_or_else(|| seed::zone_seed(document.seed, index, zone_index));
        roles.push(zones::role(&zone.place));
        laid.push(lay::Zone {
            name: zone.name.clone(),
            region,
            arrangement: zones::arrangement(zone.arrangement, height_mm),
            colouring: zone.colouring,
            mix: zone
                .mix
                .iter()
                .filter_map(|p| Some(MixPart { kind: own_index(p.kind)?, ..*p }))
                .collect(),
            fillers: zone.fillers.iter().filter_map(|&k| own_index(k)).collect(),
            spacing_mm: zone.spacing,
            margin_mm: piece.margin,
            gauge: zone.gauge,
            seed,
        });
    }
    let kinds: Vec<Kind> = used.iter().map(|&k| all[k].clone()).collect();
    too_many_stones(piece, &laid, &kinds)?;
    let piece_to_lay = lay::Piece {
        name: piece.name.clone(),
        chart: Chart::Plane,
        blank,
        blank_colour: piece.blank.colour,
        kinds,
        zones: laid,
        changes: piece.changes.iter().filter_map(|c| change(c, height_mm, &own_index)).collect(),
    };
    Ok(OrderPiece {
        piece: piece_to_lay,
        quantity: piece.quantity,
        names: piece.names.clone(),
        bench: piece.bench.clone(),
        roles,
        findings,
    })
}

/// A change by hand in the blank's frame, with the piece's own index of its kind.
fn change(
    change: &model::Change,
    height_mm: f64,
    own_index: &dyn Fn(usize) -> Option<usize>,
) -> Option<lay::Change> {
    let place = |at| Place::on_plane(blank::in_frame(at, height_mm));
    Some(match *change {
        model::Change::Set { at, kind, turn_deg } => lay::Change::Set {
            place: Place { turn_deg: lay::rounded(turn_deg), ..place(at) },
            kind: own_index(kind)?,
        },
        model::Change::Clear { at } => lay::Change::Clear { at: place(at) },
        model::Change::Recolour { at, kind } => {
            lay::Change::Recolour { at: place(at), kind: own_index(kind)? }
        }
    })
}

/// The kinds that a piece uses, by index, in the shelf's order.
fn used_kinds(piece: &model::Piece, n_kinds: usize) -> Vec<usize> {
    let uses = |kind: &usize| {
        piece
            .zones
            .iter()
            .any(|z| z.mix.iter().any(|p| p.kind == *kind) || z.fillers.contains(kind))
            || piece.changes.iter().any(|c| c.kind() == Some(*kind))
    };
    (0..n_kinds).filter(uses).collect()
}

fn empty_zone(zone: &model::Zone) -> Finding {
    Finding {
        code: ZONE_EMPTY,
        severity: Severity::Serious,
        zone: Some(zone.name.clone()),
        place: None,
        measured: Some("0 mm²".to_owned()),
        wanted: None,
        text: "nothing of the blank is left for this zone".to_owned(),
        hint: "make the zones before it smaller, or move its outline onto the blank".to_owned(),
    }
}

/// Refuses a piece for which a honeycomb of its smallest stones would have more than
/// [`MAX_STONES`].
fn too_many_stones(
    piece: &model::Piece,
    zones: &[lay::Zone],
    kinds: &[Kind],
) -> Result<(), Vec<Fault>> {
    let most = |zone: &lay::Zone| {
        let indices = zone.mix.iter().map(|p| p.kind).chain(zone.fillers.iter().copied());
        let smallest = indices
            .filter_map(|k| kinds.get(k))
            .map(|k| lay::pitch_mm(k, zone.gauge) + zone.spacing_mm)
            .fold(f64::INFINITY, f64::min);
        honeycomb_count(&zone.region, smallest)
    };
    let total: f64 = zones.iter().map(most).sum();
    if total <= MAX_STONES {
        return Ok(());
    }
    let spot = &piece.blank.outline.spot;
    let text = format!("about {} million stones would go onto this blank", (total / 1e6).round());
    let hint = format!(
        "at most {} million are laid on one piece: check the size of the blank and of the stones",
        MAX_STONES / 1e6
    );
    Err(vec![Fault::new(&spot.place, spot.span.clone(), text).with_hint(hint)])
}

/// Area by the cell of a honeycomb.
fn honeycomb_count(region: &Region, pitch_mm: f64) -> f64 {
    region.area() / (pitch_mm * pitch_mm * 3f64.sqrt() / 2.0)
}
