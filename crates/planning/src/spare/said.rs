//! What is said about spare: reasons and findings.

use super::{Counts, KindNeed, KindSpare, Losses, Spare, SpareInput, chance};
use crate::{Origin, Reason};
use lay::finding::Page;
use lay::{Finding, Severity};
use units::{grouped, trimmed};

/// Expected loss above which we say so. Common practice buys 5 to 20 % more, for everything that
/// may go wrong together (no source); more than a tenth lost at the bench alone has a cause.
const LOSS_HIGH: f64 = 0.1;

/// A log that the assumption would give only once in so many times, or seldomer, speaks against it
/// (ours).
const APART: f64 = 0.01;

/// The findings of this part, sorted by code.
pub(crate) const PAGES: &[Page] = &[
    Page {
        code: "plan.log-thin",
        what: "Your log of a kind holds fewer stones than the assumed loss counts for, so that the assumption weighs more than what you wrote down.",
        why: "The spare is only as good as the assumption.",
        example: "The log holds 120 stones, and `loss` counts for 500.",
        remedy: "Keep the log, or lower `trust` if you know the assumption to be a guess.",
    },
    Page {
        code: "plan.loss-apart",
        what: "Your log shows a loss that the assumed one would hardly ever give.",
        why: "Kinds without a log are still reckoned with the assumption.",
        example: "3 % assumed; 85 of 1,000 stones lost.",
        remedy: "Set `loss` to what your log shows.",
    },
    Page {
        code: "plan.loss-high",
        what: "More than one stone in ten is expected to be lost.",
        why: "Spare costs money and time, and such a loss mostly has a cause that can be mended.",
        example: "A loss of 18 %: foil backs that came off with the wrong adhesive.",
        remedy: "Check the figure. If it is right, look for the cause: bag, adhesive, tool.",
    },
];

/// One reason for the order, and one for each kind that is needed.
pub(super) fn reasons(asked: &SpareInput, spare: &Spare) -> Vec<Reason> {
    let mut reasons = vec![
        Reason::new(
            "chance for each kind",
            percent(spare.sure_each),
            "chance for the whole order to the power of 1 / number of kinds, so that the product \
             over all kinds, taken as independent, is the chance for the order",
        )
        .with("chance for the whole order", percent(spare.sure), asked.sure.origin)
        .with("number of kinds", grouped(spare.n_kinds as u64), Origin::Plan),
    ];
    let kinds = asked.kinds.iter().zip(&spare.kinds);
    reasons.extend(kinds.filter(|k| k.0.need.most() > 0).map(|k| reason(k.0, k.1, spare)));
    reasons
}

fn reason(asked: &KindNeed, kind: &KindSpare, spare: &Spare) -> Reason {
    let Losses { assumed, trust, handled, lost } = asked.losses;
    let uncertain = handled > 0 || trust.origin == Origin::Document;
    let of = match (uncertain, asked.need.is_certain()) {
        (false, true) => {
            "the least N for which chance(need or more left of N) reaches the chance for each \
             kind, the number left being binomial: need + negative binomial quantile"
        }
        (true, true) => {
            "the least N for which chance(need or more left of N) reaches the chance for each \
             kind, the number lost being beta-binomial with a = loss × trust + lost, \
             b = (1 − loss) × trust + kept"
        }
        (false, false) => {
            "the least N for which chance(need or more left of N), averaged over the need, \
             reaches the chance for each kind, the number left being binomial"
        }
        (true, false) => {
            "the least N for which chance(need or more left of N), averaged over the need, \
             reaches the chance for each kind, the number lost being beta-binomial with \
             a = loss × trust + lost, b = (1 − loss) × trust + kept"
        }
    };
    let value = format!("{} stones, {} of them spare", grouped(kind.quantity), grouped(kind.spare));
    let mut reason = Reason::new(format!("{} to have ready", kind.kind), value, of)
        .with("need", need(&asked.need), Origin::Lay)
        .with("loss assumed", percent(assumed.value), assumed.origin);
    if uncertain {
        let text = format!("{} stones", trimmed(trust.value, 1));
        reason = reason.with("trust in it", text, trust.origin);
    }
    if handled > 0 {
        reason = reason
            .with("handled by the log", format!("{} stones", grouped(handled)), Origin::Log)
            .with("lost by the log", format!("{} stones", grouped(lost)), Origin::Log);
    }
    reason.with("chance for each kind", percent(spare.sure_each), Origin::Plan)
}

