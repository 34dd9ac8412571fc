//! Adhesive: how much, in which batches, what to buy, what to take care of.

use super::table::{table, time, watch};
use crate::output::{counted, plural, wrapped};
use app::plan::{Part, Plan};
use planning::adhesive::{Amount, Container};
use units::trimmed;

/// The adhesive of the order.
pub(super) fn text(plan: &Plan) -> String {
    let g = &plan.glue;
    let all: Vec<String> =
        g.adhesives.iter().map(|a| format!("{} {}", amount(&a.need), a.adhesive)).collect();
    let cost = g.cost.map_or(String::new(), |c| format!("; to buy for {}", plan.money(c)));
    let mut text = wrapped(&format!("{}{cost}", all.join(" · ")), "", "  ") + "\n";
    for a in &g.adhesives {
        text += &adhesive(plan, a);
    }
    let rows = g.pieces.iter().map(|p| {
        [
            p.piece.clone(),
            p.adhesive.clone(),
            p.copies.to_string(),
            amount(&p.copy_need),
            amount(&p.need),
        ]
    });
    text += "\nBy piece, with waste\n";
    text += &table(["piece", "adhesive", "copies", "a copy", "all"], rows.collect(), 2..=4);
    text += &batches(plan);
    for t in &plan.tints {
        let stands_out = if t.tint.furthest_difference > 0.0 {
            format!(
                ". {} stands out most, by {}",
                t.tint.furthest_kind,
                trimmed(t.tint.furthest_difference, 1)
            )
        } else {
            String::new()
        };
        let said = format!(
            "Under {}: tint {}, {} g of pigment ({} % by weight){stands_out}",
            t.piece,
            t.tint.shown,
            trimmed(t.tint.pigment_g, 2),
            trimmed(t.tint.pigment * 100.0, 1),
        );
        text += &format!("\n{}\n", wrapped(&said, "", "  "));
    }
    text + &watch(plan.findings_of(Part::Glue))
}

fn adhesive(plan: &Plan, a: &planning::glue::AdhesiveNeed) -> String {
    let mut said = vec![format!("{} with waste", amount(&a.need))];
    if let Some(p) = &a.need.parts {
        said.push(format!(
            "A {} ml + B {} ml, or A {} g + B {} g",
            trimmed(p.a_ml, 1),
            trimmed(p.b_ml, 1),
            trimmed(p.a_g, 1),
            trimmed(p.b_g, 1)
        ));
    }
    if let Some(n) = a.containers {
        let left = a.leftover.as_ref().map_or(String::new(), |l| match a.container {
            Some(Container::G(_)) => format!(", {} g left", trimmed(l.g, 1)),
            _ => format!(", {} left", amount(l)),
        });
        said.push(format!("{}{left}", counted(n as usize, "container")));
    }
    if let Some(cost) = a.cost {
        said.push(plan.money(cost));
    }
    let head = format!("{} ({}): {}", a.adhesive, a.sort.name(), said.join("; "));
    let mut text = format!("\n{}\n", wrapped(&head, "", "  "));
    for caution in &a.cautions {
        text += &(wrapped(&format!("! {caution}"), "  ", "    ") + "\n");
    }
    text
}

fn batches(plan: &Plan) -> String {
    let mut rows = vec![];
    for p in &plan.glue.pieces {
        for b in &p.batches {
            let serves = if b.copies > 1 {
                plural(b.copies as usize, "copy", "copies")
            } else if b.first_stretch == b.last_stretch {
                format!("stretch {}", b.first_stretch)
            } else {
                format!("stretches {}–{}", b.first_stretch, b.last_stretch)
            };
            rows.push([
                p.piece.clone(),
                format!("{} ×", b.times),
                amount(&b.amount),
                serves,
                time(b.slow_min),
                time(b.pot_min),
            ]);
        }
    }
    if rows.is_empty() {
        return String::new();
    }
    let head = ["piece", "mix", "each", "for", "in use", "usable"];
    "\nBatches\n".to_owned() + &table(head, rows, 1..=2)
}

/// `12.5 ml`, or an area for sheets.
fn amount(a: &Amount) -> String {
    if a.cm2 > 0.0 {
        return format!("{} cm²", trimmed(a.cm2, 0));
    }
    format!("{} ml", trimmed(a.ml, if a.ml < 1.0 { 2 } else { 1 }))
}
