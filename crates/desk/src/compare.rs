//! One piece laid in several ways side by side, each with what it comes to.

use crate::planned::{PlanKey, Standing};
use crate::{Desk, DeskError, LAID, Laid, Opened, Tries, Way};
use app::adopt::{self, Entry, Present};
use app::edit::{Path, Sheet, apply};
use app::laying::LaidPiece;
use app::order::Order;
use app::plan::{Plan, PlanError};
use lay::Watch;
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use shop::{DocumentId, RevisionId};
use std::sync::Arc;

/// Most ways that are laid side by side.
pub const MOST_WAYS: usize = 24;
/// Stones beside those that a zone has, where nobody chose any.
const USUAL_OTHERS: usize = 2;

/// What is to be compared: each arrangement with each of the stones.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CompareAsked {
    /// The zone, by its number from 1; left out, the largest of the piece.
    #[serde(default)]
    pub zone: Option<usize>,
    /// Arrangements; none are the usual choice.
    #[serde(default)]
    pub laid: Vec<Laid>,
    /// Kinds and mixes of the order or the workshop; an empty name are the stones that the zone has.
    /// None are the usual choice.
    #[serde(default)]
    pub stones: Vec<String>,
}

/// A piece, laid in several ways.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    /// The revision of the order that it is about.
    pub revision: i64,
    /// The piece, by its number from 1.
    pub piece: usize,
    /// How many copies are made.
    pub copies: u32,
    /// Each way, in the order asked for: what stands first.
    pub candidates: Vec<Candidate>,
    /// How many more were asked for than are laid side by side.
    pub left_out: usize,
}

/// One way, and what it comes to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Candidate {
    /// The way.
    pub way: Way,
    /// What it comes to; none if it cannot be laid.
    pub figures: Option<CandidateFigures>,
    /// What is wrong with it, or with its plan, if anything.
    pub wrong: Option<String>,
}

/// What one way of covering a piece comes to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct CandidateFigures {
    /// Stones of one copy.
    pub stones: u64,
    /// Area of the stones divided by the area of the piece.
    pub coverage: f64,
    /// Diameter of the largest bare spot, mm; 0 if nothing is bare.
    pub bare_spot_mm: f64,
    /// Hours at the bench for all copies, min; none where there is no plan.
    pub hours_min: Option<f64>,
    /// What all copies cost, if this piece were ordered alone; none where there is no price.
    #[schemars(with = "Option<String>")]
    pub cost: Option<Decimal>,
    /// The price of a copy that leaves the profit wanted, before tax.
    #[schemars(with = "Option<String>")]
    pub price_each: Option<Decimal>,
    /// All copies at that price, before tax.
    #[schemars(with = "Option<String>")]
    pub price: Option<Decimal>,
    /// The currency.
    pub currency: Option<String>,
    /// Decimals of its smallest coin.
    pub digits: u32,
}

/// What a comparison depends on.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct ComparisonKey {
    plan: PlanKey,
    chosen: CompareAsked,
}

/// A way as a whole document, and what that means.
struct Tried {
    /// SHA-256 of its text.
    hash: [u8; 32],
    order: Arc<Order>,
}

impl Desk {
    /// What is compared where nobody chose, and what somebody chose as it is taken: without what is
    /// not there, at least one arrangement, what stands first.
    ///
    /// # Errors
    /// There is no such piece; the shop's.
    pub fn compare_choice(
        &self,
        opened: &Opened,
        number: usize,
        asked: &CompareAsked,
    ) -> Result<CompareAsked, DeskError> {
        let zones = zone_names(opened, number)?;
        let zone = match asked.zone {
            Some(zone) if (1..=zones.len()).contains(&zone) => zone,
            _ => largest_zone(opened, number, &zones)?,
        };
        let mut laid = asked.laid.clone();
        if laid.is_empty() {
            laid = vec![
                Laid::AsWritten,
                Laid::Honeycomb,
                Laid::HoneycombMost,
                Laid::Rings,
                Laid::Scatter,
            ];
        }
        laid.sort_unstable();
        laid.dedup();
        let there = self.stones_to_pick(opened)?;
        let mut stones: Vec<String> = vec![];
        for name in &asked.stones {
            let known = name.is_empty() || there.iter().any(|s| s.name == *name);
            if known && !stones.contains(name) {
                stones.push(name.clone());
            }
        }
        if asked.stones.is_empty() {
            let now = zone_mix(opened, number, zone);
            let own = opened.order.kinds.iter().map(|k| k.kind.name.clone());
            stones.push(String::new());
            stones.extend(own.filter(|n| Some(n) != now.as_ref()).take(USUAL_OTHERS));
        }
        stones.sort_by_key(|s| !s.is_empty());
        Ok(CompareAsked { zone: Some(zone), laid, stones })
    }

