//! Documents: the workshop's own and its orders, each a text with all its revisions.

use crate::error::{Fault, named, unknown};
use crate::ledger::take_back;
use crate::lists::folded;
use crate::{DocumentId, RevisionId, Shop, ShopError};
use rusqlite::{Connection, OptionalExtension, Row, params};

/// Which sort of document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Sort {
    /// The workshop's own: kinds, suppliers, prices. There is one.
    Workshop,
    /// An order.
    Order,
}

/// A document as a list shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Document {
    /// Its number.
    pub id: DocumentId,
    /// Which sort.
    pub sort: Sort,
    /// Its name.
    pub name: String,
    /// The day it is due, `2026-09-30`.
    pub due_day: Option<String>,
    /// Whether it is the demo order, which can be removed.
    pub demo: bool,
    /// Whether it was put away.
    pub put_away: bool,
    /// Its revision now.
    pub head: RevisionId,
    /// When it was made.
    pub made_ms: i64,
    /// When it was last changed, undone or redone.
    pub changed_ms: i64,
}

/// A text that a document had or has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revision {
    /// Its number in the database.
    pub id: RevisionId,
    /// Of which document.
    pub document: DocumentId,
    /// Its number within the document, from 1 in the order of writing.
    pub number: i64,
    /// The revision it was made from.
    pub parent: Option<RevisionId>,
    /// When.
    pub at_ms: i64,
    /// What was changed, for the list of steps.
    pub what: String,
    /// The whole text.
    pub text: String,
}

/// A document and its text now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// The document.
    pub document: Document,
    /// Its revision now.
    pub revision: Revision,
}

/// A text to be kept, and what lists show of it.
#[derive(Debug, Clone, Copy, Default)]
pub struct Change<'a> {
    /// The whole text.
    pub text: &'a str,
    /// Name of the document as the text says it.
    pub name: &'a str,
    /// The day it is due, `2026-09-30`.
    pub due_day: Option<&'a str>,
    /// Further words that a search should find it by: customer, pieces.
    pub words: &'a str,
    /// What was changed, for the list of steps.
    pub what: &'a str,
    /// Changes in a row with the same word here are one step to undo: a drag, a typed number.
    pub together: Option<&'a str>,
}

impl Shop {
    /// A new document. `demo` marks the demo order, which alone can be removed.
    ///
    /// # Errors
    /// `WorkshopTaken` for a second document of the workshop; the world's.
    pub fn create(&self, sort: Sort, first: &Change<'_>, demo: bool) -> Result<Head, ShopError> {
        named("name", first.name)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            if sort == Sort::Workshop
                && let Some(document) = workshop_id(t)?
            {
                return Err(ShopError::WorkshopTaken { document }.into());
            }
            // The head comes a moment later; the database looks at it when all is written.
            t.prepare_cached(
                "INSERT INTO document
                   (sort, demo, put_away, head, name, due_day, folded, made_ms, changed_ms)
                 VALUES (?1, ?2, 0, 0, '', NULL, '', ?3, ?3)",
            )?
            .execute(params![sort, demo, now_ms])?;
            let document = DocumentId(t.last_insert_rowid());
            let revision = add_revision(t, document, None, first, now_ms)?;
            point_head(t, document, revision, now_ms)?;
            head_of(t, document)
        })
    }

    /// The workshop's own document, if it is there yet.
    ///
    /// # Errors
    /// The world's.
    pub fn workshop(&self) -> Result<Option<Head>, ShopError> {
        self.read(|c| match workshop_id(c)? {
            Some(document) => head_of(c, document).map(Some),
            None => Ok(None),
        })
    }

    /// A document and its text now.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn head(&self, document: DocumentId) -> Result<Head, ShopError> {
        self.read(|c| head_of(c, document))
    }

    /// Any revision of any document.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn revision(&self, revision: RevisionId) -> Result<Revision, ShopError> {
        self.read(|c| revision_of(c, revision))
    }

    /// A new revision, made from the revision `from`, which has to be the document's head. If nothing
    /// differs from the head there is no new revision, and the head is given back.
    ///
    /// # Errors
    /// `HeadMoved`, which carries the head, if `from` is not the head; `Unknown`; the world's.
    pub fn revise(
        &self,
        document: DocumentId,
        from: RevisionId,
        change: &Change<'_>,
    ) -> Result<Head, ShopError> {
        named("name", change.name)?;
        let now_ms = self.wall_ms();
        self.change(|t| revised(t, document, from, change, now_ms))
    }

    /// Out of the lists, with everything kept.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn put_away(&self, document: DocumentId) -> Result<(), ShopError> {
        set_away(self, document, true)
    }

    /// Back into the lists.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn bring_back(&self, document: DocumentId) -> Result<(), ShopError> {
        set_away(self, document, false)
    }

    /// Removes the demo order with everything that hangs on it: revisions, outlines, settings,
    /// presses, repairs, approvals. The ledger keeps its lines; what they moved is taken back by lines
    /// that say so ([`crate::Moved::TakenBack`]).
    ///
    /// # Errors
    /// `NotDemo`, `Unknown`; the world's.
    pub fn remove_demo(&self, document: DocumentId) -> Result<(), ShopError> {
        let now_ms = self.wall_ms();
        self.change(|t| {
            if !document_of(t, document)?.demo {
                return Err(ShopError::NotDemo { document }.into());
            }
            take_back(t, document, now_ms)?;
            for sql in REMOVALS {
                t.execute(sql, [document])?;
            }
            Ok(())
        })
    }
}

/// The document with its text, which has to stand at `from`.
pub(crate) fn document_at(
    c: &Connection,
    document: DocumentId,
    from: RevisionId,
) -> Result<Head, Fault> {
    let head = head_of(c, document)?;
    if head.revision.id != from {
        return Err(ShopError::HeadMoved { document, head: Box::new(head) }.into());
    }
    Ok(head)
}

