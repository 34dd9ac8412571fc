//! How much of a drawing is read: beyond these a file is an accident or an attack, not a blank.

/// Bytes of a file. A traced outline of 100,000 points takes about 2 MB.
pub(crate) const BYTES: usize = 8 * 1024 * 1024;

/// Elements within elements, those reached by `use` included. Readers recurse once for each.
pub(crate) const DEPTH: usize = 128;

/// Elements, copies made by `use` and markers included.
pub(crate) const ELEMENTS: u64 = 100_000;

/// Style rules times elements: each rule is held against each element.
pub(crate) const STYLE_MATCHES: u64 = 5_000_000;

/// Corners of the flattened outline: a metre of edge has about 3,000.
pub(crate) const CORNERS: usize = 400_000;

/// Crossings of its edges with one another, estimated.
pub(crate) const CROSSINGS: u64 = 500_000;

/// Dashes of one line.
pub(crate) const DASHES: u64 = 50_000;

/// Shortest side of an outline, mm.
pub(crate) const SMALLEST_MM: f64 = 0.5;

/// Longest side of an outline, mm.
pub(crate) const LARGEST_MM: f64 = 5_000.0;

/// Parts and holes smaller than this are dropped, mm²: a tenth of a millimetre square.
pub(crate) const SPECK_MM2: f64 = 0.01;
