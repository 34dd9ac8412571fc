//! Kits to be set by others, mixes by the bag, and the labels of both.

use super::{counted, table};
use crate::view;
use app::plan::Plan;
use maud::{Markup, html};
use planning::kits::{Kit, Label};
use planning::mixes::MixBag;
use units::{grouped, trimmed};

pub(super) fn body(plan: &Plan) -> Markup {
    let reasons = plan.kits.iter().flat_map(|k| &k.reasons);
    let reasons = reasons.chain(plan.bags.iter().flat_map(|b| &b.reasons));
    html! {
        @if plan.kits.is_empty() && plan.bags.is_empty() {
            div.empty {
                h3 { "No kit and no bag" }
                p { "A kit packs the stones of a piece for others to set; a bag is a mix to be sold by itself. Add one below." }
            }
        }
        @for k in &plan.kits { (kit(plan, k)) }
        @for b in &plan.bags { (bag(plan, b)) }
        (view::reasons("How these figures came about", reasons))
    }
}

fn kit(plan: &Plan, k: &Kit) -> Markup {
    html! {
        section.card.kit {
            h3 { (k.kit) }
            p {
                (counted(k.kits.into(), "kit", "kits")) " of " (k.piece) ", " (counted(k.stones, "stone", "stones")) " in all"
                @if let Some(g) = k.grams { ", " (trimmed(g, 1)) " g" }
                @if let Some(cost) = k.stones_cost { ", stones for " (plan.money(cost)) }
                ". With the spare in one dish for all, " (counted(k.stones_with_shared_spare, "stone", "stones")) " would do."
            }
            (table("Into each bag",
                &html! { th { "Kind" } th { "Size" } th.n { "To set" } th.n { "Spare" } th.n { "Put in" } th.n { "On the scale" } th.n { "All kits" } },
                &html! { @for l in &k.gathering { tr {
                    th scope="row" { (l.kind) } td { (l.size) } td.n { (grouped(l.stones.into())) } td.n { (grouped(l.spare.into())) }
                    td.n { strong { (grouped(l.put_in.into())) } }
                    td.n {
                        @match l.gross_g { Some(g) => { (trimmed(g, 2)) " g" } None => "count them" }
                        @if let Some(w) = l.within_stones { " ± " (trimmed(w, 1)) }
                    }
                    td.n { (grouped(l.all_stones)) }
                } } }))
            (labels(&format!("Labels of {}", k.kit), &k.labels))
        }
    }
}

fn bag(plan: &Plan, b: &MixBag) -> Markup {
    html! {
        section.card.kit {
            h3 { (b.mix) " " span.hint { "by the bag" } }
            dl.facts {
                dt { "In a bag" } dd { (counted(b.stones, "stone", "stones")) ", " (trimmed(b.grams, 2)) " g; " (trimmed(b.gross_g, 2)) " g with the bag" }
                @if let Some(price) = b.price { dt { "Charge, before tax" } dd { (plan.money(price)) } }
                @if let Some(c) = &b.cost {
                    dt { "Costs" }
                    dd { (plan.money(c.total)) ": stones " (plan.money(c.stones)) ", bag " (plan.money(c.bag)) ", work " (plan.money(c.work)) }
                }
                @if let Some(c) = &b.covers {
                    dt { "Covers" }
                    dd {
                        (trimmed(c.mean_cm2, 0)) " cm²"
                        @if c.zones > 1 { " (" (trimmed(c.least_cm2, 0)) " to " (trimmed(c.most_cm2, 0)) ", as " (c.zones) " laid zones took it)" }
                    }
                }
                dt { "The shelf fills" } dd { (counted(b.shelf_bags, "bag", "bags")) "; " (b.runs_out_first) " runs out first" }
            }
            (table(&format!("A bag of {}", b.mix),
                &html! { th { "Kind" } th.n { "Share" } th.n { "Stones" } th.n { "Weigh out" } th.n { "Bags on the shelf" } },
                &html! { @for l in &b.contents { tr {
                    th scope="row" { (l.kind) } td.n { (view::percent(l.share)) } td.n { (grouped(l.stones)) } td.n { (trimmed(l.grams, 2)) " g" }
                    td.n { (l.shelf_bags.map_or(String::new(), grouped)) }
                } } }))
            (labels(&format!("Labels of {}", b.mix), &b.labels))
        }
    }
}

fn labels(title: &str, all: &[Label]) -> Markup {
    html! {
        details.labels {
            summary { (title) " (" (all.len()) ")" }
            ul { @for label in all { li { @for (i, line) in label.lines.iter().enumerate() { @if i > 0 { br; } (line) } } } }
        }
    }
}