/// A new revision made from `from`, or the head if nothing differs.
pub(crate) fn revised(
    c: &Connection,
    document: DocumentId,
    from: RevisionId,
    change: &Change<'_>,
    now_ms: i64,
) -> Result<Head, Fault> {
    let head = document_at(c, document, from)?;
    if same(c, from, change)? {
        return Ok(head);
    }
    let revision = add_revision(c, document, Some(from), change, now_ms)?;
    point_head(c, document, revision, now_ms)?;
    head_of(c, document)
}

/// What hangs on a document, the last first.
const REMOVALS: &[&str] = &[
    "DELETE FROM approval WHERE document = ?1",
    "DELETE FROM repair WHERE setting IN (SELECT id FROM setting WHERE document = ?1)",
    "DELETE FROM press WHERE setting IN (SELECT id FROM setting WHERE document = ?1)",
    "DELETE FROM setting_lot WHERE setting IN (SELECT id FROM setting WHERE document = ?1)",
    "DELETE FROM setting WHERE document = ?1",
    "DELETE FROM outline WHERE document = ?1",
    "DELETE FROM redo WHERE revision IN (SELECT id FROM revision WHERE document = ?1)",
    "DELETE FROM revision WHERE document = ?1",
    "DELETE FROM document WHERE id = ?1",
];

pub(crate) const COLUMNS: &str =
    "id, sort, name, due_day, demo, put_away, head, made_ms, changed_ms";

pub(crate) fn document_from(row: &Row<'_>) -> rusqlite::Result<Document> {
    Ok(Document {
        id: row.get(0)?,
        sort: row.get(1)?,
        name: row.get(2)?,
        due_day: row.get(3)?,
        demo: row.get(4)?,
        put_away: row.get(5)?,
        head: row.get(6)?,
        made_ms: row.get(7)?,
        changed_ms: row.get(8)?,
    })
}

fn workshop_id(c: &Connection) -> Result<Option<DocumentId>, Fault> {
    let mut found = c.prepare_cached("SELECT id FROM document WHERE sort = 'workshop'")?;
    Ok(found.query_row([], |row| row.get(0)).optional()?)
}

pub(crate) fn document_of(c: &Connection, document: DocumentId) -> Result<Document, Fault> {
    c.prepare_cached(&format!("SELECT {COLUMNS} FROM document WHERE id = ?1"))?
        .query_row([document], document_from)
        .optional()?
        .ok_or_else(|| unknown("document", document))
}

pub(crate) fn revision_of(c: &Connection, revision: RevisionId) -> Result<Revision, Fault> {
    c.prepare_cached(
        "SELECT id, document, number, parent, at_ms, what, text FROM revision WHERE id = ?1",
    )?
    .query_row([revision], |row| {
        Ok(Revision {
            id: row.get(0)?,
            document: row.get(1)?,
            number: row.get(2)?,
            parent: row.get(3)?,
            at_ms: row.get(4)?,
            what: row.get(5)?,
            text: row.get(6)?,
        })
    })
    .optional()?
    .ok_or_else(|| unknown("revision", revision))
}

pub(crate) fn head_of(c: &Connection, document: DocumentId) -> Result<Head, Fault> {
    let document = document_of(c, document)?;
    let revision = revision_of(c, document.head)?;
    Ok(Head { document, revision })
}

/// Whether a change would change nothing.
fn same(c: &Connection, head: RevisionId, change: &Change<'_>) -> Result<bool, Fault> {
    let mut found = c.prepare_cached(
        "SELECT text = ?2 AND name = ?3 AND due_day IS ?4 AND words = ?5
         FROM revision WHERE id = ?1",
    )?;
    let values = params![head, change.text, change.name, change.due_day, change.words];
    Ok(found.query_row(values, |row| row.get(0))?)
}

fn add_revision(
    c: &Connection,
    document: DocumentId,
    parent: Option<RevisionId>,
    change: &Change<'_>,
    now_ms: i64,
) -> Result<RevisionId, Fault> {
    let Change { text, name, due_day, words, what, together } = *change;
    c.prepare_cached(
        "INSERT INTO revision
           (document, number, parent, at_ms, what, together, name, due_day, words, text)
         VALUES (?1, (SELECT coalesce(max(number), 0) + 1 FROM revision WHERE document = ?1),
           ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?
    .execute(params![document, parent, now_ms, what, together, name, due_day, words, text])?;
    Ok(RevisionId(c.last_insert_rowid()))
}

/// Makes a revision the head; what lists show of the document follows it.
pub(crate) fn point_head(
    c: &Connection,
    document: DocumentId,
    revision: RevisionId,
    now_ms: i64,
) -> Result<(), Fault> {
    let (name, due_day, words): (String, Option<String>, String) = c
        .prepare_cached("SELECT name, due_day, words FROM revision WHERE id = ?1")?
        .query_row([revision], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
    let looked_at = folded(&[&name, due_day.as_deref().unwrap_or(""), &words].join("\n"));
    c.prepare_cached(
        "UPDATE document SET head = ?2, name = ?3, due_day = ?4, folded = ?5, changed_ms = ?6
         WHERE id = ?1",
    )?
    .execute(params![document, revision, name, due_day, looked_at, now_ms])?;
    Ok(())
}

fn set_away(shop: &Shop, document: DocumentId, away: bool) -> Result<(), ShopError> {
    shop.change(|t| {
        let n = t
            .prepare_cached("UPDATE document SET put_away = ?2 WHERE id = ?1")?
            .execute(params![document, away])?;
        if n == 0 { Err(unknown("document", document)) } else { Ok(()) }
    })
}
