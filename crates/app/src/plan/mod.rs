//! The plan of an order: what to buy, mix, set and charge, and when it can ship.
//!
//! Each file turns what the lay and the document say into the question of one part of `planning`,
//! and asks it. One direction: counts → spare → stretches and glue → hours → calendar → buying →
//! calendar with the deliveries in it → price → kits and bags.
//!
//! | need | item |
//! |---|---|
//! | the whole plan | [`plan()`], [`Plan`] |
//! | its first line | [`Answer`] |
//! | why there is none | [`PlanError`] |
//! | its bench order alone | [`stretches()`] |
//! | the day a delivery comes | [`delivery_day()`] |
//! | the quote, the calendar file | [`Plan::quote_text`], [`Plan::ical`] |

mod answer;
mod bench;
mod charge;
mod counts;
mod hand;
mod market;
mod sale;
mod tints;
mod when;

pub use answer::Answer;
pub use bench::PieceStretches;
pub use counts::{KindCount, PieceCount};
pub use hand::{HandCount, HandKind};
pub use tints::PieceTint;

use crate::laying::LaidOrder;
use crate::money;
use bench::Gluing;
use jiff::civil::Date;
use lay::finding::Page;
use lay::{Finding, Severity, Stopped, Watch};
use planning::Reason;
use planning::buying::{BadMarket, Purchase};
use planning::calendar::{IcalNames, Schedule, WorkError};
use planning::glue::{GlueError, GluePlan};
use planning::hours::{Hours, HoursError};
use planning::kits::{Kit, KitError};
use planning::mixes::{MixBag, MixError};
use planning::price::{Price, PriceError, Quote, quote_text};
use planning::spare::{Spare, SpareError};
use planning::stretches::StretchError;
use planning::tint::TintError;
use schemars::JsonSchema;
use serde::Serialize;
use when::Job;

/// Name of the format in its files.
const FORMAT: &str = "stonelay-plan";

/// Everything an order comes to.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Plan {
    /// Always `stonelay-plan`.
    pub format: String,
    /// Version of the format.
    pub version: u32,
    /// Name and version of the program.
    pub engine: String,
    /// Name of the order.
    pub order: String,
    /// The answer, before everything else.
    pub answer: Answer,
    /// Stones of every piece.
    pub pieces: Vec<PieceCount>,
    /// How many stones to have of each kind.
    pub spare: Spare,
    /// What to buy.
    pub purchase: Purchase,
    /// What to glue with.
    pub glue: GluePlan,
    /// The bench order of each piece.
    pub stretches: Vec<PieceStretches>,
    /// How long it takes.
    pub hours: Hours,
    /// When it can ship.
    pub calendar: Schedule,
    /// What to charge; none where the document names no currency.
    pub price: Option<Price>,
    /// Kits to pack.
    pub kits: Vec<Kit>,
    /// Mixes by the bag.
    pub bags: Vec<MixBag>,
    /// The colour to put under the stones of each piece.
    pub tints: Vec<PieceTint>,
    /// What to watch, the most serious first.
    pub findings: Vec<PlanFinding>,
}

/// The parts of a plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    /// Counts and spare.
    Counts,
    /// The purchase.
    Buying,
    /// The bench order.
    Stretches,
    /// Adhesive and base tint.
    Glue,
    /// Hours.
    Hours,
    /// The calendar.
    Calendar,
    /// The price.
    Price,
    /// Kits and bags.
    Kits,
}

/// Something worth knowing about a plan.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PlanFinding {
    /// The part of the plan that it is about.
    pub part: Part,
    /// Its stable code.
    pub code: String,
    /// How much it matters.
    pub severity: Severity,
    /// What was measured, with its unit.
    pub measured: Option<String>,
    /// What was wanted, with its unit.
    pub wanted: Option<String>,
    /// What it says.
    pub text: String,
    /// What to do about it.
    pub hint: String,
}

