//! What is changed by hand: from the document to the lay, its files and its plan.

use crate::Files;
use app::laying::{LaidOrder, lay_order};
use app::order::open;
use lay::{Finding, Unwatched};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

const KINDS: &str = r##"stonelay = 1
order = "Harbour lantern festival"
seed = 7

[[kind]]
name = "sea glass"
size = "SS16"

[[kind]]
name = "ember"
size = "SS30"
colour = "#c8553d"

[[kind]]
name = "dew"
size = "2 mm"

[[kind]]
name = "coral"
size = "SS16"
"##;

/// A badge in sea glass, filled with dew, with these keys and these changes.
fn badge(keys: &str, by_hand: &str) -> LaidOrder {
    let text = format!(
        "{KINDS}\n[[piece]]\nname = \"badge\"\nquantity = 3\nmargin = \"0.5 mm\"\n\
         blank = {{ shape = \"rectangle\", width = \"40 mm\", height = \"30 mm\" }}\n\
         mix = \"sea glass\"\nfillers = [\"dew\"]\n{keys}\nby_hand = [{by_hand}]\n"
    );
    let order = open("order.toml", text.as_bytes(), &Files::default());
    lay_order(order.unwrap_or_else(|e| panic!("{e}")), &Unwatched).unwrap()
}

const HONEYCOMB: &str = "arrangement = \"honeycomb\"";
const THREE: &str = r#"
    { set = ["20 mm", "15 mm"], kind = "ember", turn = "30 deg" },
    { clear = ["8 mm", "8 mm"] },
    { recolour = ["33 mm", "24 mm"], kind = "coral" },
"#;

fn by_hand(laid: &LaidOrder) -> Vec<&Finding> {
    let all = laid.pieces[0].findings().iter();
    all.filter(|f| f.code.starts_with("lay.by-hand")).collect()
}

fn count(laid: &LaidOrder, kind: &str) -> usize {
    laid.by_kind().iter().find(|k| k.0.name == kind).map_or(0, |k| k.1)
}

#[test]
fn places_count_to_the_right_and_down_and_kinds_are_those_of_the_shelf() {
    let laid = badge(HONEYCOMB, THREE);
    let p = &laid.pieces[0];
    assert!(by_hand(&laid).is_empty(), "{:?}", by_hand(&laid));
    let i = p.stone_at(20.0, 15.0).unwrap();
    let stone = p.lay.stones[i];
    assert!(stone.by_hand);
    assert_eq!((stone.place.u, stone.place.v, stone.place.turn_deg), (20.0, 15.0, 30.0));
    assert_eq!(p.asked.piece.kinds[stone.kind as usize].name, "ember");
    assert_eq!(p.stone_at(8.0, 8.0), None);
    let recoloured = p.lay.stones[p.stone_at(33.0, 24.0).unwrap()];
    assert_eq!(p.asked.piece.kinds[recoloured.kind as usize].name, "coral");
    assert!(!recoloured.by_hand);
    assert!((recoloured.place.u - 33.0).abs() < 2.0 && (recoloured.place.v - 6.0).abs() < 2.0);
    // In all three copies; kinds come in the shelf's order.
    let kinds: Vec<&str> = p.asked.piece.kinds.iter().map(|k| k.name.as_str()).collect();
    assert_eq!(kinds, ["sea glass", "ember", "dew", "coral"]);
    assert_eq!((count(&laid, "ember"), count(&laid, "coral")), (3, 3));
}

#[test]
fn without_changes_nothing_of_them_is_in_the_files() {
    let none = badge(HONEYCOMB, "");
    assert_eq!(none.pieces[0].asked.piece.kinds.len(), 2);
    assert!(!none.file().unwrap().to_json().contains("by_hand"));
}

