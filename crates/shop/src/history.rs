//! Back and forth between the revisions of a document.

use crate::documents::{document_at, document_of, head_of, point_head};
use crate::error::Fault;
use crate::{DocumentId, Head, RevisionId, Shop, ShopError};
use rusqlite::{Connection, OptionalExtension, params};

/// A revision as a list of steps shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The revision.
    pub revision: RevisionId,
    /// Its number within the document, from 1.
    pub number: i64,
    /// The revision it was made from.
    pub parent: Option<RevisionId>,
    /// When.
    pub at_ms: i64,
    /// What was changed.
    pub what: String,
    /// Whether the document's text of now came about by way of it; false for what was undone.
    pub stands: bool,
}

/// What undo and redo would do.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Ways {
    /// What undo would take back; none at the first revision.
    pub undo: Option<String>,
    /// What redo would bring back; none if nothing was undone here.
    pub redo: Option<String>,
}

impl Shop {
    /// Takes the document, which has to stand at `from`, back to before its last step; none if it
    /// has only its first.
    ///
    /// # Errors
    /// `HeadMoved` if it stands elsewhere: what was asked twice is done once; `Unknown`; the world's.
    pub fn undo(&self, document: DocumentId, from: RevisionId) -> Result<Option<Head>, ShopError> {
        let now_ms = self.wall_ms();
        self.change(|t| {
            let head = document_at(t, document, from)?.revision.id;
            let Some(back) = before_step(t, head)?.0 else { return Ok(None) };
            t.prepare_cached("INSERT OR REPLACE INTO redo (revision, next) VALUES (?1, ?2)")?
                .execute([back, head])?;
            point_head(t, document, back, now_ms)?;
            head_of(t, document).map(Some)
        })
    }

    /// Brings back the step that was undone last from `from`, where the document has to stand; none
    /// if there is none.
    ///
    /// # Errors
    /// As for [`Shop::undo`].
    pub fn redo(&self, document: DocumentId, from: RevisionId) -> Result<Option<Head>, ShopError> {
        let now_ms = self.wall_ms();
        self.change(|t| {
            let head = document_at(t, document, from)?.revision.id;
            let Some(on) = after_step(t, head)? else { return Ok(None) };
            point_head(t, document, on, now_ms)?;
            head_of(t, document).map(Some)
        })
    }

    /// What undo and redo would do.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn ways(&self, document: DocumentId) -> Result<Ways, ShopError> {
        self.read(|c| {
            let head = document_of(c, document)?.head;
            let (back, first) = before_step(c, head)?;
            let undo = back.map(|_| what_of(c, first)).transpose()?;
            let redo = match after_step(c, head)? {
                Some(on) => Some(what_of(c, before_step(c, on)?.1)?),
                None => None,
            };
            Ok(Ways { undo, redo })
        })
    }

    /// The revisions of a document, the last first; at most `limit`, older than `before` if given.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn history(
        &self,
        document: DocumentId,
        before: Option<RevisionId>,
        limit: u32,
    ) -> Result<Vec<Step>, ShopError> {
        self.read(|c| {
            let head = document_of(c, document)?.head;
            let mut found = c.prepare_cached(
                "WITH RECURSIVE way (id, parent) AS (
                   SELECT id, parent FROM revision WHERE id = ?2
                   UNION ALL
                   SELECT r.id, r.parent FROM revision r JOIN way ON r.id = way.parent)
                 SELECT id, number, parent, at_ms, what, id IN (SELECT id FROM way)
                 FROM revision WHERE document = ?1 AND number < coalesce(
                   (SELECT number FROM revision WHERE id = ?3), 9223372036854775807)
                 ORDER BY number DESC LIMIT ?4",
            )?;
            let rows = found.query_map(params![document, head, before, limit], |row| {
                Ok(Step {
                    revision: row.get(0)?,
                    number: row.get(1)?,
                    parent: row.get(2)?,
                    at_ms: row.get(3)?,
                    what: row.get(4)?,
                    stands: row.get(5)?,
                })
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}

/// Before the step that ends at `last`, and the first revision of that step: changes that belong
/// together are one.
fn before_step(
    c: &Connection,
    last: RevisionId,
) -> Result<(Option<RevisionId>, RevisionId), Fault> {
    let mut found = c.prepare_cached("SELECT parent, together FROM revision WHERE id = ?1")?;
    let mut look = |revision: RevisionId| {
        found.query_row([revision], |row| {
            Ok((row.get::<_, Option<RevisionId>>(0)?, row.get::<_, Option<String>>(1)?))
        })
    };
    let (mut first, (mut parent, together)) = (last, look(last)?);
    while let (Some(before), Some(_)) = (parent, &together) {
        let (its_parent, its_together) = look(before)?;
        // A document begins with its first revision, which no step takes back.
        if its_together != together || its_parent.is_none() {
            break;
        }
        (first, parent) = (before, its_parent);
    }
    Ok((parent, first))
}

/// Where redo goes.
fn after_step(c: &Connection, head: RevisionId) -> Result<Option<RevisionId>, Fault> {
    let mut found = c.prepare_cached("SELECT next FROM redo WHERE revision = ?1")?;
    Ok(found.query_row([head], |row| row.get(0)).optional()?)
}

fn what_of(c: &Connection, revision: RevisionId) -> Result<String, Fault> {
    let mut found = c.prepare_cached("SELECT what FROM revision WHERE id = ?1")?;
    Ok(found.query_row([revision], |row| row.get(0))?)
}
