//! What is worth knowing about a bag, and how its figures came about.

use super::{BagSize, MixBag, MixWork};
use crate::price::Profit;
use crate::{Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use rust_decimal::Decimal;
use units::{grouped, trimmed};

/// Findings of this module.
pub(crate) const PAGES: &[Page] = &[
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
    Page {
        code: "plan.weight-guessed",
        what: "Nobody weighed some kinds of a mix; the weight of their stones was guessed by their diameter.",
        why: "A bag filled by weight holds as many stones too few or too many as the guess is off: foil, glass and shape may make a third.",
        example: "sea glass at 0.035 g a stone, by its 3.9 mm.",
        remedy: "Count and weigh a gross of each kind, and write its weight in the `[[kind]]`.",
    },
];

pub(super) fn findings(work: &MixWork, bag: &MixBag) -> Vec<Finding> {
    let mut all = vec![];
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
    all.extend(guessed(work));
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

/// Kinds whose weight nobody stated. It matters most where the scale fills the bag.
fn guessed(work: &MixWork) -> Option<Finding> {
    let kinds = work.kinds.iter().filter(|k| k.share > 0.0 && k.unit_g.origin == Origin::Usual);
    let named: Vec<String> =
        kinds.map(|k| format!("`{}` at {} g", k.kind, trimmed(k.unit_g.value, 4))).collect();
    let by_weight = matches!(work.bag, BagSize::Grams(_));
    (!named.is_empty()).then(|| {
        Finding::new(
            "plan.weight-guessed",
            if by_weight { Severity::Warning } else { Severity::Note },
            format!(
                "the weight of a stone is guessed in mix `{}`, by its diameter: {}",
                work.mix,
                named.join(", ")
            ),
            "count and weigh a gross of each, and write its weight in the `[[kind]]`",
        )
    })
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
        let (formula, name, value) = match work.profit.value {
            Profit::Margin(m) => (
                "(cost + fixed fees) / (1 − margin − fees × (1 + tax)), up to the next step; a bag \
                     is sold by itself and bears the fixed fees in full",
                "margin",
                percent(m.part()),
            ),
            Profit::Markup(m) => (
                "(1 + mark-up) × (cost + fixed fees) / (1 − (1 + mark-up) × fees × (1 + tax)), up to \
                     the next step; a bag is sold by itself and bears the fixed fees in full",
                "mark-up",
                percent(m.part()),
            ),
        };
        let mut reason = Reason::new(figure("price"), price.to_string(), formula)
            .with("cost", cost.total.to_string(), Origin::Plan)
            .with(name, value, work.profit.origin)
            .with("tax", percent(work.terms.tax.value), work.terms.tax.origin);
        for fee in &work.terms.fees {
            let text = format!("{} and {} a bag", percent(fee.share), fee.fixed);
            reason = reason.with(format!("fee `{}`", fee.name), text, Origin::Document);
        }
        if let Some(step) = work.terms.round_up_to {
            reason = reason.with("step", step.to_string(), Origin::Document);
        }
        all.push(reason);
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
