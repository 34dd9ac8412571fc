//! The trade's size chart of round flat-backs.

/// Diameter range of the round sizes, mm: (SS, smallest, largest).
///
/// Source: the trade's size chart; two independent copies and a maker's own table agree within
/// 0.05 mm from SS12 to SS42. SS3 to SS11 differ between makers, SS48 comes from one. Shops also
/// sell other diameters under these names, so a measured diameter may always be given instead.
pub const ROUND: &[(u32, f64, f64)] = &[
    (3, 1.35, 1.50),
    (4, 1.50, 1.70),
    (5, 1.70, 1.90),
    (6, 1.90, 2.10),
    (7, 2.10, 2.30),
    (8, 2.30, 2.50),
    (9, 2.50, 2.70),
    (10, 2.70, 2.90),
    (11, 2.90, 3.00),
    (12, 3.00, 3.20),
    (13, 3.20, 3.40),
    (14, 3.40, 3.60),
    (15, 3.60, 3.80),
    (16, 3.80, 4.00),
    (17, 4.00, 4.20),
    (18, 4.20, 4.40),
    (19, 4.40, 4.60),
    (20, 4.60, 4.80),
    (22, 4.90, 5.10),
    (24, 5.27, 5.44),
    (28, 5.96, 6.14),
    (29, 6.14, 6.32),
    (30, 6.32, 6.50),
    (32, 6.68, 6.87),
    (34, 7.07, 7.27),
    (36, 7.48, 7.70),
    (38, 7.93, 8.16),
    (40, 8.41, 8.67),
    (42, 8.95, 9.23),
    (48, 10.90, 11.30),
];

/// The diameter range of round size `ss`, mm (smallest, largest).
pub fn round(ss: u32) -> Option<(f64, f64)> {
    ROUND.iter().find(|r| r.0 == ss).map(|r| (r.1, r.2))
}
