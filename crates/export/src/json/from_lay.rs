//! From laid pieces to the file.

use super::finite::not_finite;
use super::{
    Arrangement, BareSpot, Blank, Chart, Colouring, FORMAT, Finding, Gauge, Kind, KindCount,
    LayFile, Piece, Region, Spot, Stone, VERSION, Zone, layout,
};
use crate::csv::pitch_mm;
use lay::{EDGE_SHARED, PieceLay};
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// Why a lay cannot be written as JSON.
#[derive(Debug, thiserror::Error)]
pub enum JsonError {
    /// A value is not a finite number: JSON has no way to write it.
    #[error("the lay of `{piece}` cannot be written: {value} is not a number")]
    NotFinite {
        /// Name of the piece.
        piece: String,
        /// Which value.
        value: String,
    },
    /// The canonical form could not be written.
    #[error("the lay of `{piece}` cannot be written: {source}")]
    Refused {
        /// Name of the piece.
        piece: String,
        /// What the writer says.
        source: serde_json::Error,
    },
}

/// The hash of a whole order's lay: SHA-256, in hexadecimal, of one line for each piece in the
/// order's order: the hash of its lay as it stands in the JSON file, a space, how many copies are
/// made, a line feed. It changes when a stone, an edge, a kind or a number of copies does; not when
/// a note, a price or a way of working does.
pub fn whole_hash<'a>(pieces: impl Iterator<Item = (&'a str, u32)>) -> String {
    let mut lines = String::new();
    for (hash, copies) in pieces {
        // Writing to a string never fails.
        let _ = writeln!(lines, "{hash} {copies}");
    }
    Sha256::digest(lines.as_bytes()).iter().map(|b| format!("{b:02x}")).collect()
}

impl LayFile {
    /// The hash of all of it, as [`whole_hash`] has it.
    pub fn whole_hash(&self) -> String {
        whole_hash(self.pieces.iter().map(|p| (p.hash.as_str(), p.quantity)))
    }

    /// The file of an order: each piece with its lay and how many are to be made. `engine` names
    /// the program and its version; it does not count towards the hashes.
    ///
    /// # Errors
    /// A value of a lay is not a finite number, which JSON cannot hold.
    ///
    /// # Panics
    /// If a stone names a kind or a zone that its piece does not have: not a lay of this piece.
    pub fn new(
        order: &str,
        laid: &[(&lay::Piece, &PieceLay, u32)],
        engine: &str,
    ) -> Result<LayFile, JsonError> {
        let pieces = laid.iter().map(|(piece, lay, n)| Piece::new(piece, lay, *n));
        Ok(LayFile {
            format: FORMAT,
            version: VERSION,
            engine: engine.to_owned(),
            order: order.to_owned(),
            pieces: pieces.collect::<Result<_, _>>()?,
        })
    }

    /// The file's text: one stone, kind, zone or finding a line, shortest numbers that read back
    /// as the same `f64`, keys in the order of the schema.
    pub fn to_json(&self) -> String {
        layout::one_thing_a_line(self)
    }
}

impl Piece {
    fn new(piece: &lay::Piece, lay: &PieceLay, quantity: u32) -> Result<Piece, JsonError> {
        let bounds = piece.blank.bounds();
        let mut out = Piece {
            name: piece.name.clone(),
            quantity,
            hash: String::new(),
            chart: match lay.chart {
                lay::Chart::Plane => Chart::Plane,
            },
            blank: Blank {
                region: Region::new(&piece.blank, |_| None),
                width_mm: bounds.width(),
                height_mm: bounds.height(),
                colour_hex: piece.blank_colour.hex(),
            },
            kinds: piece.kinds.iter().map(kind).collect(),
            zones: zones(piece, lay),
            coverage: lay.coverage,
            bare_spots: lay.bare_spots.iter().map(|spot| bare_spot(piece, spot)).collect(),
            stones: (1..).zip(&lay.stones).map(|(no, s)| stone(piece, no, s)).collect(),
            findings: lay.findings.iter().map(finding).collect(),
        };
        let name = || piece.name.clone();
        if let Some(value) = not_finite(&out, piece.blank.area()) {
            return Err(JsonError::NotFinite { piece: name(), value });
        }
        let refused = |source| JsonError::Refused { piece: name(), source };
        out.hash = out.computed_hash().map_err(refused)?;
        Ok(out)
    }