fn need(counts: &Counts) -> String {
    if counts.is_certain() {
        return format!("{} stones", grouped(counts.least()));
    }
    let within = |chance| grouped(counts.within(chance));
    format!("{} stones (half of all cases), {} (95 of 100)", within(0.5), within(0.95))
}

/// What is worth knowing, each code at most once: the worst kind by name, and how many more.
pub(super) fn findings(asked: &SpareInput, spare: &Spare) -> Vec<Finding> {
    let needed = || asked.kinds.iter().zip(&spare.kinds).filter(|k| k.0.need.most() > 0);
    let thin = needed().filter_map(|(k, _)| {
        let part = k.losses.handled as f64 / k.losses.trust.value;
        (k.losses.handled > 0 && part < 1.0).then_some((k, 1.0 - part))
    });
    let apart = needed().filter_map(|(k, _)| {
        let chance = chance::of_log(&k.losses);
        (chance < APART).then_some((k, 1.0 - chance))
    });
    let high = needed().filter_map(|(k, s)| (s.loss > LOSS_HIGH).then_some((k, s.loss)));
    let thin = worst(thin).map(|(k, more)| log_thin(k, more));
    let apart = worst(apart).map(|(k, more)| loss_apart(k, more));
    let high = worst(high).map(|(k, more)| loss_high(k, more));
    thin.into_iter().chain(apart).chain(high).collect()
}

/// The item with the greatest figure, the first of equals, and how many others there are.
fn worst<T>(found: impl Iterator<Item = (T, f64)>) -> Option<((T, f64), usize)> {
    let mut worst: Option<(T, f64)> = None;
    let mut n = 0;
    for item in found {
        n += 1;
        if worst.as_ref().is_none_or(|w| item.1 > w.1) {
            worst = Some(item);
        }
    }
    worst.map(|w| (w, n - 1))
}

type Worst<'a> = (&'a KindNeed, f64);

fn log_thin((kind, _): Worst<'_>, more: usize) -> Finding {
    let (handled, trust) = (kind.losses.handled, kind.losses.trust.value);
    let mut f = finding(
        "plan.log-thin",
        Severity::Note,
        format!(
            "the log of `{}`{} holds fewer stones than the assumed loss counts for",
            kind.kind,
            and(more)
        ),
        "keep the log, or lower `trust` if the assumption is a guess",
    );
    f.measured = Some(format!("{} stones handled", grouped(handled)));
    f.wanted = Some(format!("{} stones", trimmed(trust, 1)));
    f
}

fn loss_apart((kind, _): Worst<'_>, more: usize) -> Finding {
    let Losses { assumed, handled, lost, .. } = kind.losses;
    let mut f = finding(
        "plan.loss-apart",
        Severity::Note,
        format!("the log of `{}`{} shows another loss than the assumed one", kind.kind, and(more)),
        "set `loss` to what your log shows",
    );
    let part = lost as f64 / handled as f64;
    f.measured =
        Some(format!("{} of {} stones, {}", grouped(lost), grouped(handled), percent(part)));
    f.wanted = Some(percent(assumed.value));
    f
}

fn loss_high((kind, loss): Worst<'_>, more: usize) -> Finding {
    let mut f = finding(
        "plan.loss-high",
        Severity::Warning,
        format!(
            "of `{}`{} more than one stone in ten is expected to be lost",
            kind.kind,
            and(more)
        ),
        "check the figure; if it is right, look for the cause: bag, adhesive, tool",
    );
    f.measured = Some(percent(loss));
    f.wanted = Some(format!("at most {}", percent(LOSS_HIGH)));
    f
}

fn finding(code: &'static str, severity: Severity, text: String, hint: &str) -> Finding {
    let hint = hint.into();
    Finding { code, severity, zone: None, place: None, measured: None, wanted: None, text, hint }
}

fn and(more: usize) -> String {
    match more {
        0 => String::new(),
        1 => " and of one more kind".into(),
        n => format!(" and of {n} more kinds"),
    }
}

/// Enough digits to tell a chance from certainty.
fn percent(part: f64) -> String {
    let missing = 1.0 - part;
    let decimals = if missing < 1e-4 { 8 } else { 3 };
    format!("{} %", trimmed(part * 100.0, decimals))
}
