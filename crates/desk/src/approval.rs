//! The customer's yes: to which lay and which price it was said, and whether these still stand.

use crate::lays::key;
use crate::{Desk, DeskError, Opened, Quote};
use app::laying::ENGINE;
use app::order::{Order, OrderPiece};
use app::plan::Plan;
use export::json::LayFile;
use lay::{Unwatched, Watch};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shop::{ApprovalId, NewApproval, RevisionId};

/// A yes to be written.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct NewYes {
    /// Made up by whoever asks: the same nonce again is the same yes.
    pub nonce: String,
    /// Hash of the lay that was quoted: what stands must still have it.
    pub hash: String,
    /// The price that was quoted, as [`Quote::price`] writes it: so must the price.
    pub price: String,
    /// Who said yes.
    pub who: String,
    /// How: at the counter, by letter.
    #[serde(default)]
    pub how: String,
    /// A note.
    #[serde(default)]
    pub note: String,
}

/// A yes that was said.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Yes {
    /// Its number.
    pub id: i64,
    /// When, milliseconds since 1970 in UTC.
    pub at_ms: i64,
    /// To which revision of the order.
    pub revision: i64,
    /// Hash of the lay that was quoted.
    pub hash: String,
    /// The price that was quoted.
    pub price: String,
    /// The day until which the quote held.
    pub valid_until: Option<String>,
    /// Who said it.
    pub who: String,
    /// How.
    pub how: String,
    /// A note.
    pub note: String,
}

/// That a yes was withdrawn.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Withdrawn {
    /// When, milliseconds since 1970 in UTC.
    pub at_ms: i64,
    /// Who withdrew it.
    pub who: String,
    /// How.
    pub how: String,
    /// A note.
    pub note: String,
}

/// How it stands with the customer's yes.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(tag = "is", rename_all = "snake_case")]
pub enum ApprovalState {
    /// Nobody said yes so far.
    Open,
    /// What stands is what was said yes to.
    Stands {
        /// The yes.
        yes: Yes,
    },
    /// What stands is not what was said yes to.
    Differs {
        /// The yes.
        yes: Yes,
        /// What changed, in words.
        changed: Vec<String>,
    },
    /// There is a yes; whether it still fits is known once the order is laid and planned.
    NotKnownYet {
        /// The yes.
        yes: Yes,
    },
    /// The yes was withdrawn.
    Withdrawn {
        /// The yes.
        yes: Yes,
        /// By whom, and when.
        by: Withdrawn,
    },
}

impl Quote {
    /// What is to be paid, as a yes keeps it: `812.40 EUR`.
    pub fn price(&self) -> String {
        format!("{} {}", app::money(self.gross, self.digits), self.currency)
    }
}

impl Desk {
    /// The hash of a whole order's lay: SHA-256, in hexadecimal, of one line for each piece in the
    /// order's order: the hash of its lay as it stands in the JSON file, a space, how many copies
    /// are made, a line feed.
    ///
    /// # Errors
    /// The watcher stopped it; a lay cannot be written.
    pub fn lay_hash(&self, order: &Order, watch: &dyn Watch) -> Result<String, DeskError> {
        let pieces = order.pieces.iter().map(|p| Ok((self.piece_hash(p, watch)?, p.quantity)));
        let pieces = pieces.collect::<Result<Vec<_>, DeskError>>()?;
        Ok(export::json::whole_hash(pieces.iter().map(|(hash, copies)| (hash.as_str(), *copies))))
    }

    /// The hash of one piece's lay, as it stands in the JSON file.
    fn piece_hash(&self, asked: &OrderPiece, watch: &dyn Watch) -> Result<String, DeskError> {
        self.hashes.get(
            key(asked),
            || None,
            || {
                let laid = self.lay(asked, watch)?;
                let file = LayFile::new("", &[(&asked.piece, &laid.lay, asked.quantity)], ENGINE);
                let file = file.map_err(|e| DeskError::Ours(e.to_string()))?;
                let first = file.pieces.into_iter().next();
                first.map(|p| p.hash).ok_or_else(|| DeskError::Ours("a lay has no hash".to_owned()))
            },
        )
    }

    /// Writes a customer's yes to what stands, as `quote` has it.
    ///
    /// # Errors
    /// It is not what was quoted any more; nobody said it; the shop's.
    pub fn say_yes(&self, opened: &Opened, quote: &Quote, yes: &NewYes) -> Result<Yes, DeskError> {
        if quote.hash != yes.hash || quote.price() != yes.price {
            return Err(DeskError::unfit(
                "lay or price changed since this quote was shown",
                "look at the quote as it stands now, and show it to the customer",
            ));
        }
        if yes.who.trim().is_empty() {
            return Err(DeskError::unfit("who said yes is missing", "type the customer's name"));
        }
        let new = NewApproval {
            nonce: yes.nonce.clone(),
            document: opened.document.id,
            revision: opened.revision.id,
            hash: quote.hash.clone(),
            price: quote.price(),
            valid_until: Some(quote.valid_until.to_string()),
            who: yes.who.trim().to_owned(),
            how: yes.how.trim().to_owned(),
            note: yes.note.trim().to_owned(),
        };
        Ok(yes_of(self.shop.approve(&new)?))
    }

