//! `lay` and `check`.

use crate::support::{badge, run};
use serde_json::Value;

#[test]
fn the_report_gives_the_answer_first() {
    let folder = badge();
    let run = run(folder.path(), &["lay", "order.toml", "--ways"]);
    insta::assert_snapshot!(run.shown());
    assert!(run.out.lines().all(|l| l.chars().count() <= 80), "wider than 80 columns");
}

#[test]
fn files_are_written_once_and_replaced_only_when_told() {
    let folder = badge();
    let lay = ["lay", "order.toml", "--out", "pictures"];
    assert_eq!(run(folder.path(), &lay).code, 0);
    let file = |name: &str| folder.path().join("pictures").join(name);
    for name in ["small-badge.svg", "small-badge.csv", "small-badge.png"] {
        assert!(file(name).is_file(), "{name}");
    }
    std::fs::write(file("small-badge.csv"), "mine").unwrap();
    let again = run(folder.path(), &lay);
    insta::assert_snapshot!(again.shown());
    assert_eq!(std::fs::read_to_string(file("small-badge.csv")).unwrap(), "mine");

    let replaced = run(folder.path(), &[&lay[..], &["--replace"]].concat());
    assert_eq!(replaced.code, 0);
    assert!(std::fs::read_to_string(file("small-badge.csv")).unwrap().starts_with("piece,zone,"));
}

#[test]
fn each_sort_of_file_is_written_when_it_is_asked_for() {
    let folder = badge();
    let names: Vec<&str> = app::files::FileSort::ALL.iter().map(|s| s.name()).collect();
    let lay = ["lay", "order.toml", "--out", "all", "--as", &names.join(","), "--dpi", "200"];
    let done = run(folder.path(), &lay);
    assert_eq!(done.code, 0, "{}", done.shown());
    for sort in app::files::FileSort::ALL {
        let name = format!("small-badge.{}", sort.extension());
        let bytes = std::fs::read(folder.path().join("all").join(&name)).unwrap();
        assert!(!bytes.is_empty(), "{name}");
    }
    let json = std::fs::read_to_string(folder.path().join("all/small-badge.json")).unwrap();
    assert_eq!(json, run(folder.path(), &["lay", "order.toml", "--json"]).out);
}

#[test]
fn a_picture_that_cannot_be_is_refused_before_anything_is_written() {
    let folder = badge();
    let order = folder.path().join("order.toml");
    let wider = std::fs::read_to_string(&order).unwrap().replace("\"30 mm\"", "\"150 mm\"");
    std::fs::write(&order, wider).unwrap();
    let lay = |more: &[&str]| {
        run(folder.path(), &[&["lay", "order.toml", "--out", "fine"], more].concat())
    };
    let too_fine = lay(&["--dpi", "2400"]);
    insta::assert_snapshot!(too_fine.shown());
    let no_png = lay(&["--as", "csv,dxf", "--dpi", "300"]);
    insta::assert_snapshot!(no_png.shown());
    assert!(!folder.path().join("fine").exists());
}

#[test]
fn json_follows_its_schema_and_agrees_with_the_table() {
    let folder = badge();
    let laid = run(folder.path(), &["lay", "order.toml", "--json", "--out", "."]);
    let json: Value = serde_json::from_str(&laid.out).unwrap();
    let schema: Value =
        serde_json::from_str(include_str!("../../../../docs/lay.schema.json")).unwrap();
    assert!(jsonschema::is_valid(&schema, &json));

    let stones = json["pieces"][0]["stones"].as_array().unwrap();
    let csv = std::fs::read_to_string(folder.path().join("small-badge.csv")).unwrap();
    assert_eq!(csv.lines().count(), stones.len() + 1);
    // The frame of the table: right and down from the top left corner; 20 mm high.
    for (line, stone) in csv.lines().skip(1).zip(stones) {
        let cell: Vec<&str> = line.split(',').collect();
        let (x, y): (f64, f64) = (cell[6].parse().unwrap(), cell[7].parse().unwrap());
        assert!((x - stone["u"].as_f64().unwrap()).abs() < 2e-9);
        assert!((y - (20.0 - stone["v"].as_f64().unwrap())).abs() < 2e-9);
    }
}

#[test]
fn one_thread_and_two_give_the_same_bytes() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(run(folder.path(), &["demo", "."]).code, 0);
    let json = |threads: &str| {
        run(folder.path(), &["lay", "order.toml", "--json", "--threads", threads]).out
    };
    let one = json("1");
    assert!(one.len() > 100_000);
    assert!(one == json("2"), "the bytes differ");
}

#[test]
fn a_bad_document_names_every_mistake() {
    let folder = badge();
    let path = folder.path().join("order.toml");
    let text = std::fs::read_to_string(&path).unwrap();
    let spoilt = text.replace("\"SS16\"", "\"SS21\"").replace("spacing", "spaceing");
    std::fs::write(&path, spoilt).unwrap();
    for verb in ["lay", "check"] {
        let refused = run(folder.path(), &[verb, "order.toml"]);
        assert_eq!(refused.code, 3);
        insta::assert_snapshot!("bad_document", refused.shown());
    }
}

#[test]
fn what_is_changed_by_hand_is_told() {
    let folder = badge();
    let path = folder.path().join("order.toml");
    let by_hand = r#"by_hand = [
  { set = ["15 mm", "11 mm"], kind = "sea glass" },
  { set = ["1 mm", "11 mm"], kind = "dew" },
  { clear = ["15 mm", "4 mm"] },
]
"#;
    let text = std::fs::read_to_string(&path).unwrap() + by_hand;
    std::fs::write(&path, text).unwrap();
    insta::assert_snapshot!(run(folder.path(), &["lay", "order.toml"]).shown());
}

#[test]
fn only_named_pieces_are_laid() {
    let folder = badge();
    insta::assert_snapshot!(run(folder.path(), &["lay", "order.toml", "--piece", "sign"]).shown());
    let named = run(folder.path(), &["lay", "order.toml", "--piece", "small badge"]);
    assert_eq!(named.code, 0);
}

#[test]
fn check_fails_on_what_is_serious() {
    let folder = badge();
    let fine = run(folder.path(), &["check", "order.toml"]);
    assert_eq!(fine.code, 0, "{}", fine.shown());
    let path = folder.path().join("order.toml");
    let text = std::fs::read_to_string(&path).unwrap().replace("SS16", "22 mm");
    std::fs::write(&path, text).unwrap();
    insta::assert_snapshot!(run(folder.path(), &["check", "order.toml"]).shown());
    let json = run(folder.path(), &["check", "order.toml", "--json"]);
    let json: Value = serde_json::from_str(&json.out).unwrap();
    assert_eq!(json["serious"], 1);
}

#[test]
fn what_cannot_be_read_is_said() {
    let folder = badge();
    insta::assert_snapshot!(run(folder.path(), &["lay", "nothing.toml"]).shown());
    insta::assert_snapshot!(run(folder.path(), &["lay", "."]).shown());
}
