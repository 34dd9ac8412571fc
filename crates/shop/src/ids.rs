//! Numbers that the database gives to its rows, one type for each table.

use rusqlite::types::{FromSql, FromSqlResult, ToSql, ToSqlOutput, ValueRef};
use std::fmt;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub i64);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                self.0.fmt(f)
            }
        }

        impl ToSql for $name {
            fn to_sql(&self) -> rusqlite::Result<ToSqlOutput<'_>> {
                self.0.to_sql()
            }
        }

        impl FromSql for $name {
            fn column_result(value: ValueRef<'_>) -> FromSqlResult<Self> {
                i64::column_result(value).map(Self)
            }
        }
    )*};
}

ids! {
    /// A document; never given twice, not even after the demo order is gone.
    DocumentId;
    /// A revision of a document.
    RevisionId;
    /// A line of the ledger.
    EntryId;
    /// A piece and its copies at the bench.
    SettingId;
    /// A press at the bench.
    PressId;
    /// A repair.
    RepairId;
    /// A customer's yes, or its withdrawal.
    ApprovalId;
    /// A paired device.
    DeviceId;
}
