//! Something worth knowing about a lay: the work was done, but look here.

use crate::Place;
use serde::Serialize;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, schemars::JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Severity {
    /// Good to know.
    Note,
    /// Look at it before you open the adhesive.
    Warning,
    /// It will not come out as asked.
    Serious,
}

/// Something worth knowing, with a place and what was measured against what was wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Stable code, one of [`PAGES`] or of the pages that other crates add.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// Name of the zone, if it is about one.
    pub zone: Option<String>,
    /// Where, if somewhere.
    pub place: Option<Place>,
    /// What was measured, with its unit.
    pub measured: Option<String>,
    /// What was wanted, with its unit.
    pub wanted: Option<String>,
    /// One sentence, lower case, no full stop.
    pub text: String,
    /// What to do about it.
    pub hint: String,
}

impl Finding {
    /// About nothing that has a place or a measure, so far.
    pub fn new(
        code: &'static str,
        severity: Severity,
        text: impl Into<String>,
        hint: impl Into<String>,
    ) -> Finding {
        Finding {
            code,
            severity,
            zone: None,
            place: None,
            measured: None,
            wanted: None,
            text: text.into(),
            hint: hint.into(),
        }
    }

    /// About a zone.
    #[must_use]
    pub fn in_zone(self, zone: &str) -> Finding {
        Finding { zone: Some(zone.to_owned()), ..self }
    }

    /// With what was measured and what was wanted.
    #[must_use]
    pub fn with(self, measured: impl Into<String>, wanted: impl Into<String>) -> Finding {
        Finding { measured: Some(measured.into()), wanted: Some(wanted.into()), ..self }
    }
}

/// The documentation of one finding code.
#[derive(Clone, Copy, Debug)]
pub struct Page {
    /// The code.
    pub code: &'static str,
    /// What it says.
    pub what: &'static str,
    /// Why it matters at the bench.
    pub why: &'static str,
    /// A case in which it comes up.
    pub example: &'static str,
    /// What to do.
    pub remedy: &'static str,
}

