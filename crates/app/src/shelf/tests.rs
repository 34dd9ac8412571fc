//! Tables as spreadsheets write them, good and bad.

use super::*;
use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, RngSeed};
use std::str::FromStr;

const KINDS: &[&str] = &["sea glass", "deep water", "lantern, red"];

fn rows(text: &str) -> Vec<Row> {
    match read("shelf.csv", text.as_bytes(), KINDS) {
        Ok(rows) => rows,
        Err(refused) => panic!("{}", refused.plain()),
    }
}

/// Line, text and hint of every fault.
fn faults(bytes: &[u8]) -> Vec<(usize, String, String)> {
    let refused = read("shelf.csv", bytes, KINDS).unwrap_err();
    let line = |f: &Fault| refused.line_and_column(f.span.start).0;
    let hint = |f: &Fault| f.hint.clone().unwrap_or_default();
    refused.faults.iter().map(|f| (line(f), f.text.clone(), hint(f))).collect()
}

fn row(kind: &str, stones: u64, lot: Option<&str>, reserved: u64, price: Option<&str>) -> Row {
    let price = price.map(|p| Decimal::from_str(p).unwrap());
    Row { kind: kind.into(), stones, lot: lot.map(Into::into), reserved, price }
}

#[test]
fn semicolons_a_byte_order_mark_decimal_commas_and_blank_rows_are_read() {
    let text = "\u{feff}\r\nPRICE;Kind;Lot;STONES;reserved\r\n0,004;sea glass;A17;1200;200\r\n\r\n;;;;\r\n;Deep Water;;50,00;\r\n";
    let wanted = [
        row("sea glass", 1200, Some("A17"), 200, Some("0.004")),
        row("deep water", 50, None, 0, None),
    ];
    assert_eq!(rows(text), wanted);
}

#[test]
fn commas_quotes_and_tabs_are_read() {
    let wanted = [row("lantern, red", 7, Some("a \"b\""), 0, Some("0.5"))];
    assert_eq!(rows("kind,lot,stones,price\n\"lantern, red\",\"a \"\"b\"\"\",7,\"0,5\"\n"), wanted);
    assert_eq!(rows("kind\tlot\tstones\tprice\nlantern, red\t\"a \"\"b\"\"\"\t7\t0.5"), wanted);
    assert_eq!(rows("sep=;\nkind;lot;stones;price\nlantern, red;\"a \"\"b\"\"\";7;0.5"), wanted);
}

#[test]
fn every_fault_is_told_with_its_line() {
    let text = "kind;stones;lot;reserved;price;note\n\
                sea glas;5;;;;\n\
                sea glass;-3;;;;\n\
                \n\
                sea glass;1.200;;;;\n\
                sea glass;99999999999999999999;;;;\n\
                sea glass;10;;11;;\n\
                sea glass;10;A;;4 EUR;\n\
                sea glass;10;A;;-1;\n\
                sea glass;10;A;;1.234,5;\n\
                ;10;A;;;\n\
                sea glass;;A;;;\n\
                sea glass;1;A;;0.1;odd;more\n";
    let found = faults(text.as_bytes());
    let told: Vec<(usize, &str)> = found.iter().map(|f| (f.0, f.1.as_str())).collect();
    let wanted = [
        (2, "unknown kind: `sea glas`"),
        (3, "below 0: -3"),
        (5, "not a whole number: `1.200`"),
        (6, "out of range: 99999999999999999999"),
        (7, "11 stones are reserved, but only 10 are there"),
        (8, "not a price: `4 EUR`"),
        (9, "below 0: -1"),
        (10, "not a price: `1.234,5`"),
        (11, "the kind is missing"),
        (12, "the count of stones is missing"),
        (13, "more cells than columns: `more`"),
    ];
    assert_eq!(told, wanted);
    assert_eq!(found[0].2, "did you mean `sea glass`?");
}

