//! The table, read back by another reader.

use crate::support::plaque;

#[test]
fn a_small_piece() {
    let (piece, lay) = plaque();
    insta::assert_snapshot!(export::csv(&[(&piece, &lay)]));
}

#[test]
fn another_reader_finds_every_stone_where_the_lay_has_it() {
    let (piece, lay) = plaque();
    let text = export::csv(&[(&piece, &lay)]);
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let columns = reader.headers().unwrap().clone();
    let col = |name: &str| columns.iter().position(|c| c == name).unwrap();
    let bounds = piece.blank.bounds();
    let rows: Vec<::csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), lay.stones.len());
    for (row, stone) in rows.iter().zip(&lay.stones) {
        let number = |name: &str| row[col(name)].parse::<f64>().unwrap();
        let kind = &piece.kinds[stone.kind as usize];
        assert_eq!(&row[col("piece")], piece.name);
        assert_eq!(&row[col("kind")], kind.name);
        // Half of the last of nine decimals, and the rounding of the subtraction.
        assert!((number("x_mm") - (stone.place.u - bounds.min.x)).abs() < 0.6e-9);
        assert!((number("y_mm") - (bounds.max.y - stone.place.v)).abs() < 0.6e-9);
        assert_eq!(number("drawn_mm"), kind.reach_mm);
        let pitch = if stone.zone == 0 { kind.fit_mm } else { kind.reach_mm };
        assert_eq!(number("pitch_mm"), pitch);
    }
}
