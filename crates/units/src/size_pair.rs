//! Width by height, as a customer says it on the phone.

use crate::{Length, ReadError};
use std::fmt;
use std::str::FromStr;

/// A width and a height.
///
/// Reads `3 in x 5 in`, `60 × 40 mm`, `3 1/2 by 5 in`: the cross may be `x`, `×`, `*` or `by`, and
/// the first length may borrow the second's unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizePair {
    /// The first length.
    pub width: Length,
    /// The second length.
    pub height: Length,
}

impl fmt::Display for SizePair {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let bare = self.width.to_string();
        write!(f, "{} × {}", bare.trim_end_matches(" mm"), self.height)
    }
}

impl FromStr for SizePair {
    type Err = ReadError;

    fn from_str(text: &str) -> Result<SizePair, ReadError> {
        let not_two = || ReadError::NotTwo { text: text.trim().to_owned() };
        let (left, right) = halves(text).ok_or_else(not_two)?;
        if halves(right).is_some() {
            return Err(not_two());
        }
        let height: Length = right.parse()?;
        let width = match left.parse::<Length>() {
            Err(ReadError::NoUnit { .. }) => {
                let unit = right.trim_start_matches(|c: char| !c.is_alphabetic() && !is_quote(c));
                format!("{left} {unit}").parse()?
            }
            other => other?,
        };
        Ok(SizePair { width, height })
    }
}

/// What stands left and right of the first cross. No unit has an x in it.
fn halves(text: &str) -> Option<(&str, &str)> {
    let cross = [("×", 2), ("x", 1), ("X", 1), ("*", 1), (" by ", 4)];
    let found = cross.iter().filter_map(|(c, len)| Some((text.find(c)?, *len))).min()?;
    Some((&text[..found.0], &text[found.0 + found.1..]))
}

fn is_quote(c: char) -> bool {
    matches!(c, '"' | '″' | '”')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (f64, f64) {
        let pair: SizePair = text.parse().unwrap();
        (pair.width.mm(), pair.height.mm())
    }

    #[test]
    fn reads_what_customers_say() {
        assert_eq!(read("3 in x 5 in"), (76.2, 127.0));
        assert_eq!(read("3x5in"), (76.2, 127.0));
        assert_eq!(read("60 × 40 mm"), (60.0, 40.0));
        assert_eq!(read("6 cm by 40 mm"), (60.0, 40.0));
        assert_eq!(read("3 1/2 by 5\""), (88.9, 127.0));
        assert_eq!(read("60mm*40mm"), (60.0, 40.0));
    }

    #[test]
    fn anything_but_two_lengths_is_refused() {
        for text in ["", "60 mm", "60 mm 40 mm", "1 x 2 x 3 mm"] {
            assert!(matches!(text.parse::<SizePair>(), Err(ReadError::NotTwo { .. })), "{text}");
        }
        assert!(matches!("60 x 40".parse::<SizePair>(), Err(ReadError::NoUnit { .. })));
        assert!(matches!("60 ell x 40 mm".parse::<SizePair>(), Err(ReadError::UnknownUnit { .. })));
    }

    #[test]
    fn prints_one_unit() {
        assert_eq!("6 cm x 40 mm".parse::<SizePair>().unwrap().to_string(), "60 × 40 mm");
    }
}