#[test]
fn the_files_have_what_was_set() {
    let laid = badge(HONEYCOMB, THREE);
    let p = &laid.pieces[0];
    let json: serde_json::Value = serde_json::from_str(&laid.file().unwrap().to_json()).unwrap();
    let schema = serde_json::from_str(&export::json::schema()).unwrap();
    let valid = jsonschema::validator_for(&schema).unwrap();
    let wrong: Vec<String> = valid.iter_errors(&json).map(|e| e.to_string()).collect();
    assert_eq!(wrong, Vec::<String>::new());
    let stones = json["pieces"][0]["stones"].as_array().unwrap();
    let set: Vec<_> = stones.iter().filter(|s| s.get("by_hand").is_some()).collect();
    assert_eq!(set.len(), 1);
    assert_eq!(
        (set[0]["by_hand"].as_bool(), set[0]["turn_deg"].as_f64()),
        (Some(true), Some(30.0))
    );
    // A stone that is set by hand is another lay than the same one that is not.
    let mut same = p.lay.clone();
    same.stones.iter_mut().for_each(|s| s.by_hand = false);
    let hash = |lay: &lay::PieceLay| {
        let file = export::json::LayFile::new("", &[(&p.asked.piece, lay, 1)], "").unwrap();
        file.pieces[0].hash.clone()
    };
    assert_ne!(hash(&same), hash(&p.lay));
    let csv = export::csv(&[(&p.asked.piece, &p.lay)]);
    assert_eq!(csv.lines().filter(|l| l.contains("20.000000000,15.000000000")).count(), 1);
    let svg = export::svg(&drawing::picture(&p.asked.piece, &p.lay));
    assert!(svg.contains("1 ember (SS30)") && svg.contains("1 coral (SS16)"));
}

#[test]
fn a_place_copied_from_the_table_pins_a_stone_and_moves_none() {
    let before = badge(HONEYCOMB, "");
    let p = &before.pieces[0];
    let csv = export::csv(&[(&p.asked.piece, &p.lay)]);
    let pin = |line: &str| {
        let field = |i: usize| line.split(',').nth(i).unwrap().to_owned();
        format!("{{ set = [\"{} mm\", \"{} mm\"], kind = \"{}\" }},", field(6), field(7), field(4))
    };
    let own = p.lay.stones.len() - p.lay.zones[0].n_fillers;
    let pins: String = csv.lines().skip(1).take(own).map(pin).collect();
    let pinned = badge(HONEYCOMB, &pins);
    assert!(by_hand(&pinned).is_empty());
    let (a, b) = (&p.lay.stones, &pinned.pieces[0].lay.stones);
    assert_eq!(a.len(), b.len());
    assert!(a.iter().zip(b).all(|(a, b)| a.place == b.place && a.kind == b.kind));
    assert_eq!(b.iter().filter(|s| s.by_hand).count(), own);
}

#[test]
fn changes_outlast_another_arrangement() {
    for keys in [
        "arrangement = \"square\"",
        "arrangement = \"rings\"",
        "arrangement = \"scatter\"",
        "arrangement = \"honeycomb\"\nspacing = \"0.6 mm\"",
        "arrangement = \"honeycomb\"\nrows = \"even\"\nset_by = \"touch\"",
    ] {
        let laid = badge(keys, THREE);
        let p = &laid.pieces[0];
        let set = p.lay.stones[p.stone_at(20.0, 15.0).unwrap()];
        assert!(set.by_hand, "{keys}");
        assert_eq!(p.stone_at(8.0, 8.0), None, "{keys}");
        let recoloured = p.stone_at(33.0, 24.0).map(|i| p.lay.stones[i].kind);
        let said = by_hand(&laid).iter().any(|f| f.text.starts_with("change 3 by hand"));
        assert!(recoloured == Some(3) || said, "{keys}");
    }
}