    /// Writes that a yes was withdrawn.
    ///
    /// # Errors
    /// There is no such yes; nobody is named; the shop's.
    pub fn withdraw_yes(
        &self,
        opened: &Opened,
        yes: i64,
        who: &str,
        how: &str,
        note: &str,
    ) -> Result<(), DeskError> {
        let all = self.shop.approvals(opened.document.id)?;
        if !all.iter().any(|a| a.id.0 == yes && a.withdraws.is_none()) {
            return Err(DeskError::Missing("yes to this order"));
        }
        if who.trim().is_empty() {
            return Err(DeskError::unfit("who withdrew it is missing", "type the customer's name"));
        }
        self.shop.withdraw(ApprovalId(yes), who.trim(), how.trim(), note.trim())?;
        Ok(())
    }

    /// How it stands with the customer's yes. Nothing is laid or planned for it: a yes to an order
    /// whose lay is not at hand is [`ApprovalState::NotKnownYet`].
    ///
    /// # Errors
    /// The shop's.
    pub fn approval_state(&self, opened: &Opened) -> Result<ApprovalState, DeskError> {
        let mut all = self.shop.approvals(opened.document.id)?;
        let Some(at) = all.iter().rposition(|a| a.withdraws.is_none()) else {
            return Ok(ApprovalState::Open);
        };
        let withdrawn = all.iter().find(|a| a.withdraws == Some(all[at].id)).cloned();
        let yes = yes_of(all.swap_remove(at));
        if let Some(by) = withdrawn {
            let by = Withdrawn {
                at_ms: by.at_ms,
                who: by.said.who,
                how: by.said.how,
                note: by.said.note,
            };
            return Ok(ApprovalState::Withdrawn { yes, by });
        }
        if !opened.order.pieces.iter().all(|p| self.is_laid(p)) {
            return Ok(ApprovalState::NotKnownYet { yes });
        }
        let mut changed = self.moved_since(opened, &yes)?;
        match self.plan_kept(opened)? {
            Some(plan) => changed.extend(self.repriced_since(opened, &plan, &yes)),
            None if changed.is_empty() => return Ok(ApprovalState::NotKnownYet { yes }),
            None => {}
        }
        Ok(match changed.is_empty() {
            true => ApprovalState::Stands { yes },
            false => ApprovalState::Differs { yes, changed },
        })
    }

    /// What changed of the lay since a yes, in words; nothing if every stone lies where it lay.
    fn moved_since(&self, opened: &Opened, yes: &Yes) -> Result<Vec<String>, DeskError> {
        if self.lay_hash(&opened.order, &Unwatched)? == yes.hash {
            return Ok(vec![]);
        }
        let revision = RevisionId(yes.revision);
        let text = self.shop.revision(revision)?.text;
        let mut changed = vec![];
        // A text that was an order then may not be one for a later program.
        match self.orders.get(revision, || None, || self.meaning(opened.document.id, &text)) {
            Ok(then) => changed.extend(differences(&then, &opened.order)),
            Err(_) => changed.push("the lay".to_owned()),
        }
        if changed.is_empty() {
            changed.push("the lay: this version of the program lays it otherwise".to_owned());
        }
        Ok(changed)
    }

    /// How the price differs from the one of a yes, in words.
    fn repriced_since(&self, opened: &Opened, plan: &Plan, yes: &Yes) -> Option<String> {
        match self.quote(opened, plan) {
            Ok(quote) if quote.price() == yes.price => None,
            Ok(quote) => Some(format!("the price: {} instead of {}", quote.price(), yes.price)),
            Err(_) => Some("there is no price any more".to_owned()),
        }
    }
}

/// What differs between the pieces of an order then and now.
fn differences(then: &Order, now: &Order) -> Vec<String> {
    let named =
        |order: &'_ Order, name: &str| order.pieces.iter().find(|p| p.piece.name == name).cloned();
    let mut all = vec![];
    for piece in &then.pieces {
        let name = &piece.piece.name;
        match named(now, name) {
            None => all.push(format!("`{name}` was taken out or has another name")),
            Some(after) => {
                if after.quantity != piece.quantity {
                    let (a, b) = (piece.quantity, after.quantity);
                    all.push(format!("copies of `{name}`: {b} instead of {a}"));
                }
                if format!("{:?}", after.piece) != format!("{:?}", piece.piece) {
                    all.push(format!("the lay of `{name}`"));
                }
            }
        }
    }
    let new = now.pieces.iter().filter(|p| named(then, &p.piece.name).is_none());
    all.extend(new.map(|p| format!("`{}` is new", p.piece.name)));
    let order = |o: &Order| o.pieces.iter().map(|p| p.piece.name.clone()).collect::<Vec<_>>();
    if all.is_empty() && order(then) != order(now) {
        all.push("the pieces stand in another order".to_owned());
    }
    all
}

fn yes_of(said: shop::Approval) -> Yes {
    Yes {
        id: said.id.0,
        at_ms: said.at_ms,
        revision: said.said.revision.0,
        hash: said.said.hash,
        price: said.said.price,
        valid_until: said.said.valid_until,
        who: said.said.who,
        how: said.said.how,
        note: said.said.note,
    }
}
