//! The list of positions: what stands above it, and that it says what the table says.

use crate::support::plaque;
use export::{csv, positions};

#[test]
fn the_list_says_what_it_means() {
    let (piece, lay) = plaque();
    let text = positions(&piece, &lay).replace('\t', "|");
    let head: Vec<&str> = text.lines().take(15).collect();
    insta::assert_snapshot!(head.join("\n"));
}

#[test]
fn the_list_agrees_with_the_table() {
    let (piece, lay) = plaque();
    let (list, table) = (positions(&piece, &lay), csv(&[(&piece, &lay)]));
    let lines: Vec<Vec<&str>> = list
        .lines()
        .skip_while(|l| !l.trim_start().starts_with("no\t"))
        .map(|l| l.split('\t').map(str::trim).collect())
        .collect();
    assert_eq!(lines[0], ["no", "zone", "row", "x_mm", "y_mm", "wide_mm", "kind"]);
    let mut table = ::csv::Reader::from_reader(table.as_bytes());
    let rows: Vec<_> = table.records().map(Result::unwrap).collect();
    assert_eq!(lines.len(), rows.len() + 1);
    for (line, row) in lines[1..].iter().zip(&rows) {
        assert_eq!([line[0], line[2]], [&row[2], &row[3]]);
        for (mine, theirs) in [(3, 6), (4, 7), (5, 8)] {
            let (a, b): (f64, f64) = (line[mine].parse().unwrap(), row[theirs].parse().unwrap());
            assert!((a - b).abs() <= 0.000_500_1, "{line:?}");
        }
    }
}

#[test]
fn columns_stand_below_each_other_on_a_piece_of_two_metres() {
    let (mut piece, mut lay) = plaque();
    piece.blank = piece.blank.scaled(100.0);
    lay.stones
        .iter_mut()
        .for_each(|s| (s.place.u, s.place.v) = (s.place.u * 100.0, s.place.v * 100.0));
    let list = positions(&piece, &lay);
    let table = list.lines().skip_while(|l| !l.trim_start().starts_with("no\t"));
    let ends: Vec<Vec<usize>> =
        table.map(|l| l.split('\t').map(str::len).take(6).collect()).collect();
    assert!(ends.len() > 3 && ends.iter().all(|e| *e == [7, 7, 7, 15, 15, 7]), "{ends:?}");
}
