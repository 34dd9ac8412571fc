//! The customer's yes to a quote, and its withdrawal. Only added.

use crate::documents::revision_of;
use crate::error::{Fault, named, unknown};
use crate::{ApprovalId, DocumentId, RevisionId, Shop, ShopError};
use rusqlite::{Connection, Params, params};

/// A yes to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewApproval {
    /// Made up by whoever asks: the same nonce again is the same yes.
    pub nonce: String,
    /// To which order.
    pub document: DocumentId,
    /// To which revision.
    pub revision: RevisionId,
    /// Hash of what was quoted.
    pub hash: String,
    /// The price as it was shown.
    pub price: String,
    /// The day until which the quote holds, `2026-09-30`.
    pub valid_until: Option<String>,
    /// Who said yes.
    pub who: String,
    /// How: at the counter, by letter.
    pub how: String,
    /// A note.
    pub note: String,
}

/// A yes, or its withdrawal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Approval {
    /// Its number.
    pub id: ApprovalId,
    /// When.
    pub at_ms: i64,
    /// The yes that is withdrawn by this; none for a yes.
    pub withdraws: Option<ApprovalId>,
    /// What was said. Of a withdrawal, `who`, `how` and `note` are its own, the rest is the yes's.
    pub said: NewApproval,
}

impl Shop {
    /// Writes a customer's yes.
    ///
    /// # Errors
    /// `Unknown`, `BadValue`, `NonceReused`; the world's.
    pub fn approve(&self, new: &NewApproval) -> Result<Approval, ShopError> {
        named("nonce", &new.nonce)?;
        named("who said yes", &new.who)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            if let Some(there) = many(t, "nonce = ?1", params![new.nonce])?.pop() {
                if there.said == *new {
                    return Ok(there);
                }
                return Err(ShopError::NonceReused { nonce: new.nonce.clone() }.into());
            }
            if revision_of(t, new.revision)?.document != new.document {
                return Err(unknown("revision of that document", new.revision));
            }
            insert(t, None, new, now_ms)
        })
    }

    /// Writes that a yes was withdrawn, by whom and how. Withdrawn twice is withdrawn once.
    ///
    /// # Errors
    /// `Unknown`, also for what is no yes; the world's.
    pub fn withdraw(
        &self,
        approval: ApprovalId,
        who: &str,
        how: &str,
        note: &str,
    ) -> Result<Approval, ShopError> {
        named("who withdrew", who)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            if let Some(there) = many(t, "withdraws = ?1", [approval])?.pop() {
                return Ok(there);
            }
            let yes = many(t, "id = ?1 AND withdraws IS NULL", [approval])?.pop();
            let mut said = yes.ok_or_else(|| unknown("approval", approval))?.said;
            said.nonce = format!("withdrawn: {}", said.nonce);
            said.who = who.to_owned();
            said.how = how.to_owned();
            said.note = note.to_owned();
            insert(t, Some(approval), &said, now_ms)
        })
    }

    /// Every yes and withdrawal of an order, the first first.
    ///
    /// # Errors
    /// The world's.
    pub fn approvals(&self, document: DocumentId) -> Result<Vec<Approval>, ShopError> {
        self.read(|c| many(c, "document = ?1 ORDER BY id", [document]))
    }
}

fn insert(
    c: &Connection,
    withdraws: Option<ApprovalId>,
    said: &NewApproval,
    at_ms: i64,
) -> Result<Approval, Fault> {
    c.prepare_cached(
        "INSERT INTO approval (nonce, at_ms, withdraws, document, revision, hash, price,
           valid_until, who, how, note)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)",
    )?
    .execute(params![
        said.nonce,
        at_ms,
        withdraws,
        said.document,
        said.revision,
        said.hash,
        said.price,
        said.valid_until,
        said.who,
        said.how,
        said.note,
    ])?;
    let (id, said) = (ApprovalId(c.last_insert_rowid()), said.clone());
    Ok(Approval { id, at_ms, withdraws, said })
}

/// What was said, where `which` is true.
fn many(c: &Connection, which: &str, values: impl Params) -> Result<Vec<Approval>, Fault> {
    let mut found = c.prepare_cached(&format!(
        "SELECT id, at_ms, withdraws, nonce, document, revision, hash, price, valid_until, who,
           how, note FROM approval WHERE {which}"
    ))?;
    let rows = found.query_map(values, |row| {
        Ok(Approval {
            id: row.get(0)?,
            at_ms: row.get(1)?,
            withdraws: row.get(2)?,
            said: NewApproval {
                nonce: row.get(3)?,
                document: row.get(4)?,
                revision: row.get(5)?,
                hash: row.get(6)?,
                price: row.get(7)?,
                valid_until: row.get(8)?,
                who: row.get(9)?,
                how: row.get(10)?,
                note: row.get(11)?,
            },
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
