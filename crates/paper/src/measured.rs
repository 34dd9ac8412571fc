//! Making up for a printer that does not keep to size.

use std::str::FromStr;

/// How long each bar of a test page is drawn, mm.
pub const BAR_MM: f64 = 100.0;
/// A bar that measures less or more than this was measured wrongly, mm. Printers that fit a page
/// into its margins shrink it to some 94 to 98 %; common practice, no source.
const BELIEVED_MM: (f64, f64) = (90.0, 110.0);

/// What the two bars of a sheet that was printed without correction measure, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measured {
    across_mm: f64,
    down_mm: f64,
}

/// Why it cannot be what was measured.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MeasuredError {
    /// Not one or two numbers.
    #[error("what the bars measure must be one number or two, such as 98.6 or 98.6x99.1: `{0}`")]
    NoNumber(String),
    /// No printer is as far off as that.
    #[error("a bar of 100 mm cannot measure `{0}` mm: measure again, from 90 to 110 is believed")]
    NotBelieved(String),
}

impl Measured {
    /// What both bars measure if the printer keeps to size.
    pub const TRUE: Measured = Measured { across_mm: BAR_MM, down_mm: BAR_MM };

    /// Both bars, mm.
    ///
    /// # Errors
    /// One of them is less than 90 or more than 110.
    pub fn new(across_mm: f64, down_mm: f64) -> Result<Measured, MeasuredError> {
        let believed = BELIEVED_MM.0..=BELIEVED_MM.1;
        match [across_mm, down_mm].into_iter().find(|mm| !believed.contains(mm)) {
            Some(mm) => Err(MeasuredError::NotBelieved(units::trimmed(mm, 3))),
            None => Ok(Measured { across_mm, down_mm }),
        }
    }

    /// By how much what is printed is to be larger, across and down.
    pub fn factors(self) -> (f64, f64) {
        (BAR_MM / self.across_mm, BAR_MM / self.down_mm)
    }

    /// In words, if there is anything to make up for.
    pub fn said(self) -> Option<String> {
        let (a, d) = (units::trimmed(self.across_mm, 2), units::trimmed(self.down_mm, 2));
        (self != Measured::TRUE).then(|| {
            if a == d {
                format!("corrected for a printer whose 100 mm measure {a} mm")
            } else {
                format!("corrected for a printer whose 100 mm measure {a} mm across, {d} mm down")
            }
        })
    }
}

impl FromStr for Measured {
    type Err = MeasuredError;

    /// One number for both bars, or across and down with an x between; mm may follow.
    fn from_str(text: &str) -> Result<Measured, MeasuredError> {
        let wrong = || MeasuredError::NoNumber(text.to_owned());
        let number = |part: &str| {
            let digits = part.trim().trim_end_matches("mm").trim_end();
            let number: f64 = digits.parse().map_err(|_| wrong())?;
            if number.is_finite() { Ok(number) } else { Err(wrong()) }
        };
        let parts: Vec<f64> =
            text.split(['x', 'X', '×']).map(number).collect::<Result<_, MeasuredError>>()?;
        match parts[..] {
            [both] => Measured::new(both, both),
            [across, down] => Measured::new(across, down),
            _ => Err(wrong()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_number_or_two_are_read() {
        assert_eq!("98.6".parse(), Measured::new(98.6, 98.6));
        assert_eq!(" 98.6 mm x 99 ".parse(), Measured::new(98.6, 99.0));
        let (across, down) = Measured::new(98.0, 102.0).unwrap().factors();
        assert!((across * 98.0 - 100.0).abs() < 1e-12 && (down * 102.0 - 100.0).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for text in ["", "x", "9.86", "986", "98.6x", "98x99x97", "nan", "-98", "1e400"] {
            assert!(text.parse::<Measured>().is_err(), "{text}");
        }
        let told = "9.86".parse::<Measured>().unwrap_err().to_string();
        assert!(told.contains("`9.86`") && told.contains("90 to 110"), "{told}");
    }
}
