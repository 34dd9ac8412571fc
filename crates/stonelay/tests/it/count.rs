//! `count`.

use crate::support::{Run, run};
use serde_json::Value;

fn count(args: &[&str]) -> Run {
    let folder = tempfile::tempdir().unwrap();
    run(folder.path(), &[&["count"], args].concat())
}

#[test]
fn a_customer_on_the_phone() {
    insta::assert_snapshot!(count(&["3 in x 5 in", "SS16", "honeycomb"]).shown());
    insta::assert_snapshot!(count(&["80 mm", "4 mm", "rings", "--pack", "500"]).shown());
}

#[test]
fn json_follows_its_schema() {
    let json = count(&["60 x 40 mm", "SS16", "square", "--touch", "--json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let schema: Value =
        serde_json::from_str(include_str!("../../../../docs/count.schema.json")).unwrap();
    assert!(jsonschema::is_valid(&schema, &json));
    // Worked by hand: 15 × 10 stones of 3.9 mm in 60 × 40 mm.
    assert_eq!(json["ways"][0]["stones"], 150);
    assert_eq!(json["ways"][0]["packs"], 2);
}

#[test]
fn a_cup_wall_unrolled_agrees_with_the_published_count() {
    // A retailer's page for a 24 oz cold cup, the whole wall in touching SS16: 2,800 to 3,200
    // stones; its wall is a ring sector, here taken as a rectangle of the same area and height
    // (mean girth π · 82.5 mm by 150 mm, measures from memory). Geometry at the mid diameter gives
    // 2,969 without edges. Another page says 5,000 to 7,000, which is impossible: coverage would
    // exceed π/√12.
    let json = count(&["259.2 x 150.9 mm", "SS16", "honeycomb", "--touch", "--json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    let best = json["best"].as_u64().unwrap() as usize;
    let stones = json["ways"][best]["stones"].as_u64().unwrap();
    assert!((2_800..=2_969).contains(&stones), "{stones}");
    let disc = std::f64::consts::FRAC_PI_4 * 3.9 * 3.9;
    assert!(5_000.0 * disc / (259.2 * 150.9) > std::f64::consts::PI / 12.0_f64.sqrt());
}

#[test]
fn bad_questions_are_answered_clearly() {
    let asked: [&[&str]; 12] = [
        &["3 x 5", "SS16"],
        &["3 in x 5 in x 2 in", "SS16"],
        &["-3 in x 5 in", "SS16"],
        &["0 mm", "SS16"],
        &["9 m x 9 m", "SS16"],
        &["3 in x 5 in", "SS21"],
        &["3 in x 5 in", "big"],
        &["3 in x 5 in", "0 mm"],
        &["3 in x 5 in", "SS16", "squares"],
        &["4 m x 4 m", "1 mm"],
        &["3 in x 5 in", "SS16", "square", "--spacing", "1,5 mm"],
        &["3 in x 5 in", "SS16", "square", "--margin", "2 furlongs"],
    ];
    let mut text = String::new();
    for args in asked {
        let answer = count(args);
        assert_eq!(answer.code, 2, "{args:?}");
        text += &format!("{}\n{}\n\n", args.join(" | "), answer.shown());
    }
    insta::assert_snapshot!(text);
}

#[test]
fn a_stone_larger_than_the_blank_is_no_error() {
    insta::assert_snapshot!(count(&["3 mm x 5 mm", "SS48", "square"]).shown());
}
