//! `plan`, `buy`, `glue`, `stretches`, `calendar`, `price`, `kit`, `weigh`.

use crate::support::{Run, badge, run};
use serde_json::Value;
use tempfile::TempDir;

const ON: [&str; 2] = ["--on", "2026-11-25"];

fn demo() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    assert_eq!(run(folder.path(), &["demo", "."]).code, 0);
    folder
}

/// An order of one small badge, with everything that a plan can be made of.
fn priced() -> TempDir {
    let folder = badge();
    let file = folder.path().join("order.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, text + TERMS).unwrap();
    folder
}

/// The end of the piece of [`badge`], and what follows it.
const TERMS: &str = r#"adhesive = "gel"

[[adhesive]]
name = "gel"
sort = "solvent gel"
open = "7 min"
container = "30 ml"
price = "4.00"

[workshop]
bench = 3
wage = "15.00"
loss = "2 %"

[[supplier]]
name = "quay"
delivery = "4.90"
offers = [
  { kind = "sea glass", pack = 144, price = "2.00" },
  { kind = "dew", pack = 100, price = "1.20" },
]

[price]
currency = "EUR"
tax = "20 %"

[[kit]]
name = "evening"
piece = "small badge"
loss = "5 %"

[[bag]]
name = "glass"
mix = "sea glass"
stones = 100
"#;

/// `stonelay VERB order.toml --on … MORE` in `folder`.
fn ask_in(folder: &TempDir, verb: &str, more: &[&str]) -> Run {
    run(folder.path(), &[&[verb, "order.toml"], &ON[..], more].concat())
}

fn ask(verb: &str, more: &[&str]) -> Run {
    let asked = ask_in(&demo(), verb, more);
    assert!(asked.out.lines().all(|l| l.chars().count() <= 80), "wider than 80:\n{}", asked.out);
    asked
}

#[test]
fn the_whole_plan_fits_one_screen_and_begins_with_the_stones() {
    let plan = ask("plan", &[]);
    assert!(plan.out.lines().count() <= 40, "{} lines", plan.out.lines().count());
    let first = plan.out.lines().next().unwrap();
    let words: Vec<&str> = first.split(' ').collect();
    assert!(words[0].replace(',', "").parse::<u64>().is_ok() && words[1] == "stones", "{first}");
    insta::assert_snapshot!(plan.shown());
}

#[test]
fn what_to_buy() {
    insta::assert_snapshot!(ask("buy", &[]).shown());
}

#[test]
fn what_to_glue_with() {
    insta::assert_snapshot!(ask("glue", &[]).shown());
}

#[test]
fn the_bench_order_of_one_piece() {
    insta::assert_snapshot!(ask("stretches", &["--piece", "badge"]).shown());
    let unknown = ask("stretches", &["--piece", "bagde"]);
    assert_eq!(unknown.code, 1);
    insta::assert_snapshot!(unknown.shown());
}

#[test]
fn the_calendar() {
    insta::assert_snapshot!(ask("calendar", &[]).shown());
}

#[test]
fn the_price() {
    insta::assert_snapshot!(ask("price", &[]).shown());
}

#[test]
fn a_quote_shows_no_cost_of_the_maker() {
    let quote = ask("price", &["--quote", "--customer", "The festival committee"]);
    insta::assert_snapshot!(quote.shown());
    let lower = quote.out.to_lowercase();
    for word in ["cost", "margin", "mark-up", "wage", "profit", "overhead", "fee"] {
        assert!(!lower.contains(word), "`{word}` is no business of the customer");
    }
}

#[test]
fn kits_and_their_labels() {
    insta::assert_snapshot!(ask("kit", &[]).shown());
    insta::assert_snapshot!(ask("kit", &["--labels"]).shown());
}

#[test]
fn every_verb_gives_json_and_its_reasons() {
    let folder = priced();
    for verb in ["plan", "buy", "glue", "stretches", "calendar", "price", "kit"] {
        let json = ask_in(&folder, verb, &["--json"]);
        assert_eq!((json.code, json.err.as_str()), (0, ""), "{verb}");
        let json: Value = serde_json::from_str(&json.out).unwrap();
        assert!(json.as_object().is_some_and(|o| !o.is_empty()), "{verb}");

        let why = ask_in(&folder, verb, &["--why"]);
        assert!(why.out.lines().all(|l| l.chars().count() <= 80), "{verb}");
        let (_, reasons) = why.out.split_once("\nWhy\n").unwrap();
        // Each reason: a figure, its formula, and what went into it with where that is from.
        assert!(
            reasons.contains(" = ") && reasons.contains("(the document)"),
            "{verb}:\n{reasons}"
        );
    }
}

/// Nobody reads all reasons of the demonstration; those of one verb show the form.
#[test]
fn reasons_name_formula_and_inputs() {
    let why = ask("glue", &["--why"]).out;
    let (_, reasons) = why.split_once("\nWhy\n").unwrap();
    insta::assert_snapshot!(reasons);
}

#[test]
fn a_calendar_file_is_written_once_and_replaced_only_when_told() {
    let folder = demo();
    let out = ["--out", "order.ics"];
    let written = ask_in(&folder, "calendar", &out);
    assert_eq!((written.code, written.err.as_str()), (0, "written: order.ics\n"));
    let file = folder.path().join("order.ics");
    let ics = std::fs::read_to_string(&file).unwrap();
    assert!(ics.starts_with("BEGIN:VCALENDAR\r\n") && ics.ends_with("END:VCALENDAR\r\n"));

    std::fs::write(&file, "mine").unwrap();
    let again = ask_in(&folder, "calendar", &out);
    assert_eq!((again.code, again.out.as_str()), (1, ""));
    assert!(again.err.contains("order.ics"), "{}", again.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");

    let replaced = ask_in(&folder, "calendar", &[&out[..], &["--replace"]].concat());
    assert_eq!(replaced.code, 0);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), ics, "the same day, the same bytes");
}

