//! What to buy: by supplier, from the shelf, what is left, which lot goes where.

use super::table::{table, watch};
use crate::output::{counted, plural, wrapped};
use app::plan::{Part, Plan};
use planning::buying::Proof;
use units::{grouped, trimmed};

/// The whole purchase.
pub(super) fn text(plan: &Plan) -> String {
    let p = &plan.purchase;
    let packs: u64 = p.lines.iter().map(|l| l.packs).sum();
    let proof = match &p.proof {
        Proof::Cheapest => "nothing covers it for less".to_owned(),
        Proof::Within { over } => {
            format!("the search ended: at most {} above the cheapest", plan.money(*over))
        }
    };
    let currency = plan.price.as_ref().map_or(String::new(), |p| format!(" {}", p.currency));
    let packs = counted(packs as usize, "pack");
    let bought = format!("{packs} for {}{currency}", plan.money(p.total));
    let unsold = plan.answer.short == 0 && !p.shortages.is_empty();
    let mut text = match plan.answer.short {
        _ if unsold => {
            let packs = counted(plan.answer.packs as usize, "pack");
            format!("{packs} to buy, of the usual size: the document names no supplier\n")
        }
        0 => format!("{bought}: {proof}\n"),
        short => format!("{} short; {bought}\n", counted(short as usize, "stone")),
    };
    text += &needs(plan);
    for d in &p.deliveries {
        let charge = if d.charge.is_zero() {
            "delivered free".to_owned()
        } else {
            format!("delivery {}", plan.money(d.charge))
        };
        let head = format!(
            "{}: {}, {charge}, here after {}",
            d.supplier,
            plan.money(d.goods),
            counted(d.lead_days as usize, "working day")
        );
        text += &format!("\n{}\n", wrapped(&head, "", "  "));
        let rows = p.lines.iter().filter(|l| l.supplier == d.supplier).map(|l| {
            [
                l.kind.clone(),
                format!("{} × {}", grouped(l.packs), grouped(u64::from(l.pack))),
                plan.money(l.pack_price),
                plan.money(l.sum),
            ]
        });
        text += &table(["kind", "packs", "a pack", "sum"], rows.collect(), 1..=3);
    }
    text + &shelf(plan) + &lots(plan) + &rest(plan)
}

/// Which copies are set from which lot, for kinds that come from more than one.
fn lots(plan: &Plan) -> String {
    let all = &plan.purchase.lots;
    let sources = |kind: &str| {
        let parts = all.iter().filter(|l| l.kind == kind).flat_map(|l| &l.copies);
        let mut found: Vec<&str> =
            parts.flat_map(|c| &c.parts).map(|p| p.source.as_str()).collect();
        found.sort_unstable();
        found.dedup();
        found.len()
    };
    let mut text = String::new();
    for l in all.iter().filter(|l| sources(&l.kind) > 1) {
        for c in &l.copies {
            let from: Vec<&str> = c.parts.iter().map(|p| p.source.as_str()).collect();
            let said = format!(
                "{} of {}, {}: {}",
                plural(c.copies as usize, "copy", "copies"),
                l.piece,
                l.kind,
                from.join(" and ")
            );
            text += &(wrapped(&said, "  ", "    ") + "\n");
        }
    }
    if text.is_empty() { text } else { format!("\nOne lot to a copy\n{text}") }
}

fn needs(plan: &Plan) -> String {
    let rows = plan.spare.kinds.iter().map(|k| {
        let cover = plan.purchase.kinds.iter().find(|c| c.kind == k.kind);
        [
            k.kind.clone(),
            match k.need_95 {
                Some(most) => format!("{}–{}", grouped(k.need), grouped(most)),
                None => grouped(k.need),
            },
            grouped(k.spare),
            grouped(k.quantity),
            cover.map_or(String::new(), |c| grouped(c.from_stock)),
            cover.map_or(String::new(), |c| grouped(c.bought + c.stand_ins)),
            format!("{} %", trimmed(k.loss * 100.0, 1)),
        ]
    });
    let head = ["kind", "to set", "spare", "to have", "from shelf", "buy", "loss"];
    let said = format!(
        "{} % sure for the whole order: {} % for each of {}; the chance comes to {} %",
        trimmed(plan.spare.sure * 100.0, 2),
        trimmed(plan.spare.sure_each * 100.0, 2),
        counted(plan.spare.n_kinds, "kind"),
        trimmed(plan.spare.chance * 100.0, 2)
    );
    wrapped(&said, "", "  ") + "\n" + &table(head, rows.collect(), 1..=6)
}

fn shelf(plan: &Plan) -> String {
    let used: Vec<_> = plan.purchase.stock.iter().filter(|s| s.used > 0).collect();
    if used.is_empty() {
        return String::new();
    }
    let rows = used.iter().map(|s| {
        [s.kind.clone(), s.lot.clone().unwrap_or_default(), grouped(s.used), grouped(s.left)]
    });
    "\nFrom the shelf\n".to_owned()
        + &table(["kind", "lot", "stones", "left"], rows.collect(), 2..=3)
}

fn rest(plan: &Plan) -> String {
    let p = &plan.purchase;
    let mut text = String::new();
    if !p.leftovers.is_empty() {
        let all: Vec<String> =
            p.leftovers.iter().map(|l| format!("{} {}", grouped(l.stones), l.kind)).collect();
        let said =
            format!("Left over, worth {}: {}", plan.money(p.leftover_value), all.join(" · "));
        text += &format!("\n{}\n", wrapped(&said, "", "  "));
    }
    for s in &p.stand_ins {
        let said = format!(
            "{} {} stand in for {} ({} mm, colour difference {})",
            grouped(s.stones),
            s.stand_in,
            s.kind,
            signed(s.size_difference_mm),
            trimmed(s.colour_difference, 1)
        );
        text += &(wrapped(&said, "  ", "    ") + "\n");
    }
    for s in &p.shortages {
        let packs = s.packs.map_or(String::new(), |n| {
            format!(": {} of {}", counted(n as usize, "pack"), s.usual_pack.unwrap_or_default())
        });
        let said = format!("missing {} {}{packs}", grouped(s.stones), s.kind);
        text += &(wrapped(&said, "  ", "    ") + "\n");
    }
    let found = plan.findings_of(Part::Counts).chain(plan.findings_of(Part::Buying));
    text + &watch(found)
}

fn signed(mm: f64) -> String {
    if mm > 0.0 { format!("+{}", trimmed(mm, 2)) } else { trimmed(mm, 2) }
}
