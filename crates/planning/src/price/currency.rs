//! Currencies by ISO 4217.

use super::PriceError;

/// A currency by its ISO 4217 code, with the number of digits of its smallest unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Currency {
    code: iso_currency::Currency,
    digits: u32,
}

impl Currency {
    /// The currency of a three-letter code, in capitals or not.
    ///
    /// # Errors
    /// No code of ISO 4217, or one without a smallest unit, such as gold.
    pub fn new(code: &str) -> Result<Currency, PriceError> {
        let wrong = || PriceError::Currency(code.to_owned());
        let known = iso_currency::Currency::from_code(&code.trim().to_ascii_uppercase());
        let known = known.ok_or_else(wrong)?;
        let digits = u32::from(known.exponent().ok_or_else(wrong)?);
        Ok(Currency { code: known, digits })
    }

    /// The three letters.
    pub fn code(self) -> &'static str {
        self.code.code()
    }

    /// Decimal digits of the smallest unit: 2 for EUR, 0 for JPY, 3 for KWD.
    pub fn digits(self) -> u32 {
        self.digits
    }
}
