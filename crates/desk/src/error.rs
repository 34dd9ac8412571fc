//! Why something was not done at the desk. Nothing is half done then.

use app::document::Refused;
use app::edit::{EditError, FieldFault, field_faults};
use app::plan::PlanError;
use lay::Stopped;
use shop::ShopError;

/// Why something was not done. Nothing was changed.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The shop refused.
    #[error(transparent)]
    Shop(#[from] ShopError),
    /// The text would be no order.
    #[error("{}", .0.first().map_or("this is no order", |f| f.text.as_str()))]
    Refused(Vec<FieldFault>),
    /// A change cannot be made.
    #[error(transparent)]
    Edit(#[from] EditError),
    /// The plan cannot be made.
    #[error(transparent)]
    Plan(#[from] PlanError),
    /// There is no such thing in this order.
    #[error("there is no such {0}")]
    Missing(&'static str),
    /// What was sent cannot be used.
    #[error("{text}")]
    Unfit {
        /// What is wrong.
        text: String,
        /// What would be right.
        hint: String,
    },
    /// Another device was quicker: what was sent fits no more.
    #[error("{text}")]
    Meanwhile {
        /// What is wrong.
        text: String,
        /// What to do.
        hint: String,
    },
    /// Somebody stopped it.
    #[error("stopped before it was finished")]
    Stopped,
    /// A defect of ours.
    #[error("{0}")]
    Ours(String),
}

impl From<Stopped> for DeskError {
    fn from(_: Stopped) -> DeskError {
        DeskError::Stopped
    }
}

impl From<Refused> for DeskError {
    fn from(refused: Refused) -> DeskError {
        DeskError::Refused(field_faults(&refused))
    }
}

impl DeskError {
    /// What was sent cannot be used, and what would be right.
    pub fn unfit(text: impl Into<String>, hint: impl Into<String>) -> DeskError {
        DeskError::Unfit { text: text.into(), hint: hint.into() }
    }

    /// Another device was quicker, and what to do.
    pub fn meanwhile(text: impl Into<String>, hint: impl Into<String>) -> DeskError {
        DeskError::Meanwhile { text: text.into(), hint: hint.into() }
    }

    /// What to do about it, as a sentence without a full stop.
    pub fn hint(&self) -> Option<String> {
        Some(match self {
            DeskError::Shop(e) => e.hint().to_owned(),
            DeskError::Refused(faults) => faults.first()?.hint.clone()?,
            DeskError::Edit(e) => e.hint.clone(),
            DeskError::Plan(_) => "change what it names in the order".to_owned(),
            DeskError::Missing(_) => "go back: it may have been removed meanwhile".to_owned(),
            DeskError::Unfit { hint, .. } | DeskError::Meanwhile { hint, .. } => hint.clone(),
            DeskError::Stopped => "nothing was changed; begin again when you like".to_owned(),
            DeskError::Ours(_) => "nothing was changed; tell us what you did".to_owned(),
        })
    }
}
