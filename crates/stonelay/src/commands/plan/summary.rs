//! The whole plan on one screen of 80 × 40: the answer first.

use super::table::{finding, time, work};
use crate::output::{counted, plural, wrapped};
use app::plan::Plan;
use jiff::civil::Date;
use planning::buying::Proof;
use planning::calendar::Step;
use units::{grouped, trimmed};

/// Lines of a screen.
const LINES: usize = 40;
/// Lines that one section may take.
const SECTION: usize = 7;
/// Where the text of a section begins.
const INDENT: &str = "                ";

/// The summary.
pub(super) fn text(plan: &Plan) -> String {
    let mut text = wrapped(&plan.answer.to_string(), "", "  ") + "\n";
    text += &(wrapped(&plan.order, "", "") + "\n");
    text += &section("How many", "buy", &how_many(plan));
    text += &section("What to buy", "buy", &what_to_buy(plan));
    text += &section("What it costs", "price", &what_it_costs(plan));
    text += &section("How long", "price", &how_long(plan));
    text += &section("When", "calendar", &when(plan));
    text += &section("What to charge", "price", &what_to_charge(plan));
    let room = LINES.saturating_sub(lines(&text));
    text + &watch(plan, room)
}

fn lines(text: &str) -> usize {
    text.lines().count()
}

/// A section with its head at the margin; what does not fit is left to the verb that shows it all.
fn section(head: &str, verb: &str, said: &[String]) -> String {
    let mut all: Vec<String> = vec![];
    for sentence in said.iter().filter(|s| !s.is_empty()) {
        all.extend(wrapped(sentence, INDENT, INDENT).lines().map(str::to_owned));
    }
    if all.len() > SECTION {
        all.truncate(SECTION);
        if let Some(last) = all.last_mut() {
            *last = format!("{INDENT}… `stonelay {verb}` shows more");
        }
    }
    if let Some(first) = all.first_mut() {
        *first = format!("{head:<16}{}", first.trim_start());
    }
    all.iter().map(|l| format!("{l}\n")).collect()
}

fn how_many(plan: &Plan) -> Vec<String> {
    let piece = |p: &app::plan::PieceCount| match p.copies {
        1 => format!("{} {}", p.piece, grouped(p.stones)),
        n => format!("{} {} × {}", p.piece, grouped(u64::from(n)), grouped(p.stones)),
    };
    let pieces: Vec<String> = plan.pieces.iter().map(piece).collect();
    let spare = &plan.spare;
    let total: u64 = spare.kinds.iter().map(|k| k.quantity).sum();
    let mut said = vec![
        pieces.join(" · "),
        format!(
            "{} with spare: {} % sure for the whole order, {} % for each of {}",
            grouped(total),
            trimmed(spare.sure * 100.0, 2),
            trimmed(spare.sure_each * 100.0, 2),
            counted(spare.n_kinds, "kind")
        ),
    ];
    let by_hand: Vec<&str> =
        plan.pieces.iter().filter(|p| p.by_hand.is_some()).map(|p| p.piece.as_str()).collect();
    if !by_hand.is_empty() {
        said.push(format!("set by hand, so counts may come out otherwise: {}", by_hand.join(", ")));
    }
    said
}

fn what_to_buy(plan: &Plan) -> Vec<String> {
    let p = &plan.purchase;
    let mut said: Vec<String> = p
        .deliveries
        .iter()
        .map(|d| {
            let lines = p.lines.iter().filter(|l| l.supplier == d.supplier);
            let lines: Vec<String> = lines.map(|l| format!("{} {}", l.packs, l.kind)).collect();
            let sum = plan.money(d.goods + d.charge);
            format!("packs from {}: {} ({sum})", d.supplier, lines.join(", "))
        })
        .collect();
    let used: u64 = p.stock.iter().map(|s| s.used).sum();
    if used > 0 {
        said.push(format!("from the shelf: {}", counted(used as usize, "stone")));
    }
    said.extend(p.shortages.iter().map(|s| match s.packs {
        Some(packs) => format!(
            "{}: {} missing, {} of {}",
            s.kind,
            grouped(s.stones),
            counted(packs as usize, "pack"),
            s.usual_pack.unwrap_or_default()
        ),
        None => format!("{}: {} missing", s.kind, grouped(s.stones)),
    }));
    let containers = plan.glue.adhesives.iter().filter_map(|a| {
        let n = a.containers?;
        Some(format!("{} of {}", counted(n as usize, "container"), a.adhesive))
    });
    said.extend(containers);
    if said.is_empty() {
        said.push("nothing".to_owned());
    }
    said
}

