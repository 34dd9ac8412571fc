//! Lists of documents: searched, ordered, page by page.

use crate::documents::{COLUMNS, document_from, document_of};
use crate::{Document, DocumentId, Shop, ShopError, Sort};
use rusqlite::types::Value;
use rusqlite::{params, params_from_iter};

/// By what a list is ordered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum By {
    /// The last changed first.
    #[default]
    Changed,
    /// The first due first, those without a day last.
    Due,
}

/// Which documents a list wants.
#[derive(Debug, Clone)]
pub struct Asked<'a> {
    /// Which sort.
    pub sort: Sort,
    /// Words that all have to occur in the name, the day or the words of a document, in any case;
    /// empty for all documents.
    pub search: &'a str,
    /// Those that were put away, or those that were not.
    pub put_away: bool,
    /// In which order.
    pub by: By,
    /// The last document of the page before.
    pub after: Option<DocumentId>,
    /// At most so many.
    pub limit: u32,
}

impl Default for Asked<'_> {
    /// The 50 orders changed last.
    fn default() -> Self {
        Self {
            sort: Sort::Order,
            search: "",
            put_away: false,
            by: By::Changed,
            after: None,
            limit: 50,
        }
    }
}

impl Shop {
    /// A page of documents.
    ///
    /// # Errors
    /// `Unknown`, if the document that the page should come after is gone; the world's.
    pub fn documents(&self, asked: &Asked<'_>) -> Result<Vec<Document>, ShopError> {
        self.read(|c| {
            let mut sql = format!("SELECT {COLUMNS} FROM document WHERE sort = ? AND put_away = ?");
            let mut values: Vec<Value> = vec![
                Value::Text(asked.sort.word().to_owned()),
                Value::Integer(asked.put_away.into()),
            ];
            if let Some(after) = asked.after {
                // The whole list is gone through from there; a document that is gone has no there.
                document_of(c, after)?;
                sql.push_str(match asked.by {
                    By::Changed => {
                        " AND (changed_ms, id) < (SELECT changed_ms, id FROM document WHERE id = ?)"
                    }
                    By::Due => {
                        " AND (coalesce(due_day, '~'), id) >
                          (SELECT coalesce(due_day, '~'), id FROM document WHERE id = ?)"
                    }
                });
                values.push(Value::Integer(after.0));
            }
            for word in folded(asked.search).split_whitespace() {
                sql.push_str(" AND instr(folded, ?) > 0");
                values.push(Value::Text(word.to_owned()));
            }
            sql.push_str(match asked.by {
                By::Changed => " ORDER BY changed_ms DESC, id DESC LIMIT ?",
                By::Due => " ORDER BY coalesce(due_day, '~'), id LIMIT ?",
            });
            values.push(Value::Integer(asked.limit.into()));
            let mut found = c.prepare_cached(&sql)?;
            let rows = found.query_map(params_from_iter(values), document_from)?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// How many documents there are of a sort, put away or not.
    ///
    /// # Errors
    /// The world's.
    pub fn count_documents(&self, sort: Sort, put_away: bool) -> Result<u64, ShopError> {
        self.read(|c| {
            let n: i64 = c
                .prepare_cached("SELECT count(*) FROM document WHERE sort = ?1 AND put_away = ?2")?
                .query_row(params![sort, put_away], |row| row.get(0))?;
            Ok(n.unsigned_abs())
        })
    }
}

/// As a search compares texts: SQLite itself knows small letters of ASCII only.
pub(crate) fn folded(text: &str) -> String {
    text.to_lowercase()
}
