//! Laws of the papers, on a small order.

use super::{LabelSheet, Notation, Options, OrderPaper, Papers, QuoteWords};
use super::{bench, calendar, gathering, quote, shopping};
use crate::PaperSize;
use app::laying::{LaidOrder, lay_order};
use app::plan::{Plan, plan};
use jiff::civil::date;
use lay::Unwatched;
use serde::Serialize;
use serde_json::Value;
use std::path::Path;

const ORDER: &str = r##"
stonelay = 1
order = "Lanterns #panic() *for* Φάρος"
due = 2026-12-18
[[kind]]
name = "sea glass"
size = "4 mm"
colour = "#2a9d8f"
pack = 100
[[piece]]
name = "badge"
quantity = 3
names = ["Ada", "منارة"]
blank = { shape = "rectangle", width = "60 mm", height = "40 mm" }
blank_price = "0.83"
arrangement = "square"
mix = "sea glass"
adhesive = "bench gel"
[[supplier]]
name = "quayside stones"
delivery = "4.91"
lead = 3
offers = [{ kind = "sea glass", pack = 100, price = "7.43" }]
[[adhesive]]
name = "bench gel"
sort = "solvent gel"
open = "7 min"
container = "110 ml"
price = "7.87"
[workshop]
wage = "15.13"
overhead = "4.57"
[price]
currency = "EUR"
margin = "30 %"
tax = "20 %"
deposit = "40 %"
[[kit]]
name = "evening"
piece = "badge"
copies = 2
"##;

fn planned(text: &str) -> (LaidOrder, Plan) {
    let folder = app::order::Folder::of(Path::new("order.toml"));
    let order = app::order::open("order.toml", text.as_bytes(), &folder).unwrap();
    let laid = lay_order(order, &Unwatched).unwrap();
    let plan = plan(&laid, date(2026, 11, 30), &Unwatched).unwrap();
    (laid, plan)
}

fn options() -> Options {
    Options {
        size: PaperSize::A4,
        notation: Notation::HOUSE,
        today: date(2026, 11, 30),
        dated: true,
        number: Some("2026-17".to_owned()),
        words: QuoteWords {
            customer: "the harbour".to_owned(),
            terms: "Made by hand.".to_owned(),
            ..QuoteWords::default()
        },
        labels: LabelSheet::A4_3X8,
    }
}

/// What stands on a paper, a row a line.
fn words(paper: &impl Serialize) -> String {
    fn walk(value: &Value, lines: &mut Vec<String>) {
        match value {
            Value::Object(all) if all.contains_key("cells") => {
                let cells = all["cells"].as_array().into_iter().flatten();
                let cells = cells.map(|c| text(c).trim().to_owned()).collect::<Vec<_>>();
                lines.push(cells.join(" | "));
            }
            Value::Object(all) if all.contains_key("name") && all.contains_key("value") => {
                lines.push(format!("{}: {}", text(&all["name"]), text(&all["value"])));
            }
            Value::Object(all) => {
                all.iter().filter(|(k, _)| *k != "is").for_each(|(_, v)| walk(v, lines));
            }
            Value::Array(all) => all.iter().for_each(|v| walk(v, lines)),
            Value::String(text) => lines.push(text.clone()),
            _ => {}
        }
    }
    fn text(value: &Value) -> String {
        match value {
            Value::String(text) => text.clone(),
            Value::Object(all) => {
                let keys = ["text", "under", "alt", "letter"];
                keys.iter().filter_map(|k| all.get(*k)).map(text).collect::<Vec<_>>().join(" / ")
            }
            _ => String::new(),
        }
    }
    let mut lines = vec![];
    walk(&serde_json::to_value(paper).unwrap(), &mut lines);
    lines.join("\n")
}

