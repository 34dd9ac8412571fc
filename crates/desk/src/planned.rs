//! Lays and plans of an order as it stands, with what the shelf and the maker's records say.

use crate::{Desk, DeskError, Opened, StretchShown};
use app::document::terms::LogEntry;
use app::laying::{LaidOrder, LaidPiece};
use app::order::{Order, OrderPiece};
use app::plan::{self, Plan};
use jiff::civil::Date;
use lay::{Unwatched, Watch};
use planning::buying::Stock;
use planning::price::{Margin, Profit};
use planning::stretches::Stretch;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{DocumentId, RevisionId};
use std::sync::Arc;

/// Other figures, to see what they would do, beside those that stand.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Tries {
    /// Loss of stones, 0..0.8.
    #[serde(default)]
    pub loss: Option<f64>,
    /// Stones an hour.
    #[serde(default)]
    pub rate_per_h: Option<f64>,
    /// Profit as a part of the price, 0..1.
    #[serde(default)]
    #[schemars(with = "Option<String>")]
    pub margin: Option<Decimal>,
    /// Air at the bench, °C.
    #[serde(default)]
    pub temperature_c: Option<f64>,
}

/// What a plan depends on.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PlanKey {
    revision: RevisionId,
    instead: Option<[u8; 32]>,
    day: Date,
    stock: Vec<Stock>,
    log: Vec<LogEntry>,
    waste: Vec<Option<f64>>,
    tries: Tries,
    only: Option<usize>,
}

/// What is planned: an order as a revision has it, or with another text in its place.
#[derive(Clone, Copy)]
pub(crate) struct Standing<'a> {
    pub(crate) document: DocumentId,
    pub(crate) revision: RevisionId,
    /// SHA-256 of the text that stands in place of the revision's.
    pub(crate) instead: Option<[u8; 32]>,
    /// What the text means.
    pub(crate) order: &'a Order,
}

impl<'a> Standing<'a> {
    /// As the revision has it.
    pub(crate) fn of(opened: &'a Opened) -> Standing<'a> {
        Standing {
            document: opened.document.id,
            revision: opened.revision.id,
            instead: None,
            order: &opened.order,
        }
    }
}

impl Desk {
    /// One piece of an order, laid.
    ///
    /// # Errors
    /// The watcher stopped it.
    pub fn lay(&self, asked: &OrderPiece, watch: &dyn Watch) -> Result<Arc<LaidPiece>, DeskError> {
        Ok(self.lays.lay(asked, watch)?)
    }

    /// Whether a piece is laid already, so that asking for its lay takes no time.
    pub fn is_laid(&self, asked: &OrderPiece) -> bool {
        self.lays.has(asked)
    }

    /// Every piece of an order, laid, with the stock that the shelf has and the maker's own
    /// records.
    ///
    /// # Errors
    /// The watcher stopped it; the shop's.
    pub fn lay_all(&self, opened: &Opened, watch: &dyn Watch) -> Result<LaidOrder, DeskError> {
        let stock = self.stock_for(opened.document.id, &opened.order)?;
        let log = self.log_for(&opened.order)?;
        self.laid(&opened.order, stock, log, None, watch)
    }

