//! Values as the database keeps them: words for variants, texts for exact numbers.

use crate::{Moved, Pressed, Sort};
use rusqlite::types::{FromSql, FromSqlError, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use rust_decimal::Decimal;

/// Each variant of an enum as a word. The words stand in databases: never change one.
macro_rules! words {
    ($type:ident: $($variant:ident = $word:literal,)*) => {
        impl $type {
            pub(crate) fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)* }
            }
        }

        impl ToSql for $type {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                Ok(self.word().into())
            }
        }

        impl FromSql for $type {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                match value.as_str()? {
                    $($word => Ok(Self::$variant),)*
                    _ => Err(FromSqlError::InvalidType),
                }
            }
        }
    };
}

words! { Sort:
    Workshop = "workshop",
    Order = "order",
}

words! { Moved:
    Received = "received",
    Reserved = "reserved",
    Released = "released",
    Used = "used",
    Lost = "lost",
    Counted = "counted",
    TakenBack = "taken back",
}

words! { Pressed:
    Begun = "begun",
    GlueOpened = "glue opened",
    RowDone = "row done",
    Back = "back",
    Lost = "lost",
    Paused = "paused",
    Resumed = "resumed",
    CopyDone = "copy done",
    GlueUsed = "glue used",
    Note = "note",
}

/// A price, kept as the text of a decimal, so that no digit changes.
pub(crate) struct Price(pub(crate) Decimal);

impl ToSql for Price {
    fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
        Ok(self.0.to_string().into())
    }
}

impl FromSql for Price {
    fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
        let read = Decimal::from_str_exact(value.as_str()?);
        read.map(Price).map_err(|e| FromSqlError::Other(Box::new(e)))
    }
}
