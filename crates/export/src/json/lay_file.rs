//! The format itself, as types. Their documentation is what the schema says of each field.

use super::Region;
use lay::{Finish, Severity, Shape};
use schemars::JsonSchema;
use serde::Serialize;

/// The lay of every piece of an order. Lengths are millimetres, areas mm². Coordinates are in each
/// piece's own frame: x (or u) to the right, y (or v) up.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(title = "A stonelay lay, version 1", deny_unknown_fields)]
pub struct LayFile {
    /// What kind of file this is.
    #[schemars(extend("const" = super::FORMAT))]
    pub format: &'static str,
    /// Version of the format.
    #[schemars(extend("const" = super::VERSION))]
    pub version: u32,
    /// The program that computed the lay, and its version.
    pub engine: String,
    /// Name of the order.
    pub order: String,
    /// Its pieces, in the order of the document.
    pub pieces: Vec<Piece>,
}

/// One laid piece.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields, transform = require_hash)]
pub struct Piece {
    /// Its name.
    pub name: String,
    /// How many are to be made.
    pub quantity: u32,
    /// SHA-256, in hexadecimal, of the canonical JSON (RFC 8785) of this object without `hash`,
    /// `quantity`, `findings` and its zones' `note`.
    #[serde(skip_serializing_if = "String::is_empty")]
    #[schemars(regex(pattern = r"^[0-9a-f]{64}$"))]
    pub hash: String,
    /// The surface its coordinates are on.
    pub chart: Chart,
    /// The bare thing.
    pub blank: Blank,
    /// The kinds of stone; others refer to them by index, from 0.
    pub kinds: Vec<Kind>,
    /// Its zones; stones refer to them by index, from 0.
    pub zones: Vec<Zone>,
    /// Sum of π/4 · drawn² over all stones, divided by the area of the blank.
    pub coverage: f64,
    /// The largest bare spots of the whole blank, across the borders of zones, largest first.
    pub bare_spots: Vec<BareSpot>,
    /// Every stone, in the order of setting.
    pub stones: Vec<Stone>,
    /// What is worth knowing about the lay.
    pub findings: Vec<Finding>,
}

/// The hash is left out only while it is computed: a file always has it.
fn require_hash(schema: &mut schemars::Schema) {
    let required = schema.get_mut("required").and_then(|r| r.as_array_mut());
    if let Some(required) = required {
        required.push("hash".into());
    }
}

/// The surface on which u and v are given.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "type", rename_all = "snake_case")]
#[schemars(deny_unknown_fields)]
pub enum Chart {
    /// Flat: u is x and v is y, in millimetres, y up.
    Plane,
}

/// The bare thing.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Blank {
    /// Its outline and holes.
    pub region: Region,
    /// Width of its bounding box, mm.
    pub width_mm: f64,
    /// Height of its bounding box, mm.
    pub height_mm: f64,
    /// Its colour in pictures, sRGB.
    #[schemars(regex(pattern = r"^#[0-9a-f]{6}$"))]
    pub colour_hex: String,
}

/// A kind of stone.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Kind {
    /// The maker's own name for it.
    pub name: String,
    /// Its outline.
    pub shape: Shape,
    /// Its size as the maker wrote it.
    pub size: String,
    /// Diameter that no stone of the bag exceeds, mm.
    pub fit_mm: f64,
    /// Mean diameter, mm.
    pub reach_mm: f64,
    /// Standard deviation of the diameter, mm.
    pub spread_mm: f64,
    /// Its colour in pictures, sRGB.
    #[schemars(regex(pattern = r"^#[0-9a-f]{6}$"))]
    pub colour_hex: String,
    /// How it throws light back, in pictures.
    pub finish: Finish,
}

/// A part of the blank with one arrangement and one colouring.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Zone {
    /// Its name.
    pub name: String,
    /// Where stones go.
    pub arrangement: Arrangement,
    /// Which kind goes to which place.
    pub colouring: Colouring,
    /// Which diameter keeps stones apart.
    pub gauge: Gauge,
    /// Wanted distance edge to edge, mm.
    pub spacing_mm: f64,
    /// Distance kept from the blank's own edges, mm.
    pub margin_mm: f64,
    /// Seed of everything random in the zone.
    pub seed: u64,
    /// Where the zone is. Each segment carries `keep_mm`.
    pub region: Region,
    /// Its area, mm².
    pub area_mm2: f64,
    /// How many stones it holds.
    pub stones: u32,
    /// How many rows they form.
    pub rows: u32,
    /// Its stones by kind: every kind of its mix and its fillers, and any other that is there.
    pub by_kind: Vec<KindCount>,
    /// Sum of π/4 · drawn² over its stones, divided by its area.
    pub coverage: f64,
    /// Its largest bare spots, largest first.
    pub bare_spots: Vec<BareSpot>,
    /// The share of its edge along which a stone of its smallest kind would find room.
    pub bare_edge: f64,
    /// A sentence on the choice of rows, where there was one.
    pub note: Option<String>,
}

/// Where stones go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Arrangement {
    /// Rows that interlock.
    Honeycomb,
    /// Rows and columns.
    Square,
    /// Concentric circles.
    Rings,
    /// At random, close.
    Scatter,
}

/// Which kind goes to which place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Colouring {
    /// One kind of each size.
    Plain,
    /// Rows of one kind.
    Striped,
    /// One after the other along each row.
    Alternating,
    /// At random by share.
    Random,
}

/// Which of a kind's diameters keeps stones apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Gauge {
    /// `fit_mm`.
    Fit,
    /// `reach_mm`.
    Reach,
}

/// How many stones of one kind.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct KindCount {
    /// Name of the kind.
    pub kind: String,
    /// How many.
    pub stones: u32,
}

/// An empty circle inside the zone (to its edges themselves) that no drawn stone reaches into.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct BareSpot {
    /// Its centre.
    pub u: f64,
    /// Its centre.
    pub v: f64,
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Name of the largest kind that would go in with the zone's spacing.
    pub takes: Option<String>,
}

/// One stone.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Stone {
    /// Its number in the order of setting, from 1.
    pub place_no: u32,
    /// Its zone, by index.
    pub zone: u32,
    /// Its row in the zone, from 1.
    pub row: u32,
    /// Its kind, by index.
    pub kind: u32,
    /// Its centre, rounded to 1e-9 mm.
    pub u: f64,
    /// Its centre, rounded to 1e-9 mm.
    pub v: f64,
    /// How far it is turned, degrees counter-clockwise from u.
    pub turn_deg: f64,
    /// Its diameter in pictures, and for coverage: the kind's `reach_mm`.
    pub drawn_mm: f64,
    /// The diameter that keeps it apart from others, by the zone's gauge.
    pub pitch_mm: f64,
    /// There, and true, if the stone was set by hand, in place of what the arrangement would do.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    #[schemars(extend("const" = true))]
    pub by_hand: bool,
}

/// Something worth knowing about the lay.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Finding {
    /// Its stable code.
    pub code: String,
    /// How much it matters.
    pub severity: Severity,
    /// Name of the zone, if it is about one.
    pub zone: Option<String>,
    /// Where, if somewhere.
    pub place: Option<Spot>,
    /// What was measured, with its unit.
    pub measured: Option<String>,
    /// What was wanted, with its unit.
    pub wanted: Option<String>,
    /// What it says.
    pub text: String,
    /// What to do about it.
    pub hint: String,
}

/// A point on the piece's chart.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct Spot {
    /// On the plane: x, mm.
    pub u: f64,
    /// On the plane: y, mm, up.
    pub v: f64,
}