#[test]
fn an_order_that_says_nothing_of_a_plan_has_one_all_the_same() {
    let folder = badge();
    let plan = ask_in(&folder, "plan", &[]);
    assert_eq!(plan.code, 0);
    insta::assert_snapshot!(plan.shown());
    let price = ask_in(&folder, "price", &[]);
    assert_eq!(price.code, 3);
    insta::assert_snapshot!(price.shown());
    let kit = ask_in(&folder, "kit", &[]);
    assert_eq!((kit.code, kit.out.lines().count()), (0, 1));
}

#[test]
fn a_refused_document_ends_with_3_for_every_verb() {
    let folder = badge();
    let file = folder.path().join("order.toml");
    let text = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, format!("{text}\n[price]\ncurrency = \"EURO\"\n")).unwrap();
    for verb in ["plan", "buy", "glue", "stretches", "calendar", "price", "kit"] {
        let refused = ask_in(&folder, verb, &[]);
        assert_eq!((refused.code, refused.out.as_str()), (3, ""), "{verb}");
        assert!(refused.err.contains("unknown currency `EURO`"), "{}", refused.err);
    }
    let missing = run(folder.path(), &["plan", "nowhere.toml"]);
    assert_eq!(missing.code, 1);
}

#[test]
fn days_that_are_none_are_refused() {
    let folder = badge();
    for day in ["tomorrow", "2026-02-30", "18.12.2026"] {
        let asked = run(folder.path(), &["plan", "order.toml", "--on", day]);
        assert_eq!(asked.code, 2, "{day}: {}", asked.shown());
    }
    // The last day of all calendars has no day after it.
    let last = run(folder.path(), &["plan", "order.toml", "--on", "9999-12-31"]);
    assert_eq!(last.code, 3, "{}", last.shown());
}

fn weigh(args: &[&str]) -> Run {
    let folder = tempfile::tempdir().unwrap();
    run(folder.path(), &[&["weigh"], args].concat())
}

#[test]
fn a_heap_on_the_scale() {
    let samples = ["--sample", "50=4.10g", "--sample", "50=4.06 g"];
    let heap = [&samples[..], &["--heap", "96.4 g", "--tare", "0.2 g"]].concat();
    insta::assert_snapshot!(weigh(&heap).shown());
    insta::assert_snapshot!(weigh(&[&heap[..], &["--why"]].concat()).shown());
    let json: Value = serde_json::from_str(&weigh(&[&heap[..], &["--json"]].concat()).out).unwrap();
    // (4.10 + 4.06 − 2 · 0.2) / 100 = 0.0776 g; 96.2 / 0.0776 = 1239.7.
    assert!((json["unit"]["unit_g"].as_f64().unwrap() - 0.0776).abs() < 1e-9);
    assert_eq!(json["heap"]["stones"], 1240);
}

#[test]
fn bad_weighings_are_answered_clearly() {
    let asked: [&[&str]; 9] = [
        &["--sample", "50"],
        &["--sample", "0=4.10g"],
        &["--sample", "50=4.10"],
        &["--sample", "50=0 g"],
        &["--sample", "fifty=4.10 g"],
        &["--sample", "50=4,10 g"],
        &["--sample", "50=4.10 g", "--tare", "5 g"],
        &["--sample", "50=4.10 g", "--heap", "-3 g"],
        &["--sample", "50=4.10 g", "--heap", "3000 kg"],
    ];
    let mut text = String::new();
    for args in asked {
        let answer = weigh(args);
        assert_eq!(answer.code, 2, "{args:?}: {}", answer.shown());
        text += &format!("{}\n{}\n\n", args.join(" "), answer.shown());
    }
    insta::assert_snapshot!(text);
}
