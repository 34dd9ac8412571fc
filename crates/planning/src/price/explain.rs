//! How prices came about, and what is worth knowing about them.

use super::exact::{exact, rounded, whole};
use lay::finding::Page;
use rust_decimal::Decimal;

/// The findings of this module.
pub(crate) const PAGES: &[Page] = &[];

/// A part of 1 in per cent: `33.33 %`.
pub(crate) fn per_cent(part: Decimal) -> String {
    let shown = rounded(&(exact(part) * whole(100)), 2);
    shown.map_or_else(|_| part.to_string(), |p| format!("{} %", p.normalize()))
}
