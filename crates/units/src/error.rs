//! Why a quantity could not be read.

/// Why a text is no quantity. `Display` says what is wrong, [`hint`](ReadError::hint) what would be
/// right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ReadError {
    /// There is no text.
    #[error("there is no {what} here")]
    Empty {
        /// What was to be read: `length`, `angle` …
        what: &'static str,
        /// A text that would do.
        example: &'static str,
    },
    /// The text does not begin with a number.
    #[error("`{text}` does not begin with a number")]
    NoNumber {
        /// The text as given.
        text: String,
        /// A text that would do.
        example: &'static str,
    },
    /// A comma stands in the number.
    #[error("a comma stands in the number: `{text}`")]
    Comma {
        /// The text as given.
        text: String,
        /// The text with points in place of its commas.
        with_point: String,
    },
    /// A fraction is divided by zero or is otherwise no fraction.
    #[error("not a fraction: `{text}`")]
    BadFraction {
        /// The text as given.
        text: String,
    },
    /// The number is too large to be kept.
    #[error("the number is too large: `{text}`")]
    TooLarge {
        /// The text as given.
        text: String,
    },
    /// The number stands alone.
    #[error("the unit is missing: `{text}`")]
    NoUnit {
        /// The text as given.
        text: String,
        /// The units there are.
        units: &'static str,
        /// The unit to try first.
        usual: &'static str,
    },
    /// The unit is not known.
    #[error("unknown unit `{unit}`")]
    UnknownUnit {
        /// The unit as given.
        unit: String,
        /// The units there are.
        units: &'static str,
    },
    /// The quantity is below zero, or zero where there must be something.
    #[error("less than nothing: `{text}`")]
    Negative {
        /// The text as given.
        text: String,
    },
    /// There are not two parts with a colon between them.
    #[error("not a mixing ratio: `{text}`")]
    NoRatio {
        /// The text as given.
        text: String,
    },
    /// A share is below nothing or above everything.
    #[error("a share lies between 0 % and 100 %: `{text}`")]
    NoShare {
        /// The text as given.
        text: String,
    },
    /// There are not two lengths with a cross between them.
    #[error("not two lengths: `{text}`")]
    NotTwo {
        /// The text as given.
        text: String,
    },
}

impl ReadError {
    /// What would be right.
    pub fn hint(&self) -> String {
        match self {
            ReadError::Empty { example, .. } | ReadError::NoNumber { example, .. } => {
                format!("write it like `{example}`")
            }
            ReadError::Comma { with_point, .. } => {
                format!(
                    "decimals are written with a point, thousands without a mark: `{with_point}`"
                )
            }
            ReadError::BadFraction { .. } => {
                "write a fraction like `1/8` or `2 1/4`, with whole numbers".to_owned()
            }
            ReadError::TooLarge { .. } => "check the exponent".to_owned(),
            ReadError::NoUnit { text, units, usual } => {
                format!("the units are {units}; perhaps `{} {usual}`", text.trim())
            }
            ReadError::UnknownUnit { units, .. } => format!("the units are {units}"),
            ReadError::Negative { .. } => "it must be above 0".to_owned(),
            ReadError::NoRatio { .. } => "write it like `1:1` or `100:85`".to_owned(),
            ReadError::NoShare { .. } => "write it like `30 %`, `0.3` or `1/3`".to_owned(),
            ReadError::NotTwo { .. } => "write it like `3 in x 5 in` or `60 x 40 mm`".to_owned(),
        }
    }
}
