//! The way to a key of a document: `piece.2.zone.1.spacing`.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// One step of a [`Path`].
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Into a table, by a key.
    Key(String),
    /// Into a list, by a number from 1.
    Number(usize),
}

/// The way to a key, a table or an entry of a list: steps with points between, numbers from 1. The
/// empty path is the document as a whole.
///
/// A piece whose one zone stands in the piece itself has that zone as its `zone.1` nevertheless:
/// `piece.1.zone.1.spacing` is the spacing of piece 1 either way.
#[derive(
    Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema,
)]
#[serde(try_from = "String", into = "String")]
#[schemars(with = "String")]
pub struct Path {
    /// Its steps, from the document inwards.
    pub steps: Vec<Step>,
}

/// A text that is no path.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("not the way to a key: `{text}`")]
pub struct PathError {
    /// The text.
    pub text: String,
}

impl Path {
    /// The document as a whole.
    pub fn root() -> Path {
        Path::default()
    }

    /// One step further, by a key.
    #[must_use]
    pub fn key(&self, key: &str) -> Path {
        self.with(Step::Key(key.to_owned()))
    }

    /// One step further, by a number from 1.
    #[must_use]
    pub fn number(&self, number: usize) -> Path {
        self.with(Step::Number(number))
    }

    fn with(&self, step: Step) -> Path {
        Path { steps: self.steps.iter().cloned().chain([step]).collect() }
    }

    /// The path without its last step, and that step; `None` for the document as a whole.
    pub fn split_last(&self) -> Option<(Path, &Step)> {
        let (last, before) = self.steps.split_last()?;
        Some((Path { steps: before.to_vec() }, last))
    }
}

impl fmt::Display for Path {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, step) in self.steps.iter().enumerate() {
            if i > 0 {
                f.write_str(".")?;
            }
            match step {
                Step::Key(key) => f.write_str(key)?,
                Step::Number(number) => write!(f, "{number}")?,
            }
        }
        Ok(())
    }
}

/// Most steps of a path: the deepest key of a document has eight.
const MAX_STEPS: usize = 16;

impl FromStr for Path {
    type Err = PathError;

    fn from_str(text: &str) -> Result<Path, PathError> {
        let refused = || PathError { text: crate::document::shortened(text) };
        if text.is_empty() {
            return Ok(Path::root());
        }
        let step = |step: &str| {
            let is_key = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
            match step.parse::<usize>() {
                Ok(number) if number > 0 && step.bytes().all(|b| b.is_ascii_digit()) => {
                    Ok(Step::Number(number))
                }
                Err(_) if !step.is_empty() && step.chars().all(is_key) => {
                    Ok(Step::Key(step.to_owned()))
                }
                _ => Err(refused()),
            }
        };
        let steps = text.split('.').take(MAX_STEPS + 1).map(step).collect::<Result<Vec<_>, _>>()?;
        if steps.len() > MAX_STEPS {
            return Err(refused());
        }
        Ok(Path { steps })
    }
}

impl TryFrom<String> for Path {
    type Error = PathError;

    fn try_from(text: String) -> Result<Path, PathError> {
        text.parse()
    }
}

impl From<Path> for String {
    fn from(path: Path) -> String {
        path.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_read_as_it_is_printed() {
        for text in ["", "order", "piece.2.zone.1.spacing", "piece.1.holes.3.at.2"] {
            assert_eq!(text.parse::<Path>().unwrap().to_string(), text);
        }
        let path: Path = "piece.2".parse().unwrap();
        assert_eq!(path.steps, [Step::Key("piece".to_owned()), Step::Number(2)]);
    }

    #[test]
    fn what_leads_nowhere_is_refused() {
        let long = "a.".repeat(40) + "a";
        for text in [".", "piece.", "piece.0", "a b", "a\nb", "piece.99999999999999999999x!", &long]
        {
            assert!(text.parse::<Path>().is_err(), "{text}");
        }
    }
}
