//! What the workshop keeps, in one SQLite file.
//!
//! The only crate with SQL. It knows texts, bytes and rows; what an order's text says, who asks and
//! where a stone lies is known elsewhere. Every call is one transaction and is on the disk when it
//! returns. Calls block, for some milliseconds as a rule: an asynchronous caller gives them a thread.
//! Times are milliseconds since 1970 in UTC by the clock that [`Opening`] brings.
//!
//! | need | item |
//! |---|---|
//! | the database, held by one program at a time | [`Shop::open`], [`Opening`], [`Holder`], [`Shop::set_address`] |
//! | what goes wrong, and what to do about it | [`ShopError`], [`ShopError::hint`] |
//! | the time, from outside | [`Clock`], [`SystemClock`] |
//! | orders and the workshop's own document | [`Shop::create`], [`Shop::documents`], [`Asked`], [`By`], [`Document`], [`Sort`], [`Shop::workshop`], [`Shop::count_documents`] |
//! | its text, now and before | [`Shop::head`], [`Head`], [`Shop::revision`], [`Revision`], [`Shop::history`], [`Step`] |
//! | a change of it, and back | [`Shop::revise`], [`Change`], [`Shop::undo`], [`Shop::redo`], [`Shop::ways`], [`Ways`] |
//! | out of sight, or gone | [`Shop::put_away`], [`Shop::bring_back`], [`Shop::remove_demo`] |
//! | the outline files of a document | [`Shop::add_outline`], [`Shop::outline`], [`Shop::outlines`] |
//! | stones that come and go | [`Shop::write`], [`NewEntry`], [`Entry`], [`Moved`], [`Shop::ledger`], [`LedgerPage`], [`Shop::used_since`] |
//! | what lies on the shelf | [`Shop::stock`], [`Stock`], [`Shop::held`], [`Held`], [`Shop::check`], [`Difference`] |
//! | names of stones | [`Shop::stones`], [`Shop::rename_stone`], [`StoneRenamed`] |
//! | pieces at the bench | [`Shop::begin_setting`], [`NewSetting`], [`Setting`], [`Shop::setting`], [`Shop::settings`], [`Shop::open_settings`], [`Shop::frozen`], [`Shop::close_setting`] |
//! | what was pressed there | [`Shop::press`], [`NewPress`], [`Press`], [`Pressed`], [`Shop::presses`], [`Shop::presses_since`] |
//! | stones replaced later | [`Shop::add_repair`], [`NewRepair`], [`Repair`], [`Shop::repairs`] |
//! | the customer's yes | [`Shop::approve`], [`Shop::withdraw`], [`Approval`], [`NewApproval`], [`Shop::approvals`] |
//! | tablets that may come in | [`Shop::pair_device`], [`Device`], [`Shop::device_with`], [`Shop::see_device`], [`Shop::revoke_device`], [`Shop::devices`] |
//! | what was last chosen | [`Shop::preference`], [`Shop::set_preference`], [`Shop::preferences`] |
//! | numbers of rows | [`DocumentId`], [`RevisionId`], [`EntryId`], [`SettingId`], [`PressId`], [`RepairId`], [`ApprovalId`], [`DeviceId`] |
//! | a copy elsewhere, and back | [`Shop::backup`], [`Shop::copy`], [`Shop::restore`], [`Restored`] |

mod approvals;
mod backup;
mod clock;
mod devices;
mod documents;
mod error;
mod history;
mod ids;
mod ledger;
mod lists;
mod lock;
mod open;
mod outlines;
mod preferences;
mod presses;
mod repairs;
mod rows;
mod schema;
mod settings;
mod stock;

pub use approvals::{Approval, NewApproval};
pub use backup::Restored;
pub use clock::{Clock, SystemClock};
pub use devices::Device;
pub use documents::{Change, Document, Head, Revision, Sort};
pub use error::ShopError;
pub use history::{Step, Ways};
pub use ids::{
    ApprovalId, DeviceId, DocumentId, EntryId, PressId, RepairId, RevisionId, SettingId,
};
pub use ledger::{Entry, LedgerPage, Moved, NewEntry, Used};
pub use lists::{Asked, By};
pub use lock::Holder;
pub use open::{Opening, Shop};
pub use presses::{NewPress, Press, Pressed};
pub use repairs::{NewRepair, Repair};
pub use settings::{NewSetting, Setting};
pub use stock::{Difference, Held, Stock, StoneRenamed};
