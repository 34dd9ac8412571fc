//! From exact costs to lines, prices and totals in whole units.

use super::check::check;
use super::cost::{ITEMS, Item, Line, PieceTotal, PriceFactors, of_order, of_piece, sum};
use super::exact::{Exact, Ratio, spread};
use super::totals::{fees, part, per_gross, rush, totals, valid_until};
use super::{
    CostLine, Outlay, PieceLine, PieceOutlay, PiecePrice, Price, PriceError, QuantityPrice, Terms,
    explain, findings,
};
use crate::hours::{ACTIVITIES, Hours, PieceHours};
use lay::Finding;
use rust_decimal::Decimal;
use std::collections::BTreeSet;

/// See [`super::price()`].
pub(super) fn price(
    terms: &Terms,
    hours: &Hours,
    outlay: &Outlay,
) -> Result<(Price, Vec<Finding>), PriceError> {
    check(terms, hours, outlay)?;
    let order = of_order(terms, hours, outlay);
    let pricing = Pricing { terms, hours, factors: factors(terms)?, order };
    let each = hours.pieces.iter().zip(&outlay.pieces);
    let lines: Vec<Vec<Line>> =
        each.map(|(hours, outlay)| of_piece(terms, hours, outlay, hours.copies)).collect();
    let pieces = pricing.pieces(outlay, &lines)?;
    let sheet = pricing.order_sheet(&pieces)?;
    let cost: Decimal = sheet.iter().map(|l| l.amount).sum();
    let in_all = |each: fn(&PiecePrice) -> Decimal| -> Decimal {
        pieces.iter().map(|p| each(p) * Decimal::from(p.copies)).sum()
    };
    let (floor, suggested) = (in_all(|p| p.floor_each), in_all(|p| p.suggested_each));
    let (charged, rush) = rush(terms, in_all(|p| p.each))?;
    let fees = fees(&terms.fees, charged.gross, terms.currency.digits())?;
    let fees_sum: Decimal = fees.iter().map(|f| f.amount).sum();
    let profit = charged.net - cost - fees_sum;
    let per_gross = per_gross(terms, hours, &lines, &pricing.order, charged.net)?;
    let mut price = Price {
        currency: terms.currency.code().to_owned(),
        digits: terms.currency.digits(),
        sheet,
        cost,
        fees,
        profit,
        margin: part(profit, charged.net)?,
        markup: part(profit, cost + fees_sum)?,
        pieces,
        floor,
        suggested,
        tax_share: terms.tax.value,
        deposit_share: terms.deposit.value,
        charged,
        rush,
        to_buy: outlay.to_buy.map(|a| Exact::of(a).rounded(terms.currency.digits())).transpose()?,
        per_gross,
        quoted_on: terms.quoted_on,
        valid_until: valid_until(terms)?,
        reasons: vec![],
    };
    price.reasons = explain::reasons(&price, terms, hours);
    let findings = findings::findings(&price, terms, hours, outlay);
    Ok((price, findings))
}

fn factors(terms: &Terms) -> Result<PriceFactors, PriceError> {
    PriceFactors::new(terms.profit.value, terms.tax.value, &terms.fees)
}

/// What every piece is priced with.
struct Pricing<'a> {
    terms: &'a Terms,
    hours: &'a Hours,
    factors: PriceFactors,
    /// Costs of the whole order.
    order: Vec<Line>,
}

