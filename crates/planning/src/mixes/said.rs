//! What is worth knowing about a bag, and how its figures came about.

use super::{MixBag, MixWork, Pricing};
use crate::price::Profit;
use crate::{Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use rust_decimal::Decimal;
use units::{grouped, trimmed};

/// Findings of this module.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.bag-below-cost",
        what: "A bag of a mix is to sell for less than it costs.",
        why: "Every bag sold loses money.",
        example: "Stones for 3.10, a bag for 0.20 and four minutes of work, sold at 3.50.",
        remedy: "Raise the price, put less in, or fill more bags in one go.",
    },
    Page {
        code: "plan.bag-kind-missing",
        what: "A kind of the mix has no stone in the bag, because the bag is small and the share is.",
        why: "The buyer pays for a colour that is not there.",
        example: "A share of 1 % in a bag of 40 stones.",
        remedy: "Make the bag larger, or leave the kind out of the mix.",
    },
    Page {
        code: "plan.shelf-no-bag",
        what: "The shelf cannot fill a single bag of the mix.",
        why: "A kind runs out before the first bag is full.",
        example: "A bag takes 120 stones of a kind of which 90 lie free.",
        remedy: "Buy the kind that runs out first, or make the bag smaller.",
    },
];

pub(super) fn findings(bag: &MixBag, margin: Option<Decimal>) -> Vec<Finding> {
    let mut all = vec![];
    if margin.is_some_and(|m| m < Decimal::ZERO) {
        let mut f = Finding::new(
            "plan.bag-below-cost",
            Severity::Serious,
            format!("a bag of `{}` sells for less than it costs", bag.mix),
            "raise the price or put less in",
        );
        f.measured = bag.price.map(|p| p.to_string());
        f.wanted = bag.cost.as_ref().map(|c| format!("at least {}", c.total));
        all.push(f);
    }
    for line in bag.contents.iter().filter(|l| l.stones == 0 && l.share > 0.0) {
        let mut f = Finding::new(
            "plan.bag-kind-missing",
            Severity::Warning,
            format!("a bag of `{}` holds no stone of `{}`", bag.mix, line.kind),
            "make the bag larger, or leave the kind out",
        );
        f.measured = Some(format!("{} stones in a bag", grouped(bag.stones)));
        f.wanted = Some(format!("a share of {} %", trimmed(line.share * 100.0, 2)));
        all.push(f);
    }
    if bag.shelf_bags == 0 {
        all.push(Finding::new(
            "plan.shelf-no-bag",
            Severity::Note,
            format!("the shelf cannot fill a bag of `{}`", bag.mix),
            format!("buy `{}` first", bag.runs_out_first),
        ));
    }
    all
}

pub(super) fn reasons(work: &MixWork, bag: &MixBag) -> Vec<Reason> {
    let figure = |what: &str| format!("{what} of a bag of {}", bag.mix);
    let mut grams = Reason::new(
        figure("weight"),
        format!("{} g", trimmed(bag.grams, 1)),
        "sum over kinds of stones × weight of one; stones by share, whole numbers by largest remainder",
    );
    for (kind, line) in work.kinds.iter().zip(&bag.contents) {
        let each = format!("{} × {} g", grouped(line.stones), trimmed(kind.unit_g.value, 4));
        grams = grams.with(&*line.kind, each, kind.unit_g.origin);
    }
    let mut all = vec![grams];
    if let Some(cost) = &bag.cost {
        all.push(
            Reason::new(
                figure("cost"),
                cost.total.to_string(),
                "stones + bag + minutes / 60 × price of an hour",
            )
            .with("stones", cost.stones.to_string(), Origin::Plan)
            .with("bag", cost.bag.to_string(), work.bag_price.origin)
            .with("minutes", trimmed(work.bag_min.value, 1), work.bag_min.origin)
            .with(
                "price of an hour",
                work.hour_price.value.to_string(),
                work.hour_price.origin,
            ),
        );
    }
    if let (Some(price), Some(cost)) = (bag.price, &bag.cost) {
        let percent = |d: Decimal| format!("{} %", (d * Decimal::ONE_HUNDRED).normalize());
        let (formula, name, value) = match work.pricing.value {
            Pricing::Price(p) => ("as written", "price", p.to_string()),
            Pricing::Profit(Profit::Margin(m)) => {
                ("cost / (1 − margin), up to the smallest unit", "margin", percent(m.part()))
            }
            Pricing::Profit(Profit::Markup(m)) => {
                ("cost × (1 + mark-up), up to the smallest unit", "mark-up", percent(m.part()))
            }
        };
        all.push(
            Reason::new(figure("price"), price.to_string(), formula)
                .with("cost", cost.total.to_string(), Origin::Plan)
                .with(name, value, work.pricing.origin),
        );
    }
    if let Some(covers) = &bag.covers {
        all.push(
            Reason::new(
                figure("area"),
                format!("{} cm²", trimmed(covers.mean_cm2, 1)),
                "area of all laid zones / their stones × stones of a bag",
            )
            .with("laid zones", covers.zones.to_string(), Origin::Lay)
            .with("least", format!("{} cm²", trimmed(covers.least_cm2, 1)), Origin::Lay)
            .with("most", format!("{} cm²", trimmed(covers.most_cm2, 1)), Origin::Lay),
        );
    }
    all
}
