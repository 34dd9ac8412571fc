//! `demo`, `explain`, `completions`, `man`, and the generated documents.

use crate::support::run;

#[test]
fn the_demo_is_kept_unless_told() {
    let folder = tempfile::tempdir().unwrap();
    insta::assert_snapshot!(run(folder.path(), &["demo"]).shown());
    insta::assert_snapshot!(run(folder.path(), &["demo"]).shown());
    assert_eq!(run(folder.path(), &["demo", "--replace"]).code, 0);
    let check = run(folder.path(), &["check", "lantern-festival/order.toml"]);
    assert_eq!(check.code, 0, "{}", check.shown());
}

#[test]
fn findings_are_explained() {
    let folder = tempfile::tempdir().unwrap();
    insta::assert_snapshot!(run(folder.path(), &["explain", "lay.zone-empty"]).shown());
    insta::assert_snapshot!(run(folder.path(), &["explain", "lay.zone-emtpy"]).shown());
    let all = run(folder.path(), &["explain"]);
    assert!(all.out.lines().filter(|l| !l.starts_with(' ')).count() >= 20);
}

#[test]
fn completions_and_manual_are_made_from_the_command_line() {
    let folder = tempfile::tempdir().unwrap();
    for shell in ["bash", "zsh", "fish"] {
        assert!(run(folder.path(), &["completions", shell]).out.contains("count"));
    }
    assert_eq!(run(folder.path(), &["man", "man"]).code, 0);
    let page = std::fs::read_to_string(folder.path().join("man/stonelay-lay.1")).unwrap();
    assert!(page.contains("true size"), "{page}");
    assert!(!folder.path().join("man/stonelay-docs.1").exists());
}

#[test]
fn exit_codes_stand_in_the_help() {
    let folder = tempfile::tempdir().unwrap();
    insta::assert_snapshot!(run(folder.path(), &["--help"]).shown());
}

#[test]
fn the_committed_documents_are_the_generated_ones() {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(run(folder.path(), &["docs", "."]).code, 0);
    let kept = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs");
    for name in ["findings.md", "lay.schema.json", "count.schema.json"] {
        let made = std::fs::read_to_string(folder.path().join(name)).unwrap();
        let kept = std::fs::read_to_string(kept.join(name)).unwrap();
        assert!(made == kept, "docs/{name} is out of date: run `cargo xtask docs`");
    }
}
