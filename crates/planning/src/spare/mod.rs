//! Spare: how many stones of each kind to have ready, so that the order can be finished.
//!
//! Stones get lost, break, or turn out unusable, each by chance and independently. Of N stones
//! handled the number lost is binomial at an assumed rate, and beta-binomial where a log says
//! something about the rate or the maker said how much the assumption is worth. The quantity to have ready is the smallest N of which, with the
//! chance asked for, at least as many are left as are needed. Where the need is uncertain itself
//! (stones set by hand without a sheet), it is mixed in exactly.
//!
//! The chance is for the whole order. Kinds are taken as independent, so that each of k kinds gets
//! the k-th root of it. Where kinds share one hand or one uncertain rate they are not: then they
//! mostly run short together, and the true chance of the whole order is above the one stated.

mod chance;
mod convolve;
mod counts;
mod said;

pub use counts::Counts;
pub(crate) use said::PAGES;

use crate::{Given, Reason};
use chance::{Enough, Loss};
use lay::Finding;
use schemars::JsonSchema;
use serde::Serialize;

/// A loss from which on spare is refused: nine of ten stones lost is not a way of working.
pub const LOSS_LIMIT: f64 = 0.9;
/// The fewest handled stones that an assumed loss may count for.
pub const TRUST_MIN: f64 = 1.0;
/// The most that an assumed loss may count for.
pub const TRUST_MAX: f64 = 1e7;
/// The most stones of one kind that an order may need.
pub const NEED_LIMIT: u64 = 2_000_000;
/// The most stones of one kind that a log may hold: more than a working life.
pub const LOG_LIMIT: u64 = 10_000_000;
/// The most stones of one kind that it makes sense to tell anyone to have ready.
pub const QUANTITY_LIMIT: u64 = 25_000_000;

/// What spare is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct SpareInput {
    /// Chance, between 0 and 1, that the whole order can be finished without buying again.
    pub sure: Given<f64>,
    /// The kinds, in the order in which they are to come out. A kind that is not needed takes no
    /// part of the chance.
    pub kinds: Vec<KindNeed>,
}

/// What one kind is needed for, and what is known of its losses.
#[derive(Clone, Debug, PartialEq)]
pub struct KindNeed {
    /// Its name.
    pub kind: String,
    /// Stones to be set, over all pieces and copies.
    pub need: Counts,
    /// What is known of its losses.
    pub losses: Losses,
}

/// What is known of the losses of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Losses {
    /// The part of handled stones that is assumed to be lost, 0 to below [`LOSS_LIMIT`].
    pub assumed: Given<f64>,
    /// How many handled stones of the maker's own log the assumption counts for, [`TRUST_MIN`] to
    /// [`TRUST_MAX`]. Usually 500 (ours, no source). If the document says it, the assumed loss is
    /// as uncertain as that, log or none.
    pub trust: Given<f64>,
    /// Stones handled by the maker's log, the lost ones among them; 0 if there is none.
    pub handled: u64,
    /// Of these, lost.
    pub lost: u64,
}

/// How many stones to have ready for the order.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct Spare {
    /// Chance asked for, that the whole order can be finished without buying again, 0 to 1.
    pub sure: f64,
    /// The number of kinds that are needed at all: k.
    pub n_kinds: usize,
    /// Chance for each of them: the k-th root of `sure`.
    pub sure_each: f64,
    /// Chance that the quantities give for the whole order: the product over its kinds. At least
    /// `sure`, since stones are whole.
    pub chance: f64,
    /// Each kind, in the order asked for.
    pub kinds: Vec<KindSpare>,
    /// How the figures came about.
    pub reasons: Vec<Reason>,
}

/// How many stones of one kind to have ready.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct KindSpare {
    /// Its name.
    pub kind: String,
    /// Stones to be set; where that is uncertain, the count that half of all cases stay within.
    pub need: u64,
    /// Where the need is uncertain, the count that 95 of 100 cases stay within.
    pub need_95: Option<u64>,
    /// Stones to have ready, so that this kind does its part for the whole order.
    pub quantity: u64,
    /// Of these, spare: `quantity` less `need`.
    pub spare: u64,
    /// Chance that `quantity` is enough, 0 to 1; at least the order's `sure_each`.
    pub chance: f64,
    /// Stones to have ready if this were the only kind of the order.
    pub quantity_alone: u64,
    /// Of these, spare: `quantity_alone` less `need`.
    pub spare_alone: u64,
    /// Chance that `quantity_alone` is enough, 0 to 1; at least the order's `sure`.
    pub chance_alone: f64,
    /// The part of handled stones that is expected to be lost: the assumption, or what the
    /// assumption and the log say together.
    pub loss: f64,
}

