//! What is worth knowing about a purchase.

use super::market::Market;
use super::purchase::{Proof, Purchase};
use super::stand_ins::Matches;
use lay::finding::Page;
use lay::{Finding, Severity};
use rust_decimal::Decimal;
use units::{grouped, trimmed};

/// The findings of buying.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.lots-mixed",
        what: "Some copies of a piece must be set with more than one lot of a kind, or with a kind and its stand-in.",
        why: "Shade differs between lots of one colour; beside each other it shows (common practice: one lot to a piece).",
        example: "Eight flasks of 400 stones, 1,000 stones of lot A17 and 2,880 of lot B2: the third flask takes both.",
        remedy: "Set the mixed copies where they stand apart, mix the lots well before setting, or buy enough of one lot.",
    },
    Page {
        code: "plan.nobody-sells",
        what: "the document names no supplier; packs of the usual size were counted",
        why: "what they cost is not known, unless the shelf or the kind names a price",
        example: "a `[[kind]]` with `pack = 1440`, and no `[[supplier]]`",
        remedy: "add a supplier with its offers, or buy the packs that are named",
    },
    Page {
        code: "plan.purchase-unproven",
        what: "The search for the cheapest purchase ended before it was sure. The purchase does what it should, but may cost a little more than needed.",
        why: "You may care to know how much you could save at most.",
        example: "A hundred kinds, ten suppliers, every free-delivery threshold just out of reach.",
        remedy: "Usually nothing: compare the amount with your time. Leaving out a supplier that you would not buy from helps the search.",
    },
    Page {
        code: "plan.stand-in-refused",
        what: "A kind was named as a stand-in, but its size or colour is further off than allowed, so it was not used.",
        why: "A stone of another size breaks rows; another colour is seen at once. A difference of 1 by CIEDE2000 can just be seen side by side.",
        example: "Deep water for sea glass: 0.1 mm larger, but 14.2 apart in colour where 5 are allowed.",
        remedy: "Name a closer kind, or allow more if you and the customer agree.",
    },
    Page {
        code: "plan.stand-in-used",
        what: "Stones of another kind stand in for the wanted one.",
        why: "The customer should know, and the bench must take the right box.",
        example: "300 stones of deep water stand in for sea glass: 0.1 mm larger, 2.1 apart in colour.",
        remedy: "Show both to the customer, or take the stand-in off the kind.",
    },
    Page {
        code: "plan.stones-short",
        what: "The shelf and all suppliers that deliver in time do not cover what is needed of a kind.",
        why: "The piece could not be finished.",
        example: "Sea glass: 1,440 stones needed, 200 on the shelf, 5 packs of 144 to be had: 520 short.",
        remedy: "Find another supplier, name a stand-in, move the date, or take another kind.",
    },
    Page {
        code: "plan.supplier-late",
        what: "A supplier cannot deliver in time; with it, the purchase would cost less or cover more.",
        why: "Ordering a few days earlier would pay.",
        example: "Reed bank needs 8 working days, 3 are left: it would save 6.40.",
        remedy: "Order earlier, ask for a faster delivery, or agree on a later date.",
    },
];

/// A purchase from all suppliers, as if there were time.
pub(super) struct WithTime {
    /// Late suppliers that it would buy from, with their lead time in working days.
    pub(super) late: Vec<(String, u32)>,
    /// How much less it costs.
    pub(super) saved: Decimal,
    /// How many more stones it covers.
    pub(super) more_stones: u64,
}

/// All findings on `purchase`.
pub(super) fn findings(
    market: &Market,
    matches: &Matches,
    purchase: &Purchase,
    with_time: Option<&WithTime>,
) -> Vec<Finding> {
    let mut found = if market.suppliers.is_empty() {
        nobody_sells(purchase).into_iter().collect()
    } else {
        shortages(market, purchase)
    };
    found.extend(mixed_lots(purchase));
    found.extend(stand_ins_used(market, purchase));
    found.extend(stand_ins_refused(market, matches));
    found.extend(with_time.map(|t| late(market, t)));
    if let Proof::Within { over } = &purchase.proof {
        let text = format!("the purchase may cost up to {over} more than the cheapest");
        let hint = "leave out suppliers that you would not buy from, or accept the difference";
        let mut finding = Finding::new("plan.purchase-unproven", Severity::Note, text, hint);
        finding.measured = Some(purchase.total.to_string());
        found.push(finding);
    }
    found
}

/// Where no supplier is named at all, packs of the usual size are what there is to buy.
fn nobody_sells(purchase: &Purchase) -> Option<Finding> {
    let packs = |s: &super::Shortage| match (s.packs, s.usual_pack) {
        (Some(packs), Some(pack)) => format!("{packs} of {pack} {}", s.kind),
        _ => format!("{} {}", grouped(s.stones), s.kind),
    };
    let all: Vec<String> = purchase.shortages.iter().map(packs).collect();
    (!all.is_empty()).then(|| {
        Finding::new(
            "plan.nobody-sells",
            Severity::Note,
            format!("no supplier is named, so packs are of the usual size: {}", all.join(", ")),
            "add a `[[supplier]]` with what it offers, and the cheapest purchase is found",
        )
    })
}

