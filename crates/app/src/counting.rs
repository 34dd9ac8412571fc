//! Counting without a document: how many stones, for a customer on the phone.

use crate::ways::{self, Way};
use lay::{
    Arrangement, Chart, Colour, Colouring, Finish, Gauge, Kind, MixPart, Piece, Rings, Scatter,
    Shape, Stopped, Watch, Zone, sizes,
};
use schemars::JsonSchema;
use serde::Serialize;
use std::str::FromStr;
use units::{Length, SizePair};

/// A blank said in a few words.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Blank {
    /// Width and height: `3 in x 5 in`.
    Rectangle(SizePair),
    /// A diameter: `80 mm`.
    Round(Length),
}

impl FromStr for Blank {
    type Err = units::ReadError;

    fn from_str(text: &str) -> Result<Blank, units::ReadError> {
        let plain = text.trim();
        let round = plain.strip_prefix("round ").or_else(|| plain.strip_suffix(" round"));
        if let Some(diameter) = round {
            return diameter.parse().map(Blank::Round);
        }
        match plain.parse() {
            Ok(pair) => Ok(Blank::Rectangle(pair)),
            // One length alone is a diameter; otherwise what is wrong with the pair is said.
            Err(e) => plain.parse().map(Blank::Round).map_err(|_| e),
        }
    }
}

/// What is asked.
#[derive(Clone, Debug)]
pub struct Question {
    /// The blank.
    pub blank: Blank,
    /// The stones.
    pub kind: Kind,
    /// Which arrangement.
    pub arrangement: Form,
    /// Distance edge to edge, mm.
    pub spacing_mm: f64,
    /// Distance kept from the edge, mm.
    pub margin_mm: f64,
    /// Which diameter keeps stones apart.
    pub gauge: Gauge,
    /// Stones in a pack.
    pub pack: u32,
}

/// An arrangement by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// Rows that interlock.
    Honeycomb,
    /// Rows and columns.
    Square,
    /// Concentric circles.
    Rings,
    /// At random, close.
    Scatter,
}

/// What it comes to, the best way first in `best`, every way in `ways`.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct Answer {
    /// Width of the blank, mm.
    pub width_mm: f64,
    /// Height of the blank, mm.
    pub height_mm: f64,
    /// The size of the stones as it was asked.
    pub size: String,
    /// The diameter that keeps the stones apart, mm.
    pub pitch_mm: f64,
    /// The mean diameter, by which coverage goes, mm.
    pub drawn_mm: f64,
    /// The arrangement.
    pub arrangement: Form,
    /// Stones in a pack.
    pub pack: u32,
    /// Index into `ways` of the one with the most stones; of equals the first.
    pub best: usize,
    /// Every way to lay it.
    pub ways: Vec<CountedWay>,
}

/// One way to lay it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct CountedWay {
    /// The way and what it comes to.
    #[serde(flatten)]
    pub way: Way,
    /// Whole packs that hold its stones.
    pub packs: usize,
}

/// A kind by a size alone: `SS16`, or a length.
///
/// # Errors
/// The size is not in the trade's chart, or no length.
pub fn kind_of_size(text: &str) -> Result<Kind, SizeError> {
    let plain = text.trim();
    let number = plain.strip_prefix("SS").or_else(|| plain.strip_prefix("ss"));
    let (least, most) = match number {
        Some(n) => {
            let unknown = || SizeError::NotInChart { size: plain.to_owned() };
            sizes::round(n.trim().parse().map_err(|_| unknown())?).ok_or_else(unknown)?
        }
        None => {
            let d = plain
                .parse::<Length>()
                .map_err(|_| SizeError::NoSize { size: plain.to_owned() })?
                .mm();
            (d, d)
        }
    };
    if !(0.5..=100.0).contains(&most) {
        return Err(SizeError::Absurd { size: plain.to_owned() });
    }
    Ok(Kind {
        name: plain.to_owned(),
        shape: Shape::Round,
        size: plain.to_owned(),
        fit_mm: most,
        reach_mm: (least + most) / 2.0,
        spread_mm: (most - least) / 4.0,
        colour: Colour(120, 150, 170),
        finish: Finish::Foiled,
    })
}

/// Why a text is no size of a stone.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SizeError {
    /// `SS` and something that the chart does not have.
    #[error(
        "`{size}` is not in the trade's size chart: it has SS3 to SS20, 22, 24, 28 to 30, 32, 34, 36, 38, 40, 42 and 48; or give the diameter, as in `4.7 mm`"
    )]
    NotInChart {
        /// What was written.
        size: String,
    },
    /// Neither.
    #[error("`{size}` is no size: write it as `SS16` or as `4 mm`")]
    NoSize {
        /// What was written.
        size: String,
    },
    /// No stone is that small or large.
    #[error("a stone of `{size}` cannot be set by hand: give 0.5 mm to 100 mm")]
    Absurd {
        /// What was written.
        size: String,
    },
}

/// Lays the blank in every way of its arrangement.
///
/// # Errors
/// The watcher stopped it.
pub fn count(question: &Question, watch: &dyn Watch) -> Result<Answer, Stopped> {
    let region = match question.blank {
        Blank::Rectangle(s) => geometry::shapes::rectangle(s.width.mm(), s.height.mm()),
        Blank::Round(d) => geometry::shapes::circle(d.mm()),
    };
    let round = matches!(question.blank, Blank::Round(_));
    let forms = match question.arrangement {
        Form::Honeycomb => ways::of_rows(Arrangement::Honeycomb, round),
        Form::Square => ways::of_rows(Arrangement::Square, round),
        Form::Rings => ways::of_rings(Rings {
            centre: None,
            staggered: false,
            nested: false,
            around_holes: false,
        }),
        Form::Scatter => {
            vec![("scatter", Arrangement::Scatter(Scatter { ring_holes: true }))]
        }
    };
    let piece = piece(question, region.clone(), forms[0].1);
    let counted = |way: Way| CountedWay { packs: way.stones.div_ceil(question.pack as usize), way };
    let ways: Vec<CountedWay> =
        ways::lay_all(&piece, 0, &forms, watch)?.into_iter().map(counted).collect();
    // The first of equals: the plainest way stands first.
    let best =
        (0..ways.len()).fold(0, |b, i| if ways[i].way.stones > ways[b].way.stones { i } else { b });
    let bounds = region.bounds();
    Ok(Answer {
        width_mm: bounds.width(),
        height_mm: bounds.height(),
        size: question.kind.size.clone(),
        pitch_mm: lay::pitch_mm(&question.kind, question.gauge),
        drawn_mm: question.kind.reach_mm,
        arrangement: question.arrangement,
        pack: question.pack,
        best,
        ways,
    })
}

fn piece(q: &Question, region: geometry::Region, arrangement: Arrangement) -> Piece {
    let zone = Zone {
        name: "all".into(),
        region: region.clone(),
        arrangement,
        colouring: Colouring::Plain,
        mix: vec![MixPart { kind: 0, share: 1.0, rows: 1 }],
        fillers: vec![],
        spacing_mm: q.spacing_mm,
        margin_mm: q.margin_mm,
        gauge: q.gauge,
        seed: 1,
    };
    Piece {
        name: "count".into(),
        chart: Chart::Plane,
        blank: region,
        blank_colour: Colour(255, 255, 255),
        kinds: vec![q.kind.clone()],
        zones: vec![zone],
        changes: vec![],
    }
}

/// The JSON schema of [`Answer`].
pub fn schema() -> String {
    export::json::schema_of::<Answer>()
}