    fn laid(
        &self,
        order: &Order,
        stock: Vec<Stock>,
        log: Vec<LogEntry>,
        only: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<LaidOrder, DeskError> {
        let wanted = order.pieces.iter().enumerate().filter(|(i, _)| only.is_none_or(|o| o == *i));
        let pieces = wanted
            .map(|(_, asked)| Ok(LaidPiece::clone(&*self.lay(asked, watch)?)))
            .collect::<Result<Vec<_>, DeskError>>()?;
        let mut terms = order.terms.clone();
        terms.stock = stock;
        terms.log = log;
        Ok(LaidOrder { name: order.name.clone(), pieces, kinds: order.kinds.clone(), terms })
    }

    /// The plan of an order as it stands.
    ///
    /// # Errors
    /// There is no plan, and why; the watcher stopped it; the shop's.
    pub fn plan(&self, opened: &Opened, watch: &dyn Watch) -> Result<Arc<Plan>, DeskError> {
        self.plan_with(opened, &Tries::default(), watch)
    }

    /// The plan of an order if other figures stood in it.
    ///
    /// # Errors
    /// As for [`Desk::plan`].
    pub fn plan_with(
        &self,
        opened: &Opened,
        tries: &Tries,
        watch: &dyn Watch,
    ) -> Result<Arc<Plan>, DeskError> {
        self.plan_of(Standing::of(opened), tries, None, watch)
    }

    pub(crate) fn plan_of(
        &self,
        standing: Standing<'_>,
        tries: &Tries,
        only: Option<usize>,
        watch: &dyn Watch,
    ) -> Result<Arc<Plan>, DeskError> {
        let key = self.plan_key(standing, tries, only)?;
        let order = standing.order;
        let (stock, log, day) = (key.stock.clone(), key.log.clone(), key.day);
        let waste = key.waste.clone();
        let stopped = || watch.stopped().then_some(DeskError::Stopped);
        self.plans.get(key, stopped, || {
            let mut laid = self.laid(order, stock, log, only, watch)?;
            if only.is_some() {
                // Kits name pieces by their index, and one piece alone has none.
                laid.terms.kits.clear();
            }
            for (adhesive, own) in laid.terms.adhesives.iter_mut().zip(waste) {
                adhesive.label.waste = adhesive.label.waste.or(own);
            }
            tries.put(&mut laid);
            Ok(Arc::new(plan::plan(&laid, day, watch)?))
        })
    }

    /// The plan as it stands, if it was made already.
    pub(crate) fn plan_kept(&self, opened: &Opened) -> Result<Option<Arc<Plan>>, DeskError> {
        let key = self.plan_key(Standing::of(opened), &Tries::default(), None)?;
        Ok(self.plans.find(&key))
    }

    pub(crate) fn plan_key(
        &self,
        standing: Standing<'_>,
        tries: &Tries,
        only: Option<usize>,
    ) -> Result<PlanKey, DeskError> {
        Ok(PlanKey {
            revision: standing.revision,
            instead: standing.instead,
            day: self.today(),
            stock: self.stock_for(standing.document, standing.order)?,
            log: self.log_for(standing.order)?,
            waste: self.waste_for(standing.order)?,
            tries: tries.clone(),
            only,
        })
    }

    /// What the shelf has of the kinds of an order; what other orders hold is reserved.
    fn stock_for(&self, document: DocumentId, order: &Order) -> Result<Vec<Stock>, DeskError> {
        let held = self.shop.held(document)?;
        let mut all = vec![];
        for row in self.shop.stock(false)? {
            let Some(kind) = order.kinds.iter().position(|k| k.kind.name == row.stone) else {
                continue;
            };
            let own = held.iter().filter(|h| h.stone == row.stone && h.lot == row.lot);
            let own: i64 = own.map(|h| h.stones).sum();
            let stones = u64::try_from(row.on_hand).unwrap_or(0);
            all.push(Stock {
                kind,
                lot: Some(row.lot).filter(|l| !l.is_empty()),
                stones,
                reserved: u64::try_from(row.reserved - own).unwrap_or(0).min(stones),
                // A pack's price over its stones may have no end; plans take six decimals.
                price_per_stone: row.unit_price.map(|p| p.round_dp(6)),
            });
        }
        Ok(all)
    }

    /// What happened before: what the order says, and what was pressed at the bench.
    fn log_for(&self, order: &Order) -> Result<Vec<LogEntry>, DeskError> {
        let mut log = order.terms.log.clone();
        log.extend(self.rates()?.log_for(order));
        Ok(log)
    }

    /// What stays in cup and nozzle of each adhesive of the order by the maker's own records, where
    /// its label says nothing of it.
    fn waste_for(&self, order: &Order) -> Result<Vec<Option<f64>>, DeskError> {
        let rates = self.rates()?;
        let own = |a: &planning::adhesive::Adhesive| match a.label.waste {
            Some(_) => None,
            None => rates.waste(&a.name),
        };
        Ok(order.terms.adhesives.iter().map(own).collect())
    }
}

impl Tries {
    /// Whether anything is to be tried.
    pub fn any(&self) -> bool {
        *self != Tries::default()
    }

    fn put(&self, laid: &mut LaidOrder) {
        let workshop = &mut laid.terms.workshop;
        if let Some(loss) = self.loss {
            workshop.loss = Some(loss);
        }
        if let Some(rate) = self.rate_per_h {
            workshop.rate_per_h = Some(rate);
        }
        if let Some(temperature) = self.temperature_c {
            workshop.temperature_c = Some(temperature);
        }
        if self.loss.is_some() || self.rate_per_h.is_some() {
            // What is tried must count alone: the log would pull it back to what was.
            laid.terms.log.clear();
        }
        if let Some(margin) = self.margin {
            laid.terms.price.profit = Margin::new(margin).ok().map(Profit::Margin);
        }
    }
}

impl Desk {
    /// The stretches of a piece if they can be told without laying anything anew; else none.
    ///
    /// # Errors
    /// The shop's.
    pub fn stretches_at_hand(
        &self,
        opened: &Opened,
        number: usize,
    ) -> Result<Vec<StretchShown>, DeskError> {
        let name = &opened.piece(number)?.piece.name;
        // Where there is no plan, there are no stretches to show; its own page says why.
        let Ok(Some(plan)) = self.plan_at_hand(opened) else { return Ok(vec![]) };
        let found = plan.stretches.iter().find(|s| s.piece == *name);
        let shown = |s: &Stretch| StretchShown {
            number: s.number,
            zone: s.zone.clone(),
            order: s.order.clone(),
        };
        Ok(found.map(|s| s.stretches.stretches.iter().map(shown).collect()).unwrap_or_default())
    }

    /// The plan as it stands if it can be told without laying anything anew; else `None`.
    ///
    /// # Errors
    /// As for [`Desk::plan`].
    pub fn plan_at_hand(&self, opened: &Opened) -> Result<Option<Arc<Plan>>, DeskError> {
        if !opened.order.pieces.iter().all(|p| self.is_laid(p)) {
            return Ok(None);
        }
        self.plan(opened, &Unwatched).map(Some)
    }
}