fn shortages(market: &Market, purchase: &Purchase) -> Vec<Finding> {
    let short = |s: &super::Shortage| {
        let cover = purchase.kinds.iter().find(|k| k.kind == s.kind);
        let need = cover.map_or(s.stones, |k| k.need);
        let sold = market.offers.iter().any(|o| market.kinds[o.kind].name == s.kind);
        let text = if sold {
            format!(
                "{}: {} stones short, after all that can be bought in time",
                s.kind,
                grouped(s.stones)
            )
        } else {
            format!(
                "{}: {} stones short, and no supplier is named for it",
                s.kind,
                grouped(s.stones)
            )
        };
        let hint = match (s.packs, s.usual_pack) {
            (Some(1), Some(pack)) => {
                format!("one pack of {} elsewhere would do", grouped(pack.into()))
            }
            (Some(n), Some(pack)) => {
                format!("{} packs of {} elsewhere would do", grouped(n), grouped(pack.into()))
            }
            _ => "name another supplier, a stand-in, or a later date".to_owned(),
        };
        let mut finding = Finding::new("plan.stones-short", Severity::Serious, text, hint);
        finding.measured = Some(format!("{} stones", grouped(need - s.stones)));
        finding.wanted = Some(format!("{} stones", grouped(need)));
        finding
    };
    purchase.shortages.iter().map(short).collect()
}

fn mixed_lots(purchase: &Purchase) -> Vec<Finding> {
    let mixed = purchase.lots.iter().filter(|l| l.mixed > 0);
    let finding = |l: &super::PieceLots| {
        let all: u32 = l.copies.iter().map(|c| c.copies).sum();
        let (n, copies) = (l.mixed, if all == 1 { "copy" } else { "copies" });
        let verb = if n == 1 { "mixes" } else { "mix" };
        let text = format!("{}: {n} of {all} {copies} {verb} lots of {}", l.piece, l.kind);
        let hint = "set them apart from the others, mix the lots well before setting, or buy enough of one lot";
        let mut finding = Finding::new("plan.lots-mixed", Severity::Warning, text, hint);
        finding.measured = Some(format!("{n} {}", if n == 1 { "copy" } else { "copies" }));
        finding.wanted = Some("one lot to a copy".to_owned());
        finding
    };
    mixed.map(finding).collect()
}

/// `0.1 mm larger, 2.1 apart in colour`.
fn apart(size_mm: f64, colour: f64) -> String {
    let size = trimmed(size_mm.abs(), 2);
    let size = match size_mm {
        _ if size == "0" => "the same size".to_owned(),
        s if s > 0.0 => format!("{size} mm larger"),
        _ => format!("{size} mm smaller"),
    };
    format!("{size}, {} apart in colour", trimmed(colour, 1))
}

/// `at most 0.1 mm and 5 in colour`.
fn allowed(market: &Market) -> String {
    let t = &market.tolerance;
    let (size, colour) = (trimmed(t.size_mm.value, 2), trimmed(t.colour_difference.value, 1));
    format!("at most {size} mm and {colour} in colour")
}

fn stand_ins_used(market: &Market, purchase: &Purchase) -> Vec<Finding> {
    let used = |s: &super::StandInUse| {
        let how = apart(s.size_difference_mm, s.colour_difference);
        let stones = if s.stones == 1 { "stone" } else { "stones" };
        let verb = if s.stones == 1 { "stands" } else { "stand" };
        let n = grouped(s.stones);
        let text = format!("{n} {stones} of {} {verb} in for {}: {how}", s.stand_in, s.kind);
        let hint = "show both to the customer, or take the stand-in off the kind";
        let mut finding = Finding::new("plan.stand-in-used", Severity::Note, text, hint);
        finding.measured = Some(how);
        finding.wanted = Some(allowed(market));
        finding
    };
    purchase.stand_ins.iter().map(used).collect()
}

fn stand_ins_refused(market: &Market, matches: &Matches) -> Vec<Finding> {
    let refused = |m: &super::stand_ins::Match| {
        let how = apart(m.size_difference_mm, m.colour_difference);
        let (kind, stand_in) = (&market.kinds[m.kind].name, &market.kinds[m.stand_in].name);
        let text = format!("{stand_in} does not stand in for {kind}: {how}");
        let hint = "name a closer kind, or allow more";
        let mut finding = Finding::new("plan.stand-in-refused", Severity::Note, text, hint);
        finding.measured = Some(how);
        finding.wanted = Some(allowed(market));
        finding
    };
    matches.pairs.iter().filter(|m| !m.within).map(refused).collect()
}

fn late(market: &Market, with_time: &WithTime) -> Finding {
    let names: Vec<&str> = with_time.late.iter().map(|l| l.0.as_str()).collect();
    let names = names.join(" and ");
    let days = with_time.late.iter().map(|l| l.1).max().unwrap_or(0);
    let left = market.days.unwrap_or(0);
    let gain = if with_time.more_stones > 0 {
        format!("would cover {} stones more", grouped(with_time.more_stones))
    } else {
        format!("would save {}", with_time.saved)
    };
    let text = format!("{names} {gain}, but cannot deliver in time");
    let hint =
        format!("order {} working days earlier, or move the date", days.saturating_sub(left));
    let severity = if with_time.more_stones > 0 { Severity::Warning } else { Severity::Note };
    let mut finding = Finding::new("plan.supplier-late", severity, text, hint);
    finding.measured = Some(format!("{days} working days"));
    finding.wanted = Some(format!("{left} working days"));
    finding
}