/// Why spare cannot be worked out.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SpareError {
    /// The chance is not between 0 and 1.
    #[error("being sure to {0} makes no sense: above 0 and below 1")]
    Sure(f64),
    /// A loss that is none, or not to be worked with.
    #[error("a loss of {loss} for `{kind}` makes no sense: from 0 to below {LOSS_LIMIT}")]
    Loss {
        /// Name of the kind.
        kind: String,
        /// The loss assumed.
        loss: f64,
    },
    /// An assumption that counts for too little or too much.
    #[error("trust of {trust} stones for `{kind}` makes no sense: from {TRUST_MIN} to {TRUST_MAX}")]
    Trust {
        /// Name of the kind.
        kind: String,
        /// The trust.
        trust: f64,
    },
    /// More lost than handled, or more handled than anybody can.
    #[error(
        "{lost} stones lost of {handled} make no sense in the log of `{kind}`: lost up to \
         handled, and that up to {LOG_LIMIT}"
    )]
    Log {
        /// Name of the kind.
        kind: String,
        /// Stones handled.
        handled: u64,
        /// Stones lost.
        lost: u64,
    },
    /// More stones than anybody sets.
    #[error("{need} stones of `{kind}` are too many: up to {NEED_LIMIT}")]
    Need {
        /// Name of the kind.
        kind: String,
        /// The most that may be needed.
        need: u64,
    },
    /// So little is known of the loss that no sensible quantity is enough.
    #[error("no quantity of `{kind}` up to {QUANTITY_LIMIT} is sure enough at this loss")]
    Unbounded {
        /// Name of the kind.
        kind: String,
    },
}

/// Works out how many stones of each kind to have ready, and what is worth knowing about it.
///
/// # Errors
///
/// Values outside the ranges that [`SpareInput`] and [`Losses`] state.
pub fn spare(asked: &SpareInput) -> Result<(Spare, Vec<Finding>), SpareError> {
    let sure = asked.sure.value;
    if !(sure > 0.0 && sure < 1.0) {
        return Err(SpareError::Sure(sure));
    }
    asked.kinds.iter().try_for_each(check)?;
    let n_kinds = asked.kinds.iter().filter(|k| k.need.most() > 0).count();
    let sure_each = root(sure, n_kinds);
    let kinds: Vec<KindSpare> =
        asked.kinds.iter().map(|k| of_kind(k, sure, sure_each)).collect::<Result<_, _>>()?;
    let chance = kinds.iter().map(|k| k.chance).product();
    let mut spare = Spare { sure, n_kinds, sure_each, chance, kinds, reasons: vec![] };
    spare.reasons = said::reasons(asked, &spare);
    let findings = said::findings(asked, &spare);
    Ok((spare, findings))
}

fn check(kind: &KindNeed) -> Result<(), SpareError> {
    let name = || kind.kind.clone();
    let Losses { assumed, trust, handled, lost } = kind.losses;
    let (loss, trust) = (assumed.value, trust.value);
    if !(0.0..LOSS_LIMIT).contains(&loss) {
        return Err(SpareError::Loss { kind: name(), loss });
    }
    if !(TRUST_MIN..=TRUST_MAX).contains(&trust) {
        return Err(SpareError::Trust { kind: name(), trust });
    }
    if lost > handled || handled > LOG_LIMIT {
        return Err(SpareError::Log { kind: name(), handled, lost });
    }
    if kind.need.most() > NEED_LIMIT {
        return Err(SpareError::Need { kind: name(), need: kind.need.most() });
    }
    Ok(())
}

/// The k-th root of a chance; for a single kind the chance itself, to the last bit.
fn root(sure: f64, k: usize) -> f64 {
    if k < 2 { sure } else { libm::pow(sure, 1.0 / k as f64) }
}

fn of_kind(asked: &KindNeed, sure: f64, sure_each: f64) -> Result<KindSpare, SpareError> {
    let loss = Loss::of(&asked.losses);
    let enough = |sure: f64, begin: Option<Enough>| {
        chance::quantity(&asked.need, loss, sure, begin)
            .ok_or_else(|| SpareError::Unbounded { kind: asked.kind.clone() })
    };
    let whole = enough(sure_each, None)?;
    let alone = if sure_each == sure { whole } else { enough(sure, Some(whole))? };
    let need = asked.need.within(0.5);
    Ok(KindSpare {
        kind: asked.kind.clone(),
        need,
        need_95: (!asked.need.is_certain()).then(|| asked.need.within(0.95)),
        quantity: whole.n,
        // A chance below one half may ask for less than the middle of an uncertain need.
        spare: whole.n.saturating_sub(need),
        chance: whole.chance,
        quantity_alone: alone.n,
        spare_alone: alone.n.saturating_sub(need),
        chance_alone: alone.chance,
        loss: loss.mean(),
    })
}

#[cfg(test)]
mod tests;