/// Why there is no plan.
#[derive(Clone, Debug, thiserror::Error)]
pub enum PlanError {
    /// The watcher stopped it.
    #[error("stopped")]
    Stopped,
    /// No spare can be told.
    #[error("spare: {0}")]
    Spare(#[from] SpareError),
    /// The market makes no sense.
    #[error("buying: {0}")]
    Market(#[from] BadMarket),
    /// The lay cannot be cut into stretches.
    #[error("stretches: {0}")]
    Stretches(#[from] StretchError),
    /// The adhesive cannot be reckoned.
    #[error("adhesive: {0}")]
    Glue(#[from] GlueError),
    /// The hours cannot be told.
    #[error("hours: {0}")]
    Hours(#[from] HoursError),
    /// There is no calendar.
    #[error("calendar: {0}")]
    Calendar(#[from] WorkError),
    /// There is no price.
    #[error("price: {0}")]
    Price(#[from] PriceError),
    /// A kit cannot be packed.
    #[error("kits: {0}")]
    Kits(#[from] KitError),
    /// A mix cannot be bagged.
    #[error("bags: {0}")]
    Bags(#[from] MixError),
    /// There is no colour to put under the stones.
    #[error("base tint: {0}")]
    Tint(#[from] TintError),
}

impl From<Stopped> for PlanError {
    fn from(_: Stopped) -> PlanError {
        PlanError::Stopped
    }
}

/// The bench order of every piece of a laid order, as its plan has it.
///
/// # Errors
/// The document asks for an adhesive or a pace that cannot be.
pub fn stretches(laid: &LaidOrder) -> Result<Vec<PieceStretches>, PlanError> {
    bench::stretches(laid, &Gluing::of(laid), &bench::maker(laid), &mut vec![])
}

/// The day on which stones arrive that are ordered on `today` and take so many working days; none
/// if the workshop never works again.
pub fn delivery_day(laid: &LaidOrder, today: Date, working_days: u32) -> Option<Date> {
    when::week(laid).ok()?.working_day_after(today, working_days)
}

/// Plans a laid order. `today` is the day on which work can begin if the document names none, and
/// the day of the quote.
///
/// # Errors
/// The watcher stopped it, or the document asks for what cannot be: see [`PlanError`].
pub fn plan(laid: &LaidOrder, today: Date, watch: &dyn Watch) -> Result<Plan, PlanError> {
    let mut found = Found::default();
    let step = |what: &str, done: usize| -> Result<(), PlanError> {
        watch.step(what, done, 6);
        if watch.stopped() { Err(PlanError::Stopped) } else { Ok(()) }
    };
    step("counting", 0)?;
    let pieces = counts::pieces(laid, watch)?;
    let spare = counts::spare(laid, &pieces, found.of(Part::Counts))?;
    step("stretches", 1)?;
    let maker = bench::maker(laid);
    let gluing = Gluing::of(laid);
    let stretches = bench::stretches(laid, &gluing, &maker, found.of(Part::Stretches))?;
    let glue = bench::glue(laid, &gluing, &stretches, found.of(Part::Glue))?;
    let hours = bench::hours(laid, &maker, &glue, found.of(Part::Hours))?;
    step("calendar", 2)?;
    let week = when::week(laid)?;
    let job =
        Job { laid, gluing: &gluing, stretches: &stretches, hours: &hours, week: &week, today };
    let arrival = when::arrival(job)?;
    step("buying", 3)?;
    let purchase = market::buy(laid, &spare, &pieces, arrival, found.of(Part::Buying))?;
    step("calendar", 4)?;
    let calendar = when::calendar(job, &purchase, found.of(Part::Calendar))?;
    step("price", 5)?;
    let costs = market::StoneCosts::of(laid, &purchase);
    let price = charge::price(
        laid,
        &spare,
        &costs,
        &purchase,
        &glue,
        &hours,
        today,
        found.of(Part::Price),
    )?;
    let kits = sale::kits(laid, &costs, &purchase, found.of(Part::Kits))?;
    let bags = sale::bags(laid, &costs, &purchase, found.of(Part::Kits))?;
    let tints = tints::tints(laid, &gluing, &glue, found.of(Part::Glue))?;
    let answer = answer::answer(laid, &purchase, &glue, &hours, &calendar, price.as_ref());
    Ok(Plan {
        format: FORMAT.to_owned(),
        version: 1,
        engine: crate::laying::ENGINE.to_owned(),
        order: laid.name.clone(),
        answer,
        pieces,
        spare,
        purchase,
        glue,
        stretches,
        hours,
        calendar,
        price,
        kits,
        bags,
        tints,
        findings: found.sorted(),
    })
}

/// What was found, by part.
#[derive(Default)]
struct Found(std::collections::BTreeMap<Part, Vec<Finding>>);

impl Found {
    fn of(&mut self, part: Part) -> &mut Vec<Finding> {
        self.0.entry(part).or_default()
    }

    /// All of it, the most serious first; of equals in the order of the plan. What is said twice,
    /// of two pieces say, stands once.
    fn sorted(self) -> Vec<PlanFinding> {
        let each = |(part, all): (Part, Vec<Finding>)| {
            all.into_iter().map(move |f| PlanFinding {
                part,
                code: f.code.to_owned(),
                severity: f.severity,
                measured: f.measured,
                wanted: f.wanted,
                text: f.text,
                hint: f.hint,
            })
        };
        let mut all: Vec<PlanFinding> = vec![];
        for f in self.0.into_iter().flat_map(each) {
            if !all.contains(&f) {
                all.push(f);
            }
        }
        all.sort_by_key(|f| std::cmp::Reverse(f.severity));
        all
    }
}

impl Plan {
    /// An amount of money of this plan, for people.
    pub fn money(&self, amount: rust_decimal::Decimal) -> String {
        money(amount, self.answer.digits)
    }

    /// What to watch in one part.
    pub fn findings_of(&self, part: Part) -> impl Iterator<Item = &PlanFinding> {
        self.findings.iter().filter(move |f| f.part == part)
    }

    /// The calendar as a file (iCalendar, RFC 5545), said to be written at `stamp_utc`.
    pub fn ical(&self, stamp_utc: jiff::civil::DateTime) -> String {
        let names = IcalNames { order: self.order.clone(), stamp_utc };
        planning::calendar::ical(&self.calendar, &names)
    }

    /// The quote for a customer; `None` without a price.
    pub fn quote_text(&self, customer: Option<&str>) -> Option<String> {
        let quote = Quote {
            title: self.order.clone(),
            customer: customer.map(str::to_owned),
            ready_by: Some(self.calendar.ship_on),
            notes: vec![],
        };
        Some(quote_text(self.price.as_ref()?, &quote))
    }

    /// Every reason, in the order of the plan.
    pub fn reasons(&self) -> Vec<&Reason> {
        let parts: [&[Reason]; 5] = [
            &self.spare.reasons,
            &self.purchase.reasons,
            &self.glue.reasons,
            &self.hours.reasons,
            &self.calendar.reasons,
        ];
        let stretches = self.stretches.iter().flat_map(|s| &s.stretches.reasons);
        let price = self.price.iter().flat_map(|p| &p.reasons);
        let sale = self.kits.iter().flat_map(|k| &k.reasons);
        let bags = self.bags.iter().flat_map(|b| &b.reasons);
        let tints = self.tints.iter().flat_map(|t| &t.tint.reasons);
        let rest = stretches.chain(price).chain(sale).chain(bags).chain(tints);
        parts.into_iter().flatten().chain(rest).collect()
    }
}

/// The schema of the plan's JSON.
pub fn schema() -> String {
    export::json::schema_of::<Plan>()
}

/// Every finding that a plan can return, beside those of a lay.
pub const PAGES: &[Page] = &[
    Page {
        code: "plan.adhesive-unsaid",
        what: "a piece names no adhesive; the usual solvent gel was taken",
        why: "open time, stretches, cure and cost all go by the adhesive",
        example: "a piece without the key `adhesive`",
        remedy: "add an `[[adhesive]]` with what its label says, and name it in the piece",
    },
    Page {
        code: "plan.kit-empty",
        what: "a kit is made from a piece on which no stone fits; it was left out",
        why: "there is nothing to pack",
        example: "a kit of a badge whose margin leaves no room for a stone",
        remedy: "look at what `stonelay lay` says of the piece",
    },
    Page {
        code: "plan.minimum-decides",
        what: "more is bought than is needed, since a supplier sells no less than its minimum",
        why: "the money lies on the shelf in stones",
        example: "three packs for 4.20, and a minimum of 15.00",
        remedy: "buy for several orders at once, or take another supplier",
    },
    Page {
        code: "plan.price-missing",
        what: "what some stones or an adhesive cost is not known; they are counted as costing nothing",
        why: "the price of the order comes out too low",
        example: "stock without `price`, and no supplier that sells the kind",
        remedy: "give the stock a price, add an offer of a supplier, or give the adhesive its container and price",
    },
];
