//! How a figure came about: its formula, and what went into it.

use schemars::JsonSchema;
use serde::Serialize;

/// One figure with its formula and inputs, as `--why` shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Reason {
    /// What the figure is: `spare of sea glass`.
    pub figure: String,
    /// Its value with its unit: `38 stones`.
    pub value: String,
    /// The formula in words and signs, with its source.
    pub formula: String,
    /// What went into it, in the formula's order.
    pub inputs: Vec<Input>,
}

/// One input of a formula.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Input {
    /// Its name in the formula: `loss rate`.
    pub name: String,
    /// Its value with its unit: `3 %`.
    pub value: String,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Origin {
    /// The order document says so.
    Document,
    /// Nothing was said, so the usual value was taken.
    Usual,
    /// The maker's own records.
    Log,
    /// The lay.
    Lay,
    /// Another figure of the plan.
    Plan,
}

/// A value and where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Given<T> {
    /// The value.
    pub value: T,
    /// Where it comes from.
    pub origin: Origin,
}

impl<T> Given<T> {
    /// As the document says.
    pub fn document(value: T) -> Given<T> {
        Given { value, origin: Origin::Document }
    }

    /// The usual value, since nothing was said.
    pub fn usual(value: T) -> Given<T> {
        Given { value, origin: Origin::Usual }
    }

    /// What the document says, or else the usual value.
    pub fn or_usual(said: Option<T>, usual: T) -> Given<T> {
        said.map_or_else(|| Given::usual(usual), Given::document)
    }
}

impl Reason {
    /// A figure, its value and its formula, so far without inputs.
    pub fn new(
        figure: impl Into<String>,
        value: impl Into<String>,
        formula: impl Into<String>,
    ) -> Reason {
        Reason {
            figure: figure.into(),
            value: value.into(),
            formula: formula.into(),
            inputs: vec![],
        }
    }

    /// With one more input.
    #[must_use]
    pub fn with(
        mut self,
        name: impl Into<String>,
        value: impl Into<String>,
        origin: Origin,
    ) -> Reason {
        self.inputs.push(Input { name: name.into(), value: value.into(), origin });
        self
    }
}
