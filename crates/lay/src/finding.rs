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
pub const PAGES: &[Page] = &[];
