//! The JSON against its schema, and its hashes.

use crate::support::plaque;
use export::json::{LayFile, schema};
use serde_json::Value;
use sha2::{Digest, Sha256};

const ENGINE: &str = "stonelay 0.1.0";

fn file() -> LayFile {
    let (piece, lay) = plaque();
    LayFile::new("Harbour lantern festival", &[(&piece, &lay, 18)], ENGINE).unwrap()
}

#[test]
fn a_small_piece() {
    insta::assert_snapshot!(file().to_json());
}

#[test]
fn it_keeps_to_its_schema_and_the_schema_refuses_what_is_wrong() {
    let schema: Value = serde_json::from_str(&schema()).unwrap();
    let validator = jsonschema::validator_for(&schema).unwrap();
    let good: Value = serde_json::from_str(&file().to_json()).unwrap();
    let errors: Vec<String> = validator.iter_errors(&good).map(|e| e.to_string()).collect();
    assert_eq!(errors, Vec::<String>::new());

    let spoil = |what: &str, with: Value| {
        let mut bad = good.clone();
        *bad.pointer_mut(what).unwrap() = with;
        bad
    };
    let cases = [
        ("another format", spoil("/format", "other".into())),
        ("another version", spoil("/version", 2.into())),
        ("a hash that is none", spoil("/pieces/0/hash", "abc".into())),
        ("an unknown arrangement", spoil("/pieces/0/zones/0/arrangement", "heap".into())),
        ("a place in words", spoil("/pieces/0/stones/0/u", "left".into())),
        ("a stone without anything", spoil("/pieces/0/stones/0", serde_json::json!({}))),
        ("a half arc", {
            let arc = serde_json::json!({"to": [0, 0], "centre": [0, 0]});
            spoil("/pieces/0/blank/region/rings/0/segments/0", arc)
        }),
    ];
    for (name, bad) in cases {
        assert!(!validator.is_valid(&bad), "{name} passed");
    }
    for key in ["hash", "chart", "stones"] {
        let mut bad = good.clone();
        bad.pointer_mut("/pieces/0").unwrap().as_object_mut().unwrap().remove(key);
        assert!(!validator.is_valid(&bad), "without {key} it passed");
    }
}

#[test]
fn the_committed_schema_is_the_one_of_the_code() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/lay.schema.json");
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert!(committed == schema(), "write it anew: cargo xtask docs");
}

#[test]
fn numbers_read_back_as_the_same_number() {
    let (_, lay) = plaque();
    let read: Value = serde_json::from_str(&file().to_json()).unwrap();
    let stones = read.pointer("/pieces/0/stones").unwrap().as_array().unwrap();
    for (read, stone) in stones.iter().zip(&lay.stones) {
        assert_eq!(read["u"].as_f64(), Some(stone.place.u));
        assert_eq!(read["v"].as_f64(), Some(stone.place.v));
    }
}

/// As a stranger would, from the text alone: read, take the hash out, write canonically, hash.
#[test]
fn a_stranger_computes_the_same_hash() {
    let mut read: Value = serde_json::from_str(&file().to_json()).unwrap();
    let piece = read.pointer_mut("/pieces/0").unwrap().as_object_mut().unwrap();
    let hash = piece.remove("hash").unwrap();
    piece.remove("quantity");
    piece.remove("findings");
    for zone in piece["zones"].as_array_mut().unwrap() {
        zone.as_object_mut().unwrap().remove("note");
    }
    let canonical = serde_json_canonicalizer::to_vec(piece).unwrap();
    let computed: String = Sha256::digest(&canonical).iter().map(|b| format!("{b:02x}")).collect();
    assert_eq!(hash.as_str(), Some(computed.as_str()));
}

#[test]
fn the_hash_is_of_the_piece_and_of_nothing_else() {
    let hash = |file: &LayFile| file.pieces[0].hash.clone();
    let known = hash(&file());
    assert_eq!(file().pieces[0].computed_hash().unwrap(), known);

    let (piece, lay) = plaque();
    let other = LayFile::new("another order", &[(&piece, &lay, 18)], "stonelay 9.9.9").unwrap();
    assert_eq!(hash(&other), known, "order and engine do not count");
    let more = LayFile::new("", &[(&piece, &lay, 19)], ENGINE).unwrap();
    assert_eq!(hash(&more), known, "how many are made does not count");
    let mut said = lay.clone();
    said.findings.clear();
    said.zones[0].note = Some("said otherwise".into());
    let said = LayFile::new("", &[(&piece, &said, 18)], ENGINE).unwrap();
    assert_eq!(hash(&said), known, "words do not count");

    for no in 0..lay.stones.len() {
        let mut moved = lay.clone();
        moved.stones[no].place.v += 1e-9;
        let moved = LayFile::new("", &[(&piece, &moved, 18)], ENGINE).unwrap();
        assert_ne!(hash(&moved), known, "stone {} moved by 1e-9 mm", no + 1);
    }
}

#[test]
fn what_json_cannot_hold_is_refused() {
    let refused = |spoil: &dyn Fn(&mut lay::Piece, &mut lay::PieceLay)| {
        let (mut piece, mut lay) = plaque();
        spoil(&mut piece, &mut lay);
        LayFile::new("", &[(&piece, &lay, 1)], ENGINE).unwrap_err().to_string()
    };
    let cases = [
        refused(&|_, lay| lay.zones[0].coverage = f64::NAN),
        refused(&|_, lay| lay.stones[8].place.u = f64::INFINITY),
        refused(&|_, lay| lay.zones[1].bare_spots[0].diameter_mm = f64::NAN),
        refused(&|piece, _| piece.kinds[2].fit_mm = f64::NEG_INFINITY),
        refused(&|piece, _| piece.zones[1].margin_mm = f64::NAN),
    ];
    insta::assert_snapshot!(cases.join("\n"));
}

#[test]
fn same_lay_same_bytes() {
    assert_eq!(file().to_json(), file().to_json());
}

#[test]
fn the_hash_of_an_order_is_that_of_its_lines() {
    // printf 'aa 2\nbb 1\n' | sha256sum
    let want = "70cb357ffc52af0aa26800b7ba525ef00d79110fabc1ea51e452bba964a026c2";
    let hash = export::json::whole_hash([("aa", 2), ("bb", 1)].into_iter());
    assert_eq!(hash, want);
    assert_ne!(export::json::whole_hash([("bb", 1), ("aa", 2)].into_iter()), hash);
    assert_ne!(export::json::whole_hash([("aa", 3), ("bb", 1)].into_iter()), hash);
}
