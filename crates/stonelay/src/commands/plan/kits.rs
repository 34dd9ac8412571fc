//! Kits and bags: what goes into each.

use super::table::{table, watch};
use crate::output::{counted, wrapped};
use app::plan::{Part, Plan};
use units::{grouped, trimmed};

/// Kits and bags of the order.
pub(super) fn text(plan: &Plan) -> String {
    if plan.kits.is_empty() && plan.bags.is_empty() {
        return "no kit and no bag: add `[[kit]]` or `[[bag]]` to the document\n".to_owned();
    }
    let mut text = String::new();
    for k in &plan.kits {
        let cost =
            k.stones_cost.map_or(String::new(), |c| format!(", stones for {}", plan.money(c)));
        let head = format!(
            "{}: {} of {}, {} in all{cost}",
            k.kit,
            counted(k.kits as usize, "kit"),
            k.piece,
            counted(k.stones as usize, "stone")
        );
        text += &(wrapped(&head, "", "  ") + "\n");
        let rows = k.gathering.iter().map(|l| {
            [
                format!("{} ({})", l.kind, l.size),
                grouped(u64::from(l.stones)),
                grouped(u64::from(l.spare)),
                grouped(u64::from(l.put_in)),
                l.gross_g.map_or(String::new(), |g| format!("{} g", trimmed(g, 2))),
                grouped(l.all_stones),
            ]
        });
        let head = ["into each bag", "to set", "spare", "put in", "on the scale", "all kits"];
        text += &table(head, rows.collect(), 1..=5);
        let shared = format!(
            "with the spare in one dish for all, {} would do",
            counted(k.stones_with_shared_spare as usize, "stone")
        );
        text += &(wrapped(&shared, "  ", "  ") + "\n\n");
    }
    for b in &plan.bags {
        text += &bag(plan, b);
    }
    text.truncate(text.trim_end().len());
    text + "\n" + &watch(plan.findings_of(Part::Kits))
}

fn bag(plan: &Plan, b: &planning::mixes::MixBag) -> String {
    let price = b.price.map_or(String::new(), |p| format!(", {} before tax", plan.money(p)));
    let head = format!(
        "{}: {} in {} g ({} g with the bag){price}",
        b.mix,
        counted(b.stones as usize, "stone"),
        trimmed(b.grams, 2),
        trimmed(b.gross_g, 2)
    );
    let mut text = wrapped(&head, "", "  ") + "\n";
    let rows = b.contents.iter().map(|l| {
        [
            l.kind.clone(),
            format!("{} %", trimmed(l.share * 100.0, 1)),
            grouped(l.stones),
            format!("{} g", trimmed(l.grams, 2)),
            l.shelf_bags.map_or(String::new(), grouped),
        ]
    });
    let head = ["kind", "share", "stones", "weigh out", "bags on the shelf"];
    text += &table(head, rows.collect(), 1..=4);
    let mut said = vec![];
    if let Some(c) = &b.cost {
        said.push(format!(
            "costs {}: stones {}, bag {}, work {}",
            plan.money(c.total),
            plan.money(c.stones),
            plan.money(c.bag),
            plan.money(c.work)
        ));
    }
    if let Some(c) = &b.covers {
        let mean = trimmed(c.mean_cm2, 0);
        said.push(match c.zones {
            1 => format!("covers {mean} cm², as the one zone laid from it took it"),
            n => format!(
                "covers {mean} cm² ({} to {}, as {n} laid zones took it)",
                trimmed(c.least_cm2, 0),
                trimmed(c.most_cm2, 0),
            ),
        });
    }
    said.push(format!(
        "the shelf fills {}; {} runs out first",
        counted(b.shelf_bags as usize, "bag"),
        b.runs_out_first
    ));
    text + &(wrapped(&said.join("; "), "  ", "  ") + "\n\n")
}

/// The labels of all kits, one after the other.
pub(super) fn labels(plan: &Plan) -> String {
    let labels = plan.kits.iter().flat_map(|k| &k.labels);
    let labels = labels.chain(plan.bags.iter().flat_map(|b| &b.labels));
    let each: Vec<String> = labels.map(|l| l.lines.join("\n") + "\n").collect();
    if each.is_empty() {
        return "no kit and no bag: add `[[kit]]` or `[[bag]]` to the document\n".to_owned();
    }
    each.join("\n")
}
