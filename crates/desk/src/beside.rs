//! Other figures, tried beside those that stand, and kept.

use crate::{Desk, DeskError, Opened, Tries};
use app::edit::{Change, Path, Sheet};
use app::plan::Plan;
use schemars::JsonSchema;
use serde::Serialize;
use shop::{DocumentId, RevisionId};
use units::{Span, grouped, trimmed};

/// One figure as it stands, and as it would be.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Beside {
    /// What it is.
    pub figure: String,
    /// As it stands, with its unit.
    pub stands: String,
    /// As it would be, with its unit.
    pub tried: String,
    /// Whether the two differ.
    pub differs: bool,
}

impl Beside {
    /// The figures of two plans that a maker looks at first.
    pub fn of(stands: &Plan, tried: &Plan) -> Vec<Beside> {
        let rows = figures(stands).into_iter().zip(figures(tried));
        rows.map(|((figure, stands), (_, tried))| Beside {
            figure: figure.to_owned(),
            differs: stands != tried,
            stands,
            tried,
        })
        .collect()
    }
}

fn figures(plan: &Plan) -> Vec<(&'static str, String)> {
    let money = |amount: Option<rust_decimal::Decimal>| {
        amount.map_or("no price".to_owned(), |a| plan.money(a))
    };
    let price = plan.price.as_ref();
    let have: u64 = plan.spare.kinds.iter().map(|k| k.quantity).sum();
    let spare: u64 = plan.spare.kinds.iter().map(|k| k.spare).sum();
    let span = |min: f64| Span::from_minutes(min).unwrap_or_default().to_string();
    let share = |part: Option<rust_decimal::Decimal>| {
        let percent = |d: rust_decimal::Decimal| d * rust_decimal::Decimal::ONE_HUNDRED;
        part.map_or("no price".to_owned(), |p| format!("{} %", percent(p).round_dp(1).normalize()))
    };
    let stretches: usize = plan.stretches.iter().map(|s| s.stretches.stretches.len()).sum();
    vec![
        ("stones to have", grouped(have)),
        ("of these, spare", grouped(spare)),
        ("packs to buy", grouped(plan.answer.packs)),
        ("stones to buy for", plan.money(plan.purchase.total)),
        ("adhesive", format!("{} ml", trimmed(plan.answer.adhesive_ml, 1))),
        ("stretches of one copy of each", stretches.to_string()),
        ("at the bench", span(plan.hours.total_min)),
        ("ready", plan.calendar.ship_on.to_string()),
        ("cost", money(price.map(|p| p.cost))),
        ("floor price, before tax", money(price.map(|p| p.floor))),
        ("margin", share(price.and_then(|p| p.margin))),
        ("to charge", money(price.map(|p| p.charged.gross))),
    ]
}

impl Tries {
    /// The changes that make what is tried stand in a document: of `[workshop]` and `[price]`.
    pub fn changes(&self, sheet: &Sheet<'_>) -> Vec<Change> {
        let workshop = |key: &str| Path::root().key("workshop").key(key);
        let price = |key: &str| Path::root().key("price").key(key);
        let set = |path: Path, value: String| Change::Set { path, value };
        let mut changes = vec![];
        if let Some(loss) = self.loss {
            let long = workshop("loss").key("rate");
            let path = if sheet.value(&long).is_some() { long } else { workshop("loss") };
            changes.push(set(path, format!("{} %", trimmed(loss * 100.0, 4))));
        }
        if let Some(rate) = self.rate_per_h {
            changes.push(Change::Clear { path: workshop("level") });
            changes.push(set(workshop("rate"), trimmed(rate, 0)));
        }
        if let Some(margin) = self.margin {
            let percent = (margin * rust_decimal::Decimal::ONE_HUNDRED).normalize();
            changes.push(Change::Clear { path: price("markup") });
            changes.push(set(price("margin"), format!("{percent} %")));
        }
        if let Some(temperature) = self.temperature_c {
            changes.push(set(workshop("temperature"), format!("{} C", trimmed(temperature, 1))));
        }
        changes
    }

    /// In words, for the list of steps.
    pub fn what(&self) -> String {
        let mut all = vec![];
        all.extend(self.loss.map(|l| format!("loss {} %", trimmed(l * 100.0, 4))));
        all.extend(self.rate_per_h.map(|r| format!("{} stones an hour", trimmed(r, 0))));
        let percent =
            |m: rust_decimal::Decimal| (m * rust_decimal::Decimal::ONE_HUNDRED).normalize();
        all.extend(self.margin.map(|m| format!("margin {} %", percent(m))));
        all.extend(self.temperature_c.map(|t| format!("{} °C", trimmed(t, 1))));
        all.join(", ")
    }
}

impl Desk {
    /// Makes what was tried stand in an order that stands at `from`.
    ///
    /// # Errors
    /// Nothing is tried, or as for [`Desk::change`].
    pub fn keep_tries(
        &self,
        id: DocumentId,
        from: RevisionId,
        tries: &Tries,
    ) -> Result<Opened, DeskError> {
        let text = self.shop.revision(from)?.text;
        let unread = || DeskError::Ours("a kept text is no TOML".to_owned());
        let changes = tries.changes(&Sheet::of(&text).ok_or_else(unread)?);
        if changes.is_empty() {
            return Err(DeskError::unfit("no other figure was typed", "type one, and look again"));
        }
        self.change(id, from, &changes, &tries.what(), None)
    }
}
