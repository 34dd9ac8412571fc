//! What open orders still need of each stone: their lays' counts, less what was set already.

use crate::recent::Recent;
use crate::{Desk, DeskError};
use app::order::OrderPiece;
use lay::Unwatched;
use shop::{Asked, By, Document, DocumentId, EntryId, RevisionId, Sort};
use std::collections::BTreeMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

/// So many open orders are added up, those due first.
const MOST_OPEN: u32 = 500;

/// Stones of an order by name, over all copies, as it is laid.
pub(crate) type Counts = Vec<(String, u64)>;

/// What was counted of orders, and what was set.
pub(crate) struct Counted {
    by_revision: Recent<RevisionId, Arc<Counts>>,
    used: Mutex<Used>,
    counting: AtomicBool,
}

/// What orders have used, as far as the ledger was read.
#[derive(Default)]
struct Used {
    read: Option<EntryId>,
    stones: BTreeMap<(DocumentId, String), i64>,
}

impl Default for Counted {
    fn default() -> Counted {
        Counted {
            by_revision: Recent::of(MOST_OPEN as usize * 2),
            used: Mutex::default(),
            counting: AtomicBool::new(false),
        }
    }
}

/// What open orders need.
#[derive(Debug, Default)]
pub(crate) struct Needs {
    by_stone: BTreeMap<String, i64>,
    /// Orders that are not counted yet.
    pub(crate) waiting: usize,
    /// Orders that are left out.
    pub(crate) left_out: u64,
}

impl Needs {
    /// Stones needed of one name.
    pub(crate) fn of(&self, stone: &str) -> i64 {
        self.by_stone.get(stone).copied().unwrap_or(0)
    }

    #[cfg(test)]
    pub(crate) fn known(needs: impl IntoIterator<Item = (String, i64)>) -> Needs {
        Needs { by_stone: needs.into_iter().collect(), ..Needs::default() }
    }
}

impl Desk {
    /// What open orders need, as far as it is known without laying anything.
    pub(crate) fn needs(&self) -> Result<Needs, DeskError> {
        let (open, left_out) = self.open_orders()?;
        let used = self.used()?;
        let mut needs = Needs { left_out, ..Needs::default() };
        for order in open {
            let Some(counts) = self.counts_at_hand(&order)? else {
                needs.waiting += 1;
                continue;
            };
            for (stone, stones) in &*counts {
                let set = used.get(&(order.id, stone.clone())).copied().unwrap_or(0);
                let still = i64::try_from(*stones).unwrap_or(i64::MAX).saturating_sub(set).max(0);
                let sum = needs.by_stone.entry(stone.clone()).or_default();
                *sum = sum.saturating_add(still);
            }
        }
        Ok(needs)
    }

    /// Begins to lay the open orders that are not counted yet, one after the other, unless that
    /// goes on already.
    ///
    /// # Errors
    /// No thread can be had.
    pub fn begin_counting(self: &Arc<Desk>) -> Result<(), DeskError> {
        if self.counted.counting.swap(true, Ordering::AcqRel) {
            return Ok(());
        }
        let desk = Arc::clone(self);
        let thread = std::thread::Builder::new().spawn(move || {
            let work = std::panic::AssertUnwindSafe(|| desk.count_open());
            // What cannot be laid is shown by its own order's page; here it only goes uncounted.
            let _ = std::panic::catch_unwind(work);
            desk.counted.counting.store(false, Ordering::Release);
        });
        thread.map(|_| ()).map_err(|e| {
            self.counted.counting.store(false, Ordering::Release);
            DeskError::Ours(format!("no thread can be had: {e}"))
        })
    }

    fn count_open(&self) {
        let Ok((open, _)) = self.open_orders() else { return };
        for order in open {
            let counted = self.counted.by_revision.find(&order.head).is_some();
            if let (false, Ok(opened)) = (counted, self.open(order.id)) {
                let counts = self.count(&opened.order.pieces).unwrap_or_default();
                let _ = self.counted.by_revision.get(
                    opened.revision.id,
                    || None,
                    || Ok::<_, DeskError>(Arc::new(counts)),
                );
            }
        }
    }

    fn open_orders(&self) -> Result<(Vec<Document>, u64), DeskError> {
        let asked = Asked { by: By::Due, limit: MOST_OPEN, ..Asked::default() };
        let open = self.shop.documents(&asked)?;
        let left_out = if open.len() < MOST_OPEN as usize {
            0
        } else {
            self.shop.count_documents(Sort::Order, false)?.saturating_sub(open.len() as u64)
        };
        Ok((open, left_out))
    }

    /// The counts of an order if all its pieces are laid; they are kept from then on.
    fn counts_at_hand(&self, order: &Document) -> Result<Option<Arc<Counts>>, DeskError> {
        if let Some(counts) = self.counted.by_revision.find(&order.head) {
            return Ok(Some(counts));
        }
        let Some(opened) = self.opened_at_hand(order.head) else { return Ok(None) };
        if !opened.pieces.iter().all(|p| self.is_laid(p)) {
            return Ok(None);
        }
        let counts = Arc::new(self.count(&opened.pieces)?);
        self.counted.by_revision.get(order.head, || None, || Ok::<_, DeskError>(counts)).map(Some)
    }

    /// Counts pieces, which are laid if they are not.
    pub(crate) fn count(&self, pieces: &[OrderPiece]) -> Result<Counts, DeskError> {
        let mut counts: BTreeMap<String, u64> = BTreeMap::new();
        for asked in pieces {
            let laid = self.lay(asked, &Unwatched)?;
            for (kind, stones) in laid.kinds_used() {
                *counts.entry(kind.name.clone()).or_default() += stones * u64::from(asked.quantity);
            }
        }
        Ok(counts.into_iter().collect())
    }

    /// What each order has used. The ledger is only added to, so that only its new lines are read.
    fn used(&self) -> Result<BTreeMap<(DocumentId, String), i64>, DeskError> {
        let mut used = self.counted.used.lock().unwrap_or_else(PoisonError::into_inner);
        let (read, lines) = self.shop.used_since(used.read)?;
        for (order, stone, stones) in lines {
            *used.stones.entry((order, stone)).or_default() += stones;
        }
        used.read = Some(read);
        Ok(used.stones.clone())
    }

    /// What was used is read anew: a stone has another name.
    pub(crate) fn forget_used(&self) {
        *self.counted.used.lock().unwrap_or_else(PoisonError::into_inner) = Used::default();
    }
}