    /// Lays and plans one piece in every way asked for. What is wrong with one way spoils no other.
    ///
    /// # Errors
    /// There is no such piece; the watcher stopped it; the shop's.
    pub fn compare(
        &self,
        opened: &Opened,
        number: usize,
        asked: &CompareAsked,
        watch: &dyn Watch,
    ) -> Result<Arc<Comparison>, DeskError> {
        opened.piece(number)?;
        let chosen = self.compare_choice(opened, number, asked)?;
        let standing = Standing::of(opened);
        let plan = self.plan_key(standing, &Tries::default(), Some(number - 1))?;
        let key = ComparisonKey { plan, chosen: chosen.clone() };
        self.comparisons.get(
            key,
            || watch.stopped().then_some(DeskError::Stopped),
            || self.compared(opened, number, &chosen, watch),
        )
    }

    fn compared(
        &self,
        opened: &Opened,
        number: usize,
        chosen: &CompareAsked,
        watch: &dyn Watch,
    ) -> Result<Arc<Comparison>, DeskError> {
        let copies = opened.piece(number)?.quantity;
        let mut ways = ways(chosen);
        let left_out = ways.len().saturating_sub(MOST_WAYS);
        ways.truncate(MOST_WAYS);
        let mut candidates = Vec::with_capacity(ways.len());
        let total = ways.len();
        for (i, way) in ways.into_iter().enumerate() {
            watch.step(&way.what(), i, total);
            if watch.stopped() {
                return Err(DeskError::Stopped);
            }
            candidates.push(self.candidate(opened, number, way, &OnlyStop(watch))?);
        }
        let revision = opened.revision.id.0;
        Ok(Arc::new(Comparison { revision, piece: number, copies, candidates, left_out }))
    }

    fn candidate(
        &self,
        opened: &Opened,
        number: usize,
        way: Way,
        watch: &dyn Watch,
    ) -> Result<Candidate, DeskError> {
        // A stop, and whatever the shop refuses, is about all of them.
        let passed_on = |e: &DeskError| {
            let stopped = matches!(e, DeskError::Stopped | DeskError::Plan(PlanError::Stopped));
            stopped || matches!(e, DeskError::Shop(_))
        };
        let laid = self.tried(opened, number, &way).and_then(|tried| {
            let asked = tried.order.pieces.get(number - 1).ok_or(DeskError::Missing("piece"))?;
            Ok((self.lay(asked, watch)?, tried))
        });
        let (laid, tried) = match laid {
            Err(e) if passed_on(&e) => return Err(e),
            Err(e) => return Ok(Candidate { way, figures: None, wrong: Some(e.to_string()) }),
            Ok(laid) => laid,
        };
        let standing = Standing {
            document: opened.document.id,
            revision: opened.revision.id,
            instead: Some(tried.hash),
            order: &tried.order,
        };
        let plan = self.plan_of(standing, &Tries::default(), Some(number - 1), watch);
        let (plan, wrong) = match plan {
            Err(e) if passed_on(&e) => return Err(e),
            Err(e) => (None, Some(e.to_string())),
            Ok(plan) => (Some(plan), None),
        };
        Ok(Candidate { way, figures: Some(figures(&laid, plan.as_deref())), wrong })
    }

    /// One piece laid in one way: what the picture of a candidate shows.
    ///
    /// # Errors
    /// There is no such piece or zone, the way cannot be laid; the watcher stopped it; the shop's.
    pub fn lay_way(
        &self,
        opened: &Opened,
        number: usize,
        way: &Way,
        watch: &dyn Watch,
    ) -> Result<Arc<LaidPiece>, DeskError> {
        let tried = self.tried(opened, number, way)?;
        let asked = tried.order.pieces.get(number - 1).ok_or(DeskError::Missing("piece"))?;
        self.lay(asked, watch)
    }

    /// Takes a way: the document that stands at `from` is changed so. Stones that only the workshop
    /// has are taken over.
    ///
    /// # Errors
    /// As for [`Desk::change`].
    pub fn take_way(
        &self,
        id: DocumentId,
        from: RevisionId,
        number: usize,
        way: &Way,
    ) -> Result<Opened, DeskError> {
        let before = self.shop.revision(from)?.text;
        let text = self.text_of(&before, number, way)?;
        self.revise(id, from, &text, &format!("piece {number}: {}", way.what()), None)
    }

    fn tried(&self, opened: &Opened, number: usize, way: &Way) -> Result<Tried, DeskError> {
        opened.piece(number)?;
        if way.is_as_written() {
            let hash = hash_of(&opened.revision.text);
            return Ok(Tried { hash, order: Arc::clone(&opened.order) });
        }
        let text = self.text_of(&opened.revision.text, number, way)?;
        let (id, hash) = (opened.document.id, hash_of(&text));
        let order = self.tried.get((id, hash), || None, || self.meaning(id, &text))?;
        Ok(Tried { hash, order })
    }

