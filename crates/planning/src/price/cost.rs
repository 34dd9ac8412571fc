//! What a piece and an order cost, before anything is rounded, and the price that covers it.

use super::exact::{Exact, Ratio};
use super::{Fee, MaterialSort, Outlay, Overhead, PieceOutlay, PriceError, Profit, Terms};
use crate::hours::{ACTIVITIES, Activity, Hours, PieceHours};
use rust_decimal::Decimal;

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
    let named = |m: &super::Material| Line {
        item: Item::Material(m.sort),
        name: Some(m.name.clone()),
        amount: Exact::of(m.each).times_n(u64::from(copies)),
    };
    let mut lines: Vec<Line> = outlay.materials.iter().map(named).collect();
    let material = sum(&lines);
    lines.push(Line::new(Item::Waste, material.times(terms.waste.value)));
    let mut worked = Exact::zero();
    for activity in ACTIVITIES {
        let spent = Exact::hours(hours.activity_min(activity, copies));
        lines.push(Line::new(Item::Labour(activity), spent.times(terms.wage_per_h.value)));
        worked += &spent;
    }
    let overhead = overhead(terms, &worked, &sum(&lines));
    lines.push(Line::new(Item::Overhead, overhead));
    lines.retain(|l| !l.amount.is_zero());
    lines
}

/// What one piece costs at any number of copies, its lines together: the sum of [`of_piece`] in
/// closed form.
pub(super) struct PieceTotal {
    /// Material and waste of a copy, with a share of overhead.
    each: Exact,
    /// A thousandth of a minute of work, with its overhead.
    milli_minute: Exact,
}

impl PieceTotal {
    pub(super) fn new(terms: &Terms, outlay: &PieceOutlay) -> PieceTotal {
        let material: Exact = outlay.materials.iter().map(|m| Exact::of(m.each)).sum();
        let each = material.times(terms.waste.value) + &material;
        let milli_minute = Exact::hours(0.001);
        let labour = milli_minute.times(terms.wage_per_h.value);
        let milli_minute = overhead(terms, &milli_minute, &labour) + &labour;
        let each = overhead(terms, &Exact::zero(), &each) + &each;
        PieceTotal { each, milli_minute }
    }

    /// All `copies`, which take `worked_min`.
    pub(super) fn of(&self, copies: u32, worked_min: f64) -> Exact {
        let worked = (worked_min * 1000.0).round() as u64;
        self.each.times_n(u64::from(copies)) + &self.milli_minute.times_n(worked)
    }
}

/// The costs of the whole order: its set-up, the overhead on that, and what the outlay names.
pub(super) fn of_order(terms: &Terms, hours: &Hours, outlay: &Outlay) -> Vec<Line> {
    let spent = Exact::hours(hours.set_up_min);
    let set_up = spent.times(terms.wage_per_h.value);
    let overhead = overhead(terms, &spent, &set_up);
    let mut lines =
        vec![Line::new(Item::Labour(Activity::SetUp), set_up), Line::new(Item::Overhead, overhead)];
    lines.extend(outlay.whole_order.iter().map(|cost| Line {
        item: Item::WholeOrder,
        name: Some(cost.name.clone()),
        amount: Exact::of(cost.amount),
    }));
    lines.retain(|l| !l.amount.is_zero());
    lines
}

fn overhead(terms: &Terms, hours: &Exact, cost: &Exact) -> Exact {
    match terms.overhead.value {
        Overhead::PerHour(amount) => hours.times(amount),
        Overhead::Share(share) => cost.times(share),
    }
}

/// All lines together.
pub(super) fn sum(lines: &[Line]) -> Exact {
    lines.iter().map(|l| &l.amount).sum()
}

/// What a cost is multiplied by to become a price before tax.
///
/// A fee is a share of what the customer pays, which is the price with its tax: of a price p, the
/// fees take f p with f = φ (1 + t). With a margin m the profit is m p and what is left is the
/// cost: p = cost / (1 − m − f). With a mark-up u, on cost and fees, p = (1 + u)(cost + f p), so
/// p = (1 + u) cost / (1 − (1 + u) f). The cost holds the fixed parts of the fees.
pub(super) struct PriceFactors {
    /// Without profit.
    pub(super) floor: Ratio,
    /// With the profit wanted.
    pub(super) suggested: Ratio,
    /// Fixed parts of all fees, once an order.
    pub(super) fixed_fees: Exact,
}

impl PriceFactors {
    /// Of this profit, tax and these fees.
    ///
    /// # Errors
    /// Fees and margin leave nothing.
    pub(super) fn new(
        profit: Profit,
        tax: Decimal,
        fees: &[Fee],
    ) -> Result<PriceFactors, PriceError> {
        let fixed_fees = fees.iter().map(|f| Exact::of(f.fixed)).sum();
        let shares: Exact = fees.iter().map(|f| Exact::of(f.share)).sum();
        let fees = shares.times(tax) + &shares;
        let (suggested, left) = match profit {
            Profit::Margin(margin) => {
                (Exact::one(), Exact::one() - &Exact::of(margin.part()) - &fees)
            }
            Profit::Markup(markup) => {
                let more = Exact::of(markup.part()) + &Exact::one();
                let taken = fees.times(markup.part()) + &fees;
                (more, Exact::one() - &taken)
            }
        };
        // A margin or mark-up of 0 or more leaves less than none would, so one look is enough.
        if !left.is_positive() {
            let margin = profit.margin().part();
            return Err(PriceError::NothingLeft { margin, fees: fees.rounded(6)? });
        }
        Ok(PriceFactors {
            floor: Ratio::new(&Exact::one(), &(Exact::one() - &fees)),
            suggested: Ratio::new(&suggested, &left),
            fixed_fees,
        })
    }

    /// Floor and suggested price of one of `n` things that together cost so much. Both go up to the
    /// next step; the floor to the next unit only, since a round price is the maker's wish.
    ///
    /// # Errors
    /// A price that nobody pays.
    pub(super) fn prices(
        &self,
        cost: &Ratio,
        n: u64,
        step: Option<Decimal>,
        digits: u32,
    ) -> Result<(Decimal, Decimal), PriceError> {
        let unit = Decimal::new(1, digits);
        let each = cost.by_n(n);
        let floor = each.times(&self.floor).up_to(unit, digits)?;
        let suggested = each.times(&self.suggested).up_to(step.unwrap_or(unit), digits)?;
        Ok((floor, suggested))
    }
}