    /// The hash of the lay itself: SHA-256 of the piece's canonical JSON after RFC 8785 (keys
    /// sorted, numbers as ECMAScript prints them), in hexadecimal, without the members `hash`,
    /// `quantity` and `findings` and without its zones' `note`: how many are made, and what is said
    /// about a lay, moves no stone. Whole numbers above 2^53 count as the nearest `f64`, as that
    /// RFC has it.
    ///
    /// # Errors
    /// The writer of the canonical form refuses.
    pub fn computed_hash(&self) -> Result<String, serde_json::Error> {
        let mut lay = serde_json::to_value(self)?;
        if let Some(members) = lay.as_object_mut() {
            for other in ["hash", "quantity", "findings"] {
                members.remove(other);
            }
        }
        for zone in lay["zones"].as_array_mut().into_iter().flatten() {
            zone.as_object_mut().map(|members| members.remove("note"));
        }
        let canonical = serde_json_canonicalizer::to_vec(&lay)?;
        Ok(Sha256::digest(&canonical).iter().map(|byte| format!("{byte:02x}")).collect())
    }
}

fn kind(kind: &lay::Kind) -> Kind {
    Kind {
        name: kind.name.clone(),
        shape: kind.shape,
        size: kind.size.clone(),
        fit_mm: kind.fit_mm,
        reach_mm: kind.reach_mm,
        spread_mm: kind.spread_mm,
        colour_hex: kind.colour.hex(),
        finish: kind.finish,
    }
}

fn zones(piece: &lay::Piece, lay: &PieceLay) -> Vec<Zone> {
    let mut counts = vec![vec![0_u32; piece.kinds.len()]; piece.zones.len()];
    lay.stones.iter().for_each(|s| counts[s.zone as usize][s.kind as usize] += 1);
    let parts = piece.zones.iter().zip(&lay.zones).zip(&counts);
    parts.map(|((zone, laid), counts)| self::zone(piece, zone, laid, counts)).collect()
}

fn zone(piece: &lay::Piece, zone: &lay::Zone, laid: &lay::ZoneLay, counts: &[u32]) -> Zone {
    let wanted =
        |kind: usize| zone.mix.iter().any(|part| part.kind == kind) || zone.fillers.contains(&kind);
    let by_kind = (counts.iter().enumerate())
        .filter(|(kind, count)| **count > 0 || wanted(*kind))
        .map(|(kind, count)| KindCount { kind: piece.kinds[kind].name.clone(), stones: *count });
    let keep_mm =
        |tag| Some(if tag == EDGE_SHARED { zone.spacing_mm / 2.0 } else { zone.margin_mm });
    Zone {
        name: zone.name.clone(),
        arrangement: match zone.arrangement {
            lay::Arrangement::Honeycomb(_) => Arrangement::Honeycomb,
            lay::Arrangement::Square(_) => Arrangement::Square,
            lay::Arrangement::Rings(_) => Arrangement::Rings,
            lay::Arrangement::Scatter(_) => Arrangement::Scatter,
        },
        colouring: match zone.colouring {
            lay::Colouring::Plain => Colouring::Plain,
            lay::Colouring::Striped => Colouring::Striped,
            lay::Colouring::Alternating => Colouring::Alternating,
            lay::Colouring::Random => Colouring::Random,
        },
        gauge: match zone.gauge {
            lay::Gauge::Fit => Gauge::Fit,
            lay::Gauge::Reach => Gauge::Reach,
        },
        spacing_mm: zone.spacing_mm,
        margin_mm: zone.margin_mm,
        seed: zone.seed,
        region: Region::new(&zone.region, keep_mm),
        area_mm2: zone.region.area(),
        stones: counts.iter().sum(),
        rows: laid.n_rows,
        by_kind: by_kind.collect(),
        coverage: laid.coverage,
        bare_spots: laid.bare_spots.iter().map(|spot| bare_spot(piece, spot)).collect(),
        bare_edge: laid.bare_edge,
        note: laid.note.clone(),
    }
}

fn bare_spot(piece: &lay::Piece, spot: &lay::BareSpot) -> BareSpot {
    BareSpot {
        u: spot.place.u,
        v: spot.place.v,
        diameter_mm: spot.diameter_mm,
        takes: spot.takes.map(|kind| piece.kinds[kind].name.clone()),
    }
}

fn stone(piece: &lay::Piece, place_no: u32, stone: &lay::Stone) -> Stone {
    let kind = &piece.kinds[stone.kind as usize];
    let zone = &piece.zones[stone.zone as usize];
    Stone {
        place_no,
        zone: stone.zone,
        row: stone.row,
        kind: stone.kind,
        u: stone.place.u,
        v: stone.place.v,
        turn_deg: stone.place.turn_deg,
        drawn_mm: kind.reach_mm,
        pitch_mm: pitch_mm(kind, zone.gauge),
        by_hand: stone.by_hand,
    }
}

fn finding(finding: &lay::Finding) -> Finding {
    Finding {
        code: finding.code.to_owned(),
        severity: finding.severity,
        zone: finding.zone.clone(),
        place: finding.place.map(|p| Spot { u: p.u, v: p.v }),
        measured: finding.measured.clone(),
        wanted: finding.wanted.clone(),
        text: finding.text.clone(),
        hint: finding.hint.clone(),
    }
}
