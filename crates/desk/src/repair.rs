//! A stone replaced on a finished piece: what lay there, and what to charge for it.

use crate::bench::{AtBench, Spot, Step};
use crate::{Desk, DeskError, Opened};
use app::order::Order;
use planning::price::{Profit, SingleTerms, price_single};
use planning::{Given, Origin, Reason};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, Moved, NewEntry, NewRepair, Repair, SettingId};

/// Taking the piece in, finding its stones and glue, packing it again, min. Once a visit, so that
/// stones repaired together share it. Ours, no source.
pub const SET_UP_MIN: u32 = 10;
/// Taking what is left of a stone and its glue off, cleaning the place, gluing and setting one, min.
/// Ours, no source.
pub const STONE_MIN: u32 = 4;
/// Stones of a kind that are spoilt on the way, as everywhere where nothing is said.
const LOSS: Decimal = Decimal::from_parts(3, 0, 0, false, 2);
/// Most stones repaired in one visit.
const MOST_STONES: u32 = 1000;

/// A place of a finished copy, and what a new stone there comes to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct RepairPlace {
    /// The setting in which the copy was made.
    pub setting: i64,
    /// The copy, from 1.
    pub copy: u32,
    /// The place number.
    pub place_no: u32,
    /// Where it lies: to the right, mm.
    pub right_mm: f64,
    /// Down, mm.
    pub down_mm: f64,
    /// Its row in the zone, from 1.
    pub row: u32,
    /// Its zone.
    pub zone: String,
    /// The kind that lies there.
    pub kind: String,
    /// Its size, as the maker wrote it.
    pub size: String,
    /// The lot from which it was set; empty if it had none.
    pub lot: String,
    /// Stones of that lot on the shelf now.
    pub on_shelf: i64,
    /// The adhesive with which it was set.
    pub adhesive: String,
    /// What to take care of with it.
    pub cautions: Vec<String>,
    /// What to charge before tax, for people; nothing where the order names no currency.
    pub price: Option<String>,
    /// How that came about.
    pub reason: Option<Reason>,
    /// When this place was repaired before, ms since 1970.
    pub before_ms: Vec<i64>,
}

/// A place that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RepairAsked {
    /// The setting in which the copy was made.
    pub setting: i64,
    /// The copy, from 1.
    pub copy: u32,
    /// The place number, from 1.
    pub place_no: u32,
    /// How many stones are repaired in this visit: they share what is done once; 1 if left out.
    #[serde(default)]
    pub stones: Option<u32>,
}

/// Copies of a piece that are set.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct SetCopies {
    /// The setting.
    pub setting: i64,
    /// The piece.
    pub piece: String,
    /// The first copy, from 1.
    pub first: u32,
    /// The last copy that is done.
    pub last: u32,
    /// Whose each copy of the piece is, from copy 1 on.
    pub names: Vec<String>,
    /// Stones of one copy.
    pub stones: u32,
}

impl Desk {
    /// Copies of an order that are set, the first begun first.
    ///
    /// # Errors
    /// The shop's.
    pub fn set_copies(&self, order: DocumentId) -> Result<Vec<SetCopies>, DeskError> {
        let mut all = vec![];
        for setting in self.shop.settings(order)? {
            let at = self.at_bench(setting.id)?;
            if at.course.copies_done() > 0 {
                all.push(SetCopies {
                    setting: setting.id.0,
                    first: setting.first_copy,
                    last: setting.first_copy + at.course.copies_done() - 1,
                    names: at.frozen.names.clone(),
                    stones: at.frozen.stones.kind.len() as u32,
                    piece: setting.piece,
                });
            }
        }
        Ok(all)
    }

    /// A place of a finished copy, and what a new stone there comes to by the order as it stands.
    ///
    /// # Errors
    /// There is no such place, or the copy is not set; the shop's.
    pub fn repair_place(
        &self,
        opened: &Opened,
        asked: &RepairAsked,
    ) -> Result<RepairPlace, DeskError> {
        let at = self.at_bench(SettingId(asked.setting))?;
        check(&at, opened.document.id, asked)?;
        let frozen = &at.frozen;
        let (Some(kind), Some(spot)) =
            (frozen.kind_at(asked.place_no), frozen.spot(asked.place_no))
        else {
            return Err(DeskError::unfit(
                format!("there is no stone of this number: {}", asked.place_no),
                format!("type one from 1 to {}", frozen.stones.kind.len()),
            ));
        };
        let index = asked.place_no as usize - 1;
        let kind = &frozen.kinds[kind];
        let lot = at.lot(&kind.name).to_owned();
        let stock = self.shop.stock(true)?;
        let row = stock.iter().find(|s| s.stone == kind.name && s.lot == lot);
        let unit_price =
            row.and_then(|s| s.unit_price).or_else(|| offered(&opened.order, &kind.name));
        let priced =
            price(&opened.order, unit_price, asked.stones.unwrap_or(1).clamp(1, MOST_STONES));
        let repairs = self.shop.repairs(opened.document.id)?;
        let same = |r: &&Repair| {
            (r.setting, r.copy, r.place_no) == (at.setting.id, asked.copy, asked.place_no)
        };
        let zone = frozen.stones.zone.get(index).and_then(|z| frozen.zones.get(*z as usize));
        let Spot { right_mm, down_mm } = spot;
        Ok(RepairPlace {
            setting: asked.setting,
            copy: asked.copy,
            place_no: asked.place_no,
            right_mm,
            down_mm,
            row: frozen.stones.row.get(index).copied().unwrap_or_default(),
            zone: zone.map(|z| z.name.clone()).unwrap_or_default(),
            kind: kind.name.clone(),
            size: kind.size.clone(),
            on_shelf: row.map_or(0, |s| s.on_hand),
            lot,
            adhesive: frozen.glue.name.clone(),
            cautions: frozen.glue.cautions.clone(),
            price: priced.as_ref().map(|p| p.0.clone()),
            reason: priced.map(|p| p.1),
            before_ms: repairs.iter().filter(same).map(|r| r.at_ms).collect(),
        })
    }