    fn text_of(&self, before: &str, number: usize, way: &Way) -> Result<String, DeskError> {
        let taken = match way.stones.as_deref() {
            Some(stones) => self.with_stones(before, stones)?,
            None => None,
        };
        Ok(apply(taken.as_deref().unwrap_or(before), &way.changes(number))?)
    }

    /// The text with a kind or mix of the workshop taken over; `None` if the order has it.
    fn with_stones(&self, before: &str, stones: &str) -> Result<Option<String>, DeskError> {
        let has = |text: &str, list: &str| {
            Sheet::of(text).is_some_and(|s| s.named(&Path::root().key(list), stones).is_some())
        };
        if has(before, "kind") || has(before, "mix") {
            return Ok(None);
        }
        let workshop = self.workshop()?.revision.text;
        let entry = if has(&workshop, "kind") {
            Entry::Kind(stones.to_owned())
        } else if has(&workshop, "mix") {
            Entry::Mix(stones.to_owned())
        } else {
            return Err(DeskError::unfit(
                format!("there are no stones of this name: `{stones}`"),
                "pick one that is on the shelf, or add it there first",
            ));
        };
        Ok(Some(adopt::take_over(before, &workshop, &[entry], Present::Keep)?))
    }
}

fn hash_of(text: &str) -> [u8; 32] {
    Sha256::digest(text.as_bytes()).into()
}

/// Passes a stop on; how far a single way has come would only confuse.
struct OnlyStop<'a>(&'a dyn Watch);

impl Watch for OnlyStop<'_> {
    fn step(&self, _: &str, _: usize, _: usize) {}

    fn stopped(&self) -> bool {
        self.0.stopped()
    }
}

/// Every way of a choice, what stands first.
fn ways(chosen: &CompareAsked) -> Vec<Way> {
    let zone = chosen.zone.unwrap_or(1);
    let mut all = vec![Way { zone, laid: Laid::AsWritten, stones: None }];
    for name in &chosen.stones {
        let stones = Some(name.clone()).filter(|n| !n.is_empty());
        let each = LAID.into_iter().filter(|l| chosen.laid.contains(l));
        all.extend(each.map(|laid| Way { zone, laid, stones: stones.clone() }));
    }
    let mut seen: Vec<Way> = vec![];
    all.retain(|w| {
        !seen.contains(w) && {
            seen.push(w.clone());
            true
        }
    });
    all
}

fn figures(laid: &LaidPiece, plan: Option<&Plan>) -> CandidateFigures {
    let price = plan.and_then(|p| p.price.as_ref());
    let piece = price.and_then(|p| p.pieces.first());
    CandidateFigures {
        stones: laid.lay.stones.len() as u64,
        coverage: laid.lay.coverage,
        bare_spot_mm: laid.lay.bare_spots.first().map_or(0.0, |s| s.diameter_mm),
        hours_min: plan.map(|p| p.hours.total_min),
        cost: price.map(|p| p.cost),
        price_each: piece.map(|p| p.suggested_each),
        price: price.map(|p| p.suggested),
        currency: price.map(|p| p.currency.clone()),
        digits: plan.map_or(2, |p| p.answer.digits),
    }
}

/// The names of the zones of a piece, as the document numbers them.
pub(crate) fn zone_names(opened: &Opened, number: usize) -> Result<Vec<String>, DeskError> {
    opened.piece(number)?;
    let unread = || DeskError::Ours("a kept text is no TOML".to_owned());
    let sheet = Sheet::of(&opened.revision.text).ok_or_else(unread)?;
    let list = Path::root().key("piece").number(number).key("zone");
    let n = sheet.count(&list).max(1);
    Ok((1..=n).map(|i| sheet.value(&list.number(i).key("name")).unwrap_or_default()).collect())
}

impl Opened {
    /// The names of the zones of a piece, in the document's order; empty for the one zone of a piece
    /// without zones of its own.
    ///
    /// # Errors
    /// There is no such piece.
    pub fn zones(&self, number: usize) -> Result<Vec<String>, DeskError> {
        zone_names(self, number)
    }
}

/// The kind or mix that a zone names, if it is one name.
fn zone_mix(opened: &Opened, number: usize, zone: usize) -> Option<String> {
    let sheet = Sheet::of(&opened.revision.text)?;
    let path = Path::root().key("piece").number(number).key("zone").number(zone).key("mix");
    (sheet.count(&path) == 0).then(|| sheet.value(&path)).flatten()
}

/// The zone with the largest area.
fn largest_zone(opened: &Opened, number: usize, names: &[String]) -> Result<usize, DeskError> {
    let zones = &opened.piece(number)?.piece.zones;
    let largest = zones.iter().max_by(|a, b| a.region.area().total_cmp(&b.region.area()));
    let at = largest.and_then(|z| names.iter().position(|n| *n == z.name));
    Ok(at.map_or(1, |i| i + 1))
}
