//! Devices that were paired: each has a secret, of which only a hash is kept.

use crate::error::{Fault, named, unknown};
use crate::{DeviceId, Shop, ShopError};
use rusqlite::{Connection, Params, params};

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// Its number.
    pub id: DeviceId,
    /// Its name.
    pub name: String,
    /// When it was paired.
    pub made_ms: i64,
    /// When it was last seen.
    pub seen_ms: i64,
    /// When it was shut out.
    pub revoked_ms: Option<i64>,
}

impl Shop {
    /// Pairs a device whose secret has that hash.
    ///
    /// # Errors
    /// `Taken`, if a device has that hash; `BadValue` for an empty one; the world's.
    pub fn pair_device(&self, token_hash: &str, name: &str) -> Result<Device, ShopError> {
        named("secret", token_hash)?;
        named("name", name)?;
        let now_ms = self.wall_ms();
        self.change(|t| {
            if many(t, "token_hash = ?1", [token_hash])?.pop().is_some() {
                return Err(ShopError::Taken { what: "device", name: name.to_owned() }.into());
            }
            t.execute(
                "INSERT INTO device (token_hash, name, made_ms, seen_ms) VALUES (?1, ?2, ?3, ?3)",
                params![token_hash, name, now_ms],
            )?;
            let id = DeviceId(t.last_insert_rowid());
            let name = name.to_owned();
            Ok(Device { id, name, made_ms: now_ms, seen_ms: now_ms, revoked_ms: None })
        })
    }

    /// The device whose secret has that hash; none if there is none, or if it was shut out.
    ///
    /// # Errors
    /// The world's.
    pub fn device_with(&self, token_hash: &str) -> Result<Option<Device>, ShopError> {
        self.read(|c| Ok(many(c, "token_hash = ?1 AND revoked_ms IS NULL", [token_hash])?.pop()))
    }

    /// Notes that a device was seen. Writes to the disk: once a minute is enough.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn see_device(&self, device: DeviceId) -> Result<(), ShopError> {
        stamp(self, "UPDATE device SET seen_ms = ?2 WHERE id = ?1", device)
    }

    /// Shuts a device out.
    ///
    /// # Errors
    /// `Unknown`; the world's.
    pub fn revoke_device(&self, device: DeviceId) -> Result<(), ShopError> {
        let sql = "UPDATE device SET revoked_ms = coalesce(revoked_ms, ?2) WHERE id = ?1";
        stamp(self, sql, device)
    }

    /// All devices, shut out or not, the last seen first.
    ///
    /// # Errors
    /// The world's.
    pub fn devices(&self) -> Result<Vec<Device>, ShopError> {
        self.read(|c| many(c, "true ORDER BY seen_ms DESC, id DESC", []))
    }
}

fn stamp(shop: &Shop, sql: &str, device: DeviceId) -> Result<(), ShopError> {
    let now_ms = shop.wall_ms();
    shop.change(|t| match t.prepare_cached(sql)?.execute(params![device, now_ms])? {
        0 => Err(unknown("device", device)),
        _ => Ok(()),
    })
}

/// The devices of which `which` is true.
fn many(c: &Connection, which: &str, values: impl Params) -> Result<Vec<Device>, Fault> {
    let mut found = c.prepare_cached(&format!(
        "SELECT id, name, made_ms, seen_ms, revoked_ms FROM device WHERE {which}"
    ))?;
    let rows = found.query_map(values, |row| {
        Ok(Device {
            id: row.get(0)?,
            name: row.get(1)?,
            made_ms: row.get(2)?,
            seen_ms: row.get(3)?,
            revoked_ms: row.get(4)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