#[test]
fn a_quote_says_what_is_to_be_paid_and_no_figure_of_the_makers_own() {
    let (laid, plan) = planned(ORDER);
    let options = options();
    let said = words(&quote::quote(&Papers::new(&laid, &plan, &options)).unwrap());
    let price = plan.price.as_ref().unwrap();
    let paid = &price.charged;
    for amount in [paid.net, paid.tax, paid.gross, paid.deposit, paid.balance, price.pieces[0].each]
    {
        assert!(said.contains(&plan.money(amount)), "{amount} is not in\n{said}");
    }
    let piece = &price.pieces[0];
    let lines = piece.sheet.iter().flat_map(|l| [l.each, l.amount]);
    let fees = price.fees.iter().map(|f| f.amount);
    let own = [price.cost, price.profit, piece.cost, piece.cost_each, piece.floor_each];
    for own in lines.chain(fees).chain(own).filter(|a| !a.is_zero()) {
        let own = plan.money(own);
        assert!(said.split_whitespace().all(|word| word != own), "{own} is in\n{said}");
    }
    for word in ["quayside", "15.13", "4.57", "7.43", "bench gel", " h ", "hour"] {
        assert!(!said.contains(word), "{word} is in\n{said}");
    }
}

#[test]
fn papers_say_what_the_plan_says() {
    let (laid, plan) = planned(ORDER);
    let options = options();
    let papers = Papers::new(&laid, &plan, &options);
    insta::assert_snapshot!("bench", words(&bench::bench(&papers).unwrap()));
    insta::assert_snapshot!("shopping", words(&shopping::shopping(&papers).unwrap()));
    insta::assert_snapshot!("gathering", words(&gathering::gathering(&papers).unwrap()));
    insta::assert_snapshot!("calendar", words(&calendar::calendar(&papers).unwrap()));
}

#[test]
fn every_paper_is_the_same_bytes_twice_on_both_sizes() {
    let (laid, plan) = planned(ORDER);
    for size in [PaperSize::A4, PaperSize::Letter] {
        let options = Options { size, ..options() };
        let papers = Papers::new(&laid, &plan, &options);
        for paper in OrderPaper::ALL {
            let (a, b) = (papers.set(paper, &Unwatched), papers.set(paper, &Unwatched));
            let (a, b) = (a.unwrap(), b.unwrap());
            assert!(a.pages >= 1 && a.pdf == b.pdf, "{}", paper.name());
            assert_eq!(a.labels.is_empty(), paper != OrderPaper::Labels);
        }
    }
}

#[test]
fn each_copy_has_a_label_by_its_name_and_each_bag_of_a_kit() {
    let (laid, plan) = planned(ORDER);
    let options = options();
    let papers = Papers::new(&laid, &plan, &options);
    assert_eq!(papers.copies(&laid.pieces[0]), ["Ada", "منارة", "copy 3 of 3"]);
    let labels = papers.set(OrderPaper::Labels, &Unwatched).unwrap().labels;
    assert_eq!(labels.len(), 3 + plan.kits[0].labels.len());
}

#[test]
fn an_order_without_a_price_has_no_quote_but_the_other_papers() {
    let text = ORDER.split("[price]").next().unwrap().replace("price = ", "#price = ");
    let text = text.replace("blank_#price", "#blank_price");
    let text = text.replace("wage", "#wage").replace("overhead", "#overhead");
    let text = text.replace("[[supplier]]", "#").replace("name = \"quayside stones\"", "#");
    let text = text.replace("delivery =", "#").replace("lead =", "#").replace("offers =", "#");
    let (laid, plan) = planned(&text);
    let options = options();
    let papers = Papers::new(&laid, &plan, &options);
    for paper in OrderPaper::ALL {
        let made = papers.set(paper, &Unwatched);
        assert_eq!(made.is_ok(), paper != OrderPaper::Quote, "{}", paper.name());
    }
}

#[test]
fn very_long_words_can_be_broken() {
    let broken = super::breakable(&"a".repeat(100));
    assert_eq!(broken.matches('\u{200b}').count(), 3);
    assert_eq!(super::breakable("short words stay as they are"), "short words stay as they are");
}