fn what_it_costs(plan: &Plan) -> Vec<String> {
    let p = &plan.purchase;
    let proof = match &p.proof {
        Proof::Cheapest if plan.answer.short > 0 => String::new(),
        Proof::Cheapest => ", the cheapest there is".to_owned(),
        Proof::Within { over } => format!(", at most {} above the cheapest", plan.money(*over)),
    };
    let mut said = vec![];
    if !p.lines.is_empty() {
        said.push(format!(
            "stones to buy {}{proof}; {} of it is left over afterwards",
            plan.money(p.total),
            plan.money(p.leftover_value)
        ));
    }
    if let Some(price) = &plan.price {
        let lines: Vec<String> =
            price.sheet.iter().map(|l| format!("{} {}", l.item, plan.money(l.amount))).collect();
        said.push(format!("{} = {} {}", lines.join(" + "), plan.money(price.cost), price.currency));
    }
    if said.is_empty() {
        said.push("the document names no price".to_owned());
    }
    said
}

fn how_long(plan: &Plan) -> Vec<String> {
    let activities: Vec<String> = plan
        .hours
        .activities
        .iter()
        .filter(|a| a.total_min > 0.0)
        .map(|a| format!("{} {}", a.activity.words(), work(a.total_min)))
        .collect();
    let stretches: usize =
        plan.stretches.iter().map(|s| s.stretches.stretches.len() * s.copies as usize).sum();
    let longest = plan
        .stretches
        .iter()
        .flat_map(|s| &s.stretches.stretches)
        .map(|s| s.usual_min)
        .fold(0.0, f64::max);
    vec![
        activities.join(" · "),
        format!("{} of {} at most", plural(stretches, "stretch", "stretches"), time(longest)),
    ]
}

fn when(plan: &Plan) -> Vec<String> {
    let c = &plan.calendar;
    let begin = c.events.first().map(|e| e.starts_at.date());
    let due = match (c.due, c.due_met) {
        (Some(due), Some(true)) => format!(", wanted by {}: in time", day(due)),
        (Some(due), _) => {
            format!(", wanted by {}: {} late", day(due), counted(c.late_days as usize, "day"))
        }
        _ => String::new(),
    };
    let begin = begin.map_or(String::new(), |d| format!("{} to ", day(d)));
    let mut said = vec![format!("{begin}{}{due}", day(c.ship_on))];
    if let Some(Step { piece, activity, .. }) = c.critical_path.last() {
        said.push(format!("last of all: {}, {}", piece, super::calendar::words(*activity)));
    }
    said
}

fn what_to_charge(plan: &Plan) -> Vec<String> {
    let Some(p) = &plan.price else {
        return vec!["add `[price]` with a currency to the document".to_owned()];
    };
    let t = &p.charged;
    let mut said = vec![format!(
        "{} {}: {} and {} tax; deposit {}, balance {}",
        plan.money(t.gross),
        p.currency,
        plan.money(t.net),
        plan.money(t.tax),
        plan.money(t.deposit),
        plan.money(t.balance)
    )];
    let part = |d: rust_decimal::Decimal| plan.money(d * rust_decimal::Decimal::ONE_HUNDRED);
    if let (Some(margin), Some(markup)) = (p.margin, p.markup) {
        said.push(format!(
            "no less than {} before tax; margin {} % of the price = mark-up {} % on cost and fees",
            plan.money(p.floor),
            part(margin),
            part(markup)
        ));
    }
    let each: Vec<String> =
        p.pieces.iter().map(|x| format!("{} {}", x.piece, plan.money(x.each))).collect();
    said.push(format!("each, before tax: {}", each.join(" · ")));
    said
}

/// What to watch, as much as the screen still holds.
fn watch(plan: &Plan, room: usize) -> String {
    let mut text = "What to watch\n".to_owned();
    if plan.findings.is_empty() {
        return text + "  nothing\n";
    }
    for (i, f) in plan.findings.iter().enumerate() {
        let one = finding(f, false);
        let left = plan.findings.len() - i;
        // A line is kept for saying how many there are beyond the screen.
        let needed = lines(&text) + lines(&one) + usize::from(left > 1);
        if i > 0 && needed > room {
            return text + &format!("  … and {left} more: `--json` lists them all\n");
        }
        text += &one;
    }
    text
}

/// `Thu 17 Dec`.
pub(super) fn day(date: Date) -> String {
    date.strftime("%a %-d %b").to_string()
}
