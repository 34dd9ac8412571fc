//! What is worth knowing about kits, and how their figures came about.

use super::{GatheringLine, Kit, KitWork};
use crate::{Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::{grouped, trimmed};

/// Findings of this module.
pub(crate) const PAGES: &[Page] = &[
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

pub(super) fn findings(kit: &Kit) -> Vec<Finding> {
    let loose = |line: &GatheringLine| {
        let within = line.within_stones.filter(|w| *w > f64::from(line.spare))?;
        let text = format!("a bag of `{}` filled by weight may be short", line.kind);
        let hint = "weigh a larger sample, put more spare in, or count by hand";
        let finding = Finding::new("plan.kit-weight-loose", Severity::Warning, text, hint);
        Some(finding.with(
            format!("good to {} stones", trimmed(within.ceil(), 0)),
            format!("at most the {} spare", line.spare),
        ))
    };
    kit.gathering.iter().filter_map(loose).collect()
}

pub(super) fn reasons(work: &KitWork, kit: &Kit) -> Vec<Reason> {
    let percent = |part: f64| format!("{} %", trimmed(part * 100.0, 2));
    let mut all = vec![];
    for (kind, line) in work.kinds.iter().zip(&kit.gathering) {
        let figure = format!("{} in each kit {}", line.kind, work.kit);
        let value = format!("{} stones", grouped(line.put_in.into()));
        let reason = Reason::new(
            figure,
            value,
            "smallest number of which, with the k-th root of the chance for k kinds, at least as \
             many are left as one copy takes (binomial)",
        )
        .with("one copy", grouped(line.stones.into()), Origin::Lay)
        .with("chance for a whole kit", percent(work.sure.value), work.sure.origin)
        .with("loss", percent(work.loss.value), work.loss.origin);
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
