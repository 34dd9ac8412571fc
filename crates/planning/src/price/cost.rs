//! What a piece and an order cost, before anything is rounded, and the price that covers it.

use super::exact::{Exact, exact, hours_of, whole};
use super::{MaterialSort, Outlay, Overhead, PieceOutlay, PriceError, Profit, Terms};
use crate::hours::{ACTIVITIES, Activity, Hours, PieceHours};
use num_traits::{Signed, Zero};

/// What one line of a cost sheet is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Item {
    Material(MaterialSort),
    Waste,
    Labour(Activity),
    Overhead,
    /// A cost of the whole order, with a name of its own.
    WholeOrder,
}

/// Every item but those of the whole order, in the order of a sheet.
pub(super) const ITEMS: [Item; 12] = [
    Item::Material(MaterialSort::Stones),
    Item::Material(MaterialSort::Adhesive),
    Item::Material(MaterialSort::Blank),
    Item::Material(MaterialSort::Packaging),
    Item::Material(MaterialSort::Other),
    Item::Waste,
    Item::Labour(Activity::SetUp),
    Item::Labour(Activity::Prepare),
    Item::Labour(Activity::Mixing),
    Item::Labour(Activity::Setting),
    Item::Labour(Activity::Packing),
    Item::Overhead,
];

impl Item {
    /// In a maker's words.
    pub(super) fn words(self) -> &'static str {
        match self {
            Item::Material(MaterialSort::Stones) => "stones",
            Item::Material(MaterialSort::Adhesive) => "adhesive",
            Item::Material(MaterialSort::Blank) => "blanks",
            Item::Material(MaterialSort::Packaging) => "packaging",
            Item::Material(MaterialSort::Other) => "other material",
            Item::Waste => "waste",
            Item::Labour(activity) => activity.words(),
            Item::Overhead => "overhead",
            Item::WholeOrder => "whole order",
        }
    }
}

/// One line of cost.
#[derive(Clone, Debug)]
pub(super) struct Line {
    pub(super) item: Item,
    pub(super) name: Option<String>,
    pub(super) amount: Exact,
}

impl Line {
    fn new(item: Item, amount: Exact) -> Line {
        Line { item, name: None, amount }
    }
}

/// The cost of `copies` copies of a piece, without the costs of the whole order. Lines of nothing
/// are left out.
pub(super) fn of_piece(
    terms: &Terms,
    hours: &PieceHours,
    outlay: &PieceOutlay,
    copies: u32,
) -> Vec<Line> {
    let n = whole(u64::from(copies));
    let named = |m: &super::Material| Line {
        item: Item::Material(m.sort),
        name: Some(m.name.clone()),
        amount: exact(m.each) * &n,
    };
    let mut lines: Vec<Line> = outlay.materials.iter().map(named).collect();
    let material = sum(&lines);
    lines.push(Line::new(Item::Waste, material * exact(terms.waste.value)));
    let mut worked = Exact::zero();
    for activity in ACTIVITIES {
        let spent = hours_of(hours.activity_min(activity, copies));
        lines.push(Line::new(Item::Labour(activity), &spent * exact(terms.wage_per_h.value)));
        worked += spent;
    }
    let overhead = overhead(terms, &worked, &sum(&lines));
    lines.push(Line::new(Item::Overhead, overhead));
    lines.retain(|l| !l.amount.is_zero());
    lines
}

/// The costs of the whole order: its set-up, the overhead on that, and what the outlay names.
pub(super) fn of_order(terms: &Terms, hours: &Hours, outlay: &Outlay) -> Vec<Line> {
    let spent = hours_of(hours.set_up_min);
    let set_up = &spent * exact(terms.wage_per_h.value);
    let overhead = overhead(terms, &spent, &set_up);
    let mut lines =
        vec![Line::new(Item::Labour(Activity::SetUp), set_up), Line::new(Item::Overhead, overhead)];
    lines.extend(outlay.whole_order.iter().map(|cost| Line {
        item: Item::WholeOrder,
        name: Some(cost.name.clone()),
        amount: exact(cost.amount),
    }));
    lines.retain(|l| !l.amount.is_zero());
    lines
}

fn overhead(terms: &Terms, hours: &Exact, cost: &Exact) -> Exact {
    match terms.overhead.value {
        Overhead::PerHour(amount) => hours * exact(amount),
        Overhead::Share(share) => cost * exact(share),
    }
}

/// All lines together.
pub(super) fn sum(lines: &[Line]) -> Exact {
    lines.iter().map(|l| &l.amount).sum()
}

/// What a cost is multiplied by to become a price before tax.
///
/// A fee is a share of what the customer pays, which is the price with its tax: of a price p, the
/// fees take φ (1 + t) p, the profit m p, and what is left is the cost. So p = cost / (1 − m −
/// φ (1 + t)), where cost holds the fixed parts of the fees.
pub(super) struct PriceFactors {
    /// Without profit.
    pub(super) floor: Exact,
    /// With the profit wanted.
    pub(super) suggested: Exact,
    /// Fixed parts of all fees, once an order.
    pub(super) fixed_fees: Exact,
}

impl PriceFactors {
    /// Of these terms.
    ///
    /// # Errors
    /// Fees and margin leave nothing.
    pub(super) fn new(terms: &Terms) -> Result<PriceFactors, PriceError> {
        let shares: Exact = terms.fees.iter().map(|f| exact(f.share)).sum();
        let fees = shares * (whole(1) + exact(terms.tax.value));
        let left = |margin: Exact| {
            let left = whole(1) - margin - &fees;
            left.is_positive().then(|| left.recip())
        };
        let nothing = |profit: Profit| {
            let fees = super::exact::rounded(&fees, 6).unwrap_or_default();
            PriceError::NothingLeft { margin: profit.margin().part(), fees }
        };
        let profit = terms.profit.value;
        Ok(PriceFactors {
            floor: left(Exact::zero()).ok_or_else(|| nothing(profit))?,
            suggested: left(profit.exact_margin()).ok_or_else(|| nothing(profit))?,
            fixed_fees: terms.fees.iter().map(|f| exact(f.fixed)).sum(),
        })
    }
}