/// Every finding that this crate can return.
pub const PAGES: &[Page] = &[
    Page {
        code: "lay.bare-between",
        what: "Across the border of two zones, or beside all zones, there is an empty circle wider than any within a zone, into which a kind of the piece would go.",
        why: "Each zone is laid for itself and cannot see what its neighbour leaves.",
        example: "A band of three rows round a middle in rings: where both end short, 4 mm stay bare.",
        remedy: "Set the stone by hand, move the border, or lay both as one zone.",
    },
    Page {
        code: "lay.bare-edge",
        what: "Along more than a tenth of the zone's edge, the nearest stone is so far away that a whole stone of the smallest kind would go between.",
        why: "A ragged edge is the first thing a customer sees, and the first place where a stone is knocked off.",
        example: "Rows locked to the bottom of a heart leave its slanting sides ragged.",
        remedy: "Even out the rows, turn them for the most stones, or lay a band along the edge as a zone of its own.",
    },
    Page {
        code: "lay.bare-spot",
        what: "There is an empty circle in the zone into which a kind of this order would go, with the zone's spacing and margin.",
        why: "With glue on the piece it is too late to look for a stone that fits.",
        example: "Beside a hole, honeycomb rows leave a place 3.4 mm across; a 3.1 mm stone lies on the shelf.",
        remedy: "Name the kind under `fillers`, or turn and shift the rows.",
    },
    Page {
        code: "lay.by-hand-no-room",
        what: "A stone was to become one of a larger kind by hand, but beside its neighbours or the edge there is no room for that. It stays as it was.",
        why: "Recoloured, a stone keeps its centre and its neighbours; a larger one would lie on them.",
        example: "An SS16 in a honeycomb recoloured to an SS20.",
        remedy: "Choose a kind of the same size, or set the larger stone there: those in its way are then left out.",
    },
    Page {
        code: "lay.by-hand-nothing",
        what: "A spot was to be cleared or recoloured by hand, but no stone covers it.",
        why: "After another size, spacing or arrangement the stone that was meant may lie elsewhere.",
        example: "A stone of row 3 was taken away; since then the rows lie half a stone further left.",
        remedy: "Move the spot to the middle of the stone that is meant, or take the change out.",
    },
    Page {
        code: "lay.by-hand-outside",
        what: "A stone set by hand would not lie wholly within its zone, less the margin of the blank's edges. It is not set. What is missing is how far it would have to move inwards.",
        why: "A stone that stands over the edge is knocked off first; across the border of zones it would lie on the neighbour's stones.",
        example: "A stone of 6.4 mm, 3 mm from the edge of a badge with a margin of 0.5 mm: 0.7 mm are missing.",
        remedy: "Move it inwards, take a smaller kind, or a smaller margin.",
    },
    Page {
        code: "lay.by-hand-too-close",
        what: "Two stones were set by hand closer to each other than the spacing. The later one is not set.",
        why: "Both were asked for, so that neither may quietly push the other aside.",
        example: "A larger kind was chosen for a stone whose neighbour was set by hand too.",
        remedy: "Move one of the two by what is missing, or take it out.",
    },
    Page {
        code: "lay.even-limit",
        what: "Rows were to be evened out, but the spacing may not be opened far enough to reach the far edges.",
        why: "A strip stays bare along the far side.",
        example: "5 mm are left beside rows that may be opened by 0.1 mm a stone.",
        remedy: "Allow more with `open`, use another size, or trim the blank.",
    },
    Page {
        code: "lay.row-run",
        what: "The zone is set by touch. The length of its longest row is given with the spread to expect: n touching stones measure n times the mean, plus or minus 2 s times the root of n.",
        why: "The stones of a bag differ; a long touching row drifts away from any drawing.",
        example: "40 stones of 3.9 mm, s 0.05 mm: 156 mm ± 0.63 mm.",
        remedy: "Lay one row dry and measure it, or set by a sheet.",
    },
    Page {
        code: "lay.share-missed",
        what: "A kind comes out more than 2 points (or one stone, if that is more) away from its share by count.",
        why: "You would buy the wrong number of packs.",
        example: "A 6 mm stone at 30 % in letters 8 mm wide.",
        remedy: "Ask for less of the large sizes, or give the zone more room.",
    },
    Page {
        code: "lay.sizes-mixed",
        what: "Rows or rings are to be set with kinds of different sizes. The pitch goes by the largest.",
        why: "Smaller stones lie loosely in their places and the rows look uneven.",
        example: "SS16 and SS12 alternating in a honeycomb.",
        remedy: "Use one size in rows and rings, or a scatter.",
    },
    Page {
        code: "lay.spacing-tight",
        what: "The zone is set by touch with a spacing smaller than the tolerance of the bag.",
        why: "The largest stones of the bag push their row on, and the last stone may not go in.",
        example: "SS16 runs from 3.80 to 4.00 mm; spacing 0 by the mean of 3.90 mm.",
        remedy: "Set by a sheet, which keeps places by the largest stone, or widen the spacing.",
    },
    Page {
        code: "lay.unsound",
        what: "The finished lay was checked once more, and a stone is more than 0.000001 mm too close to another or to an edge.",
        why: "It is a mistake in this program.",
        example: "We know of none.",
        remedy: "Do not set the piece. Send us the document.",
    },
    Page {
        code: "lay.zone-empty",
        what: "Not a single stone has room in the zone.",
        why: "It would stay bare.",
        example: "A band 3 mm wide with a margin of 0.5 mm, and stones of 2.7 mm.",
        remedy: "Take a smaller stone, a smaller margin, or make the zone wider.",
    },
];

/// The documentation of `code`.
pub fn page(code: &str) -> Option<&'static Page> {
    PAGES.iter().find(|p| p.code == code)
}
