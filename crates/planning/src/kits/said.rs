//! What is worth knowing about kits, and how their figures came about.

use super::{Kit, KitWork};
use crate::{Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::{grouped, trimmed};

/// Findings of this module.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.kit-short",
        what: "Fewer stones are to go into a bag than the piece takes.",
        why: "Whoever opens the kit cannot finish the piece.",
        example: "120 stones put in, 124 in the lay.",
        remedy: "Put in what the gathering list says, spare included.",
    },
    Page {
        code: "plan.kit-stones",
        what: "The kits of the document take more stones of a kind than lie free on the shelf once the order has its own.",
        why: "The purchase is for the order alone; stones for kits are not in it.",
        example: "800 of `sea glass` (736 of 1,536): 1,536 for 12 kits, 736 free.",
        remedy: "Buy these stones besides, or pack fewer kits.",
    },
    Page {
        code: "plan.kit-weight-loose",
        what: "A bag filled by weight may hold fewer stones than the piece takes.",
        why: "A scale counts only as well as the unit weight is known and the stones are alike.",
        example: "600 stones with 12 spare, and a count by weight that is good to 20.",
        remedy: "Weigh a larger sample, put more spare in, or count these bags by hand.",
    },
];

pub(super) fn findings(work: &KitWork, kit: &Kit) -> Vec<Finding> {
    let finding = |code, severity, text: String, measured: String, wanted: String, hint: &str| {
        Finding::new(code, severity, text, hint).with(measured, wanted)
    };
    let mut all = vec![];
    for line in &kit.gathering {
        if line.put_in < line.stones {
            all.push(finding(
                "plan.kit-short",
                Severity::Serious,
                format!("a bag of `{}` in kit `{}` is short", line.kind, work.kit),
                format!("{} stones", grouped(line.put_in.into())),
                format!("at least {}", grouped(line.stones.into())),
                "put in what the piece takes, and spare",
            ));
        } else if line.within_stones.is_some_and(|w| w > f64::from(line.spare)) {
            let within = line.within_stones.unwrap_or(0.0);
            all.push(finding(
                "plan.kit-weight-loose",
                Severity::Warning,
                format!("a bag of `{}` filled by weight may be short", line.kind),
                format!("good to {} stones", trimmed(within.ceil(), 0)),
                format!("at most the {} spare", line.spare),
                "weigh a larger sample, put more spare in, or count by hand",
            ));
        }
    }
    all
}

pub(super) fn reasons(work: &KitWork, kit: &Kit) -> Vec<Reason> {
    let percent = |part: f64| format!("{} %", trimmed(part * 100.0, 2));
    let mut all = vec![];
    for (kind, line) in work.kinds.iter().zip(&kit.gathering) {
        let figure = format!("{} in each kit {}", line.kind, work.kit);
        let value = format!("{} stones", grouped(line.put_in.into()));
        let reason = match kind.put_in {
            Some(said) => Reason::new(figure, value, "as said").with(
                "put in",
                grouped(said.value.into()),
                said.origin,
            ),
            None => Reason::new(
                figure,
                value,
                "smallest number of which, with the k-th root of the chance for k kinds, at least as many are left as one copy takes (binomial)",
            )
            .with("one copy", grouped(line.stones.into()), Origin::Lay)
            .with("chance for a whole kit", percent(work.sure.value), work.sure.origin)
            .with("loss", percent(work.loss.value), work.loss.origin),
        };
        all.push(reason);
        if let (Some(gross), Some(unit)) = (line.gross_g, &kind.unit) {
            all.push(
                Reason::new(
                    format!("full bag of {}", line.kind),
                    format!("{} g", trimmed(gross, 2)),
                    "stones × unit weight + empty bag",
                )
                .with("stones", grouped(line.put_in.into()), Origin::Plan)
                .with("unit weight", format!("{} g", trimmed(unit.unit_g, 5)), Origin::Plan)
                .with(
                    "empty bag",
                    format!("{} g", trimmed(kind.bag_g.value, 2)),
                    kind.bag_g.origin,
                ),
            );
        }
    }
    all
}
