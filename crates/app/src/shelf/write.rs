//! The shelf as CSV that spreadsheets read, and so do we.

use super::Row;

/// The rows as CSV: UTF-8, commas, a point in decimals, the header first. [`read`](super::read) gives
/// the same rows back.
pub fn write(rows: &[Row]) -> String {
    let mut writer = csv::WriterBuilder::new().from_writer(vec![]);
    let mut ok = writer.write_record(["kind", "stones", "lot", "reserved", "price"]).is_ok();
    for row in rows {
        let cells = [
            row.kind.clone(),
            row.stones.to_string(),
            row.lot.clone().unwrap_or_default(),
            row.reserved.to_string(),
            row.price.map(|p| p.to_string()).unwrap_or_default(),
        ];
        ok &= writer.write_record(cells).is_ok();
    }
    debug_assert!(ok, "writing into memory cannot fail");
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}
