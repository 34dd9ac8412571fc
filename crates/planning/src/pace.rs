//! How fast a maker sets stones.

/// Stones an hour on one sort of work.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pace {
    /// The usual pace, stones/h: hours and price go by it.
    pub usual_per_h: f64,
    /// The pace that is kept or beaten nine times in ten, stones/h: what has to be done before an
    /// adhesive skins over goes by it.
    pub slow_per_h: f64,
}