    /// Writes down that a stone was replaced; it leaves the shelf with it.
    ///
    /// # Errors
    /// As for [`Desk::repair_place`].
    pub fn repaired(
        &self,
        opened: &Opened,
        asked: &RepairAsked,
        nonce: &str,
        why: &str,
    ) -> Result<Repair, DeskError> {
        let place = self.repair_place(opened, asked)?;
        let line = NewEntry {
            nonce: format!("{nonce}-repair"),
            what: Moved::Used,
            stone: place.kind.clone(),
            lot: place.lot.clone(),
            stones: 1,
            unit_price: None,
            supplier: None,
            order: Some(opened.document.id),
            piece: Some(self.shop.setting(SettingId(asked.setting))?.piece),
            who: String::new(),
            why: format!("repair of copy {}, stone {}", asked.copy, asked.place_no),
        };
        Ok(self.shop.add_repair(&NewRepair {
            nonce: nonce.to_owned(),
            setting: SettingId(asked.setting),
            copy: asked.copy,
            place_no: asked.place_no,
            kind: place.kind,
            lot: place.lot,
            adhesive: place.adhesive,
            price: place.price.unwrap_or_default(),
            why: why.trim().to_owned(),
            entries: vec![line],
        })?)
    }
}

fn check(at: &AtBench, order: DocumentId, asked: &RepairAsked) -> Result<(), DeskError> {
    if at.setting.document != order {
        return Err(DeskError::Missing("setting in this order"));
    }
    let set = at.setting.first_copy..at.setting.first_copy + at.course.copies_done();
    let over = at.course.step() == Step::Over;
    if set.contains(&asked.copy) || (over && asked.copy == at.setting.last_copy) {
        return Ok(());
    }
    Err(DeskError::unfit(
        format!("this copy is not set yet: {}", asked.copy),
        "pick one that was said to be done at the bench",
    ))
}

/// What a stone costs by the cheapest offer, where the shelf does not say.
fn offered(order: &Order, kind: &str) -> Option<Decimal> {
    let index = order.kinds.iter().position(|k| k.kind.name == kind)?;
    let offers = order.terms.offers.iter().filter(|o| o.kind == index);
    offers.filter_map(|o| o.price.checked_div(Decimal::from(o.pack))).min()
}

/// What to charge for one of `stones` repaired together, for people, and why; `None` where the order
/// names no currency or its terms leave nothing for the cost.
///
/// cost = stone / (1 − loss) + (set-up / stones + minutes a stone) × (wage + overhead) / 60; the
/// price is that with fees and profit, rounded up as every price of the order is.
fn price(order: &Order, unit_price: Option<Decimal>, stones: u32) -> Option<(String, Reason)> {
    let (terms, workshop) = (&order.terms.price, &order.terms.workshop);
    let currency = terms.currency?;
    let single = SingleTerms {
        currency,
        tax: Given::or_usual(terms.tax, Decimal::ZERO),
        fees: terms.fees.clone(),
        round_up_to: terms.round_to,
    };
    let profit = Given::or_usual(terms.profit, Profit::usual());
    let hour = workshop.wage.unwrap_or_default() + workshop.overhead.unwrap_or_default();
    let stone = unit_price.unwrap_or_default().checked_div(Decimal::ONE - LOSS)?;
    let set_up = Decimal::from(SET_UP_MIN).checked_div(Decimal::from(stones))?;
    let minutes = set_up + Decimal::from(STONE_MIN);
    let cost = stone + minutes * hour / Decimal::from(60);
    let price = price_single(&single, profit.value, cost).ok()?.price;
    let digits = currency.digits();
    let shown = |amount: Decimal| {
        format!("{} {}", app::money(amount.round_dp(digits), digits), currency.code())
    };
    let said = |there: bool| if there { Origin::Document } else { Origin::Usual };
    let percent = (profit.value.margin().part() * Decimal::ONE_HUNDRED).round_dp(1).normalize();
    let stone_price = unit_price.map_or("not known, counted as nothing".to_owned(), |p| {
        format!("{} {}", app::money(p.round_dp(4), digits), currency.code())
    });
    let reason = Reason::new(
        "price of the repair of a stone",
        shown(price),
        "stone / (1 − loss) + (set-up / stones repaired together + minutes a stone) × (wage + \
         overhead) / 60, then fees and profit, and rounded up as every price of the order; minutes \
         and loss are ours, without a source",
    )
    .with("price of a stone", stone_price, Origin::Log)
    .with("loss", "3 %", Origin::Usual)
    .with("set-up", format!("{SET_UP_MIN} min"), Origin::Usual)
    .with("stones repaired together", stones.to_string(), said(stones > 1))
    .with("minutes a stone", format!("{STONE_MIN} min"), Origin::Usual)
    .with("wage and overhead", format!("{} an hour", shown(hour)), said(workshop.wage.is_some()))
    .with("cost", shown(cost), Origin::Plan)
    .with("profit", format!("{percent} % of the price"), profit.origin);
    Some((shown(price), reason))
}