#[test]
fn what_no_longer_fits_is_a_finding_with_its_place() {
    let laid = badge(
        HONEYCOMB,
        r#"{ set = ["2 mm", "15 mm"], kind = "ember" }, { clear = ["50 mm", "4 mm"] }"#,
    );
    let found = by_hand(&laid);
    let said: Vec<(&str, f64)> = found.iter().map(|f| (f.code, f.place.unwrap().u)).collect();
    assert_eq!(said, [("lay.by-hand-outside", 2.0), ("lay.by-hand-nothing", 50.0)]);
    // Half of 6.5 mm and the margin are 3.75 mm.
    assert_eq!(found[0].measured.as_deref(), Some("1.75 mm missing"));
    assert!(found.iter().all(|f| app::pages::page(f.code).is_some()));
}

#[test]
fn ten_thousand_changes_are_read_and_one_more_is_not() {
    let with = |n: usize| {
        let by_hand = "{ clear = [\"8 mm\", \"8 mm\"] },\n".repeat(n);
        let text = format!(
            "{KINDS}\n[[piece]]\nname = \"badge\"\nmix = \"sea glass\"\n{HONEYCOMB}\n\
             blank = {{ shape = \"circle\", diameter = \"40 mm\" }}\nby_hand = [{by_hand}]\n"
        );
        open("order.toml", text.as_bytes(), &Files::default())
    };
    assert_eq!(with(10_000).unwrap().pieces[0].piece.changes.len(), 10_000);
    let refused = with(10_001).unwrap_err();
    assert_eq!(refused.faults.len(), 1);
    assert_eq!(refused.faults[0].text, "10,001 changes by hand are too many");
    assert_eq!(refused.faults[0].hint.as_deref(), Some("a piece has at most 10,000"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, rng_seed: RngSeed::Fixed(20_264), ..ProptestConfig::default() })]

    #[test]
    fn random_changes_give_a_sound_lay_and_none_is_lost(
        asked in prop::collection::vec((0..3_u8, -20..440_i32, -20..320_i32, 0..4_usize), 0..30),
        which in 0..4_usize,
    ) {
        let keys = ["honeycomb", "square", "rings", "scatter"][which];
        let kinds = ["sea glass", "ember", "dew", "coral"];
        let change = |&(what, x, y, kind): &(u8, i32, i32, usize)| {
            let at = format!("[\"{} mm\", \"{} mm\"]", f64::from(x) / 10.0, f64::from(y) / 10.0);
            match what {
                0 => format!("{{ set = {at}, kind = \"{}\" }},", kinds[kind]),
                1 => format!("{{ clear = {at} }},"),
                _ => format!("{{ recolour = {at}, kind = \"{}\" }},", kinds[kind]),
            }
        };
        let by_hand: String = asked.iter().map(change).collect();
        let laid = badge(&format!("arrangement = \"{keys}\""), &by_hand);
        let p = &laid.pieces[0];
        prop_assert!(p.findings().iter().all(|f| f.code != "lay.unsound"));
        let at = |i: usize| (f64::from(asked[i].1) / 10.0, 30.0 - f64::from(asked[i].2) / 10.0);
        for (i, ask) in asked.iter().enumerate() {
            let here = |s: &&lay::Stone| {
                (s.place.u - at(i).0).abs() < 1e-6 && (s.place.v - at(i).1).abs() < 1e-6
            };
            let set = p.lay.stones.iter().filter(here).any(|s| s.by_hand);
            let named = format!("change {} by hand: ", i + 1);
            let said = p.findings().iter().any(|f| f.text.starts_with(&named));
            let cleared = asked[i + 1..].iter().any(|a| a.0 == 1);
            prop_assert!(ask.0 != 0 || set || said || cleared, "change {} is lost", i + 1);
        }
        // Every stone once at the bench.
        let plan = app::plan::plan(&laid, jiff::civil::date(2026, 11, 25), &Unwatched).unwrap();
        let mut order: Vec<u32> =
            plan.stretches[0].stretches.stretches.iter().flat_map(|s| s.order.clone()).collect();
        order.sort_unstable();
        prop_assert_eq!(order, (1..=p.lay.stones.len() as u32).collect::<Vec<_>>());
    }
}