#[test]
fn the_same_kind_and_lot_twice_names_both_lines() {
    let text = "kind,stones,lot\nsea glass,1,A\nsea glass,2,B\n\nSea Glass,3,A\n";
    let refused = read("shelf.csv", text.as_bytes(), KINDS).unwrap_err();
    let fault = &refused.faults[0];
    assert_eq!(refused.line_and_column(fault.span.start).0, 5);
    let (first, _) = fault.other.clone().unwrap();
    assert_eq!(refused.line_and_column(first.start).0, 2);
}

#[test]
fn a_header_that_is_not_understood_suggests_what_is_meant() {
    let found = faults(b"Kinds;Quantity;colour of box\nsea glass;4;blue\n");
    let hint = |text: &str| found.iter().find(|f| f.1 == text).map(|f| f.2.as_str());
    assert_eq!(hint("unknown column: `Kinds`"), Some("did you mean `kind`?"));
    assert_eq!(hint("unknown column: `Quantity`"), Some("did you mean `stones`?"));
    assert!(hint("unknown column: `colour of box`").is_some());
    assert!(hint("the column `stones` is missing").is_some());
    assert_eq!(faults(b"kind,stones,kind\n")[0].1, "the column `kind` is there twice");
}

#[test]
fn other_encodings_say_how_to_save() {
    let found = faults(b"kind;stones\nsea glass;1\nm\xfcnze;2\n");
    assert_eq!(found[0].0, 3);
    assert!(found[0].1.contains("not UTF-8") && found[0].2.contains("CSV UTF-8"), "{found:?}");
    assert!(faults(&[0xff, 0xfe, b'k', 0, b'i', 0])[0].1.contains("UTF-16"));
    assert_eq!(faults(b"")[0].1, "the table is empty");
}

#[test]
fn an_open_quote_is_told_where_it_opens() {
    let found = faults(b"kind,stones,lot\nsea glass,1,\"A\ndeep water,2,B\n");
    assert_eq!((found[0].0, found[0].1.as_str()), (2, "a cell goes on in the next line"));
}

fn cases(n: u32) -> ProptestConfig {
    ProptestConfig {
        cases: n,
        failure_persistence: None,
        rng_algorithm: RngAlgorithm::ChaCha,
        rng_seed: RngSeed::Fixed(20_263),
        ..ProptestConfig::default()
    }
}

proptest! {
    #![proptest_config(cases(256))]
    #[test]
    fn what_is_written_is_read_again(
        shelf in prop::collection::vec(
            (0usize..3, "[!-~][ -~éß;]{0,10}[!-~]", 0u64..2_000_000, 0u64..9, prop::option::of(0i64..90_000)),
            0..9,
        ),
    ) {
        let mut shelf: Vec<Row> = shelf.into_iter().map(|(k, lot, stones, reserved, price)| Row {
            kind: KINDS[k].into(), stones: stones + 9, lot: (reserved > 0).then_some(lot), reserved,
            price: price.map(|p| Decimal::new(p, 5)),
        }).collect();
        shelf.sort_by(|a, b| (&a.kind, &a.lot).cmp(&(&b.kind, &b.lot)));
        shelf.dedup_by(|a, b| (&a.kind, &a.lot) == (&b.kind, &b.lot));
        let text = write(&shelf);
        prop_assert_eq!(read("shelf.csv", text.as_bytes(), KINDS).unwrap(), shelf);
    }

    #[test]
    fn no_bytes_do_more_harm_than_a_message(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        if let Err(refused) = read("shelf.csv", &bytes, KINDS) {
            prop_assert!(!refused.faults.is_empty());
            prop_assert!(!refused.pretty(false).is_empty());
        }
    }

    #[test]
    fn no_table_does_more_harm_than_a_message(text in "(kind|stones|lot|price|[;,\t\n\r\"]|[0-9.,-]{1,4}|sea glass|é){0,60}") {
        if let Err(refused) = read("shelf.csv", text.as_bytes(), KINDS) {
            prop_assert!(refused.faults.iter().all(|f| f.span.end <= refused.source.len()));
            prop_assert!(!refused.pretty(false).is_empty());
        }
    }
}
