//! Why there is no paper.

/// Why there is no paper.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum PaperError {
    /// The watcher stopped it.
    #[error("stopped")]
    Stopped,
    /// It would be more pages than anybody prints.
    #[error("it would be {pages} pages; the most is {most}")]
    TooManyPages {
        /// How many it would be.
        pages: usize,
        /// How many there may be.
        most: usize,
    },
    /// What was measured on the test page cannot be.
    #[error(transparent)]
    Measured(#[from] crate::MeasuredError),
    /// A quote is asked for, and nothing says what to charge.
    #[error("the order names no currency, so there is no price")]
    NoPrice,
    /// The typesetter refused: our mistake.
    #[error("the paper could not be set: {0}")]
    Set(String),
}

impl From<lay::Stopped> for PaperError {
    fn from(_: lay::Stopped) -> PaperError {
        PaperError::Stopped
    }
}
