//! `paper`.

use crate::support::{badge, run};
use serde_json::Value;

#[test]
fn sheets_are_written_once_and_replaced_only_when_told() {
    let folder = badge();
    let paper = ["paper", "order.toml", "--out", "sheets", "--for", "beside", "--for", "under"];
    insta::assert_snapshot!(run(folder.path(), &paper).shown());
    let file = |name: &str| folder.path().join("sheets").join(name);
    for name in ["placing-beside.pdf", "placing-under.pdf"] {
        assert!(std::fs::read(file(name)).unwrap().starts_with(b"%PDF-"), "{name}");
    }
    std::fs::write(file("placing-under.pdf"), "mine").unwrap();
    std::fs::remove_file(file("placing-beside.pdf")).unwrap();
    let again = run(folder.path(), &paper);
    insta::assert_snapshot!(again.shown());
    assert_eq!(std::fs::read_to_string(file("placing-under.pdf")).unwrap(), "mine");
    assert!(!file("placing-beside.pdf").exists(), "all or nothing");
    assert_eq!(run(folder.path(), &[&paper[..], &["--replace"]].concat()).code, 0);
}

#[test]
fn bad_wishes_are_answered_clearly() {
    let folder = badge();
    let paper = |more: &[&str]| {
        run(folder.path(), &[&["paper", "order.toml", "--out", "sheets"], more].concat()).shown()
    };
    let answers = [
        paper(&["--measured", "9.86"]),
        paper(&["--measured", "wide"]),
        paper(&["--sheet", "a3"]),
        paper(&["--piece", "sign"]),
        run(folder.path(), &["paper", "--out", "sheets"]).shown(),
    ];
    insta::assert_snapshot!(answers.join("\n"));
    assert!(!folder.path().join("sheets").exists());
}

#[test]
fn a_test_page_needs_no_order() {
    let folder = badge();
    let page = ["paper", "--test-page", "--out", "sheets", "--sheet", "letter"];
    insta::assert_snapshot!(run(folder.path(), &page).shown());
    assert!(folder.path().join("sheets/test-page.pdf").is_file());
}

#[test]
fn where_everything_lies_is_told_as_json() {
    let folder = badge();
    let told = run(folder.path(), &["paper", "order.toml", "--out", "sheets", "--json"]);
    let json: Value = serde_json::from_str(&told.out).unwrap();
    let pages = json["papers"][0]["pages"].as_array().unwrap();
    let piece = &pages[1]["pieces"][0];
    assert_eq!(piece["piece"], "small badge");
    assert_eq!(piece["height_mm"], 20.0);
}
