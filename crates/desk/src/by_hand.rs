//! Changes by hand: stones set, taken away, recoloured on a piece.

use crate::stones::quoted;
use crate::{Desk, DeskError, Opened};
use app::edit::{Change, Path};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, RevisionId};

/// One change by hand. Places are millimetres to the right and down from the top left corner of
/// the blank's box.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum HandOp {
    /// A stone exactly here, whatever the arrangement does.
    Set {
        /// Where its middle is.
        set: [f64; 2],
        /// Its kind.
        kind: String,
        /// By how much it is turned, degrees.
        #[serde(default)]
        turn_deg: Option<f64>,
    },
    /// No stone here.
    Clear {
        /// A place within the stone that goes.
        clear: [f64; 2],
    },
    /// The stone that covers this place becomes another kind.
    Recolour {
        /// A place within it.
        recolour: [f64; 2],
        /// Its new kind.
        kind: String,
    },
}

impl HandOp {
    /// As it stands in the document.
    fn toml(&self) -> String {
        let place = |p: &[f64; 2]| format!("[{}, {}]", mm(p[0]), mm(p[1]));
        match self {
            HandOp::Set { set, kind, turn_deg } => {
                let turn = turn_deg.filter(|t| *t != 0.0);
                let turn = turn.map_or(String::new(), |t| format!(", turn = \"{t} deg\""));
                format!("{{ set = {}, kind = {}{turn} }}", place(set), quoted(kind))
            }
            HandOp::Clear { clear } => format!("{{ clear = {} }}", place(clear)),
            HandOp::Recolour { recolour, kind } => {
                format!("{{ recolour = {}, kind = {} }}", place(recolour), quoted(kind))
            }
        }
    }

    fn what(&self) -> &'static str {
        match self {
            HandOp::Set { .. } => "stone set by hand",
            HandOp::Clear { .. } => "stone taken away",
            HandOp::Recolour { .. } => "stone recoloured",
        }
    }
}

/// A length for the document, as finely as lays are rounded: a stone pinned where it lies moves
/// none that touches it.
fn mm(value: f64) -> String {
    format!("\"{} mm\"", units::trimmed(value, 9))
}

impl Desk {
    /// Makes changes by hand on a piece of a document that stands at `from`; they undo as one.
    ///
    /// # Errors
    /// A place off the piece, an unknown kind; the document was changed meanwhile; the shop's.
    pub fn by_hand(
        &self,
        id: DocumentId,
        from: RevisionId,
        number: usize,
        ops: &[HandOp],
    ) -> Result<Opened, DeskError> {
        let path = Path::root().key("piece").number(number).key("by_hand");
        let add = |op: &HandOp| Change::Add { path: path.clone(), toml: op.toml() };
        let changes: Vec<Change> = ops.iter().map(add).collect();
        let what = match ops {
            // A move is a stone away and a stone there.
            [HandOp::Clear { .. }, HandOp::Set { .. }] => "stone moved".to_owned(),
            [op] => op.what().to_owned(),
            [first, ..] => format!("{}, {} times", first.what(), ops.len()),
            [] => return self.open(id),
        };
        self.change(id, from, &changes, &what, None)
    }
}
