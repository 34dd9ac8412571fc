//! The schema, version by version. A version that landed is never changed: a later one follows.

use crate::error::Fault;
use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

/// "stly": what tells our databases from those of other programs.
pub(crate) const APPLICATION_ID: i64 = 0x7374_6C79;

const STEPS: &[M<'static>] = &[M::up(include_str!("schema/v1.sql"))];

/// The last version known here.
pub(crate) const KNOWN: i64 = STEPS.len() as i64;

/// Brings a database from whatever version it has to the last.
pub(crate) fn bring_up_to_date(connection: &mut Connection) -> Result<(), Fault> {
    Migrations::from_slice(STEPS).to_latest(connection).map_err(|e| match e {
        rusqlite_migration::Error::RusqliteError { err, .. } => Fault::Sql(err),
        other => Fault::Sql(rusqlite::Error::ToSqlConversionFailure(Box::new(other))),
    })
}

/// The version of a database; 0 for an empty one.
pub(crate) fn version(connection: &Connection) -> Result<i64, Fault> {
    Ok(connection.pragma_query_value(None, "user_version", |row| row.get(0))?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn our_number_stands_in_the_first_version() {
        assert!(include_str!("schema/v1.sql").contains(&format!("= {APPLICATION_ID};")));
    }

    #[test]
    fn every_version_can_be_made() {
        Migrations::from_slice(STEPS).validate().unwrap();
    }
}