impl Pricing<'_> {
    fn digits(&self) -> u32 {
        self.terms.currency.digits()
    }

    /// Floor and suggested price of one copy, of what all `copies` cost.
    fn prices(&self, cost: &Ratio, copies: u32) -> Result<(Decimal, Decimal), PriceError> {
        self.factors.prices(cost, u64::from(copies), self.terms.round_up_to, self.digits())
    }

    /// The costs of the whole order are shared out over its pieces by their own costs, or by copies
    /// where these are nothing; the fixed parts of the fees likewise.
    fn pieces(&self, outlay: &Outlay, lines: &[Vec<Line>]) -> Result<Vec<PiecePrice>, PriceError> {
        let costs: Vec<Exact> = lines.iter().map(|l| sum(l)).collect();
        let own: Vec<Exact> = if costs.iter().all(Exact::is_zero) {
            let copies = self.hours.pieces.iter().map(|h| u64::from(h.copies));
            copies.map(|n| Exact::one().times_n(n)).collect()
        } else {
            costs.clone()
        };
        let all: Exact = own.iter().sum();
        let once = sum(&self.order) + &self.factors.fixed_fees;
        let shown: Decimal = self.order_amounts()?.iter().sum();
        let parts = spread(shown, &own, self.digits())?;
        let mut pieces = vec![];
        for (i, hours) in self.hours.pieces.iter().enumerate() {
            let cost = Ratio::share_of(&costs[i], &once, &own[i], &all);
            let (floor_each, suggested_each) = self.prices(&cost, hours.copies)?;
            let asked = outlay.pieces[i].asked.map(|a| Exact::of(a).rounded(self.digits()));
            let asked = asked.transpose()?;
            let each = asked.unwrap_or(suggested_each);
            let sheet = self.piece_sheet(&lines[i], hours.copies)?;
            pieces.push(PiecePrice {
                piece: hours.piece.clone(),
                copies: hours.copies,
                cost: sheet.iter().map(|l| l.amount).sum(),
                cost_each: sheet.iter().map(|l| l.each).sum(),
                sheet,
                order_part: parts[i],
                floor_each,
                suggested_each,
                each,
                net: each * Decimal::from(hours.copies),
                by_quantity: self.by_quantity(hours, &outlay.pieces[i])?,
            });
        }
        Ok(pieces)
    }

    fn piece_sheet(&self, lines: &[Line], copies: u32) -> Result<Vec<PieceLine>, PriceError> {
        let amounts: Vec<Exact> = lines.iter().map(|l| l.amount.clone()).collect();
        let cost = Ratio::new(&sum(lines), &Exact::one());
        let cost_each = cost.by_n(u64::from(copies)).rounded(self.digits())?;
        let each = spread(cost_each, &amounts, self.digits())?;
        let line = |(line, each): (&Line, Decimal)| {
            let (item, name) = (line.item.words().to_owned(), line.name.clone());
            Ok(PieceLine { item, name, each, amount: line.amount.rounded(self.digits())? })
        };
        lines.iter().zip(each).map(line).collect()
    }

    /// The piece ordered alone: it carries the costs of a whole order.
    fn by_quantity(
        &self,
        hours: &PieceHours,
        outlay: &PieceOutlay,
    ) -> Result<Vec<QuantityPrice>, PriceError> {
        let once = sum(&self.order) + &self.factors.fixed_fees;
        let total = PieceTotal::new(self.terms, outlay);
        let one = |&copies: &u32| {
            let worked: f64 = ACTIVITIES.iter().map(|&a| hours.activity_min(a, copies)).sum();
            let cost = Ratio::new(&(total.of(copies, worked) + &once), &Exact::one());
            let (floor_each, each) = self.prices(&cost, copies)?;
            let totals = totals(self.terms, each * Decimal::from(copies))?;
            let each_min = (worked + self.hours.set_up_min) / f64::from(copies);
            Ok(QuantityPrice {
                copies,
                each_min: (each_min * 1000.0).round() / 1000.0,
                floor_each,
                each,
                net: totals.net,
                tax: totals.tax,
                gross: totals.gross,
            })
        };
        // Sorted and each once, however they were asked for.
        let asked: BTreeSet<u32> = self.terms.quantities.iter().copied().collect();
        asked.iter().map(one).collect()
    }

    fn order_amounts(&self) -> Result<Vec<Decimal>, PriceError> {
        self.order.iter().map(|l| l.amount.rounded(self.digits())).collect()
    }

    /// Every item over all pieces and the order itself, then the order's own named costs. Amounts
    /// are sums of lines that are rounded already, so that both ways of adding up agree.
    fn order_sheet(&self, pieces: &[PiecePrice]) -> Result<Vec<CostLine>, PriceError> {
        let amounts = self.order_amounts()?;
        let mut sheet = vec![];
        for item in ITEMS {
            let of_pieces = pieces.iter().flat_map(|p| &p.sheet);
            let mut amount: Decimal =
                of_pieces.filter(|l| l.item == item.words()).map(|l| l.amount).sum();
            let own = self.order.iter().zip(&amounts).filter(|(l, _)| l.item == item);
            amount += own.map(|(_, a)| *a).sum::<Decimal>();
            if !amount.is_zero() {
                sheet.push(CostLine { item: item.words().to_owned(), amount });
            }
        }
        for (line, amount) in self.order.iter().zip(amounts) {
            if let (Item::WholeOrder, Some(name)) = (line.item, &line.name) {
                sheet.push(CostLine { item: name.clone(), amount });
            }
        }
        Ok(sheet)
    }
}
